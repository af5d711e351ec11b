"""What one size could be: the counts near its wishes that obey its pins and can be worked.

All lengths are whole numbers here, multiples of one small unit that divides every width, height
and wish of the specification: sums of squares are exact.

Ranges. Hand, thumb, cuff, crook height and lengths are searched `reach` stitches, rows or rounds
to both sides of their wish (or of the least that can be worked); outer-edge increases from 0 to
`MOST_INCREASES`; what a pin fixes is not searched. Of crown phases that come to the same count in
the same number of rounds the smallest numbers are taken, the first phase first.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from math import lcm
from typing import NamedTuple

from gussetry.grading.choice import Candidate
from gussetry.grading.counts import (
    between_markers,
    closing,
    gusset_rounds,
    hand_change,
    held,
)
from gussetry.grading.measures import Wish
from gussetry.grading.phases import crown_ways
from gussetry.spec import PerSize, Spec, pin

WEIGHT_HAND = 4
"""The hand's circumference is what a size is bought by: it weighs most."""
WEIGHT_THUMB = 3
"""A thumb too tight makes the mitten useless; one stitch is a large share of it."""
WEIGHT_HAND_LENGTH = 2
"""A tip too short is felt at every finger; plain rounds are cheap."""
WEIGHT_THUMB_LENGTH = 2
"""The same for the thumb."""
WEIGHT_CUFF = 1
"""Ribbing stretches."""
WEIGHT_CUFF_DEPTH = 1
"""A row more or less of cuff changes no fit."""
WEIGHT_CROOK = 1
"""A crook a few mm low or high is taken up by the fabric's give."""
WEIGHT_CROWN = 1
"""Where the crown begins, and how wide it is where its closing begins, is shape more than fit."""

MOST_INCREASES = 6
"""Outer-edge increases that are tried; more would flare the hand like a bell."""


class Unit(NamedTuple):
    """The small unit, and the fabric in it: `per_mm` units are a millimetre."""

    per_mm: int
    width: int
    height: int
    rib_width: int
    rib_height: int
    above: int

    def whole(self, mm: Fraction) -> int:
        """A length that is a multiple of the unit."""
        value = mm * self.per_mm
        assert value.denominator == 1
        return value.numerator


def common_unit(spec: Spec, wishes: Iterable[Wish]) -> Unit:
    """The unit in which every length of the specification is whole, and a quarter stitch too."""
    rib = spec.cuff.gauge or spec.gauge
    lengths = [
        spec.gauge.width, spec.gauge.height, rib.width, rib.height, spec.cuff.above_crease,
        *(length for want in wishes for length in want),
    ]  # fmt: skip
    per_mm = 4 * lcm(*(Fraction(length).denominator for length in lengths))
    sizes = (int(length * per_mm) for length in lengths[:5])
    return Unit(per_mm, *sizes)


