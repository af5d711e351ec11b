"""Outlines of hand, thumb and cuff to scale, from the counts of every round.

Millimetres on the drawing, y downwards; the origin is the hand's centre line at the foot of the
pick-up round. Drawn flat, a round is half as wide as it is long.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from gussetry.grading import finished
from gussetry.stitchmap import Round, StitchMap
from gussetry.units import Point

LEAN = math.tan(math.radians(25))
"""How far the thumb leans outwards for each mm of its length. Every round of it stays level, so
that its widths and its length are true to scale."""


class Outline(NamedTuple):
    """The closed outline of a piece of one size."""

    piece: str
    size: str
    points: tuple[Point, ...]


def _half(stitches: StitchMap, count: int, scale: float) -> float:
    """A round's width when it lies flat, mm on the drawing."""
    return float(count * stitches.fabric.width) / 2 * scale


def _step(stitches: StitchMap, scale: float) -> float:
    return float(stitches.fabric.height) * scale


_TIP = ("thumb sides", "close")
_ENDS = ("crown", "close", "draw shut", "edging")


def widest(stitches: StitchMap) -> Round:
    """The round that the hand's width is taken from: the division, which sets the thumb's stitches
    aside, or without a thumb the last round before the crown."""
    hand = stitches.piece("hand")
    assert hand is not None
    below = [r for r in hand.counted if not r.phase.startswith(_ENDS)]
    return next((r for r in below if r.phase == "division"), below[-1])


def edge(stitches: StitchMap, scale: float) -> Point:
    """The hand's edge on the thumb side at the top of its widest round: the crook, where hand and
    thumb part."""
    widest_ = widest(stitches)
    x = _half(stitches, widest_.count, scale) / 2
    return Point(x, -widest_.number * _step(stitches, scale))


def _outer(stitches: StitchMap, scale: float) -> float:
    """The x of the outer edge at the foot of the pick-up round."""
    piece = stitches.piece("hand")
    assert piece is not None
    foot = widest(stitches) if stitches.piece("thumb") else piece.counted[0]
    return -_half(stitches, foot.count, scale) / 2


class Sides(NamedTuple):
    """Both sides of a piece: the left corner at the foot and at the top of every round, and the
    right corners there, more than one where it has a ledge, lowest first."""

    left: tuple[Point, ...]
    right: tuple[tuple[Point, ...], ...]

    def between(self, first: int, last: int) -> tuple[Point, ...]:
        """The outline of rounds `first` to `last`, counted from 1. A ledge at its foot is below
        it, one at its top is its own."""
        up = [self.right[first - 1][-1]]
        up += [point for corners in self.right[first:last] for point in corners]
        up.append(self.right[last][0])
        return (*self.left[first - 1 : last + 1], *reversed(up))

    @property
    def outline(self) -> tuple[Point, ...]:
        """The whole outline, from the foot up the left side and down the right."""
        up = [point for corners in self.right for point in corners]
        return (*self.left, *reversed(up))


def hand_sides(stitches: StitchMap, scale: float) -> Sides:
    """The hand's sides, a corner at the top of every round.

    Up to the division the outer edge is straight and the gusset widens the thumb side, where it
    ends in a ledge that carries the thumb. Above it, and without a thumb from the first round on,
    both edges lie about the centre line. An open hand ends in a straight edge.
    """
    piece = stitches.piece("hand")
    assert piece is not None
    divided = widest(stitches).number if stitches.piece("thumb") else 0
    step = _step(stitches, scale)
    outer = _outer(stitches, scale)
    first = outer + _half(stitches, piece.counted[0].count, scale)
    left, right = [Point(outer, 0.0)], [(Point(first, 0.0),)]
    for round_ in piece.counted:
        y = -round_.number * step
        wide = _half(stitches, round_.count, scale)
        from_left = outer if round_.number <= divided else -wide / 2
        left.append(Point(from_left, y))
        # The division round is worked over the whole gusset before it is set aside.
        ledge = (Point(right[-1][-1].x, y),) if round_.number == divided else ()
        right.append((*ledge, Point(from_left + wide, y)))
    return Sides(tuple(left), tuple(right))


def hand(stitches: StitchMap, scale: float) -> Outline:
    """The hand, from the pick-up round's foot up."""
    return Outline("hand", stitches.size, hand_sides(stitches, scale).outline)


def _ledge(stitches: StitchMap, scale: float) -> Point:
    """The outer end of the division's ledge, where the gusset ends."""
    top = hand_sides(stitches, scale).right[widest(stitches).number][0]
    return Point(top.x, edge(stitches, scale).y)


def thumb_sides(stitches: StitchMap, scale: float) -> Sides:
    """The thumb's sides; its outer edge goes on from the gusset's, and it leans outwards up to
    where it narrows to its tip.

    What it is wider than the ledge, by the chains that hand and thumb share, lies over the hand;
    where joined stitches make it narrower the ledge is open at the crook.
    """
    piece = stitches.piece("thumb")
    assert piece is not None
    foot = _ledge(stitches, scale)
    step = _step(stitches, scale)
    middle = foot.x - _half(stitches, piece.counted[0].count, scale) / 2
    left, right = [Point(2 * middle - foot.x, foot.y)], [(foot,)]
    tip = False
    for i, round_ in enumerate(piece.counted, 1):
        tip = tip or round_.phase.startswith(_TIP)
        middle += 0.0 if tip else step * LEAN
        wide = _half(stitches, round_.count, scale)
        left.append(Point(middle - wide / 2, foot.y - i * step))
        right.append((Point(middle + wide / 2, foot.y - i * step),))
    return Sides(tuple(left), tuple(right))


