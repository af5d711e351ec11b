"""The crown chart, seen from the tip: the first round outermost, running clockwise inwards."""

from __future__ import annotations

import math
from collections.abc import Sequence

from gussetry.chart import Chart, Label, Line
from gussetry.layout.parts import (
    MARGIN,
    Sheet,
    Terms,
    cells,
    heads_and_feet,
    lifts,
    round_tags,
    stitch_tags,
    title,
)
from gussetry.stitchmap import Piece, Round, StitchMap, left_of_made
from gussetry.style import Style
from gussetry.units import Frame, Point

RING = 1.3
"""Least distance of rings over the pitch."""
CELL = 1.02
"""Least arc of a cell over the pitch."""
START = 2.6
"""Room outside the first ring for the start ray and the arrow, over the pitch."""
GAP = 1.6
"""White between the labels in the gap at the start of the rounds, mm."""


def _wide(round_: Round) -> int:
    return sum(cells(op) for op in round_.work)


class _Rings:
    """Where the rings lie: a centre, a radius each, and a gap at the top for their labels."""

    def __init__(self, sheet: Sheet, rounds: Sequence[Round], pitch: float) -> None:
        number = max(sheet.width_of("number", str(r.number)) for r in rounds)
        count = max(sheet.width_of("count", str(r.count)) for r in rounds)
        self.chip = sheet.chip_size()
        self.gap = number + count + self.chip + 4 * GAP
        self.number_at = self.gap / 2 - GAP - number / 2
        self.count_at = -(self.gap / 2 - GAP - count / 2)
        self.chip_at = self.number_at - number / 2 - GAP - self.chip / 2
        room = max(RING * pitch, self.chip + 0.6, 1.15 * sheet.style.size("number"))
        radii: list[float] = []
        for r in reversed(rounds):
            least = (_wide(r) * CELL * pitch + self.gap) / (2 * math.pi)
            radii.append(max(least, radii[-1] + room if radii else 1.5 * pitch))
        self.radii = radii[::-1]
        self.pitch = pitch
        self.centre = Point(0, 0)

    def angle(self, ring: int, wide: int, cell: float) -> float:
        """The angle of a place on a ring, radians clockwise from straight up. `cell` counts from
        the round's first edge."""
        share = self.gap / self.radii[ring]
        return share / 2 + cell / wide * (2 * math.pi - share)

    def at(self, radius: float, angle: float) -> Point:
        """A point on the drawing."""
        return Point(
            self.centre.x + radius * math.sin(angle), self.centre.y - radius * math.cos(angle)
        )

    def frames(self, ring: int, round_: Round) -> dict[int, Frame]:
        """The frame of each stitch of the round, heads to the centre."""
        wide, cell = _wide(round_), 0
        found = {}
        for i, op in enumerate(round_.work):
            angle = self.angle(ring, wide, cell + cells(op) / 2)
            up = Point(-math.sin(angle), math.cos(angle))
            found[i] = Frame(self.at(self.radii[ring], angle), up)
            cell += cells(op)
        return found


def _fitted(sheet: Sheet, rounds: Sequence[Round]) -> _Rings:
    """Rings at the style's pitch, or the largest that fits its column, no less than its least."""
    pitch = sheet.style.stitch
    while True:
        rings = _Rings(sheet, rounds, pitch)
        wide = 2 * (rings.radii[0] + START * pitch + MARGIN)
        if wide <= sheet.style.width or pitch <= sheet.style.least_stitch:
            return rings
        pitch = max(sheet.style.least_stitch, 0.96 * pitch)


def _heads(rings: _Rings, ring: int, round_: Round) -> dict[int, Point]:
    numbers, found, made = left_of_made(round_), {}, 0
    frames = rings.frames(ring, round_)
    for i, op in enumerate(round_.work):
        heads, _ = heads_and_feet(frames[i], op, rings.pitch)
        for k in range(op.makes):
            number = numbers[made]
            if number is not None:
                found[number] = heads[k]
            made += 1
    return found


def _draw_ring(sheet: Sheet, piece: Piece, rings: _Rings, ring: int, round_: Round) -> None:
    stitches = sheet.stitches_of
    for i, frame in rings.frames(ring, round_).items():
        tags = stitch_tags(stitches, piece, round_, i)
        sheet.stitch(round_.work[i], frame, rings.pitch, tags)
    y = rings.centre.y - rings.radii[ring]
    sheet.number(Point(rings.centre.x + rings.number_at, y), piece, round_)
    sheet.chip(Point(rings.centre.x + rings.chip_at, y), piece, round_)
    below = Point(rings.centre.x + rings.count_at, y + sheet.drop("count"))
    tags = (("data-role", "count"), *round_tags(stitches, piece, round_))
    sheet.labels.append(Label("count", str(round_.count), below, "middle", tags=tags))
    for _, side in round_.markers:
        angle = rings.angle(ring, _wide(round_), lifts(round_) + side)
        span = 0.42 * rings.pitch
        ends = [rings.at(rings.radii[ring] + d, angle) for d in (span, -span)]
        sheet.lines.append(Line("marker", tuple(ends)))


