"""The fit for machines: JSON with stable keys, lengths in millimetres."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

from gussetry.fits import Fit, Passing, Row, SizeFit
from gussetry.fits.coverage import Coverage, Hole, Stretch
from gussetry.fits.gauges import GaugeTable
from gussetry.units import text


def fit_json(fit: Fit) -> str:
    """The whole fit: `sizes`, `coverage`, `gauges`. Figures to a thousandth, shares to a
    millionth; null where there is none."""
    told = {
        "format": "gussetry-fit",
        "version": 1,
        "pattern": fit.pattern,
        "sizes": [_size(one) for one in fit.sizes],
        "coverage": _coverage(fit.coverage),
        "gauges": _gauges(fit.gauges),
    }
    return json.dumps(told, ensure_ascii=False, indent=1) + "\n"


def _number(value: Fraction | float | None, places: int = 3) -> float | None:
    return None if value is None else float(text(value, places))


def _size(one: SizeFit) -> dict[str, Any]:
    return {
        "size": one.size.name,
        "for": one.wearer,
        "for given": one.size.wearer is not None,
        "standard": one.size.standard,
        "measures": [_row(row) for row in one.rows],
        "over hand": _passing(one.passing),
    }


def _row(row: Row) -> dict[str, Any]:
    measure = row.measure
    return {
        "measure": measure.name,
        "body mm": _number(measure.body),
        "body origin": measure.body_origin,
        "wish mm": _number(measure.wish),
        "wish origin": measure.origin,
        "finished mm": _number(measure.finished),
        "apart mm": _number(row.apart),
        "apart counts": _number(row.apart / row.each),
        "counted in": row.unit,
        "one count mm": _number(row.each),
    }


def _passing(passing: Passing) -> dict[str, Any]:
    return {
        "edge": passing.edge,
        "tucked girth mm": _number(passing.girth),
        "tucked girth weak": passing.girth_weak,
        "relaxed mm": _number(passing.relaxed),
        "must open times": _number(passing.needed),
        "opens times": _number(passing.opens),
        "opens weak": passing.opens_weak,
        "passes": passing.passes,
    }


def _stretch(stretch: Stretch) -> dict[str, Any]:
    return {
        "from mm": _number(stretch.low),
        "to mm": _number(stretch.high),
        "women": _number(stretch.women, 6),
        "men": _number(stretch.men, 6),
        "origin": stretch.origin,
    }


def _coverage(coverage: Coverage) -> dict[str, Any]:
    return {
        "sizes": [{"size": band.sizes[0], **_stretch(band)} for band in coverage.bands],
        "all": _stretch(coverage.total),
        "below": _stretch(coverage.below),
        "above": _stretch(coverage.above),
        "holes": [_hole(hole) for hole in coverage.holes],
    }


def _hole(hole: Hole) -> dict[str, Any]:
    between = {"between": list(hole.stretch.sizes)}
    return between | _stretch(hole.stretch) | {"ages": list(hole.ages)}


def _gauges(table: GaugeTable) -> dict[str, Any]:
    return {
        "stitches over 10 cm": [_number(stitches) for stitches in table.stitches],
        "sizes": [
            {
                "size": one.size,
                "wish origin": one.origin,
                "hand circumference mm": [_number(o.circumference) for o in one.outcomes],
                "make": [o.make for o in one.outcomes],
            }
            for one in table.sizes
        ],
    }
