"""One size as the search sees it: wishes in whole numbers, pins, how far to search.

All lengths are multiples of one small unit that divides every width, height and wish of the
specification: sums of squares are exact.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import lcm
from typing import NamedTuple

from gussetry.grading.measures import Wish
from gussetry.spec import PerSize, Spec, pin

WEIGHT_HAND = 4
"""The hand's circumference is what a size is bought by: it weighs most."""
WEIGHT_THUMB = 3
"""A thumb too tight makes the mitten useless; one stitch is a large share of it."""
WEIGHT_HAND_LENGTH = 2
"""A tip too short is felt at every finger; plain rounds are cheap."""
WEIGHT_THUMB_LENGTH = 2
"""The same for the thumb."""
WEIGHT_CUFF = 1
"""Ribbing stretches."""
WEIGHT_CUFF_DEPTH = 1
"""A row more or less of cuff changes no fit."""
WEIGHT_CROOK = 1
"""A crook a few mm low or high is taken up by the fabric's give."""
WEIGHT_CROWN = 1
"""Where the crown begins, and how wide it is where its closing begins, is shape more than fit."""


class Unit(NamedTuple):
    """The small unit, and the fabric in it: `per_mm` units are a millimetre."""

    per_mm: int
    width: int
    height: int
    rib_width: int
    rib_height: int
    above: int

    def whole(self, mm: Fraction) -> int:
        """A length that is a multiple of the unit."""
        value = mm * self.per_mm
        assert value.denominator == 1
        return value.numerator


def common_unit(spec: Spec, wishes: Iterable[Wish]) -> Unit:
    """The unit in which every length of the specification is whole, and a quarter stitch too."""
    rib = spec.cuff.gauge or spec.gauge
    lengths = [
        spec.gauge.width, spec.gauge.height, rib.width, rib.height, spec.cuff.above_crease,
        *(length for want in wishes for length in want),
    ]  # fmt: skip
    per_mm = 4 * lcm(*(Fraction(length).denominator for length in lengths))
    sizes = (int(length * per_mm) for length in lengths[:5])
    return Unit(per_mm, *sizes)


class Reach(NamedTuple):
    """How far to both sides of its wish each part is searched: in stitches, rows or rounds."""

    hand: int
    thumb: int
    cuff: int
    crook: int
    hand_length: int
    thumb_length: int
    depth: int


class Asked(NamedTuple):
    """One size as the search sees it: its place, its wishes in the small unit, and how far to
    search."""

    spec: Spec
    size: int
    want: tuple[int, ...]
    unit: Unit
    reach: Reach

    def wish(self, name: str) -> int:
        """A wish by its name in `Wish`."""
        return self.want[Wish._fields.index(name)]

    def pin(self, pins: PerSize) -> int | None:
        """The size's own of those pins."""
        return pin(pins, self.size)

    def steps(self) -> Reach:
        """The size of a step of each part, in the small unit."""
        unit, style = self.unit, self.spec.cuff.style
        ribs = {"ribbed": unit.rib_width, "post": unit.rib_height}
        return Reach(
            unit.width, unit.width, unit.rib_height, unit.height, unit.height, unit.height,
            ribs.get(style, unit.height),
        )  # fmt: skip


def near(wish: int, step: int, low: int, reach: int) -> range:
    """Numbers of steps to both sides of the wish, or of `low` where that is more; none below it."""
    middle = max(low, (2 * wish + step) // (2 * step))
    return range(max(low, middle - reach), middle + reach + 1)


def above(wish: int, step: int, reach: int) -> range:
    """Numbers of steps from as low as is searched to far above the wish."""
    middle = max(0, (2 * wish + step) // (2 * step))
    return range(max(0, middle - reach), middle + 9 * reach + 1)


WEIGHTS = Reach(
    WEIGHT_HAND,
    WEIGHT_THUMB,
    WEIGHT_CUFF,
    WEIGHT_CROOK,
    WEIGHT_HAND_LENGTH,
    WEIGHT_THUMB_LENGTH,
    WEIGHT_CUFF_DEPTH,
)
"""The weights of the parts that are searched near their wish."""


class Bridge(NamedTuple):
    """How the gap is bridged: joined pairs, chains, what the crook gives, what it loses again."""

    pairs: int
    chains: int
    crook: int
    decreases: int


def bridge(asked: Asked, gap: int) -> Bridge:
    """The size's bridge, with `gap` pairs or chains where no pin says how many.

    Two crook stitches from a joined pair: common practice, no source.
    """
    division = asked.spec.division
    if not asked.spec.has_thumb:
        return Bridge(0, 0, 0, 0)
    kind = division.bridge
    pairs = or_usual(asked.pin(division.pairs), gap) if kind == "join" else 0
    chains = or_usual(asked.pin(division.chains), gap) if kind == "chain" else 0
    given = {"join": 2 if pairs else 0, "chain": chains, "none": 0}[kind]
    crook = or_usual(asked.pin(division.crook), given)
    return Bridge(
        pairs, chains, crook, or_usual(asked.pin(asked.spec.thumb.crook_decreases), min(crook, 2))
    )


def or_usual(pinned: int | None, usual: int) -> int:
    """The pin, or where it is free what is usual."""
    return usual if pinned is None else pinned
