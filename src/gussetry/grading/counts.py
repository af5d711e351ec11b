"""The numbers of one size before any stitch is set, and the arithmetic that ties them."""

from __future__ import annotations

from dataclasses import dataclass

from gussetry.spec import Spec


@dataclass(frozen=True, slots=True)
class Base:
    """From cuff to division and the thumb's first stitches: what decides every width.

    `between`: stitches between the markers when grown; `steps`: increase rounds after the round
    that makes the pairs; `lower`: rounds before the opening, the pick-up round among them;
    `division`: the number of the division's round. `cuff_rows` is 0 for a cuff that is not ribbed
    sideways. Without a thumb there is no division: `division` is then `lower`, and everything of
    gusset, gap and thumb is 0.
    """

    cuff_rows: int
    pick_up: int
    increases: int
    lower: int
    steps: int
    between: int
    division: int
    pairs: int
    chains: int
    crook: int
    hand: int
    thumb: int
    crook_decreases: int


@dataclass(frozen=True, slots=True)
class Counts:
    """All the numbers of one size.

    `edging` and `thumb_edging`: rounds that end an open hand or thumb, which has no phases and no
    closing rounds; 0 where it is drawn shut.
    """

    base: Base
    cuff_across: int
    plain_before: int
    phases: tuple[int, ...]
    closing: tuple[int, ...]
    thumb_plain: int
    thumb_sides: int
    thumb_to_length: int
    thumb_closing: tuple[int, ...]
    edging: int = 0
    thumb_edging: int = 0

    def named(self) -> tuple[int, ...]:
        """The counts that may not shrink from one size to the next larger."""
        base = self.base
        return base.pick_up, base.between, base.hand, base.thumb


def between_markers(spec: Spec, steps: int) -> int:
    """Stitches between the markers after so many increase rounds."""
    return 3 + 2 * steps if spec.gusset.growth == "inside" else 2 + steps


def held(spec: Spec, between: int) -> int:
    """Stitches set aside for the thumb."""
    return between + 2 if spec.division.with_marked else between


def hand_change(spec: Spec, steps: int, pairs: int, chains: int) -> int:
    """What the hand after the division has more (or less) than the lower hand before the gusset."""
    outside = -2 if spec.gusset.growth == "inside" else steps - 1
    marked = 0 if spec.division.with_marked else 2
    return outside + marked - 2 * pairs + chains


def gusset_rounds(spec: Spec, steps: int) -> int:
    """Rounds from the opening to the last increase, both among them."""
    return 2 + steps * spec.gusset.every


def closing(count: int, last: int | None) -> tuple[int, ...] | None:
    """The counts of the closing rounds from `count` stitches, `last` pinning the end.

    sc2tog all round halves the count (an odd one leaves a plain stitch) until 4 to 6 are left; a
    pinned end is met by its last round, spread evenly. None where it cannot be.
    """
    if count < 4:
        return None
    counts: list[int] = []
    if last is None:
        while count > 6:
            count = (count + 1) // 2
            counts.append(count)
        return tuple(counts)
    while (count + 1) // 2 > last:
        count = (count + 1) // 2
        counts.append(count)
    if count < last:
        return None
    if count > last:
        counts.append(last)
    return tuple(counts)
