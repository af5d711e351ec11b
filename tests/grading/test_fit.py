"""The counts chosen: the best there are, by a slow search that tries them all."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from grading import oracle
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gussetry.grading import asked as weights
from gussetry.grading.asked import Reach
from gussetry.grading.choice import Candidate, Listed, choose
from gussetry.grading.counts import Counts
from gussetry.grading.fit import solve
from gussetry.grading.measures import wish
from gussetry.spec import (
    Crown,
    CrownPhase,
    Cuff,
    Division,
    Gauge,
    Gusset,
    LowerHand,
    PerSize,
    Size,
    Spec,
    Stripe,
    Stripes,
    Thumb,
    Yarn,
)

CROWNS = (
    (CrownPhase("sides", plain_after=1), CrownPhase("evenly", decreases=4)),
    (CrownPhase("evenly", decreases=3),),
    (CrownPhase("sides"), CrownPhase("evenly", decreases=5, plain_after=1)),
)


@st.composite
def coarse_specs(draw: st.DrawFn) -> Spec:
    """Mittens of thick yarn in one to three sizes, so that every set of counts can be listed."""
    girth = draw(st.integers(100, 200))
    width = Fraction(girth, draw(st.integers(10, 15)))
    height = width * draw(st.sampled_from((Fraction(9, 10), Fraction(13, 10), Fraction(8, 5))))
    sizes = []
    for number in range(draw(st.integers(1, 3))):
        sizes.append(Size(f"S{number}", Fraction(girth)))
        girth += draw(st.integers(2, 22))
    many = len(sizes)
    stitch, ratio = draw(st.sampled_from((("sc", 90), ("sc", 105), ("hdc", 130))))
    rib = Gauge(stitch, width, width * Fraction(ratio, 100))
    ribbed = Cuff(
        gauge=rib,
        parity=draw(st.sampled_from(("even", "odd", "any"))),
        seam_counts=draw(st.booleans()),
    )

    def some(low: int, high: int) -> PerSize:
        """Mostly no pin; else one in some of the sizes."""
        if draw(st.integers(0, 3)):
            return ()
        return tuple(draw(st.one_of(st.none(), st.integers(low, high))) for _ in sizes)

    # Near what the wrist asks for, else there is nothing to choose from.
    first = int(sizes[0].hand_circumference * Fraction(83, 100) / width)
    steps = draw(st.lists(st.integers(0, 2), min_size=many, max_size=many))
    picks = [first + sum(steps[: i + 1]) for i in range(many)]
    return Spec(
        pattern="Made up",
        gauge=Gauge("sc", width, height),
        yarns=(Yarn("A", "oat", "#ddccaa"),),
        sizes=tuple(sizes),
        stripes=Stripes((Stripe("A", 1),)),
        cuff=draw(st.sampled_from((ribbed, ribbed, Cuff(style="round"), Cuff(style="none")))),
        lower_hand=LowerHand(pick_up=draw(st.sampled_from(((), (), tuple(picks))))),
        gusset=Gusset(
            draw(st.sampled_from(("inside", "alternating"))), draw(st.sampled_from((1, 1, 2)))
        ),
        division=Division(
            draw(st.sampled_from(("join", "chain", "none"))),
            with_marked=draw(st.booleans()),
            round=some(4, 9),
        ),
        crown=Crown(draw(st.sampled_from(CROWNS)), plain_before=some(0, 6)),
        thumb=Thumb(
            plain_after=some(0, 2),
            rounds_to_length=some(0, 3),
            last=draw(st.sampled_from(((), (5,) * many))),
        ),
    )


def rank(spec: Spec, found: tuple[Counts, ...]) -> oracle.Rank:
    """The rank of a result, reckoned from its counts."""
    run = [set_of(spec, size, counts) for size, counts in enumerate(found)]
    assert all(
        a <= b
        for one, other in pairwise(run)
        for a, b in zip(one.ordered, other.ordered, strict=True)
    )
    miss = sum((one.miss for one in run), Fraction(0))
    return miss, oracle.roughness(run), oracle.total(run)


def set_of(spec: Spec, size: int, counts: Counts) -> oracle.Set:
    """A size's counts as the slow search would list them."""
    base, want = counts.base, wish(spec, spec.sizes[size])
    w, h, above = spec.gauge.width, spec.gauge.height, spec.cuff.above_crease
    shaping = sum(
        n * (1 + p.plain_after) for n, p in zip(counts.phases, spec.crown.phases, strict=True)
    )
    left = base.hand - sum(
        n * (2 if p.kind == "sides" else p.decreases)
        for n, p in zip(counts.phases, spec.crown.phases, strict=True)
    )
    tall = shaping + len(counts.closing)
    rounds = base.division + counts.plain_before + tall
    long = base.crook_decreases + counts.thumb_plain + 2 * counts.thumb_sides
    long += counts.thumb_to_length + len(counts.thumb_closing)
    width = base.thumb - base.crook_decreases
    ribbed = spec.cuff.style == "ribbed" and spec.cuff.gauge
    cuff = base.cuff_rows * spec.cuff.gauge.height if ribbed else base.pick_up * w
    misses = (
        (weights.WEIGHT_HAND, base.hand * w - want.hand_circumference),
        (weights.WEIGHT_THUMB, width * w - want.thumb_circumference),
        (weights.WEIGHT_CUFF, cuff - want.cuff_circumference),
        (weights.WEIGHT_CROOK, base.division * h + above - want.crook_height),
        (weights.WEIGHT_CROWN, tall * h - want.crown_height),
        (weights.WEIGHT_CROWN, (left - Fraction(base.hand, 2)) * w / 2),
        (weights.WEIGHT_HAND_LENGTH, rounds * h + above - want.hand_length),
        (weights.WEIGHT_THUMB_LENGTH, long * h - want.thumb_length),
    )
    return oracle.Set(
        sum((weight * miss**2 for weight, miss in misses), Fraction(0)),
        (base.pick_up, base.between, base.hand, base.thumb, width, base.cuff_rows,
         base.division, rounds, long),
        (base.cuff_rows, base.pick_up, base.between, base.hand, base.thumb, base.division,
         *counts.phases, rounds, long),
    )  # fmt: skip


