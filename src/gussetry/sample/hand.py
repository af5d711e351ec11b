"""The hand's counts, read as lower hand, gusset, division and crown."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise

from gussetry.grading.counts import closing
from gussetry.sample.makings import (
    CrownShape,
    CuffShape,
    Departs,
    GussetShape,
    LowerShape,
    PhaseShape,
)

MOST_PLAIN_AFTER = 20
MOST_DRAWN_SHUT = 6
LEAST_FOR_SIDES = 8
"""Stitches that two decreases at the sides need round them."""


def read_cuff(cuff: Sequence[int], picked: int) -> CuffShape:
    """The cuff of those rows or rounds, below so many picked-up stitches. Departs where its
    counts differ."""
    if not cuff:
        return CuffShape("none")
    for number, count in enumerate(cuff, 1):
        if count != cuff[0]:
            raise Departs("cuff", number, f"every row before has {cuff[0]}", f"{cuff[0]} stitches")
    if cuff[0] == picked:
        return CuffShape("round", len(cuff), cuff[0])
    # As many as the row ends and the seam, or more than the row ends alone can be doubled to.
    seam = picked == len(cuff) + 1 or picked > 2 * len(cuff)
    return CuffShape("ribbed", len(cuff), cuff[0], seam_counts=seam)


def read_lower(hand: Sequence[int]) -> LowerShape:
    """What lies below the gusset's opening, which is one stitch more in the round before the first
    two. Departs where there is no such opening."""
    gains = [after - before for before, after in pairwise(hand)]
    increases = opened = 0
    for place, gain in enumerate(gains):
        number, before = place + 2, hand[place]
        if gain == 2 and place and gains[place - 1] == 1:
            return LowerShape(hand[0], increases - (opened == 0), number - 2)
        if gain == 1 and place == increases:
            increases += 1
            opened = 0
        elif gain == 1 and not opened:
            opened = number
        elif gain == 2:
            why = f"it has two more than the {before} before, and no gusset was opened by one"
            raise Departs("hand", number, why, f"{before + 1} stitches, then {before + 3}")
        elif gain or opened:
            why = f"{before} stitches stand before it, and the gusset is not opened yet"
            expected = f"{before} or {before + 1} stitches"
            if place and gains[place - 1] == 1:
                expected = f"{before}, {before + 1} or {before + 2} stitches"
            if opened:
                why = f"{before} stitches stand before it, and round {opened} opened the gusset"
                expected = f"{before + 2} stitches, the two pairs with their markers"
            raise Departs("hand", number, why, expected)
    why = "it is the last round, and the hand was never widened for a thumb"
    raise Departs("hand", len(hand), why, "a gusset: one stitch more, then two more a round")


def read_thumbless(hand: Sequence[int]) -> LowerShape:
    """What lies below the plain rounds of a hand without a thumb. Departs where a gusset is
    opened."""
    increases = 0
    while increases + 1 < len(hand) and hand[increases + 1] == hand[increases] + 1:
        increases += 1
    lower = LowerShape(hand[0], increases, 1 + increases)
    if len(hand) > lower.rounds and hand[lower.rounds] == hand[increases] + 2:
        why = "a gusset is grown, and the table has no thumb"
        raise Departs("hand", lower.rounds + 1, why, "the rounds of the thumb in the table too")
    return lower


def read_gussets(
    hand: Sequence[int], lower: LowerShape
) -> tuple[list[GussetShape], Departs | None]:
    """Where the division may lie and how the gusset grows to it, the likeliest first; and the round
    that departs if it lies nowhere there, None where that is for what follows to say.

    The likeliest division is the first round that does not grow like a gusset, then the round
    after the last growth.
    """
    pairs = lower.rounds + 2
    ends: list[GussetShape] = []
    for division in range(pairs + 1, len(hand) + 2):
        shape = _growth(hand[pairs - 1 : division - 1], division)
        if shape is None:
            break
        ends.append(shape)
    *others, first = ends
    others.sort(key=lambda shape: (-shape.steps, shape.division))
    if first.division > len(hand):
        why = "it is the last round, and no thumb was set aside"
        wanted = "a division: fewer stitches, the thumb's set aside"
        return others, Departs("hand", len(hand), why, wanted)
    gains = [hand[n] - hand[n - 1] for n in range(first.division, len(hand))]
    goes_on = bool(gains) and hand[first.division] >= hand[first.division - 2]
    if goes_on or sum(gain > 0 for gain in gains) > 1:
        return [first, *others], no_growth(hand, first.division)
    return [first, *others], None


def no_growth(hand: Sequence[int], number: int) -> Departs:
    """A round of the gusset that grows as none does."""
    before = hand[number - 2]
    why = f"the gusset grows by two a round, or not at all, and {before} stand before it"
    return Departs("hand", number, why, f"{before + 2} or {before} stitches")


def _growth(counts: Sequence[int], division: int) -> GussetShape | None:
    """The growth from the round of the pairs to the round before the division: two stitches in
    one of so many rounds, then none."""
    gains = [after - before for before, after in pairwise(counts)]
    steps = sum(1 for gain in gains if gain)
    every = gains.index(2) + 1 if 2 in gains else 1
    grown = ([0] * (every - 1) + [2]) * steps
    if gains != grown + [0] * (len(gains) - len(grown)):
        return None
    return GussetShape(steps, every, division)


def read_crowns(hand: Sequence[int], division: int, may_open: bool = True) -> list[CrownShape]:
    """The ways to read the counts from the division on, the likeliest first: fewest phases, then
    most rounds of sc2tog all round. A hand that
    never narrows is open, where it may be. Departs where no crown can
    make them."""
    counts = hand[division - 1 :]
    last = counts[-1]
    plain = len(counts) - 1
    if may_open and plain and last > MOST_DRAWN_SHUT and len(set(counts)) == 1:
        return [CrownShape(plain - 1, (), (), last, edging=1)]
    demand_taper("hand", counts, division)
    shapes = []
    for end in range(len(counts)):
        if closing(counts[end], last) == tuple(counts[end + 1 :]):
            for plain, phases in _phases(counts[: end + 1], division):
                shapes.append(CrownShape(plain, phases, tuple(counts[end + 1 :]), last))

    def order(shape: CrownShape) -> tuple[int, int, int]:
        before = (0, *shape.closing)
        halved = sum(
            after == (count + 1) // 2 for count, after in zip(before, shape.closing, strict=False)
        )
        return len(shape.phases), -halved, len(shape.closing)

    return sorted(shapes, key=order)


def demand_taper(piece: str, counts: Sequence[int], first: int, opened: bool = False) -> None:
    """Departs where a piece that narrows to its tip grows, narrows too fast, or is not drawn shut.

    `first` is the number of the round that left the first of the counts; `opened` says that it may
    end open.
    """
    for number, (before, after) in enumerate(pairwise(counts), first + 1):
        if after > before:
            why = f"it has more than the {before} before it, and a {piece} only narrows to its tip"
            raise Departs(piece, number, why, f"{before} stitches or fewer")
        room = before // 2
        if before - after > room:
            why = (
                f"{before} stitches have room for {room} decreases, and {before} − {room} ="
                f" {before - room}"
            )
            raise Departs(piece, number, why, f"{before - room} stitches or more")
        if after < 4:
            raise Departs(piece, number, "4 to 6 stitches are drawn shut", "4 to 6 stitches")
    if counts[-1] > MOST_DRAWN_SHUT and not opened:
        number = first + len(counts) - 1
        why = "it is the last round, and 4 to 6 stitches are drawn shut"
        raise Departs(piece, number, why, "further rounds of decreases, down to 4 to 6 stitches")


def _phases(counts: Sequence[int], division: int) -> Iterator[tuple[int, tuple[PhaseShape, ...]]]:
    """Plain rounds before the crown, and its phases: two decreases at the sides as long as
    the crown begins so, or all of them evenly."""
    plain, shaped = 0, list[list[int]]()
    for number, (before, after) in enumerate(pairwise(counts), division + 1):
        if after < before:
            shaped.append([before - after, 0, before])
        elif shaped:
            shaped[-1][1] += 1
            if shaped[-1][1] > MOST_PLAIN_AFTER:
                why = f"more than {MOST_PLAIN_AFTER} plain rounds stand within the crown"
                raise Departs("hand", number, why, "a decrease")
        else:
            plain += 1
    sides = 0
    while sides < len(shaped) and shaped[sides][0] == 2 and shaped[sides][2] >= LEAST_FOR_SIDES:
        sides += 1
    for at_sides in sorted({sides, 0}, reverse=True):
        marked = [
            (place < at_sides, decreases, after)
            for place, (decreases, after, _) in enumerate(shaped)
        ]
        yield (
            plain,
            tuple(
                PhaseShape("sides" if kind[0] else "evenly", len(list(run)), kind[1], kind[2])
                for kind, run in groupby(marked)
            ),
        )
