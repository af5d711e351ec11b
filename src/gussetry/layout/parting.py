"""Where sizes part on a chart of several: a line across it that says which go on elsewhere."""

from __future__ import annotations

import math

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
ROUND_MARKS = 0.3
"""White between the line and a marker that crosses it, over the pitch."""


def parting_height(sheet: Sheet, course: Course) -> float:
    """The room over a course for where sizes part, mm; none where none do."""
    return HEIGHT * sheet.style.size("sum") if course.parting else 0.0


def parting_width(sheet: Sheet, course: Course) -> float:
    """The room at the chart's left for the words of a parting, mm."""
    if not course.parting:
        return 0.0
    return sheet.width_of("number", course.parting.words) + 2 * CLEAR * sheet.style.size("sum")


def draw_parting(
    sheet: Sheet, piece: Piece, lower: Placed, upper: Placed, ends: tuple[float, float]
) -> None:
    """The line between two courses from end to end of the chart, its words at the left, broken
    around the markers that go through it."""
    parting = lower.course.parting
    if parting is None:
        return
    standing = lower.standing
    raised = any(lower.in_size(p).row.raised for p in lower.course.places)
    # A bridge stands above its row: the line passes over its chains.
    top = max(lower.half, standing.lift + standing.pitch / 2) if raised else lower.half
    y = standing.y - top - parting_height(sheet, lower.course) / 2
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
    white = CLEAR * sheet.style.size("sum")
    x = MARGIN + sheet.width_of("number", parting.words) + white
    for low, high in [*_crossing(lower, upper), (ends[1], math.inf)]:
        if low > x:
            points = (Point(x, y), Point(low, y))
            sheet.lines.append(Line("frame", points, tags=(("data-role", "parting"), *tags)))
        x = max(x, high)


def _crossing(lower: Placed, upper: Placed) -> list[tuple[float, float]]:
    """From where to where across the page a line between two courses would meet what leads from
    one to the other, from the left."""
    shared = [p for p in lower.course.places if p in upper.course.places]
    if not shared or upper.course.lead.several:
        return []
    row = lower.in_size(shared[-1])
    numbers = [n for name, n in row.row.round.markers if name.endswith("marker")]
    heads, feet = row.heads(), upper.in_size(shared[-1]).feet()
    white = ROUND_MARKS * row.pitch
    found = []
    for number in numbers:
        if number in heads and number in feet:
            xs = heads[number].x, feet[number].x
            found.append((min(xs) - white, max(xs) + white))
    return sorted(found)
