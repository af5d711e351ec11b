"""Blocks laid on pages: in their order, each as far up as there is room, none over another; and of
several forms that a block may have those that take the fewest pages."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, groupby
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
    """Charts that must stay together, as a schematic and its strip."""

    items: tuple[Item, ...]

    @property
    def width(self) -> float:
        """How wide it is, mm."""
        return max(item.at.x + item.chart.width for item in self.items)

    @property
    def height(self) -> float:
        """How high it is, mm."""
        return max(item.at.y + item.chart.height for item in self.items)


class Form(NamedTuple):
    """A way to show a drawing: its blocks in order, what is `lost` by it, 0 where everything is as
    large as the style wishes, and which `share` its stitches are of that size. The charts of a page
    have one share; a form without one goes with any."""

    blocks: tuple[Block, ...]
    lost: float = 0.0
    share: float | None = None


PARTED = 0.01
"""What is lost by each page's end within a drawing."""

Placed = tuple[tuple[Block, Point], ...]
"""The blocks of a page with their places, in order."""


class _Set(NamedTuple):
    """Pages while they are filled: those before the last, the last and the share of its stitches,
    and what is lost so far."""

    done: tuple[Placed, ...] = ()
    last: Placed = ()
    share: float | None = None
    lost: float = 0.0

    def with_any(self, forms: Sequence[Form], width: float, height: float) -> Iterator[_Set]:
        """The pages with a drawing on them too, in each of its forms; one of several blocks also
        begun on a page of its own."""
        fresh = _Set((*self.done, self.last), lost=self.lost)
        for form in forms:
            yield self.with_form(form, width, height)
            if self.last and form.blocks[1:]:
                yield fresh.with_form(form, width, height)

    def with_form(self, form: Form, width: float, height: float) -> _Set:
        """The pages with a form's blocks on them too."""
        done, last, share = self.done, self.last, self.share
        parted = 0
        unlike = form.share is not None and share is not None and form.share != share
        for block in form.blocks:
            if block.width > width + _EVEN or block.height > height + _EVEN:
                raise ValueError(f"{block.items[0].name} is larger than a page")
            at = None if unlike else next(_places(last, block, width, height), None)
            if at is None:
                parted += block is not form.blocks[0]
                done, last, share, at = (*done, last), (), None, Point(0.0, 0.0)
                unlike = False
            last = (*last, (block, at))
        share = share if form.share is None else form.share
        return _Set(done, last, share, self.lost + form.lost + PARTED * parted)

    @property
    def cost(self) -> tuple[int, float]:
        """How many pages, and what is lost."""
        return len(self.done) + 1, round(self.lost, 6)


class Packed(NamedTuple):
    """The charts of every page at their places, and what is lost by their forms."""

    pages: tuple[tuple[Item, ...], ...]
    lost: float

    @property
    def cost(self) -> tuple[int, float]:
        """How many pages there are, and what is lost."""
        return len(self.pages), self.lost


def packed(drawings: Sequence[Sequence[Form]], width: float, height: float) -> Packed:
    """Drawings in order on pages of that size, each in one of its forms: the fewest pages, and of
    those the one by which the least is lost. A block stands no higher than the one before it.
    ValueError for a block that is larger than a page."""
    tried = [_Set()]
    for forms in drawings:
        grown = [more for one in tried for more in one.with_any(forms, width, height)]
        tried = list(_worth_trying(grown))
    best = min(tried, key=lambda one: one.cost)
    pages = tuple(
        _items(_in_columns(_levelled(page, height), width)) for page in (*best.done, best.last)
    )
    return Packed(pages, best.cost[1])


def _worth_trying(found: Sequence[_Set]) -> Iterator[_Set]:
    """Of sets with the same last page the best; none that has a page more than another needs, for
    what comes next has room there on a page of its own."""
    best: dict[tuple[object, ...], _Set] = {}
    fewest = min(one.cost[0] for one in found)
    for one in sorted(found, key=lambda one: one.cost):
        if one.cost[0] == fewest:
            best.setdefault(tuple((id(block), at) for block, at in one.last), one)
    yield from best.values()


def _items(page: Placed) -> tuple[Item, ...]:
    """A page's charts at their places, on whole microns, as coordinates are written."""
    return tuple(
        item._replace(at=Point(round(item.at.x + at.x, 3), round(item.at.y + at.y, 3)))
        for block, at in page
        for item in block.items
    )


def _places(page: Placed, block: Block, width: float, height: float) -> Iterator[Point]:
    """Where the block has room on the page, highest first, then leftmost."""
    if not page:
        yield Point(0.0, 0.0)
        return
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


LEVEL = 40.0
"""How much lower a block may come to stand, mm, so that it stands level with the next beside it:
common practice, no source."""


def _levelled(page: Placed, height: float) -> Placed:
    """The page with each block that stands higher than the next, at its right, moved down to that
    one's height, where there is room."""
    made = list(page)
    for n in reversed(range(len(page) - 1)):
        (block, at), (_, next_at) = made[n], made[n + 1]
        lowered = Point(at.x, next_at.y)
        beside = at.x < next_at.x and 0 < lowered.y - at.y <= LEVEL
        room = lowered.y + block.height <= height + _EVEN
        if (
            beside
            and room
            and all(_clear(block, lowered, *other) for m, other in enumerate(made) if m != n)
        ):
            made[n] = block, lowered
    return tuple(made)


def _in_columns(page: Placed, width: float) -> Placed:
    """The page with blocks that stand side by side moved to columns of one width, where each has
    room in its own, so that pages share their verticals."""
    for y, row in groupby(page, key=lambda placed: placed[1].y):
        blocks = [block for block, _ in row]
        column = (width + GAP) / len(blocks)
        if any(block.width + GAP > column + _EVEN for block in blocks):
            continue
        lefts = {id(block): n * column for n, block in enumerate(blocks)}
        moved = tuple(
            (block, Point(lefts.get(id(block), at.x) if at.y == y else at.x, at.y))
            for block, at in page
        )
        if all(_clear(*one, *other) for one, other in combinations(moved, 2)):
            page = moved
    return page
