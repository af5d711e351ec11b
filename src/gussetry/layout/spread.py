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
    beside,
    groupings,
    several_text,
    yarn_names,
)
from gussetry.layout.parting import parting_width
from gussetry.layout.parts import MARGIN, Sheet
from gussetry.layout.rows import Row
from gussetry.layout.tags import sum_text
from gussetry.layout.ticks import tick_room, tick_size
from gussetry.stitchmap import Piece
from gussetry.style import lettering

ARROW = 1.3
"""Room for the arrow of a turned row between its number and its stitches, over the pitch."""
GAP = 0.9
"""White between the columns of a chart, in ems of its counts: no two numbers run together."""
FAIR = 0.7
"""The least pitch at which several sizes share a line, over the style's own."""
MOST_LINES = 3
"""Lines to a row at most, else its sizes are shared out to several charts: common practice, no
source."""
NEAR = 0.8
"""White between a chip and the names beside it, mm."""
ENDS = 1.0
"""Room at both ends of rows that have their words below, mm, beside half a gap."""
UNDER = 0.5
"""From the middle of a row's stitches to below their feet, over the pitch."""
CLEAR = 0.4
"""White between the feet and the words below them, mm."""
WORDS = 1.15
"""Room for a line of words below a row, in ems of its counts."""


@dataclass(frozen=True, slots=True)
class Columns:
    """Where the columns of a chart stand, mm from its left edge; `names` of the sizes at the right,
    `names_left` at the left. `low`: how far below its stitches a row has its sums and its count
    where they have no room beside it, and `words` what they add to its height; else 0; `lower` the
    same of the lowest of its `lines`.
    `tick`: the right edge of boxes to tick; `start`: where rounds begin of which the beginning is
    drawn by itself."""

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
    lower: float = 0.0
    lines: int = 0
    words: float = 0.0
    tick: float = 0.0
    start: float = 0.0


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
    sheet: Sheet,
    piece: Piece,
    courses: Sequence[Course],
    sides: Sequence[Beside],
    half: float,
) -> Columns:
    """The columns that the courses need; a lower pitch where the style's column is too narrow."""
    style = sheet.style
    gap = GAP * style.size("count")
    w = _Widths(sheet, sides)
    told = [sheet.width_of("yarn", words) for c in courses for _, words in yarn_names(sheet, c)]
    beyond = max(told) + NEAR if told else 0.0
    counts, number = w.counts, w.number + gap
    names, twice = (wide + gap if wide else 0.0 for wide in (w.names, w.twice))
    reach = [course.lead.extent() for course in courses]
    right = max(half, *(before for before, _ in reach))
    left = max(half, *(after for _, after in reach))
    if any(course.lead.rightwards for course in courses):
        right = left = max(right, left) + ARROW
        w.before = w.after = max(w.before, w.after)
        counts, number = (wide + gap for wide in _turned(sheet, courses, sides))
    gaps = sum(gap for wide in (w.before, w.after) if wide) + 2 * gap
    fixed = counts + w.before + w.after + number + sheet.chip_size() + gaps + 2 * MARGIN + gap
    fixed += names + twice + beyond
    heads = max(course.lead.head_cells for course in courses)
    fixed += gap if heads else 0.0
    # A chart that would clog is drawn wider than its column instead.
    across = left + right + heads
    pitch = max(style.least_stitch, min(style.stitch, (style.width - fixed) / across))
    count = MARGIN + counts
    names_left = count + gap
    sum_left = names_left + twice + w.after
    x = sum_left + (gap if w.after else 0)
    x = max(x, *(MARGIN + parting_width(sheet, course) for course in courses))
    axis = x + left * pitch
    sum_right = axis + right * pitch + gap
    x = sum_right + w.before + (gap if w.before else 0)
    start = x + heads * pitch
    x = start + (gap if heads else 0.0)
    number_at, name_at = x + number / 2, x + number
    x = name_at + names + gap / 2
    for course in courses:
        if course.lead.several:
            # A summing line may be longer than the rows are: it ends before the chips all the same.
            half = sheet.width_of("sum", several_text(sheet, piece, course)) / 2
            x = max(x, middle(axis, half) + half + gap / 2)
    chip = x + sheet.chip_size() / 2
    width = chip + sheet.chip_size() / 2 + beyond + MARGIN
    return Columns(
        pitch, axis, count, sum_left, sum_right, chip, number_at, name_at, names_left, width,
        start=start,
    )  # fmt: skip


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
    """The columns of a chart whose rows have their sums and counts in a line below them: what is
    worked after at its left, then the count, and what is worked before at its right. Where that is
    too long, what is worked after has lines of its own, and both as many as they need."""
    style = sheet.style
    gap = GAP * style.size("count")
    w = _Widths(sheet, sides)
    reach = [course.lead.extent() for course in courses]
    right = max(bounds.half, *(before for before, _ in reach))
    left = max(bounds.half, *(after for _, after in reach))
    beyond = gap + w.number + gap / 2 + sheet.chip_size()
    room = style.width - 2 * MARGIN - beyond
    words = sum(wide + gap for wide in (w.after, w.counts, w.before) if wide) - gap
    lines, counts, after = 1, w.counts, w.after
    if bounds.lines > 1 or words > room:
        pairs = zip(courses, sides, strict=True)
        sides = tuple(_in_lines(sheet, *pair, (room - counts - gap, room)) for pair in pairs)
        taken = (max(1, len(side.before)) + len(side.after) for side in sides)
        lines = max(2, bounds.lines, *taken)
        after = 0.0
        w = _Widths(sheet, sides)
        words = max(w.after, counts + gap + w.before)
    words = max(words, *(_summing(sheet, piece, course) for course in courses))
    # The rows' ends keep room for what marks them.
    ends = gap + 2 * ENDS
    pitch = max(style.least_stitch, min(style.stitch, (room - ends) / (left + right)))
    wide = max(words, (left + right) * pitch + ends)
    end = MARGIN + wide
    axis = MARGIN + (wide - (left + right) * pitch) / 2 + left * pitch
    number = end + gap + w.number / 2
    chip = end + gap + w.number + gap / 2 + sheet.chip_size() / 2
    line = WORDS * style.size("count")
    low = UNDER * pitch + style.size("count") * lettering.CAP_HEIGHT / 2 + CLEAR
    columns = Columns(
        pitch, axis, MARGIN + (after + gap if after else 0.0), MARGIN, end, chip, number, number,
        number, end + beyond + MARGIN, low, low + (lines - 1) * line, lines, lines * line,
    )  # fmt: skip
    return columns, sides


