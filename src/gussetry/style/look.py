"""A look: every property of a drawing's appearance, frozen."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Hand = Literal["right", "left", "both"]
"""Whose stitch charts are drawn: a right-handed maker's, a left-handed one's, or each."""

Schematic = Literal["outline", "stripes"]
"""What a mitten's schematic shows within its outline: nothing, or its stripes."""

Yarns = Literal["colours", "hatches"]
"""How patches tell their yarn: by its colour, or by hatches in ink."""

Sizes = Literal["apart", "together", "both"]
"""Whether stitch charts are drawn a size each, for several sizes where their rounds allow it, or
in either way."""

Numerals = Literal["plain", "slashed"]
"""How a zero is drawn: plain, or with the font's slash, which tells it from the letter O."""

PT = 25.4 / 72
"""Millimetres in a point: 1 pt = 1/72 in (W3C SVG 1.1 test coords-units-03-b)."""

SERIES = ("0.13", "0.18", "0.25", "0.35", "0.5", "0.7", "1.0", "1.4", "2.0")
"""Line widths in mm (ISO 128-2, clause 6.1): each √2 times the one before, so that two steps make
wide and narrow lines 2:1. The finest is 0.37 pt, above the quarter point that prints safely."""


@dataclass(frozen=True, slots=True)
class Style:
    """A look. Lengths and pens in mm, `text` sizes in points by label kind, colours `#rrggbb`;
    `paper` "" is transparent. `cm_step` in mm and `inch_step` in inches round printed measures;
    `scale` is that of schematic and strip; `stitch` the pitch of a chart's cells and `least_stitch`
    the smallest to which a chart that does not fit may be drawn; `least_text` in points is what no
    label goes under; `hand` whose stitch charts are drawn; `numerals` how a zero looks; `yarns`
    whether patches are coloured or hatched; `palette` (letter, colour) of yarns that are drawn in
    other colours than the pattern's; `schematic` whether stripes are laid into it; `sizes`
    whether they share stitch charts; `tick_boxes` whether rounds have a box to tick; `bleed` how
    far a finished page's paper goes on beyond the cut, `crop_marks` whether marks show where to
    cut."""

    name: str
    width: float
    height: float
    paper: str
    ink: str
    quiet_ink: str
    emphasis: str
    stitch: float
    least_stitch: float
    pens: tuple[tuple[str, float], ...]
    text: tuple[tuple[str, float], ...]
    least_text: float
    cm_step: Fraction
    inch_step: Fraction
    scale: float
    dpi: int
    hand: Hand
    numerals: Numerals
    yarns: Yarns
    palette: tuple[tuple[str, str], ...]
    schematic: Schematic
    sizes: Sizes
    tick_boxes: bool
    bleed: float
    crop_marks: bool

    def pen(self, name: str, finer: int = 0) -> float:
        """The width of a pen, mm, or of the pen so many steps of the series finer, no finer than
        its first."""
        width = dict(self.pens)[name]
        if not finer:
            return width
        return float(SERIES[max(0, step(width) - finer)])

    def size(self, kind: str) -> float:
        """The em size of a label kind, mm."""
        return dict(self.text)[kind] * PT


def step(width: float) -> int:
    """The place in the series of the widest pen that is no wider than `width` mm; 0 where even the
    first is."""
    return max((i for i, pen in enumerate(SERIES) if float(pen) <= width), default=0)
