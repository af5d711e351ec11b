"""Boxes of labels and lines, words broken into lines, and places spread so that none touch."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import NamedTuple

from gussetry.chart import Chart, Label, LabelKind, Line, Patch
from gussetry.style import Style, lettering
from gussetry.units import Point, text

ASCENT = 0.76
"""Height over the em of the tallest letters and brackets above the baseline, rounded up."""
SCALES = (0.5, 0.4, 1 / 3, 0.25, 0.2, 0.1)
"""Scales that a drawing falls back to: 1 : 2, 1 : 2.5, 1 : 3, 1 : 4, 1 : 5, 1 : 10."""


class Box(NamedTuple):
    """An upright rectangle, mm, y downwards."""

    left: float
    top: float
    right: float
    bottom: float


def around(boxes: Iterable[Box]) -> Box:
    """The box round all boxes. ValueError if there are none."""
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return Box(min(lefts), min(tops), max(rights), max(bottoms))


def round_points(points: Iterable[Point]) -> Box:
    """The box round points."""
    return around(Box(p.x, p.y, p.x, p.y) for p in points)


def words_width(kind: LabelKind, words: str, style: Style) -> float:
    """How far a label of that kind runs, mm."""
    return lettering.advance(words, style.size(kind), kind in ("title", "number"))


def label_box(label: Label, style: Style) -> Box:
    """The box round a label as it will be lettered."""
    size = style.size(label.kind)
    wide = words_width(label.kind, label.text, style)
    start = {"start": 0.0, "middle": -wide / 2, "end": -wide}[label.anchor]
    turned = math.radians(label.turned)
    cos, sin = math.cos(turned), math.sin(turned)
    return round_points(
        Point(label.at.x + x * cos - y * sin, label.at.y - x * sin - y * cos)
        for x in (start, start + wide)
        for y in (-lettering.DESCENT * size, ASCENT * size)
    )


def chart_box(
    patches: Iterable[Patch], lines: Iterable[Line], labels: Iterable[Label], style: Style
) -> Box:
    """The box round everything that is laid out."""
    return around(
        [round_points(patch.points) for patch in patches]
        + [round_points(line.points) for line in lines]
        + [label_box(label, style) for label in labels]
    )


_NAMING = ("round", "rounds", "row", "rows", "sheet", "sheets", "crook")
"""What a number behind it names one of; any other number counts what comes after it."""


def _bound(words: str) -> list[str]:
    """Words that no line parts: a number stays with the word that it belongs to, before it as in
    `round 33` or after it as in `6 years`, a slash with what it follows."""
    found: list[str] = []
    for word in words.split():
        before = found[-1].rsplit(None, 1)[-1] if found else ""
        named = before.strip("(").lower() in _NAMING or not word.isdigit()
        numbers = word[0].isdigit() and before[-1:].isalpha() and named
        counts = word[0].isalpha() and found[-1:] == [before] and before.isdigit()
        if before and (numbers or counts or word == "/"):
            found[-1] += f" {word}"
        else:
            found.append(word)
    return found


def wrapped(words: str, kind: LabelKind, width: float, style: Style) -> list[str]:
    """The words in lines no wider than `width`, numbers kept with their words where a line holds
    them; a word that is wider is broken."""
    lines: list[str] = []
    line = ""
    units = (
        [unit] if words_width(kind, unit, style) <= width else unit.split()
        for unit in _bound(words)
    )
    for word in (word for unit in units for word in unit):
        longer = f"{line} {word}".strip()
        if words_width(kind, longer, style) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        line = ""
        for letter in word:
            if line and words_width(kind, line + letter, style) > width:
                lines.append(line)
                line = ""
            line += letter
    return [*lines, line] if line else lines


def moved(chart: Chart, by: Point) -> Chart:
    """The chart with all its patches, lines and labels moved."""
    return replace(
        chart,
        patches=tuple(
            replace(patch, points=tuple(p.plus(by) for p in patch.points))
            for patch in chart.patches
        ),
        lines=tuple(
            replace(line, points=tuple(p.plus(by) for p in line.points)) for line in chart.lines
        ),
        labels=tuple(replace(label, at=label.at.plus(by)) for label in chart.labels),
    )


def spread(wanted: Sequence[float], apart: float, low: float, high: float) -> list[float]:
    """Places as near as can be to those wanted (rising), at least `apart` from each other and
    within `low` and `high`. Where the room is too small, evenly, above `high` if need be."""
    blocks: list[tuple[float, int]] = []
    for place, at in enumerate(wanted):
        # A block is places that stand as close as they may; its first is at the mean of the wish.
        total, count = at - place * apart, 1
        while blocks and blocks[-1][0] / blocks[-1][1] > total / count:
            before, members = blocks.pop()
            total, count = total + before, count + members
        blocks.append((total, count))
    room = max(low, high - (len(wanted) - 1) * apart)
    placed: list[float] = []
    for total, count in blocks:
        first = min(max(total / count, low), room)
        placed += [first + (len(placed) + i) * apart for i in range(count)]
    return placed


def scales(style: Style) -> tuple[float, ...]:
    """The style's own scale and the rounder ones below it, largest first."""
    return (style.scale, *(s for s in SCALES if s < style.scale - 1e-9))


def scale_text(scale: float) -> str:
    """A scale as printed: `scale 1 : 2`, `scale 3 : 4`."""
    below = 1 / scale
    if abs(below * 2 - round(below * 2)) < 1e-9:
        return f"scale 1 : {text(below)}"
    ratio = Fraction(scale).limit_denominator(20)
    return f"scale {ratio.numerator} : {ratio.denominator}"