def _in_lines(sheet: Sheet, course: Course, side: Beside, room: tuple[float, float]) -> Beside:
    """What is said beside a course with its sums broken into lines; `room` for what is worked
    before, which leaves the counts' free, and after, mm."""
    row = course.lead
    if row.several:
        return side
    before, after = room
    return replace(
        side,
        before=tuple(_broken(sheet, row, row.before, before)),
        after=tuple(_broken(sheet, row, row.after, after)),
    )


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


def _summing(sheet: Sheet, piece: Piece, course: Course) -> float:
    """How long a summing line is, mm; 0 where a course is none."""
    if not course.lead.several:
        return 0.0
    return sheet.width_of("sum", several_text(sheet, piece, course))


def middle(axis: float, half: float) -> float:
    """Where a summing line is centred: on the axis, if half of it has room on the left."""
    return max(axis, MARGIN + half)


class Bounds(NamedTuple):
    """What a chart's columns keep to: whether it is `footed` on words; so many `lines` of words
    below its rows at least, and cells to both sides of its axis, as on the sheets beside."""

    footed: bool = True
    lines: int = 0
    half: float = 0.0


LOOSE = Bounds()


def spread(
    sheet: Sheet, piece: Piece, courses: Sequence[Course], bounds: Bounds = LOOSE
) -> tuple[Columns, tuple[Beside, ...]]:
    """The columns of a chart and what stands beside its courses: as many sizes to a line as leave
    the stitches a fair size on the style's page, all where there is but one. Where one size's
    rounds have no room beside what is said of them, and are not footed on other words, it is said
    below them."""
    room = tick_room(sheet)
    style = replace(sheet.style, width=sheet.style.width - room)
    narrower = Sheet(sheet.stitches_of, style, sheet.terms, sheet.others)
    columns, sides = _spread(narrower, piece, courses, bounds)
    # The boxes to tick have the chips' place, and these stand beside them.
    tick = columns.chip - sheet.chip_size() / 2 + tick_size(sheet)
    return replace(columns, chip=columns.chip + room, width=columns.width + room, tick=tick), sides


def _spread(
    sheet: Sheet, piece: Piece, courses: Sequence[Course], bounds: Bounds
) -> tuple[Columns, tuple[Beside, ...]]:
    for groups in groupings(len(sheet.maps)):
        sides = tuple(beside(sheet, course, groups) for course in courses)
        columns = _columns(sheet, piece, courses, sides, bounds.half)
        if columns.pitch >= FAIR * sheet.style.stitch and columns.width <= sheet.style.width:
            break
    turned = any(course.lead.rightwards for course in courses)
    wordy = turned or bounds.footed or sheet.others
    if bounds.lines or (columns.width > sheet.style.width and not wordy):
        courses = [course.headless() for course in courses]
        under = tuple(beside(sheet, course, groups) for course in courses)
        below, under = _over_words(sheet, piece, courses, under, bounds)
        if bounds.lines or below.width < columns.width:
            return below, under
    return columns, sides
