"""Where the columns of a chart of rows stand, and how its sizes share lines to fit the page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from gussetry.chart import LabelKind
from gussetry.layout.courses import (
    Beside,
    Course,
    Said,
    Under,
    beside,
    groupings,
    several_text,
)
from gussetry.layout.parting import parting_width
from gussetry.layout.parts import MARGIN, Sheet
from gussetry.layout.rows import Row
from gussetry.layout.sections import Reach, flanked
from gussetry.layout.tags import sum_text
from gussetry.layout.ticks import summed_room, tick_room, tick_size
from gussetry.stitchmap import Piece
from gussetry.style import Style, lettering

ARROW = 1.3
"""Room for the arrow of a turned row between its number and its stitches, over the pitch."""
GAP = 0.9
"""White between the columns of a chart, in ems of its counts: no two numbers run together."""
FAIR = 0.7
"""The least pitch at which several sizes share a line, over the style's own."""
MOST_LINES = 3
"""Lines to a row at most, else its sizes are shared out to several charts: common practice, no
source."""
CHIPS = 0.5
"""White between the chips of a course, mm."""
FEET = 0.5
"""From the middle of a row's stitches to below their feet, over the pitch."""
CLEAR = 0.8
"""White between the feet and the words below them, mm."""
WORDS = 1.15
"""Room for a line of words below a row, in ems of its counts."""


INDENT = 2.0
"""What is worked before keeps so far off where lines of what is worked after begin, mm."""
EVEN = 1e-6
"""Lengths that differ by less are the same, mm."""


@dataclass(frozen=True, slots=True)
class Columns:
    """Where the columns of a chart stand, mm from its left edge; `chip` the middle of the first of
    a course's chips, `names` of the sizes at the right, `names_left` at the left. `low`: how far
    below its stitches a row has the first line of its words where its sums have no room beside it,
    else 0; `line`: what each of them adds to its height. `tick`: the right edge of boxes to tick;
    `start`: where rounds begin of which the beginning is drawn by itself."""

    pitch: float
    axis: float
    count: float
    sum_left: float
    sum_right: float
    chip: float
    number: float
    names: float
    names_left: float
    width: float
    low: float = 0.0
    line: float = 0.0
    tick: float = 0.0
    start: float = 0.0

    def lowest(self, side: Beside) -> float:
        """How far below its stitches a row has the middle of its last line of words, 0 of none."""
        return self.low + (side.under.lines - 1) * self.line if side.under.lines else 0.0

    def lower(self, side: Beside) -> float:
        """How far below its stitches the words of a row end, 0 of none."""
        return self.lowest(side) + self.line / 2 if side.under.lines else 0.0


class Bounds(NamedTuple):
    """What a chart's columns keep to, as on the sheets beside: so many `lines` of words below each
    of its rows at least, and `half` as many cells as it shows to either side of its axis."""

    lines: tuple[int, ...] = ()
    half: float = 0.0


LOOSE = Bounds()


class _Widths:
    """How much room what stands beside the courses takes, mm."""

    def __init__(self, sheet: Sheet, sides: Sequence[Beside]) -> None:
        def widest(kind: LabelKind, told: Sequence[tuple[Said, ...]]) -> float:
            return max((sheet.width_of(kind, s.words) for one in told for s in one), default=0.0)

        self.counts = widest("count", [side.counts for side in sides])
        self.before = widest("sum", [side.before for side in sides])
        self.after = widest("sum", [side.after for side in sides])
        self.number = widest("number", [side.numbers for side in sides])
        self.names = widest("number", [side.names for side in sides])
        self.twice = widest("number", [side.names for side in sides if side.lines > 1])


