"""A page as one drawing: charts at their places, never scaled, over a running foot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from gussetry.chart import Chart
from gussetry.drawing import Drawing, Part
from gussetry.engrave import engrave
from gussetry.layout import boxes
from gussetry.pages.furniture import Running, foot, numbered
from gussetry.pages.packing import Item
from gussetry.pages.papers import Sheet
from gussetry.style import Style
from gussetry.units import Frame, Point, text


@dataclass(frozen=True, slots=True)
class Page:
    """A page to be inked: its charts at their places in the live area, and which it is of how
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


def drawing(page: Page, running: Running, sheet: Sheet, style: Style) -> Drawing:
    """The page inked for that paper."""
    parts = [_part(item, n, sheet.live, style) for n, item in enumerate(page.items, 1)]
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
