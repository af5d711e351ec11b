"""The widths that one size could have, the cheapest parts first.

Ranges. The hand and the rows of a cuff that is spread over are searched as far from their wish as
`Asked.reach` says; the thumb's stitches likewise, or else the fewest that can be worked; outer-edge
increases from 0 to `MOST_INCREASES`. What a pin fixes is not searched, and a pinned pick-up leads
the hand.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from operator import le
from typing import NamedTuple, Protocol

from gussetry.grading.asked import (
    WEIGHT_CROOK,
    WEIGHT_CUFF,
    WEIGHT_HAND,
    Asked,
    Bridge,
    Wished,
    near,
    one_of,
    or_usual,
)
from gussetry.grading.counts import gusset_rounds, hand_change
from gussetry.grading.ends import CrownShape, ThumbShape, crowns, thumbs

MOST_INCREASES = 6
"""Outer-edge increases that are tried; more would flare the hand like a bell."""

Crowned = dict[int, list[CrownShape]]


class Frame(NamedTuple):
    """A size's widths: everything but the heights that plain rounds decide. `floor` is the least
    that any candidate with these widths costs; `start`: the first round that may divide."""

    floor: int
    cost: int
    rows: int
    pick_up: int
    increases: int
    hand: int
    thumb: ThumbShape
    start: int

    def ordered(self) -> tuple[int, ...]:
        """The counts that may not shrink from size to size."""
        thumb = self.thumb
        return self.pick_up, thumb.between, self.hand, thumb.stitches, thumb.width, self.rows


def _cuffs(asked: Asked, picked: int) -> Iterator[tuple[int, int]]:
    """(rows, cost) of the cuffs that can carry so many picked-up stitches; rows 0 where it has
    none."""
    cuff, unit = asked.spec.cuff, asked.unit
    wish = asked.wish("cuff_circumference")
    if cuff.style != "ribbed":
        width = unit.rib_width if cuff.style == "post" else unit.width
        if cuff.style != "post" or picked % 2 == 0:
            yield 0, WEIGHT_CUFF * (picked * width - wish) ** 2
        return
    seam = int(cuff.seam_counts)
    rows: Iterable[int] = (picked - seam,)
    pinned, free = asked.pin(cuff.rows), _spreads(asked)
    if pinned is not None:
        rows = (pinned,) if free or pinned + seam == picked else ()
    elif free:
        rows = near(wish, unit.rib_height, 4, asked.reach.cuff)
    for n in rows:
        even = cuff.parity == "any" or n % 2 == (0 if cuff.parity == "even" else 1)
        if n > 0 and even and (picked + 1) // 2 <= n + seam <= 2 * picked:
            yield n, WEIGHT_CUFF * (n * unit.rib_height - wish) ** 2


def _spreads(asked: Asked) -> bool:
    """Whether the pick-up is spread over the row ends, some missed or used twice: where it is
    pinned, and over rows of hdc or dc, which are taller than a stitch is wide."""
    rib = asked.spec.cuff.gauge
    tall = rib is not None and rib.stitch != "sc"
    return tall or asked.pin(asked.spec.lower_hand.pick_up) is not None


def _forced(asked: Asked, change: int) -> Iterable[int] | None:
    """The hand counts that the pins below force, None where none does."""
    spec = asked.spec
    pinned, picked = asked.pin(spec.division.hand), asked.pin(spec.lower_hand.pick_up)
    rows = asked.pin(spec.cuff.rows) if spec.cuff.style == "ribbed" else None
    if pinned is not None:
        return (pinned,)
    if picked is None and rows is not None and not _spreads(asked):
        picked = rows + int(spec.cuff.seam_counts)
    if picked is not None:
        increases = asked.pin(spec.lower_hand.increases)
        more = (increases,) if increases is not None else range(MOST_INCREASES + 1)
        return [picked + change + n for n in more]
    return None


def _roomy(asked: Asked, frame: Frame, gap: Bridge) -> bool:
    """Whether the stitches on both sides of the gusset suffice for its bridge and the crown."""
    spec = asked.spec
    if not spec.has_thumb:
        return frame.hand >= 8
    shift = abs(spec.gusset.towards_palm)
    opened = frame.pick_up + frame.increases
    if opened // 2 + shift + 3 > opened or (opened - 1) // 2 - shift < gap.pairs + 1:
        return False
    half = (frame.hand - gap.chains) // 2 - shift
    if spec.gusset.growth in ("first", "second"):
        half -= (frame.thumb.steps + 1) // 2 + 1
    return half >= 2 and (spec.division.bridge != "chain" or gap.crook <= gap.chains)


class Heights(Protocol):
    """What the rounds chosen along with the widths miss at least; 0 where they are left out."""

    def thumb_floor(self, thumb: ThumbShape) -> int:
        """Of a thumb of that shape."""
        ...

    def hand_floor(self, start: int, crowns: Sequence[CrownShape]) -> int:
        """Of a hand that is divided in that round or later, under any of those crowns."""
        ...


class _Foot(NamedTuple):
    """What is below the hand: what it costs at least, its thumb, by how much the hand is more than
    the picked-up stitches, the increases among these, the first round that may divide."""

    floor: int
    thumb: ThumbShape
    change: int
    increases: int
    start: int


class Frames:
    """The frames of one size, those left out whose floor is above `ceiling`, which may be lowered
    on the way, or whose ordered counts are outside `bounds`.

    `crowned` holds the crowns that were worked out already, by the hand's stitches: no bridge
    changes them. `heights` tells what the rounds of hand and thumb miss at least.
    """

    def __init__(self, asked: Asked, gap: Bridge, crowned: Crowned, heights: Heights) -> None:
        self.asked, self.gap, self.crowned, self.heights = asked, gap, crowned, heights
        self.ceiling: int | None = None
        self.bounds: tuple[Sequence[int], Sequence[int]] | None = None
        wish, width = asked.wish("hand_circumference"), asked.unit.width
        numbers = near(wish, width, 8, asked.reach.hand)
        self._hand = Wished(wish, width, WEIGHT_HAND, numbers)
        self._hands = self._hand.options()
        self._cuffs: dict[int, list[tuple[int, int]]] = {}
        self._crooks: dict[int, int | None] = {}
        self._feet = sorted(self._all_feet())

    def __iter__(self) -> Iterator[Frame]:
        for foot in self._feet:
            if self.ceiling is not None and foot.floor > self.ceiling:
                break
            yield from self._on(foot)

    def _all_feet(self) -> Iterator[_Foot]:
        asked, gap, spec = self.asked, self.gap, self.asked.spec
        lower, pinned = asked.pin(spec.lower_hand.rounds), asked.pin(spec.lower_hand.increases)
        for thumb in thumbs(asked, gap):
            change = hand_change(spec, thumb.steps, gap.pairs, gap.chains) if spec.has_thumb else 0
            grown = gusset_rounds(spec, thumb.steps) + 1 if spec.has_thumb else 0
            for more in range(MOST_INCREASES + 1) if pinned is None else (pinned,):
                first = or_usual(lower, 1 + more)
                crook = self._crook(first + grown)
                if first >= 1 + more and crook is not None:
                    floor = thumb.cost + crook + self.heights.thumb_floor(thumb)
                    yield _Foot(floor, thumb, change + more, more, first + grown)

    def _crook(self, start: int) -> int | None:
        """What the nearest round that may divide misses, from `start` on."""
        if start not in self._crooks:
            divided = self.divisions(start)
            self._crooks[start] = divided and divided.cost(divided.nearest())
        return self._crooks[start]

    def _on(self, foot: _Foot) -> Iterator[Frame]:
        """The frames on what is below the hand."""
        for hand_cost, hand in self._tried(foot):
            below = foot.floor + hand_cost
            if self.ceiling is not None and below > self.ceiling:
                break
            for rows, cuff_cost in self._carrying(hand - foot.change):
                floor = below + cuff_cost
                if self.ceiling is not None and floor > self.ceiling:
                    break
                crown = self._crown_floor(hand, foot.start)
                if crown is None or (self.ceiling is not None and floor + crown > self.ceiling):
                    break
                cost = foot.thumb.cost + hand_cost + cuff_cost
                frame = Frame(
                    floor + crown, cost, rows, hand - foot.change, foot.increases, hand,
                    foot.thumb, foot.start,
                )  # fmt: skip
                if self._allowed(frame):
                    yield frame

    def _allowed(self, frame: Frame) -> bool:
        if self.bounds is not None:
            # The heights' bounds, which stand behind, are the menu's affair.
            lows, highs = self.bounds
            ordered = frame.ordered()
            if not (all(map(le, lows, ordered)) and all(map(le, ordered, highs))):
                return False
        return _roomy(self.asked, frame, self.gap)

    def _tried(self, foot: _Foot) -> list[tuple[int, int]]:
        forced = _forced(self.asked, foot.change - foot.increases)
        if forced is None:
            return self._hands
        return sorted((self._hand.cost(hand), hand) for hand in forced)

    def _crown_floor(self, hand: int, start: int) -> int | None:
        if hand not in self.crowned:
            self.crowned[hand] = crowns(self.asked, hand) if hand >= 8 else []
        options = self.crowned[hand]
        return options[0].cost + self.heights.hand_floor(start, options) if options else None

    def _carrying(self, picked: int) -> list[tuple[int, int]]:
        """(rows, cost) of the cuffs that carry so many picked-up stitches, the cheapest first."""
        if picked not in self._cuffs:
            pinned = self.asked.pin(self.asked.spec.lower_hand.pick_up)
            fits = picked >= 6 and pinned in (None, picked)
            cuffs = _cuffs(self.asked, picked) if fits else ()
            self._cuffs[picked] = sorted(cuffs, key=lambda cuff: cuff[1])
        return self._cuffs[picked]

    def divisions(self, start: int) -> Wished | None:
        """The rounds that may divide, from `start` on; None where the pin is before."""
        asked, height = self.asked, self.asked.unit.height
        if not asked.spec.has_thumb:
            return Wished(start * height, height, 0, one_of(start))
        wish = asked.wish("crook_height") - asked.unit.above
        pinned = asked.pin(asked.spec.division.round)
        if pinned is not None and pinned < start:
            return None
        numbers = near(wish, height, start, asked.reach.crook)
        return Wished(wish, height, WEIGHT_CROOK, numbers if pinned is None else one_of(pinned))
