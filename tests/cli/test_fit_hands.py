"""Whom a run of sizes fits, and what another gauge makes of it, against other sums."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from grading.test_worked_example import spec
from hypothesis import given, settings
from hypothesis import strategies as st

from gussetry.fits.coverage import coverage, share
from gussetry.fits.gauges import gauge_table
from gussetry.grading import GradedSize, Measure
from gussetry.grading.measures import Origin
from gussetry.spec import Gauge, Size
from gussetry.survey import ADULTS, HALF_STEP, Grown

# --- the shares -------------------------------------------------------------------------------


def under(mean: float, deviation: float, low: float, high: float) -> float:
    """The area under a normal curve by Simpson's rule, in steps of a hundredth of the deviation."""
    steps = 2 * math.ceil((high - low) / deviation * 50)
    wide = (high - low) / steps

    def at(x: float) -> float:
        z = (x - mean) / deviation
        return math.exp(-z * z / 2) / (deviation * math.sqrt(2 * math.pi))

    inner = sum(at(low + i * wide) * (4 if i % 2 else 2) for i in range(1, steps))
    return (at(low) + inner + at(high)) * wide / 3


# ANSUR II, NATICK/TR-15/007: mean and standard deviation of the hand's circumference, mm.
CURVES: dict[Grown, tuple[float, float]] = {"women": (186.55, 8.82), "men": (212.28, 10.24)}


@pytest.mark.parametrize("who", CURVES)
@pytest.mark.parametrize(("low", "high"), [(160, 175), (180, 193), (205, 219), (230, 260)])
def test_a_share_is_the_area_under_the_curve(who: Grown, low: int, high: int) -> None:
    found = share(ADULTS[who], Fraction(low), Fraction(high))
    assert abs(found - under(*CURVES[who], low, high)) < 1e-9


@pytest.mark.parametrize(("who", "p25", "p75"), [("women", "180", "192"), ("men", "206", "219")])
def test_half_of_the_adults_lie_between_the_quartiles(who: Grown, p25: str, p75: str) -> None:
    # The survey's quartiles are whole millimetres; one millimetre holds 4.5 % of the women.
    assert abs(share(ADULTS[who], Fraction(p25), Fraction(p75)) - 0.5) < 0.05


# --- the bands --------------------------------------------------------------------------------


def run(*girths: int | Fraction) -> tuple[Size, ...]:
    """Women's sizes of these hand circumferences."""
    return tuple(Size(f"S{i}", Fraction(girth), "women") for i, girth in enumerate(girths, 1))


def young(*girths: int | Fraction) -> tuple[Size, ...]:
    """The same for children."""
    return tuple(replace(size, wearer="children") for size in run(*girths))


def test_bands_reach_half_way_and_the_ends_mirror_their_inner_half() -> None:
    found = coverage(run(180, 190, 206))
    assert [(band.low, band.high) for band in found.bands] == [(175, 185), (185, 198), (198, 214)]
    assert not found.holes


def test_a_size_alone_reaches_half_a_glove_step_each_way() -> None:
    found = coverage(run(190))
    assert (found.total.low, found.total.high) == (Fraction("177.3"), Fraction("202.7"))


def test_sizes_further_apart_than_a_glove_step_leave_a_hole() -> None:
    found = coverage(run(170, 200, 225, 251))
    assert [(h.sizes, h.low, h.high) for h in (hole.stretch for hole in found.holes)] == [
        (("S1", "S2"), Fraction("182.7"), Fraction("187.3")),
        (("S3", "S4"), Fraction("237.7"), Fraction("238.3")),
    ]
    # 25.4 mm itself is no hole.
    assert not coverage(run(200, Fraction("225.4"))).holes
    hole = found.holes[0].stretch
    assert not found.holes[0].ages
    assert abs(hole.women - under(*CURVES["women"], 182.7, 187.3)) < 1e-9
    assert abs(hole.men - under(*CURVES["men"], 182.7, 187.3)) < 1e-9


RUNS = st.lists(st.integers(800, 3300), min_size=1, max_size=12, unique=True).map(
    lambda tenths: run(*(Fraction(t, 10) for t in sorted(tenths)))
)


