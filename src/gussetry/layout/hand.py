"""The hand chart of a mitten without a thumb: from the pick-up round to the crown."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import groupby

from gussetry.chart import Chart
from gussetry.layout.courses import Course
from gussetry.layout.grid import draw_courses
from gussetry.layout.parts import Sheet, Terms
from gussetry.layout.rows import BEGINNING, LONGEST, Row, summed, whole
from gussetry.layout.sentences import Saying, begun_text, joined_text, of_first, together
from gussetry.layout.several import Key, keyed, laid_together, of_sizes, stepped
from gussetry.stitchmap import Round, StitchMap
from gussetry.style import Style

KEPT = 2
"""Plain rounds drawn above the last increase."""
ABOVE = ("crown", "close", "draw shut")


def _drawn(rounds: Sequence[Round]) -> int:
    """How many rounds are drawn: those that shape the hand, and a few plain ones to go on from."""
    shaped = [i for i, r in enumerate(rounds) if r.phase in ("pick-up", "outer edge")]
    return shaped[-1] + 1 + KEPT


def _gained(sizes: Sequence[Sequence[Round]]) -> dict[Key, int]:
    """How many stitches each round has more than its size's first, the most of all sizes."""
    found: dict[Key, int] = {}
    for rounds in sizes:
        first = next(r for r in rounds if r.number)
        for key, r in keyed(rounds).items():
            found[key] = max(found.get(key, 0), r.count - first.count)
    return found


def _row(rounds: Sequence[Round], shown: int, gained: dict[Key, int]) -> Callable[[Round], Row]:
    """How a round is shown, each stitch over the one that it is worked into: so many as stand on
    the first `shown` stitches of the first, and what the outer edge gains, which stands out at the
    right, where rounds begin; the rest summed."""
    first = next(r for r in rounds if r.number)

    def row(r: Round) -> Row:
        more, starts = gained[r.phase, r.step], whole(r).starts
        end = len(r.work)
        if shown < first.count:
            end = max(i for i, at in enumerate(starts) if at <= shown + more)
        return Row(r, 0, end, shown / 2 + more)

    return row


def _shown(sizes: Sequence[Sequence[Round]]) -> int:
    """How many stitches of the first round are drawn: all, or the beginning of rounds that are too
    long for a column or not alike in all sizes."""
    counts = {r.count for rounds in sizes for r in rounds[:2] if r.phase == "pick-up"}
    long = any(whole(r).starts[-1] > LONGEST for rounds in sizes for r in rounds)
    if long or len(counts) > 1:
        return min(BEGINNING, *counts, min(counts) - 1)
    return counts.pop()


def _widened(rounds: Sequence[Round]) -> str:
    """Where the hand gets wider."""
    grown = [r.number for r in rounds if any(op.do == "inc" for op in r.work) and r.number > 1]
    return ": increases there widen the hand" if grown else ""


def _below(stitches: StitchMap) -> tuple[Round, ...]:
    """The hand's rounds below its crown."""
    piece = stitches.piece("hand")
    assert piece is not None
    return tuple(r for r in piece.rounds if not r.phase.startswith(ABOVE))


def hand_courses(maps: Sequence[StitchMap]) -> list[Course] | None:
    """The courses of the hand chart of one size or of several; None where their hands are unlike.
    Where the sums above what is drawn are unlike, each size has its own."""
    sizes = [_below(stitches) for stitches in maps]
    drawn = [rounds[: _drawn(rounds)] for rounds in sizes]
    shown = _shown(drawn)
    gained = _gained(drawn)
    courses = stepped(drawn, [_row(rounds, shown, gained) for rounds in drawn], LONGEST)
    if courses is None:
        return None
    even = [
        [
            summed(run[0], run[-1])
            for _, own in groupby(rounds[len(below) :], key=lambda r: r.yarn)
            if (run := list(own))
        ]
        for rounds, below in zip(sizes, drawn, strict=True)
    ]
    apart = [Course((p,), (row,)) for p, rows in enumerate(even) for row in rows]
    return [*courses, *(laid_together(range(len(maps)), even) or apart)]


def _told(stitches: StitchMap) -> tuple[Saying, ...]:
    """How the chart of a size is read."""
    rounds = _below(stitches)
    last = rounds[-1].number
    return (
        Saying(
            f"Hand rounds 1–{last}. Right side facing: read every round from right to"
            " left, from its number to its count."
        ),
        Saying(begun_text(stitches), of_first),
        Saying(f"The first stitch of a round is the hand's outer edge{_widened(rounds)}."),
        Saying(joined_text(rounds)),
        Saying(
            "The crown chart goes on from here.",
            lambda row: last in (row.round.number, *(row.several or ())),
        ),
    )


def hand(
    maps: Sequence[StitchMap], style: Style, terms: Terms, alone: bool = False
) -> tuple[Chart, ...]:
    """The hand chart, from the pick-up round to the last plain round before the crown. ValueError
    for sizes that no chart can serve."""
    piece, courses = maps[0].piece("hand"), hand_courses(maps)
    if piece is None or courses is None:
        raise ValueError("the hands of these sizes are unlike")
    sheet = Sheet(maps[0], style, terms, tuple(maps[1:]))
    how = together([_told(stitches) for stitches in maps]) + of_sizes(maps, courses)
    return draw_courses(sheet, piece, courses, ("hand", "hand", how), alone=alone)
