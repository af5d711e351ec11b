"""What strips and schematics have in common, told from their shapes: scale, legend, hatches."""

from __future__ import annotations

import re
from collections.abc import Sequence

from gussetry.stitchmap import StitchMap
from gussetry.verify.hatching import TURNS, UPRIGHT, turn
from gussetry.verify.levels import level
from gussetry.verify.outlines import ends_at, segments
from gussetry.verify.svg import Shape, colour
from gussetry.verify.tagless_parts import Parts, touches_arrow

_SCALE = re.compile(r"scale (\d+(?:\.\d+)?) : (\d+(?:\.\d+)?)")
_BESIDE = 1.5  # mm in height from a swatch to its words
_WITHIN = 0.06  # mm: a hatch stroke reaches no further out of its area


def tag_scale(parts: Parts) -> None:
    """The scale that is printed."""
    for label in parts.labels:
        found = _SCALE.fullmatch(parts.text(label))
        if found and float(found[2]) > 0:
            parts.tag(label, role="scale")
            parts.root["scale"] = repr(float(found[1]) / float(found[2]))


def tag_legend(parts: Parts, stitches: StitchMap, swatches: Sequence[Shape]) -> None:
    """Swatches, from the top down in the order of the yarns, and the words at their right."""
    for swatch in swatches:
        words = [
            label
            for label in parts.labels
            if not parts.role(label)
            and label.box.left > swatch.box.right
            and abs(level(label) - level(swatch)) < _BESIDE
        ]
        if words:
            parts.tag(swatch, role="swatch")
            first = min(words, key=lambda label: label.box.left)
            parts.tag(first, role="term")
            letter = parts.text(first).split(" ")[0]
            if letter in {own for own, _, _ in stitches.yarns}:
                parts.tag(swatch, yarn=letter)
    named = [s for s in swatches if parts.role(s)]
    told = {parts.marks[s.order].get("data-yarn") for s in named}
    left = [own for own, _, _ in stitches.yarns if own not in told]
    bare = [s for s in named if "data-yarn" not in parts.marks[s.order]]
    for swatch, letter in zip(sorted(bare, key=level), left, strict=False):
        parts.tag(swatch, yarn=letter)


def tag_hatches(parts: Parts, stitches: StitchMap, areas: Sequence[Shape]) -> None:
    """Strokes that cross areas, where most areas have the paper's colour; without a stroke all of
    them, while the yarns have others."""
    paper = next((s.fill for s in parts.page.shapes if parts.role(s) == "paper"), "#ffffff")
    plain = sum(area.fill == paper for area in areas)
    free = (line for line in parts.lines if not parts.role(line))
    found = [line for line in free if _hatches(line, areas, parts.arrows)]
    coloured = {colour(paint) for _, _, paint in stitches.yarns} != {paper}
    if (2 * plain > len(areas)) if found else (plain == len(areas) and coloured):
        parts.root["yarns"] = "hatches"
        for line in found:
            parts.tag(line, role="hatch")


def _hatches(line: Shape, areas: Sequence[Shape], arrows: Sequence[Shape]) -> bool:
    """Whether a line runs through areas in a direction of hatches: a slanted one with its middle,
    wherever its ends are, since leaders end at areas; an upright one, as dimension lines are too,
    with its whole and no arrowhead."""
    points = [point for sub in line.subs for point in (sub.start, *sub.points)]
    if len(points) != 2 or (turned := turn(points[1] - points[0])) not in TURNS:
        return False
    middle = (points[0] + points[1]) / 2
    held = [any(_holds(area, point) for area in areas) for point in (middle, *points)]
    if turned != UPRIGHT:
        return held[0]
    upright = [one for one in arrows if one.box.right - one.box.left < one.box.bottom - one.box.top]
    return all(held) and not touches_arrow(line, upright)


def _holds(area: Shape, point: complex) -> bool:
    """Whether a point lies in an area, or on its edge."""
    if not area.box.holds(point, _WITHIN):
        return False
    level = min(max(point.imag, area.box.top), area.box.bottom)
    cut = ends_at(segments([area]), level)
    return cut is not None and cut[0] - _WITHIN <= point.real <= cut[1] + _WITHIN