class Asked(NamedTuple):
    """One size as the search sees it: its place, its wishes in the small unit, and how far to
    search."""

    spec: Spec
    size: int
    want: tuple[int, ...]
    unit: Unit
    reach: int

    def wish(self, name: str) -> int:
        """A wish by its name in `Wish`."""
        return self.want[Wish._fields.index(name)]

    def pin(self, pins: PerSize) -> int | None:
        """The size's own of those pins."""
        return pin(pins, self.size)

    def near(self, wish: int, step: int, low: int) -> range:
        """Numbers of steps near the wish, none below `low`."""
        middle = max(low, (2 * wish + step) // (2 * step))
        return range(max(low, middle - self.reach), middle + self.reach + 1)


class Bridge(NamedTuple):
    """How the gap is bridged: joined pairs, chains, what the crook gives, what it loses again."""

    pairs: int
    chains: int
    crook: int
    decreases: int


def bridge(asked: Asked, gap: int) -> Bridge:
    """The size's bridge, with `gap` pairs or chains where no pin says how many.

    Two crook stitches from a joined pair: common practice, no source.
    """
    division = asked.spec.division
    if not asked.spec.has_thumb:
        return Bridge(0, 0, 0, 0)
    kind = division.bridge
    pairs = _or(asked.pin(division.pairs), gap) if kind == "join" else 0
    chains = _or(asked.pin(division.chains), gap) if kind == "chain" else 0
    given = {"join": 2 if pairs else 0, "chain": chains, "none": 0}[kind]
    crook = _or(asked.pin(division.crook), given)
    return Bridge(
        pairs, chains, crook, _or(asked.pin(asked.spec.thumb.crook_decreases), min(crook, 2))
    )


def _or(pinned: int | None, usual: int) -> int:
    return usual if pinned is None else pinned


class ThumbShape(NamedTuple):
    """A thumb: its gusset's steps and stitches, its taper, its cost, and its fewest rounds.

    `free`: plain rounds may be added to the fewest.
    """

    cost: int
    steps: int
    between: int
    stitches: int
    width: int
    sides: int
    closing: tuple[int, ...]
    edging: int
    fewest: int
    free: bool


NO_THUMB = ThumbShape(0, 0, 0, 0, 0, 0, (), 0, 0, False)


def thumbs(asked: Asked, gap: Bridge) -> list[ThumbShape]:
    """Every thumb near its wish that can be grown, worked and ended."""
    spec, unit = asked.spec, asked.unit
    if not spec.has_thumb:
        return [NO_THUMB]
    wish = asked.wish("thumb_circumference")
    middle = wish // unit.width
    pins = asked.pin(spec.gusset.between_markers), asked.pin(spec.thumb.stitches)
    found: list[ThumbShape] = []
    for steps in range(200):
        between = between_markers(spec, steps)
        stitches = held(spec, between) + gap.crook
        width = stitches - gap.decreases
        if pins == (None, None) and width > max(middle, 4) + asked.reach + 1 and found:
            break
        if pins == (None, None) and width < middle - asked.reach:
            continue
        if _or(pins[0], between) != between or _or(pins[1], stitches) != stitches:
            continue
        if width >= 4 and stitches >= gap.crook:
            cost = WEIGHT_THUMB * (width * unit.width - wish) ** 2
            found += _ended(asked, ThumbShape(cost, steps, between, stitches, width, *NO_THUMB[5:]))
    return found


def _ended(asked: Asked, shape: ThumbShape) -> Iterator[ThumbShape]:
    """The thumb with its taper and its end: tapered once where it has ten stitches or more."""
    pins = asked.spec.thumb
    opened = pins.style == "open"
    usual = 1 if shape.width >= 10 and not opened else 0
    pinned = asked.pin(pins.side_decreases)
    for sides in [pinned] if pinned is not None else range(usual, -1, -1):
        narrow = shape.width - 2 * sides
        ending = () if opened else closing(narrow, asked.pin(pins.last))
        if narrow < 4 or ending is None:
            continue
        if _or(asked.pin(pins.before_closing), narrow) != narrow:
            continue
        plain, length = asked.pin(pins.plain_after), asked.pin(pins.rounds_to_length)
        edging = _or(asked.pin(pins.edging), 1) if opened else 0
        before = shape.stitches - shape.width + 2 * sides + (plain or 0) + (length or 0)
        free = plain is None or length is None
        if before or free:
            fewest = max(before, 1) + len(ending) + edging
            yield shape._replace(
                sides=sides, closing=ending, edging=edging, fewest=fewest, free=free
            )
            return


class CrownShape(NamedTuple):
    """A crown: its cost, the rounds of its phases, its closing rounds' counts, its rounds in all;
    of an open hand the edging."""

    cost: int
    phases: tuple[int, ...]
    closing: tuple[int, ...]
    rounds: int


def crowns(asked: Asked, hand: int) -> list[CrownShape]:
    """Every crown for so many stitches, the cheapest first."""
    spec, unit = asked.spec, asked.unit
    if spec.crown.style == "open":
        return [CrownShape(0, (), (), _or(asked.pin(spec.crown.edging), 1))]
    last, left = asked.pin(spec.crown.last), asked.pin(spec.crown.before_closing)
    wish = asked.wish("crown_height")
    found = []
    for count, rounds, phases in crown_ways(spec, asked.size, hand, wish // unit.height):
        ending = closing(count, last)
        if ending is None or _or(left, count) != count:
            continue
        tall = (rounds + len(ending)) * unit.height - wish
        # Half the hand's stitches, flat: where the closing should begin (common practice).
        wide = (2 * count - hand) * unit.width // 4
        cost = WEIGHT_CROWN * (tall * tall + wide * wide)
        found.append(CrownShape(cost, phases, ending, rounds + len(ending)))
    return sorted(found)


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
    pinned, free = asked.pin(cuff.rows), asked.pin(asked.spec.lower_hand.pick_up) is not None
    if pinned is not None:
        rows = (pinned,) if free or pinned + seam == picked else ()
    elif free:
        rows = asked.near(wish, unit.rib_height, 4)
    for n in rows:
        even = cuff.parity == "any" or n % 2 == (0 if cuff.parity == "even" else 1)
        if n > 0 and even and (picked + 1) // 2 <= n + seam <= 2 * picked:
            yield n, WEIGHT_CUFF * (n * unit.rib_height - wish) ** 2


def _hands(asked: Asked, change: int) -> Iterable[int]:
    """Hand counts worth trying: what the pins below force, else those near the wish."""
    spec = asked.spec
    pinned, picked = asked.pin(spec.division.hand), asked.pin(spec.lower_hand.pick_up)
    rows = asked.pin(spec.cuff.rows) if spec.cuff.style == "ribbed" else None
    if pinned is not None:
        return (pinned,)
    if picked is None and rows is not None:
        picked = rows + int(spec.cuff.seam_counts)
    if picked is not None:
        increases = asked.pin(spec.lower_hand.increases)
        more = (increases,) if increases is not None else range(MOST_INCREASES + 1)
        return [picked + change + n for n in more]
    return asked.near(asked.wish("hand_circumference"), asked.unit.width, 8)


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


class Shapes:
    """The menu of one size: its frames, with the heights that hang on them.

    `crowned` holds the crowns that were worked out already, by the hand's stitches: no bridge
    changes them. `whole`: the rounds of hand and thumb are chosen along; else they are left out of
    cost and counts.
    """

    def __init__(self, asked: Asked, gap: Bridge, crowned: Crowned, whole: bool) -> None:
        self.asked, self.gap, self.crowned, self.whole = asked, gap, crowned, whole
        self._divisions: dict[int, list[tuple[int, int]]] = {}
        self.frames = sorted(self._frames())
        self.least, self.span = 0, 0
        if self.frames:
            self.least = self._cheapest()
            self.span = self._dearest() - self.least

    def __bool__(self) -> bool:
        return bool(self.frames)

    def within(self, excess: int) -> list[Candidate]:
        """Those that cost at most `excess` more than the cheapest."""
        limit = self.least + excess
        found: list[Candidate] = []
        for frame in self.frames:
            if frame.floor > limit:
                break
            found += self._candidates(frame, limit)
        return found

    def _frames(self) -> Iterator[Frame]:
        asked, gap, spec = self.asked, self.gap, self.asked.spec
        increases, picked = asked.pin(spec.lower_hand.increases), spec.lower_hand.pick_up
        lower = asked.pin(spec.lower_hand.rounds)
        pinned = asked.pin(picked)
        costs: dict[int, list[tuple[int, int]]] = {}
        for thumb in thumbs(asked, gap):
            change = hand_change(spec, thumb.steps, gap.pairs, gap.chains) if spec.has_thumb else 0
            grown = gusset_rounds(spec, thumb.steps) + 1 if spec.has_thumb else 0
            for hand in _hands(asked, change):
                hand_cost, crown = self._hand(hand)
                if crown is None:
                    continue
                for more in [increases] if increases is not None else range(MOST_INCREASES + 1):
                    foot, start = hand - change - more, _or(lower, 1 + more) + grown
                    if foot < 6 or (pinned is not None and pinned != foot):
                        continue
                    if lower is not None and lower < 1 + more:
                        continue
                    crook = self._crook(start)
                    if crook is None:
                        continue
                    if foot not in costs:
                        costs[foot] = list(_cuffs(asked, foot))
                    for rows, cuff_cost in costs[foot]:
                        cost = thumb.cost + hand_cost + cuff_cost
                        frame = Frame(
                            cost + crown + crook, cost, rows, foot, more, hand, thumb, start
                        )
                        if _roomy(asked, frame, gap):
                            yield frame

    def _hand(self, hand: int) -> tuple[int, int | None]:
        """The cost of so many stitches, and that of their cheapest crown, None without any."""
        if hand not in self.crowned:
            self.crowned[hand] = crowns(self.asked, hand) if hand >= 8 else []
        miss = hand * self.asked.unit.width - self.asked.wish("hand_circumference")
        options = self.crowned[hand]
        return WEIGHT_HAND * miss * miss, options[0].cost if options else None

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
        rounds = [pinned] if pinned is not None else asked.near(wish, unit.height, start)
        return sorted((WEIGHT_CROOK * (n * unit.height - wish) ** 2, n) for n in rounds)

    def _candidates(self, frame: Frame, limit: int) -> Iterator[Candidate]:
        for crook, division in self._divided(frame.start):
            for crown in self.crowned[frame.hand]:
                cost = frame.cost + crook + crown.cost
                if cost > limit:
                    break
                ordered = (
                    frame.pick_up, frame.thumb.between, frame.hand, frame.thumb.stitches,
                    frame.thumb.width, frame.rows, division,
                )  # fmt: skip
                counts = (
                    frame.rows, frame.pick_up, frame.thumb.between, frame.hand,
                    frame.thumb.stitches, division, *crown.phases,
                )  # fmt: skip
                shape = Candidate(cost, ordered, counts, (frame, division, crown))
                if self.whole:
                    yield from self._tall(shape, limit)
                else:
                    yield shape

    def _tall(self, shape: Candidate, limit: int) -> Iterator[Candidate]:
        """The candidate with every number of rounds of its hand and thumb."""
        frame, division, crown = shape.stands_for
        for long, rounds in self.hand_rounds(division + crown.rounds):
            for thick, thumb_rounds in self.thumb_rounds(frame.thumb):
                cost = shape.cost + long + thick
                if cost > limit:
                    break
                ends = (rounds, thumb_rounds)
                yield Candidate(
                    cost, shape.ordered + ends, shape.counts + ends, (*shape.stands_for, *ends)
                )

    def hand_rounds(self, fewest: int) -> list[tuple[int, int]]:
        """(cost, rounds) of the whole hand, `fewest` without plain rounds before the crown."""
        asked, unit = self.asked, self.asked.unit
        wish = asked.wish("hand_length") - unit.above
        plain = asked.pin(asked.spec.crown.plain_before)
        rounds = asked.near(wish, unit.height, fewest) if plain is None else [fewest + plain]
        return sorted((WEIGHT_HAND_LENGTH * (n * unit.height - wish) ** 2, n) for n in rounds)

    def thumb_rounds(self, thumb: ThumbShape) -> list[tuple[int, int]]:
        """(cost, rounds) of the whole thumb."""
        asked, unit = self.asked, self.asked.unit
        if not asked.spec.has_thumb:
            return [(0, 0)]
        wish = asked.wish("thumb_length")
        near = asked.near(wish, unit.height, thumb.fewest)
        rounds = near if thumb.free else [thumb.fewest]
        return sorted((WEIGHT_THUMB_LENGTH * (n * unit.height - wish) ** 2, n) for n in rounds)

    def _cheapest(self) -> int:
        if not self.whole:
            return self.frames[0].floor
        best: int | None = None
        for frame in self.frames:
            if best is not None and frame.floor >= best:
                break
            for crook, division in self._divided(frame.start):
                for crown in self.crowned[frame.hand]:
                    base = frame.cost + crook + crown.cost
                    if best is not None and base >= best:
                        break
                    long = self.hand_rounds(division + crown.rounds)[0][0]
                    total = base + long + self.thumb_rounds(frame.thumb)[0][0]
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
        if self.whole:
            tallest = max(n for _, n in divided) + max(crown.rounds for crown in shapes)
            cost += max(self.hand_rounds(fewest)[-1][0] for fewest in (0, tallest))
            cost += max(self.thumb_rounds(frame.thumb)[-1][0] for frame in self.frames)
        return cost