def _growth(sheet: Sheet, rings: _Rings, ring: int, outer: Round, inner: Round) -> None:
    below = _heads(rings, ring, outer)
    for i, frame in rings.frames(ring + 1, inner).items():
        op = inner.work[i]
        if not op.do.endswith("2tog"):
            continue
        _, feet = heads_and_feet(frame, op, rings.pitch)
        heads = [below[p] for p in op.into if isinstance(p, int)]
        straight = math.dist(feet[0], heads[0]) + math.dist(feet[1], heads[1])
        crossed = math.dist(feet[0], heads[1]) + math.dist(feet[1], heads[0])
        if crossed < straight:
            feet.reverse()
        for foot, head in zip(feet, heads, strict=True):
            sheet.growth(foot, head)


def _between(sheet: Sheet, rings: _Rings, ring: int) -> None:
    """A thin arc between a ring and the one outside it, so that the eye keeps to its ring."""
    radius = (rings.radii[ring - 1] + rings.radii[ring]) / 2
    if 1.9 * radius < rings.gap:
        return
    share = math.asin(rings.gap / 2 / radius)
    steps = [share + (math.tau - 2 * share) * i / 90 for i in range(91)]
    sheet.lines.append(Line("rule", tuple(rings.at(radius, a) for a in steps)))


def _start(sheet: Sheet, rings: _Rings) -> None:
    """The start ray over the gap, and an arrow in the direction of work."""
    top = rings.radii[0] + 0.9 * rings.pitch
    ray = (rings.at(top, 0), rings.at(top + 1.3 * rings.pitch, 0))
    sheet.lines.append(Line("start", ray))
    beside = Point(ray[1].x - 1.2, ray[1].y + sheet.drop("note"))
    sheet.words("note", "start", beside, "end", role="place")
    radius = top + 0.65 * rings.pitch
    steps = [0.03 + 0.42 * i / 24 for i in range(25)]
    sheet.lines.append(Line("direction", tuple(rings.at(radius, a) for a in steps), arrows="end"))


def crown(stitches: StitchMap, style: Style, terms: Terms) -> Chart:
    """The crown chart, from the first decreases to the drawing shut."""
    piece = stitches.piece("hand")
    assert piece is not None
    rounds = [r for r in piece.counted if r.phase.startswith(("crown", "close"))]
    shut = piece.rounds[-1]
    sheet = Sheet(stitches, style, terms)
    name = title(stitches, "crown")
    rings = _fitted(sheet, rounds) if rounds else None
    outermost = rings.radii[0] + START * rings.pitch if rings else 2 * style.stitch
    worked = [op for r in (*rounds, shut) for op in r.work]
    width = max(2 * (outermost + MARGIN), sheet.title_width(name), sheet.key_width(worked))
    how = (
        "Seen from the tip, worked from the outer ring inwards: read every round clockwise from the"
        " start, from its number to its count. Heads point to the centre."
    )
    marked = dict.fromkeys(name for r in rounds for name, _ in r.markers)
    if marked:
        how += f" Dashes through the rings mark the {' and the '.join(marked)}."
    if rounds:
        before = piece.rounds[piece.rounds.index(rounds[0]) - 1]
        how += f" Begins on the {before.count} stitches of round {before.number}."
    top = sheet.heading(name, how, width)
    # Half of the word at the start stands above the ray: it keeps clear of the heading.
    centre = Point(width / 2, top + outermost + sheet.drop("note"))
    if rings:
        rings.centre = centre
        for ring, round_ in enumerate(rounds):
            _draw_ring(sheet, piece, rings, ring, round_)
            if ring:
                _between(sheet, rings, ring)
        for ring in range(len(rounds) - 1):
            _growth(sheet, rings, ring, rounds[ring], rounds[ring + 1])
        _start(sheet, rings)
    tags = stitch_tags(stitches, piece, shut, 0)
    sheet.stitch(shut.work[0], Frame(centre, Point(0, -1)), style.stitch, tags)
    below = rings.radii[0] + rings.pitch if rings else outermost
    bottom = sheet.key(centre.y + below, width, style.stitch)
    return sheet.chart("crown", name, f"{name}. {how}", (width, bottom + MARGIN))
