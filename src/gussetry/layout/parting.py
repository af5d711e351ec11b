"""Where sizes part on a chart of several: a line across it that says which go on elsewhere."""

from __future__ import annotations

from gussetry.chart import Label, Line
from gussetry.layout.courses import Course, Placed
from gussetry.layout.parts import MARGIN, Sheet
from gussetry.layout.tags import size_tag
from gussetry.stitchmap import Piece
from gussetry.units import Point

HEIGHT = 2.2
"""Room for a line with words across the chart, in ems of its sums."""
CLEAR = 0.6
"""White between the words and the line they stand in, in ems of the sums."""


def parting_height(sheet: Sheet, course: Course) -> float:
    """The room over a course for where sizes part, mm; none where none do."""
    return HEIGHT * sheet.style.size("sum") if course.parting else 0.0


def parting_width(sheet: Sheet, course: Course) -> float:
    """The room at the chart's left for the words of a parting, mm."""
    if not course.parting:
        return 0.0
    return sheet.width_of("number", course.parting.words) + 2 * CLEAR * sheet.style.size("sum")


def parting_at(sheet: Sheet, lower: Placed) -> float | None:
    """The height on the page of the line over a course, None where no sizes part."""
    if lower.course.parting is None:
        return None
    standing = lower.standing
    raised = any(lower.in_size(p).row.raised for p in lower.course.places)
    # A bridge stands above its row: the line passes over its chains.
    top = max(lower.half, standing.lift + standing.pitch / 2) if raised else lower.half
    return standing.y - top - parting_height(sheet, lower.course) / 2


def draw_parting(sheet: Sheet, piece: Piece, lower: Placed, ends: tuple[float, float]) -> None:
    """The line over a course from end to end of the chart, its words at the left."""
    parting, y = lower.course.parting, parting_at(sheet, lower)
    if parting is None or y is None:
        return
    maps = [sheet.maps[p] for p in parting.places]
    tags = (
        ("data-piece", piece.piece),
        ("data-round", " ".join(map(str, parting.rounds))),
        ("data-size", size_tag(maps, True)),
    )
    at = Point(MARGIN, y + sheet.drop("number"))
    sheet.labels.append(
        Label("number", parting.words, at, tags=(("data-role", parting.kind), *tags))
    )
    x = MARGIN + sheet.width_of("number", parting.words) + CLEAR * sheet.style.size("sum")
    points = (Point(x, y), Point(ends[1], y))
    sheet.lines.append(Line("frame", points, tags=(("data-role", "parting"), *tags)))
