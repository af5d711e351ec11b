"""The cuff chart: turned rows with foundation and seam, or rounds."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from gussetry.chart import Chart
from gussetry.layout.courses import Course
from gussetry.layout.footing import Footing, Stretch
from gussetry.layout.grid import draw_courses
from gussetry.layout.parts import Sheet, Terms
from gussetry.layout.rows import LONGEST, Row, begun, cropped, whole
from gussetry.layout.sentences import Saying, joined_text, of_first, together
from gussetry.layout.several import laid_together, of_sizes, stepped
from gussetry.stitchmap import POSTS, Piece, Round, StitchMap
from gussetry.style import Style

KEPT = 4
"""Plain rows drawn of a long run, besides its last."""


def _turned(round_: Round) -> Row:
    return whole(round_, rightwards=round_.number % 2 == 0)


def _ringed(piece: Piece) -> Callable[[Round], Row]:
    """How the rounds of a cuff are shown: all whole or all begun, by their stitches alone. What
    only joins a ring or lifts the hook must not cut the chain and leave what stands on it whole."""
    return begun if any(r.count > LONGEST for r in piece.rounds) else whole


def _edges(piece: Piece) -> Footing:
    """The names of a sideways cuff's two edges. The seam ends at the hand's, where the yarn is
    then: common practice, no source."""
    foundation, seam = piece.rounds[0], piece.rounds[-1]
    left, right = "hand edge", "arm edge"
    if _turned(seam).rightwards:
        left, right = right, left
    first, last = 0.5, foundation.count - 0.5
    return Footing(stretches=(Stretch(last, last, (right,)), Stretch(first, first, (left,))))


def _sideways(piece: Piece) -> Iterator[Saying]:
    """How a cuff in turned rows is read."""
    yield Saying(
        "Worked sideways in turned rows, all in the back loop only: odd rows read from right to"
        " left, even rows from left to right, each from its number along its arrow to its count."
    )
    yield Saying(
        f"The lowest line is the foundation, {piece.rounds[0].count} chains; the highest seams the"
        " last row to it, and ends at the hand edge, where the hand is picked up. The arm edge"
        " stays open.",
        of_first,
    )


def _upright(piece: Piece) -> Iterator[Saying]:
    """How a cuff worked round is read."""
    yield Saying(
        "Worked round, right side facing; do not turn: read every round from right to left, from"
        " its number to its count."
    )
    yield Saying(
        f"The lowest line is the foundation, {piece.rounds[0].count}"
        " chains joined into a ring: the open end at the arm. The hand goes on from the top.",
        of_first,
    )
    if any(op.do in POSTS for round_ in piece.rounds for op in round_.work):
        yield Saying(
            "From round 2 on the hook goes round the post of the stitch below: a foot that"
            " curls to the right is worked from the front, to the left from the back.",
            lambda row: any(op.do in POSTS for op in row.round.work),
        )


def _told(piece: Piece) -> tuple[Saying, ...]:
    """How the chart of a size is read."""
    if piece.worked == "rows":
        return (*_sideways(piece), Saying(joined_text(piece.rounds, "row")))
    return (*_upright(piece), Saying(joined_text(piece.rounds)))


def cuff_courses(maps: Sequence[StitchMap]) -> list[Course] | None:
    """The courses of the cuff chart of one size or of several; None where their cuffs are unlike.
    Rings of different sizes are shown begun, the rest of each summed."""
    pieces = [piece for stitches in maps if (piece := stitches.piece("cuff"))]
    if len(pieces) < len(maps) or len({piece.worked for piece in pieces}) > 1:
        return None
    turned = pieces[0].worked == "rows"
    unlike = len({piece.rounds[0].count for piece in pieces}) > 1
    shown = [_turned if turned else begun if unlike else _ringed(piece) for piece in pieces]
    sizes = [cropped(piece.rounds, KEPT, row) for piece, row in zip(pieces, shown, strict=True)]
    together = laid_together(range(len(maps)), sizes)
    if together or turned:
        return together
    return stepped([piece.rounds for piece in pieces], shown, KEPT)


def cuff(
    maps: Sequence[StitchMap], style: Style, terms: Terms, alone: bool = False
) -> tuple[Chart, ...]:
    """The cuff chart of mittens that have one: turned rows with foundation and seam, or rounds.
    ValueError for sizes that no chart can serve."""
    pieces = [piece for stitches in maps if (piece := stitches.piece("cuff"))]
    courses = cuff_courses(maps)
    if courses is None:
        raise ValueError("the cuffs of these sizes are unlike")
    sheet = Sheet(maps[0], style, terms, tuple(maps[1:]))
    how = together([_told(piece) for piece in pieces]) + of_sizes(maps, courses)
    footing = _edges(pieces[0]) if pieces[0].worked == "rows" else None
    return draw_courses(sheet, pieces[0], courses, ("cuff", "cuff", how), footing, alone=alone)
