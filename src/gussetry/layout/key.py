"""The key: every symbol that the charts of a pattern use, with its words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from gussetry.chart import Chart
from gussetry.layout.parts import MARGIN, Sheet, Terms, used_symbols
from gussetry.layout.terms import wording
from gussetry.stitchmap import Op, StitchMap
from gussetry.style import Style
from gussetry.units import Point

_ORDER = ("ch", "slst", "sc", "hdc", "dc",
          "fphdc", "bphdc", "fpdc", "bpdc", "inc", "sc2tog", "hdc2tog", "dc2tog",
          "hold", "join", "skip", "seam", "close")  # fmt: skip


def _rank(op: Op) -> tuple[int, str, bool, int]:
    return _ORDER.index(op.do), op.loop, op.held, len(op.of or "")


def key(maps: Sequence[StitchMap], style: Style, terms: Terms) -> Chart:
    """The key to the charts of all `maps`: one line a symbol."""
    used = used_symbols(
        op
        for stitches in maps
        for piece in stitches.pieces
        for round_ in piece.rounds
        for op in round_.work
        if op.do != "turn"
    )
    sheet = Sheet(maps[0], style, terms)
    name = f"{maps[0].pattern}: key to the charts"
    ops = sorted(used, key=_rank)
    step = max(1.5 * style.stitch, 1.5 * style.size("term"))
    left = MARGIN + 1.6 * style.stitch
    longest = max(sheet.width_of("term", wording(op, terms)) for op in ops)
    width = max(sheet.title_width(name), left + longest + MARGIN)
    y = sheet.heading(name, "", width)
    for op in ops:
        y += step
        sheet.symbol(op, Point(MARGIN + 0.6 * style.stitch, y), style.stitch)
        words = wording(op, terms)
        sheet.words("term", words, Point(left, y + sheet.drop("term")), role="term")
    described = "; ".join(wording(op, terms) for op in ops)
    made = sheet.chart("key", name, f"{name}. {described}.", (width, y + step / 2 + MARGIN))
    sizes = " / ".join(dict.fromkeys(m.size for m in maps))
    mittens = " / ".join(dict.fromkeys(m.mitten for m in maps))
    tags = (("data-kind", "key"), ("data-size", sizes), ("data-mitten", mittens))
    return replace(made, tags=tags)
