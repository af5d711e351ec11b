"""The menu of one size: its widths, with the heights that hang on them, as candidates.

Of crown phases that come to the same count in the same number of rounds the smallest numbers are
taken, the first phase first.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from gussetry.grading.asked import (
    WEIGHT_HAND_LENGTH,
    WEIGHT_THUMB_LENGTH,
    Asked,
    Bridge,
    Wished,
    near,
    one_of,
)
from gussetry.grading.choice import Candidate
from gussetry.grading.ends import CrownShape, ThumbShape
from gussetry.grading.frames import Crowned, Frame, Frames

Upper = tuple[int, CrownShape, int]
"""A hand above the division: its cost, its crown, its rounds in all (0 where they are left out)."""


class Along(NamedTuple):
    """Which numbers of rounds are chosen along with the widths; else they are left out of cost and
    counts."""

    hand: bool = False
    thumb: bool = False


NOTHING = Along()


class Shapes:
    """The menu of one size.

    It opens as far as it is asked to: no frame is looked at that costs more.
    """

    def __init__(self, asked: Asked, gap: Bridge, crowned: Crowned, along: Along = NOTHING) -> None:
        self.asked, self.gap, self.crowned, self.along = asked, gap, crowned, along
        self._frames = Frames(asked, gap, crowned, self)
        self._known_heights: dict[tuple[int, int, int], tuple[tuple[int, int], ...]] = {}
        cheapest = self._cheapest()
        self.empty = cheapest is None
        self.least = cheapest or 0

    def thumb_floor(self, thumb: ThumbShape) -> int:
        """What the thumb's rounds miss at least, 0 where they are left out."""
        if not self.along.thumb:
            return 0
        wished = self.thumb_rounds(thumb)
        return wished.cost(wished.nearest())

    def hand_floor(self, start: int, crowns: Sequence[CrownShape]) -> int:
        """What the hand's rounds miss at least, 0 where they are left out."""
        if not self.along.hand:
            return 0
        wished = self.hand_rounds(start + min(crown.rounds for crown in crowns))
        fewest = wished.numbers[0]
        return wished.cost(fewest) if fewest * wished.step >= wished.wish else 0

    def with_rounds(self, along: Along) -> Shapes:
        """A menu with those numbers of rounds chosen along."""
        if along == self.along:
            return self
        return Shapes(self.asked, self.gap, self.crowned, along)

    def ties_thumb(self) -> bool:
        """Whether pins leave the thumb's rounds no choice."""
        pins = self.asked.spec.thumb
        return None not in (self.asked.pin(pins.plain_after), self.asked.pin(pins.rounds_to_length))

    def within(self, excess: int) -> list[Candidate]:
        """Those that cost at most `excess` more than the cheapest."""
        limit = self.least + excess
        self._frames.ceiling = limit
        return [candidate for frame in self._frames for candidate in self._made(frame, limit)]

    def _all_frames(self) -> list[Frame]:
        self._frames.ceiling = None
        return list(self._frames)

    def span(self) -> int:
        """By how much the dearest candidate can cost more than the cheapest."""
        frames = self._all_frames()
        starts = {frame.start: self._divisions(frame) for frame in frames}.values()
        crowns = [self.crowned[hand] for hand in {frame.hand for frame in frames}]
        cost = max((frame.cost for frame in frames), default=0)
        cost += max((_dearest(wished) for wished in starts), default=0)
        cost += max((options[-1].cost for options in crowns), default=0)
        if self.along.hand:
            tallest = max((wished.numbers[-1] for wished in starts), default=0)
            tallest += max((crown.rounds for options in crowns for crown in options), default=0)
            cost += max(_dearest(self.hand_rounds(n)) for n in (0, tallest))
        if self.along.thumb:
            thumbs = {frame.thumb for frame in frames}
            cost += max((_dearest(self.thumb_rounds(thumb)) for thumb in thumbs), default=0)
        return cost - self.least

    def extent(self) -> tuple[tuple[int, ...], tuple[int, ...]]:
        """The least and the largest that each ordered count can be."""
        frames = [frame for frame in self._all_frames() if self._inside(frame)]
        widths = [frame.ordered() for frame in frames]
        heights = {self._heights(frame) for frame in frames}
        lows = (
            *map(min, zip(*widths, strict=True)),
            *(min(n)[0] for n in zip(*heights, strict=True)),
        )
        highs = (
            *map(max, zip(*widths, strict=True)),
            *(max(high for _, high in n) for n in zip(*heights, strict=True)),
        )
        return lows, highs

    def _heights(self, frame: Frame) -> tuple[tuple[int, int], ...]:
        """The least and the largest of a frame's division and of its rounds chosen along."""
        key = frame.start, frame.hand, frame.thumb.fewest
        if key not in self._known_heights:
            divisions = self._divisions(frame).numbers
            found = [(divisions[0], divisions[-1])]
            if self.along.hand:
                crowns = [crown.rounds for crown in self.crowned[frame.hand]]
                low = self.hand_rounds(divisions[0] + min(crowns)).numbers[0]
                high = self.hand_rounds(divisions[-1] + max(crowns)).numbers[-1]
                found.append((low, high))
            if self.along.thumb:
                thumbs = self.thumb_rounds(frame.thumb).numbers
                found.append((thumbs[0], thumbs[-1]))
            self._known_heights[key] = tuple(found)
        return self._known_heights[key]

    def keep(self, lows: Sequence[int], highs: Sequence[int]) -> int:
        """Leaves out frames with a count outside these bounds; how many are left."""
        self._frames.bounds = lows, highs
        frames = self._all_frames()
        return sum(self._inside(frame) for frame in frames)

    def _inside(self, frame: Frame) -> bool:
        """Whether its heights can be within the bounds; of its widths the frames see to that."""
        if self._frames.bounds is None:
            return True
        heights = self._heights(frame)
        lows, highs = (bounds[-len(heights) :] for bounds in self._frames.bounds)
        own = zip(heights, lows, highs, strict=True)
        return all(low <= most and least <= high for (low, high), least, most in own)

    def _made(self, frame: Frame, limit: int) -> Iterator[Candidate]:
        if not self._inside(frame):
            return
        widths, spare = frame.ordered(), limit - frame.cost
        foot = frame.rows, frame.pick_up, frame.thumb.between, frame.hand, frame.thumb.stitches
        thumbs = self.thumb_rounds(frame.thumb).options(spare) if self.along.thumb else [(0, 0)]
        spare -= thumbs[0][0] if thumbs else 0
        for crook, division in self._divisions(frame).options(spare):
            for upper, crown, rounds in self._uppers(frame.hand, division, spare - crook):
                for thumb, thumb_rounds in thumbs:
                    cost = frame.cost + crook + upper + thumb
                    if cost > limit:
                        break
                    ends = self.along.hand * (rounds,) + self.along.thumb * (thumb_rounds,)
                    yield Candidate(
                        cost, (*widths, division, *ends), (*foot, division, *crown.phases, *ends),
                        (frame, division, crown, rounds, thumb_rounds),
                    )  # fmt: skip

    def _divisions(self, frame: Frame) -> Wished:
        wished = self._frames.divisions(frame.start)
        assert wished is not None
        return wished

    def _uppers(self, hand: int, division: int, spare: int | None) -> list[Upper]:
        """The hand above that division with each number of rounds, its cheapest crown; the cheapest
        first. A dearer crown of as many rounds is in no best choice."""
        options = self.crowned[hand]
        if not self.along.hand:
            least = options[0].cost
            return [(c.cost, c, 0) for c in options if c.cost == least]
        best: dict[int, list[Upper]] = {}
        for crown in options:
            left = None if spare is None else spare - crown.cost
            for cost, rounds in self.hand_rounds(division + crown.rounds).options(left):
                upper, known = (cost + crown.cost, crown, rounds), best.get(rounds)
                if known is None or upper[0] < known[0][0]:
                    best[rounds] = [upper]
                elif upper[0] == known[0][0]:
                    known.append(upper)
        return sorted(upper for uppers in best.values() for upper in uppers)

    def hand_rounds(self, fewest: int) -> Wished:
        """The rounds of the whole hand, `fewest` without plain rounds before the crown."""
        asked, height = self.asked, self.asked.unit.height
        wish = asked.wish("hand_length") - asked.unit.above
        plain = asked.pin(asked.spec.crown.plain_before)
        numbers = near(wish, height, fewest, asked.reach.hand_length)
        return Wished(
            wish, height, WEIGHT_HAND_LENGTH, numbers if plain is None else one_of(fewest + plain)
        )

    def thumb_rounds(self, thumb: ThumbShape) -> Wished:
        """The rounds of the whole thumb."""
        asked, height = self.asked, self.asked.unit.height
        wish = asked.wish("thumb_length")
        if not asked.spec.has_thumb:
            return Wished(wish, height, 0, one_of(0))
        numbers = near(wish, height, thumb.fewest, asked.reach.thumb_length)
        return Wished(
            wish, height, WEIGHT_THUMB_LENGTH, numbers if thumb.free else one_of(thumb.fewest)
        )

    def _cheapest(self) -> int | None:
        best: int | None = None
        for frame in self._frames:
            total = frame.floor if self.along == NOTHING else self._floor(frame, best)
            if total is not None and (best is None or total < best):
                best = self._frames.ceiling = total
        return best

    def _floor(self, frame: Frame, best: int | None) -> int | None:
        thumb = self.thumb_floor(frame.thumb)
        spare = None if best is None else best - frame.cost - thumb
        totals = [
            frame.cost + crook + uppers[0][0] + thumb
            for crook, division in self._divisions(frame).options(spare)
            if (uppers := self._uppers(frame.hand, division, spare))
        ]
        return min(totals, default=None)


def _dearest(wished: Wished) -> int:
    return max(wished.cost(wished.numbers[0]), wished.cost(wished.numbers[-1]))
