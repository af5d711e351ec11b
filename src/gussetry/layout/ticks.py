"""Boxes to tick, one a round, where the style has them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from gussetry.chart import Label, Line, Tags
from gussetry.layout.courses import Course, Placed
from gussetry.layout.parts import Sheet
from gussetry.layout.tags import listed, size_tag
from gussetry.stitchmap import Piece
from gussetry.units import Point

SIZE = 0.75
"""The side of a box, in ems of the numbers."""
APART = 0.35
"""White beside a box, in ems of the numbers."""
FIVE = 5
"""So many boxes stand in a line."""


def tick_size(sheet: Sheet) -> float:
    """The side of a box, mm."""
    return SIZE * sheet.style.size("number")


def _step(sheet: Sheet) -> float:
    return (SIZE + APART) * sheet.style.size("number")


def tick_room(sheet: Sheet) -> float:
    """The width that a column of boxes takes, mm; none in a style without."""
    em = sheet.style.size("number")
    return (SIZE + 2 * APART) * em if sheet.style.tick_boxes else 0.0


class _Boxes(NamedTuple):
    """A line of boxes: the first of its rounds, counted from the first that is summed, how many,
    and the sizes that have these, by their places in the course; `named` where not all do."""

    first: int
    many: int
    members: tuple[int, ...]
    named: bool


def _in_fives(course: Course) -> list[_Boxes]:
    """The boxes of what a course sums in lines, no more than five to each; where sizes go on
    longer than others their rounds beyond have lines of their own."""
    lengths = [r.several[1] - r.several[0] + 1 for r in course.rows if r.several]
    found, first = [], 0
    for end in sorted(set(lengths)):
        members = tuple(m for m, own in enumerate(lengths) if own >= end)
        found += [
            _Boxes(at, min(FIVE, end - at), members, len(members) < len(lengths))
            for at in range(first, end, FIVE)
        ]
        first = end
    return found


def _names(sheet: Sheet, course: Course, boxes: _Boxes) -> str:
    sizes = [sheet.maps[course.places[m]].size for m in boxes.members]
    return listed(sizes) if boxes.named else ""


def summed_room(sheet: Sheet, course: Course) -> float:
    """The width that the boxes of a summing line take beside the column of boxes, mm."""
    if not sheet.style.tick_boxes:
        return 0.0
    em = sheet.style.size("number")
    told = [sheet.width_of("number", _names(sheet, course, one)) for one in _in_fives(course)]
    widest = min(FIVE, max(one.many for one in _in_fives(course)))
    return (widest - 1) * _step(sheet) + max(told) + (em if max(told) else 0.0)


def summed_height(sheet: Sheet, course: Course) -> float:
    """The height that the boxes of a summing line take, mm."""
    return len(_in_fives(course)) * _step(sheet) if sheet.style.tick_boxes else 0.0


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


def draw_ticks(sheet: Sheet, piece: Piece, place: Placed, right: float) -> None:
    """The boxes of a course, the last of a line at `right`: one for its round, or one for each of
    those that it sums, in fives one line under the other about its height."""
    if not sheet.style.tick_boxes:
        return
    course, y = place.course, place.standing.y
    if not course.lead.several:
        if course.lead.counted:
            draw_tick(sheet, right, y, course.tags(sheet, piece))
        return
    lines = _in_fives(course)
    step = _step(sheet)
    first = right - (max(one.many for one in lines) - 1) * step
    for nth, boxes in enumerate(lines):
        middle = y + (nth - (len(lines) - 1) / 2) * step
        rows = [course.rows[m] for m in boxes.members]
        size = size_tag([sheet.maps[course.places[m]] for m in boxes.members], bool(sheet.others))
        for k in range(boxes.many):
            numbers = [r.several[0] + boxes.first + k for r in rows if r.several]
            draw_tick(sheet, first + k * step, middle, _tags(piece, numbers, size))
        if boxes.named:
            x = first - tick_size(sheet) - APART * sheet.style.size("number")
            at = Point(x, middle + sheet.drop("number"))
            numbers = [r.several[0] + boxes.first for r in rows if r.several]
            tags = (("data-role", "size"), *_tags(piece, numbers, size))
            names = _names(sheet, course, boxes)
            sheet.labels.append(Label("number", names, at, "end", tags=tags))


def _tags(piece: Piece, numbers: Sequence[int], size: str) -> Tags:
    rounds = " ".join(map(str, numbers))
    return (("data-piece", piece.piece), ("data-round", rounds), ("data-size", size))
