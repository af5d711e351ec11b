"""Courses: the rows of a chart, each for every size that has it, and what stands beside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from gussetry.chart import Tags
from gussetry.layout.parts import Sheet
from gussetry.layout.rows import Row, Standing
from gussetry.layout.tags import count_text, listed, merged, size_tag, sum_text
from gussetry.stitchmap import Op, Piece

Groups = Sequence[Sequence[int]]
"""The sizes of a chart by their places, as they share the lines of its rows."""


@dataclass(frozen=True, slots=True)
class Parting:
    """A line across the chart over a course, with words: `stop`, where the sizes at `places` are
    drawn further up, or `branch`, where they go on."""

    kind: str
    words: str
    places: tuple[int, ...]
    rounds: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Course:
    """One row of a chart as the sizes that it serves have it, drawn alike in all of them: `places`
    of the sizes among the chart's, in their order, and each one's own of the `rows`."""

    places: tuple[int, ...]
    rows: tuple[Row, ...]
    parting: Parting | None = None

    @property
    def lead(self) -> Row:
        """The row that is drawn for all."""
        return self.rows[0]

    def headless(self) -> Course:
        """The same without what is drawn of its rounds' beginnings alone."""
        return replace(self, rows=tuple(replace(row, head=0) for row in self.rows))

    def headed(self) -> Course:
        """The same with its rounds' beginnings drawn in every size as in that which needs most of
        them; in none where they are unlike."""
        head = max(row.head for row in self.rows)
        begun = {tuple(op.do for op in row.round.work[:head]) for row in self.rows}
        if len(begun) > 1 or any(row.first < head for row in self.rows):
            return self.headless()
        return replace(self, rows=tuple(replace(row, head=head) for row in self.rows))

    def of(self, place: int) -> Row:
        """The row of the size at that place."""
        return self.rows[self.places.index(place)]

    def tags(self, sheet: Sheet, piece: Piece, members: Sequence[int] = ()) -> Tags:
        """The tags that name its round, or the rounds it sums, in each size of its `members`, all
        where none are named."""
        own = members or range(len(self.places))
        return (
            ("data-piece", piece.piece),
            ("data-round", " ".join(self.rows[m].span for m in own)),
            ("data-size", size_tag([sheet.maps[self.places[m]] for m in own], bool(sheet.others))),
        )

    def stitch_tags(self, sheet: Sheet, piece: Piece, entry: int) -> Tags:
        """The tags of the stitch that is an entry of the lead's work."""
        nth = self.lead.shown.index(entry)
        kind, own, size = self.tags(sheet, piece)
        return (
            ("class", "stitch"), kind, own,
            ("data-index", " ".join(str(row.shown[nth]) for row in self.rows)),
            ("data-do", self.lead.round.work[entry].do),
            size,
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Said:
    """Words beside a course for some of its rows, so many lines `up` from its middle. `span`: the
    entries that they sum, where these are but some of those before or after what is drawn."""

    words: str
    members: tuple[int, ...]
    up: float
    span: range | None = None


class Under(NamedTuple):
    """The words below a course: so many `lines`, of which `over` stand over its sums; `apart`: what
    is worked after stands in lines below what is worked before, else beside it in one."""

    lines: int = 0
    over: int = 0
    apart: bool = False


NOT_UNDER = Under()


@dataclass(frozen=True, slots=True)
class Beside:
    """All that is said beside a course: numbers, counts, what is not drawn `before` and `after`,
    the sizes' `names` where they must be told, at both ends where there are more lines than one;
    the `yarns`; how many `lines` it takes. `under`: how its sums stand where they have no room
    beside it."""

    numbers: tuple[Said, ...]
    counts: tuple[Said, ...]
    before: tuple[Said, ...]
    after: tuple[Said, ...]
    names: tuple[Said, ...]
    yarns: tuple[Said, ...]
    lines: int
    under: Under = NOT_UNDER


def _lines(course: Course, groups: Groups) -> list[tuple[int, ...]]:
    """The course's rows as they share lines, highest first."""
    found = (tuple(m for m, p in enumerate(course.places) if p in group) for group in groups)
    return [members for members in found if members]


def _said(texts: Sequence[str], lines: Sequence[tuple[int, ...]]) -> tuple[Said, ...]:
    """Texts alike in all rows once, else in lines; nothing of empty ones."""
    if len(set(texts)) == 1:
        return (Said(texts[0], tuple(range(len(texts))), 0.0),) if texts[0] else ()
    found = []
    for k, members in enumerate(lines):
        words = merged([texts[m] for m in members])
        if words:
            found.append(Said(words, members, (len(lines) - 1) / 2 - k))
    return tuple(found)


def _yarns(course: Course) -> tuple[Said, ...]:
    """The yarns of a course: one, or where its sizes differ each one's own, in their order."""
    yarns = [row.round.yarn for row in course.rows]
    if len(set(yarns)) == 1:
        return (Said(yarns[0], tuple(range(len(yarns))), 0.0),)
    return tuple(Said(yarn, (m,), 0.0) for m, yarn in enumerate(yarns))


def beside(sheet: Sheet, course: Course, groups: Groups) -> Beside:
    """What is said beside a course; a summing line says itself what it stands for."""
    rows = course.rows
    everyone = tuple(range(len(rows)))
    told: list[list[str]] = [[], [], [], []]
    if not course.lead.several:
        told = [
            [str(row.round.number) if row.counted else "" for row in rows],
            [count_text(row.round) if row.round.count else "" for row in rows],
            [sum_text(_work(row, row.before), sheet.terms) for row in rows],
            [sum_text(_work(row, row.after), sheet.terms) for row in rows],
        ]
    split = any(len(set(texts)) > 1 for texts in told)
    lines = _lines(course, groups) if split else [everyone]
    number, count, before, after = (_said(texts, lines) if texts else () for texts in told)
    names: tuple[Said, ...] = ()
    if len(lines) > 1 or len(course.places) < len(sheet.maps):
        sizes = [sheet.maps[p].size for p in course.places]
        names = tuple(
            Said(listed([sizes[m] for m in members]), members, (len(lines) - 1) / 2 - k)
            for k, members in enumerate(lines)
        )
    yarns = _yarns(course) if _has_yarn(course) else ()
    return Beside(number, count, before, after, names, yarns, len(lines))


def _has_yarn(course: Course) -> bool:
    """Whether a course has its yarn beside it: where it leaves stitches, or seams them."""
    return bool(course.lead.round.count) or course.lead.round.phase == "seam"


def _work(row: Row, span: range) -> list[Op]:
    return [row.round.work[i] for i in span]


def several_text(sheet: Sheet, piece: Piece, course: Course) -> str:
    """What a summing line says: `rounds 6–10: 13 sc`."""
    return merged([_several(piece, row, sheet) for row in course.rows])


def _several(piece: Piece, row: Row, sheet: Sheet) -> str:
    assert row.several is not None
    first, last = row.several
    word = "rows" if piece.worked == "rows" else "rounds"
    span = f"{first}–{last}" if first != last else str(first)
    word = word if first != last else word.removesuffix("s")
    return f"{word} {span}: {sum_text(row.round.work, sheet.terms)}"


def groupings(sizes: int) -> list[list[tuple[int, ...]]]:
    """How so many sizes can share the lines of a row: all on one line, or fewer and fewer."""
    found: list[list[tuple[int, ...]]] = []
    for each in range(sizes, 0, -1):
        groups = [tuple(range(k, min(k + each, sizes))) for k in range(0, sizes, each)]
        if not found or len(found[-1]) != len(groups):
            found.append(groups)
    return found


@dataclass(frozen=True, slots=True)
class Placed:
    """A course at its place, with what stands beside it. `half`: how far its lines reach up and
    down the page from its middle, mm."""

    course: Course
    beside: Beside
    standing: Standing
    half: float

    def in_size(self, place: int) -> Standing:
        """The row of the size at that place, where it stands."""
        return replace(self.standing, row=self.course.of(place))

    def moved(self, down: float) -> Placed:
        """The same, so far further down the page."""
        return replace(self, standing=replace(self.standing, y=self.standing.y + down))
