"""What strips and schematics have in common, told from their shapes: scale, legend, hatches."""

from __future__ import annotations

import re
from collections.abc import Sequence

from gussetry.stitchmap import StitchMap
from gussetry.verify.levels import level
from gussetry.verify.svg import Shape, colour
from gussetry.verify.tagless_parts import Parts, ends

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
    """Strokes that lie within an area, where all areas have the paper's colour and the yarns have
    others."""
    paper = next((s.fill for s in parts.page.shapes if parts.role(s) == "paper"), "#ffffff")
    fills = {area.fill for area in areas}
    if fills != {paper} or {colour(paint) for _, _, paint in stitches.yarns} == fills:
        return
    parts.root["yarns"] = "hatches"
    for line in parts.lines:
        if any(all(area.box.holds(end, _WITHIN) for end in ends(line)) for area in areas):
            parts.tag(line, role="hatch")
