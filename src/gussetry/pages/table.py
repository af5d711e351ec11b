"""The count table of all sizes, set for print, the page's own size framed and in bold."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby

from gussetry.chart import Chart, Label, Line
from gussetry.counts import CountRow, CountTable
from gussetry.layout import boxes
from gussetry.layout.parts import MARGIN
from gussetry.style import Style
from gussetry.units import Point

_STEP = 1.4
"""From row to row, in sizes of the figures."""
_APART = 0.9
"""White between two columns, in sizes of the figures."""
_FRAME = 0.4
"""White between the framed column's figures and its frame, in sizes of the figures."""

Row = tuple[str, tuple[str, ...]]
"""Rounds that are alike in all sizes, `7–9`, and what each size counts in them."""


def runs(rows: Sequence[CountRow]) -> Iterator[Row]:
    """The rows of a piece, runs of rounds with the same counts in every size in one."""
    for counts, run in groupby(rows, key=lambda row: row.counts):
        numbers = [row.round for row in run]
        span = f"{numbers[0]}" if len(numbers) == 1 else f"{numbers[0]}–{numbers[-1]}"
        yield span, tuple("–" if count is None else str(count) for count in counts)


@dataclass(frozen=True, slots=True)
class _Columns:
    """The table of one piece while it is set: the right edge of each column, mm, and what is set
    so far."""

    style: Style
    piece: str
    worked: str
    sizes: tuple[str, ...]
    own: tuple[str, ...]
    rights: tuple[float, ...]
    labels: list[Label] = field(default_factory=list)

    def words(self, column: int, words: str, y: float, role: str, span: str = "") -> None:
        """Sets a cell; column 0 is that of the rounds."""
        name = self.sizes[column - 1] if column else ""
        bold = role == "column" or name in self.own
        tags = [("data-role", role), ("data-piece", self.piece)]
        tags += [("data-rounds", span)] if span else []
        tags += [("data-column", name)] if name else []
        at = Point(self.rights[column], y)
        self.labels.append(Label("number" if bold else "count", words, at, "end", tags=tuple(tags)))


def _edges(table: CountTable, style: Style) -> Iterator[float]:
    """The right edge of each column, mm: as wide as its widest words, in bold, in any piece, so
    that tables that stand under one another share their columns."""
    words = [(words, *table.sizes) for words in dict(table.worked).values()]
    for _, rows in _pieces(table):
        words += [(span, *counts) for span, counts in runs(tuple(rows))]
    x = MARGIN - _APART * style.size("count")
    for column in zip(*words, strict=True):
        wide = max(boxes.words_width("number", word, style) for word in column)
        x += _APART * style.size("count") + wide
        yield x


def longest(table: CountTable) -> int:
    """How many rows the longest piece has."""
    return max(len(list(runs(tuple(rows)))) for _, rows in _pieces(table))


def _pieces(table: CountTable) -> Iterator[tuple[str, Iterator[CountRow]]]:
    return groupby(table.rows, key=lambda row: row.piece)


def count_charts(
    table: CountTable, own: Sequence[str], style: Style, most: int
) -> tuple[Chart, ...]:
    """The count table as charts, one a piece, or several as even as can be where one would have
    more than `most` rows; the columns of the sizes `own` are framed."""
    worked, edges = dict(table.worked), tuple(_edges(table, style))
    made = []
    for piece, rows in _pieces(table):
        lines = list(runs(tuple(rows)))
        step = -(-len(lines) // -(-len(lines) // most))
        for first in range(0, len(lines), step):
            columns = _Columns(style, piece, worked[piece], table.sizes, tuple(own), edges)
            again = " (cont.)" if first else ""
            made.append(_set(columns, f"Counts: {piece}{again}", lines[first : first + step]))
    width = max(chart.width for chart in made)
    return tuple(replace(chart, width=width) for chart in made)


def _head(style: Style) -> float:
    """The baseline of the heads of the columns, mm from the upper edge."""
    return MARGIN + 1.5 * style.size("title") + _STEP * style.size("number")


def most_rows(style: Style, height: float) -> int:
    """How many rows a chart of that height holds. ValueError where not even one has room."""
    step = _STEP * style.size("count")
    most = int((height - _head(style) - 0.6 * step - MARGIN) // step)
    if most < 1:
        raise ValueError("a page is too low for a row of the count table")
    return most


def _set(columns: _Columns, title: str, rows: Sequence[Row]) -> Chart:
    style, piece = columns.style, columns.piece
    size = style.size("count")
    step = _STEP * size
    y = _head(style)
    head = y
    columns.words(0, columns.worked, y, "column")
    for i, name in enumerate(columns.sizes, 1):
        columns.words(i, name, y, "column")
    under = Point(MARGIN, y + 0.4 * step), Point(columns.rights[-1], y + 0.4 * step)
    lines = [Line("rule", under)]
    y += 0.3 * step
    for span, counts in rows:
        y += step
        columns.words(0, span, y, "cell", span)
        for i, count in enumerate(counts, 1):
            columns.words(i, count, y, "cell", span)
    wide = boxes.words_width("title", title, style)
    lines += _frames(columns, head, y)
    heading = Label(
        "title", title, Point(MARGIN, MARGIN + style.size("title")),
        tags=(("data-role", "title"),),
    )  # fmt: skip
    told = "; ".join(
        f"{span}: " + ", ".join(f"{name} {count}" for name, count in
                                zip(columns.sizes, counts, strict=True))
        for span, counts in rows
    )  # fmt: skip
    tags = (("data-kind", "counts"), ("data-piece", piece), ("data-size", " / ".join(columns.own)))
    return Chart(
        "counts", title, f"{title}. {told}.",
        max(columns.rights[-1] + _FRAME * size, MARGIN + wide) + MARGIN, y + 0.4 * step + MARGIN,
        lines=tuple(lines), labels=(heading, *columns.labels), tags=tags,
    )  # fmt: skip


def _frames(columns: _Columns, head: float, foot: float) -> Iterator[Line]:
    """A frame round each column of the page's own size, from its name to its last count."""
    size = columns.style.size("count")
    for i, name in enumerate(columns.sizes, 1):
        if name not in columns.own:
            continue
        left = columns.rights[i - 1] + (_APART - _FRAME) * size
        right = columns.rights[i] + _FRAME * size
        top, low = head - 1.05 * size, foot + 0.45 * size
        corners = (Point(left, top), Point(right, top), Point(right, low), Point(left, low))
        yield Line("frame", corners, closed=True, tags=(("data-role", "own"),))
