"""Register marks: small ringed crosses by which the sheets of a chart are laid on each other."""

from __future__ import annotations

import math
from collections.abc import Sequence

from gussetry.chart import Line
from gussetry.layout.courses import Placed
from gussetry.layout.parts import Sheet
from gussetry.layout.rows import Standing
from gussetry.layout.sheeting import Part
from gussetry.layout.spread import ARROW, GAP
from gussetry.layout.windows import OVERLAP, Window
from gussetry.units import Point

ARM, RING = 0.9, 0.5
"""Half a cross, and the radius of the ring about its middle, mm: no stitch looks like it."""
TURNS = 16
"""Chords of a ring."""
OVER = 0.45
"""How far above the arrow of a turned row a cross stands, over the distance of rows."""
ARROW_ENDS = 0.3
"""Where the arrow of a turned row ends, over the pitch."""
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
    turned = any(place.standing.row.rightwards for place in placed)
    step = 2 * placed[0].half
    if part.before:
        _beside(sheet, placed[0].standing, turned, step)
    if part.after:
        _beside(sheet, placed[-1].standing, turned, step)
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


def _beside(sheet: Sheet, place: Standing, turned: bool, step: float) -> None:
    """A cross at both ends of a row that stands on two sheets; over its arrow where rows turn."""
    before, after = (cells * place.pitch for cells in place.row.extent())
    way = 1 if place.row.rightwards else -1
    white = GAP * sheet.style.size("count") / 2
    _cross(sheet, Point(place.axis + way * (after + white), place.y))
    if turned:
        before += 0.5 * (ARROW + ARROW_ENDS) * place.pitch
        _cross(sheet, Point(place.axis - way * before, place.y - OVER * step))
    else:
        _cross(sheet, Point(place.axis - way * (before + white), place.y))


def _cross(sheet: Sheet, at: Point) -> None:
    across = [(-ARM, 0.0), (ARM, 0.0), (RING, 0.0)]
    turns = [math.tau * k / TURNS for k in range(1, TURNS + TURNS // 4 + 1)]
    ring = [(RING * math.cos(turn), RING * math.sin(turn)) for turn in turns]
    upright = [(0.0, ARM), (0.0, -ARM)]
    points = tuple(at.plus(Point(x, y)) for x, y in (*across, *ring, *upright))
    sheet.lines.append(Line("register", points))
