"""Rings of a crown chart: where each round lies about the centre, and where its stitches stand."""

from __future__ import annotations

import math
from collections.abc import Sequence

from gussetry.layout.parts import Sheet, cells
from gussetry.layout.ticks import tick_size
from gussetry.stitchmap import Op, Round
from gussetry.style import lettering
from gussetry.style.symbols import LEG
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
CHIP = 1.17
"""Least distance of rings over the side of a colour chip: chips of two rings stay apart."""
UNDER = 1.0
"""White under the innermost label, mm."""
LINE = 1.15
"""Distance of the numbers of two rings over the size of their letters."""


class Rings:
    """Where the rings of rounds lie, first round outermost: a radius each, about a centre, with
    a gap at the top for their labels. `shut`: the innermost leaves room for the drawing shut;
    `again`: the first is worked on another sheet, its number in brackets."""

    def __init__(
        self, sheet: Sheet, rounds: Sequence[Round], pitch: float, shut: bool, again: bool = False
    ) -> None:
        said = [f"({rounds[0].number})" if again else "", *(str(r.number) for r in rounds)]
        number = max(sheet.width_of("number", words) for words in said)
        count = max(sheet.width_of("count", str(r.count)) for r in rounds)
        self.rounds = tuple(rounds)
        self.pitch = pitch
        self.lift = max(LIFT * pitch, CELL * sheet.style.least_stitch)
        self.centre = Point(0, 0)
        chip = sheet.chip_size()
        tick = tick_size(sheet) + WHITE if sheet.style.tick_boxes else 0.0
        self.gap = number + count + chip + tick + 4 * WHITE
        self.number_at = self.gap / 2 - WHITE - number / 2
        self.tick_at = self.number_at - number / 2 - WHITE
        """The right edge of a box to tick, beside the round's number as on a chart of rows."""
        self.chip_at = self.tick_at - tick - chip / 2
        self.count_at = -self.gap / 2 + WHITE + count / 2
        figures = lettering.CAP_HEIGHT * max(sheet.style.size("number"), sheet.style.size("count"))
        self.half = max(chip, figures, tick_size(sheet) if tick else 0.0) / 2
        """Half the height of the labels of a ring, mm."""
        self.room = max(RING * pitch, CHIP * chip, LINE * sheet.style.size("number"))
        self.radii = self._even(self._close(shut))

    def _close(self, shut: bool) -> list[float]:
        """The least radii of the rings, first round first."""
        found: list[float] = []
        for round_ in reversed(self.rounds):
            least = SHUT * self.pitch if shut else 0.0
            if found:
                least = max(least, found[-1] + self.room)
            found.append(self._least(round_, least, found[0] if found else None))
        return found[::-1]

    def _even(self, close: list[float]) -> list[float]:
        """The rings at one distance from each other, the outermost where it is; as they are where
        one of them would lack the room."""
        if len(close) == 1:
            return close
        step = min((close[0] - least) / ring for ring, least in enumerate(close) if ring)
        even = [close[0] - ring * step for ring in range(len(close))]
        rooms = zip(even, self.rounds, strict=True)
        roomy = all(self._arc(radius, even[-1]) >= self._needs(r) - 1e-6 for radius, r in rooms)
        return even if roomy else close

    @property
    def outermost(self) -> float:
        """The radius of the first round, mm."""
        return self.radii[0]

    def _needs(self, round_: Round) -> float:
        """The arc that the stitches of a round take, mm."""
        return sum(CELL * self.pitch * cells(op) if op.counts else self.lift for op in round_.work)

    def _arc(self, radius: float, innermost: float) -> float:
        """The arc that a ring has for its stitches, mm."""
        return radius * (math.tau - self._share(radius, innermost))

    def _least(self, round_: Round, radius: float, innermost: float | None) -> float:
        """The least radius of a ring on which the round's stitches have room, `radius` or more."""

        needs = self._needs(round_)

        def roomy(r: float) -> bool:
            return self._arc(r, r if innermost is None else innermost) >= needs

        low, high = radius, max(radius, self.pitch)
        while not roomy(high):
            low, high = high, 1.5 * high
        if roomy(low):
            return low
        for _ in range(40):
            middle = (low + high) / 2
            low, high = (low, middle) if roomy(middle) else (middle, high)
        return high

    def beside(self, radius: float, innermost: float | None = None) -> float:
        """The angle at which a circle, followed from straight up, has left the labels behind:
        beside them, or below the lowest."""
        foot = (self.radii[-1] if innermost is None else innermost) - self.half - UNDER
        across = math.asin(self.gap / 2 / radius) if self.gap / 2 < radius else math.pi
        return min(across, math.acos(max(-1.0, min(1.0, foot / radius))))

    def _share(self, radius: float, innermost: float | None = None) -> float:
        """What the gap takes of a ring, radians: the stitches beside it reach inwards and outwards,
        and on a small ring lean over what stands in it."""
        reach = LEG * self.pitch
        return 2 * max(self.beside(r, innermost) for r in (radius - reach, radius + reach) if r > 0)

    def edges(self, radius: float, work: Sequence[Op]) -> list[float]:
        """Where on a ring each entry of the work begins, and where the last ends: radians clockwise
        from straight up. Stitches have cells of one width."""
        share = self._share(radius)
        lifting = sum(1 for op in work if not op.counts)
        counted = sum(cells(op) for op in work if op.counts)
        arc = math.tau - share
        narrow = min(self.lift / radius, arc / (counted + lifting))
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