def _columns(
    sheet: Sheet, piece: Piece, courses: Sequence[Course], sides: Sequence[Beside], least: float
) -> Columns:
    """The columns that the courses need, with `least` cells to both sides of the axis at least; a
    lower pitch where the style's column is too narrow. Sums below the rows take no room beside
    these."""
    style, below = sheet.style, any(side.under.lines for side in sides)
    gap = GAP * style.size("count")
    w = _Widths(sheet, sides)
    counts, number = w.counts, w.number + gap
    names, twice = (wide + gap if wide else 0.0 for wide in (w.names, w.twice))
    reach = [course.lead.extent() for course in courses]
    right = max(least, *(before for before, _ in reach))
    left = max(least, *(after for _, after in reach))
    if any(course.lead.rightwards for course in courses):
        right = left = max(right, left) + ARROW
        w.before = w.after = max(w.before, w.after)
        counts, number = (wide + gap for wide in _turned(sheet, courses, sides))
    before, after = (0.0 if below or not wide else wide + gap for wide in (w.before, w.after))
    heads = max(course.lead.head_cells for course in courses)
    chips = max(len(side.yarns) for side in sides)
    beyond = names + gap / 2 + chips * (sheet.chip_size() + CHIPS) - CHIPS + MARGIN
    parted = max(parting_width(sheet, course) for course in courses)
    lefts = [(max(counts + gap + twice + after, parted), left)]
    rights = [(gap + before + (gap if heads else 0.0), right + heads)]
    if below:
        for flank in flanked(sheet, courses, sides):
            lefts.append(flank.after)
            rights.append((flank.before[0] + gap, flank.before[1]))
    pitch = _pitch(style, style.width - MARGIN - number - beyond, lefts, rights)
    axis = MARGIN + max(mm + cells * pitch for mm, cells in lefts)
    end = axis + max(mm + cells * pitch for mm, cells in rights)
    said = max(_said(sheet, piece, *pair) for pair in zip(courses, sides, strict=True))
    if below and end - gap < MARGIN + said:
        axis += (MARGIN + said - end + gap) / 2
        end = MARGIN + said + gap
    sum_left, sum_right = axis - left * pitch - gap, axis + right * pitch + gap
    if below:
        sum_left, sum_right = MARGIN, end - gap
    start = axis + right * pitch + gap + before + heads * pitch
    name_at = end + number
    # A summing line may be longer than the rows are: it ends before the chips all the same.
    summing = (_summed_end(sheet, piece, c, axis) for c in courses if c.lead.several)
    x = max(name_at + names, *summing, 0.0) + gap / 2
    chip = x + sheet.chip_size() / 2
    width = x + beyond - names - gap / 2
    count, names_left = MARGIN + counts, MARGIN + counts + gap
    return Columns(
        pitch, axis, count, sum_left, sum_right, chip, end + number / 2, name_at,
        names_left, width, start=start,
    )  # fmt: skip


def _pitch(style: Style, room: float, lefts: Sequence[Reach], rights: Sequence[Reach]) -> float:
    """The largest pitch with which all that reaches out to both sides has room; a chart that would
    clog is drawn wider than its column instead."""
    most = min((room - a - c) / (b + d) for a, b in lefts for c, d in rights if b + d > 0)
    return max(style.least_stitch, min(style.stitch, most))


def _summed_end(sheet: Sheet, piece: Piece, course: Course, axis: float) -> float:
    """Where a summing line and its boxes end, mm."""
    half = sheet.width_of("sum", several_text(sheet, piece, course)) / 2
    return middle(axis, half) + half + summed_room(sheet, course)


def _said(sheet: Sheet, piece: Piece, course: Course, side: Beside) -> float:
    """How long the words in a course's own lines are, mm: a summing line, or its sums below it."""
    if course.lead.several:
        return sheet.width_of("sum", several_text(sheet, piece, course))
    lines = [sheet.width_of("sum", said.words) for said in (*side.before, *side.after)]
    if not side.under.lines or not lines:
        return 0.0
    if side.under.apart:
        return INDENT + max(lines)
    return INDENT + sum(lines) + (len(lines) - 1) * GAP * sheet.style.size("count")


def _turned(
    sheet: Sheet, courses: Sequence[Course], sides: Sequence[Beside]
) -> tuple[float, float]:
    """How wide what stands left and right of turned rows is, mm: counts of those that read to the
    left with numbers of those that read to the right, and the other way round."""
    wide = [0.0, 0.0]
    for course, side in zip(courses, sides, strict=True):
        counts = [sheet.width_of("count", said.words) for said in side.counts]
        numbers = [sheet.width_of("number", said.words) for said in side.numbers]
        left, right = (numbers, counts) if course.lead.rightwards else (counts, numbers)
        wide = [max([wide[0], *left]), max([wide[1], *right])]
    return wide[0], wide[1]


