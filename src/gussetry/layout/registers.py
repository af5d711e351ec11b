"""Register marks: small ringed crosses by which the sheets of a chart are laid on each other."""

from __future__ import annotations

import math
from collections.abc import Sequence

from gussetry.chart import Line
from gussetry.layout.courses import Placed
from gussetry.layout.part import Part
from gussetry.layout.parts import Sheet
from gussetry.layout.windows import OVERLAP, Window
from gussetry.units import Point

ARM, RING = 1.3, 0.8
"""Half a cross, and the radius of the ring about its middle, mm: no stitch looks like it."""
INSET = 1.7
"""From the edge of a chart's rows to the middle of a cross in their margin, mm."""
TURNS = 16
"""Chords of a ring."""
ROOM = 4.4
"""Room for a cross above or below the rows, mm."""


def mark_room(part: Part) -> float:
    """The room that crosses take above the rows, mm."""
    return ROOM if part.window is not None and part.number.of > 1 else 0.0


def draw_marks(
    sheet: Sheet, part: Part, placed: Sequence[Placed], foot: float, width: float
) -> float:
    """The crosses of a sheet: in both margins of its rows, `width` mm from edge to edge, at the
    height of each that stands on two sheets; above and below columns that do. `foot`: the y of what
    stands below the rows, returned further down where crosses stand there."""
    if part.number.of == 1:
        return foot
    shared = [*placed[: int(part.before)], *placed[len(placed) - int(part.after) :]]
    for place in shared:
        for x in (INSET, width - INSET):
            _cross(sheet, Point(x, place.standing.y))
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


def _cross(sheet: Sheet, at: Point) -> None:
    across = [(-ARM, 0.0), (ARM, 0.0), (RING, 0.0)]
    turns = [math.tau * k / TURNS for k in range(1, TURNS + TURNS // 4 + 1)]
    ring = [(RING * math.cos(turn), RING * math.sin(turn)) for turn in turns]
    upright = [(0.0, ARM), (0.0, -ARM)]
    points = tuple(at.plus(Point(x, y)) for x, y in (*across, *ring, *upright))
    sheet.lines.append(Line("register", points))
