"""Sheets: a chart that outgrows the style's column is drawn smaller, told shorter, and goes on over
several sheets, each of them whole by itself."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise
from typing import Literal, NamedTuple

from gussetry.chart import Chart
from gussetry.layout.courses import Course
from gussetry.layout.part import ONLY, WIDEST, Numbered, Part
from gussetry.layout.windows import Window, cropping, shaped, summed_up, through, windows
from gussetry.style import Style

EVEN = 1e-6
"""Lengths that differ by less are the same, mm."""
SMALLER = 0.95
"""From one pitch that is tried to the next."""
MOST = 6
"""Sheets side by side at most."""
FEWEST = 3
"""Rows at least that a sheet has beside the one that it begins with, where that is possible."""
BACK = 0.4
"""How much of a sheet may stay empty for a better place to part, as a share of its courses."""


class OffPage(Exception):
    """A drawing for which the style's column is too small, on however many sheets: which `side` of
    the column, and the `least` that would do, mm."""

    def __init__(self, side: Literal["width", "height"], least: float) -> None:
        super().__init__(side, least)
        self.side = side
        self.least = least


class Draw(NamedTuple):
    """How a part is drawn in a style, and how many lines of words it has below each of its whole
    courses."""

    part: Callable[[Style, Part], Chart]
    lines: Callable[[Style, Part], tuple[int, ...]]


def too_large(charts: Sequence[Chart], style: Style) -> OffPage | None:
    """By which side the largest of the charts is off the page, None where all fit."""
    wide, high = max(c.width for c in charts), max(c.height for c in charts)
    if wide > style.width + EVEN:
        return OffPage("width", wide)
    return OffPage("height", high) if high > style.height + EVEN else None


def checked(charts: Sequence[Chart], style: Style) -> tuple[Chart, ...]:
    """The sheets, all of them within the style's column. Raises OffPage for one that is not."""
    fault = too_large(charts, style)
    if fault:
        raise fault
    return tuple(charts)


class Ways(NamedTuple):
    """The courses of a chart, and how they are drawn where columns part a gap in them."""

    courses: Sequence[Course]
    parted: Callable[[], Sequence[Course]]


def headless(courses: Sequence[Course]) -> list[Course]:
    """The courses without what is drawn of their rounds' beginnings alone."""
    return [course.headless() for course in courses]


def on_sheets(ways: Ways, style: Style, draw: Draw, alone: bool = False) -> tuple[Chart, ...]:
    """The chart of the courses on as few sheets as hold it. One sheet as it is, else with smaller
    stitches, else with long plain runs summed; else several, unless it must stand `alone`: first as
    wide as the shaping needs, then parted by columns, then by rows. Raises OffPage where nothing
    fits."""
    courses, shorter = ways.courses, summed_up(ways.courses)
    told = (tuple(courses), tuple(shorter), tuple(summed_up(courses, closely=True)))
    for one in dict.fromkeys(told):
        chart = _on_one(one, style, draw)
        if chart:
            return (chart,)
    if alone:
        raise OffPage("height", math.inf)
    fault = None
    # A row is drawn alike on every sheet that it stands on, whichever has its words below.
    for seen, across in _across(headless(shorter), ways.parted):
        fault_here = _too_wide(seen, across, style, draw)
        if fault_here:
            fault = _nearer(fault, fault_here)
            continue
        try:
            return _parted(seen, across, style, draw)
        except OffPage as other:
            fault = _nearer(fault, other)
    assert fault is not None
    raise fault


def _too_wide(
    courses: Sequence[Course], across: Sequence[Window | None], style: Style, draw: Draw
) -> OffPage | None:
    """How far the first of the sheets side by side is too wide, None where it is not."""
    part = _part(_seen(courses, across[0]), number=Numbered(1, 2), window=across[0])
    wide = draw.part(style, part).width
    return OffPage("width", wide) if wide > style.width + EVEN else None


def _part(courses: Sequence[Course], number: Numbered = ONLY, window: Window | None = None) -> Part:
    """All of the courses on one sheet."""
    return Part(tuple(courses), 0, len(courses) - 1, number, window)


def _nearer(one: OffPage | None, other: OffPage) -> OffPage:
    return other if one is None or other.least < one.least else one


def _on_one(courses: tuple[Course, ...], style: Style, draw: Draw) -> Chart | None:
    """The chart on one sheet, with stitches as large as fit; None where not even the least do."""
    part = _part(courses)
    chart = draw.part(style, part)
    if too_large([chart], style) is None:
        return chart
    least = draw.part(replace(style, stitch=style.least_stitch), part)
    if too_large([least], style):
        return None
    pitch = style.stitch * SMALLER
    while pitch > style.least_stitch:
        chart = draw.part(replace(style, stitch=pitch), part)
        if too_large([chart], style) is None:
            return chart
        pitch *= SMALLER
    return least


def _across(
    courses: Sequence[Course], parted: Callable[[], Sequence[Course]]
) -> Iterator[tuple[Sequence[Course], tuple[Window | None, ...]]]:
    """Courses, and what the sheets that stand side by side show of them: all on one, what is shaped
    on one, then more and more of them, first the rightmost."""
    yield courses, (None,)
    for beside in (2, 1):
        window = cropping(courses, beside)
        if window:
            yield courses, (window,)
    within = headless(summed_up(parted()))
    for many in range(2, MOST + 1):
        # A gap is parted only where so many sheets cannot hold it whole.
        for own, whole in ((courses, True), (within, False)):
            found = windows(own, many, whole)
            if found:
                yield own, found


