"""Yarns told by hatches instead of colours, for print in black: plain strokes, no patterns."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from gussetry.chart import Chart, Line, Patch
from gussetry.units import Point


class Hatch(NamedTuple):
    """Strokes at `turns` degrees anticlockwise from level, `apart` mm from each other."""

    turns: tuple[float, ...]
    apart: float


_WIDE, _CLOSE = 1.8, 0.9
"""Parallel lines stand at least 0.7 mm apart (ISO 128), pen and gap."""
_PLAIN: tuple[tuple[float, ...], ...] = ((45.0,), (45.0, 135.0), (90.0,), (135.0,))
_MIXED: tuple[tuple[float, ...], ...] = ((45.0, 90.0), (90.0, 135.0), (45.0, 90.0, 135.0))
HATCHES = (
    Hatch((), _WIDE),
    *(Hatch(turns, _WIDE) for turns in _PLAIN),
    *(Hatch(turns, _CLOSE) for turns in _PLAIN),
    *(Hatch(turns, _WIDE) for turns in _MIXED),
)
"""The hatches of the yarns in the order in which they are declared, the most that there can be:
the first is left white, those most easily told apart come first."""

_HATCHED = ("stripe", "swatch")
_TOUCH = 1e-6


def _crossings(corners: Sequence[Point], turn: float, at: float) -> list[float]:
    """Where the stroke line `at` mm off the page's corner crosses an outline, along the line."""
    cos, sin = math.cos(math.radians(turn)), -math.sin(math.radians(turn))
    found = []
    for a, b in pairwise((*corners, corners[0])):
        off_a, off_b = (p.y * cos - p.x * sin - at for p in (a, b))
        if (off_a > 0) != (off_b > 0):
            share = off_a / (off_a - off_b)
            x, y = a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)
            found.append(x * cos + y * sin)
    return sorted(found)


def _numbers(corners: Sequence[Point], turn: float, apart: float) -> range:
    """The stroke lines that can cross an outline. They are counted from the page's corner, so that
    the strokes of neighbouring patches meet."""
    cos, sin = math.cos(math.radians(turn)), -math.sin(math.radians(turn))
    offs = [p.y * cos - p.x * sin for p in corners]
    return range(math.ceil(min(offs) / apart), math.floor(max(offs) / apart) + 1)


def _spans(corners: Sequence[Point], turn: float, at: float) -> list[tuple[float, float]]:
    """What of a stroke line lies within an outline."""
    ends = _crossings(corners, turn, at)
    return list(zip(ends[::2], ends[1::2], strict=True))


def _strokes(
    patches: Sequence[Patch], over: Sequence[Patch], turn: float, apart: float
) -> Iterator[tuple[Point, Point]]:
    """The strokes of one direction over all patches of a yarn, whole where patches touch, none
    of the hand's where the thumb's lie `over` it."""
    lines: dict[int, list[tuple[float, float]]] = defaultdict(list)
    for patch in patches:
        above = [p for p in over if _piece(patch) == "hand" and _piece(p) == "thumb"]
        for number in _numbers(patch.points, turn, apart):
            spans = _spans(patch.points, turn, number * apart)
            for other in above:
                for start, end in _spans(other.points, turn, number * apart):
                    spans = list(_without(spans, start, end))
            lines[number] += spans
    cos, sin = math.cos(math.radians(turn)), -math.sin(math.radians(turn))
    for number, parts in sorted(lines.items()):
        at = number * apart
        for start, end in _joined(parts):
            yield (Point(start * cos - at * sin, start * sin + at * cos),
                   Point(end * cos - at * sin, end * sin + at * cos))  # fmt: skip


def _piece(patch: Patch) -> str:
    return dict(patch.tags).get("data-piece", "")


def _without(
    spans: Sequence[tuple[float, float]], start: float, end: float
) -> Iterator[tuple[float, float]]:
    """What of the spans lies before and after a stretch."""
    for low, high in spans:
        yield from ((a, b) for a, b in ((low, min(high, start)), (max(low, end), high)) if a < b)


def _joined(parts: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """The spans in order, those that touch as one."""
    found: list[tuple[float, float]] = []
    for start, end in sorted(parts):
        if found and start <= found[-1][1] + _TOUCH:
            found[-1] = (found[-1][0], max(end, found[-1][1]))
        else:
            found.append((start, end))
    return found


def hatched(chart: Chart, yarns: Sequence[str]) -> Chart:
    """The chart without colours: every patch an outlined box, letters on plain paper, and stripes
    and swatches hatched by their yarn's place among `yarns`, the letters as declared."""
    lines: list[Line] = []
    for letter, hatch in zip(yarns, HATCHES[: len(yarns)], strict=True):
        own = [
            patch
            for patch in chart.patches
            if patch.yarn == letter and dict(patch.tags).get("data-role") in _HATCHED
        ]
        tags = (("data-role", "hatch"), ("data-yarn", letter))
        for turn in hatch.turns:
            lines += [
                Line("hatch", ends, tags=tags)
                for ends in _strokes(own, chart.patches, turn, hatch.apart)
            ]
    return replace(
        chart,
        patches=tuple(
            replace(p, yarn="", colour="", outlined=True) if p.yarn else p for p in chart.patches
        ),
        lines=(*lines, *(replace(line, ground="") for line in chart.lines)),
        labels=tuple(replace(label, ground="") for label in chart.labels),
        tags=(*chart.tags, ("data-yarns", "hatches")),
    )
