"""What one size could be: the counts near its wishes that obey its pins and can be worked.

Ranges. Hand, cuff, crook height and lengths are searched `reach` stitches, rows or rounds to both
sides of their wish, or upwards from the least that can be worked; the thumb's stitches likewise,
or else the fewest that can be worked; outer-edge increases from 0 to `MOST_INCREASES`; what a pin
fixes is not searched, and a pinned pick-up leads the hand. Of crown phases that come to the same
count in the same number of rounds the smallest numbers are taken, the first phase first.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from operator import le
from typing import NamedTuple

from gussetry.grading.asked import (
    WEIGHT_CROOK,
    WEIGHT_CUFF,
    WEIGHT_HAND,
    WEIGHT_HAND_LENGTH,
    WEIGHT_THUMB_LENGTH,
    Asked,
    Bridge,
    Reach,
    above,
    near,
    or_usual,
)
from gussetry.grading.choice import Candidate, Listed
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


def _hands(asked: Asked, change: int) -> Iterable[int]:
    """Hand counts worth trying: what the pins below force, else those near the wish."""
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
    return near(asked.wish("hand_circumference"), asked.unit.width, 8, asked.reach.hand)


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


Upper = tuple[int, CrownShape, int]
"""A hand above the division: its cost, its crown, its rounds in all (0 where they are left out)."""


class Along(NamedTuple):
    """Which numbers of rounds are chosen along with the widths; else they are left out of cost and
    counts."""

    hand: bool = False
    thumb: bool = False


NOTHING = Along()


class Shapes:
    """The menu of one size: its frames, with the heights that hang on them.

    `crowned` holds the crowns that were worked out already, by the hand's stitches: no bridge
    changes them.
    """

    def __init__(self, asked: Asked, gap: Bridge, crowned: Crowned, along: Along = NOTHING) -> None:
        self.asked, self.gap, self.crowned, self.along = asked, gap, crowned, along
        self._divisions: dict[int, list[tuple[int, int]]] = {}
        self._uppers: dict[tuple[int, int], list[Upper]] = {}
        self._hands: dict[int, tuple[int, int | None]] = {}
        self._cuffs: dict[int, list[tuple[int, int]]] = {}
        self._thumbs = thumbs(asked, gap)
        self.frames = sorted(self._frames())
        self.least, self.span = 0, 0
        if self.frames:
            self.least = self._cheapest()
            self.span = self._dearest() - self.least

    def __bool__(self) -> bool:
        return bool(self.frames)

    def with_rounds(self, along: Along) -> Shapes:
        """The menu with those numbers of rounds chosen along."""
        return self if along == self.along else Shapes(self.asked, self.gap, self.crowned, along)

    def within(self, excess: int) -> list[Candidate]:
        """Those that cost at most `excess` more than the cheapest."""
        limit = self.least + excess
        found: list[Candidate] = []
        for frame in self.frames:
            if frame.floor > limit:
                break
            found += self._candidates(frame, limit)
        return found

    def extent(self) -> tuple[tuple[int, ...], tuple[int, ...]]:
        """The least and the largest that each ordered count can be."""
        starts = {frame.start for frame in self.frames}
        rounds = [n for start in starts for _, n in self._divided(start)]
        widths = [_widths(frame) for frame in self.frames]
        ends = self._ends_extent(rounds)
        lows = (*(min(n) for n in zip(*widths, strict=True)), min(rounds), *(e[0] for e in ends))
        highs = (*(max(n) for n in zip(*widths, strict=True)), max(rounds), *(e[1] for e in ends))
        return lows, highs

    def _ends_extent(self, rounds: Sequence[int]) -> list[tuple[int, int]]:
        ends = []
        if self.along.hand:
            crowns = [c.rounds for options in self.crowned.values() for c in options]
            low = self.hand_rounds(min(rounds) + min(crowns))
            high = self.hand_rounds(max(rounds) + max(crowns))
            ends.append((min(n for _, n in low), max(n for _, n in high)))
        if self.along.thumb:
            thumbs = [n for frame in self.frames for _, n in self.thumb_rounds(frame.thumb)]
            ends.append((min(thumbs), max(thumbs)))
        return ends

    def keep(self, lows: Sequence[int], highs: Sequence[int]) -> int:
        """Leaves out frames with a count outside these bounds; how many are left."""
        self.frames = [frame for frame in self.frames if self._within(frame, lows, highs)]
        return len(self.frames)

    def _within(self, frame: Frame, lows: Sequence[int], highs: Sequence[int]) -> bool:
        widths = _widths(frame)
        if not (all(map(le, lows, widths)) and all(map(le, widths, highs))):
            return False
        heights = [[n for _, n in self._divided(frame.start)]]
        if self.along.hand:
            tops = [self._upper(frame.hand, division) for division in heights[0]]
            heights.append([rounds for top in tops for _, _, rounds in top])
        if self.along.thumb:
            heights.append([n for _, n in self.thumb_rounds(frame.thumb)])
        bounds = zip(lows[len(widths) :], highs[len(widths) :], heights, strict=True)
        return all(any(low <= n <= high for n in rounds) for low, high, rounds in bounds)

    def _frames(self) -> Iterator[Frame]:
        asked, gap, spec = self.asked, self.gap, self.asked.spec
        increases, picked = asked.pin(spec.lower_hand.increases), spec.lower_hand.pick_up
        lower = asked.pin(spec.lower_hand.rounds)
        pinned = asked.pin(picked)
        for thumb in self._thumbs:
            change = hand_change(spec, thumb.steps, gap.pairs, gap.chains) if spec.has_thumb else 0
            grown = gusset_rounds(spec, thumb.steps) + 1 if spec.has_thumb else 0
            for hand in _hands(asked, change):
                hand_cost, crown = self._hand(hand)
                if crown is None:
                    continue
                for more in [increases] if increases is not None else range(MOST_INCREASES + 1):
                    foot, start = hand - change - more, or_usual(lower, 1 + more) + grown
                    if foot < 6 or (pinned is not None and pinned != foot):
                        continue
                    if lower is not None and lower < 1 + more:
                        continue
                    crook = self._crook(start)
                    if crook is None:
                        continue
                    if foot not in self._cuffs:
                        self._cuffs[foot] = list(_cuffs(asked, foot))
                    for rows, cuff_cost in self._cuffs[foot]:
                        cost = thumb.cost + hand_cost + cuff_cost
                        frame = Frame(
                            cost + crown + crook, cost, rows, foot, more, hand, thumb, start
                        )
                        if _roomy(asked, frame, gap):
                            yield frame

    def _hand(self, hand: int) -> tuple[int, int | None]:
        """The cost of so many stitches, and that of their cheapest crown, None without any."""
        if hand not in self._hands:
            if hand not in self.crowned:
                self.crowned[hand] = crowns(self.asked, hand) if hand >= 8 else []
            miss = hand * self.asked.unit.width - self.asked.wish("hand_circumference")
            options = self.crowned[hand]
            self._hands[hand] = WEIGHT_HAND * miss * miss, options[0].cost if options else None
        return self._hands[hand]

    def _crook(self, start: int) -> int | None:
        options = self._divided(start)
        return options[0][0] if options else None

    def _divided(self, start: int) -> list[tuple[int, int]]:
        """(cost, round) of every round that may divide, from `start` on, the cheapest first."""
        if start not in self._divisions:
            self._divisions[start] = self._rounds_from(start)
        return self._divisions[start]

    def _rounds_from(self, start: int) -> list[tuple[int, int]]:
        asked, unit = self.asked, self.asked.unit
        if not asked.spec.has_thumb:
            return [(0, start)]
        wish = asked.wish("crook_height") - unit.above
        pinned = asked.pin(asked.spec.division.round)
        if pinned is not None and pinned < start:
            return []
        rounds = (
            [pinned] if pinned is not None else near(wish, unit.height, start, asked.reach.crook)
        )
        return sorted((WEIGHT_CROOK * (n * unit.height - wish) ** 2, n) for n in rounds)

    def _candidates(self, frame: Frame, limit: int) -> Iterator[Candidate]:
        thumbs = self.thumb_rounds(frame.thumb) if self.along.thumb else [(0, 0)]
        widths = _widths(frame)
        foot = frame.rows, frame.pick_up, frame.thumb.between, frame.hand, frame.thumb.stitches
        for crook, division in self._divided(frame.start):
            for upper, crown, rounds in self._upper(frame.hand, division):
                for thumb, thumb_rounds in thumbs:
                    cost = frame.cost + crook + upper + thumb
                    if cost > limit:
                        break
                    ends = self.along.hand * (rounds,) + self.along.thumb * (thumb_rounds,)
                    yield Candidate(
                        cost, (*widths, division, *ends), (*foot, division, *crown.phases, *ends),
                        (frame, division, crown, rounds, thumb_rounds),
                    )  # fmt: skip

    def _upper(self, hand: int, division: int) -> list[Upper]:
        """The hand above that division with each number of rounds, its cheapest crown; the cheapest
        first. A dearer crown of as many stitches and rounds is in no best choice."""
        options = self.crowned[hand]
        if not self.along.hand:
            return [(c.cost, c, 0) for c in options if c.cost == options[0].cost]
        known = self._uppers.get((hand, division))
        if known is None:
            known = self._uppers[hand, division] = sorted(self._topped(options, division))
        return known

    def _topped(self, options: Sequence[CrownShape], division: int) -> Iterator[Upper]:
        best: dict[int, list[Upper]] = {}
        for crown in options:
            for cost, rounds in self.hand_rounds(division + crown.rounds):
                upper, known = (cost + crown.cost, crown, rounds), best.get(rounds)
                if known is None or upper[0] < known[0][0]:
                    best[rounds] = [upper]
                elif upper[0] == known[0][0]:
                    known.append(upper)
        for uppers in best.values():
            yield from uppers

    def hand_rounds(self, fewest: int) -> list[tuple[int, int]]:
        """(cost, rounds) of the whole hand, `fewest` without plain rounds before the crown."""
        asked, unit = self.asked, self.asked.unit
        wish = asked.wish("hand_length") - unit.above
        plain = asked.pin(asked.spec.crown.plain_before)
        reach = asked.reach.hand_length
        rounds = near(wish, unit.height, fewest, reach) if plain is None else [fewest + plain]
        return sorted((WEIGHT_HAND_LENGTH * (n * unit.height - wish) ** 2, n) for n in rounds)

    def any_hand_rounds(self) -> Listed:
        """The menu of the hand's rounds, whatever its shaping needs; wider than any search."""
        asked, unit = self.asked, self.asked.unit
        wish = asked.wish("hand_length") - unit.above
        rounds = above(wish, unit.height, asked.reach.hand_length)
        return _heights(WEIGHT_HAND_LENGTH, rounds, unit.height, wish)

    def any_thumb_rounds(self) -> Listed:
        """The same of the thumb's rounds."""
        asked, unit = self.asked, self.asked.unit
        if not asked.spec.has_thumb:
            return Listed([Candidate(0, (0,), (0,), 0)])
        wish = asked.wish("thumb_length")
        rounds = above(wish, unit.height, asked.reach.thumb_length)
        return _heights(WEIGHT_THUMB_LENGTH, rounds, unit.height, wish)

    def floors(self) -> Reach:
        """What each part of the size misses at least; lengths and depth are left out."""
        cuffs = [cost for options in self._cuffs.values() for _, cost in options]
        return Reach(
            min(cost for cost, crown in self._hands.values() if crown is not None),
            min(thumb.cost for thumb in self._thumbs),
            min(cuffs),
            min(options[0][0] for options in self._divisions.values() if options),
            0, 0, 0,
        )  # fmt: skip

    def searched(self) -> tuple[bool, ...]:
        """Which parts are searched near their wish, in the order of `Reach`: neither pinned, nor
        led by a pin, nor absent."""
        asked, spec = self.asked, self.asked.spec
        cuff, thumb = spec.cuff, spec.thumb
        rows = asked.pin(cuff.rows) if cuff.style == "ribbed" else None
        led = (asked.pin(spec.lower_hand.pick_up), asked.pin(spec.division.hand))
        grown = (asked.pin(spec.gusset.between_markers), asked.pin(thumb.stitches))
        lengths = asked.pin(thumb.plain_after), asked.pin(thumb.rounds_to_length)
        deep = cuff.stitches if cuff.style == "ribbed" else cuff.rounds
        return (
            led == (None, None) and (rows is None or _spreads(asked)),
            spec.has_thumb and grown == (None, None),
            cuff.style == "ribbed" and rows is None and _spreads(asked),
            spec.has_thumb and asked.pin(spec.division.round) is None,
            asked.pin(spec.crown.plain_before) is None,
            spec.has_thumb and None in lengths,
            cuff.style != "none" and asked.pin(deep) is None,
        )

    def thumb_rounds(self, thumb: ThumbShape) -> list[tuple[int, int]]:
        """(cost, rounds) of the whole thumb."""
        asked, unit = self.asked, self.asked.unit
        if not asked.spec.has_thumb:
            return [(0, 0)]
        wish = asked.wish("thumb_length")
        reach = asked.reach.thumb_length
        free = near(wish, unit.height, thumb.fewest, reach)
        rounds = free if thumb.free else [thumb.fewest]
        return sorted((WEIGHT_THUMB_LENGTH * (n * unit.height - wish) ** 2, n) for n in rounds)

    def _cheapest(self) -> int:
        best: int | None = None
        for frame in self.frames:
            if best is not None and frame.floor >= best:
                break
            thumb = self.thumb_rounds(frame.thumb)[0][0] if self.along.thumb else 0
            for crook, division in self._divided(frame.start):
                upper = self._upper(frame.hand, division)[0][0]
                total = frame.cost + crook + upper + thumb
                best = total if best is None else min(best, total)
        assert best is not None
        return best

    def _dearest(self) -> int:
        """At least what the dearest candidate costs."""
        starts = {frame.start for frame in self.frames}
        divided = [pair for start in starts for pair in self._divided(start)]
        shapes = [crown for options in self.crowned.values() for crown in options]
        cost = max(frame.cost for frame in self.frames)
        cost += max(crook for crook, _ in divided) + max(crown.cost for crown in shapes)
        if self.along.hand:
            tallest = max(n for _, n in divided) + max(crown.rounds for crown in shapes)
            cost += max(self.hand_rounds(fewest)[-1][0] for fewest in (0, tallest))
        if self.along.thumb:
            cost += max(self.thumb_rounds(frame.thumb)[-1][0] for frame in self.frames)
        return cost


def _heights(weight: int, rounds: Iterable[int], height: int, wish: int) -> Listed:
    costs = ((weight * (n * height - wish) ** 2, n) for n in rounds)
    return Listed([Candidate(cost, (n,), (n,), n) for cost, n in costs])


def _widths(frame: Frame) -> tuple[int, ...]:
    """The counts of a frame that may not shrink from size to size."""
    thumb = frame.thumb
    return frame.pick_up, thumb.between, frame.hand, thumb.stitches, thumb.width, frame.rows
