"""How much yarn of each colour a pair takes, in metres and in grams.

What a stitch takes comes from a swatch whose yarn was measured. Without one it is estimated from
a single published measurement, which is weak: good for an order of magnitude.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from gussetry.grading.changes import all_changes, ends, fabric_of
from gussetry.grading.finished import GradedSize
from gussetry.spec import Gauge, Spec, Yarn
from gussetry.stitchmap import Fabric, Op, StitchMap
from gussetry.units import MM_PER_INCH

PER_AREA = {
    "sc": Fraction(3142, 100) / MM_PER_INCH,
    "hdc": Fraction(3208, 100) / MM_PER_INCH,
    "dc": Fraction(3160, 100) / MM_PER_INCH,
}
"""Millimetres of yarn in a square millimetre of fabric: swatches of 5 × 5 in, worsted yarn, 5 mm
hook: 31.42, 32.08 and 31.6 in to the square inch (windchilde.com/bluedepth/tag/crochet). One
maker's measurement: weak."""

MEASURED_WIDTH = 4 * MM_PER_INCH / 13
"""Width in mm of a stitch of those swatches: 13 to 4 in is usual for that yarn; their page does
not give it. A sc of 7.3 mm height then takes 70 mm."""

WEAK_LEAST, WEAK_MOST = Fraction(50, 70), Fraction(100, 70)
"""Range of the estimate: 50 to 100 mm for a worsted sc, about 70. Order of magnitude only."""

CHAIN = Fraction(51, 10)
"""Millimetres of yarn in a millimetre of chain: 4.8 to 5.1 in an inch (same page: weak); the upper
figure, to be on the safe side. A slip stitch or a stitch of a seam is taken for a chain."""

TAIL = Fraction(150)
"""Millimetres left at each end to weave in: common practice, no source."""

