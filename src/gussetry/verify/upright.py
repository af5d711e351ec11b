"""The stripes of a cuff worked in turned rows: they run up the mitten, side by side."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations, groupby
from math import ceil, floor
from typing import NamedTuple

from gussetry.stitchmap import Piece, StitchMap
from gussetry.verify.sights import alike

_SLIM = 0.5
"""The least width of a stripe that is drawn beside others, mm."""


class Run(NamedTuple):
    """Rounds of one yarn."""

    yarn: str
    first: int
    last: int

    @property
    def rounds(self) -> str:
        """The rounds as tagged: `4`, or `5-6`."""
        return str(self.first) if self.first == self.last else f"{self.first}-{self.last}"


class Upright(NamedTuple):
    """Rows of one yarn beside others, and where they begin and end across what is drawn, as shares
    of its width from the left."""

    run: Run
    begin: float
    end: float


def runs(piece: Piece) -> list[Run]:
    """The rounds of a piece in runs of one yarn."""
    found = [list(own) for _, own in groupby(piece.counted, lambda r: r.yarn)]
    return [Run(own[0].yarn, own[0].number, own[-1].number) for own in found]


def block(piece: Piece) -> Run:
    """All rows of a cuff in one block, in the yarn of the first."""
    rows = piece.counted
    return Run(rows[0].yarn, rows[0].number, rows[-1].number)


def must_be_upright(stitches: StitchMap, piece: Piece, row: float, *, hatched: bool) -> bool:
    """Whether the stripes of a cuff, `row` mm wide each, stand side by side: in a style of colours,
    none of them too narrow, no two of their yarns alike."""
    own = runs(piece)
    if piece.worked != "rows" or hatched or len(own) < 2:
        return False
    if min(run.last - run.first + 1 for run in own) * row < _SLIM:
        return False
    paints = [stitches.colour(yarn) for yarn in dict.fromkeys(run.yarn for run in own)]
    return not any(alike(a, b) for a, b in combinations(paints, 2))


def all_round(piece: Piece) -> list[Upright]:
    """Every stripe of the cuff, cut open at its seam: the first on the right, as she works round
    it with the right side facing."""
    many = len(piece.counted)
    return [Upright(run, 1 - run.last / many, 1 - (run.first - 1) / many) for run in runs(piece)]


def in_front(stitches: StitchMap, piece: Piece) -> list[Upright]:
    """The stripes on that half of a flat cuff that faces the reader, from the left. Rounds run from
    right to left there, and begin at the outer edge: with the thumb on the left, as a right mitten
    is drawn, they begin on this half; else they end on it."""
    return sorted(_in_front(stitches, piece), key=lambda one: one.begin)


def _in_front(stitches: StitchMap, piece: Piece) -> Iterator[Upright]:
    half = Fraction(len(piece.counted), 2)
    past = Fraction(0) if stitches.mitten == "right" else half
    for yarn, first, last in runs(piece):
        low, high = max(first - 1 - past, Fraction(0)), min(last - past, half)
        if low < high:
            seen = Run(yarn, floor(low + past) + 1, ceil(high + past))
            yield Upright(seen, float(1 - high / half), float(1 - low / half))
