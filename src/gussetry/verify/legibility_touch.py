"""What touches: stitches, symbols, text and lines that do not keep clear of each other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations
from typing import Any, NamedTuple

import numpy as np
import shapely

from gussetry.verify.findings import Disagreement
from gussetry.verify.legibility_shapes import (
    Geometry,
    Scene,
    Segments,
    contour,
    corners,
    finding,
    half,
    named,
    segments,
    stroke,
)
from gussetry.verify.svg import Shape

CLEAR = {
    "glyph-on-glyph": 0.15,
    "text-on-text": 0.3,
    "text-on-glyph": 0.3,
    "line-on-glyph": 0.15,
    "line-on-text": 0.15,
    "text-on-edge": 0.15,
    "glyph-clogged": 0.1,
}
"""Millimetres of ground that stay between two inks. One minute of arc, the least that the eye of
20/20 sight tells apart (from memory), is 0.15 mm at 0.5 m, and 0.1 mm at 0.35 m, for the strokes of
one symbol; letters, which are read in one look, are to keep twice as much: common practice, no
source."""
_MEET = 0.002  # mm: strokes nearer than this share a point
_SLACK = 0.004  # mm: coordinates are rounded to 0.001


class Near(NamedTuple):
    """Two shapes that may touch, with the geometry of the second where it is a piece of a line."""

    one: Shape
    other: Shape
    piece: Geometry = None


def touching(seen: Scene) -> Iterator[Disagreement]:
    """Pairs of shapes of which one touches the other, or keeps too little off."""
    solid = seen.of("glyph", "text")
    if not solid:
        return
    tree = shapely.STRtree(_boxes(solid))
    widest = max(CLEAR.values())
    pairs = list(_solid_pairs(tree, solid, widest))
    pairs += _line_pairs(tree, solid, seen.of("line"), widest)
    texts = [i for i, shape in enumerate(solid) if seen.sorts[shape.order] == "text"]
    edged = seen.of("patch")
    if texts and edged:
        lettering = [solid[i] for i in texts]
        pairs += _line_pairs(shapely.STRtree(_boxes(lettering)), lettering, edged, widest)
    yield from _worst(seen, pairs)


def _boxes(shapes: Sequence[Shape]) -> np.ndarray[Any, Any]:
    sides = np.array([(*shape.box, half(shape)) for shape in shapes])
    grown = sides[:, 4]
    left, top, right, bottom = (sides[:, i] for i in range(4))
    return np.asarray(shapely.box(left - grown, top - grown, right + grown, bottom + grown))


def _solid_pairs(tree: shapely.STRtree, solid: Sequence[Shape], widest: float) -> Iterator[Near]:
    ones, others = tree.query(tree.geometries, predicate="dwithin", distance=widest)
    for i, j in zip(ones.tolist(), others.tolist(), strict=True):
        if i < j:
            yield Near(solid[i], solid[j])


def _line_pairs(
    tree: shapely.STRtree, solid: Sequence[Shape], lines: list[Shape], widest: float
) -> list[Near]:
    if not lines:
        return []
    pieces: Segments = segments(lines)
    owners = {shape.order: shape for shape in lines}
    halves = np.array([half(owners[order]) for order in pieces.owners.tolist()])
    ones, others = tree.query(pieces.lines, predicate="dwithin", distance=halves + widest)
    return [
        Near(solid[j], owners[int(pieces.owners[i])], pieces.lines[i])
        for i, j in zip(ones.tolist(), others.tolist(), strict=True)
    ]


def _kind(seen: Scene, pair: Near) -> str:
    sorts = sorted((seen.sorts[pair.one.order], seen.sorts[pair.other.order]))
    return {
        ("glyph", "glyph"): "glyph-on-glyph",
        ("text", "text"): "text-on-text",
        ("glyph", "text"): "text-on-glyph",
        ("glyph", "line"): "line-on-glyph",
        ("line", "text"): "line-on-text",
        ("patch", "text"): "text-on-edge",
    }[sorts[0], sorts[1]]


_SAID = {
    "glyph-on-glyph": "touches",
    "text-on-text": "touches",
    "text-on-glyph": "touches",
    "line-on-glyph": "is touched by",
    "line-on-text": "is touched by",
    "text-on-edge": "lies on the edge of",
}


def _worst(seen: Scene, pairs: Sequence[Near]) -> Iterator[Disagreement]:
    """One finding for each two shapes that do not keep clear, where they come nearest."""
    if not pairs:
        return
    ones = np.array([seen.drawn(pair.one.order) for pair in pairs], dtype=object)
    others = np.array(
        [seen.drawn(p.other.order) if p.piece is None else p.piece for p in pairs], dtype=object
    )
    pens = np.array([half(pair.one) + half(pair.other) for pair in pairs])
    apart = shapely.distance(ones, others) - pens
    found: dict[tuple[int, int], tuple[float, int]] = {}
    for i, pair in enumerate(pairs):
        far = float(apart[i])
        if far < CLEAR[_kind(seen, pair)] - _SLACK:
            key = pair.one.order, pair.other.order
            found[key] = min(found.get(key, (far, i)), (far, i))
    for far, i in found.values():
        pair, kind = pairs[i], _kind(seen, pairs[i])
        if kind == "text-on-edge" and not _reaches(seen, pair):
            continue
        verb = _SAID[kind] if far < 0 or kind == "text-on-edge" else "is not clear of"
        message = f"{named(pair.one)} {verb} {named(pair.other)}"
        if far >= 0:
            message += f": {far:.2f} mm apart, {CLEAR[kind]:g} are needed"
        yield finding(kind, message, pair.one, shapely.shortest_line(ones[i], others[i]))


def _reaches(seen: Scene, pair: Near) -> bool:
    """Whether an edge can be seen beside the text: a patch of the colour of what lies about it, and
    without an outline, has none."""
    return half(pair.other) > 0 or pair.other.fill != seen.paper


def clogged(seen: Scene) -> Iterator[Disagreement]:
    """Symbols of which two strokes that do not meet run together in print."""
    glyphs = [shape for shape in seen.of("glyph") if len(shape.subs) > 1 and half(shape) > 0]
    strokes = [[stroke(corners(sub)) for sub in shape.subs] for shape in glyphs]
    pairs = [
        (i, one, other) for i, own in enumerate(strokes) for one, other in combinations(own, 2)
    ]
    if not pairs:
        return
    owners = np.array([i for i, _, _ in pairs])
    far = shapely.distance([one for _, one, _ in pairs], [other for _, _, other in pairs])
    apart = far - np.array([shape.pen for shape in glyphs])[owners]
    bad = (far > _MEET) & (apart < CLEAR["glyph-clogged"] - _SLACK)
    for i in sorted(set(owners[bad].tolist())):
        room = float(apart[bad & (owners == i)].min())
        message = f"strokes of {named(glyphs[i])} run together: {max(room, 0):.2f} mm apart"
        yield finding("glyph-clogged", message, glyphs[i])


def astray(seen: Scene) -> Iterator[Disagreement]:
    """Letters of yarns that do not lie wholly on the chip of their round."""
    chips: dict[tuple[str, str, str], list[Shape]] = {}
    for shape in seen.of("patch"):
        if shape.tag("role") == "colour":
            chips.setdefault(_owner(shape), []).append(shape)
    for shape in seen.of("text"):
        own = chips.get(_owner(shape), []) if shape.tag("role") == "yarn" else []
        if own and not any(_within(shape, seen.drawn(chip.order)) for chip in own):
            yield finding("letter-off-chip", f"{named(shape)} does not lie on its chip", shape)


def _owner(shape: Shape) -> tuple[str, str, str]:
    return shape.tag("piece"), shape.tag("round"), shape.tag("size")


def _within(shape: Shape, patch: Geometry) -> bool:
    return all(_covers(patch, points) for points in _contours(shape))


def _contours(shape: Shape) -> Iterable[np.ndarray[Any, Any]]:
    return (contour(sub) for sub in shape.subs)


def _covers(patch: Geometry, points: np.ndarray[Any, Any]) -> bool:
    # A collection has no inside of its own to GEOS: its areas are asked one by one.
    return any(bool(shapely.covers(part, shapely.MultiPoint(points))) for part in patch.geoms)
