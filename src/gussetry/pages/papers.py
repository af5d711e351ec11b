"""The papers that pages are made for, and the area that prints on each of them."""

from __future__ import annotations

from dataclasses import dataclass

from gussetry.layout.parts import MARGIN
from gussetry.style import Style
from gussetry.units import Point


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper, upright, mm; `key` is its name in files."""

    key: str
    name: str
    width: float
    height: float


A4 = Paper("a4", "A4", 210.0, 297.0)
"""ISO 216."""
LETTER = Paper("letter", "Letter", 215.9, 279.4)
"""8.5 × 11 in."""
PAPERS = (A4, LETTER)

LETTER_SIDES = 21.0
"""Left and right margins of a Letter page that prints on A4 too, mm at least (RFC 2346, 1998)."""
A4_ENDS = 33.0
"""Margins above and below of an A4 page that prints on Letter too, mm at least (RFC 2346)."""

LIVE_WIDTH = LETTER.width - 2 * LETTER_SIDES
LIVE_HEIGHT = A4.height - 2 * A4_ENDS
"""The area that either paper prints, whichever it was made for: the same on both, so that a page
has the same number and the same look on both."""
ROOM_WIDTH = LIVE_WIDTH + 2 * MARGIN
"""How wide charts may be: the white that each has round itself lies beyond the live area, and their
ink stands flush with its edges; only the ringed crosses of sheets stand in that white."""

MARK = 5.0
"""How long a crop mark is, mm: common practice, no source."""
MARK_OFF = 3.0
"""How far crop marks keep off the cut, mm at least: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A paper as it goes to print: the cut page, with `bleed` beyond it, within `edge` mm of room
    on every side for both bleed and crop marks."""

    paper: Paper
    bleed: float
    marks: bool

    @property
    def edge(self) -> float:
        """Room beyond the cut on every side, mm."""
        return max(self.bleed, MARK_OFF) + MARK if self.marks else self.bleed

    @property
    def width(self) -> float:
        """The whole width, mm."""
        return self.paper.width + 2 * self.edge

    @property
    def height(self) -> float:
        """The whole height, mm."""
        return self.paper.height + 2 * self.edge

    @property
    def live(self) -> Point:
        """The upper left corner of the area that prints on either paper."""
        return Point(
            round((self.width - LIVE_WIDTH) / 2, 3), round((self.height - LIVE_HEIGHT) / 2, 3)
        )

    @property
    def room(self) -> Point:
        """The upper left corner of the room for charts, whose white lies beyond the live area."""
        return self.live.plus(Point(-MARGIN, -MARGIN))

    def crop_marks(self) -> tuple[tuple[Point, Point], ...]:
        """Two short lines at each corner, off the cut, none where the style wants none."""
        if not self.marks:
            return ()
        off, left, top = max(self.bleed, MARK_OFF), self.edge, self.edge
        right, foot = left + self.paper.width, top + self.paper.height
        found = []
        for x, way in ((left, -1), (right, 1)):
            for y in (top, foot):
                found.append((Point(x + way * off, y), Point(x + way * (off + MARK - _INK), y)))
        for y, way in ((top, -1), (foot, 1)):
            for x in (left, right):
                found.append((Point(x, y + way * off), Point(x, y + way * (off + MARK - _INK))))
        return tuple(found)


_INK = 0.2
"""So much shorter is a mark than its room: the ends of its pen stay on the paper."""


def sheet_of(paper: Paper, style: Style) -> Sheet:
    """The paper with what the style wants beyond its edges."""
    return Sheet(paper, style.bleed, style.crop_marks)
