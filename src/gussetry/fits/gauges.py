"""What each size comes out as for a maker whose gauge is another, and what she makes instead."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from gussetry.fits.coverage import HALF_STEP
from gussetry.grading import GradedSize
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

    Of two sizes that come equally near, the one itself is taken, then the smaller.
    """
    own = _SWATCH / spec.gauge.width
    gauges = tuple(own + step for step in _STEPS if own + step > 0)
    hands = [next(m for m in one.measures if m.name == "hand circumference") for one in sizes]
    rows = []
    for place, hand in enumerate(hands):
        outcomes = []
        for gauge in gauges:
            # The same counts in narrower or wider stitches.
            scale = own / gauge
            miss, _, best = min(
                (abs(other.finished * scale - hand.wish), at != place, at)
                for at, other in enumerate(hands)
            )
            make = sizes[best].size.name if miss <= HALF_STEP else None
            outcomes.append(Outcome(hand.finished * scale, make))
        rows.append((sizes[place].size.name, tuple(outcomes)))
    return GaugeTable(gauges, tuple(rows))
