"""What a page has besides its charts: the pattern's name above the first, a running foot below
each, and crop marks."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from gussetry.chart import Chart, Label, LabelKind, Line
from gussetry.layout import boxes
from gussetry.layout.parts import MARGIN
from gussetry.pages.papers import LIVE_HEIGHT, LIVE_WIDTH, ROOM_WIDTH, Sheet
from gussetry.style import Style
from gussetry.units import Point

_LINE = 1.3
"""From line to line, in sizes of the letters."""


class Running(NamedTuple):
    """What the foot of every page of a set says: the pattern, for which sizes, and the designer's
    credit and copyright."""

    pattern: str
    sizes: str
    lines: tuple[str, ...]

    @property
    def name(self) -> str:
        """`Skerry · size M`."""
        return f"{self.pattern} · {self.sizes}"

    @property
    def heads(self) -> tuple[str, str]:
        """What stands above the first page: the pattern, and its sizes with a capital."""
        return self.pattern, self.sizes[:1].upper() + self.sizes[1:]


def numbered(page: int, of: int) -> str:
    """`page 2 of 5`."""
    return f"page {page} of {of}"


def head(running: Running, captions: Sequence[str], style: Style) -> Chart:
    """The pattern's name, its sizes and the designer's caption, across the page."""
    y = MARGIN
    labels: list[Label] = []
    pattern, sizes = running.heads
    entries: list[tuple[LabelKind, str]] = [("title", pattern), ("term", sizes)]
    entries += [("note", words) for words in captions]
    for kind, words in entries:
        for line in boxes.wrapped(words, kind, LIVE_WIDTH, style):
            size = style.size(kind)
            y += size * (_LINE if labels else 1)
            role = "title" if kind == "title" else "note"
            labels.append(Label(kind, line, Point(MARGIN, y), tags=(("data-role", role),)))
        y += 0.2 * style.size("note")
    told = " ".join(_sentence(words) for words in (running.name, *captions))
    return Chart(
        "head", running.name, told, ROOM_WIDTH, y + MARGIN / 2, labels=tuple(labels),
        tags=(("data-kind", "head"),),
    )  # fmt: skip


def _sentence(words: str) -> str:
    return words if words.endswith((".", "!", "?")) else f"{words}."


def _foot_lines(running: Running, style: Style, number: str) -> list[str]:
    """The lines of the foot, the first of them with room for the page's number beside it."""
    size = style.size("note")
    beside = LIVE_WIDTH - boxes.words_width("note", number, style) - 2 * size
    lines = boxes.wrapped(running.name, "note", beside, style)
    joined = " · ".join(running.lines)
    if boxes.words_width("note", joined, style) <= LIVE_WIDTH:
        return [*lines, joined] if joined else lines
    return [*lines, *(row for line in running.lines
                      for row in boxes.wrapped(line, "note", LIVE_WIDTH, style))]  # fmt: skip


def foot_height(running: Running, style: Style) -> float:
    """The room that the foot takes on every page, mm."""
    lines = _foot_lines(running, style, numbered(88, 88))
    return 2.0 + len(lines) * _LINE * style.size("note")


def foot(running: Running, page: tuple[int, int], style: Style, sheet: Sheet) -> Chart:
    """The running foot of a page and the crop marks, in the page's own coordinates."""
    number, size = numbered(*page), style.size("note")
    left, right = sheet.live.x, sheet.live.x + LIVE_WIDTH
    y = sheet.live.y + LIVE_HEIGHT - foot_height(running, style)
    tags = (("data-role", "foot"),)
    lines = [Line("rule", (Point(left, y), Point(right, y)), tags=(("data-role", "rule"),))]
    labels = []
    y += 2.0 - _LINE * size + 0.8 * size
    for row, words in enumerate(_foot_lines(running, style, number)):
        y += _LINE * size
        labels.append(Label("note", words, Point(left, y), tags=tags))
        if row == 0:
            labels.append(Label("note", number, Point(right, y), "end", tags=tags))
    marks = [Line("frame", mark, tags=(("data-role", "crop"),)) for mark in sheet.crop_marks()]
    return Chart("foot", "", "", sheet.width, sheet.height, lines=(*lines, *marks),
                 labels=tuple(labels))  # fmt: skip
