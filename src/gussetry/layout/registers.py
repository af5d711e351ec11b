"""Register marks: small crosses by which the sheets of a chart are laid on each other."""

from __future__ import annotations

from collections.abc import Sequence

from gussetry.chart import Line
from gussetry.layout.courses import Placed
from gussetry.layout.parts import Sheet
from gussetry.layout.rows import Standing
from gussetry.layout.sheeting import Part
from gussetry.layout.spread import ARROW, GAP
from gussetry.layout.windows import OVERLAP, Window
from gussetry.units import Point

ARM = 0.8
"""Half a cross, mm."""
ROOM = 3.2
"""Room for a cross above or below the rows, mm."""


def mark_room(part: Part) -> float:
    """The room that crosses take above the rows, mm."""
    return ROOM if part.window is not None and part.number.of > 1 else 0.0


def draw_marks(sheet: Sheet, part: Part, placed: Sequence[Placed], foot: float) -> float:
    """The crosses of a sheet; `foot`: the y of what stands below the rows, returned further down
    where crosses stand there."""
    if part.number.of == 1:
        return foot
    if part.before:
        _beside(sheet, placed[0].standing)
    if part.after:
        _beside(sheet, placed[-1].standing)
    window = part.window
    if window is None:
        return foot
    top = placed[-1].standing.y - placed[-1].half - ROOM / 2
    for cell in _parted_at(window):
        x = placed[0].standing.axis + (cell - window.middle) * placed[0].standing.pitch
        _cross(sheet, Point(x, top))
        _cross(sheet, Point(x, foot + ROOM / 2))
    return foot + ROOM


def _parted_at(window: Window) -> list[float]:
    """The cells, right of the chart's axis, in the middle of the columns that two sheets share."""
    found = [window.low + OVERLAP / 2] if window.goes_on else []
    return [*found, window.high - OVERLAP / 2] if window.again is not None else found


def _beside(sheet: Sheet, place: Standing) -> None:
    """A cross at both ends of a row that stands on two sheets."""
    before, after = place.row.extent()
    turned = ARROW if place.row.rightwards else 0.0
    way = 1 if place.row.rightwards else -1
    white = GAP * sheet.style.size("count") / 2
    for cells, side in ((before + turned, -way), (after, way)):
        _cross(sheet, Point(place.axis + side * (cells * place.pitch + white), place.y))


def _cross(sheet: Sheet, at: Point) -> None:
    ends = [at.plus(Point(x, y)) for x, y in ((-ARM, 0), (ARM, 0), (0, 0), (0, -ARM), (0, ARM))]
    sheet.lines.append(Line("register", tuple(ends)))
