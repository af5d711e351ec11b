"""What one sheet shows of a chart of rows, and what it says of the sheets beside it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from gussetry.chart import Chart
from gussetry.layout.courses import Course
from gussetry.layout.rows import Row
from gussetry.layout.sentences import Saying
from gussetry.layout.tags import merged
from gussetry.layout.windows import Window


class Numbered(NamedTuple):
    """Which sheet of how many."""

    sheet: int = 1
    of: int = 1

    def title(self, name: str) -> str:
        """A drawing's title with the sheet's number, where there are several."""
        return f"{name} (sheet {self.sheet} of {self.of})" if self.of > 1 else name


ONLY = Numbered()
WIDEST = Numbered(88, 88)
"""Stands for the numbers while it is found out how many sheets there are."""


def numbered(chart: Chart, number: Numbered, rounds: str) -> Chart:
    """The chart with its root saying which sheet it is and which rounds it shows, `3-7`; as it is
    where it is the only one."""
    if number.of == 1:
        return chart
    tags = (
        ("data-sheet", str(number.sheet)),
        ("data-of", str(number.of)),
        ("data-rounds", rounds),
    )
    return replace(chart, tags=(*chart.tags, *tags))


@dataclass(frozen=True, slots=True)
class Part:
    """What one sheet shows of a chart of rows: of the `whole` of its courses, lowest first, those
    from `first` to `last`, within a window where they are cut. `lines`: so many lines of words
    stand below each of the whole at least, as on the sheets beside; `abreast`: so many sheets lie
    side by side."""

    whole: tuple[Course, ...]
    first: int
    last: int
    number: Numbered = ONLY
    window: Window | None = None
    lines: tuple[int, ...] = ()
    abreast: int = 1

    @property
    def courses(self) -> tuple[Course, ...]:
        """The courses that it shows."""
        return self.whole[self.first : self.last + 1]

    @property
    def before(self) -> bool:
        """Whether its first course stands on another sheet too."""
        return self.first > 0

    @property
    def after(self) -> bool:
        """Whether its last course stands on another sheet too."""
        return self.last < len(self.whole) - 1

    def _rows(self) -> list[list[Row]]:
        """The rows that it shows or sums, of each size."""
        places = sorted({place for course in self.courses for place in course.places})
        return [
            [course.of(place) for course in self.courses if place in course.places]
            for place in places
        ]

    @property
    def rounds(self) -> str:
        """The first and the last round, for each size: `0-14 0-15`."""
        found = []
        for rows in self._rows():
            numbers = [int(n) for row in rows for n in row.span.split("-")]
            found.append(f"{min(numbers)}-{max(numbers)}")
        return " ".join(found)

    @property
    def _last_worked(self) -> list[int]:
        """The last round that leaves stitches, for each size."""
        return [
            max(int(row.span.split("-")[-1]) for row in rows if row.round.count)
            for rows in self._rows()
        ]

    def told(self, how: Sequence[Saying], what: str) -> str:
        """How the sheet is read, from which rounds it shows on, `what` they are called (`Hand
        rounds`): the first of all that is said of the chart, and what is about rows that no sheet
        before shows; and how it goes on from another."""
        if self.number.of == 1:
            return " ".join(saying.words for saying in how)
        rest = how[0].words
        if rest.startswith(what):
            rest = rest.partition(". ")[2]
        others = [saying.words for saying in how[1:] if self._begins(saying.about)]
        rest = " ".join([rest, *others])
        spans = [span.split("-") for span in self.rounds.split()]
        # Neither a foundation nor what ends the piece is a round.
        worked = zip(spans, self._last_worked, strict=True)
        words = f"{what} {merged([f'{max(1, int(a))}–{last}' for (a, _), last in worked])}. {rest}"
        unit, sheet = what.split()[-1].removesuffix("s").capitalize(), self.number.sheet
        if self.before:
            first = merged([a for a, _ in spans])
            words += f" {unit} {first}, its number in brackets, is worked on sheet"
            words += f" {sheet - self.abreast}: do not work it again."
        if self.after:
            last = merged([b for _, b in spans])
            words += f" {unit} {last} is drawn on sheet {sheet + self.abreast} too; work it once."
        if self.window is not None and self.window.again is not None:
            words += f" The first columns are drawn on sheet {sheet - 1} too; work them once."
        return f"{words} Ringed crosses show how the sheets lie on each other."

    def _begins(self, about: Callable[[Row], bool]) -> bool:
        """Whether the first of the chart's rows that something is about stands on this sheet, and
        on none before."""
        if self.window is not None and self.window.again is not None:
            return False
        first = next((n for n, c in enumerate(self.whole) if any(map(about, c.rows))), None)
        return first is not None and self.first + self.before <= first <= self.last

    def repeats(self, course: int, entry: int) -> bool:
        """Whether an entry of a course's work stands on a sheet before too."""
        if self.before and course == 0:
            return True
        row = self.courses[course].lead
        return self.window is not None and self.window.repeats(row, entry)
