"""The hand chart of a mitten without a thumb: from the pick-up round to the crown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby

from gussetry.chart import Chart
from gussetry.layout.grid import BEGINNING, LONGEST, Row, draw_rows, summed, whole
from gussetry.layout.parts import Sheet, Terms
from gussetry.stitchmap import Round, StitchMap
from gussetry.style import Style

KEPT = 2
"""Rounds drawn at the foot of a run of equal ones."""
ABOVE = ("crown", "close", "draw shut")


def _rows(rounds: Sequence[Round]) -> list[Row]:
    """A row each, long runs of equal rounds summed."""
    rows = []
    for _, run in groupby(rounds, key=_plain_of):
        alike = list(run)
        if len(alike) <= KEPT + 2:
            rows += [whole(r) for r in alike]
        else:
            rows += [whole(r) for r in alike[:KEPT]]
            rows.append(summed(alike[KEPT], alike[-1]))
    return rows


def _plain_of(round_: Round) -> tuple[object, ...]:
    """What makes a round the same as the one before it."""
    return tuple(replace(op, finish=None) for op in round_.work), round_.yarn


def _over_one_another(rows: Sequence[Row]) -> list[Row]:
    """The rows with their ends level at the left, where the rounds end: what the outer edge gains
    stands out at the right, where they begin. Rounds too long for a column are cut, with the rest
    summed."""
    wide = {row.round.number: row.starts[-1] for row in rows}
    least, most = min(wide.values()), max(wide.values())
    shown = least if most <= LONGEST else BEGINNING
    placed = []
    for row in rows:
        if row.several:
            placed.append(row)
            continue
        more = wide[row.round.number] - least
        end = max(i for i, at in enumerate(row.starts) if at <= shown + more)
        placed.append(Row(row.round, 0, end, row.starts[end] - shown / 2))
    return placed


def hand(stitches: StitchMap, style: Style, terms: Terms) -> Chart:
    """The hand chart, from the pick-up round to the last plain round before the crown."""
    piece = stitches.piece("hand")
    assert piece is not None
    rounds = [r for r in piece.rounds if not r.phase.startswith(ABOVE)]
    first = "" if rounds[0].number else (
        f" The lowest line is the foundation: {rounds[0].count} chains joined into a ring."
    )  # fmt: skip
    how = (
        f"Hand rounds 1–{rounds[-1].number}, right side facing: read every round from right to"
        f" left, from its number to its count.{first} The first stitch of a round is the hand's"
        " outer edge. The crown chart goes on from here."
    )
    sheet = Sheet(stitches, style, terms)
    return draw_rows(sheet, piece, _over_one_another(_rows(rounds)), ("hand", "hand", how))
