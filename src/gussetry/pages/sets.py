"""Sets of pages: which charts go into each, in which order, and how they are laid out for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal, get_args

from gussetry.counts import CountTable, count_table
from gussetry.grading import Grading
from gussetry.layout import BETWEEN, OffPage, beside, sheets, strips
from gussetry.naming import slug
from gussetry.pages.furniture import Running, foot_height, head
from gussetry.pages.packing import GAP, Block, Item, packed
from gussetry.pages.papers import LIVE_HEIGHT, LIVE_WIDTH
from gussetry.pages.table import count_charts
from gussetry.plan import Job, plan
from gussetry.spec import Spec
from gussetry.stitchmap import StitchMap
from gussetry.style import Style
from gussetry.units import Point

Sets = Literal["each", "all"]
"""Pages for each size by itself, or one set for all sizes, which then share charts."""

ORDER = ("schematic", "stripes", "cuff", "hand", "gusset", "crown", "thumb")
"""The order of a set: the finished mitten, then its charts as they are worked."""


@dataclass(frozen=True, slots=True)
class PageSet:
    """A set of pages: its `name` in files, what runs below each, the designer's `captions`, its
    drawings in groups that stand together, the maps of every size with their count table, the
    sizes of the set, and the columns of the table that are its own."""

    name: str
    running: Running
    captions: tuple[str, ...]
    groups: tuple[tuple[Job, ...], ...]
    style: Style
    every: tuple[StitchMap, ...]
    table: CountTable
    sizes: tuple[str, ...]
    own: tuple[str, ...] = ()

    @property
    def room(self) -> float:
        """How high the live area is above the foot, mm."""
        return LIVE_HEIGHT - foot_height(self.running, self.style)


def page_sets(spec: Spec, grading: Grading, style: Style, how: Sets) -> tuple[PageSet, ...]:
    """The sets of a pattern: one for each size, smallest first, or one for all."""
    assert how in get_args(Sets)
    names = [size.size.name for size in grading.sizes]
    together = how == "all" and len(names) > 1
    running = Running(spec.pattern, f"sizes {', '.join(names)}" if together else "", spec.lines)
    # The designer's lines run below the pages: no chart repeats them.
    bare = replace(spec, credit="", copyright="", caption="")
    room = LIVE_HEIGHT - foot_height(running._replace(sizes=f"sizes {', '.join(names)}"), style)
    look = replace(style, width=LIVE_WIDTH, height=room, sizes="together" if together else "apart")
    jobs = [job for job in plan(bare, grading, look).jobs if job.kind != "key"]
    table = count_table([size.maps for size in grading.sizes])
    if together:
        groups = tuple(_together(jobs, grading))
        return (
            PageSet("all", running, spec.captions, groups, look, grading.maps, table, tuple(names)),
        )
    made = []
    for size in grading.sizes:
        name = size.size.name
        own = [job for job in jobs if job.name != "schematic" and job.maps[0].size == name]
        columns = (name, *(f"{name} {stitches.mitten}" for stitches in size.maps))
        framed = tuple(c for c in columns if c in table.sizes and len(table.sizes) > 1)
        made.append(
            PageSet(slug(name), running._replace(sizes=f"size {name}"), spec.captions,
                    tuple(_apart(own)), look, grading.maps, table, (name,), framed)
        )  # fmt: skip
    return tuple(made)


def _apart(jobs: Sequence[Job]) -> Iterator[tuple[Job, ...]]:
    """The drawings of one size, each mitten's schematic with its strip."""
    yield from _pairs(jobs)
    for kind in ORDER[2:]:
        yield from ((job,) for job in jobs if job.kind == kind)


def _pairs(jobs: Sequence[Job]) -> Iterator[tuple[Job, ...]]:
    bands = {job.maps[0]: job for job in jobs if job.kind == "stripes"}
    for job in jobs:
        if job.kind == "schematic" and job.name != "schematic":
            yield job, bands[job.maps[0]]


def _together(jobs: Sequence[Job], grading: Grading) -> Iterator[tuple[Job, ...]]:
    """The drawings of all sizes: the schematic of all, which has the measures of each, the strips,
    and charts by kind."""
    yield from ((job,) for job in jobs if job.name == "schematic")
    yield tuple(job for job in jobs if job.kind == "stripes")
    for kind in ORDER[2:]:
        found = [job for job in jobs if job.kind == kind]
        yield from ((job,) for job in sorted(found, key=lambda j: grading.maps.index(j.maps[0])))


def low(one: PageSet, group: int) -> float:
    """How high the first group may be, mm, so that it stands below the head; others as the room."""
    if group:
        return one.room
    return one.room - head(one.running, one.captions, one.style).height - GAP


