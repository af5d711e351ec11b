"""How near every size comes to its wishes, whom the sizes fit, and what another gauge makes."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from gussetry.fits.coverage import Coverage, coverage
from gussetry.fits.gauges import GaugeTable, gauge_table
from gussetry.grading import GradedSize, Grading, Measure
from gussetry.grading.measures import cuff_stretch, tucked_girth, wearer
from gussetry.spec import Size, Spec, Wearer
from gussetry.stitchmap import StitchMap


@dataclass(frozen=True, slots=True)
class Row:
    """A measure, and the whole stitch, row or round by which alone it can grow: `each` mm."""

    measure: Measure
    unit: str
    each: Fraction

    @property
    def apart(self) -> Fraction:
        """What the finished mitten has more than the wish, mm."""
        return self.measure.finished - self.measure.wish


@dataclass(frozen=True, slots=True)
class Passing:
    """Whether the cuff passes the hand, or without one the mitten's lower `edge`.

    `girth` of the hand with the thumb laid in and the `relaxed` edge round, mm; `opens`: how many
    times its width the fabric opens to. Weak where common practice stands in for a measure.
    """

    edge: Literal["cuff", "lower edge"]
    girth: Fraction
    girth_weak: bool
    relaxed: Fraction
    opens: Fraction
    opens_weak: bool

    @property
    def needed(self) -> Fraction:
        """How many times its width the edge must open to."""
        return self.girth / self.relaxed

    @property
    def passes(self) -> bool:
        """Whether it opens so far."""
        return self.opens >= self.needed


@dataclass(frozen=True, slots=True)
class SizeFit:
    """One size: each of its measures, and its way over the hand."""

    size: Size
    wearer: Wearer
    rows: tuple[Row, ...]
    passing: Passing


@dataclass(frozen=True, slots=True)
class Fit:
    """The fit of a whole pattern."""

    pattern: str
    sizes: tuple[SizeFit, ...]
    coverage: Coverage
    gauges: GaugeTable


def fit_of(spec: Spec, grading: Grading) -> Fit:
    """The fit of every size, the hands that they cover, and what comes out at other gauges."""
    return Fit(
        spec.pattern,
        tuple(_size_fit(spec, one) for one in grading.sizes),
        coverage(spec.sizes),
        gauge_table(spec, grading.sizes),
    )


def _size_fit(spec: Spec, one: GradedSize) -> SizeFit:
    stitches = one.maps[0]
    units = _units(stitches)
    rows = tuple(Row(measure, *units[measure.name]) for measure in one.measures)
    edge: Literal["cuff", "lower edge"] = "cuff" if stitches.piece("cuff") else "lower edge"
    passing = Passing(edge, *tucked_girth(one.size), one.edge, *cuff_stretch(spec))
    return SizeFit(one.size, wearer(one.size), rows, passing)


def _units(stitches: StitchMap) -> dict[str, tuple[str, Fraction]]:
    """Of each measure what it is counted in, and the size of one, mm."""
    across, up = ("stitches", stitches.fabric.width), ("rounds", stitches.fabric.height)
    found = {
        "hand circumference": across,
        "thumb circumference": across,
        "crook height": up,
        "hand length": up,
        "thumb length": up,
        # It has the cuff's too; what it can still be mended by are the hand's.
        "total length": up,
    }
    cuff = stitches.piece("cuff")
    if cuff is None:
        return found
    fabric = stitches.rib or stitches.fabric
    around, deep = ("stitches", fabric.width), (cuff.worked, fabric.height)
    if cuff.worked == "rows":
        around, deep = deep, around
    return found | {"cuff circumference": around, "cuff depth": deep}
