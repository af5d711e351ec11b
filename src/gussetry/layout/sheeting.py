"""Sheets: a drawing that outgrows the style's column goes on over several of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal, NamedTuple

from gussetry.chart import Chart
from gussetry.style import Style

EVEN = 1e-6
"""Lengths that differ by less are the same, mm."""


class OffPage(Exception):
    """A drawing for which the style's column is too small, on however many sheets: which `side` of
    the column, and the `least` that would do, mm."""

    def __init__(self, side: Literal["width", "height"], least: float) -> None:
        super().__init__(side, least)
        self.side = side
        self.least = least


class Numbered(NamedTuple):
    """Which sheet of how many."""

    sheet: int
    of: int

    def title(self, name: str) -> str:
        """A drawing's title with the sheet's number, where there are several."""
        return f"{name} (sheet {self.sheet} of {self.of})" if self.of > 1 else name


def numbered(chart: Chart, number: Numbered, rounds: str) -> Chart:
    """The chart with its root saying which sheet it is and which rounds it shows, `3-7`; as it is
    where it is the only one."""
    if number.of == 1:
        return chart
    tags = (
        ("data-sheet", str(number.sheet)),
        ("data-of", str(number.of)),
        ("data-rounds", rounds),
    )
    return replace(chart, tags=(*chart.tags, *tags))


def checked(sheets: Sequence[Chart], style: Style) -> tuple[Chart, ...]:
    """The sheets, all of them within the style's column. Raises OffPage for one that is not."""
    width, height = max(s.width for s in sheets), max(s.height for s in sheets)
    if width > style.width + EVEN:
        raise OffPage("width", width)
    if height > style.height + EVEN:
        raise OffPage("height", height)
    return tuple(sheets)
