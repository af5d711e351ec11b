"""Lengths, points, affine maps, and the only place where a number becomes text."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import NamedTuple

MM_PER_INCH = Fraction(254, 10)
"""Millimetres in an inch, exact: 1 in = 25.4 mm (W3C SVG 1.1 test coords-units-03-b)."""

METRES_IN_YARD = 36 * MM_PER_INCH / 1000
"""Exact: a yard has 36 inches."""

_SCALES = {"mm": Fraction(1), "cm": Fraction(10), "in": MM_PER_INCH}


def millimetres(amount: Fraction, unit: str) -> Fraction:
    """The length in millimetres, exact. `unit` is mm, cm or in; KeyError otherwise."""
    return amount * _SCALES[unit]


def pixels(mm: float, dpi: int) -> int:
    """Whole pixels that a length in millimetres takes at `dpi` (A4 at 300: 2480 × 3508)."""
    return math.floor(mm * dpi / 25.4 + 0.5)


def rounded(value: Fraction, step: Fraction) -> Fraction:
    """The multiple of `step` nearest to `value`, halves away from zero."""
    steps = abs(value) / step
    whole = math.floor(steps + Fraction(1, 2))
    return step * whole * (1 if value >= 0 else -1)


def text(value: float | Fraction, places: int = 3) -> str:
    """The number as text with at most `places` decimals, no trailing zeros, never `-0`."""
    shown = f"{float(value):.{places}f}"
    if "." in shown:
        shown = shown.rstrip("0").rstrip(".")
    return "0" if shown in ("-0", "") else shown


_GLYPHS = {Fraction(1, 4): "¼", Fraction(1, 2): "½", Fraction(3, 4): "¾"}


def centimetres_text(mm: Fraction, step_mm: Fraction) -> str:
    """A measure in centimetres without its unit, rounded to `step_mm`: `20.5`."""
    return text(rounded(mm, step_mm) / 10, 2)


def inches_text(mm: Fraction, step_in: Fraction) -> str:
    """A measure in inches without its unit, rounded to `step_in` inches: `8¼`."""
    value = rounded(mm / MM_PER_INCH, step_in)
    whole, rest = divmod(value, 1)
    if rest == 0:
        return str(int(whole))
    if rest in _GLYPHS:
        return (str(int(whole)) if whole else "") + _GLYPHS[rest]
    return text(value, 2)


class Point(NamedTuple):
    """A place on a drawing, millimetres, y downwards."""

    x: float
    y: float

    def plus(self, other: Point) -> Point:
        """The point moved by `other`."""
        return Point(self.x + other.x, self.y + other.y)

    def times(self, factor: float) -> Point:
        """The vector stretched by `factor`."""
        return Point(self.x * factor, self.y * factor)


class Frame(NamedTuple):
    """A local frame: `origin` in millimetres and the unit vector that points to the stitch's head.

    Local x runs to the reader's right when up is up, local y runs upwards.
    """

    origin: Point
    up: Point

    def place(self, x: float, y: float) -> Point:
        """The drawing point of local (x, y)."""
        # Right of `up` on a y-down page: up=(0,-1) must give right=(1,0).
        return Point(
            self.origin.x - self.up.y * x + self.up.x * y,
            self.origin.y + self.up.x * x + self.up.y * y,
        )