@settings(derandomize=True, max_examples=150, deadline=None)
@given(RUNS, st.integers(700, 3500))
def test_bands_part_the_run_and_every_hand_is_in_one_or_outside(
    sizes: tuple[Size, ...], tenths: int
) -> None:
    found = coverage(sizes)
    for band, after in pairwise(found.bands):
        assert band.high == after.low
    for band, size in zip(found.bands, sizes, strict=True):
        assert band.low is not None
        assert band.high is not None
        assert band.low < size.hand_circumference < band.high
    for who in ("women", "men"):
        whole = sum(getattr(band, who) for band in found.bands)
        assert math.isclose(whole, getattr(found.total, who), abs_tol=1e-12)
        outside = getattr(found.below, who) + getattr(found.above, who)
        assert math.isclose(whole + outside, 1, abs_tol=1e-12)
    # A hand within the run lies in a hole if and only if no size is within half a glove step.
    hand = Fraction(tenths, 10)
    if sizes[0].hand_circumference < hand < sizes[-1].hand_circumference:
        nearest = min(abs(size.hand_circumference - hand) for size in sizes)
        holes = [hole.stretch for hole in found.holes]
        assert any(h.low < hand < h.high for h in holes if h.low and h.high) == (
            nearest > HALF_STEP
        )


# Snyder 1975 and 1977: mean hand breadth, mm, of newborn, half a year and a year (45, 46 at 9 and
# 12 months), then of each year from two on; by 0.417 of the circumference, in whole mm.
BREADTHS = ("37", "42", "46", "50", "52.8", "55.3", "57.7", "60.3", "62.5", "65", "67.3", "69.7",
            "72", "74.8", "77.7")  # fmt: skip
MEANS = [math.floor(float(b) / 0.417 + 0.5) for b in BREADTHS]


def test_a_childs_size_serves_a_step_of_the_table_each_way() -> None:
    for place in range(1, len(MEANS) - 1):
        alone = coverage(young(MEANS[place])).total
        assert (alone.low, alone.high) == (MEANS[place - 1], MEANS[place + 1])
        assert alone.origin == "estimated"
    # Half-way between the hands of two years and of three, half-way on; at the ends the last step.
    assert MEANS[3:6] == [120, 127, 133]
    half = coverage(young(Fraction("123.5"))).total
    assert (half.low, half.high) == (115, 130)
    ends = [coverage(young(girth)).total for girth in (80, 200)]
    assert [(end.low, end.high) for end in ends] == [(68, 92), (193, 207)]


def test_two_steps_apart_children_find_no_hole_and_three_apart_one() -> None:
    assert not coverage(young(*MEANS[::2])).holes
    (hole,) = coverage(young(120, 138)).holes
    assert (hole.stretch.low, hole.stretch.high, hole.ages) == (127, 133, ())
    (hole,) = coverage(young(120, 156)).holes
    assert (hole.stretch.low, hole.stretch.high) == (127, 150)
    assert hole.ages == ("age 4", "age 5", "age 6")
    # The hole would be none by the step of gloves up to 25.4 mm.
    assert not coverage(run(120, 145)).holes


def test_between_a_childs_size_and_a_womans_each_serves_by_its_own_step() -> None:
    (child,), (woman,) = young(150), run(187)
    (hole,) = coverage((child, woman)).holes
    assert (hole.stretch.low, hole.stretch.high) == (156, Fraction("174.3"))
    assert hole.ages == ("age 9", "age 10", "age 11")


def test_edges_rest_on_the_weaker_of_their_sizes() -> None:
    sure, read = run(180, 190)
    table = replace(read, surveyed=frozenset({"hand circumference"}))
    guess = replace(run(200)[0], estimated=frozenset({"hand circumference"}))
    found = coverage((sure, table, guess))
    assert [band.origin for band in found.bands] == ["surveyed", "estimated", "estimated"]
    assert (found.below.origin, found.above.origin) == ("surveyed", "estimated")
    assert coverage(run(180, 190)).total.origin == "given"


# --- other gauges -----------------------------------------------------------------------------


def graded(*hands: tuple[Fraction | int, Fraction | int]) -> tuple[GradedSize, ...]:
    """Sizes of which nothing is known but wish and finish of the hand's circumference, mm."""
    given: Origin = "given"
    return tuple(
        GradedSize(
            Size(f"S{i}", Fraction(wish), "women"),
            (),
            (
                Measure(
                    "hand circumference", Fraction(wish), given, Fraction(wish), given,
                    Fraction(finished),
                ),
            ),
        )
        for i, (wish, finished) in enumerate(hands, 1)
    )  # fmt: skip


