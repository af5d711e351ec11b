"""Guides of a chart without tags: markers, the start of a crown's rounds, and lines that only lead
the eye."""

from __future__ import annotations

from collections.abc import Sequence

from gussetry.verify.charts import Sheet
from gussetry.verify.svg import Shape
from gussetry.verify.tagless_parts import Parts, ends

_MOST = 400  # markers that are looked through for pieces of broken ones
_BROKEN = 12.0  # mm: a break of a line is no longer
_TURN = 0.04  # by which the pieces of a broken line may differ in direction
_ACROSS = 0.25  # the cosine from which a line leads inwards
_LEVEL = 0.05  # how far a line may rise over its length and be level


def infer_guides(parts: Parts, sheet: Sheet) -> None:
    """Roles of all lines: those drawn as the line of direction lead the eye, the others mark."""
    ways = [line for line in parts.lines if parts.role(line) == "direction"]
    thin = {(line.stroke, round(line.pen, 3)) for line in ways}
    for line in parts.lines:
        if parts.role(line) or parts.marks.get(line.order, {}).get("class"):
            continue
        if not thin or (line.stroke, round(line.pen, 3)) in thin:
            along = sheet.centre is not None and _leads_in(line, sheet.centre)
            parts.tag(line, role="growth" if along else "rule")
        elif sheet.centre is not None and _is_start(line, sheet.centre, sheet.pitch):
            parts.tag(line, role="start")
        else:
            parts.tag(line, role="marker")
    for loop in parts.loops:
        if not parts.role(loop):
            parts.tag(loop, role="rule")
    if sheet.centre is None:
        marks = [line for line in parts.lines if parts.role(line) == "marker"]
        _tag_broken(parts, marks[:_MOST])


def _tag_broken(parts: Parts, marks: Sequence[Shape]) -> None:
    """Of a marker's line that is broken round a symbol the lowest piece is the marker; a marker of
    its own begins over a stitch, a piece over what breaks it."""
    for piece in marks:
        low, high = _foot_and_head(piece)
        for other in marks:
            foot, head = _foot_and_head(other)
            gap = low - head
            if other is piece or gap.imag >= 0 or abs(gap) > _BROKEN:
                continue
            way, on = (high - low) / abs(high - low), (head - foot) / abs(head - foot)
            straight = abs(gap / abs(gap) - way) < _TURN and abs(way - on) < _TURN
            if straight and not _holds_stitch(parts, head, low):
                parts.tag(piece, role="leading")


def _foot_and_head(line: Shape) -> tuple[complex, complex]:
    a, b = ends(line)[:2]
    return (a, b) if a.imag > b.imag else (b, a)


def _holds_stitch(parts: Parts, a: complex, b: complex) -> bool:
    """Whether a stitch stands in a gap of a line: there a marker ends and the next begins."""
    return any(
        shape.box.holds((a + b) / 2, 0.2)
        for shape in parts.glyphs
        if parts.marks.get(shape.order, {}).get("class") == "stitch"
    )


def _leads_in(line: Shape, centre: complex) -> bool:
    """Whether a line leads towards a crown's centre rather than across."""
    a, b = ends(line)[:2]
    out = (a + b) / 2 - centre
    return abs(((b - a) * out.conjugate()).real) > _ACROSS * abs(b - a) * abs(out)


def _is_start(line: Shape, centre: complex, pitch: float) -> bool:
    """Whether a line stands straight over a crown's centre."""
    a, b = ends(line)[:2]
    upright = abs((a - b).real) < _LEVEL * abs(a - b)
    return upright and abs(a.real - centre.real) < 0.3 * pitch and max(a.imag, b.imag) < centre.imag
