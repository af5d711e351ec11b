"""Measures of hands against surveys of people and glove sizes; wishes, and where they come from."""

from dataclasses import replace
from fractions import Fraction

import pytest
from grading.test_worked_example import spec

from gussetry.grading import grade
from gussetry.grading.cautions import cautioned
from gussetry.grading.measures import (
    CROOK_HEIGHT,
    CROOK_HEIGHT_P95,
    CUFF_STRETCH,
    PALM_TO_HAND,
    THUMB_LENGTH,
    THUMB_TO_HAND,
    WRIST_TO_HAND,
    body,
    cuff_stretch,
    tucked_girth,
    wish,
)
from gussetry.read import read_spec
from gussetry.source import parse
from gussetry.spec import Crown, Cuff, Gauge, Size, Spec, Thumb, Wearer
from gussetry.units import MM_PER_INCH

# EN 420:2003+A1:2009, kept by EN ISO 21420:2020: glove size, hand circumference and hand length
# in mm.
GLOVE_SIZES = [(6, 152, 160), (7, 178, 171), (8, 203, 182), (9, 229, 192), (10, 254, 204)]


@pytest.mark.parametrize(("glove", "circumference", "length"), GLOVE_SIZES)
def test_derived_hand_length_lies_near_the_glove_standard(
    glove: int, circumference: int, length: int
) -> None:
    # The survey's hands are a little longer than the standard's: up to half an inch.
    who: Wearer = "women" if glove <= 7 else "men"
    found = body(Size("x", Fraction(circumference), wearer=who)).hand_length
    assert abs(found - length) < MM_PER_INCH * Fraction(11, 20)


# ANSUR II, NATICK/TR-15/007 (Gordon et al. 2014), means in mm: hand circumference, hand length,
# wrist circumference.
@pytest.mark.parametrize(
    ("who", "girth", "length", "wrist"),
    [("men", "212.28", "193.28", "175.92"), ("women", "186.55", "181.08", "154.79")],
)
def test_the_mean_adult_hand_is_derived_from_its_circumference(
    who: Wearer, girth: str, length: str, wrist: str
) -> None:
    found = body(Size("x", Fraction(girth), wearer=who))
    # A least-squares line runs through the means; its printed figures are rounded.
    assert abs(found.hand_length - Fraction(length)) < Fraction(1, 2)
    assert abs(found.wrist_circumference - Fraction(wrist)) < 1
    assert found.origins == ("given", *["derived"] * 5)


def test_ratios_lie_in_the_surveys_ranges() -> None:
    # Means, of ANSUR II (wrist over hand: 0.829 men, 0.830 women) and of Snyder et al. 1977,
    # UM-HSRI-77-17 (ages 2 to 20), with its 95th percentile of the crook's height.
    for ratio, published in (
        (WRIST_TO_HAND, ("0.829", "0.830")),
        (THUMB_TO_HAND, ("0.311",)),
        (THUMB_LENGTH, ("0.352",)),
        (CROOK_HEIGHT, ("0.300",)),
        (CROOK_HEIGHT_P95, ("0.368",)),
    ):
        assert any(abs(ratio - Fraction(mean)) <= Fraction(1, 1000) for mean in published)


# Snyder et al. 1977, UM-HSRI-77-17, means of both sexes by year of age, mm: hand length, thumb
# length, thumb circumference as pi times the diameter, crook above the wrist as the difference of
# two means. Circumference is estimated: hand breadth over 0.417, the adults' share (ANSUR II).
CHILDREN = {
    2: (120, 102, 35, 38, 31),
    4: (133, 118, 40, 42, 37),
    6: (145, 130, 45, 45, 40),
    8: (156, 141, 48, 49, 44),
    10: (167, 153, 54, 51, 45),
    12: (179, 166, 58, 55, 51),
}


