"""Which sizes share a chart: those whose rounds are drawn alike, as many as one sheet holds."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from gussetry.layout.courses import Course
from gussetry.layout.cuff import cuff_courses
from gussetry.layout.gusset import gusset_courses
from gussetry.layout.hand import hand_courses
from gussetry.layout.parts import Sheet
from gussetry.layout.spread import FAIR, MOST_LINES, spread
from gussetry.layout.thumb import thumb_courses
from gussetry.stitchmap import PieceName, StitchMap
from gussetry.style import Style

Maps = Sequence[StitchMap]

COURSES: dict[str, tuple[PieceName, Callable[[Maps], list[Course] | None]]] = {
    "cuff": ("cuff", cuff_courses),
    "hand": ("hand", hand_courses),
    "gusset": ("hand", gusset_courses),
    "thumb": ("thumb", thumb_courses),
}
"""The charts that sizes can share, the piece each shows, and its courses in several sizes, None
where these are unlike."""


def sharing(kind: str, maps: Maps, fits: Callable[[Maps], bool]) -> list[list[StitchMap]]:
    """The sizes in groups, each of which one chart serves, in their order: a size that no other is
    like is alone, and as few groups as are needed for every chart to fit."""
    if kind not in COURSES:
        return [[stitches] for stitches in maps]
    groups: list[list[StitchMap]] = []
    _, courses = COURSES[kind]
    for size in maps:
        group = next((one for one in groups if courses([*one, size]) is not None), None)
        if group is None:
            groups.append([size])
        else:
            group.append(size)
    return [part for group in groups for part in _parts(group, fits)]


def _parts(maps: Maps, fits: Callable[[Maps], bool]) -> list[list[StitchMap]]:
    """Sizes alike, shared out evenly to as few charts as fit."""
    for number in range(1, len(maps)):
        cuts = [k * len(maps) // number for k in range(number + 1)]
        parts = [list(maps[a:b]) for a, b in pairwise(cuts)]
        if all(len(part) == 1 or fits(part) for part in parts):
            return parts
    return [[stitches] for stitches in maps]


def easy(kind: str, maps: Maps, style: Style) -> bool:
    """Whether the rows of a shared chart are easy to follow: few lines each, stitches of a fair
    size."""
    name, courses = COURSES[kind]
    piece, laid = maps[0].piece(name), courses(maps)
    if piece is None or laid is None:
        return False
    columns, sides = spread(Sheet(maps[0], style, "US", tuple(maps[1:])), piece, laid)
    return (
        columns.width <= style.width
        and columns.pitch >= FAIR * style.stitch
        and max(side.lines for side in sides) <= MOST_LINES
    )
