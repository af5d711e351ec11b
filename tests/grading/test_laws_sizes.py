"""The laws that hold between sizes: phases shared, no measure and no named count smaller."""

from dataclasses import replace

import pytest
from grading.typed import (
    Breaking,
    hand_round,
    joined_pair,
    marked,
    thumb_round,
    without,
)

from gussetry.grading.laws import (
    check_sizes,
)
from gussetry.grading.laws_sizes import named_counts


def test_sizes_that_grow_in_the_same_phases_are_in_order() -> None:
    assert check_sizes([joined_pair(), joined_pair()]) == ()
    assert check_sizes([joined_pair()]) == ()
    assert check_sizes([]) == ()


def test_the_named_counts_of_a_size() -> None:
    assert named_counts(joined_pair()) == {
        "stitches of the cuff": 2,
        "rows of the cuff": 12,
        "pick-up": 12,
        "between the markers": 4,
        "hand": 10,
        "rounds to the division": 7,
        "crown start": 10,
        "rounds of the hand": 12,
        "thumb": 8,
        "rounds of the thumb": 3,
    }


@pytest.mark.parametrize(
    ("breaking", "name"),
    [
        (hand_round(1, count=11), "pick-up"),
        (hand_round(6, markers=marked(6, 10)), "between the markers"),
        (hand_round(7, count=9), "hand"),
        (hand_round(8, count=9), "crown start"),
        (thumb_round(1, work="sc k0, sc h0-5"), "thumb"),
        (without("thumb", 2), "rounds of the thumb"),
        (without("cuff", 5), "rows of the cuff"),
    ],
)
def test_a_count_that_gets_smaller_is_found(breaking: Breaking, name: str) -> None:
    larger = replace(breaking(joined_pair()), size="L")
    found = check_sizes([joined_pair(), larger])
    assert any(p.code == "law-sizes" and p.message.startswith(f"{name}: ") for p in found)
    assert not [p for p in check_sizes([larger, joined_pair()]) if p.code == "law-sizes"]


def test_sizes_in_other_phases_are_found() -> None:
    swapped = hand_round(2, phase="lower hand")(hand_round(3, phase="outer edge")(joined_pair()))
    assert [p.code for p in check_sizes([joined_pair(), swapped])] == ["law-phases"]
    assert [p.code for p in check_sizes([joined_pair(), without("thumb")(joined_pair())])] == [
        "law-phases"
    ]


def test_a_phase_may_have_no_rounds_in_one_size() -> None:
    shorter = without("hand", 3)(joined_pair())
    assert not [p for p in check_sizes([shorter, joined_pair()]) if p.code == "law-phases"]