@pytest.mark.parametrize("age", CHILDREN)
def test_a_childs_hand_is_derived_from_its_circumference(age: int) -> None:
    girth, length, thumb, around, crook = CHILDREN[age]
    found = body(Size("x", Fraction(girth), wearer="children"))
    # 7.4 mm, one standard deviation of hand length at the ages with the least.
    assert abs(found.hand_length - length) <= Fraction(74, 10)
    assert abs(found.thumb_length - thumb) <= 4
    assert abs(found.thumb_circumference - around) <= 3
    assert abs(found.crook_height - crook) <= 5


# Snyder et al. 1975, UM-HSRI-BI-75-5, both sexes by first month of age: circumference estimated
# as above from the breadth, mean hand length, mm.
INFANTS = {0: (89, 68), 3: (98, 74), 6: (101, 80), 9: (108, 89), 12: (110, 92), 20: (113, 95)}


@pytest.mark.parametrize("month", INFANTS)
def test_an_infants_hand_is_shorter_than_a_childs(month: int) -> None:
    girth, length = INFANTS[month]
    found = body(Size("x", Fraction(girth), wearer="infants"))
    # 6 mm, the standard deviation of hand length in most of these groups.
    assert abs(found.hand_length - length) <= 6


def test_given_measures_are_kept_and_others_rest_on_them() -> None:
    given = Size("x", Fraction(200), hand_length=Fraction(150), wrist_circumference=Fraction(140))
    found = body(given)
    assert (found.hand_length, found.wrist_circumference) == (150, 140)
    assert found.thumb_length == THUMB_LENGTH * 150
    assert found.origin("hand length") == found.origin("wrist circumference") == "given"
    assert found.origin("thumb circumference") == "derived"


# --- what a published hand derives, against the survey's own percentiles ---------------------

# ANSUR II, mm: hand length and wrist circumference at p1, p25, p75, p99, palm length at p25, p75.
SURVEY = {
    "women": {"length": (160, 174, 187, 207), "wrist": (138, 150, 160, 174), "palm": (105, 113)},
    "men": {"length": (172, 187, 200, 218), "wrist": (156, 170, 182, 198), "palm": (112, 120)},
}


def read_size(*lines: str) -> Size:
    """A size read from the lines of a specification, with nothing else in question."""
    return read_specification(*lines).sizes[0]


def read_specification(*lines: str, more: str = "") -> Spec:
    """A specification of one size."""
    text = f"""
pattern: Skerry
gauge: {{over: 10 cm, stitches: 18, rounds: 20}}
rib gauge: {{over: 10 cm, stitches: 17, rows: 20}}
yarns: {{A: {{name: slate, colour: "#44546a"}}}}
sizes: {{M: {{{", ".join(lines)}}}}}
{more}
"""
    return read_spec(parse(text, "case.yaml"))


@pytest.mark.parametrize("who", ["women", "men"])
def test_the_median_hand_derives_median_measures(who: str) -> None:
    found = body(read_size(f"standard: {who} p50"))
    low, high = SURVEY[who]["length"][1:3]
    assert low < found.hand_length < high
    low, high = SURVEY[who]["wrist"][1:3]
    assert low < found.wrist_circumference < high
    open_hand = read_specification(f"standard: {who} p50", more="crown: {style: open}")
    low, high = SURVEY[who]["palm"]
    assert low < wish(open_hand, open_hand.sizes[0]).hand_length < high


@pytest.mark.parametrize("percentile", ["p1", "p2.5", "p5", "p95", "p97.5", "p99"])
@pytest.mark.parametrize("who", ["women", "men"])
def test_an_extreme_hand_derives_measures_less_extreme(who: str, percentile: str) -> None:
    # Who is at a percentile of one measure lies nearer to the middle in another.
    found = body(read_size(f"standard: {who} {percentile}"))
    least, _, _, most = SURVEY[who]["length"]
    assert least < found.hand_length < most
    least, _, _, most = SURVEY[who]["wrist"]
    assert least <= found.wrist_circumference <= most


# --- where measures come from ---------------------------------------------------------------


