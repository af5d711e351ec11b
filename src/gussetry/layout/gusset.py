"""The gusset chart: the wedge on its centre line, its neighbours, and what is summed beside it."""

from __future__ import annotations

from collections.abc import Sequence

from gussetry.chart import Chart
from gussetry.layout.grid import draw_rows, runs
from gussetry.layout.parts import Sheet, Terms
from gussetry.layout.rows import Row, summed, whole
from gussetry.stitchmap import Round, StitchMap, left_of_made
from gussetry.style import Style

CONTEXT = 3
"""Stitches shown on either side of the gusset."""


def _thumb_stitch(rounds: Sequence[Round]) -> dict[int, int]:
    """For each round below the opening the number of the stitch that lies under the gusset."""
    opening = next(i for i, r in enumerate(rounds) if r.phase == "gusset")
    at = next(i for i, op in enumerate(rounds[opening].work) if op.do == "inc")
    into = rounds[opening].work[at].into[0]
    assert isinstance(into, int)
    found, number = {}, into
    for r in reversed(rounds[:opening]):
        found[r.number] = number
        made = [op for op in r.work for _ in range(op.makes)]
        place = made[number].into[0] if made[number].into else 0
        number = place if isinstance(place, int) else place[1]
    return found


def _cell_of(round_: Round, number: int) -> float:
    """The middle of the cell of the stitch with that number."""
    numbers = left_of_made(round_)
    made = 0
    for op, cell in zip(round_.work, whole(round_).starts, strict=False):
        for k in range(op.makes):
            if numbers[made] == number:
                return cell + k + 0.5
            made += 1
    raise ValueError(f"round {round_.number} has no stitch {number}")


def _span(round_: Round, low: float, high: float) -> tuple[int, int]:
    """The entries of the work that lie in the cells from `low` to `high`."""
    row = whole(round_)
    starts = row.starts
    shown = [i for i in range(len(round_.work)) if starts[i] < high and starts[i + 1] > low]
    return shown[0], shown[-1] + 1


def _about(round_: Round, low: float, high: float) -> Row:
    """A row that shows the cells from low to high and some context, about their middle."""
    first, end = _span(round_, low - CONTEXT, high + CONTEXT)
    return Row(round_, first, end, (low + high) / 2)


def _gusset_row(round_: Round, under: dict[int, int]) -> Row:
    if round_.number in under:
        middle = _cell_of(round_, under[round_.number])
        return _about(round_, middle - 0.5, middle + 0.5)
    marks = [n for name, n in round_.markers if name.endswith("marker")]
    if marks:
        return _about(round_, _cell_of(round_, marks[0]) - 0.5, _cell_of(round_, marks[1]) + 0.5)
    if round_.phase == "division":
        aside = [
            i for i, op in enumerate(round_.work) if op.held or op.do in ("hold", "join", "ch")
        ]
        inner = [i for i in aside if round_.work[i].counts]
        starts = whole(round_).starts
        return _about(round_, starts[inner[0]], starts[inner[-1] + 1])
    if round_.phase == "gusset":
        at = next(i for i, op in enumerate(round_.work) if op.do == "inc")
        starts = whole(round_).starts
        return _about(round_, starts[at], starts[at + 1])
    side = round_.marker("thumb side") or 0
    edge = _cell_of(round_, side) - 0.5
    return _about(round_, edge - 1, edge + 1)


def _above(rounds: Sequence[Round], under: dict[int, int]) -> list[Row]:
    """The even rounds over the division: the first drawn, the rest summed by yarns."""
    shown = rounds[:1] if len(rounds) != 2 else rounds
    rows = [_gusset_row(r, under) for r in shown]
    return rows + [summed(run[0], run[-1]) for run in runs(rounds[len(shown) :])]


def _edging(rounds: Sequence[Round], under: dict[int, int]) -> list[Row]:
    """The edging of an open hand: its first round drawn and its last, so that the chart has a top
    edge to see; what is between summed."""
    first = [_gusset_row(r, under) for r in rounds[:1]]
    between = [summed(run[0], run[-1]) for run in runs(rounds[1:-1])]
    return [*first, *between, *(_gusset_row(r, under) for r in rounds[1:][-1:])]


def gusset(stitches: StitchMap, style: Style, terms: Terms) -> Chart:
    """The gusset chart: from the pick-up round to the division and on to the crown, or to the
    edging of an open hand."""
    piece = stitches.piece("hand")
    assert piece is not None
    above = ("crown", "close", "draw shut")
    rounds = [r for r in piece.rounds if not r.phase.startswith(above)]
    under = _thumb_stitch(rounds)
    rows = [_gusset_row(r, under) for r in rounds if r.phase not in ("hand", "edging")]
    rows += _above([r for r in rounds if r.phase == "hand"], under)
    rows += _edging([r for r in rounds if r.phase == "edging"], under)
    sheet = Sheet(stitches, style, terms)
    how = (
        f"Hand rounds 1–{rounds[-1].number}, right side facing: read every round"
        " from right to left, from its number to its count. A pennant stands over a marked stitch"
        " (m in the counts, which run in the order of working). Stitches not drawn are summed at"
        f" the sides. {_divided(rounds)}{edging_text(rounds)}"
    )
    return draw_rows(sheet, piece, rows, ("gusset", "hand and gusset", how))


def _divided(rounds: Sequence[Round]) -> str:
    """What the division does to the count, and what a foundation is."""
    division = next(r for r in rounds if r.phase == "division")
    aside = sum(1 for op in division.work if op.held or op.do == "hold")
    words = f"Round {division.number} sets {aside} stitches aside and leaves {division.count}."
    if rounds[0].number == 0:
        words += f" The lowest line is the foundation: {rounds[0].count} chains joined into a ring."
    return words


def edging_text(rounds: Sequence[Round]) -> str:
    """What ends an open piece: ` Round 9 is the edging; fasten off.`; nothing for another."""
    edging = [r.number for r in rounds if r.phase == "edging"]
    if not edging:
        return ""
    if len(edging) == 1:
        return f" Round {edging[0]} is the edging; fasten off after it."
    return f" Rounds {edging[0]}–{edging[-1]} are the edging; fasten off after them."
