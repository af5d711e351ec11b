"""The thumb's counts, and what they say of the gap between thumb and hand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from gussetry.grading.counts import closing
from gussetry.sample.hand import MOST_DRAWN_SHUT, demand_taper
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
    edging = None
    if counts[-1] > MOST_DRAWN_SHUT:
        # The last plain round is taken for the edging.
        edging = min(1, length if sides else plain)
    if sides:
        length -= edging or 0
    else:
        plain -= edging or 0
        length = max(0, plain - MOST_PLAIN_FIRST)
        plain -= length
    _demand_closed(counts, at)
    return ThumbShape(counts[0], crook, plain, sides, length, counts[-1], edging)


def _demand_closed(counts: Sequence[int], at: int) -> None:
    """Departs where what follows is not the closing from there."""
    expected, found = closing(counts[at], counts[-1]) or (), tuple(counts[at + 1 :])
    if found != expected:
        agreed = sum(1 for _ in _alike(expected, found))
        wanted = f"{expected[agreed]} stitches" if agreed < len(expected) else "the drawing shut"
        before = counts[at + agreed]
        why = f"{before} stitches stand before it, and from {counts[at]} on the thumb is closed"
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
        narrow, wide = 2 + gusset.steps, 5 + 2 * gusset.steps
        why = (
            f"the hand goes from {before} to {after} where the thumb is set aside, and a gusset"
            f" grown in {gusset.steps} rounds sets aside {narrow} to {wide}: no bridge over the gap"
            " gives both the hand and the thumb"
        )
        raise Departs("thumb", 1, why, "counts of hand and thumb that agree at the division")

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
            pairs = 0 if chains else joined
            bridge: Bridge = "chain" if chains else "join" if pairs else "none"
            yield GapShape(growth, between, with_marked, bridge, pairs, chains, crook, after)
