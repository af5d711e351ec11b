"""A page's shapes as areas and strokes in the plane, sorted by what they are to a reader."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import Any, Literal

import numpy as np
import shapely

from gussetry.verify.findings import Disagreement
from gussetry.verify.labels import first_number, number
from gussetry.verify.paths import Subpath, flattened, subpaths
from gussetry.verify.svg import Page, Shape

Sort = Literal["glyph", "text", "line", "patch"]
Geometry = Any
"""A geometry of shapely, mm."""
_FINE = 4  # straight pieces a curve of a letter: within 0.01 mm up to 24 points


def sort_of(shape: Shape) -> Sort:
    """What a shape is to a reader: a stitch or symbol, text, a line, or a filled patch."""
    if {"stitch", "symbol"} & set(shape.classes):
        return "glyph"
    if "data-says" in shape.marks:
        return "text"
    if shape.fill.startswith("#") and shape.tag("role") not in ("arrow", "joined", "marked"):
        return "patch"
    return "line"


@lru_cache(maxsize=4096)
def _outline(shape: str) -> np.ndarray[Any, Any]:
    """The outline of a contour of a label as if it began at 0, 0."""
    return corners(subpaths("M0 0" + shape)[0], _FINE)


def corners(sub: Subpath, parts: int = 8) -> np.ndarray[Any, Any]:
    """The points of a stretch of pen, curves cut into `parts` straight pieces."""
    points = np.array(flattened(sub, parts), dtype=complex)
    return np.column_stack((points.real, points.imag))


def contour(sub: Subpath) -> np.ndarray[Any, Any]:
    """The corners of a letter's contour, mm."""
    if sub.shape:
        moved: np.ndarray[Any, Any] = np.add(_outline(sub.shape), (sub.start.real, sub.start.imag))
        return moved
    return corners(sub, _FINE)


def area(points: np.ndarray[Any, Any]) -> Geometry:
    """The area within an outline; its line where it has none."""
    return shapely.Polygon(points) if len(points) > 2 else shapely.LineString(points)


def drawn(shape: Shape, sort: Sort) -> Geometry:
    """The shape's geometry without pen: open strokes as lines, outlines and filled shapes as the
    areas within them."""
    if sort == "text":
        return shapely.GeometryCollection([area(contour(sub)) for sub in shape.subs])
    filled = shape.fill.startswith("#")
    parts = []
    for sub in shape.subs:
        points = corners(sub)
        shut = sub.closed or bool(np.all(points[0] == points[-1]))
        parts.append(area(points) if filled or (shut and sort != "line") else stroke(points))
    return shapely.GeometryCollection(parts)


def stroke(points: np.ndarray[Any, Any]) -> Geometry:
    """A stretch of pen as a line; one point is a line of no length."""
    return shapely.LineString(points if len(points) > 1 else np.repeat(points, 2, axis=0))


@dataclass(frozen=True, slots=True)
class Segments:
    """Straight pieces of lines, or of the edges of patches, and the shape that each belongs to."""

    lines: np.ndarray[Any, Any]
    owners: np.ndarray[Any, Any]


def segments(shapes: list[Shape]) -> Segments:
    """The straight pieces that the shapes' outlines are made of."""
    ends: list[tuple[complex, complex]] = []
    owners: list[int] = []
    for shape in shapes:
        for sub in shape.subs:
            points = flattened(sub)
            if sub.closed or shape.fill.startswith("#"):
                points.append(points[0])
            found = list(pairwise(points)) or [(points[0], points[0])]
            ends += found
            owners += [shape.order] * len(found)
    flat = np.array(ends, dtype=complex).reshape(-1, 2)
    lines = shapely.linestrings(np.stack((flat.real, flat.imag), axis=-1))
    return Segments(lines, np.array(owners, dtype=int))


def half(shape: Shape) -> float:
    """Half the width of the pen that the shape is drawn with, mm."""
    return shape.pen / 2 if shape.stroke.startswith("#") else 0.0


class Scene:
    """A page's visible shapes by sort, with their geometry made when it is first asked for."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.shapes: dict[int, Shape] = {}
        self.sorts: dict[int, Sort] = {}
        for shape in page.shapes:
            if shape.inks and shape.tag("role") != "paper":
                self.shapes[shape.order] = shape
                self.sorts[shape.order] = sort_of(shape)
        self._drawn: dict[int, Geometry] = {}

    def of(self, *sorts: Sort) -> list[Shape]:
        """The shapes of these sorts, in painting order."""
        return [shape for order, shape in self.shapes.items() if self.sorts[order] in sorts]

    @cached_property
    def patches(self) -> tuple[Shape, ...]:
        """The filled patches that text and symbols may lie on, in painting order."""
        return tuple(self.of("patch"))

    @cached_property
    def paper(self) -> str:
        """The paper's colour; white where it has none of its own."""
        fills = (s.fill for s in self.page.shapes if s.tag("role") == "paper")
        return next(fills, "#ffffff")

    def drawn(self, order: int) -> Geometry:
        """The exact geometry of a shape, without its pen."""
        if order not in self._drawn:
            self._drawn[order] = drawn(self.shapes[order], self.sorts[order])
        return self._drawn[order]


def named(shape: Shape) -> str:
    """What to call a shape in a message."""
    says, do, role = shape.tag("says"), shape.tag("do"), shape.tag("role")
    if says:
        return f"“{says}”" if len(says) < 40 else f"“{says[:36]} …”"
    if do:
        at = f" of round {shape.tag('round')}" if shape.tag("round") else " of the key"
        return f"the {do}{at}"
    return f"a {role or 'shape'}"


def finding(kind: str, message: str, shape: Shape, at: Geometry = None) -> Disagreement:
    """A finding at a shape, or at a point that a geometry has its middle at."""
    middle = shape.box.centre
    place = (middle.real, middle.imag) if at is None else (at.centroid.x, at.centroid.y)
    return Disagreement(
        kind, message, piece=shape.tag("piece"), round=first_number(shape.tag("round")),
        index=number(shape.tag("index")), at=(round(place[0], 2), round(place[1], 2)),
    )  # fmt: skip