def test_the_counts_come_out_narrower_at_more_stitches() -> None:
    # 18 stitches over 10 cm: 36, 40 and 46 stitches.
    made = replace(spec(), gauge=Gauge("sc", Fraction(100, 18), Fraction(5)))
    counts = (36, 40, 46)
    sizes = graded(*((n * 100 // 18, Fraction(n * 100, 18)) for n in counts))
    table = gauge_table(made, sizes)
    assert table.stitches == (16, 17, 18, 19, 20)
    for one, count in zip(table.sizes, counts, strict=True):
        assert [o.circumference for o in one.outcomes] == [
            Fraction(count * 100, s) for s in range(16, 21)
        ]
    # Wishes 200, 222, 255 mm. At 20: 180, 200, 230 mm.
    assert [one.outcomes[4].make for one in table.sizes] == ["S2", "S3", None]
    # At 16: 225, 250, 287.5 mm.
    assert [one.outcomes[0].make for one in table.sizes] == [None, "S1", "S2"]
    assert [one.outcomes[2].make for one in table.sizes] == ["S1", "S2", "S3"]


def test_of_two_equally_near_the_sizes_own_counts_are_made() -> None:
    # 20 stitches to 10 cm; at 18 the two come out at 190 and 210 mm, and 200 are wished.
    made = replace(spec(), gauge=Gauge("sc", Fraction(5), Fraction(5)))
    table = gauge_table(made, graded((180, 171), (200, 189)))
    assert table.sizes[1].outcomes[0].make == "S2"


def test_of_two_others_equally_near_the_one_next_in_order_is_made() -> None:
    # At 18 stitches instead of 20 every count comes out 10/9 as wide: 200, 200, 240 mm.
    made = replace(spec(), gauge=Gauge("sc", Fraction(5), Fraction(5)))
    table = gauge_table(made, graded((180, 180), (190, 180), (200, 216)))
    assert table.sizes[2].outcomes[0].make == "S2"
    # 190 and 210 mm beside 200 wished, one on each side: the smaller.
    table = gauge_table(made, graded((180, 171), (200, 216), (210, 189)))
    assert table.sizes[1].outcomes[0].make == "S1"


def test_a_child_needs_counts_within_its_own_step() -> None:
    made = replace(spec(), gauge=Gauge("sc", Fraction(5), Fraction(5)))
    (one,) = graded((133, 133))
    child = replace(one, size=replace(one.size, wearer="children"))
    # At 19 stitches 140 mm: 7 more than the hand of four years, 5 on is the next; at 21 126.7.
    for size, wide, narrow in ((one, "S1", "S1"), (child, None, None)):
        outcomes = gauge_table(made, (size,)).sizes[0].outcomes
        assert (outcomes[1].make, outcomes[3].make) == (wide, narrow)


def test_a_gauge_of_no_stitches_is_left_out() -> None:
    made = replace(spec(), gauge=Gauge("sc", Fraction(50), Fraction(50)))
    assert gauge_table(made, graded((200, 200))).stitches == (1, 2, 3, 4)


@settings(derandomize=True, max_examples=100, deadline=None)
@given(
    st.lists(st.tuples(st.integers(120, 280), st.integers(-20, 20)), min_size=1, max_size=8),
    st.integers(5, 30),
)
def test_the_size_to_make_comes_nearest(hands: list[tuple[int, int]], stitches: int) -> None:
    made = replace(spec(), gauge=Gauge("sc", Fraction(100, stitches), Fraction(5)))
    sizes = graded(*((wish, wish + apart) for wish, apart in sorted(hands)))
    table = gauge_table(made, sizes)
    for one, row in zip(sizes, table.sizes, strict=True):
        wish = one.measures[0].wish
        for place, outcome in enumerate(row.outcomes):
            misses = {
                other.size: abs(other.outcomes[place].circumference - wish) for other in table.sizes
            }
            if table.stitches[place] == stitches:
                assert outcome.make == one.size.name
            elif outcome.make is None:
                assert min(misses.values()) > HALF_STEP
            else:
                assert misses[outcome.make] == min(misses.values()) <= HALF_STEP
