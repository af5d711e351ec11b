"""What hangs at a leg's foot: the arc of a loop, or the hook that goes round a post."""

from __future__ import annotations

from itertools import groupby

from gussetry.verify.lines import Stroke, across, along
from gussetry.verify.paths import Subpath

_POINTS = {"L": 1, "Q": 2, "C": 3, "A": 1}


def parted(sub: Subpath) -> list[Subpath]:
    """The subpath where it bends into a curve or out of one: a leg and its hook may be drawn
    without lifting the pen."""
    parts: list[Subpath] = []
    start, at, arc = sub.start, 0, 0
    for _, run in groupby(sub.steps, "L".__eq__):
        steps = "".join(run)
        points = sub.points[at : at + sum(_POINTS[step] for step in steps)]
        arcs = sub.arcs[arc : arc + steps.count("A")]
        parts.append(Subpath(start, steps, points, False, arcs))
        start, at, arc = points[-1], at + len(points), arc + len(arcs)
    return parts


def hook(arc: list[complex], leg: Stroke, up: complex, near: float) -> str | None:
    """`fp` where the leg's foot curls to the right of `up`, `bp` to the left; None where the arc
    is no hook: it begins on the foot, hangs below it, and its tip comes up again at the side."""
    length = abs(leg.b - leg.a)
    ends = sorted((arc[0], arc[-1]), key=lambda end: abs(end - leg.a))
    if abs(ends[0] - leg.a) > near:
        return None
    aside, rise = across(ends[1] - leg.a, up), along(ends[1] - leg.a, up)
    depth = -min(along(point - leg.a, up) for point in arc)
    hangs = 0.05 * length < depth < 0.5 * length and rise > 0.05 * length - depth
    if not hangs or rise > 0.3 * length or not 0.15 * length < abs(aside) < 0.8 * length:
        return None
    return "fp" if aside > 0 else "bp"


def loop(arcs: list[list[complex]], legs: list[Stroke], up: complex) -> str | None:
    """`both` without an arc, `back` or `front` with arcs below the feet; None for a stray arc."""
    length = abs(legs[0].b - legs[0].a)
    feet = [leg.a for leg in legs] + [sum(leg.a for leg in legs) / len(legs)]
    loops = set()
    for points in arcs:
        chord = (points[0] + points[-1]) / 2
        middle = points[len(points) // 2]
        highest = max(along(point, up) for point in points)
        rise = along(chord - middle, up)
        if (
            highest >= min(along(foot, up) for foot in feet)
            or min(abs(middle - foot) for foot in feet) > 0.6 * length
            or abs(rise) < 0.05 * abs(points[0] - points[-1])
        ):
            return None
        loops.add("back" if rise > 0 else "front")
    if not loops:
        return "both"
    return loops.pop() if len(loops) == 1 and len(arcs) <= len(legs) else None