def _seen(courses: Sequence[Course], window: Window | None) -> list[Course]:
    """The courses as far as they are seen through the window."""
    return [c for course in courses for c in through(course, window)]


def _parted(
    courses: Sequence[Course], across: Sequence[Window | None], style: Style, draw: Draw
) -> tuple[Chart, ...]:
    """The chart on sheets side by side and one above the other, all at one pitch: the largest of
    three with which it takes the fewest."""
    seen = [tuple(_seen(courses, window)) for window in across]
    least, fault = style.least_stitch, None
    found: tuple[Style, list[int]] | None = None
    for pitch in dict.fromkeys((style.stitch, (style.stitch + least) / 2, least)):
        look = replace(style, stitch=pitch)
        try:
            cuts = _cuts(seen, across, look, draw)
        except OffPage as off:
            fault = _nearer(fault, off)
            continue
        if found is None or len(cuts) < len(found[1]):
            found = look, cuts
        if len(cuts) <= 3:
            # Two sheets: there are no fewer.
            break
    if found is None:
        assert fault is not None
        raise fault
    look, cuts = found
    parts: list[Part] = []
    of = (len(cuts) - 1) * len(across)
    lines = _lines(seen, across, look, draw)
    for first, last in pairwise(cuts):
        for own, window in zip(seen, across, strict=True):
            parts.append(
                Part(own, first, last, Numbered(len(parts) + 1, of), window, lines,
                     len(across))
            )  # fmt: skip
    made = [draw.part(look, part) for part in parts]
    pitch = min(_pitch(chart) for chart in made)
    if any(_pitch(chart) > pitch + EVEN for chart in made):
        made = [draw.part(replace(style, stitch=pitch), part) for part in parts]
    return checked(made, style)


def _lines(
    seen: Sequence[tuple[Course, ...]], across: Sequence[Window | None], style: Style, draw: Draw
) -> tuple[int, ...]:
    """How many lines of words every sheet has below each row at least, so that sheets side by side
    agree; of one alone nothing is asked."""
    if len(across) == 1:
        return ()
    sheets = zip(seen, across, strict=True)
    parts = [_part(own, WIDEST, window) for own, window in sheets]
    return tuple(map(max, *(draw.lines(style, part) for part in parts)))


def _pitch(chart: Chart) -> float:
    return min(
        (s.pitch for s in chart.stitches if ("class", "stitch") in s.tags),
        default=max(s.pitch for s in chart.stitches),
    )


def _cuts(
    seen: Sequence[tuple[Course, ...]], across: Sequence[Window | None], style: Style, draw: Draw
) -> list[int]:
    """The courses at which sheets begin and end, first and last among them: each sheet goes as far
    up as it has room, or back to a better place to part if that takes no sheet more."""
    last = len(seen[0]) - 1

    lines = _lines(seen, across, style, draw)

    @cache
    def fits(first: int, end: int) -> bool:
        for own, window in zip(seen, across, strict=True):
            number = WIDEST if first else WIDEST._replace(sheet=1)
            part = Part(own, first, end, number, window, lines, len(across))
            fault = too_large([draw.part(style, part)], style)
            if fault and (fault.side == "width" or end <= first + 1):
                raise fault
            if fault:
                return False
        return True

    def parted(sensibly: bool) -> list[int]:
        cuts = [0]
        while cuts[-1] < last:
            most = _most(cuts[-1], last, fits)
            if most < last:
                most = _sensible(seen, cuts[-1], most, sensibly)
            cuts.append(most)
        return cuts

    fewest, best = parted(False), parted(True)
    return best if len(best) == len(fewest) else fewest


def _most(first: int, last: int, fits: Callable[[int, int], bool]) -> int:
    """The last course that has room on a sheet from the first on."""
    low, high = first + 1, last
    fits(first, low)
    while low < high:
        middle = (low + high + 1) // 2
        if fits(first, middle):
            low = middle
        else:
            high = middle - 1
    return low


def _sensible(seen: Sequence[tuple[Course, ...]], first: int, most: int, sensibly: bool) -> int:
    """The course at which to part, the last that has room or a better one below: where a phase
    ends, else a plain row; never a summing line, for only what is drawn can stand on two sheets."""

    def cost(at: int) -> tuple[int, int]:
        lead, above = seen[0][at].lead, seen[0][at + 1].lead
        if not all(own[at].lead.drawn for own in seen):
            return 9, most - at
        if not sensibly:
            return 0, most - at
        if len(seen[0]) - 1 - at < FEWEST:
            return 8, most - at
        if lead.round.phase != above.round.phase or above.several:
            return 0, most - at
        return (2 if shaped(lead) else 1), most - at

    least = max(first + 1, most - int(BACK * (most - first)))
    found = min(range(most, least - 1, -1), key=cost)
    if cost(found)[0] == 9:
        found = min(range(most, first, -1), key=cost)
    return found
