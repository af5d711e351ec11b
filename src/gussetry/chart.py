"""Noun 3: a chart, everything placed and nothing inked.

All coordinates are millimetres on the drawing, y downwards. A schematic and a strip are charts
too: of patches, lines and labels without stitches.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from gussetry.stitchmap import Op
from gussetry.units import Frame, Point

Tags = tuple[tuple[str, str], ...]
"""Attributes carried into the file as they stand, in this order: `(("data-round", "3"), …)`."""


@dataclass(frozen=True, slots=True)
class PlacedStitch:
    """One entry of a round's work at its place.

    `frame` has the cell's centre and the way from foot to head. `reach` is the distance in mm
    from the centre line to the free end of a leg of an increase (at the head) or a decrease (at
    the foot), 0 for other kinds; `pitch` is the cell's size in mm. `tags` name piece, round,
    index and size.
    """

    op: Op
    frame: Frame
    reach: float
    pitch: float
    tags: Tags


LineKind = Literal[
    "growth", "marker", "start", "direction", "join", "joined", "marked", "frame", "rule",
    "outline", "rib", "dimension", "projection", "hatch", "register",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Line:
    """A line through `points`: guides of a chart, outlines and dimensions of a schematic.

    `arrows`: heads at the `start`, the `end`, `both` ends or `none`. `ground` is the colour
    `#rrggbb` behind it, "" for the paper: the ink is chosen by it.
    """

    kind: LineKind
    points: tuple[Point, ...]
    arrows: Literal["none", "start", "end", "both"] = "none"
    closed: bool = False
    tags: Tags = ()
    ground: str = ""


@dataclass(frozen=True, slots=True)
class Patch:
    """A closed area filled with a yarn's colour, `yarn` its letter, or with the paper ("")."""

    points: tuple[Point, ...]
    yarn: str
    colour: str
    tags: Tags = ()
    outlined: bool = True


LabelKind = Literal["title", "note", "number", "count", "sum", "yarn", "term", "measure"]


@dataclass(frozen=True, slots=True)
class Label:
    """A line of text. `at` is on its baseline; `turned` is degrees anticlockwise about it.

    `ground` is the colour `#rrggbb` behind it, "" for the paper: the ink is chosen by it.
    """

    kind: LabelKind
    text: str
    at: Point
    anchor: Literal["start", "middle", "end"] = "start"
    turned: float = 0.0
    ground: str = ""
    tags: Tags = ()


@dataclass(frozen=True, slots=True)
class Chart:
    """A finished layout, `width` × `height` mm, with the words that a screen reader gets.

    `kind` is `hand`, `gusset`, `crown`, `thumb`, `cuff`, `stripes`, `schematic` or `key`; `tags` go
    on the drawing's root. Painted in this order: patches, lines, stitches, labels.
    """

    kind: str
    title: str
    description: str
    width: float
    height: float
    patches: tuple[Patch, ...] = ()
    lines: tuple[Line, ...] = ()
    stitches: tuple[PlacedStitch, ...] = ()
    labels: tuple[Label, ...] = ()
    tags: Tags = ()
