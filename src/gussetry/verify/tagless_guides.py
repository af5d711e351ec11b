"""Guides of a chart without tags: markers, the start of a crown's rounds, and lines that only lead
the eye."""

from __future__ import annotations

from gussetry.verify.charts import Sheet
from gussetry.verify.svg import Shape
from gussetry.verify.tagless_parts import Parts, ends

_LEVEL = 0.05  # how far a line may rise over its length and be level


def infer_guides(parts: Parts, sheet: Sheet) -> None:
    """Roles of all lines: those drawn as the line of direction lead the eye, the others mark."""
    ways = [line for line in parts.lines if parts.role(line) == "direction"]
    thin = {(line.stroke, round(line.pen, 3)) for line in ways}
    for line in parts.lines:
        if parts.role(line) or parts.marks.get(line.order, {}).get("class"):
            continue
        if not thin or (line.stroke, round(line.pen, 3)) in thin:
            parts.tag(line, role="rule")
        elif sheet.centre is not None and _is_start(line, sheet.centre, sheet.pitch):
            parts.tag(line, role="start")
        else:
            parts.tag(line, role="marker")
    for loop in parts.loops:
        parts.tag(loop, role="rule")


def _is_start(line: Shape, centre: complex, pitch: float) -> bool:
    """Whether a line stands straight over a crown's centre."""
    a, b = ends(line)[:2]
    upright = abs((a - b).real) < _LEVEL * abs(a - b)
    return upright and abs(a.real - centre.real) < 0.3 * pitch and max(a.imag, b.imag) < centre.imag
