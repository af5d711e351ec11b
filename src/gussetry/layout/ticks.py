"""Boxes to tick, one a round, where the style has them."""

from __future__ import annotations

from gussetry.chart import Line, Tags
from gussetry.layout.courses import Placed
from gussetry.layout.parts import Sheet
from gussetry.layout.tags import size_tag
from gussetry.stitchmap import Piece
from gussetry.units import Point

SIZE = 0.75
"""The side of a box, in ems of the numbers."""
APART = 0.35
"""White beside a box, in ems of the numbers."""
MOST = 10
"""So many boxes stand in a line at most, else one serves them all."""


def tick_size(sheet: Sheet) -> float:
    """The side of a box, mm."""
    return SIZE * sheet.style.size("number")


def tick_room(sheet: Sheet) -> float:
    """The width that a column of boxes takes, mm; none in a style without."""
    em = sheet.style.size("number")
    return (SIZE + 2 * APART) * em if sheet.style.tick_boxes else 0.0


def draw_tick(sheet: Sheet, right: float, middle: float, tags: Tags) -> None:
    """A box whose right edge stands at `right`, its middle at the height `middle`; `tags` name its
    round. Nothing in a style without."""
    if not sheet.style.tick_boxes:
        return
    side = tick_size(sheet)
    left, top, bottom = right - side, middle - side / 2, middle + side / 2
    corners = (Point(left, top), Point(right, top), Point(right, bottom), Point(left, bottom))
    tags = (("data-role", "tick"), *tags)
    sheet.lines.append(Line("frame", corners, closed=True, tags=tags))


def draw_ticks(sheet: Sheet, piece: Piece, place: Placed, right: float, left: float) -> None:
    """The boxes of a course: one for its round; for each of those that it sums where they fit
    between `left` and `right` in a line, else one for all."""
    course, y = place.course, place.standing.y
    lead = course.lead
    if not lead.several:
        if lead.counted:
            draw_tick(sheet, right, y, course.tags(sheet, piece))
        return
    step = tick_size(sheet) + APART * sheet.style.size("number")
    lengths = {last - first + 1 for first, last in (r.several or (0, 0) for r in course.rows)}
    number = lengths.pop() if len(lengths) == 1 else 0
    if not 0 < number <= min(MOST, (right - left + step - tick_size(sheet)) / step):
        draw_tick(sheet, right, y, course.tags(sheet, piece))
        return
    size = size_tag([sheet.maps[p] for p in course.places], bool(sheet.others))
    for nth in range(number):
        rounds = " ".join(str(r.several[0] + nth) for r in course.rows if r.several)
        tags = (("data-piece", piece.piece), ("data-round", rounds), ("data-size", size))
        draw_tick(sheet, right - (number - 1 - nth) * step, y, tags)