def thumb(stitches: StitchMap, scale: float) -> Outline:
    """The thumb, from the crook up."""
    return Outline("thumb", stitches.size, thumb_sides(stitches, scale).outline)


def cuff(stitches: StitchMap, scale: float) -> Outline | None:
    """The cuff, a rectangle under the middle of the pick-up round; None where there is none."""
    measures = finished(stitches)
    piece = stitches.piece("hand")
    if "cuff depth" not in measures or piece is None:
        return None
    middle = _outer(stitches, scale) + _half(stitches, piece.counted[0].count, scale) / 2
    across = float(measures["cuff circumference"]) / 4 * scale
    deep = float(measures["cuff depth"]) * scale
    corners = ((-across, deep), (-across, 0.0), (across, 0.0), (across, deep))
    return Outline("cuff", stitches.size, tuple(Point(middle + x, y) for x, y in corners))


def of(stitches: StitchMap, scale: float) -> tuple[Outline, ...]:
    """The outlines of a mitten's pieces, cuff first."""
    below = cuff(stitches, scale)
    beside = thumb(stitches, scale) if stitches.piece("thumb") else None
    return tuple(outline for outline in (below, hand(stitches, scale), beside) if outline)


def thumb_around(stitches: StitchMap, scale: float) -> tuple[tuple[Point, Point], ...]:
    """Where the thumb's circumference can be measured: its edges at the top of the last round that
    decreases at the crook, and half-way up each later one with as many stitches."""
    piece = stitches.piece("thumb")
    assert piece is not None
    rounds = piece.counted
    shaped = [i for i, r in enumerate(rounds, 1) if r.phase == "thumb crook"]
    at = shaped[-1] if shaped else 1
    sides = thumb_sides(stitches, scale)
    even = [i for i, r in enumerate(rounds[at:], at + 1) if r.count == rounds[at - 1].count]
    found = [(sides.left[at], sides.right[at][0])]
    for i in even:
        corners = zip((sides.left[i], sides.right[i][0]),
                      (sides.left[i - 1], sides.right[i - 1][0]), strict=True)  # fmt: skip
        left, right = (a.plus(b).times(0.5) for a, b in corners)
        found.append((left, right))
    return tuple(found)


def edges(points: Sequence[Point], y: float) -> tuple[float, float] | None:
    """The leftmost and the rightmost x of an outline at a height; None above or below it."""
    cuts = []
    for a, b in zip(points, (*points[1:], *points[:1]), strict=True):
        if a.y != b.y and min(a.y, b.y) <= y <= max(a.y, b.y):
            cuts.append(a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y))
    return (min(cuts), max(cuts)) if cuts else None


def leftmost(points: Sequence[Point], top: float, low: float) -> float:
    """The leftmost x of an outline between two heights; infinite where it has nothing there."""
    cuts = [cut for y in (top, low) if (cut := edges(points, y))]
    within = [p.x for p in points if top <= p.y <= low]
    return min([*(left for left, _ in cuts), *within], default=math.inf)


def crossings(points: Sequence[Point], a: Point, b: Point) -> Iterator[float]:
    """Where a straight line from `a` to `b` crosses an outline, as shares of its length."""
    way = Point(b.x - a.x, b.y - a.y)
    for one, other in zip(points, (*points[1:], *points[:1]), strict=True):
        along = Point(other.x - one.x, other.y - one.y)
        turn = way.x * along.y - way.y * along.x
        if turn == 0:
            continue
        off = Point(one.x - a.x, one.y - a.y)
        share = (off.x * along.y - off.y * along.x) / turn
        at = (off.x * way.y - off.y * way.x) / turn
        if 0 < share < 1 and 0 <= at <= 1:
            yield share


def top_at(points: Sequence[Point], x: float) -> float:
    """The y of an outline's highest point on an upright line."""
    cuts = [
        a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x)
        for a, b in zip(points, (*points[1:], *points[:1]), strict=True)
        if a.x != b.x and min(a.x, b.x) <= x <= max(a.x, b.x)
    ]
    return min(cuts)


def ribs(stitches: StitchMap, scale: float) -> list[tuple[Point, Point]]:
    """The grooves of a ribbed cuff, one every two rows, or every two post stitches."""
    outline, rib, piece = cuff(stitches, scale), stitches.rib, stitches.piece("cuff")
    if outline is None or rib is None or piece is None:
        return []
    left, deep, right = outline.points[0].x, outline.points[0].y, outline.points[2].x
    apart = 2 * float(rib.height if piece.worked == "rows" else rib.width) * scale
    found = []
    for i in range(1, math.ceil((right - left) / apart)):
        x = left + i * apart
        if left + 0.3 * apart < x < right - 0.3 * apart:
            found.append((Point(x, deep), Point(x, 0.0)))
    return found