@settings(
    derandomize=True,
    max_examples=120,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
@given(coarse_specs())
def test_the_counts_chosen_are_the_best_of_all(spec: Spec) -> None:
    found = solve(spec, Reach(*(oracle.REACH,) * 7))
    best = oracle.best(spec)
    assert (found is None) == (best is None)
    if found is not None:
        assert rank(spec, found) == best


def test_of_equal_misses_the_even_steps_are_chosen() -> None:
    # 20, then 21 or 22, then 24: as even as 20, 22, 24, though 21 is smaller.
    menus = [Listed([Candidate(5, (n,), (n,), n) for n in own]) for own in ([20], [21, 22], [24])]
    chosen = choose(menus, 1)
    assert chosen is not None
    assert [c.stands_for for c in chosen.candidates] == [20, 22, 24]
    # A smaller miss outweighs any evenness.
    uneven = Listed([Candidate(4, (21,), (21,), 21), Candidate(5, (22,), (22,), 22)])
    chosen = choose([menus[0], uneven, menus[2]], 1)
    assert chosen is not None
    assert [c.stands_for for c in chosen.candidates] == [20, 21, 24]


def test_an_equal_rank_is_broken_alike_whatever_the_order_of_trying() -> None:
    menu = [Candidate(5, (n,), (n, 9 - n), n) for n in (4, 2, 3, 1)]
    forwards = choose([Listed(menu), Listed(menu)], 1)
    backwards = choose([Listed(menu[::-1]), Listed(menu[::-1])], 1)
    assert forwards is not None
    assert backwards is not None
    assert forwards.rank == backwards.rank
    assert [c.stands_for for c in forwards.candidates] == [1, 1]
