"""The symbols: what strokes each stitch is drawn with, in its cell's own frame.

Local coordinates are millimetres, x to the right of `up`, y along `up`. The contract is in
DEVELOPERS.md; the recount holds its own description of the same symbols.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from gussetry.stitchmap import POSTS, Op
from gussetry.units import Point

LEG = 0.31
"""Half a leg's height over the pitch."""
BAR, CAP = 0.29, 0.26
"""Half the bar of a stitch, and half the cap on its head, over the pitch."""
_SPREAD_BAR, _TOGETHER_BAR = 0.13, 0.12
_SLASH = 0.2
_HOOK, _POST_DEPTH = 0.13, 0.42
"""Radius of the hook that a post stitch has for a foot, and how far it hangs below the middle, over
the pitch: low enough to be clear of the slash, high enough to be clear of the row below."""
PICKED = ("row end", "seam")
"""Places whose stitch wears the pick-up bar."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight stroke, or a closed polygon, through local points."""

    points: tuple[Point, ...]
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Ring:
    """A circle or an oval about a local centre; `filled`: a disc without a stroke."""

    centre: Point
    rx: float
    ry: float
    filled: bool = False


@dataclass(frozen=True, slots=True)
class Cup:
    """A small arc between two local points, `start` the left one; `open_up`: its middle is lower
    than its ends."""

    start: Point
    end: Point
    radius: float
    open_up: bool


Part = Stroke | Ring | Cup


def family(op: Op) -> str:
    """The fabric of a leg symbol: `sc`, `hdc` or `dc`; "" for the others."""
    if op.do == "inc":
        return op.of or "sc"
    stem = POSTS.get(op.do, op.do.removesuffix("2tog"))
    return stem if stem in ("sc", "hdc", "dc") else ""


def picked_up(op: Op) -> bool:
    """Whether the stitch is worked into a row end or the seam, not one of these missed."""
    return op.makes > 0 and any(isinstance(p, tuple) and p[0] in PICKED for p in op.into)


def _line(*points: tuple[float, float]) -> Stroke:
    return Stroke(tuple(Point(*p) for p in points))


def _across(foot: Point, head: Point, at: float, half: float, lean: float = 0.0) -> Stroke:
    """A bar across the leg at the share `at` of its way up, `lean` radians off the right angle."""
    dx, dy = head.x - foot.x, head.y - foot.y
    angle = math.atan2(dx, dy) + lean
    bx, by = math.cos(angle) * half, -math.sin(angle) * half
    mx, my = foot.x + dx * at, foot.y + dy * at
    return _line((mx - bx, my - by), (mx + bx, my + by))


def _leg(foot: Point, head: Point, fabric: str, half: float, p: float, cap: bool) -> list[Part]:
    parts: list[Part] = [Stroke((foot, head))]
    if fabric == "sc":
        parts.append(_across(foot, head, 0.5, half))
    if fabric in ("hdc", "dc") and cap:
        parts.append(_across(foot, head, 1.0, half))
    if fabric == "dc":
        # Of two legs each has the mirror of the other's slash, the steep ones: they stay apart.
        lean = 0.5 if head.x > foot.x else -0.5
        parts.append(_across(foot, head, 0.5, min(half, _SLASH * p), lean))
    return parts


def _legs(op: Op, p: float, reach: float) -> list[Part]:
    fabric = family(op)
    low, high = -LEG * p, LEG * p
    if op.do == "inc":
        half = min(_SPREAD_BAR * p, 0.42 * reach)
        foot = Point(0, low)
        return [
            part
            for side in (-1, 1)
            for part in _leg(foot, Point(side * reach, high), fabric, half, p, True)
        ]
    if op.do.endswith("2tog"):
        half = min(_TOGETHER_BAR * p, 0.42 * reach)
        head = Point(0, high)
        parts = [
            part
            for side in (-1, 1)
            for part in _leg(Point(side * reach, low), head, fabric, half, p, False)
        ]
        if fabric != "sc":
            parts.append(_line((-CAP * p, high), (CAP * p, high)))
        return parts
    if op.do in POSTS:
        return _post(op, p)
    half = BAR * p if fabric == "sc" else CAP * p
    return _leg(Point(0, low), Point(0, high), fabric, half, p, True)


def _post(op: Op, p: float) -> list[Part]:
    """A leg whose foot is a hook, as the hook goes round the post: to the right of `up` from the
    front, to the left from the back."""
    foot = Point(0, (_HOOK - _POST_DEPTH) * p)
    tip = Point((2 if op.do.startswith("fp") else -2) * _HOOK * p, foot.y)
    ends = sorted((foot, tip))
    hook = Cup(ends[0], ends[1], _HOOK * p, True)
    return [*_leg(foot, Point(0, LEG * p), POSTS[op.do], CAP * p, p, True), hook]


def _additions(op: Op, p: float) -> list[Part]:
    low, high = -LEG * p, LEG * p
    parts: list[Part] = []
    if picked_up(op):
        # Between two feet it is shorter, clear of both.
        half = (0.16 if op.do.endswith("2tog") else 0.2) * p
        parts.append(_line((-half, low), (half, low)))
    if op.loop != "both":
        ends = low - (0.12 if op.loop == "back" else 0.28) * p
        parts.append(Cup(Point(-0.15 * p, ends), Point(0.15 * p, ends), 0.17 * p,
                         op.loop == "back"))  # fmt: skip
    if op.held:
        # Between the caps of an increase it is shorter, clear of both.
        over, half = high + 0.19 * p, (0.24 if op.do == "inc" else 0.3) * p
        parts.append(_line((-half, over), (half, over)))
    return parts


def _own(do: str, p: float) -> list[Part]:
    if do == "ch":
        return [Ring(Point(0, 0), 0.29 * p, 0.16 * p)]
    if do == "slst":
        return [Ring(Point(0, 0), 0.13 * p, 0.13 * p, filled=True)]
    if do == "hold":
        s = 0.2 * p
        return [Stroke((Point(-s, -s), Point(s, -s), Point(s, s), Point(-s, s)), closed=True)]
    if do == "skip":
        return [_line((-0.22 * p, 0), (0.22 * p, 0))]
    if do == "join":
        w, h = 0.32 * p, 0.22 * p
        return [
            Stroke((Point(-w, h), Point(-w, -h), Point(0, 0)), closed=True),
            Stroke((Point(w, h), Point(w, -h), Point(0, 0)), closed=True),
        ]
    if do == "seam":
        w, h, r = 0.27 * p, 0.24 * p, 0.07 * p
        edges: list[Part] = [_line((-w, side), (w, side)) for side in (h, -h)]
        return [*edges, Ring(Point(0, 0), r, r, filled=True)]
    if do == "close":
        return [Ring(Point(0, 0), 0.4 * p, 0.4 * p), Ring(Point(0, 0), 0.18 * p, 0.18 * p)]
    raise ValueError(f"no symbol for {do}")


def parts(op: Op, pitch: float, reach: float) -> tuple[Part, ...]:
    """The strokes of an operation's symbol; `pitch` and `reach` in mm. ValueError for `turn`."""
    if family(op):
        return (*_legs(op, pitch, reach), *_additions(op, pitch))
    return tuple(_own(op.do, pitch))
