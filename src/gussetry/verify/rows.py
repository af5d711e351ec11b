"""Rows and rings found from coordinates alone: no tag and no order in the file is looked at."""

from __future__ import annotations

import cmath
import math
from collections import defaultdict
from collections.abc import Sequence
from statistics import median
from typing import NamedTuple

from gussetry.verify.svg import Shape

APART = 0.8
"""Pitches that neighbours and rows stand apart at least, by the drawing contract."""


class Row(NamedTuple):
    """A row of a grid or a ring of a crown.

    `level` is its height on the page (mm, y downwards) or its radius; `items` stand left to right
    on a grid, clockwise from the start ray on a ring. `bridge`: chains that stand above the
    row's stitches and belong to it, left to right.
    """

    level: float
    items: tuple[Shape, ...]
    bridge: tuple[Shape, ...] = ()


def pitch_of(places: Sequence[complex]) -> float:
    """The least usual distance of neighbours, 0 where there are none.

    The tenth part of the stitches that stand closest is passed over, so that a few stacked ones
    do not set the measure for the rest.
    """
    if len(places) < 2:
        return 0.0
    nearest = nearest_distances(places)
    return nearest[len(nearest) // 10]


def nearest_distances(places: Sequence[complex]) -> list[float]:
    """For each place the distance to the place nearest to it, smallest first."""
    xs, ys = [p.real for p in places], [p.imag for p in places]
    area = (max(xs) - min(xs)) * (max(ys) - min(ys))
    span = max(max(xs) - min(xs), max(ys) - min(ys), 1e-6)
    cell = max(math.sqrt(area / len(places)) * 1.5, span / 500)
    cells: dict[tuple[int, int], list[complex]] = defaultdict(list)
    for p in places:
        cells[int(p.real // cell), int(p.imag // cell)].append(p)
    found = []
    for (x, y), inner in cells.items():
        around = [q for i in (-1, 0, 1) for j in (-1, 0, 1) for q in cells.get((x + i, y + j), ())]
        for p in inner:
            if len(around) > 1:
                found.append(sorted(abs(p - q) for q in around)[1])
    return sorted(found) or [0.0]


def _levels(heights: Sequence[tuple[float, Shape]], pitch: float) -> list[list[Shape]]:
    """Shapes of one height each, lowest number first."""
    groups: list[list[Shape]] = []
    first = last = -math.inf
    for height, shape in sorted(heights, key=lambda item: item[0]):
        if height - last > 0.3 * pitch or height - first > 0.55 * pitch:
            groups.append([])
            first = height
        last = height
        groups[-1].append(shape)
    return groups


def grid_rows(shapes: Sequence[Shape], pitch: float) -> list[Row]:
    """The rows of a grid, lowest on the page first."""
    rows = []
    for group in _levels([(s.box.centre.imag, s) for s in shapes], pitch):
        level = median(s.box.centre.imag for s in group)
        rows.append(Row(level, tuple(sorted(group, key=lambda s: s.box.centre.real))))
    return rows[::-1]


def _circle_centre(points: Sequence[complex]) -> complex | None:
    """The centre of the circle that fits the points best (least squares, Kåsa 1976)."""
    n = len(points)
    base = sum(points) / n
    u = [p - base for p in points]
    xx, yy = sum(p.real**2 for p in u), sum(p.imag**2 for p in u)
    xy = sum(p.real * p.imag for p in u)
    right_x = sum(p.real * abs(p) ** 2 for p in u) / 2
    right_y = sum(p.imag * abs(p) ** 2 for p in u) / 2
    det = xx * yy - xy * xy
    if det < 1e-9 * (xx + yy) ** 2:
        return None
    return base + complex(right_x * yy - right_y * xy, right_y * xx - right_x * xy) / det


def ring_centre(places: Sequence[complex], pitch: float, guess: complex | None = None) -> complex:
    """The common centre of the rings, fitted to each of them, the middle of all fits.

    `guess` is a first estimate, kept where every ring has too few stitches for a fit; without it
    the middle of all places.
    """
    xs, ys = [p.real for p in places], [p.imag for p in places]
    centre = complex((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2) if guess is None else guess
    for _ in range(3):
        rings: list[list[complex]] = [[]]
        last = 0.0
        for place in sorted(places, key=lambda p: abs(p - centre)):
            radius = abs(place - centre)
            if radius - last > 0.3 * pitch:
                rings.append([])
            last = radius
            rings[-1].append(place)
        fits = [
            fit for ring in rings if len(ring) > 5 and (fit := _circle_centre(ring)) is not None
        ]
        if not fits:
            break
        centre = complex(median(f.real for f in fits), median(f.imag for f in fits))
    return centre


def ring_rows(shapes: Sequence[Shape], centre: complex, pitch: float, left: bool) -> list[Row]:
    """The rings, outermost first, each in order of working from the ray that points straight up:
    clockwise, or anticlockwise on a left-handed chart."""
    rows = []
    for group in _levels([(abs(s.box.centre - centre), s) for s in shapes], pitch):
        level = median(abs(s.box.centre - centre) for s in group)
        # A first stitch may stand on the ray itself: a quarter of a cell of grace.
        grace = math.pi / 2 / len(group)

        def turned(shape: Shape, grace: float = grace) -> float:
            away = shape.box.centre - centre
            angle = math.atan2(away.real, -away.imag) * (-1 if left else 1)
            return (angle + grace) % (2 * math.pi)

        rows.append(Row(level, tuple(sorted(group, key=turned))))
    return rows[::-1]


def up_to(centre: complex, place: complex) -> complex:
    """The unit vector from a place towards the centre; up the page at the centre itself."""
    away = centre - place
    return away / abs(away) if abs(away) > 1e-6 else cmath.rect(1, -math.pi / 2)
