"""What a drawing shall show, and how it differs."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from gussetry.stitchmap import StitchMap


@dataclass(frozen=True, slots=True)
class Disagreement:
    """One place where a finished drawing and its stitch map differ.

    `kind` is a short name in plain words; `piece`, `round` and `index` say which stitch or round,
    `at` is the place on the page in mm, y downwards; `sheet` counts the drawing's sheets from 1.
    """

    kind: str
    message: str
    piece: str = ""
    round: int | None = None
    index: int | None = None
    at: tuple[float, float] | None = None
    expected: str = ""
    found: str = ""
    sheet: int = 1


LEAST_TEXT_SIZE = 6.0
"""Points. The least that print should hold: common practice, no source."""
LEAST_PITCH = 2.2
"""Millimetres from stitch to stitch: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Limits:
    """What a style promises: `text` in points at least, `stitch` mm from stitch to stitch."""

    text: float = LEAST_TEXT_SIZE
    stitch: float = LEAST_PITCH


@dataclass(frozen=True, slots=True)
class Asked:
    """What a drawing shall show.

    `kind` is `hand`, `gusset`, `crown`, `thumb`, `cuff`, `stripes`, `schematic` or `key`; `maps`
    are the sizes it serves, smallest first; `terms` the reader's (US or UK); the steps are what
    printed measures are rounded to, millimetres and inches; `hand` the maker's whom a stitch chart
    is for, right or left; `tick_boxes`: each round has one; `limits` what its style promises of
    legibility, None where that is not to be measured.
    """

    kind: str
    maps: tuple[StitchMap, ...]
    terms: str = "US"
    cm_step_mm: Fraction = Fraction(5)
    inch_step: Fraction = Fraction(1, 4)
    hand: str = "right"
    limits: Limits | None = None
    tick_boxes: bool = False


class UnreadableError(ValueError):
    """Raised when a file cannot be read back at all; the text says why."""
