"""A crown's marked sides: on each ring the ray passes just before the marked stitch.

It runs straight as long as the places before the stitches let it, and where the side really moves
it goes over along the line between two rings, so that nobody takes a bend for a stitch.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise, product
from typing import Literal, NamedTuple

from gussetry.chart import Label, Line
from gussetry.layout.boxes import Box, label_box
from gussetry.layout.parts import Sheet, lifts
from gussetry.layout.rings import CELL, Rings
from gussetry.style import lettering
from gussetry.style.symbols import BAR, CAP, family
from gussetry.units import Point

THROUGH = 0.46
"""How far a ray runs on beyond its last ring, over the pitch."""
ASIDE = 0.06
"""How far a ray keeps off a decrease, over the pitch."""
SWAY = 0.15
"""How far a ray may pass beside the middle between two stitches, over the pitch."""
TIGHT = 0.06
"""The same beside a decrease, whose feet reach out."""
ARM = 0.3
"""How far stitches reach out of their ring's line towards both sides, over the pitch."""
LEAN = 0.24
"""How far a ray may pass beside the middle between two stitches at their arms' ends: a slanted one
would cut through them; over the pitch."""
ARC = math.radians(2)
"""Of so many radians are the steps of an arc, at most."""
UNDER = 0.95
"""From the end of a ray down to the foot of its name, over the size of the name's letters."""
LOWEST = 0.5
"""A ray has its name under its end where its direction is no further from straight down: this
cosine."""
ASTRIDE = 0.5
"""From the end of a ray to its name beside it, over the size of the name's letters."""
_OUTWARDS: tuple[tuple[int, Literal["start", "end"]], ...] = ((1, "start"), (-1, "end"))
"""The way on from a ray's end to its name, and how that is set: right of the centre, and left."""
STEP = 0.25
"""By so much a ray is drawn out until its name is clear of the rings, mm."""
FINEST = 0.05
"""The least that a ray may pass beside the middle between two stitches, mm."""
BARE = 0.3
"""White between a ray and the strokes beside it, mm: common practice, no source."""


class _Gate(NamedTuple):
    """Where a ray passes a ring: its radius, the angle, and how far beside it it may pass, mm, on
    the ring's line and where the stitches end."""

    radius: float
    angle: float
    sway: float
    lean: float


class _Run(NamedTuple):
    """A straight stretch through the gates `first` to `last`, and two points on it, the outer one
    first."""

    first: int
    last: int
    begin: Point
    end: Point


def draw_ray(sheet: Sheet, rings: Rings, name: str, below: float) -> None:
    """A side's ray through the rings, and its name at its outer end, `below` mm from the centre
    or further out."""
    gates = _gates(sheet, rings, name)
    runs = _runs(rings, gates)
    end, label = _end(sheet, rings, (name, below), runs[0])
    points = [end]
    for before, after in pairwise(runs):
        radius = (gates[before.last].radius + gates[after.first].radius) / 2
        start, end = (_along(run, rings, radius) for run in (before, after))
        points += _arc(rings, start, end, radius)
    points.append(_along(runs[-1], rings, gates[-1].radius - THROUGH * rings.pitch))
    sheet.lines.append(Line("marker", tuple(points)))
    sheet.labels.append(label)


def _end(sheet: Sheet, rings: Rings, said: tuple[str, float], run: _Run) -> tuple[Point, Label]:
    """Where a ray that begins with that stretch ends outside the rings, and the label under or
    beside its end, clear of a circle; `said`: its name and the circle's radius."""
    name, outer = said
    while True:
        end = _along(run, rings, outer)
        label = _named(sheet, rings, name, end)
        box = label_box(label, sheet.style)
        foot, high = label.at.y, lettering.CAP_HEIGHT * sheet.style.size("note")
        nearest = Point(
            min(max(rings.centre.x, box.left), box.right),
            min(max(rings.centre.y, foot - high), foot),
        )
        if math.dist(nearest, rings.centre) >= said[1]:
            return end, label
        outer += STEP


def _named(sheet: Sheet, rings: Rings, name: str, end: Point) -> Label:
    """A name under a ray's end at the foot of the chart, elsewhere beside it."""
    size, tags = sheet.style.size("note"), (("data-role", "place"),)
    if end.y - rings.centre.y > LOWEST * math.dist(end, rings.centre):
        return Label("note", name, Point(end.x, end.y + UNDER * size), "middle", tags=tags)
    side, anchor = _OUTWARDS[end.x < rings.centre.x]
    at = Point(end.x + side * ASTRIDE * size, end.y + sheet.drop("note"))
    return Label("note", name, at, anchor, tags=tags)


