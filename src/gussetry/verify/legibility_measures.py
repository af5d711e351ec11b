"""Measures on a schematic: each stands over the dimension line that it belongs to (ISO 129-1)."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from gussetry.verify.findings import Disagreement
from gussetry.verify.legibility_shapes import Scene, finding, named
from gussetry.verify.paths import Box, flattened
from gussetry.verify.svg import Shape

_NEAR = 1.5
"""How far under a measure its line may lie, in heights of its letters. Common practice, no
source."""
_SHARE = 0.5
"""The part of a measure that its line must underlie."""
_LEVEL = 0.05  # mm


def off_their_line(seen: Scene) -> Iterator[Disagreement]:
    """Measures with no dimension line under them along their letters."""
    lines = [shape for shape in seen.of("line") if shape.tag("role") == "dimension"]
    level = [span for shape in lines for span in _spans(shape, False)]
    upright = [span for shape in lines for span in _spans(shape, True)]
    # Where lines carry letters, the measures stand in a list.
    listed = {shape.tag("measure") for shape in seen.of("text") if shape.tag("role") == "letter"}
    for shape in seen.of("text"):
        if shape.tag("role") == "measure" and shape.tag("measure") not in listed:
            turned = shape.box.bottom - shape.box.top > shape.box.right - shape.box.left
            frame = _turned(shape.box) if turned else shape.box
            if not any(_under(frame, *span) for span in (upright if turned else level)):
                yield finding("measure-astray", f"{named(shape)} stands over no line", shape)


def _spans(shape: Shape, upright: bool) -> Iterator[tuple[float, float, float]]:
    """The level pieces of a line, each as its height, begin and end; or the upright ones, as they
    are to a reader who looks from the right."""
    for sub in shape.subs:
        points = flattened(sub)
        if upright:
            points = [point * 1j for point in points]
        for a, b in pairwise(points):
            if abs(a.imag - b.imag) < _LEVEL:
                yield a.imag, min(a.real, b.real), max(a.real, b.real)


def _turned(box: Box) -> Box:
    """The box as it stands to a reader who looks from the right: what is right is below."""
    return Box(-box.bottom, box.left, -box.top, box.right)


def _under(box: Box, height: float, begin: float, end: float) -> bool:
    tall, wide = box.bottom - box.top, box.right - box.left
    shared = min(box.right, end) - max(box.left, begin)
    return 0 < height - box.bottom < _NEAR * tall and shared >= _SHARE * wide
