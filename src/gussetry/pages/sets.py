"""Sets of pages: which charts go into each, in which order, and how they are laid out for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal, get_args

from gussetry.chart import Chart
from gussetry.counts import CountTable, count_table
from gussetry.grading import Grading
from gussetry.layout import BETWEEN, OffPage, beside, boxes, sheets, strips
from gussetry.layout.parts import MARGIN
from gussetry.naming import slug
from gussetry.pages.furniture import Running, foot_height, head
from gussetry.pages.packing import GAP, Block, Form, Item, Packed, packed
from gussetry.pages.papers import LIVE_HEIGHT, ROOM_WIDTH
from gussetry.pages.table import count_charts, longest, most_rows
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
        """How much height there is for charts above the foot, mm."""
        return room_above(self.running, self.style)


def room_above(running: Running, style: Style) -> float:
    """How much height there is for charts above a foot, mm: the white below the last of them is
    that above the foot's rule."""
    return LIVE_HEIGHT + MARGIN - foot_height(running, style)


def page_sets(spec: Spec, grading: Grading, style: Style, how: Sets) -> tuple[PageSet, ...]:
    """The sets of a pattern: one for each size, smallest first, or one for all."""
    assert how in get_args(Sets)
    names = [size.size.name for size in grading.sizes]
    together = how == "all" and len(names) > 1
    running = Running(spec.pattern, f"sizes {', '.join(names)}" if together else "", spec.lines)
    # The designer's lines run below the pages: no chart repeats them.
    bare = replace(spec, credit="", copyright="", caption="")
    room = room_above(running._replace(sizes=f"sizes {', '.join(names)}"), style)
    look = replace(style, width=ROOM_WIDTH, height=room, sizes="together" if together else "apart")
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
    yield from _charts(jobs, tuple(job.maps[0] for job in jobs))


def _pairs(jobs: Sequence[Job]) -> Iterator[tuple[Job, ...]]:
    bands = {job.maps[0]: job for job in jobs if job.kind == "stripes"}
    for job in jobs:
        if job.kind == "schematic" and job.name != "schematic":
            yield job, bands[job.maps[0]]


def _together(jobs: Sequence[Job], grading: Grading) -> Iterator[tuple[Job, ...]]:
    """The drawings of all sizes: the schematic of all, which has the measures of each, the strips,
    and the charts."""
    yield from ((job,) for job in jobs if job.name == "schematic")
    yield tuple(job for job in jobs if job.kind == "stripes")
    yield from _charts(jobs, grading.maps)


def _charts(jobs: Sequence[Job], maps: Sequence[StitchMap]) -> Iterator[tuple[Job, ...]]:
    """The stitch charts as they are worked, by kind and then by the maps that they serve."""
    for kind in ORDER[2:]:
        found = [job for job in jobs if job.kind == kind]
        yield from ((job,) for job in sorted(found, key=lambda j: maps.index(j.maps[-1])))


def low(one: PageSet, group: int) -> float:
    """How high the first group may be, mm, so that it stands below the head; others as the room."""
    if group:
        return one.room
    return one.room - head(one.running, one.captions, one.style).height - GAP


GOOD = Fraction(1, 4)
"""A scale that is large enough for a schematic: common practice, no source."""
ENOUGH = 0.6
"""How much of the largest scale that could be had is given up for a better arrangement."""


SMALLER = (0.9, 0.8, 0.7, 2 / 3)
"""How large stitches may be drawn, of the style's size, where that saves a page: common practice,
no source."""
FULL = 0.9
"""A chart that takes this share of a page's height and width has the page to itself."""


def laid(group: tuple[Job, ...], height: float) -> tuple[Form, ...]:
    """A group's charts laid out no higher than `height`, or than the style's column where they are
    too high for that, in the forms that they may have on pages. Raises OffPage where not even that
    holds them."""
    if group[0].kind == "stripes":
        return tuple(_strips(group))
    if len(group) == 2:
        return (Form(_paired(group, height)),)
    hung = _drop(group[0].style) if group[0].kind == "schematic" else 0.0
    for limit in dict.fromkeys((height - hung, group[0].style.height - hung)):
        try:
            first = _items(_lowered(group[0], limit))
        except OffPage:
            if limit == group[0].style.height - hung:
                raise
            continue
        return (_form(first, share=_share(group[0])), *_smaller(group[0], first))
    raise AssertionError


