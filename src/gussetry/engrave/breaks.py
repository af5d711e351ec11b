"""Guide lines broken around what they pass, so that no line touches a stitch or a letter."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from gussetry.chart import Label, PlacedStitch
from gussetry.style import Style, lettering
from gussetry.style.symbols import Cup, Ring, Stroke, parts
from gussetry.units import Frame, Point

if TYPE_CHECKING:
    from shapely import STRtree

BROKEN = ("growth", "marker", "join", "rule", "start", "direction", "projection")
"""Lines that may be interrupted. Outlines, ribs and dimension lines may not."""
WHITE = 0.22
"""Millimetres of ground between a line and what it is broken around: common practice, no source."""
SHORTEST = 0.3
"""Pieces of a line shorter than this are left out, mm."""
_DEEP = frozenset("gjpqyQ,;()[]/|_…")
"""Letters that reach below the line."""
_TURN = math.pi / 8  # arcs are followed in pieces of this turn

Geometry = Any
"""A geometry of shapely, mm."""
Inked = tuple[Sequence[Point], float]
"""A stroke through points, and half the width of the pen it is drawn with, mm."""


def strokes(placed: PlacedStitch, pen: float) -> list[Inked]:
    """The strokes of a stitch as they are drawn."""
    return [
        (_points(placed.frame, part), pen / 2)
        for part in parts(placed.op, placed.pitch, placed.reach)
    ]


def _points(frame: Frame, part: Stroke | Ring | Cup) -> Sequence[Point]:
    if isinstance(part, Stroke):
        ends = (*part.points, part.points[0]) if part.closed else part.points
        return [frame.place(*point) for point in ends]
    if isinstance(part, Ring):
        return [
            frame.place(
                part.centre.x + part.rx * math.cos(n * _TURN),
                part.centre.y + part.ry * math.sin(n * _TURN),
            )
            for n in (*range(16), 0)
        ]
    return _cup(frame, part)


def _cup(frame: Frame, cup: Cup) -> Sequence[Point]:
    """The points of the smaller arc between the cup's ends."""
    half = math.dist(cup.start, cup.end) / 2
    rise = math.sqrt(max(0.0, cup.radius**2 - half**2)) * (1 if cup.open_up else -1)
    middle = Point((cup.start.x + cup.end.x) / 2, (cup.start.y + cup.end.y) / 2 + rise)
    spread = math.asin(min(1.0, half / cup.radius))
    down = -1 if cup.open_up else 1
    turns = [spread * n / 4 for n in range(-4, 5)]
    return [
        frame.place(
            middle.x + cup.radius * math.sin(turn), middle.y + down * cup.radius * math.cos(turn)
        )
        for turn in turns
    ]


def _box(label: Label, style: Style, bold: bool) -> Sequence[Point]:
    """The box of a label's letters, as deep as they reach below the line."""
    size = style.size(label.kind)
    wide = lettering.advance(label.text, size, bold)
    left = {"start": 0.0, "middle": -wide / 2, "end": -wide}[label.anchor]
    deep = lettering.DESCENT if _DEEP.intersection(label.text) else 0.02
    top, low = lettering.CAP_HEIGHT * size, -deep * size
    cos, sin = math.cos(math.radians(label.turned)), math.sin(math.radians(label.turned))
    corners = ((left, low), (left + wide, low), (left + wide, top), (left, top), (left, low))
    return [Point(label.at.x + x * cos - y * sin, label.at.y - x * sin - y * cos)
            for x, y in corners]  # fmt: skip


class Obstacles:
    """What lines are broken around: strokes of stitches with their pens, boxes of labels."""

    def __init__(self, strokes: Sequence[Inked], boxes: Sequence[Sequence[Point]]) -> None:
        # Loads shapely: late, for drawings without a line that may be broken.
        import shapely

        shapes = [*(points for points, _ in strokes), *boxes]
        # No line goes on inside an outline.
        self.geometries: list[Geometry] = [
            (
                shapely.Polygon
                if len(points) > 3 and points[0] == points[-1]
                else shapely.LineString
            )(points)
            for points in shapes
        ]
        self.halves = [half for _, half in strokes] + [0.0] * len(boxes)
        self.tree: STRtree = shapely.STRtree(self.geometries)

    def broken(self, points: Sequence[Point], pen: float) -> list[tuple[Point, ...]]:
        """The pieces of a line that keep clear of everything."""
        import shapely

        line = shapely.LineString(points)
        reach = max(self.halves, default=0.0) + pen / 2 + WHITE
        near = self.tree.query(line, predicate="dwithin", distance=reach).tolist()
        if not near:
            return [tuple(points)]
        rooms = [self.halves[i] + pen / 2 + WHITE for i in near]
        grown = shapely.buffer([self.geometries[i] for i in near], rooms, quad_segs=6)
        left = line.difference(shapely.union_all(grown))
        return [
            tuple(Point(*at) for at in part.coords)
            for part in getattr(left, "geoms", (left,))
            if part.length >= SHORTEST
        ]


def obstacles(
    stitches: Sequence[tuple[PlacedStitch, float]],
    labels: Sequence[tuple[Label, bool]],
    style: Style,
) -> Obstacles:
    """What the lines of a chart are broken around: its stitches, each with its pen, and its labels,
    each with whether it is bold."""
    return Obstacles(
        [stroke for placed, pen in stitches for stroke in strokes(placed, pen)],
        [_box(label, style, bold) for label, bold in labels if label.text.strip()],
    )
