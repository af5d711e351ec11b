"""What a finished drawing shows: painted shapes on a page, and which of them can be seen."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from gussetry.colours import contrast
from gussetry.verify.findings import Disagreement
from gussetry.verify.paths import Box, Subpath, flattened

_COLOUR = re.compile(r"#([0-9a-fA-F]{6}|[0-9a-fA-F]{3})")
_NAMES = {"white": "#ffffff", "black": "#000000"}


@dataclass(frozen=True, slots=True)
class Shape:
    """One painted path. `order` is its place in painting, `marks` its class and data tags."""

    order: int
    data: str
    subs: tuple[Subpath, ...]
    box: Box
    fill: str
    stroke: str
    pen: float
    hidden: bool
    marks: dict[str, str] = field(hash=False)

    def tag(self, name: str) -> str:
        """The value of `data-name`, empty where it has none."""
        return self.marks.get("data-" + name, "")

    @property
    def classes(self) -> tuple[str, ...]:
        """Its classes."""
        return tuple(self.marks.get("class", "").split())

    @property
    def inks(self) -> tuple[str, ...]:
        """The colours `#rrggbb` that it really paints with."""
        if self.hidden:
            return ()
        fill = (self.fill,) if self.fill.startswith("#") else ()
        stroke = (self.stroke,) if self.stroke.startswith("#") and self.pen > 0 else ()
        return fill + stroke


@dataclass(frozen=True, slots=True)
class Page:
    """A drawing read back: its size in mm, the root's tags, its shapes in painting order, and the
    title and description that a screen reader gets, empty where it has none."""

    width: float
    height: float
    marks: dict[str, str]
    shapes: tuple[Shape, ...]
    findings: tuple[Disagreement, ...]
    title: str = ""
    description: str = ""

    def tag(self, name: str) -> str:
        """The root's `data-name`, empty where it has none."""
        return self.marks.get("data-" + name, "")


def colour(value: str) -> str:
    """The colour as `#rrggbb` in small letters, `none`, or the text where it is no such thing."""
    value = value.strip()
    found = _COLOUR.fullmatch(value)
    if not found:
        return _NAMES.get(value, value)
    digits = found[1].lower()
    return "#" + (digits if len(digits) == 6 else "".join(d * 2 for d in digits))


# --- what can be seen -------------------------------------------------------------------------


def inside(point: complex, outline: list[complex]) -> bool:
    """True where the point lies within the closed outline (even-odd)."""
    odd = False
    last = outline[-1]
    for here in outline:
        if (here.imag > point.imag) != (last.imag > point.imag):
            at = here.real + (point.imag - here.imag) * (last.real - here.real) / (
                last.imag - here.imag
            )
            odd ^= point.real < at
        last = here
    return odd


LEAST_TEXT, LEAST_SYMBOL = 4.5, 3.0
"""Contrast with its ground under which a label, and a stitch or symbol, cannot be seen (WCAG 2.2,
1.4.3 and 1.4.11)."""


class Grounds:
    """The filled areas of a page: what lies behind a shape, and what covers it."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.areas = [
            (shape, [flattened(sub) for sub in shape.subs])
            for shape in page.shapes
            if shape.fill.startswith("#")
            and not shape.hidden
            and not shape.tag("says")
            and "stitch" not in shape.classes
            and "symbol" not in shape.classes
        ]
        self.ratios: dict[tuple[str, str], float] = {}

    def at(self, shape: Shape) -> tuple[str, bool]:
        """The colour behind the shape's middle, and whether something covers it."""
        ground = "#ffffff"
        point = shape.box.centre
        for area, outlines in self.areas:
            if not area.box.holds(point):
                continue
            if not sum(inside(point, outline) for outline in outlines) % 2:
                continue
            if area.order > shape.order:
                return ground, True
            ground = area.fill
        return ground, False

    def unseen(self, shape: Shape) -> str:
        """Why the shape cannot be seen, empty where it can."""
        page, box = self.page, shape.box
        if not shape.inks:
            return "has no paint"
        if box.left < 0 or box.top < 0 or box.right > page.width or box.bottom > page.height:
            return "lies off the page"
        if box.size < 0.05:
            return "has no size"
        ground, covered = self.at(shape)
        if covered:
            return "lies under something else"
        least = LEAST_TEXT if "data-says" in shape.marks else LEAST_SYMBOL
        for ink in shape.inks:
            key = (ink, ground)
            if key not in self.ratios:
                self.ratios[key] = contrast(ink, ground)
            if self.ratios[key] >= least:
                return ""
        return f"is painted {shape.inks[0]} on {ground}"
