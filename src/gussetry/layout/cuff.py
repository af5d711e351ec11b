"""The cuff chart: turned rows with foundation and seam, or rounds."""

from __future__ import annotations

from collections.abc import Callable

from gussetry.chart import Chart
from gussetry.layout.footing import Footing, Stretch
from gussetry.layout.grid import cropped, draw_rows
from gussetry.layout.parts import Sheet, Terms
from gussetry.layout.rows import LONGEST, Row, begun, whole
from gussetry.layout.sentences import joined_text
from gussetry.stitchmap import POSTS, Piece, Round, StitchMap
from gussetry.style import Style


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


def _sideways(piece: Piece) -> str:
    """How a cuff in turned rows is read."""
    return (
        "Worked sideways in turned rows, all in the back loop only: odd rows read from right to"
        " left, even rows from left to right, each from its number along its arrow to its count."
        f" The lowest line is the foundation, {piece.rounds[0].count} chains; the highest seams the"
        " last row to it, and ends at the hand edge, where the hand is picked up. The arm edge"
        " stays open."
    )


def _upright(piece: Piece) -> str:
    """How a cuff worked round is read."""
    how = (
        "Worked round, right side facing; do not turn: read every round from right to left, from"
        f" its number to its count. The lowest line is the foundation, {piece.rounds[0].count}"
        " chains joined into a ring: the open end at the arm. The hand goes on from the top."
    )
    if any(op.do in POSTS for round_ in piece.rounds for op in round_.work):
        how += (
            " From round 2 on the hook goes round the post of the stitch below: a foot that"
            " curls to the right is worked from the front, to the left from the back."
        )
    return how


def cuff(stitches: StitchMap, style: Style, terms: Terms) -> tuple[Chart, ...]:
    """The cuff chart of a mitten that has one: turned rows with foundation and seam, or rounds."""
    piece = stitches.piece("cuff")
    assert piece is not None
    sheet = Sheet(stitches, style, terms)
    if piece.worked == "rows":
        how = _sideways(piece) + joined_text(piece.rounds, "row")
        rows = cropped(piece.rounds, 4, _turned)
        return draw_rows(sheet, piece, rows, ("cuff", "cuff", how), _edges(piece))
    how = _upright(piece) + joined_text(piece.rounds)
    rows = cropped(piece.rounds, 4, _ringed(piece))
    return draw_rows(sheet, piece, rows, ("cuff", "cuff", how))
