"""Inks on their grounds: what lies under every letter, symbol and line, by its real area."""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from gussetry.colours import contrast
from gussetry.verify.findings import Disagreement
from gussetry.verify.legibility_shapes import Geometry, Scene, Sort, finding, half, named
from gussetry.verify.svg import LEAST_SYMBOL, LEAST_TEXT, Shape

SHARE = 0.02
"""The part of a shape that may lie on a ground it does not show on: less cannot be seen. Common
practice, no source."""
LINES = 0.25
"""The part of a line that may: its end reaches into what it points at, and a line is followed over
a gap. Common practice, no source."""
OUTER = 0.85
"""The part of an outline that may lie on such a ground: it is seen against the paper about it."""
_LEAST = {"text": LEAST_TEXT, "glyph": LEAST_SYMBOL, "line": LEAST_SYMBOL}


def grounds(seen: Scene, shape: Shape) -> dict[str, float]:
    """The colours under a shape, each with the share of the shape that it carries."""
    under = [p for p in _near(seen, shape) if p.order < shape.order]
    if not under:
        return {seen.paper: 1.0}
    top = under[-1]
    if shapely.covers(_whole(seen.drawn(top.order)), shapely.box(*shape.box)):
        return {top.fill: 1.0}
    left = _inked(seen, shape)
    whole = left.area
    found: dict[str, float] = {}
    for patch in reversed(under):
        part = left.intersection(_whole(seen.drawn(patch.order)))
        if part.area > 0:
            found[patch.fill] = found.get(patch.fill, 0.0) + part.area / whole
            left = left.difference(part)
    found[seen.paper] = found.get(seen.paper, 0.0) + left.area / whole
    return found


def _near(seen: Scene, shape: Shape) -> list[Shape]:
    """Patches whose boxes overlap the shape's, in painting order."""
    box = shape.box
    return [
        patch
        for patch in seen.patches
        if patch.box.left <= box.right
        and patch.box.right >= box.left
        and patch.box.top <= box.bottom
        and patch.box.bottom >= box.top
        and patch.order != shape.order
    ]


def _whole(geometry: Geometry) -> Geometry:
    """The areas of a shape as one valid area."""
    return shapely.union_all([shapely.make_valid(part) for part in geometry.geoms])


def _inked(seen: Scene, shape: Shape) -> Geometry:
    """The area that a shape's ink covers."""
    sort = seen.sorts[shape.order]
    geometry = seen.drawn(shape.order)
    if sort == "text" or half(shape) == 0:
        area = shapely.Polygon()
        for part in geometry.geoms:
            # Counters of letters cut out of the letters about them.
            area = area.symmetric_difference(shapely.make_valid(part))
        return area
    lines = [getattr(part, "exterior", part) for part in geometry.geoms]
    return shapely.union_all(shapely.buffer(lines, half(shape), quad_segs=2))


def faint(seen: Scene) -> Iterator[Disagreement]:
    """Letters, symbols and lines that do not stand out from a ground they lie on."""
    ratios: dict[tuple[str, str], float] = {}
    for shape in seen.of("text", "glyph", "line"):
        sort = seen.sorts[shape.order]
        for ground, share in grounds(seen, shape).items():
            if share < _faint_at(shape, sort):
                continue
            ink = shape.inks[0]
            if (ink, ground) not in ratios:
                ratios[ink, ground] = contrast(ink, ground)
            if ratios[ink, ground] < _LEAST[sort]:
                message = (
                    f"{named(shape)} is painted {ink} on {ground}: contrast"
                    f" {ratios[ink, ground]:.2f}, {_LEAST[sort]:g} is the least"
                )
                yield finding(f"{sort}-faint", message, shape)
                break


def _faint_at(shape: Shape, sort: Sort) -> float:
    """The share of a shape on one ground from which on it must show there."""
    if sort != "line":
        return SHARE
    return OUTER if shape.tag("role") == "outline" else LINES


def covered(seen: Scene) -> Iterator[Disagreement]:
    """Letters and symbols of which a part lies under a patch painted later."""
    for shape in seen.of("text", "glyph"):
        over = [p for p in _near(seen, shape) if p.order > shape.order]
        for patch in over:
            hidden = _inked(seen, shape).intersection(_whole(seen.drawn(patch.order)))
            if hidden.area > 0:
                message = f"{named(shape)} lies under {named(patch)}"
                yield finding("covered", message, shape, hidden)
                break
