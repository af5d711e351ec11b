"""Published hands against figures typed from the published tables."""

from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise
from math import pi
from statistics import NormalDist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gussetry import survey
from gussetry.units import MM_PER_INCH, rounded

HAND = "hand circumference"


def girth(words: str) -> int:
    """The hand circumference of a published hand, whole millimetres."""
    mm = survey.hand(words).measures[HAND]
    assert mm.denominator == 1
    return int(mm)


# --- adults: ANSUR II, NATICK/TR-15/007 (Gordon et al. 2014), mm ---------------------------------

ADULTS = {
    "women": (1986, "186.55", "8.82", {"p5": 173, "p25": 180, "p50": 187, "p75": 192, "p95": 202}),
    "men": (4082, "212.28", "10.24", {"p5": 195, "p25": 206, "p50": 212, "p75": 219, "p95": 230}),
}


@pytest.mark.parametrize("who", ADULTS)
def test_percentiles_are_the_surveys(who: str) -> None:
    for percentile, mm in ADULTS[who][3].items():
        assert girth(f"{who} {percentile}") == mm


@pytest.mark.parametrize("who", ["women", "men"])
def test_mean_and_deviation_agree_with_the_percentiles(who: survey.Grown) -> None:
    number, mean, deviation, _ = ADULTS[who]
    found = survey.ADULTS[who]
    assert (found.number, found.mean, found.deviation) == (
        number, Fraction(mean), Fraction(deviation),
    )  # fmt: skip
    # Hands are spread nearly normally: within 2 mm, at whole millimetres.
    curve = NormalDist(float(mean), float(deviation))
    for name, mm in found.percentiles.items():
        assert abs(curve.inv_cdf(float(name[1:]) / 100) - float(mm)) < 2


@pytest.mark.parametrize("who", ["women", "men"])
def test_a_percentile_tells_the_circumference_alone(who: str) -> None:
    for percentile in ("p1", "p50", "p99"):
        hand = survey.hand(f"{who} {percentile}")
        assert set(hand.measures) == {HAND}
        assert (hand.wearer, hand.estimated) == (who, frozenset())


# --- gloves: EN 420:2003+A1:2009, kept by EN ISO 21420:2020, mm -----------------------------------

GLOVES = {
    6: (152, 160),
    7: (178, 171),
    8: (203, 182),
    9: (229, 192),
    10: (254, 204),
    11: (279, 215),
}


@pytest.mark.parametrize("size", GLOVES)
def test_a_glove_size_has_the_standards_hand(size: int) -> None:
    hand = survey.hand(f"EN ISO 21420 size {size}")
    assert hand.measures == {HAND: GLOVES[size][0], "hand length": GLOVES[size][1]}
    assert not hand.estimated


@pytest.mark.parametrize("size", range(4, 14))
def test_a_glove_size_is_the_hand_in_inches(size: int) -> None:
    inches = rounded(size * MM_PER_INCH, Fraction(1))
    # Sizes outside the printed table may be a millimetre off.
    assert abs(girth(f"EN ISO 21420 size {size}") - inches) <= (0 if size in GLOVES else 1)


def test_a_glove_size_that_was_not_checked_is_called_an_estimate() -> None:
    for size in (4, 5, 12, 13):
        assert survey.hand(f"EN ISO 21420 size {size}").estimated == {HAND}


# --- children: Snyder et al. 1977, UM-HSRI-77-17, means of both sexes, mm -------------------------

# By year of age: breadth, length, wrist circumference, thumb length, thumb diameter, and how far
# the crook lies above the wrist.
CHILDREN = {
    2: ("50.0", 102, 113, 35, "12.2", 31),
    3: ("52.8", 111, 113, 37, "12.8", 33),
    4: ("55.3", 118, 118, 40, "13.3", 37),
    5: ("57.7", 124, 120, 43, "13.9", 39),
    6: ("60.3", 130, 122, 45, "14.5", 40),
    7: ("62.5", 135, 127, 48, "15.4", 39),
    8: ("65.0", 141, 131, 48, "15.5", 44),
    9: ("67.3", 148, 133, 52, "15.7", 44),
    10: ("69.7", 153, 136, 54, "16.4", 45),
    11: ("72.0", 159, 139, 56, "16.6", 48),
    12: ("74.8", 166, 145, 58, "17.4", 51),
    13: ("77.7", 172, 149, 60, "17.8", 52),
}