def _form(items: Sequence[Item], lost: float = 0.0, share: float | None = None) -> Form:
    return Form(tuple(Block((item,)) for item in items), lost, share)


def _share(job: Job) -> float | None:
    """Which share of their full size a drawing's stitches have; None of one without stitches."""
    return None if job.kind == "schematic" else 1.0


def _smaller(job: Job, first: tuple[Item, ...]) -> Iterator[Form]:
    """A stitch chart of one sheet with smaller stitches, each time that makes it smaller."""
    style, least = job.style, first[0].chart
    full = least.height > FULL * style.height and least.width > FULL * style.width
    if first[1:] or job.kind == "schematic" or full:
        return
    for share in SMALLER:
        pitch = share * style.stitch
        if pitch < style.least_stitch:
            return
        look = replace(style, stitch=pitch, least_stitch=pitch)
        try:
            made = _items(replace(job, style=look))
        except OffPage:
            continue
        chart = made[0].chart
        if not made[1:] and (chart.width < least.width or chart.height < least.height):
            least = chart
            yield _form(made, (1 - share) ** 2, share)


def _drop(style: Style) -> float:
    """How much lower the title of a schematic or strip hangs on a page than on its own drawing."""
    return (1 - boxes.ASCENT) * style.size("title")


def _lowered(job: Job, height: float) -> Job:
    return replace(job, style=replace(job.style, height=height))


def _hung(name: str, chart: Chart, style: Style, x: float = 0.0) -> Item:
    """The chart so far down that its title stands on the line of all titles."""
    title = next((label.at.y for label in chart.labels if label.kind == "title"), None)
    down = 0.0 if title is None else max(0.0, MARGIN + style.size("title") - title)
    return Item(name, chart, Point(x, down))


def _items(job: Job) -> tuple[Item, ...]:
    made = sheets(job.kind, job.maps, job.style, job.terms, job.words)
    return tuple(_hung(job.name, chart, job.style) for chart in made)


def _paired(group: tuple[Job, ...], height: float) -> tuple[Block, ...]:
    """A schematic and its strip: side by side below the head if that can be at a good scale; else
    of side by side, one after the other, and the strip below the head with the schematic on a page
    by itself, the first that comes near to the largest scale among them."""
    full, height = (high - _drop(group[0].style) for high in (group[0].style.height, height))
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


def _strips(group: tuple[Job, ...]) -> Iterator[Form]:
    """Strips of several mittens on one scale, two side by side where that is a good one; and so
    small that a page has two rows of them, where that is a good scale too."""
    job, largest = group[0], 0.0
    # Two rows may be a little higher than half of a page, since strips are of unlike heights.
    for rows, across in ((1, 2), (1.9, 2), (1, 1)):
        if largest and across == 1:
            return
        high = job.style.height / rows - _drop(job.style)
        look = replace(job.style, width=(ROOM_WIDTH - (across - 1) * GAP) / across, height=high)
        made = strips([one.maps[0] for one in group], look, job.terms, job.words)
        scale = float(dict(made[0].tags)["data-scale"]) if made else 0.0
        if scale and (scale >= GOOD or across == 1) and scale != largest:
            largest = largest or scale
            items = [_hung(one.name, c, look) for one, c in zip(group, made, strict=True)]
            yield _form(items, (1 - scale / largest) ** 2)
    if not largest:
        yield _form([item for one in group for item in _items(one)])


