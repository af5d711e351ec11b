"""The crown chart unrolled: its rounds as rows, for a crown whose rings no sheet holds."""

from __future__ import annotations

from collections.abc import Sequence

from gussetry.chart import Chart
from gussetry.layout.courses import Course
from gussetry.layout.grid import draw_courses
from gussetry.layout.parts import UNROLLED, Sheet, Terms
from gussetry.layout.rows import Row, cropped
from gussetry.layout.sentences import Saying, joined_text, together
from gussetry.layout.thumb import KEPT, filled, gaps_told, over_middle
from gussetry.stitchmap import Place, Round, StitchMap, left_of_made
from gussetry.style import Style


def _columns(rounds: Sequence[Round], below: int) -> dict[int, tuple[float, ...]]:
    """Over which cell each entry of a round is centred, by the round's number: over the middle of
    what it is worked into. So many stitches `below` the first stand side by side; every decrease
    opens a dart, as the gores of a globe's map do."""
    under: dict[Place, float] = {k: k + 0.5 for k in range(below)}
    found = {}
    for r in rounds:
        at = filled([over_middle(op, under) if op.counts else None for op in r.work])
        made = [x for op, x in zip(r.work, at, strict=True) for _ in range(op.makes)]
        numbers = left_of_made(r)
        under = {n: x for n, x in zip(numbers, made, strict=True) if n is not None}
        found[r.number] = at
    return found


def unrolled(stitches: StitchMap, style: Style, terms: Terms) -> tuple[Chart, ...]:
    """The crown from its first decreases to the drawing shut, a row for every round, the first one
    lowest. Raises OffPage where no sheet holds any of it."""
    piece = stitches.piece("hand")
    assert piece is not None
    shut = piece.rounds[-1]
    rounds = [r for r in piece.counted if r.phase.startswith(("crown", "close"))]
    below = piece.rounds[piece.rounds.index(rounds[0]) - 1]
    columns = _columns([*rounds, shut], below.count)

    def row(round_: Round) -> Row:
        own = columns[round_.number]
        return Row(round_, 0, len(round_.work), below.count / 2, middles=own)

    courses = [Course((0,), (row,)) for row in cropped([*rounds, shut], KEPT, row)]
    how = together([_told(rounds, below, columns)])
    sheet = Sheet(stitches, style, terms)
    return draw_courses(sheet, piece, courses, (UNROLLED, "crown, unrolled", how))


def _told(
    rounds: Sequence[Round], below: Round, columns: dict[int, tuple[float, ...]]
) -> tuple[Saying, ...]:
    """How the chart is read."""
    marked = dict.fromkeys(name for r in rounds for name, _ in r.markers)
    lines = "Lines mark" if len(marked) > 1 else "A line marks"
    return (
        Saying(
            "The crown cut open where its rounds begin and laid flat, right side facing: read every"
            " round from right to left, from its number to its count."
        ),
        Saying(f"Begins on the {below.count} stitches of round {below.number}."),
        Saying(f"{lines} the {' and the '.join(marked)}." if marked else ""),
        gaps_told(columns),
        Saying(joined_text(rounds)),
    )
