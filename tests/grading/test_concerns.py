"""An editor's warnings of swatch, hand and wearer: each just at its bound, where nothing is said,
and just beyond it."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from grading.test_worked_example import spec
from grading.warned import GRAIN, free, message, of_size, told

from gussetry.grading import grade
from gussetry.spec import Cuff, Gauge, Spec, Stitch, Stripe, Stripes, Thumb, Yarn

INCHES_4 = Fraction(1016, 10)


def weighed(stitch: Stitch, count: Fraction, *weights: int | None) -> Spec:
    """A swatch of so many stitches over 4 in, and yarns of those weights."""
    width = INCHES_4 / count
    shape = {"sc": Fraction(9, 10), "hdc": Fraction(13, 10), "dc": Fraction(16, 10)}[stitch]
    yarns = tuple(Yarn("ABCD"[i], "wool", "#777777", weight) for i, weight in enumerate(weights))
    return replace(free(500, gauge=Gauge(stitch, width, shape * width)), yarns=yarns)


# Craft Yarn Council, standard yarn weight system (2018 printing), crochet gauge over 4 in.
COUNCIL: tuple[tuple[int, Stitch, int, int], ...] = (
    (0, "dc", 32, 42), (1, "sc", 21, 32), (2, "sc", 16, 20), (3, "sc", 12, 17), (4, "sc", 11, 14),
    (5, "sc", 8, 11), (6, "sc", 6, 9),
)  # fmt: skip


@pytest.mark.parametrize(("weight", "stitch", "fewest", "most"), COUNCIL)
def test_a_gauge_beyond_the_yarn_councils_range_is_told(
    weight: int, stitch: Stitch, fewest: int, most: int
) -> None:
    code = "unusual-gauge-for-weight"
    for count in (Fraction(fewest), Fraction(most)):
        assert not told(weighed(stitch, count, weight), code)
    for count in (fewest - GRAIN, most + GRAIN):
        assert len(told(weighed(stitch, count, weight), code)) == 1


def test_the_heaviest_weight_has_no_fewest() -> None:
    code = "unusual-gauge-for-weight"
    assert not told(weighed("sc", Fraction(5), 7), code)
    assert not told(weighed("sc", Fraction(4), 7), code)
    assert message(weighed("sc", Fraction(11, 2), 7), code) == (
        "yarn A: 5.5 sc over 4 in is unusual for weight 7, where the yarn council's guideline is"
        " 5 or fewer"
    )


def test_stitches_are_named_in_uk_terms_too_where_those_are_asked_for() -> None:
    code = "unusual-gauge-for-weight"
    cases: tuple[tuple[Stitch, int, str], ...] = (
        ("sc", 7, "25 sc (UK dc) over"), ("dc", 0, "25 dc (UK tr) over"),
    )  # fmt: skip
    for stitch, weight, both in cases:
        us = weighed(stitch, Fraction(25), weight)
        assert both in message(replace(us, terms="UK"), code)
        assert "UK" not in message(us, code)
    flat = replace(spec(), gauge=Gauge("sc", Fraction(6), Fraction(4)), terms="UK")
    said = message(flat, "unusual-stitch-shape")
    assert said.startswith("a single crochet (UK double crochet) 6 mm wide")


@pytest.mark.parametrize(
    ("stitch", "weight"), [("hdc", 4), ("dc", 4), ("sc", 0), ("hdc", 0), ("sc", None)]
)
def test_only_the_stitch_that_the_council_prints_is_compared(
    stitch: Stitch, weight: int | None
) -> None:
    assert not told(weighed(stitch, Fraction(25), weight), "unusual-gauge-for-weight")


def test_yarns_of_one_weight_are_told_together() -> None:
    # 18 sc to 10 cm are 18.288 over 4 in.
    count = 18 * INCHES_4 / 100
    found = told(weighed("sc", count, 4, 2, 4, 3), "unusual-gauge-for-weight")
    assert [(p.message, p.path) for p in found] == [
        (
            "yarns A and C: 18.29 sc over 4 in is unusual for weight 4, where the yarn council's"
            " guideline is 11 to 14",
            ("yarns", "A", "weight"),
        ),
        (
            "yarn D: 18.29 sc over 4 in is unusual for weight 3, where the yarn council's"
            " guideline is 12 to 17",
            ("yarns", "D", "weight"),
        ),
    ]
    assert all("guideline only" in p.help for p in found)


@pytest.mark.parametrize(
    ("shape", "expected"),
    [
        (Fraction(80, 100), 0),
        (Fraction(80, 100) - GRAIN, 1),
        (Fraction(115, 100), 0),
        (Fraction(115, 100) + GRAIN, 1),
        (Fraction(907, 1000), 0),
    ],
)
def test_an_unusual_single_crochet_is_told(shape: Fraction, expected: int) -> None:
    width = Fraction(5)
    code = "unusual-stitch-shape"
    assert len(told(free(190, gauge=Gauge("sc", width, width * shape)), code)) == expected
    assert not told(free(190, gauge=Gauge("hdc", width, width * shape)), code)


def test_swapped_stitches_and_rounds_are_told_in_full() -> None:
    assert message(
        free(190, gauge=Gauge("sc", Fraction(5), Fraction(6))), "unusual-stitch-shape"
    ) == (
        "a single crochet 5 mm wide and 6 mm tall is unusual: height over width is 1.2, and 0.8 to"
        " 1.15 is to be expected (printed gauges: 0.875 to 0.929)"
    )


def test_a_back_loop_rib_may_have_any_shape() -> None:
    rib = Gauge("sc", Fraction(4), Fraction(6))
    assert not told(replace(spec(), cuff=replace(spec().cuff, gauge=rib)), "unusual-stitch-shape")


# The sample's thumb: 13 stitches of 100/17 mm.
THUMB = Fraction(1300, 17)


@pytest.mark.parametrize(("thumb", "expected"), [(THUMB, 0), (THUMB + GRAIN, 1)])
def test_a_thumb_narrower_than_what_goes_in_is_told(thumb: Fraction, expected: int) -> None:
    assert len(told(of_size(spec(), thumb_circumference=thumb), "narrow-thumb")) == expected


def test_a_thumb_that_goes_on_too_narrow_is_told() -> None:
    # Two side decreases leave 9 stitches of 100/17 mm; without rounds to length it only tapers.
    base = of_size(spec(), thumb_circumference=Fraction(60))
    assert not told(base, "narrow-thumb")
    longer = replace(base, thumb=replace(base.thumb, rounds_to_length=(3,)))
    assert "5.29 cm for 6 cm" in message(longer, "narrow-thumb")


def test_a_narrow_thumb_says_whether_it_was_measured() -> None:
    measured = of_size(spec(), thumb_circumference=Fraction(80))
    assert message(measured, "narrow-thumb") == (
        "the finished thumb is narrower than the thumb that goes in: size M 7.65 cm for 8 cm"
    )
    # 0.311 of 260 mm round the hand is 80.86 mm (Snyder 1977).
    derived = of_size(spec(), hand_circumference=Fraction(260))
    assert message(derived, "narrow-thumb").endswith("size M 7.65 cm for 8.09 cm (derived)")


# The sample's cuff: 30 rows of 100/18 mm.
CUFF = Fraction(3000, 18)


def pulled(stretch: Fraction | None, girth: Fraction | None, hand: Fraction) -> Spec:
    """The sample with a rib that stretches so, on such a hand."""
    rib = replace(spec().cuff.gauge or spec().gauge, stretch=stretch)
    base = replace(spec(), cuff=replace(spec().cuff, gauge=rib))
    return of_size(base, tucked_girth=girth, hand_circumference=hand)


@pytest.mark.parametrize(
    ("stretch", "girth", "hand"),
    [
        (Fraction(3, 2), CUFF * Fraction(3, 2), Fraction(190)),
        (None, CUFF * Fraction(14, 10), Fraction(190)),
        (Fraction(3, 2), None, CUFF * Fraction(3, 2) / Fraction(12, 10)),
        (None, None, CUFF * Fraction(14, 10) / Fraction(12, 10)),
    ],
)
def test_a_cuff_that_just_passes_the_hand_is_not_told(
    stretch: Fraction | None, girth: Fraction | None, hand: Fraction
) -> None:
    assert not told(pulled(stretch, girth, hand), "tight-cuff")
    wider = pulled(stretch, girth + GRAIN if girth else None, hand + GRAIN)
    (problem,) = told(wider, "tight-cuff")
    weak = [
        part
        for part, known in (("swatch was pulled", stretch), ("girth was not measured", girth))
        if not known
    ]
    assert problem.message.startswith("the cuff may not pass" if weak else "the cuff cannot pass")
    assert all(part in problem.message for part in weak)
    assert ("weak figures" in problem.message) == bool(weak)
    assert ("`stretches to` under rib gauge" in problem.help) == (stretch is None)
    assert ("give `tucked girth`" in problem.help) == (girth is None)


def test_a_tight_cuff_in_full() -> None:
    assert message(pulled(None, None, Fraction(200)), "tight-cuff") == (
        "the cuff may not pass the hand with its thumb laid in: size M 16.67 cm opens to 23.33 cm,"
        " for 24 cm (weak figures: 1.4 times its width, since no swatch was pulled; 1.2 times the"
        " hand, since the tucked girth was not measured)"
    )


def test_a_plain_cuff_stretches_as_the_hand_does() -> None:
    plain = replace(spec(), cuff=Cuff(style="round"))
    around = 30 * spec().gauge.width
    gauge = replace(spec().gauge, stretch=Fraction(11, 10))
    for girth, expected in ((around * Fraction(11, 10), 0), (around * Fraction(11, 10) + 1, 1)):
        tried = of_size(replace(plain, gauge=gauge), tucked_girth=girth)
        assert len(told(tried, "tight-cuff")) == expected


def test_without_a_cuff_the_lower_edge_must_pass_the_hand() -> None:
    base = free(190)
    hand = grade(base).maps[0].piece("hand")
    assert hand is not None
    opened = hand.rounds[1].count * base.gauge.width * Fraction(14, 10)
    assert not told(of_size(base, tucked_girth=opened), "tight-cuff")
    said = message(of_size(base, tucked_girth=opened + 10), "tight-cuff")
    assert said.startswith("the lower edge may not pass the hand")


def striped(rest: int, carry: int, **size: Any) -> Spec:
    """A striped specification in which B rests for so many rounds of A."""
    stripes = Stripes((Stripe("A", rest), Stripe("B", 90)), carry=carry, thumb="B")
    plan = (Stripe("B", 2), Stripe("A", rest), Stripe("B", 90))
    base = replace(free(115), stripes=replace(stripes, plan=plan, repeat=False))
    return of_size(base, **{"wearer": "children", **size})


@pytest.mark.parametrize(
    ("rest", "carry", "expected"), [(4, 4, 1), (5, 4, 0), (4, 3, 0), (5, 5, 1), (1, 0, 0)]
)
def test_floats_for_small_children_follow_the_carrying(
    rest: int, carry: int, expected: int
) -> None:
    found = told(striped(rest, carry, age_from_months=18), "floats-for-small-children")
    assert len(found) == expected


@pytest.mark.parametrize(
    ("size", "expected"),
    [
        ({"age_from_months": 35}, 1),
        ({"age_from_months": 36}, 0),
        ({"wearer": "infants"}, 1),
        ({"wearer": "children"}, 0),
    ],
)
def test_floats_are_told_for_sizes_that_start_under_three(
    size: dict[str, Any], expected: int
) -> None:
    found = told(striped(3, 4, **size), "floats-for-small-children")
    assert [p.path for p in found] == [("stripes", "plan")] * expected
    if found:
        assert found[0].message.endswith("catch a finger: size S115 has 1, up to 1.35 cm")


# The sample's division is round 15 of 100/19 mm.
CROOK = Fraction(1500, 19)


def test_a_high_crook_is_told_against_the_survey_and_the_hand() -> None:
    reaches = CROOK / Fraction(368, 1000)  # Snyder 1977, 95th percentile
    assert not told(of_size(spec(), hand_length=reaches), "high-crook")
    assert len(told(of_size(spec(), hand_length=reaches - GRAIN), "high-crook")) == 1
    measured = of_size(spec(), hand_length=reaches - 9, crook_height=CROOK)
    assert not told(measured, "high-crook")
    lower = of_size(spec(), hand_length=reaches - 9, crook_height=CROOK - GRAIN)
    assert len(told(lower, "high-crook")) == 1


def test_a_wish_that_shrinks_where_the_survey_changes_is_told() -> None:
    # Wrists: 0.89 of a child's 165 mm are 146.85, 0.83 of a woman's 166 are 137.78.
    base = free(165, 166)
    sizes = (replace(base.sizes[0], wearer="children"), base.sizes[1])
    (problem,) = told(replace(base, sizes=sizes), "shrinking-wish")
    assert problem.message == (
        "size S166 is wished smaller than size S165 before it: wrist circumference 13.78 cm"
        " (derived) after 14.69 cm (estimated)"
    )
    assert problem.path == ("sizes", "S166")
    assert not told(base, "shrinking-wish")


@pytest.mark.parametrize(("more", "expected"), [(Fraction(0), 0), (GRAIN, 1)])
def test_a_measured_length_beyond_the_next_sizes_derived_one_is_told(
    more: Fraction, expected: int
) -> None:
    # 0.641 of a woman's 190 mm and 61.5 mm are 183.29 (ANSUR II).
    base = of_size(free(180, 190), hand_length=Fraction("183.29") + more)
    assert len(told(base, "shrinking-wish")) == expected


@pytest.mark.parametrize(("girth", "expected"), [(228, 0), (229, 1)])
def test_a_measured_girth_beyond_the_next_sizes_usual_one_is_told(
    girth: int, expected: int
) -> None:
    # 1.2 times the larger hand, 190 mm, are 228.
    base = of_size(free(180, 190), tucked_girth=Fraction(girth))
    assert len(told(base, "shrinking-wish")) == expected


@pytest.mark.parametrize(
    ("size", "expected"),
    [
        ({"wearer": "infants"}, 0),
        ({"wearer": "children"}, 1),
        ({"wearer": "children", "age_from_months": 23}, 0),
        ({"wearer": "children", "age_from_months": 24}, 1),
        ({"wearer": None, "hand_circumference": Fraction(190)}, 1),
    ],
)
def test_a_mitten_without_a_thumb_is_for_infants(size: dict[str, Any], expected: int) -> None:
    bare = of_size(replace(free(115), thumb=Thumb(style="none")), **size)
    assert len(told(bare, "no-thumb")) == expected
    assert not told(replace(bare, thumb=Thumb()), "no-thumb")
