"""Straight strokes and the two ways to measure along them. Complex numbers, y downwards."""

from __future__ import annotations

from typing import NamedTuple


def along(vector: complex, way: complex) -> float:
    """The length of `vector` along the unit vector `way`."""
    return vector.real * way.real + vector.imag * way.imag


def across(vector: complex, way: complex) -> float:
    """The length of `vector` to the right of the unit vector `way` (y runs downwards)."""
    return vector.imag * way.real - vector.real * way.imag


class Stroke(NamedTuple):
    """A straight stroke."""

    a: complex
    b: complex

    @property
    def middle(self) -> complex:
        """Half-way between its ends."""
        return (self.a + self.b) / 2

    @property
    def way(self) -> complex:
        """Its direction, a unit vector."""
        return (self.b - self.a) / abs(self.b - self.a)