@pytest.mark.parametrize("age", CHILDREN)
def test_a_childs_hand_is_the_surveys_mean(age: int) -> None:
    breadth, length, wrist, thumb, diameter, crook = CHILDREN[age]
    hand = survey.hand(f"age {age}")
    found = {name: float(mm) for name, mm in hand.measures.items()}
    # Half a millimetre of rounding on each side; a difference of two means has twice that.
    assert abs(found["hand length"] - length) < 1
    assert abs(found["wrist circumference"] - wrist) < 1
    assert abs(found["thumb length"] - thumb) <= 1
    assert abs(found["crook height"] - crook) <= 1
    assert abs(found["thumb circumference"] - pi * float(diameter)) < 0.51
    # Adults' breadth over circumference (ANSUR II, pooled mean): an estimate.
    assert abs(found[HAND] - float(breadth) / 0.4169) < 0.6
    assert hand.estimated == {HAND}
    assert (hand.wearer, hand.age_from_months) == ("children", 12 * age)


# Snyder et al. 1975, UM-HSRI-BI-75-5, means of both sexes, cm: first and last month, hand length,
# hand breadth.
INFANTS = [
    (0, 2, "6.8", "3.7"),
    (3, 5, "7.4", "4.1"),
    (6, 8, "8.0", "4.2"),
    (9, 11, "8.9", "4.5"),
    (12, 15, "9.2", "4.6"),
    (16, 19, "9.3", "4.6"),
    (20, 23, "9.5", "4.7"),
]


@pytest.mark.parametrize(("first", "last", "length", "breadth"), INFANTS)
def test_an_infants_hand_is_the_surveys_mean(
    first: int, last: int, length: str, breadth: str
) -> None:
    for month in range(first, last + 1):
        hand = survey.hand(f"age {month} month{'' if month == 1 else 's'}")
        assert hand == survey.hand(hand.standard)
        assert hand.measures["hand length"] == 10 * Fraction(length)
        assert abs(float(hand.measures[HAND]) - 10 * float(breadth) / 0.4169) < 0.6
        assert hand.estimated == {HAND}
        assert (hand.wearer, hand.age_from_months) == ("infants", month)


def test_older_children_have_no_smaller_hands() -> None:
    ages = [*(f"{m} months" for m in (0, 3, 6, 9, 12, 16, 20)), *(f"age {y}" for y in CHILDREN)]
    for younger, older in pairwise(ages):
        assert girth(younger) <= girth(older)


# --- words ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "nearest"),
    [
        ("women p60", "women p50"),
        ("women p64", "women p75"),
        ("Men P95", "men p95"),
        ("woman 5th percentile", "women p5"),
        ("men p100", "men p99"),
        ("EN 420 size 8.5", "EN ISO 21420 size 8"),
        ("EN ISO 21420 size 14", "EN ISO 21420 size 13"),
        ("glove size 3", "EN ISO 21420 size 4"),
        ("age 1", "12 months"),
        ("age 15", "age 13"),
        ("6 years", "age 6"),
        ("aged 4", "age 4"),
        ("24 months", "age 2"),
        ("300 months", "age 13"),
        ("medium", None),
        ("size M", None),
        ("8", None),
        ("", None),
    ],
)
def test_unknown_words_are_answered_with_the_nearest(words: str, nearest: str | None) -> None:
    with pytest.raises(survey.UnknownStandard) as found:
        survey.hand(words)
    assert found.value.nearest == nearest
    assert nearest is None or nearest in survey.HANDS


@settings(derandomize=True, max_examples=100, deadline=None)
@given(st.sampled_from(sorted(survey.HANDS)), st.sampled_from((str.upper, str.title)))
def test_words_in_other_letters_are_answered_with_the_hand_meant(
    words: str, other: Callable[[str], str]
) -> None:
    written = other(words)
    if written in survey.HANDS:
        return
    with pytest.raises(survey.UnknownStandard) as found:
        survey.hand(written)
    assert found.value.nearest == survey.hand(words).standard


@settings(derandomize=True, max_examples=200, deadline=None)
@given(
    st.text(max_size=30) | st.from_regex(r"(age|men p|EN size|women) ?[0-9.]{0,6}", fullmatch=True)
)
def test_any_words_name_a_hand_or_none(words: str) -> None:
    assert named(words) is None or named(words) in survey.HANDS


def named(words: str) -> str | None:
    """The published hand of the words, or the nearest that they may have meant."""
    try:
        return survey.hand(words).standard
    except survey.UnknownStandard as unknown:
        return unknown.nearest
