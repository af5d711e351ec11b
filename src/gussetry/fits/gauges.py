"""What each size comes out as for a maker whose gauge is another, and what she makes instead."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from gussetry.fits.coverage import HALF_STEP
from gussetry.grading import GradedSize, Measure
from gussetry.spec import Spec

_SWATCH = Fraction(100)
"""Millimetres over which a gauge is told."""
_STEPS = (-2, -1, 0, 1, 2)


@dataclass(frozen=True, slots=True)
class Outcome:
    """A size worked at a gauge: the hand's circumference of its own counts, mm, and the size whose
    counts come nearest to its wish; None where none comes within half a European glove step."""

    circumference: Fraction
    make: str | None


@dataclass(frozen=True, slots=True)
class GaugeTable:
    """Stitches over 10 cm, fewest first, and for each size its outcome at each of them."""

    stitches: tuple[Fraction, ...]
    sizes: tuple[tuple[str, tuple[Outcome, ...]], ...]


def gauge_table(spec: Spec, sizes: Sequence[GradedSize]) -> GaugeTable:
    """The outcomes at the pattern's gauge and at one and two stitches more or fewer over 10 cm.

    At the pattern's own gauge each size is itself. Of two that come equally near, a size's own
    counts are taken, then the smaller size's.
    """
    own = _SWATCH / spec.gauge.width
    gauges = tuple(own + step for step in _STEPS if own + step > 0)
    hands = [next(m for m in one.measures if m.name == "hand circumference") for one in sizes]
    names = [one.size.name for one in sizes]
    rows = []
    for place, hand in enumerate(hands):
        outcomes = []
        for gauge in gauges:
            # The same counts in narrower or wider stitches.
            scale = own / gauge
            made = place if scale == 1 else _nearest(hands, place, scale)
            make = None if made is None else names[made]
            outcomes.append(Outcome(hand.finished * scale, make))
        rows.append((names[place], tuple(outcomes)))
    return GaugeTable(gauges, tuple(rows))


def _nearest(hands: Sequence[Measure], place: int, scale: Fraction) -> int | None:
    """The size whose counts, scaled, come nearest to the wish of the size at `place`."""
    miss, _, best = min(
        (abs(other.finished * scale - hands[place].wish), at != place, at)
        for at, other in enumerate(hands)
    )
    return best if miss <= HALF_STEP else None
