"""The counts of all sizes, chosen together: the best that laws and pins allow.

The objective, in this order (see `gussetry.grading.choice`):

1. the least weighted squared miss in mm², over all sizes and all measures: hand, thumb and cuff
   circumference, height of the crook, lengths of hand and thumb, depth of the cuff, and of the
   crown its height and the width at which its closing begins. The weights stand in
   `gussetry.grading.asked`, each with its reason. The total length is no measure of its own: cuff
   and hand make it up.
2. Of these the least sum of squared second differences of every count, size to size.
3. Of these the smallest counts.

The laws: no named count or measure shrinks from one size to the next; all sizes have the same
phases; the gap is bridged alike in every size, unless pinned. It is exact on the ranges that
`gussetry.grading.menus` states. Where nothing fits in them, wider ones are searched.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from operator import le

from gussetry.diagnostics import Faults, Problem
from gussetry.grading.asked import (
    WEIGHT_CUFF_DEPTH,
    WEIGHTS,
    Asked,
    Bridge,
    Reach,
    bridge,
    common_unit,
    near,
)
from gussetry.grading.choice import Candidate, Chosen, Listed, choose
from gussetry.grading.conflicts import conflicts
from gussetry.grading.counts import Base, Counts
from gussetry.grading.ends import ThumbShape
from gussetry.grading.measures import wish
from gussetry.grading.menus import Along, Crowned, Shapes
from gussetry.spec import Spec

GAPS = (1, 2, 3)
"""Joined pairs or chains that are tried where no pin says how many: common practice."""
REACHES = (3, 6)
"""Stitches, rows and rounds that are searched to both sides of a wish; the wider only where
the narrower holds nothing that fits, as where a pin is far from its wish. A pin farther off than
that from the neighbouring sizes is more likely a slip, and said to be in the way."""


def fit(spec: Spec) -> tuple[Counts, ...]:
    """The counts of every size in the order of `spec.sizes`. Faults with every problem found."""
    problems = list(_split_phases(spec))
    if problems:
        raise Faults(problems)
    found = solve(spec)
    if found is None:
        raise Faults(list(conflicts(spec, solve)))
    return found


def solve(spec: Spec, reaches: Sequence[int] = REACHES) -> tuple[Counts, ...] | None:
    """The best counts, None where there are none within the widest of the reaches.

    Searched first as far as the narrowest reach that holds any, then so far that everything beyond
    would miss more than what was found.
    """
    for reach in reaches:
        wide, found = Reach(*(reach,) * len(Reach._fields)), None
        while (searched := search(spec, wide)) is not None:
            found, needed = searched
            if all(map(le, needed, wide)):
                return found
            wide = Reach(*map(max, needed, wide))
        if found is not None:
            return found
    return None


def search(spec: Spec, reach: Reach) -> tuple[tuple[Counts, ...], Reach] | None:
    """The best counts within that reach, and the reach beyond which nothing better can be."""
    wishes = [wish(spec, size) for size in spec.sizes]
    unit = common_unit(spec, wishes)
    whole = [tuple(unit.whole(length) for length in want) for want in wishes]
    return _solved([Asked(spec, i, want, unit, reach) for i, want in enumerate(whole)])


@dataclass(frozen=True, slots=True)
class _Whole:
    """A choice for all parts of all sizes, on the way to being counts.

    `hands` and `thumbs` are None where their rounds were chosen along with the widths.
    """

    widths: Chosen
    hands: Chosen | None
    thumbs: Chosen | None
    depths: Chosen
    gaps: tuple[Bridge, ...]

    @property
    def rank(self) -> tuple[object, ...]:
        """The ranks of its parts tier by tier: of parts that do not touch, the sums decide."""
        parts = (self.widths, self.hands, self.thumbs, self.depths)
        ranks = [part.rank for part in parts if part is not None]
        costs, roughness, totals, counts = zip(*ranks, strict=True)
        return sum(costs), sum(roughness), sum(totals), counts

    @property
    def cost(self) -> int:
        """The first tier of its rank."""
        parts = (self.widths, self.hands, self.thumbs, self.depths)
        return sum(part.rank[0] for part in parts if part is not None)

    def rounds(self, size: int) -> tuple[int, int]:
        """The rounds of a size's hand and of its thumb."""
        hand, thumb = self.widths.candidates[size].stands_for[3:]
        if self.hands is not None:
            hand = self.hands.candidates[size].stands_for
        if self.thumbs is not None:
            thumb = self.thumbs.candidates[size].stands_for
        return hand, thumb


