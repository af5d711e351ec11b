"""Shapes line by line, by the distances between their middles and not by a grid of heights: two
that stand level may fall on either side of any fixed step."""

from __future__ import annotations

import math
from collections.abc import Iterable

from gussetry.verify.svg import Shape


def level(shape: Shape) -> float:
    """How high on the page the middle of a shape is."""
    return shape.box.centre.imag


def in_lines(shapes: Iterable[Shape], apart: float) -> list[list[Shape]]:
    """Shapes by their height on the page, from the top down, each line from the left: a new line
    where the next is further down than `apart`, mm."""
    lines: list[list[Shape]] = []
    last = -math.inf
    for shape in sorted(shapes, key=level):
        if level(shape) - last > apart:
            lines.append([])
        last = level(shape)
        lines[-1].append(shape)
    return [sorted(line, key=lambda shape: shape.box.centre.real) for line in lines]
