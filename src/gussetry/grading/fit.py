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
phases; the gap is bridged alike in every size, unless pinned. It is exact on the ranges searched,
`gussetry.grading.asked.FARTHEST` to both sides of every wish, and opens of these only what could be
in a better choice than the best that is known.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import NamedTuple

from gussetry.diagnostics import Faults, Problem
from gussetry.grading.asked import (
    FARTHEST,
    NEAR,
    WEIGHT_CUFF_DEPTH,
    WEIGHT_HAND_LENGTH,
    WEIGHT_THUMB_LENGTH,
    Asked,
    Bridge,
    Reach,
    Wished,
    bridge,
    common_unit,
    near,
    one_of,
)
from gussetry.grading.choice import Candidate, Chosen, Listed, choose
from gussetry.grading.conflicts import conflicts
from gussetry.grading.counts import Base, Counts
from gussetry.grading.ends import ThumbShape
from gussetry.grading.frames import Crowned
from gussetry.grading.measures import wish
from gussetry.grading.menus import Along, Shapes
from gussetry.spec import Spec

GAPS = (1, 2, 3)
"""Joined pairs or chains that are tried where no pin says how many: common practice, no
source."""


def fit(spec: Spec) -> tuple[Counts, ...]:
    """The counts of every size in the order of `spec.sizes`. Faults with every problem found."""
    problems = list(_split_phases(spec))
    if problems:
        raise Faults(problems)
    found = solve(spec)
    if found is None:
        raise Faults(list(conflicts(spec, solve, partial(solve, reach=NEAR))))
    return found


def solve(spec: Spec, reach: Reach = FARTHEST) -> tuple[Counts, ...] | None:
    """The best counts within that reach, None where there are none."""
    wishes = [wish(spec, size) for size in spec.sizes]
    unit = common_unit(spec, wishes)
    whole = [tuple(unit.whole(length) for length in want) for want in wishes]
    asked = [Asked(spec, i, want, unit, reach) for i, want in enumerate(whole)]
    # A first look at candidates that miss by half a stitch more than the best.
    first = unit.width * unit.width
    depths = choose([_depths(one) for one in asked], first)
    if depths is None:
        return None
    heights = _Heights(depths, *_lengths(asked, first))
    crowned: list[Crowned] = [{} for _ in asked]
    menus = [
        [Shapes(one, bridge(one, gap), crowns) for one, crowns in zip(asked, crowned, strict=True)]
        for gap in _gaps(spec)
    ]
    possible = [shapes for shapes in menus if not any(menu.empty for menu in shapes)]
    best: _Whole | None = None
    for shapes in sorted(possible, key=_floor):
        if best is not None and _floor(shapes) > best.widths.rank[0]:
            break
        whole_one = _together(shapes, heights, first)
        if whole_one is not None:
            best = whole_one if best is None else min(best, whole_one, key=lambda one: one.rank)
    return None if best is None else tuple(_counts(asked, best))


class _Heights(NamedTuple):
    """What is chosen whatever the widths: the cuffs' depths, and the rounds of hands and of thumbs
    as if no shaping needed any; None where there is no choice."""

    depths: Chosen
    hands: Chosen | None
    thumbs: Chosen | None


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

    def rounds(self, size: int) -> tuple[int, int]:
        """The rounds of a size's hand and of its thumb."""
        hand, thumb = self.widths.candidates[size].stands_for[3:]
        if self.hands is not None:
            hand = self.hands.candidates[size].stands_for
        if self.thumbs is not None:
            thumb = self.thumbs.candidates[size].stands_for
        return hand, thumb


def _floor(shapes: Sequence[Shapes]) -> int:
    return sum(menu.least for menu in shapes)


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
        return _listed(Wished(0, 1, 0, one_of(0)))
    ribbed = cuff.style == "ribbed"
    step = {"ribbed": unit.rib_width, "post": unit.rib_height, "round": unit.height}[cuff.style]
    pinned = asked.pin(cuff.stitches if ribbed else cuff.rounds)
    wish = asked.wish("cuff_depth")
    numbers = near(wish, step, 2 if ribbed else 1, asked.reach.depth)
    return _listed(
        Wished(wish, step, WEIGHT_CUFF_DEPTH, numbers if pinned is None else one_of(pinned))
    )


def _lengths(asked: Sequence[Asked], first: int) -> tuple[Chosen | None, Chosen | None]:
    """Hands and thumbs of any number of rounds, wider than any search, so that no choice that hangs
    on the widths can be better."""
    found = []
    for name, weight, reach in (
        ("hand_length", WEIGHT_HAND_LENGTH, asked[0].reach.hand_length),
        ("thumb_length", WEIGHT_THUMB_LENGTH, asked[0].reach.thumb_length),
    ):
        height, above = asked[0].unit.height, asked[0].unit.above if name == "hand_length" else 0
        wishes = [one.wish(name) - above for one in asked]
        menus = [
            _listed(Wished(wish, height, weight, near(wish, height, 0, 3 * reach)))
            for wish in wishes
        ]
        found.append(choose(menus, first))
    return found[0], found[1]


def _listed(wished: Wished) -> Listed:
    return Listed([Candidate(cost, (n,), (n,), n) for cost, n in wished.options()])


def _together(shapes: Sequence[Shapes], heights: _Heights, first: int) -> _Whole | None:
    """Widths, rounds of the hand, rounds of the thumb.

    The rounds are chosen each by itself where they do not hang on the widths: what is best so is
    best together. They are chosen along where pins tie them to the widths, or where a hand or a
    thumb would come out shorter than its shaping needs, or else out of the ranges searched.
    """
    spec = shapes[0].asked.spec
    depths, hands, thumbs = heights
    along = Along(
        hands is None or any(n is not None for n in spec.crown.plain_before),
        thumbs is None or any(menu.ties_thumb() for menu in shapes),
    )
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
        hand = hand or rounds not in menu.hand_rounds(division + crown.rounds).numbers
        thumb = thumb or thumb_rounds not in menu.thumb_rounds(frame.thumb).numbers
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