GOOD = Fraction(1, 4)
"""A scale that is large enough for a schematic: common practice, no source."""
ENOUGH = 0.6
"""How much of the largest scale that could be had is given up for a better arrangement."""


def laid(group: tuple[Job, ...], height: float) -> tuple[Block, ...]:
    """A group's charts laid out no higher than `height`, or than the style's column where they are
    too high for that. Raises OffPage where not even that holds them."""
    if group[0].kind == "stripes":
        return _strips(group)
    if len(group) == 2:
        return _paired(group, height)
    for limit in dict.fromkeys((height, group[0].style.height)):
        try:
            return tuple(Block((item,)) for item in _items(_lowered(group[0], limit)))
        except OffPage:
            if limit == group[0].style.height:
                raise
    raise AssertionError


def _lowered(job: Job, height: float) -> Job:
    return replace(job, style=replace(job.style, height=height))


def _items(job: Job) -> tuple[Item, ...]:
    made = sheets(job.kind, job.maps, job.style, job.terms, job.words)
    return tuple(Item(job.name, chart) for chart in made)


def _paired(group: tuple[Job, ...], height: float) -> tuple[Block, ...]:
    """A schematic and its strip: side by side below the head if that can be at a good scale; else
    of side by side, one after the other, and the strip below the head with the schematic on a page
    by itself, the first that comes near to the largest scale among them."""
    full = group[0].style.height
    found: list[tuple[float, tuple[Block, ...]]] = []
    for arranged, limit in ((_beside, height), (_after, height), (_before, full)):
        try:
            blocks = arranged(*(_lowered(job, limit) for job in group))
        except OffPage:
            if limit == full and not found:
                raise
            continue
        scale = float(dict(blocks[0].items[0].chart.tags)["data-scale"])
        if arranged is _beside and scale >= GOOD:
            return blocks
        found.append((scale, blocks))
    largest = max(scale for scale, _ in found)
    return next(blocks for scale, blocks in found if scale >= ENOUGH * largest)


def _strips(group: tuple[Job, ...]) -> tuple[Block, ...]:
    """Strips of several mittens on one scale, two side by side where that is a good one."""
    job = group[0]
    for across in (2, 1):
        look = replace(job.style, width=(LIVE_WIDTH - (across - 1) * GAP) / across)
        made = strips([one.maps[0] for one in group], look, job.terms, job.words)
        scale = float(dict(made[0].tags)["data-scale"]) if made else 0.0
        if scale >= GOOD or (made and across == 1):
            return tuple(
                Block((Item(one.name, chart),)) for one, chart in zip(group, made, strict=True)
            )
    return tuple(Block((item,)) for one in group for item in _items(one))


def _beside(schematic: Job, strip: Job) -> tuple[Block, ...]:
    """Both at one height, on one scale, as wide as the page at most. Raises OffPage where the page
    is too small for that."""
    made = beside(schematic.maps[0], schematic.style, schematic.terms, schematic.words)
    if not made:
        raise OffPage("width", LIVE_WIDTH)
    drawn, bands = made
    right = Point(drawn.width + BETWEEN, 0.0)
    return (Block((Item(schematic.name, drawn), Item(strip.name, bands, right))),)


def _after(schematic: Job, strip: Job) -> tuple[Block, ...]:
    """The schematic, and the strip after it."""
    return tuple(Block((item,)) for job in (schematic, strip) for item in _items(job))


def _before(schematic: Job, strip: Job) -> tuple[Block, ...]:
    """The strip, and the schematic after it."""
    return tuple(Block((item,)) for job in (strip, schematic) for item in _items(job))


def pages_of(one: PageSet, blocks: Sequence[Sequence[Block]]) -> list[list[Item]]:
    """The set's charts on pages: `blocks` of each of its groups, under the pattern's name, and the
    count table: in a set of all sizes after their schematic, else at the end, or where there is
    room for it if that takes fewer pages."""
    begin = Block((Item("head", head(one.running, one.captions, one.style)),))
    table = _table(one)
    first, rest = blocks[0], [block for group in blocks[1:] for block in group]
    if len(one.sizes) > 1:
        return packed([begin, *first, *table, *rest], LIVE_WIDTH, one.room)
    loosely = [block._replace(loose=True) for block in table]
    found = [packed([begin, *first, *rest, *t], LIVE_WIDTH, one.room) for t in (table, loosely)]
    return min(found, key=len)


def _table(one: PageSet) -> list[Block]:
    """The count table: its pieces side by side in one block, where a page holds them."""
    charts = count_charts(one.table, one.own, one.style, one.room)
    alone = [Block((Item("counts", chart),)) for chart in charts]
    pages = packed(alone, LIVE_WIDTH, one.room)
    return [Block(tuple(pages[0]))] if len(pages) == 1 else alone
