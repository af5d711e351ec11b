"""Blocks laid on pages: in their order, each as far up as there is room, none over another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from gussetry.chart import Chart
from gussetry.units import Point

GAP = 1.0
"""White between two blocks, mm, besides that which each has round itself."""
_EVEN = 1e-6


class Item(NamedTuple):
    """A chart of a block: its drawing's name, and its place within the block."""

    name: str
    chart: Chart
    at: Point = Point(0.0, 0.0)


class Block(NamedTuple):
    """Charts that must stay together, as a schematic and its strip; `loose`: may stand on a page
    before those of the blocks before it."""

    items: tuple[Item, ...]
    loose: bool = False

    @property
    def width(self) -> float:
        """How wide it is, mm."""
        return max(item.at.x + item.chart.width for item in self.items)

    @property
    def height(self) -> float:
        """How high it is, mm."""
        return max(item.at.y + item.chart.height for item in self.items)


def packed(blocks: Sequence[Block], width: float, height: float) -> list[list[Item]]:
    """The charts of every page of that live size, placed on it. A block stands no higher than the
    one before it, save a loose one, which stands on the first page that has room for it.
    ValueError for a block that is larger than a page."""
    pages: list[list[tuple[Block, Point]]] = []
    for block in blocks:
        if block.width > width + _EVEN or block.height > height + _EVEN:
            raise ValueError(f"{block.items[0].name} is larger than a page")
        for page in pages if block.loose else pages[-1:]:
            at = next(_places(page, block, width, height), None)
            if at is not None:
                page.append((block, at))
                break
        else:
            pages.append([(block, Point(0.0, 0.0))])
    return [
        [item._replace(at=_even(item.at.plus(at))) for block, at in page for item in block.items]
        for page in pages
    ]


def _even(at: Point) -> Point:
    """The place on whole microns, as coordinates are written."""
    return Point(round(at.x, 3), round(at.y, 3))


def _places(
    page: Sequence[tuple[Block, Point]], block: Block, width: float, height: float
) -> Iterator[Point]:
    """Where the block has room on the page, highest first, then leftmost."""
    lowest = page[-1][1].y
    tops = {lowest, *(at.y + one.height + GAP for one, at in page)}
    lefts = {0.0, *(at.x + one.width + GAP for one, at in page)}
    for y in sorted(top for top in tops if top >= lowest):
        for x in sorted(lefts):
            if x + block.width > width + _EVEN or y + block.height > height + _EVEN:
                continue
            if all(_clear(one, at, block, Point(x, y)) for one, at in page):
                yield Point(x, y)


def _clear(one: Block, at: Point, other: Block, place: Point) -> bool:
    return (
        at.x + one.width + GAP <= place.x + _EVEN
        or place.x + other.width + GAP <= at.x + _EVEN
        or at.y + one.height + GAP <= place.y + _EVEN
        or place.y + other.height + GAP <= at.y + _EVEN
    )