def _solved(asked: Sequence[Asked]) -> tuple[tuple[Counts, ...], Reach] | None:
    spec, unit = asked[0].spec, asked[0].unit
    # A first look at candidates that miss by half a stitch more than the best.
    first = unit.width * unit.width
    depths = [_depths(one) for one in asked]
    deep = choose(depths, first)
    if deep is None:
        return None
    menus: list[list[Shapes]] = []
    crowned: list[Crowned] = [{} for _ in asked]
    for gap in _gaps(spec):
        gaps = [bridge(one, gap) for one in asked]
        own = zip(asked, gaps, crowned, strict=True)
        shapes = [Shapes(one, bridged, crowns) for one, bridged, crowns in own]
        if all(shapes):
            menus.append(shapes)
    menus.sort(key=_floor)
    best: _Whole | None = None
    for shapes in menus:
        if best is not None and _floor(shapes) > best.widths.rank[0]:
            break
        whole = _together(shapes, deep, first)
        if whole is not None:
            best = whole if best is None else min(best, whole, key=lambda one: one.rank)
    if best is None:
        return None
    needed = [_needed(shapes, depths, best.cost) for shapes in menus]
    return tuple(_counts(asked, best)), Reach(*(max(n) for n in zip(*needed, strict=True)))


def _floor(shapes: Sequence[Shapes]) -> int:
    return sum(menu.least for menu in shapes)


def _needed(shapes: Sequence[Shapes], depths: Sequence[Listed], cost: int) -> Reach:
    """How far each part must be searched until everything beyond misses more than that cost, with
    the least that all other parts and sizes must miss."""
    lengths = [
        (menu.any_hand_rounds().least, menu.any_thumb_rounds().least, depth.least)
        for menu, depth in zip(shapes, depths, strict=True)
    ]
    leasts = [menu.least + sum(own) for menu, own in zip(shapes, lengths, strict=True)]
    needed = [0] * len(Reach._fields)
    for menu, own, least in zip(shapes, lengths, leasts, strict=True):
        floors = (*menu.floors()[:-3], *own)
        spare = cost - sum(leasts) + least - sum(floors)
        parts = zip(WEIGHTS, menu.asked.steps(), floors, menu.searched(), strict=True)
        for i, (weight, step, floor, searched) in enumerate(parts):
            # Beyond a reach of r the nearest is r + 1/2 steps from the wish.
            while searched and weight * ((2 * needed[i] + 1) * step) ** 2 <= 4 * (spare + floor):
                needed[i] += 1
    return Reach(*needed)


def _gaps(spec: Spec) -> Sequence[int]:
    """Pairs or chains to try: one try where they are pinned in every size, or there are none."""
    division = spec.division
    pins = {"join": division.pairs, "chain": division.chains, "none": (0,)}[division.bridge]
    settled = not spec.has_thumb or (pins and all(n is not None for n in pins))
    return GAPS[:1] if settled else GAPS


def _depths(asked: Asked) -> Listed:
    """The menu of a cuff's depth: stitches across, or rounds."""
    cuff, unit = asked.spec.cuff, asked.unit
    if cuff.style == "none":
        return Listed([Candidate(0, (0,), (0,), 0)])
    ribbed = cuff.style == "ribbed"
    step = {"ribbed": unit.rib_width, "post": unit.rib_height, "round": unit.height}[cuff.style]
    pinned = asked.pin(cuff.stitches if ribbed else cuff.rounds)
    wish = asked.wish("cuff_depth")
    low, reach = 2 if ribbed else 1, asked.reach.depth
    tried = near(wish, step, low, reach) if pinned is None else [pinned]
    return Listed(
        [Candidate(WEIGHT_CUFF_DEPTH * (n * step - wish) ** 2, (n,), (n,), n) for n in tried]
    )


