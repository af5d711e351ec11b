"""A page as one drawing: charts at their places, never scaled, over a running foot."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from gussetry.chart import Chart, Label
from gussetry.drawing import Drawing, Part
from gussetry.engrave import engrave
from gussetry.export.pdf import Words
from gussetry.layout import boxes
from gussetry.pages.furniture import Running, foot, numbered
from gussetry.pages.packing import Item
from gussetry.pages.papers import Sheet
from gussetry.style import Style
from gussetry.units import Frame, Point, text


@dataclass(frozen=True, slots=True)
class Page:
    """A page to be inked: its charts at their places in the room for them, and which it is of how
    many."""

    items: tuple[Item, ...]
    number: int
    of: int

    @property
    def names(self) -> tuple[str, ...]:
        """What its charts are called, in order."""
        return tuple(item.chart.title for item in self.items)


def moved(chart: Chart, by: Point) -> Chart:
    """The chart with everything on it moved, its stitches too."""
    stitches = tuple(
        replace(placed, frame=Frame(placed.frame.origin.plus(by), placed.frame.up))
        for placed in chart.stitches
    )
    return replace(boxes.moved(chart, by), stitches=stitches)


def _part(item: Item, number: int, corner: Point, style: Style) -> Part:
    at, chart = item.at.plus(corner), item.chart
    inked = engrave(moved(chart, at), style)
    tags = (
        ("data-part", str(number)),
        ("data-name", item.name),
        ("data-at", f"{text(at.x)} {text(at.y)}"),
        ("data-extent", f"{text(chart.width)} {text(chart.height)}"),
        *chart.tags,
    )
    return Part(chart.title, chart.description, inked.groups, tags)


def words(page: Page, running: Running, sheet: Sheet, style: Style) -> tuple[Words, ...]:
    """Every line of words on the page, where it stands."""
    charts = [moved(item.chart, item.at.plus(sheet.room)) for item in page.items]
    below = foot(running, (page.number, page.of), style, sheet)
    return tuple(
        _line(label, style) for chart in (*charts, below) for label in chart.labels if label.text
    )


def _line(label: Label, style: Style) -> Words:
    wide = boxes.words_width(label.kind, label.text, style)
    back = {"start": 0.0, "middle": wide / 2, "end": wide}[label.anchor]
    turn = math.radians(label.turned)
    x, y = label.at.x - back * math.cos(turn), label.at.y + back * math.sin(turn)
    return Words(label.text, x, y, wide, style.size(label.kind), label.turned)


def drawing(page: Page, running: Running, sheet: Sheet, style: Style) -> Drawing:
    """The page inked for that paper."""
    parts = [_part(item, n, sheet.room, style) for n, item in enumerate(page.items, 1)]
    below = engrave(foot(running, (page.number, page.of), style, sheet), style)
    where = numbered(page.number, page.of)
    shown = "; ".join(dict.fromkeys(page.names))
    tags = (
        ("data-kind", "page"),
        ("data-paper", sheet.paper.key),
        ("data-page", str(page.number)),
        ("data-pages", str(page.of)),
        ("data-parts", str(len(parts))),
    )
    told = f"This page shows: {shown}."
    return Drawing(
        sheet.width, sheet.height, f"{running.name}: {where}", told, below.groups, style.paper,
        tags, tuple(parts),
    )  # fmt: skip


def paged(pages: Sequence[Sequence[Item]]) -> tuple[Page, ...]:
    """The pages of a set, each knowing its number."""
    return tuple(Page(tuple(items), n, len(pages)) for n, items in enumerate(pages, 1))