def _over_words(
    sheet: Sheet,
    piece: Piece,
    courses: Sequence[Course],
    sides: tuple[Beside, ...],
    bounds: Bounds,
) -> tuple[Columns, tuple[Beside, ...]]:
    """The columns of a chart whose rows have their sums in a line below them: what is worked after
    at its left, what is worked before at its right, the parts of their counts between. Where that
    is too long for one of the rows the parts have a line of their own over the sums; and the sums
    of each row as many as they need."""
    style, half = sheet.style, bounds.half
    sides = tuple(_under(*pair, over=0) for pair in zip(courses, sides, strict=True))
    columns = _columns(sheet, piece, courses, sides, half)
    room = style.width - (columns.width - columns.sum_right) - MARGIN
    # Beside another sheet a part of a count may have no line to stand at.
    over = int(bool(columns.width > style.width + EVEN or half))
    found = []
    for nth, (course, side) in enumerate(zip(courses, sides, strict=True)):
        own = _under(course, side, over)
        if _said(sheet, piece, course, own) > room:
            own = _in_lines(sheet, course, own, room - INDENT)
        lines = max([own.under.lines, *bounds.lines[nth : nth + 1]])
        found.append(replace(own, under=own.under._replace(lines=lines)))
    columns = _columns(sheet, piece, courses, found, half)
    low = FEET * columns.pitch + style.size("count") * lettering.CAP_HEIGHT / 2 + CLEAR
    return replace(columns, low=low, line=WORDS * style.size("count")), tuple(found)


def _under(course: Course, side: Beside, over: int) -> Beside:
    """What is said beside a course with its sums in one line below it; `over` lines over them for
    the parts of its count, where it has any."""
    if course.lead.several:
        return side
    sums = int(bool(side.before or side.after))
    parts = int(course.lead.parted)
    # Words in the place of stitches keep off the count in their row.
    over = over if parts or not course.lead.shown else 0
    return replace(side, under=Under(max(over + sums, parts), over))


def _in_lines(sheet: Sheet, course: Course, side: Beside, room: float) -> Beside:
    """What is said beside a course with its sums broken into lines no longer than the room, mm,
    one below the other."""
    row = course.lead
    if row.several:
        return side
    before = tuple(_broken(sheet, row, row.before, room))
    after = tuple(_broken(sheet, row, row.after, room))
    over = side.under.over
    under = Under(over + len(before) + len(after), over, apart=True)
    return replace(side, before=before, after=after, under=under)


def _broken(sheet: Sheet, row: Row, span: range, room: float) -> Iterator[Said]:
    """The sum of a span of a row's entries in lines, each a sum by itself; it is broken where one
    kind of stitch follows another."""
    work, at = row.round.work, span.start
    while at < span.stop:
        ends = [
            i for i in range(at + 1, span.stop + 1)
            if i == span.stop or work[i].do != work[i - 1].do
        ]  # fmt: skip
        told = {end: sum_text(work[at:end], sheet.terms) for end in ends}
        fitting = [end for end in ends if sheet.width_of("sum", told[end]) <= room]
        end = fitting[-1] if fitting else ends[0]
        yield Said(told[end], (0,), 0.0, range(at, end))
        at = end


def middle(axis: float, half: float) -> float:
    """Where a summing line is centred: on the axis, if half of it has room on the left."""
    return max(axis, MARGIN + half)


def spread(
    sheet: Sheet, piece: Piece, courses: Sequence[Course], bounds: Bounds = LOOSE
) -> tuple[Columns, tuple[Beside, ...]]:
    """The columns of a chart and what stands beside its courses: as many sizes to a line as leave
    the stitches a fair size on the style's page, all where there is but one. Where one size's
    rounds have no room beside their sums, these stand below them."""
    room = tick_room(sheet)
    style = replace(sheet.style, width=sheet.style.width - room)
    narrower = Sheet(sheet.stitches_of, style, sheet.terms, sheet.others)
    columns, sides = _spread(narrower, piece, courses, bounds)
    # The boxes to tick have the chips' place, and these stand beside them.
    tick = columns.chip - sheet.chip_size() / 2 + tick_size(sheet)
    return replace(columns, chip=columns.chip + room, width=columns.width + room, tick=tick), sides


def _in_all(course: Course, side: Beside) -> Beside:
    """What is said beside a course with its count in all: the parts stand below its stitches."""
    if not course.lead.parted:
        return side
    return replace(side, counts=(Said(str(course.lead.round.count), (0,), 0.0),))


def _spread(
    sheet: Sheet, piece: Piece, courses: Sequence[Course], bounds: Bounds
) -> tuple[Columns, tuple[Beside, ...]]:
    width = sheet.style.width + EVEN
    for groups in groupings(len(sheet.maps)):
        sides = tuple(beside(sheet, course, groups) for course in courses)
        columns = _columns(sheet, piece, courses, sides, bounds.half)
        if columns.pitch >= FAIR * sheet.style.stitch and columns.width <= width:
            break
    if any(bounds.lines) or (columns.width > width and not sheet.others):
        courses = [course.headless() for course in courses]
        under = tuple(_in_all(course, beside(sheet, course, groups)) for course in courses)
        below, under = _over_words(sheet, piece, courses, under, bounds)
        if any(bounds.lines) or below.width < columns.width:
            return below, under
    return columns, sides