def test_a_percentile_fixes_the_circumference_alone() -> None:
    size = read_size("standard: men p95")
    assert (size.hand_circumference, size.wearer) == (230, "men")
    assert body(size).origins == ("surveyed", *["derived"] * 5)


def test_a_glove_size_brings_the_hands_length() -> None:
    found = body(read_size("standard: EN ISO 21420 size 8"))
    assert (found.hand_circumference, found.hand_length) == (203, 182)
    assert found.origin("hand length") == "surveyed"
    assert found.origin("wrist circumference") == "derived"
    assert found.thumb_length == THUMB_LENGTH * 182


def test_what_a_designer_measured_outranks_the_table() -> None:
    size = read_size("standard: age 6", "hand length: 14 cm", "thumb length: 5 cm")
    found = body(size)
    assert (found.hand_length, found.thumb_length) == (140, 50)
    assert [found.origin(name) for name in ("hand length", "thumb length")] == ["given"] * 2
    # The table still has the others.
    assert (found.wrist_circumference, found.crook_height) == (122, 40)
    assert found.origin("crook height") == "surveyed"


def test_a_childs_circumference_is_an_estimate_and_what_hangs_on_it_too() -> None:
    table = body(read_size("standard: age 4"))
    assert table.origins == ("estimated", *["surveyed"] * 5)
    measured = body(read_size("hand circumference: 13.3 cm", "for: children"))
    # The ratios of children's measures to the circumference are estimates, though it is given.
    assert measured.origins == ("given", *["estimated"] * 5)
    longer = body(read_size("hand circumference: 13.3 cm", "for: children", "hand length: 12 cm"))
    assert longer.origin("crook height") == "derived"
    infant = body(read_size("standard: 9 months"))
    assert infant.origin("hand length") == "surveyed"
    assert {infant.origin(name) for name in ("crook height", "wrist circumference")} == {
        "estimated"
    }


def test_a_young_age_brings_the_cautions() -> None:
    assert cautioned(read_size("standard: 18 months"))
    assert cautioned(read_size("standard: age 2"))
    assert not cautioned(read_size("standard: age 3"))
    assert not cautioned(read_size("standard: EN ISO 21420 size 4"))


def test_a_finished_measure_tells_what_its_wish_rests_on() -> None:
    made = read_specification("hand circumference: 19 cm", "for: women", "hand length: 18 cm")
    measures = {m.name: m for m in grade(made).sizes[0].measures}
    told = {name: measure.origin for name, measure in measures.items()}
    assert told == {
        "cuff circumference": "derived",
        # A third of the hand's length is common practice.
        "cuff depth": "weak",
        "hand circumference": "given",
        "thumb circumference": "derived",
        "crook height": "derived",
        "hand length": "given",
        "thumb length": "derived",
        "total length": "weak",
    }
    assert measures["hand length"].body == 180
    assert measures["cuff circumference"].body == WRIST_TO_HAND * 190
    assert measures["total length"].body is None


def test_a_palm_that_is_not_measured_is_derived() -> None:
    size = ("hand circumference: 19 cm", "for: women", "hand length: 18 cm")
    for crown, origin in (("{style: open}", "derived"), ("{style: open, reach: 60 %}", "given")):
        made = read_specification(*size, more=f"crown: {crown}")
        measures = {m.name: m for m in grade(made).sizes[0].measures}
        assert measures["hand length"].origin == origin
        assert measures["hand length"].body_origin == "given"


def test_a_measure_is_surveyed_or_estimated_and_never_both() -> None:
    size = read_size("standard: 9 months")
    assert size.estimated == {"hand circumference"}
    assert size.surveyed == {"hand length"}


# --- wishes of open ends and of no thumb -------------------------------------------------------

WOMAN = Size("M", Fraction(187), wearer="women", hand_length=Fraction(180))


