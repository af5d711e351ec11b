"""Windows on a chart of rows: the columns that one sheet shows of every course, the rest summed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from gussetry.layout.courses import Course
from gussetry.layout.parts import cells
from gussetry.layout.rows import Row, summed
from gussetry.stitchmap import POSTS

EVEN = 1e-6
"""What is within it stands at one place, in cells."""
OVERLAP = 2
"""Cells that stand on two sheets side by side: an increase is whole on one of them."""
PLAIN = ("ch", "sc", "hdc", "dc", *POSTS)


@dataclass(frozen=True, slots=True)
class Window:
    """From `low` to `high` across a chart, in cells to the right of its axis. `again`: up to where,
    from `high` down, the sheet before shows it too; `goes_on`: a sheet after it shows more."""

    low: float
    high: float
    again: float | None = None
    goes_on: bool = False

    @property
    def middle(self) -> float:
        """Where the sheet's own axis stands."""
        return (self.low + self.high) / 2

    def repeats(self, row: Row, entry: int) -> bool:
        """Whether an entry of a row that is seen through the window stands on the sheet before."""
        if self.again is None:
            return False
        low, _ = _reach(row, entry)
        return low + self.middle >= self.again - EVEN


def _way(row: Row) -> int:
    return 1 if row.rightwards else -1


def _reach(row: Row, entry: int) -> tuple[float, float]:
    """From where to where an entry stands across the page, in cells right of the row's axis."""
    at = _way(row) * (row.middle(entry) - row.centre)
    half = cells(row.round.work[entry]) / 2
    return at - half, at + half


def through(course: Course, window: Window | None) -> list[Course]:
    """The course seen through the window, centred in it; nothing where it would be torn: what is
    seen must be worked without a break."""
    if window is None or course.lead.several:
        return [course]
    lead = course.lead
    seen = [
        nth
        for nth, entry in enumerate(lead.drawn)
        if _reach(lead, entry)[0] >= window.low - EVEN
        and _reach(lead, entry)[1] <= window.high + EVEN
    ]
    if seen and seen != list(range(seen[0], seen[-1] + 1)):
        return []
    first = seen[0] if seen else _ahead(lead, window)
    last = seen[-1] if seen else first - 1
    return [replace(course, rows=tuple(_cut(row, first, last, window) for row in course.rows))]


def _ahead(row: Row, window: Window) -> int:
    """How many of its drawn entries a row that the window does not show works before it."""
    if row.rightwards:
        return sum(_reach(row, entry)[0] < window.low for entry in row.drawn)
    return sum(_reach(row, entry)[1] > window.high for entry in row.drawn)


def _cut(row: Row, first: int, last: int, window: Window) -> Row:
    drawn = row.drawn
    begin = drawn[first] if first < len(drawn) else row.end
    end = drawn[last] + 1 if last >= first else begin
    return replace(row, head=0, first=begin, end=end, centre=row.centre + _way(row) * window.middle)


def _extent(courses: Sequence[Course]) -> tuple[float, float]:
    reached = [_reach(course.lead, entry) for course in courses for entry in course.lead.drawn]
    return min(low for low, _ in reached), max(high for _, high in reached)


def _torn(courses: Sequence[Course], window: Window) -> bool:
    return any(not through(course, window) for course in courses)


def _core(row: Row) -> list[int]:
    """The drawn entries that shape a row, and those that they reach over to."""
    work = row.round.work
    made = [i for i, op in enumerate(work) for _ in range(op.makes)]
    core = {i for i in row.drawn if work[i].do not in PLAIN or work[i].held or i in row.raised}
    core |= {made[place] for i in core for place in work[i].onto}
    return sorted(core & set(row.drawn))


def shaped(row: Row) -> bool:
    """Whether a row does more than go on plainly."""
    return bool(_core(row))


def cropping(courses: Sequence[Course], beside: int) -> Window | None:
    """The window on what is shaped, with so many stitches at both sides; None where that is all of
    the chart, or nothing, or would tear it."""
    reached = [_reach(course.lead, entry) for course in courses for entry in _core(course.lead)]
    if not reached:
        return None
    least, most = _extent(courses)
    low = max(least, min(low for low, _ in reached) - beside)
    high = min(most, max(high for _, high in reached) + beside)
    window = Window(low, high)
    all_ = low <= least + EVEN and high >= most - EVEN
    return None if all_ or _torn(courses, window) else window


