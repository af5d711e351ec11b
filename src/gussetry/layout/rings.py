"""Rings of a crown chart: where each round lies about the centre, and where its stitches stand."""

from __future__ import annotations

import math
from collections.abc import Sequence

from gussetry.layout.parts import Sheet, cells
from gussetry.layout.ticks import tick_size
from gussetry.stitchmap import Op, Round
from gussetry.units import Frame, Point

RING = 1.3
"""Least distance of rings over the pitch."""
CELL = 1.02
"""Least arc of a cell over the pitch."""
LIFT = 0.92
"""Arc of a cell of what only lifts the hook or joins the round, over the pitch: it stands close, so
that on a small ring the stitches have the room."""
SHUT = 1.5
"""Radius of the least ring about the drawing shut, over the pitch."""
WHITE = 1.6
"""White between the labels in the gap at the start of the rounds, mm."""
ROOM = 0.6
"""White between the colour chips of two rings, mm."""
LINE = 1.15
"""Distance of the numbers of two rings over the size of their letters."""


class Rings:
    """Where the rings of rounds lie, first round outermost: a radius each, about a centre, with
    a gap at the top for their labels. `shut`: the innermost leaves room for the drawing shut."""

    def __init__(self, sheet: Sheet, rounds: Sequence[Round], pitch: float, shut: bool) -> None:
        number = max(sheet.width_of("number", str(r.number)) for r in rounds)
        count = max(sheet.width_of("count", str(r.count)) for r in rounds)
        self.rounds = tuple(rounds)
        self.pitch = pitch
        self.centre = Point(0, 0)
        chip = sheet.chip_size()
        tick = tick_size(sheet) + WHITE if sheet.style.tick_boxes else 0.0
        # On a small ring the stitches at the gap lean over the corners of what stands in it.
        lean = 0.3 * WHITE
        self.gap = number + count + chip + tick + 4 * WHITE + 2 * lean
        self.number_at = self.gap / 2 - WHITE - lean - number / 2
        self.tick_at = -self.gap / 2 + tick + lean
        """The right edge of a box to tick, at the round's end."""
        self.count_at = self.tick_at + WHITE + count / 2
        self.chip_at = self.number_at - number / 2 - WHITE - chip / 2
        self.room = max(RING * pitch, chip + ROOM, LINE * sheet.style.size("number"))
        radii: list[float] = []
        for r in reversed(rounds):
            least = self._least(r)
            if radii:
                least = max(least, radii[-1] + self.room)
            radii.append(max(least, SHUT * pitch) if shut else least)
        self.radii = radii[::-1]

    @property
    def outermost(self) -> float:
        """The radius of the first round, mm."""
        return self.radii[0]

    def _least(self, round_: Round) -> float:
        """The least radius of a ring on which the round's stitches have room."""
        arc = sum(CELL * cells(op) if op.counts else LIFT for op in round_.work) * self.pitch
        return (arc + self.gap) / math.tau

    def edges(self, radius: float, work: Sequence[Op]) -> list[float]:
        """Where on a ring each entry of the work begins, and where the last ends: radians clockwise
        from straight up. Stitches have cells of one width."""
        share = self.gap / radius
        lifting = sum(1 for op in work if not op.counts)
        counted = sum(cells(op) for op in work if op.counts)
        arc = math.tau - share
        narrow = min(LIFT * self.pitch / radius, arc / (counted + lifting))
        cell = (arc - lifting * narrow) / max(counted, 1)
        found = [share / 2]
        for op in work:
            found.append(found[-1] + (cells(op) * cell if op.counts else narrow))
        return found

    def at(self, radius: float, angle: float) -> Point:
        """A point on the drawing."""
        return Point(
            self.centre.x + radius * math.sin(angle), self.centre.y - radius * math.cos(angle)
        )

    def frames(self, ring: int) -> dict[int, Frame]:
        """The frame of each stitch of a ring, heads to the centre."""
        edges = self.edges(self.radii[ring], self.rounds[ring].work)
        found = {}
        for i in range(len(self.rounds[ring].work)):
            angle = (edges[i] + edges[i + 1]) / 2
            up = Point(-math.sin(angle), math.cos(angle))
            found[i] = Frame(self.at(self.radii[ring], angle), up)
        return found
