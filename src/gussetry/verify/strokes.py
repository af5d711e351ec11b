"""What a symbol is, told from its strokes and their contacts alone.

Nothing here knows how a symbol is drawn: legs are straight strokes from foot to head, bars are
other straight strokes, and what meets what decides. `up` is the unit vector from foot to head, a
complex number on a page whose y runs downwards.
"""

from __future__ import annotations

from itertools import combinations, pairwise
from typing import NamedTuple

from gussetry.stitchmap import Op
from gussetry.verify.feet import hook, loop, parted
from gussetry.verify.lines import Stroke, across, along
from gussetry.verify.paths import Subpath, flattened

POSTS = {"fphdc", "bphdc", "fpdc", "bpdc"}
LEGGED = {"sc", "hdc", "dc", "inc", "sc2tog", "hdc2tog", "dc2tog"}
_PLACES_OF_PICK_UP = {"row end", "seam"}


class Symbol(NamedTuple):
    """A symbol's meaning: the operation, an increase's stitch, the loop, picked up, held."""

    do: str
    of: str = ""
    loop: str = "both"
    pick_up: bool = False
    held: bool = False

    def __str__(self) -> str:
        """The symbol in words: `inc of sc, back loop`."""
        words = self.do + (f" of {self.of}" if self.of else "")
        if self.loop != "both":
            words += f", {self.loop} loop"
        return words + (", picked up" if self.pick_up else "") + (", held" if self.held else "")


def symbol_of(op: Op, fabric_stitch: str) -> Symbol:
    """The symbol that the operation asks for, in a fabric of that stitch."""
    if op.do not in LEGGED:
        return Symbol(op.do)
    return Symbol(
        op.do,
        (op.of or fabric_stitch) if op.do == "inc" else "",
        op.loop,
        any(isinstance(p, tuple) and p[0] in _PLACES_OF_PICK_UP for p in op.into),
        op.held,
    )


def read_symbol(
    subs: tuple[Subpath, ...], up: complex, *, filled: bool, stroked: bool
) -> Symbol | None:
    """The symbol that these strokes draw, None where they draw none that is known."""
    closed = [s for s in subs if s.closed or (s.points and abs(s.points[-1] - s.start) < 1e-6)]
    if filled and stroked and len(closed) == 1 and len(subs) == 3:
        edges = [stroke for sub in subs if sub not in closed for stroke in _edge(sub)]
        return _seam(flattened(closed[0]), edges, up)
    if closed:
        return _closed_symbol(closed, len(subs), up, filled, stroked)
    if not stroked or filled:
        return None
    strokes: list[Stroke] = []
    arcs: list[list[complex]] = []
    for sub in (part for whole in subs for part in parted(whole)):
        if sub.straight:
            strokes += _straight(sub)
        else:
            arcs.append(flattened(sub))
    if not strokes or len(strokes) > 9:
        return None
    return _legged(strokes, arcs, up)


# --- closed shapes ----------------------------------------------------------------------------


def _corners(sub: Subpath) -> list[complex]:
    points = [sub.start, *sub.points]
    if abs(points[-1] - points[0]) < 1e-6:
        points.pop()
    return points


def _extent(points: list[complex], up: complex) -> tuple[float, float]:
    """Width at right angles to `up`, and height along it."""
    wide = [across(p, up) for p in points]
    high = [along(p, up) for p in points]
    return max(wide) - min(wide), max(high) - min(high)


def _closed_symbol(
    closed: list[Subpath], total: int, up: complex, filled: bool, stroked: bool
) -> Symbol | None:
    if len(closed) != total or len(closed) > 2:
        return None
    curved = ["L" not in sub.steps for sub in closed]
    if all(curved):
        return _round_symbol(closed, up, filled, stroked)
    if any(curved) or filled or not stroked:
        return None
    return _angular_symbol(closed)


def _round_symbol(closed: list[Subpath], up: complex, filled: bool, stroked: bool) -> Symbol | None:
    outlines = [flattened(sub) for sub in closed]
    sizes = [_extent(points, up) for points in outlines]
    is_round = [wide > 0 and 0.9 < high / wide < 1.1 for wide, high in sizes]
    if len(closed) == 1:
        (wide, high) = sizes[0]
        if filled:
            # A disc may inherit the pen of the stitches about it.
            return Symbol("slst") if is_round[0] else None
        oval = stroked and not filled and high > 0 and wide > 1.15 * high
        return Symbol("ch") if oval else None
    if filled or not stroked or not all(is_round):
        return None
    middles = [sum(points[1:]) / (len(points) - 1) for points in outlines]
    small, large = sorted(wide for wide, _ in sizes)
    concentric = abs(middles[0] - middles[1]) < 0.08 * large
    return Symbol("close") if concentric and small < 0.85 * large else None


