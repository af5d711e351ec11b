"""Which sizes share a chart: those whose rounds are drawn alike, as many as stay easy to follow."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from gussetry.layout.courses import Course
from gussetry.layout.gusset import gusset_courses
from gussetry.layout.parts import Sheet
from gussetry.layout.spread import fits
from gussetry.stitchmap import PieceName, StitchMap
from gussetry.style import Style

Maps = Sequence[StitchMap]
_Courses = Callable[[Maps], list[Course] | None]

COURSES: dict[str, tuple[PieceName, _Courses]] = {"gusset": ("hand", gusset_courses)}
"""The charts that sizes can share: the piece they show, and its courses in several sizes, None
where these are unlike."""


def sharing(kind: str, maps: Maps, style: Style) -> list[list[StitchMap]]:
    """The sizes in groups, each of which one chart serves, in their order; a size that no other is
    like is alone."""
    if kind not in COURSES:
        return [[stitches] for stitches in maps]
    groups: list[list[StitchMap]] = []
    courses = COURSES[kind][1]
    for size in maps:
        group = next((one for one in groups if courses([*one, size]) is not None), None)
        if group is None:
            groups.append([size])
        else:
            group.append(size)
    return [part for group in groups for part in _parts(kind, group, style)]


def _parts(kind: str, maps: Maps, style: Style) -> list[list[StitchMap]]:
    """Sizes alike, shared out evenly to as few charts as fit the style's column."""
    for number in range(1, len(maps)):
        cuts = [k * len(maps) // number for k in range(number + 1)]
        parts = [list(maps[a:b]) for a, b in pairwise(cuts)]
        if all(len(part) == 1 or _fit(kind, part, style) for part in parts):
            return parts
    return [[stitches] for stitches in maps]


def _fit(kind: str, maps: Maps, style: Style) -> bool:
    piece_name, courses = COURSES[kind]
    piece, laid = maps[0].piece(piece_name), courses(maps)
    if piece is None or laid is None:
        return False
    return fits(Sheet(maps[0], style, "US", tuple(maps[1:])), piece, laid)
