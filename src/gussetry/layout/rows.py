"""Rows of a chart: which of a round's stitches are drawn, and over which cells they stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from gussetry.layout.parts import cells, lifts
from gussetry.stitchmap import Round

BRIDGE = 0.92
"""Height of a chain bridge above the stitches that it spans, and of the next row above it, over the
pitch."""
LONGEST, BEGINNING = 32, 16
"""Stitches that a plain round worked round may have to be drawn whole, else how many are."""


@dataclass(frozen=True, slots=True)
class Row:
    """A round to draw: entries of its work from `first` up to `end` (left out), `centre` in cells
    from the round's first, `rightwards` for a turned row that reads left to right. `several`: the
    rounds that one summing line stands for, nothing drawn. `middles`: the cell over which each
    entry is centred, where they do not stand side by side; `raised`: entries of a chain bridge."""

    round: Round
    first: int
    end: int
    centre: float
    rightwards: bool = False
    several: tuple[int, int] | None = None
    middles: tuple[float, ...] = ()
    raised: frozenset[int] = frozenset()

    @property
    def starts(self) -> list[int]:
        """The cell at which each entry of the work begins."""
        # What lifts the hook stands outside, so that stitches stand over what they are worked into.
        at, found = -lifts(self.round), []
        for op in self.round.work:
            found.append(at)
            at += cells(op)
        return [*found, at]

    def extent(self) -> tuple[float, float]:
        """How many cells reach before and after the centre in the order of working."""
        if self.several or self.first == self.end:
            return 0.0, 0.0
        wide = [(i, cells(self.round.work[i]) / 2) for i in range(self.first, self.end)]
        before = min(self.middle(i) - half for i, half in wide)
        return self.centre - before, max(self.middle(i) + half for i, half in wide) - self.centre

    def middle(self, entry: int) -> float:
        """The cell over which an entry of the work is centred."""
        if self.middles:
            return self.middles[entry]
        starts = self.starts
        return (starts[entry] + starts[entry + 1]) / 2


def whole(round_: Round, rightwards: bool = False) -> Row:
    """A row that shows all of its round about its middle."""
    wide = sum(cells(op) for op in round_.work if op.counts)
    return Row(round_, 0, len(round_.work), wide / 2, rightwards)


def begun(round_: Round) -> Row:
    """A row that shows the beginning of a round too long for a column, the rest summed."""
    row = whole(round_)
    end = max(i for i, at in enumerate(row.starts) if at <= BEGINNING)
    return Row(round_, 0, end, row.starts[end] / 2)


def summed(first: Round, last: Round) -> Row:
    """A line that stands for equal rounds."""
    return Row(first, 0, 0, 0.0, several=(first.number, last.number))


def heights(rows: Sequence[Row], step: float, pitch: float) -> list[float]:
    """How high each row stands above the first, mm: a step each, more over a chain bridge."""
    found = [0.0]
    for row in rows[:-1]:
        found.append(found[-1] + (max(step, 2 * BRIDGE * pitch) if row.raised else step))
    return found