def _angular_symbol(closed: list[Subpath]) -> Symbol | None:
    corners = [_corners(sub) for sub in closed]
    if len(corners) == 1 and len(corners[0]) == 4:
        a, b, c, d = corners[0]
        sides = [abs(b - a), abs(c - b), abs(d - c), abs(a - d)]
        if min(sides) <= 0:
            return None
        if _crosses(Stroke(a, b), Stroke(c, d)) or _crosses(Stroke(b, c), Stroke(d, a)):
            return Symbol("join")
        even = max(sides) < 1.1 * min(sides) and abs(abs(a - c) / abs(b - d) - 1) < 0.1
        return Symbol("hold") if even else None
    if len(corners) == 1 and len(corners[0]) in (5, 6):
        corners = _split_at_waist(corners[0])
    if len(corners) != 2 or any(len(points) != 3 for points in corners):
        return None
    size = max(abs(p - q) for p in corners[0] for q in corners[1])
    shared = [p for p in corners[0] for q in corners[1] if abs(p - q) < 0.02 * size]
    return Symbol("join") if len(shared) == 1 else None


def _split_at_waist(points: list[complex]) -> list[list[complex]]:
    """The two loops of an outline that passes one point twice."""
    size = max(abs(p - points[0]) for p in points)
    for i, j in combinations(range(len(points)), 2):
        if j - i == 3 and abs(points[i] - points[j]) < 0.02 * size:
            return [points[i:j], points[j:] + points[:i]]
    return [points]


def _edge(sub: Subpath) -> list[Stroke]:
    return _straight(sub) if sub.straight else []


def _seam(disc: list[complex], edges: list[Stroke], up: complex) -> Symbol | None:
    """The seam: a disc between two level strokes of one length, one over it and one under it."""
    if len(edges) != 2 or any(abs(along(edge.way, up)) > 0.1 for edge in edges):
        return None
    middle = sum(disc[1:]) / (len(disc) - 1)
    wide, high = _extent(disc, up)
    lengths = [abs(edge.b - edge.a) for edge in edges]
    level = [along(edge.middle - middle, up) for edge in edges]
    aside = max(abs(across(edge.middle - middle, up)) for edge in edges)
    even = min(lengths) > 0.9 * max(lengths) and aside < 0.1 * max(lengths)
    between = level[0] * level[1] < 0 and min(abs(y) for y in level) > high
    is_disc = high > 0 and 0.9 < wide / high < 1.1 and wide < 0.6 * min(lengths)
    return Symbol("seam") if even and between and is_disc else None


# --- strokes ----------------------------------------------------------------------------------


def _straight(sub: Subpath) -> list[Stroke]:
    """The straight strokes of an open subpath, points along a line passed over."""
    points = [sub.start]
    for point in sub.points:
        if abs(point - points[-1]) < 1e-9:
            continue
        if len(points) > 1:
            before = Stroke(points[-2], points[-1])
            step = point - points[-1]
            if abs(across(step, before.way)) < 0.02 * abs(step) and along(step, before.way) > 0:
                points[-1] = point
                continue
        points.append(point)
    return [Stroke(a, b) for a, b in pairwise(points)]


def _crosses(one: Stroke, other: Stroke) -> bool:
    """True where the two strokes cross within both."""

    def side(stroke: Stroke, point: complex) -> float:
        return across(point - stroke.a, stroke.b - stroke.a)

    return (
        side(one, other.a) * side(one, other.b) < 0 and side(other, one.a) * side(other, one.b) < 0
    )


def _legs(strokes: list[Stroke], up: complex, near: float) -> tuple[str, list[Stroke]] | None:
    """Which strokes are legs, each from foot to head, and `one`, `inc` or `tog`."""
    joins = [
        (one, other, p)
        for one, other in combinations(strokes, 2)
        for p in one
        for q in other
        if abs(p - q) < near
    ]
    if not joins:
        leg = max(strokes, key=lambda s: abs(along(s.way, up)))
        if abs(along(leg.way, up)) < 0.8:
            return None
        return "one", [leg if along(leg.way, up) > 0 else Stroke(leg.b, leg.a)]
    if len(joins) != 1:
        return None
    one, other, shared = joins[0]
    rays = [s if abs(s.a - shared) < near else Stroke(s.b, s.a) for s in (one, other)]
    out = (rays[0].b + rays[1].b) / 2 - shared
    if not abs(out) or abs(along(out / abs(out), up)) < 0.6:
        return None
    if along(out, up) > 0:
        return "inc", rays
    return "tog", [Stroke(ray.b, ray.a) for ray in rays]


