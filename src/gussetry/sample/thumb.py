"""The thumb's counts, and what they say of the gap between thumb and hand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from gussetry.grading.counts import closing
from gussetry.sample.hand import MOST_DRAWN_SHUT, demand_taper, no_growth
from gussetry.sample.makings import (
    USUAL_CROOK_DECREASES,
    Bridge,
    Departs,
    GapShape,
    Growth,
    GussetShape,
    ThumbShape,
)

MOST_PLAIN_FIRST = 2
"""Plain rounds that are counted before the side decreases where there are none of these."""

REACH = 4
"""How far from the hand's count at the division another one is looked for."""

WIDEST_CHAIN = 6
"""Chains over a gap that was narrower than they: common practice, no source."""


def read_thumbs(thumb: Sequence[int]) -> list[ThumbShape]:
    """The ways to read the thumb's counts: what its first round found is not among them. Departs
    where no thumb of ours has such counts."""
    demand_taper("thumb", thumb, 1, opened=True)
    first, shapes = thumb[0], []
    farthest: Departs | None = None
    for start in (first + 1, first, first + 2):
        counts = (start, *thumb)
        run = 0
        while run < len(thumb) and counts[run] - counts[run + 1] == 1:
            run += 1
        for crook in range(run, 0, -1) or (0,):
            try:
                shapes.append(_after_crook(counts, crook))
            except Departs as departs:
                if farthest is None or departs.number > farthest.number:
                    farthest = departs
    if not shapes and farthest is not None:
        raise farthest
    return shapes


def _after_crook(counts: Sequence[int], crook: int) -> ThumbShape:
    """The thumb after so many crook decreases. `counts` begin with what its first round found."""
    plain = _plain(counts, crook)
    at = crook + plain
    sides = 0
    while list(counts[at + 1 : at + 3]) == [counts[at] - 2] * 2:
        sides += 1
        at += 2
    length = _plain(counts, at)
    at += length
    _demand_closed(counts, at, tapered=bool(sides and length))
    edging = None
    if counts[-1] > MOST_DRAWN_SHUT:
        # The last plain round is taken for the edging.
        edging = 1
        if not (length if sides else plain):
            why = "it is the last round, and an open thumb ends with a plain one, its edging"
            wanted = f"another round of {counts[-1]}, or decreases down to 4 to 6 stitches"
            raise Departs("thumb", len(counts) - 1, why, wanted)
    if sides:
        length -= edging or 0
    else:
        plain -= edging or 0
        length = max(0, plain - MOST_PLAIN_FIRST)
        plain -= length
    return ThumbShape(counts[0], crook, plain, sides, length, counts[-1], edging)


def _demand_closed(counts: Sequence[int], at: int, tapered: bool) -> None:
    """Departs where what follows is not the closing from there; an open thumb has none. Once it is
    tapered, and goes even to its length, no decreases at the sides follow."""
    before, last, found = counts[at], counts[-1], tuple(counts[at + 1 :])
    shut = last <= MOST_DRAWN_SHUT
    expected = (closing(before, last) or ()) if shut else ()
    if found == expected:
        return
    if found == (before - 2,):
        why = f"it is the last round, and {before} stand before it"
        raise Departs("thumb", at + 1, why, f"{before} stitches, or 4 to 6 to be drawn shut")
    if found[0] == before - 2 and found[0] not in (found[1], *expected[:1]):
        why = "decreases at the crook and the outer side stand before it, and a plain round follows"
        raise Departs("thumb", at + 2, why, f"{found[0]} stitches")
    agreed = sum(1 for _ in _alike(expected, found))
    before = counts[at + agreed]
    if agreed:
        why = f"{before} stand before it, and the thumb is closed from round {at + 1} on"
        wanted = f"{expected[agreed]} stitches" if agreed < len(expected) else "the drawing shut"
    else:
        why = f"{before} stand before it"
        ways = [before, *([] if tapered else [before - 2]), *expected[:1]]
        wanted = f"{' or '.join(map(str, dict.fromkeys(ways)))} stitches"
    raise Departs("thumb", at + agreed + 1, why, wanted)


def _plain(counts: Sequence[int], at: int) -> int:
    """Rounds from there on that change nothing."""
    end = at
    while end + 1 < len(counts) and counts[end + 1] == counts[end]:
        end += 1
    return end - at


def _alike(one: Sequence[int], other: Sequence[int]) -> Iterator[int]:
    for a, b in zip(one, other, strict=False):
        if a != b:
            return
        yield a


def read_gaps(
    hand: Sequence[int], gusset: GussetShape, thumbs: Sequence[ThumbShape]
) -> list[tuple[GapShape, ThumbShape]]:
    """Every way to set the thumb aside that agrees with hand and thumb, the commonest first: the
    crook gives and loses what is usual, the marked stitches go along, the gusset grows inside.

    Departs where there is none.
    """
    before, after = hand[gusset.division - 2], hand[gusset.division - 1]
    found = [
        (gap, thumb) for thumb in thumbs for gap in _gaps(before, after, gusset.steps, thumb.start)
    ]
    if not found:
        raise _no_bridge(hand, gusset, thumbs)

    def order(way: tuple[GapShape, ThumbShape]) -> tuple[bool, bool, bool, bool]:
        gap, thumb = way
        usual = min(gap.crook, USUAL_CROOK_DECREASES)
        return (
            gap.crook != gap.usual_crook,
            thumb.crook_decreases != usual,
            not gap.with_marked,
            gap.growth != "inside",
        )

    return sorted(found, key=order)


def _no_bridge(hand: Sequence[int], gusset: GussetShape, thumbs: Sequence[ThumbShape]) -> Departs:
    """A division that gives the hand and the thumb no counts that agree."""
    before, after = hand[gusset.division - 2], hand[gusset.division - 1]
    if after > before:
        return no_growth(hand, gusset.division)
    near = [
        count
        for count in range(max(4, after - REACH), after + REACH + 1)
        for thumb in thumbs
        for gap in _gaps(before, count, gusset.steps, thumb.start)
        if gap.crook == gap.usual_crook
    ]
    narrow, wide = 2 + gusset.steps, 5 + 2 * gusset.steps
    why = (
        f"{before} stand before it, and of a gusset grown in {gusset.steps} rounds {narrow} to"
        f" {wide} are set aside: no bridge over the gap gives both this hand and its thumb"
    )
    if not near:
        return Departs("thumb", 1, why, "counts of hand and thumb that agree at the division")
    nearest = sorted(sorted(set(near), key=lambda count: abs(count - after))[:2])
    wanted = f"{' or '.join(map(str, nearest))} stitches, or another thumb"
    return Departs("hand", gusset.division, why, wanted)


def _gaps(before: int, after: int, steps: int, start: int) -> Iterator[GapShape]:
    grown: tuple[tuple[Growth, int], ...] = (
        ("inside", 3 + 2 * steps),
        ("alternating", 2 + steps),
    )
    for with_marked in (True, False):
        for growth, between in grown:
            aside = between + 2 if with_marked else between
            joined, odd = divmod(before - after - aside, 2)
            crook = start - aside
            chains = max(0, aside - before + after)
            if crook < 0 or (odd and not chains) or (chains and crook > chains):
                continue
            if chains > max(WIDEST_CHAIN, aside):
                continue
            pairs = 0 if chains else joined
            bridge: Bridge = "chain" if chains else "join" if pairs else "none"
            yield GapShape(growth, between, with_marked, bridge, pairs, chains, crook, after)
