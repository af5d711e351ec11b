"""The cuff chart: turned rows with foundation and seam, or rounds."""

from __future__ import annotations

from collections.abc import Callable

from gussetry.chart import Chart
from gussetry.layout.grid import cropped, draw_rows
from gussetry.layout.parts import Sheet, Terms, lifts
from gussetry.layout.rows import LONGEST, Row, begun, whole
from gussetry.stitchmap import POSTS, Piece, Round, StitchMap
from gussetry.style import Style


def _turned(round_: Round) -> Row:
    return whole(round_, rightwards=round_.number % 2 == 0)


def _ringed(piece: Piece) -> Callable[[Round], Row]:
    """How the rounds of a cuff are shown: all whole or all begun, by their stitches alone. What
    only joins a ring or lifts the hook must not cut the chain and leave what stands on it whole."""
    return begun if any(r.count > LONGEST for r in piece.rounds) else whole


def cuff(stitches: StitchMap, style: Style, terms: Terms) -> Chart:
    """The cuff chart of a mitten that has one: turned rows with foundation and seam, or rounds."""
    piece = stitches.piece("cuff")
    assert piece is not None
    sheet = Sheet(stitches, style, terms)
    turned = piece.worked == "rows"
    if turned:
        how = (
            "Worked sideways in turned rows: odd rows read from right to left, even rows from left"
            " to right, each from its number to its count. Every row is worked in the back loop"
            f" only. The lowest line is the foundation, {piece.rounds[0].count} chains; the highest"
            " seams the last row to it."
        )
    else:
        how = (
            "Worked round: read every round from right to left, from its number to its count. The"
            f" lowest line is the foundation, {piece.rounds[0].count} chains joined into a ring."
        )
        if any(op.do in POSTS for round_ in piece.rounds for op in round_.work):
            how += (
                " From round 2 on the hook goes round the post of the stitch below: a foot that"
                " curls to the right is worked from the front, to the left from the back."
            )
    if any(lifts(round_) for round_ in piece.rounds):
        unit = "row" if turned else "round"
        how += f" The chain before a {unit} lifts the hook; it is no stitch and is not counted."
    rows = cropped(piece.rounds, 4, _turned if turned else _ringed(piece))
    return draw_rows(sheet, piece, rows, ("cuff", "cuff", how))