def _legged(strokes: list[Stroke], arcs: list[list[complex]], up: complex) -> Symbol | None:
    size = max(abs(p - q) for p in strokes[0] for s in strokes for q in s)
    near = 0.012 * size + 0.002
    if len(strokes) == 1 and not arcs:
        return Symbol("skip") if abs(along(strokes[0].way, up)) < 0.2 else None
    legs = _legs(strokes, up, near)
    if legs is None:
        return None
    shape, feet_to_heads = legs
    known = {frozenset(leg) for leg in feet_to_heads}
    bars = [s for s in strokes if frozenset(s) not in known]
    if len(bars) != len(strokes) - len(feet_to_heads) or _touch(bars, near / 2):
        return None
    marks = _bars(bars, feet_to_heads, up)
    if marks is None:
        return None
    base = {(0, 1): "sc", (1, 0): "hdc", (1, 1): "dc"}.get((marks.caps, marks.middles))
    if shape == "one" and len(arcs) == 1:
        side = hook(arcs[0], feet_to_heads[0], up, near)
        if side is not None:
            whole = Symbol(side + (base or "?"), "", "both", marks.feet, marks.held)
            return whole if whole in map(Symbol, POSTS) else None
    worked = loop(arcs, feet_to_heads, up)
    if base is None or worked is None:
        return None
    if shape == "inc":
        return Symbol("inc", base, worked, marks.feet, marks.held)
    do = base if shape == "one" else base + "2tog"
    return Symbol(do, "", worked, marks.feet, marks.held)


def _touch(bars: list[Stroke], near: float) -> bool:
    for one, other in combinations(bars, 2):
        if _crosses(one, other):
            return True
        for stroke, ends in ((one, other), (other, one)):
            length = abs(stroke.b - stroke.a)
            for end in ends:
                if (
                    abs(across(end - stroke.a, stroke.way)) < near
                    and -near < along(end - stroke.a, stroke.way) < length + near
                ):
                    return True
    return False


class _Marks(NamedTuple):
    """What the bars add: caps and middle bars a leg, a bar at the foot, a bar above the head."""

    caps: int
    middles: int
    feet: bool
    held: bool


def _bars(bars: list[Stroke], legs: list[Stroke], up: complex) -> _Marks | None:
    caps = [0] * len(legs)
    middles = [0] * len(legs)
    feet: set[int] = set()
    held = 0
    for bar in bars:
        level = abs(along(bar.way, up)) < 0.2
        touched = False
        for i, leg in enumerate(legs):
            length = abs(leg.b - leg.a)
            at = along(bar.middle - leg.a, leg.way) / length
            off = abs(across(bar.middle - leg.a, leg.way)) / length
            # Above the head of a leg that slants much, a bar is still near the leg's own line.
            over = level and along(bar.middle - leg.b, up) > 0.05 * length
            if over or off > 0.1 or not -0.05 < at < 1.05:
                continue
            touched = True
            square = level or abs(along(bar.way, leg.way)) < 0.2
            if at > 0.95 and square:
                caps[i] += 1
            elif at < 0.05 and square:
                feet.add(i)
            elif 0.35 < at < 0.65:
                middles[i] += 1
                slant = abs(along(bar.way, leg.way))
                if len(legs) == 1 and slant > 0.8:
                    return None
            else:
                return None
        middle = sum(leg.a for leg in legs) / len(legs)
        if not touched and level and abs(bar.middle - middle) < 0.1 * abs(legs[0].b - legs[0].a):
            # One bar under both feet of a decrease.
            feet |= set(range(len(legs)))
        elif not touched:
            above = min(along(bar.middle - leg.b, up) for leg in legs)
            if not level or above <= 0:
                return None
            held += 1
    if len(set(caps)) != 1 or len(set(middles)) != 1 or held > 1:
        return None
    if feet and len(feet) != len(legs):
        return None
    if len(legs) == 1 and not _slants(bars, legs[0], caps[0], middles[0]):
        return None
    return _Marks(caps[0], middles[0], bool(feet), held == 1)


def _slants(bars: list[Stroke], leg: Stroke, caps: int, middles: int) -> bool:
    """True where the bar over a leg's middle lies as its kind wants: level in a cross, slanted
    under a cap."""
    length = abs(leg.b - leg.a)
    for bar in bars:
        if middles and abs(bar.middle - (leg.a + leg.b) / 2) < 0.2 * length:
            slant = abs(along(bar.way, leg.way))
            if (slant > 0.2) != bool(caps):
                return False
    return True
