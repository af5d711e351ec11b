"""The hand chart of a mitten without a thumb: from the pick-up round to the crown."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from gussetry.chart import Chart
from gussetry.layout.grid import draw_rows
from gussetry.layout.parts import Sheet, Terms
from gussetry.layout.rows import BEGINNING, LONGEST, Row, summed, whole
from gussetry.layout.sentences import begun_text, joined_text
from gussetry.stitchmap import Round, StitchMap
from gussetry.style import Style

KEPT = 2
"""Plain rounds drawn above the last increase."""
ABOVE = ("crown", "close", "draw shut")


def _drawn(rounds: Sequence[Round]) -> int:
    """How many rounds are drawn: those that shape the hand, and a few plain ones to go on from."""
    shaped = [i for i, r in enumerate(rounds) if r.phase in ("pick-up", "outer edge")]
    return shaped[-1] + 1 + KEPT


def _rows(rounds: Sequence[Round]) -> list[Row]:
    """The rows of the drawn rounds, each stitch over the one that it is worked into: what the outer
    edge gains stands out at the right, where rounds begin. Those too long for a column are cut,
    with the rest summed."""
    first = next(r for r in rounds if r.number)
    long = max(whole(r).starts[-1] for r in rounds) > LONGEST
    shown = BEGINNING if long else first.count
    rows = []
    for r in rounds:
        gained, starts = r.count - first.count, whole(r).starts
        end = len(r.work)
        if long:
            end = max(i for i, at in enumerate(starts) if at <= shown + gained)
        rows.append(Row(r, 0, end, shown / 2 + gained))
    return rows


def _widened(rounds: Sequence[Round]) -> str:
    """Where the hand gets wider."""
    grown = [r.number for r in rounds if any(op.do == "inc" for op in r.work) and r.number > 1]
    return ": increases there widen the hand" if grown else ""


def hand(stitches: StitchMap, style: Style, terms: Terms) -> tuple[Chart, ...]:
    """The hand chart, from the pick-up round to the last plain round before the crown."""
    piece = stitches.piece("hand")
    assert piece is not None
    rounds = [r for r in piece.rounds if not r.phase.startswith(ABOVE)]
    drawn = _drawn(rounds)
    rows = _rows(rounds[:drawn])
    for _, run in groupby(rounds[drawn:], key=lambda r: r.yarn):
        even = list(run)
        rows.append(summed(even[0], even[-1]))
    how = (
        f"Hand rounds 1–{rounds[-1].number}, right side facing: read every round from right to"
        f" left, from its number to its count.{begun_text(stitches)} The first stitch of a round is"
        f" the hand's outer edge{_widened(rounds)}.{joined_text(rounds)} The crown chart goes on"
        " from here."
    )
    sheet = Sheet(stitches, style, terms)
    return draw_rows(sheet, piece, rows, ("hand", "hand", how))
