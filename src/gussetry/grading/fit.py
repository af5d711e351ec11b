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

from gussetry.diagnostics import Faults, Problem
from gussetry.grading.asked import WEIGHT_CUFF_DEPTH, Asked, Bridge, bridge, common_unit
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
    """The best counts within the narrowest of the reaches that holds any, None where none does."""
    wishes = [wish(spec, size) for size in spec.sizes]
    unit = common_unit(spec, wishes)
    whole = [tuple(unit.whole(length) for length in want) for want in wishes]
    for reach in reaches:
        asked = [Asked(spec, i, want, unit, reach) for i, want in enumerate(whole)]
        found = _solved(asked)
        if found is not None:
            return found
    return None


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


def _solved(asked: Sequence[Asked]) -> tuple[Counts, ...] | None:
    spec, unit = asked[0].spec, asked[0].unit
    # A first look at candidates that miss by half a stitch more than the best.
    first = unit.width * unit.width
    depths = choose([_depths(one) for one in asked], first)
    if depths is None:
        return None
    menus = []
    crowned: list[Crowned] = [{} for _ in asked]
    for gap in _gaps(spec):
        gaps = [bridge(one, gap) for one in asked]
        own = zip(asked, gaps, crowned, strict=True)
        shapes = [Shapes(one, bridged, crowns) for one, bridged, crowns in own]
        if all(shapes):
            menus.append((sum(menu.least for menu in shapes), shapes))
    best: _Whole | None = None
    for least, shapes in sorted(menus, key=lambda menu: menu[0]):
        if best is not None and least > best.cost:
            break
        whole = _together(shapes, depths, first)
        if whole is not None:
            best = whole if best is None else min(best, whole, key=lambda one: one.rank)
    return None if best is None else tuple(_counts(asked, best))


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
    tried = asked.near(wish, step, 2 if ribbed else 1) if pinned is None else [pinned]
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