def names(sheet: Sheet, rings: Rings, below: float) -> list[Box]:
    """The boxes of the names of all rays where they end `below` mm from the rings' centre or
    further out."""
    found = []
    for name in dict.fromkeys(name for r in rings.rounds for name, _ in r.markers):
        run = _longest(rings, _gates(sheet, rings, name), 0)
        found.append(label_box(_end(sheet, rings, (name, below), run)[1], sheet.style))
    return found


def _gates(sheet: Sheet, rings: Rings, name: str) -> list[_Gate]:
    """The gates of a side's ray, from the outermost ring that has the side inwards."""
    pens = (sheet.style.pen("stitch") + sheet.style.pen("marker")) / 2
    # What is left beside a bar, and beside a cap at the height of the heads.
    bare, capped = (
        max(FINEST, (CELL / 2 - half) * rings.pitch - pens - BARE) for half in (BAR, CAP)
    )
    found = []
    for radius, round_ in zip(rings.radii, rings.rounds, strict=True):
        side = round_.marker(name)
        if side is None:
            continue
        entry = lifts(round_) + side
        angle = rings.edges(radius, round_.work)[entry]
        sway = min(SWAY * rings.pitch, bare)
        if entry and round_.work[entry - 1].do.endswith("2tog"):
            # Off the decrease's feet, but no nearer to the stitch beyond than its bar allows.
            off = min(ASIDE * rings.pitch, bare / 2)
            angle += off / radius
            sway = min(TIGHT * rings.pitch, bare - off)
        lean = LEAN * rings.pitch
        if any(family(op) in ("hdc", "dc") for op in round_.work):
            lean = min(lean, capped)
        found.append(_Gate(radius, angle, sway, lean))
    return found


def _runs(rings: Rings, gates: Sequence[_Gate]) -> list[_Run]:
    """The gates in as few straight stretches as let the ray through, each as long as can be."""
    runs: list[_Run] = []
    first = 0
    while first < len(gates):
        runs.append(_longest(rings, gates, first))
        first = runs[-1].last + 1
    return runs


def _longest(rings: Rings, gates: Sequence[_Gate], first: int) -> _Run:
    """The longest straight stretch from a gate on."""
    best = _straight(rings, gates, first, first)
    assert best is not None
    for last in range(first + 1, len(gates)):
        longer = _straight(rings, gates, first, last)
        if longer is None:
            break
        best = longer
    return best


def _straight(rings: Rings, gates: Sequence[_Gate], first: int, last: int) -> _Run | None:
    """The straight stretch through gates that strays least, None where none goes through."""
    if first == last:
        gate = gates[first]
        inner = gate.radius - THROUGH * rings.pitch
        ends = (rings.at(gate.radius, gate.angle), rings.at(inner, gate.angle))
        return _Run(first, last, *ends)
    found: list[tuple[float, _Run]] = []
    for one, other in product((0.0, -1.0, 1.0), repeat=2):
        begin, end = (
            rings.at(gate.radius, gate.angle + side * gate.sway / gate.radius)
            for gate, side in ((gates[first], one), (gates[last], other))
        )
        run = _Run(first, last, begin, end)
        strays = max(_strays(run, rings, gate) for gate in gates[first : last + 1])
        found.append((round(strays, 6), run))
    least, run = min(found, key=lambda one: one[0])
    return run if least <= 1 + 1e-6 else None


def _strays(run: _Run, rings: Rings, gate: _Gate) -> float:
    """How far beside a gate's middle a stretch passes it, over what the gate allows: on the ring's
    line, and where the stitches beside it end."""
    arm = ARM * rings.pitch
    allowed = ((0.0, gate.sway), (-arm, gate.lean), (arm, gate.lean))
    return max(
        math.dist(_along(run, rings, radius), rings.at(radius, gate.angle)) / most
        for radius, most in ((gate.radius + out, most) for out, most in allowed)
    )


def _along(run: _Run, rings: Rings, radius: float) -> Point:
    """Where a stretch, drawn on, passes a circle about the rings' centre on its own side."""
    across = (run.end.x - run.begin.x, run.end.y - run.begin.y)
    long = math.hypot(*across)
    ux, uy = across[0] / long, across[1] / long
    x, y = run.begin.x - rings.centre.x, run.begin.y - rings.centre.y
    foot = -(x * ux + y * uy)
    off = (x + foot * ux) ** 2 + (y + foot * uy) ** 2
    way = foot - math.sqrt(max(0.0, radius**2 - off))
    return Point(run.begin.x + way * ux, run.begin.y + way * uy)


def _arc(rings: Rings, start: Point, end: Point, radius: float) -> list[Point]:
    """The shorter arc about the centre from a point to another."""
    a, b = (math.atan2(p.x - rings.centre.x, rings.centre.y - p.y) % math.tau for p in (start, end))
    turn = (b - a + math.pi) % math.tau - math.pi
    steps = max(1, math.ceil(abs(turn) / ARC))
    return [rings.at(radius, a + turn * i / steps) for i in range(steps + 1)]
