"""The thumb chart: from the crook to the drawing shut, or to the edging that ends it open."""

from __future__ import annotations

from gussetry.chart import Chart
from gussetry.layout.grid import cropped, draw_rows
from gussetry.layout.gusset import edging_text
from gussetry.layout.parts import Sheet, Terms
from gussetry.layout.rows import whole
from gussetry.layout.terms import named
from gussetry.stitchmap import Round, StitchMap
from gussetry.style import Style


def _rejoined(round_: Round, terms: Terms) -> str:
    """What the thumb's first round is worked into, stitch by stitch at the crook."""
    steps = []
    for op in round_.work:
        at = [p[1] + 1 for p in op.into if isinstance(p, tuple) and p[0] == "crook"]
        if at:
            over = " and ".join(str(n) for n in at)
            also = " and the first held stitch" if len(at) < len(op.into) else ""
            steps.append(f"{named(op.do, terms)} in crook {over}{also}")
    held = sum(1 for op in round_.work for p in op.into if isinstance(p, tuple) and p[0] == "held")
    return f"Round 1: {', '.join([*steps, ''])}then on over the {held} held stitches."


def thumb(stitches: StitchMap, style: Style, terms: Terms) -> Chart:
    """The thumb chart, all rounds to the drawing shut or the edging, long plain parts summed."""
    piece = stitches.piece("thumb")
    assert piece is not None
    sheet = Sheet(stitches, style, terms)
    how = (
        "Rejoin at the crook. Right side facing: read every round from right to left, from its"
        f" number to its count. {_rejoined(piece.rounds[0], terms)}"
        f"{edging_text(piece.rounds)}"
    )
    rows = cropped(piece.rounds, 2, whole)
    return draw_rows(sheet, piece, rows, ("thumb", "thumb", how))
