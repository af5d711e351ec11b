"""Charts for left-handed makers: the mirror of the whole, with symbols and letters upright."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Literal

from gussetry.chart import Chart, Label, Line, Patch, PlacedStitch
from gussetry.layout.boxes import Box, around, chart_box
from gussetry.stitchmap import Mitten, StitchMap
from gussetry.style import Style
from gussetry.units import Frame, Point

AROUND = ("title", "note", "term")
"""Roles of the words that stand above and below a chart: they stay where they are read."""

_WAYS = {
    "right to left": "left to right",
    "left to right": "right to left",
    "clockwise": "anticlockwise",
}
_MITTENS: dict[Mitten, Mitten] = {"left": "right", "right": "left", "both": "both"}
_Anchor = Literal["start", "middle", "end"]
_ANCHORS: dict[_Anchor, _Anchor] = {"start": "end", "middle": "middle", "end": "start"}


def left_handed(style: Style) -> bool:
    """Whether the style draws for a left-handed maker alone."""
    return style.hand == "left"


def other_mitten(stitches: StitchMap) -> StitchMap:
    """What a left-handed maker gets who works the same stitches: a right mitten of a left's map."""
    return replace(stitches, mitten=_MITTENS[stitches.mitten])


def named_for(name: str, style: Style) -> str:
    """A chart's title for the hand that the style draws for."""
    return f"{name}, left-handed" if left_handed(style) else name


def ways_for(how: str, style: Style) -> str:
    """How a chart is read, with the ways that hold for the hand that the style draws for."""
    if not left_handed(style):
        return how
    return re.sub("|".join(_WAYS), lambda way: _WAYS[way[0]], how)


def mirrored(chart: Chart, style: Style, margin: float) -> Chart:
    """The chart turned over left for right: a crown about its middle, rows so that they begin at
    the margin, mm. Every symbol and letter stays as it is, and so do heading and key."""
    said = [_role(label) for label in chart.labels]
    within = [label for label, role in zip(chart.labels, said, strict=True) if role not in AROUND]
    ends = chart.width
    if chart.kind != "crown":
        cells = [_cell(s) for s in chart.stitches if not _in_key(s)]
        # Register marks stand beyond the rows, in the margins.
        inner = [line for line in chart.lines if line.kind != "register"]
        box = around([*cells, chart_box(chart.patches, inner, within, style)])
        ends = margin + box.right
    return replace(
        chart,
        patches=tuple(_patch(patch, ends) for patch in chart.patches),
        lines=tuple(_line(line, ends) for line in chart.lines),
        stitches=tuple(s if _in_key(s) else _stitch(s, ends) for s in chart.stitches),
        labels=tuple(
            label if role in AROUND else _label(label, ends)
            for label, role in zip(chart.labels, said, strict=True)
        ),
        tags=(*chart.tags, ("data-hand", "left")),
    )


def _role(label: Label) -> str:
    return dict(label.tags).get("data-role", "")


def _in_key(stitch: PlacedStitch) -> bool:
    return ("class", "symbol") in stitch.tags


def _cell(stitch: PlacedStitch) -> Box:
    (x, y), half = stitch.frame.origin, stitch.pitch / 2
    return Box(x - half, y - half, x + half, y + half)


def _point(point: Point, ends: float) -> Point:
    return Point(ends - point.x, point.y)


def _patch(patch: Patch, ends: float) -> Patch:
    return replace(patch, points=tuple(_point(p, ends) for p in patch.points))


def _line(line: Line, ends: float) -> Line:
    return replace(line, points=tuple(_point(p, ends) for p in line.points))


def _stitch(stitch: PlacedStitch, ends: float) -> PlacedStitch:
    up = Point(-stitch.frame.up.x, stitch.frame.up.y)
    return replace(stitch, frame=Frame(_point(stitch.frame.origin, ends), up))


def _label(label: Label, ends: float) -> Label:
    return replace(
        label, at=_point(label.at, ends), anchor=_ANCHORS[label.anchor], turned=-label.turned
    )
