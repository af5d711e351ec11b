"""What each size comes out as for a maker whose gauge is another, and what she makes instead."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from gussetry.fits.reach import largest_served, smallest_served
from gussetry.grading import GradedSize, Measure
from gussetry.grading.measures import Origin
from gussetry.spec import Size, Spec

_SWATCH = Fraction(100)
"""Millimetres over which a gauge is told."""
_STEPS = (-2, -1, 0, 1, 2)


@dataclass(frozen=True, slots=True)
class Outcome:
    """A size worked at a gauge: the hand's circumference of its own counts, mm, and the size whose
    counts come nearest to its wish; None where none comes as near as the hands that it serves."""

    circumference: Fraction
    make: str | None


@dataclass(frozen=True, slots=True)
class SizeOutcomes:
    """A size at each gauge of the table, and what its wish rests on."""

    size: str
    origin: Origin
    outcomes: tuple[Outcome, ...]


@dataclass(frozen=True, slots=True)
class GaugeTable:
    """Stitches over 10 cm, fewest first, and each size at each of them."""

    stitches: tuple[Fraction, ...]
    sizes: tuple[SizeOutcomes, ...]


def gauge_table(spec: Spec, sizes: Sequence[GradedSize]) -> GaugeTable:
    """The outcomes at the pattern's gauge and at one and two stitches more or fewer over 10 cm.

    At the pattern's own gauge each size is itself. Of two that come equally near, the one is taken
    that stands nearer to the size in their order, and of two alike in that the smaller.
    """
    own = _SWATCH / spec.gauge.width
    gauges = tuple(own + step for step in _STEPS if own + step > 0)
    hands = [next(m for m in one.measures if m.name == "hand circumference") for one in sizes]
    names = [one.size.name for one in sizes]
    rows = []
    for place, (one, hand) in enumerate(zip(sizes, hands, strict=True)):
        outcomes = []
        for gauge in gauges:
            # The same counts in narrower or wider stitches.
            scale = own / gauge
            made = place if scale == 1 else _nearest(hands, place, one.size, scale)
            make = None if made is None else names[made]
            outcomes.append(Outcome(hand.finished * scale, make))
        rows.append(SizeOutcomes(one.size.name, hand.origin, tuple(outcomes)))
    return GaugeTable(gauges, tuple(rows))


def _nearest(hands: Sequence[Measure], place: int, size: Size, scale: Fraction) -> int | None:
    """Which size's counts, scaled, come nearest to the wish of the size at `place`, of those that
    leave it the hands that it serves."""
    girth = size.hand_circumference
    low, high = smallest_served(size) - girth, largest_served(size) - girth
    apart = [other.finished * scale - hands[place].wish for other in hands]
    near = ((abs(a), abs(at - place), at) for at, a in enumerate(apart) if low <= a <= high)
    return min(near, default=(None, None, None))[-1]
