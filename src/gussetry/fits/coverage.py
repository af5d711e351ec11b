"""Which hands a run of sizes covers, how many adults have them, and where it leaves a hole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from statistics import NormalDist

from gussetry.fits.reach import children_between, largest_served, of_children, smallest_served
from gussetry.grading.measures import Origin, body, weaker
from gussetry.spec import Size
from gussetry.survey import ADULTS, Adults


@dataclass(frozen=True, slots=True)
class Stretch:
    """Hand circumferences from `low` to `high`, mm, None where there is no end.

    `sizes`: the size, or the sizes between which it lies. `origin`: what its ends rest on.
    """

    sizes: tuple[str, ...]
    low: Fraction | None
    high: Fraction | None
    origin: Origin

    @property
    def women(self) -> float:
        """The share of the surveyed women."""
        return share(ADULTS["women"], self.low, self.high)

    @property
    def men(self) -> float:
        """The share of the surveyed men."""
        return share(ADULTS["men"], self.low, self.high)


@dataclass(frozen=True, slots=True)
class Hole:
    """Hands between two neighbours that neither serves. Beside a size for children `ages` are those
    of the surveyed children whose mean hand lies in it."""

    stretch: Stretch
    ages: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Coverage:
    """A band a size, smallest first; all of them; what lies below and above; the holes."""

    bands: tuple[Stretch, ...]
    total: Stretch
    below: Stretch
    above: Stretch
    holes: tuple[Hole, ...]


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
    A size alone reaches as far as it serves. Where two neighbours stand so far apart that there are
    hands between them which neither serves (`gussetry.fits.reach`), these lie in a hole.
    """
    edges = _edges(sizes)
    bands = [
        Stretch((size.name,), low, high, weaker(origin, other))
        for size, ((low, origin), (high, other)) in zip(sizes, pairwise(edges), strict=True)
    ]
    (lowest, first), (highest, last) = edges[0], edges[-1]
    names = tuple(size.name for size in sizes)
    return Coverage(
        tuple(bands),
        Stretch(names, lowest, highest, weaker(first, last)),
        Stretch(names[:1], None, lowest, first),
        Stretch(names[-1:], highest, None, last),
        tuple(_holes(sizes)),
    )


def _edges(sizes: Sequence[Size]) -> list[tuple[Fraction, Origin]]:
    """Where the bands end, one edge more than there are sizes, mm, and what each rests on."""
    if len(sizes) == 1:
        (size,) = sizes
        origin = _edge_origin(size, size)
        return [(smallest_served(size), origin), (largest_served(size), origin)]
    inner = [
        ((one.hand_circumference + other.hand_circumference) / 2, _origin(one, other))
        for one, other in pairwise(sizes)
    ]
    (first, origin), (last, other) = inner[0], inner[-1]
    return [
        (2 * sizes[0].hand_circumference - first, origin),
        *inner,
        (2 * sizes[-1].hand_circumference - last, other),
    ]


def _origin(one: Size, other: Size) -> Origin:
    """What the circumferences of two sizes rest on."""
    return weaker(*(body(size).origin("hand circumference") for size in (one, other)))


def _edge_origin(one: Size, other: Size) -> Origin:
    """What edges rest on that lie as far from the sizes as they serve: of children's also on the
    hands of the surveyed children, which are estimates."""
    children = of_children(one) or of_children(other)
    return weaker("estimated" if children else "given", _origin(one, other))


def _holes(sizes: Sequence[Size]) -> Iterator[Hole]:
    for smaller, larger in pairwise(sizes):
        low, high = largest_served(smaller), smallest_served(larger)
        if low < high:
            names, origin = (smaller.name, larger.name), _edge_origin(smaller, larger)
            young = of_children(smaller) or of_children(larger)
            ages = children_between(low, high) if young else ()
            yield Hole(Stretch(names, low, high, origin), ages)
