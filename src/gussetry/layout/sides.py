"""Marked sides on a chart of rows: a line up through them, just before the marked stitches."""

from __future__ import annotations

from collections.abc import Sequence

from gussetry.chart import Line
from gussetry.layout.courses import Placed
from gussetry.layout.parts import Sheet, cells
from gussetry.layout.rows import Standing
from gussetry.stitchmap import Round, left_of_made
from gussetry.units import Point

THROUGH = 0.46
"""How far a line runs straight above and below a row, over the pitch."""


def draw_sides(sheet: Sheet, placed: Sequence[Placed]) -> None:
    """The lines of all marked sides, as far as the stitches are drawn that they mark."""
    rows = [place.standing for place in placed if not place.course.lead.several]
    for name in dict.fromkeys(name for row in rows for name, _ in row.row.round.markers):
        points: list[Point] = []
        for row in rows:
            x = _before(row, row.row.round.marker(name))
            if x is None:
                _line(sheet, points)
                points = []
                continue
            half = THROUGH * row.pitch
            points += [Point(x, row.y + half), Point(x, row.y - half)]
        _line(sheet, points)


def _line(sheet: Sheet, points: Sequence[Point]) -> None:
    if points:
        sheet.lines.append(Line("marker", tuple(points)))


def _before(place: Standing, number: int | None) -> float | None:
    """Where the cell of a stitch begins, mm across the page; None where it is not drawn."""
    if number is None:
        return None
    entry = entry_of(place.row.round, number)
    frame = place.frames.get(entry)
    if frame is None:
        return None
    way = 1 if place.row.rightwards else -1
    return frame.origin.x - way * cells(place.row.round.work[entry]) / 2 * place.pitch


def entry_of(round_: Round, number: int) -> int:
    """The entry of a round's work that makes the stitch of that number."""
    made = [i for i, op in enumerate(round_.work) for _ in range(op.makes)]
    return made[left_of_made(round_).index(number)]