TIMES_ROUND = 2
"""Times that the tail goes round the stitches that it draws shut: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Use:
    """What one mitten takes of a yarn: `stitches` made with it; `worth`, what these take as so
    many stitches of the hand; `strand`, mm of yarn beside them: chains, slip stitches, seams,
    floats, drawing shut, tails."""

    yarn: str
    stitches: int
    worth: Fraction
    strand: Fraction


@dataclass(frozen=True, slots=True)
class Need:
    """What a pair takes of a yarn, without the reserve: metres, grams, each None where nothing
    tells it. `weak`: estimated without a swatch, the truth may lie from WEAK_LEAST to WEAK_MOST
    times it. `reserve`: the share to have over."""

    yarn: Yarn
    stitches: int
    metres: Fraction | None
    grams: Fraction | None
    reserve: Fraction
    weak: bool

    @property
    def metres_to_have(self) -> Fraction | None:
        """Metres with the reserve."""
        return None if self.metres is None else self.metres * (1 + self.reserve)

    @property
    def grams_to_have(self) -> Fraction | None:
        """Grams with the reserve."""
        return None if self.grams is None else self.grams * (1 + self.reserve)

    def balls(self, times: Fraction = Fraction(1)) -> int | None:
        """Whole balls for so many times the amount with its reserve; None without a label."""
        if not self.yarn.grams or self.grams_to_have is None:
            return None
        return math.ceil(times * self.grams_to_have / self.yarn.grams)


def estimate(fabric: Fabric | Gauge) -> Fraction:
    """Millimetres of yarn in a stitch, where no swatch tells: weak.

    A finer yarn lays more metres on the same area, as many times more as its stitches are
    narrower: a stitch of the same shape and half the size takes half the yarn.
    """
    area = fabric.width * fabric.height
    return PER_AREA[fabric.stitch] * area * MEASURED_WIDTH / fabric.width


def strands(op: Op) -> int:
    """How many stitches an operation takes the yarn of.

    Two together, and two drawn together over the gap, take two: each leg is half a stitch at
    least, and counting it whole is on the safe side (our choice).
    """
    if op.do in ("ch", "slst", "seam", "close", "hold", "skip", "turn"):
        return 0
    return max(op.makes, len(op.into) + len(op.onto))


def _beside(op: Op, fabric: Fabric) -> Fraction:
    """Millimetres of yarn that an operation takes and that are known by their length."""
    if op.do in ("ch", "slst", "seam"):
        return CHAIN * fabric.width
    if op.do == "close":
        return TIMES_ROUND * len(op.into) * fabric.width
    return Fraction(0)


def worth(fabric: Fabric, hand: Fabric) -> Fraction:
    """What a stitch of a fabric takes, in stitches of the hand: by the area of its own gauge, and
    by what the published swatches took for each kind of stitch."""

    def takes(one: Fabric) -> Fraction:
        return PER_AREA[one.stitch] * one.width * one.height

    return takes(fabric) / takes(hand)


def uses(stitches: StitchMap, carry: int) -> tuple[Use, ...]:
    """What one mitten takes of each yarn that it is worked in, in the order of the letters'
    declaration. `carry`: rounds that a yarn may rest and still be carried."""
    made: Counter[str] = Counter()
    worked: dict[str, Fraction] = {}
    strand: dict[str, Fraction] = {}
    for piece in stitches.pieces:
        fabric = fabric_of(stitches, piece)
        each = worth(fabric, stitches.fabric)
        for round_ in piece.rounds:
            yarn = round_.yarn
            made[yarn] += round_.made
            legs = sum(strands(op) for op in round_.work)
            beside = sum((_beside(op, fabric) for op in round_.work), Fraction(0))
            worked[yarn] = worked.get(yarn, Fraction(0)) + legs * each
            strand[yarn] = strand.get(yarn, Fraction(0)) + beside
    for change in all_changes(stitches, carry):
        strand[change.old] += change.length
    for end in ends(stitches, carry):
        strand[end.yarn] += TAIL
    return tuple(
        Use(letter, made[letter], worked[letter], strand[letter])
        for letter, _, _ in stitches.yarns
        if letter in worked
    )


@dataclass(frozen=True, slots=True)
class _Stitch:
    """What a stitch of the hand takes: mm, or grams, or both as far as they are known."""

    length: Fraction | None
    grams: Fraction | None
    weak: bool


def _stitch(spec: Spec) -> _Stitch:
    swatch = spec.swatch
    if swatch is None:
        return _Stitch(estimate(spec.gauge), None, True)
    number = swatch.stitches * swatch.rounds
    if swatch.metres is not None:
        return _Stitch(1000 * swatch.metres / number, None, False)
    assert swatch.grams is not None
    grams, first = swatch.grams / number, spec.yarns[0]
    long = 1000 * grams * first.metres / first.grams if first.metres and first.grams else None
    return _Stitch(long, grams, False)


def _need(spec: Spec, stitch: _Stitch, yarn: Yarn, parts: Iterable[Use]) -> Need:
    """The pair's need of a yarn from what its two mittens use."""
    both = tuple(parts)
    worked = sum((use.worth for use in both), Fraction(0))
    strand = sum((use.strand for use in both), Fraction(0))
    label = yarn.metres / yarn.grams if yarn.metres and yarn.grams else None
    metres = grams = None
    if stitch.length is not None:
        metres = (worked * stitch.length + strand) / 1000
        if label is not None:
            grams = metres / label
        elif stitch.grams is not None:
            # An unlabelled yarn is taken to weigh what the swatch's does.
            grams = 1000 * metres * stitch.grams / stitch.length
    elif stitch.grams is not None:
        # Only here is the length of chains and tails weighed by the estimate.
        grams = stitch.grams * (worked + strand / estimate(spec.gauge))
        metres = None if label is None else grams * label
    made = sum(use.stitches for use in both)
    return Need(yarn, made, metres, grams, spec.reserve, stitch.weak)


def needs(spec: Spec, graded: GradedSize) -> tuple[Need, ...]:
    """What a pair of that size takes of each yarn that it is worked in.

    Both mittens are counted: one map twice, or a left and a right. A swatch in grams is taken to
    be worked in the first yarn declared.
    """
    maps = graded.maps if len(graded.maps) > 1 else graded.maps * 2
    pair = [use for one in maps for use in uses(one, spec.stripes.carry)]
    stitch = _stitch(spec)
    return tuple(
        _need(spec, stitch, yarn, (use for use in pair if use.yarn == yarn.letter))
        for yarn in spec.yarns
        if any(use.yarn == yarn.letter for use in pair)
    )
