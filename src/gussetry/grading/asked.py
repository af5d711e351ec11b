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

WEIGHT_HAND = 8
"""The hand's circumference is what a size is bought by: it weighs most."""
WEIGHT_THUMB = 6
"""A thumb too tight makes the mitten useless; one stitch is a large share of it."""
WEIGHT_HAND_LENGTH = 4
"""A tip too short is felt at every finger; plain rounds are cheap."""
WEIGHT_THUMB_LENGTH = 4
"""The same for the thumb."""
WEIGHT_CUFF = 1
"""Ribbing stretches, and a cuff is pulled on: it gives way to all else."""
WEIGHT_CUFF_DEPTH = 2
"""A row more or less of cuff changes no fit."""
WEIGHT_CROOK = 2
"""A crook a few mm low or high is taken up by the fabric's give."""
WEIGHT_CROWN = 2
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


FARTHEST = Reach(hand=8, thumb=8, cuff=8, crook=16, hand_length=16, thumb_length=16, depth=16)
"""No part is looked for farther from its wish: what is so far off is not meant."""


NEAR = Reach(hand=3, thumb=3, cuff=3, crook=5, hand_length=5, thumb_length=5, depth=5)
"""As far as counts may lie that are offered instead of a pin which does not fit."""


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


def near(wish: int, step: int, low: int, reach: int) -> range:
    """Numbers of steps to both sides of the wish, or of `low` where that is more; none below it."""
    middle = max(low, (2 * wish + step) // (2 * step))
    return range(max(low, middle - reach), middle + reach + 1)


class Wished(NamedTuple):
    """A part that is a number of steps: its wish, the step, its weight, and the numbers that it may
    be, in the order of size."""

    wish: int
    step: int
    weight: int
    numbers: range

    def cost(self, number: int) -> int:
        """The weighted squared miss of a number."""
        return self.weight * (number * self.step - self.wish) ** 2

    def nearest(self) -> int:
        """The number that misses least, the smaller of two alike."""
        below = (2 * self.wish + self.step - 1) // (2 * self.step)
        return min(max(below, self.numbers[0]), self.numbers[-1])

    def options(self, most: int | None = None) -> list[tuple[int, int]]:
        """(cost, number) of all that cost at most so much, the cheapest first."""
        nearest, found = self.nearest(), []
        for numbers in (
            range(nearest, self.numbers[-1] + 1),
            range(nearest - 1, self.numbers[0] - 1, -1),
        ):
            for number in numbers:
                cost = self.cost(number)
                if most is not None and cost > most:
                    break
                found.append((cost, number))
        return sorted(found)


def one_of(number: int) -> range:
    """The range of one number."""
    return range(number, number + 1)


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