def _beside(schematic: Job, strip: Job) -> tuple[Block, ...]:
    """Both at one height, on one scale, as wide as the page at most. Raises OffPage where the page
    is too small for that."""
    made = beside(schematic.maps[0], schematic.style, schematic.terms, schematic.words)
    if not made:
        raise OffPage("width", ROOM_WIDTH)
    drawn, bands = (_hung(job.name, chart, job.style) for job, chart in
                    zip((schematic, strip), made, strict=True))  # fmt: skip
    return (Block((drawn, bands._replace(at=Point(drawn.chart.width + BETWEEN, bands.at.y)))),)


def _after(schematic: Job, strip: Job) -> tuple[Block, ...]:
    """The schematic, and the strip after it."""
    return tuple(Block((item,)) for job in (schematic, strip) for item in _items(job))


def _before(schematic: Job, strip: Job) -> tuple[Block, ...]:
    """The strip, and the schematic after it."""
    return tuple(Block((item,)) for job in (strip, schematic) for item in _items(job))


STRAY = 0.03
"""What is lost by each drawing that the count table stands away from its place."""
EMPTY = 0.2
"""What is lost by a page without anything on it; by one filled in part that much times the square
of the part that is empty, the last page left out."""


def pages_of(one: PageSet, drawings: Sequence[Sequence[Form]]) -> Sequence[Sequence[Item]]:
    """The set's charts on pages: `drawings` each in one of its forms, under the pattern's name; the
    charts of a kind together, or each mitten's thumb with its crown; and the count table, in a set
    of all sizes near their schematic, else near the end. That is done which takes the fewest pages,
    and of those by which the least is lost."""
    begin = (Form((Block((Item("head", head(one.running, one.captions, one.style)),)),)),)
    wished = 1 if len(one.sizes) > 1 else len(drawings)
    table = tuple(_table(one))
    found: list[tuple[tuple[int, float], Packed]] = []
    for order in _orders(one):
        ordered = [drawings[n] for n in order]
        for at in range(1, len(drawings) + 1):
            tried = packed((begin, *ordered[:at], table, *ordered[at:]), ROOM_WIDTH, one.room)
            lost = tried.lost + STRAY * abs(at - wished) + EMPTY * _empty(tried, one.room)
            found.append(((len(tried.pages), lost), tried))
    return min(found, key=lambda pair: pair[0])[1].pages


def _empty(tried: Packed, room: float) -> float:
    """The squares of the parts of the pages' height that are empty, the last left out."""
    feet = [max(i.at.y + i.chart.height for i in page) for page in tried.pages[:-1]]
    return sum((1 - foot / room) ** 2 for foot in feet)


def _orders(one: PageSet) -> Iterator[tuple[int, ...]]:
    """In which orders a set's drawings may stand: by kind, and the two that end a mitten, its crown
    and thumb, together."""
    yield tuple(range(len(one.groups)))
    ends = [n for n, group in enumerate(one.groups) if group[0].kind in ("crown", "thumb")]
    maps = one.every
    paired = sorted(ends, key=lambda n: (maps.index(one.groups[n][0].maps[-1]), n))
    yield (*(n for n in range(len(one.groups)) if n not in ends), *paired)


MOST_COLUMNS = 3
"""Into how many columns side by side a long piece of the count table is broken at most."""
BROKEN = 0.01
"""What is lost by each further column: little, only that there is no other reason for it."""


def _table(one: PageSet) -> Iterator[Form]:
    """The count table: its pieces side by side in one block, where a page holds them, long ones in
    several columns; else in as many blocks as it has charts."""
    fits, rows = most_rows(one.style, one.room), longest(one.table)
    tried = dict.fromkeys(min(fits, -(-rows // columns)) for columns in range(1, MOST_COLUMNS + 1))
    parted = []
    found = False
    for further, most in enumerate(tried):
        charts = count_charts(one.table, one.own, one.style, most)
        alone = tuple(Block((Item("counts", chart),)) for chart in charts)
        pages = packed([(Form((block,)),) for block in alone], ROOM_WIDTH, one.room).pages
        if len(pages) == 1:
            found = True
            yield Form((Block(pages[0]),), BROKEN * further)
        parted.append(Form(alone, BROKEN * further))
    if not found:
        yield from parted