def test_an_open_hand_ends_at_the_palm_or_where_it_is_asked_to() -> None:
    palm = wish(replace(spec(), crown=Crown(style="open")), WOMAN)
    # ANSUR II, women: palm length over hand length 0.601.
    assert palm.hand_length == Fraction("0.601") * 180
    assert palm.crown_height == 0
    asked = wish(replace(spec(), crown=Crown(style="open", reach=Fraction(3, 4))), WOMAN)
    assert asked.hand_length == 135


def test_a_childs_palm_is_what_the_middle_finger_leaves() -> None:
    # Snyder 1977, mean of individuals of 2 to 20 years: middle finger over hand length 0.433.
    child = replace(WOMAN, wearer="children")
    palm = wish(replace(spec(), crown=Crown(style="open")), child).hand_length
    assert palm == (1 - Fraction("0.433")) * 180
    assert abs(PALM_TO_HAND["men"] - palm / 180) < Fraction(5, 100)


def test_an_open_thumb_ends_at_its_share_without_ease() -> None:
    found = wish(replace(spec(), thumb=Thumb(style="open", reach=Fraction(2, 5))), WOMAN)
    assert found.thumb_length == THUMB_LENGTH * 180 * Fraction(2, 5)
    closed = wish(spec(), WOMAN)
    assert closed.thumb_length == THUMB_LENGTH * 180 + spec().ease.thumb_length
    assert found.thumb_circumference == closed.thumb_circumference


def test_without_a_thumb_nothing_is_wished_of_it() -> None:
    found = wish(replace(spec(), thumb=Thumb(style="none")), WOMAN)
    assert (found.thumb_circumference, found.thumb_length, found.crook_height) == (0, 0, 0)


def test_a_mitten_without_a_thumb_has_none_of_its_measures() -> None:
    made = read_specification(
        "standard: 9 months", more="thumb: {style: none}\ncuff: {style: round, depth: 3 cm}"
    )
    one = grade(made).sizes[0]
    names = [m.name for m in one.measures]
    assert names == [
        "cuff circumference", "cuff depth", "hand circumference", "hand length", "total length",
    ]  # fmt: skip
    hand = one.maps[0].piece("hand")
    assert hand is not None
    widest = max(r.count for r in hand.counted)
    measured = next(m for m in one.measures if m.name == "hand circumference")
    assert measured.finished == widest * made.gauge.width


def test_a_cuff_of_post_stitches_is_measured_by_the_ribs_gauge() -> None:
    made = read_specification("standard: women p50")
    rib = Gauge("dc", Fraction(6), Fraction(9))
    made = replace(made, cuff=Cuff(style="post", gauge=rib, depth=Fraction(60)))
    one = grade(made).sizes[0]
    cuff = one.maps[0].piece("cuff")
    assert cuff is not None
    found = {m.name: m.finished for m in one.measures}
    assert found["cuff circumference"] == cuff.counted[0].count * 6
    assert found["cuff depth"] == len(cuff.counted) * 9


# --- what a cuff must pass ---------------------------------------------------------------------


def test_the_girth_with_the_thumb_laid_in_is_measured_or_weak() -> None:
    assert tucked_girth(WOMAN) == (Fraction(12, 10) * 187, True)
    assert tucked_girth(replace(WOMAN, tucked_girth=Fraction(230))) == (230, False)


def test_a_cuff_opens_as_its_own_swatch_did() -> None:
    pulled, other = Fraction(17, 10), Fraction(13, 10)
    main = Gauge("sc", Fraction(5), Fraction(5), stretch=other)
    rib = Gauge("sc", Fraction(6), Fraction(5), stretch=pulled)
    made = replace(spec(), gauge=main, cuff=Cuff(gauge=rib))
    assert cuff_stretch(made) == (pulled, False)
    assert cuff_stretch(replace(made, cuff=Cuff(style="post", gauge=rib))) == (pulled, False)
    assert cuff_stretch(replace(made, cuff=Cuff(style="round"))) == (other, False)
    unknown = replace(made, cuff=Cuff(gauge=replace(rib, stretch=None)))
    assert cuff_stretch(unknown) == (CUFF_STRETCH, True)
