"""From stitch maps to charts: grid, crown, strip, schematic and key."""

from __future__ import annotations

from gussetry.chart import Chart
from gussetry.layout import grid
from gussetry.layout.crown import crown
from gussetry.layout.key import key
from gussetry.layout.parts import Terms
from gussetry.stitchmap import StitchMap
from gussetry.style import Style

__all__ = ["Terms", "crown", "key", "stitch_charts"]


def stitch_charts(stitches: StitchMap, style: Style, terms: Terms) -> tuple[Chart, ...]:
    """The symbol charts of one mitten: cuff (where it has one), gusset, crown, thumb."""
    cuff = grid.cuff(stitches, style, terms)
    rest = (
        grid.gusset(stitches, style, terms),
        crown(stitches, style, terms),
        grid.thumb(stitches, style, terms),
    )
    return (cuff, *rest) if cuff else rest