def _together(shapes: Sequence[Shapes], depths: Chosen, first: int) -> _Whole | None:
    """Widths, rounds of the hand, rounds of the thumb.

    The rounds are chosen each by itself where they do not hang on the widths: what is best so is
    best together. They are chosen along where pins tie them to the widths, or where a hand or a
    thumb would come out shorter than its shaping needs, or else out of the ranges searched.
    """
    spec = shapes[0].asked.spec
    hands = choose([menu.any_hand_rounds() for menu in shapes], first)
    thumbs = choose([menu.any_thumb_rounds() for menu in shapes], first)
    tied = any(n is not None for n in spec.crown.plain_before) or hands is None
    ties = (spec.thumb.plain_after, spec.thumb.rounds_to_length)
    thumb_tied = all(any(n is not None for n in pins) for pins in ties)
    along = Along(tied, thumb_tied or thumbs is None)
    gaps = tuple(menu.gap for menu in shapes)
    while True:
        menus = [menu.with_rounds(along) for menu in shapes]
        widths = choose(menus, first)
        if widths is None:
            return None
        whole = _Whole(
            widths, None if along.hand else hands, None if along.thumb else thumbs, depths, gaps
        )
        out = _out_of_range(whole, menus)
        if not any(out):
            return whole
        along = Along(along.hand or out.hand, along.thumb or out.thumb)


def _out_of_range(whole: _Whole, menus: Sequence[Shapes]) -> Along:
    """Which of hand and thumb has rounds in some size that its shaping does not go with."""
    hand = thumb = False
    for i, (shape, menu) in enumerate(zip(whole.widths.candidates, menus, strict=True)):
        frame, division, crown = shape.stands_for[:3]
        rounds, thumb_rounds = whole.rounds(i)
        hands = (n for _, n in menu.hand_rounds(division + crown.rounds))
        thumbs = (n for _, n in menu.thumb_rounds(frame.thumb))
        hand = hand or rounds not in hands
        thumb = thumb or thumb_rounds not in thumbs
    return Along(hand, thumb)


def _counts(asked: Sequence[Asked], whole: _Whole) -> Iterator[Counts]:
    for i, (one, gap) in enumerate(zip(asked, whole.gaps, strict=True)):
        frame, division, crown = whole.widths.candidates[i].stands_for[:3]
        rounds, thumb_rounds = whole.rounds(i)
        thumb: ThumbShape = frame.thumb
        lower = _lower(one, frame.increases, thumb, division)
        base = Base(
            frame.rows, frame.pick_up, frame.increases, lower, thumb.steps, thumb.between,
            division, gap.pairs, gap.chains, gap.crook, frame.hand, thumb.stitches, gap.decreases,
        )  # fmt: skip
        plain, length = _plain_thumb(one, thumb, thumb_rounds)
        opened = one.spec.crown.style == "open"
        yield Counts(
            base, whole.depths.candidates[i].stands_for, rounds - division - crown.rounds,
            crown.phases, crown.closing, plain, thumb.sides, length, thumb.closing,
            crown.rounds if opened else 0, thumb.edging,
        )  # fmt: skip


def _lower(asked: Asked, increases: int, thumb: ThumbShape, division: int) -> int:
    """Rounds before the opening: as pinned, else so many that the gusset grows up to the
    division."""
    spec = asked.spec
    pinned = asked.pin(spec.lower_hand.rounds)
    if pinned is not None or not spec.has_thumb:
        return division if pinned is None else pinned
    return division - 1 - (2 + thumb.steps * spec.gusset.every)


def _plain_thumb(asked: Asked, thumb: ThumbShape, rounds: int) -> tuple[int, int]:
    """Plain rounds after the crook's decreases, two where nothing else is asked, and to length."""
    pins = asked.spec.thumb
    plain, length = asked.pin(pins.plain_after), asked.pin(pins.rounds_to_length)
    ends = len(thumb.closing) + thumb.edging + thumb.stitches - thumb.width + 2 * thumb.sides
    rest = max(0, rounds - ends)
    if length is not None:
        return (rest - length if plain is None else plain), length
    plain = min(2, rest) if plain is None else plain
    return plain, rest - plain


def _split_phases(spec: Spec) -> Iterator[Problem]:
    """Phases of one kind with another between them: sizes could not be told apart in one text."""
    kinds = [phase.kind for phase in spec.crown.phases]
    for i, kind in enumerate(kinds):
        if kind in kinds[: max(0, i - 1)] and kinds[i - 1] != kind:
            yield Problem(
                "phases-split",
                "the crown comes back to a kind of phase that it has left",
                ("crown", "phases", i),
                "put the phases with decreases at the sides together, and those spread evenly",
            )