def windows(courses: Sequence[Course], many: int, whole: bool) -> tuple[Window, ...] | None:
    """So many windows side by side, the rightmost first, each overlapping the one before, as even
    as may be; None where no place to part leaves every course to be worked on without a break.
    `whole`: each gap is shown whole on one of them, else it may be parted."""
    least, most = _extent(courses)
    wide = (most - least + (many - 1) * OVERLAP) / many
    if wide < OVERLAP + 2:
        return None
    found: list[Window] = []
    high, again = most, None
    for nth in range(many - 1):
        # On a whole number of cells, so that the sheets part between stitches.
        even = most - round((nth + 1) * wide - nth * OVERLAP)
        lows = sorted(_whole_cells(even, wide / 2), key=lambda low: abs(low - even))
        fitting = (
            low for low in lows
            if _parts_well(courses, (high, low, least), whole)
        )  # fmt: skip
        low = next(fitting, None)
        if low is None:
            return None
        found.append(Window(low, high, again, goes_on=True))
        again, high = low, low + OVERLAP
    return (*found, Window(least, high, again))


def _whole_cells(about: float, away: float) -> list[float]:
    return [about + cells for cells in range(-int(away), int(away) + 1)]


def _parts_well(courses: Sequence[Course], ends: tuple[float, float, float], whole: bool) -> bool:
    """Whether courses may be parted: `ends` are where a window begins, where it ends, and where all
    that is beyond it does."""
    high, low, least = ends
    if high - low < OVERLAP + 1 or low - least < 1:
        return False
    both = Window(low, high), Window(least, low + OVERLAP)
    if any(_torn(courses, window) for window in both):
        return False
    return not whole or all(any(_holds(w, course.lead) for w in both) for course in courses)


def _holds(window: Window, row: Row) -> bool:
    """Whether the window shows the whole gap that a row leaves open, with what is beside it."""
    aside = [i for i in row.drawn if row.round.work[i].held or row.round.work[i].do == "hold"]
    if not aside:
        return True
    core = {*_core(row), aside[0] - 1, aside[-1] + 1 + len(row.raised)} & set(row.drawn)
    reached = [_reach(row, entry) for entry in core]
    return all(low >= window.low - EVEN and high <= window.high + EVEN for low, high in reached)


def summed_up(courses: Sequence[Course], closely: bool = False) -> list[Course]:
    """The courses with every long run of equal plain rows told in one line, its first and last
    drawn, or its first two where rows turn; `closely`: of a run over a row that is drawn alike, in
    another yarn, the last alone."""
    found: list[Course] = []
    run: list[Course] = []
    for course in courses:
        if run and not _goes_on(run[-1], course):
            found += _told(run, closely and _over(found, run[0]))
            run = []
        run.append(course)
    return [*found, *_told(run, closely and _over(found, run[0]))]


def _over(found: Sequence[Course], course: Course) -> bool:
    """Whether a course stands over one that is drawn alike, in whichever yarn."""
    if not found or not found[-1].lead.drawn or found[-1].parting:
        return False
    below = found[-1]
    return below.places == course.places and all(
        _same(replace(a, round=replace(a.round, yarn=b.round.yarn)), b)
        for a, b in zip(below.rows, course.rows, strict=True)
    )


def _goes_on(one: Course, other: Course) -> bool:
    """Whether a course is plainly the same again as the one below."""
    if one.places != other.places or one.parting:
        return False
    return all(_same(a, b) for a, b in zip(one.rows, other.rows, strict=True))


def _same(one: Row, other: Row) -> bool:
    def told(row: Row) -> tuple[object, ...]:
        work = tuple((op.do, op.loop, op.of, op.held) for op in row.round.work if op.do != "turn")
        return row.round.phase, row.round.count, row.round.yarn, work

    plain = all(op.do in (*PLAIN, "turn", "slst") for op in other.round.work)
    return plain and bool(other.round.count) and told(one) == told(other)


def _told(run: Sequence[Course], over_alike: bool) -> list[Course]:
    """A run of equal courses with its inner ones in one line, and its first where it stands over
    one that is drawn alike."""
    keep = 0 if over_alike else 1
    if any(course.lead.rightwards for course in run):
        keep = 2
    inner = run[keep:-1]
    if len(inner) < 2 or any(course.lead.several for course in (*run[:keep], run[-1])):
        return list(run)
    rows = []
    for nth in range(len(run[0].rows)):
        spans = [int(n) for course in inner for n in course.rows[nth].span.split("-")]
        row = summed(inner[0].rows[nth].round, inner[-1].rows[nth].round)
        rows.append(replace(row, several=(min(spans), max(spans))))
    return [*run[:keep], replace(inner[0], rows=tuple(rows), parting=None), run[-1]]
