"""Which hands a run of sizes covers, how many adults have them, and where it leaves a hole."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from statistics import NormalDist

from gussetry.spec import Size
from gussetry.survey import ADULTS, GLOVE_STEP, Adults

HALF_STEP = GLOVE_STEP / 2
"""How far from a size its hands reach at most: half a European glove step (EN ISO 21420), mm."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Hand circumferences from `low` to `high`, mm, None where there is no end.

    `sizes`: the size, or the sizes between which it lies.
    """

    sizes: tuple[str, ...]
    low: Fraction | None
    high: Fraction | None

    @property
    def women(self) -> float:
        """The share of the surveyed women."""
        return share(ADULTS["women"], self.low, self.high)

    @property
    def men(self) -> float:
        """The share of the surveyed men."""
        return share(ADULTS["men"], self.low, self.high)


@dataclass(frozen=True, slots=True)
class Coverage:
    """A band a size, smallest first; all of them; what lies below and above; the holes."""

    bands: tuple[Stretch, ...]
    total: Stretch
    below: Stretch
    above: Stretch
    holes: tuple[Stretch, ...]


def share(adults: Adults, low: Fraction | None, high: Fraction | None) -> float:
    """The share of the adults whose hand circumference lies between: a normal distribution with the
    survey's mean and standard deviation."""
    curve = NormalDist(float(adults.mean), float(adults.deviation))
    upper = 1.0 if high is None else curve.cdf(float(high))
    lower = 0.0 if low is None else curve.cdf(float(low))
    return upper - lower


def coverage(sizes: Sequence[Size]) -> Coverage:
    """The bands of the sizes, smallest first.

    Each reaches half-way to its neighbours; the outer half of an end band mirrors its inner half.
    A size alone reaches half a glove step each way. Where two neighbours stand further apart than
    a glove step, hands further than half a step from both lie in a hole.
    """
    girths = [size.hand_circumference for size in sizes]
    edges = [(low + high) / 2 for low, high in pairwise(girths)]
    if edges:
        edges = [2 * girths[0] - edges[0], *edges, 2 * girths[-1] - edges[-1]]
    else:
        edges = [girths[0] - HALF_STEP, girths[0] + HALF_STEP]
    bands = [
        Stretch((size.name,), low, high)
        for size, (low, high) in zip(sizes, pairwise(edges), strict=True)
    ]
    holes = [
        Stretch(
            (smaller.name, larger.name),
            smaller.hand_circumference + HALF_STEP,
            larger.hand_circumference - HALF_STEP,
        )
        for smaller, larger in pairwise(sizes)
        if larger.hand_circumference - smaller.hand_circumference > GLOVE_STEP
    ]
    names = tuple(size.name for size in sizes)
    return Coverage(
        tuple(bands),
        Stretch(names, edges[0], edges[-1]),
        Stretch(names[:1], None, edges[0]),
        Stretch(names[-1:], edges[-1], None),
        tuple(holes),
    )
