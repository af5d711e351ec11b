"""Warnings of stripes that look alike: at the bound, just beyond it, and only of neighbours."""

from dataclasses import replace
from fractions import Fraction

import pytest
from grading.warned import free, message, told
from hypothesis import given, settings
from hypothesis import strategies as st

from gussetry.colours import difference
from gussetry.grading.concerns_colours import alike
from gussetry.spec import Cuff, Gauge, Spec, Stripe, Stripes, Yarn

CODE = "alike-stripes"


def striped(*colours: str, plan: str = "AB", thumb: str | None = None) -> Spec:
    """A specification with yarns A, B, … of those colours, two rounds each in the plan's order."""
    yarns = tuple(Yarn("ABCD"[i], f"wool {i}", colour) for i, colour in enumerate(colours))
    stripes = Stripes(tuple(Stripe(letter, 2) for letter in plan), thumb=thumb)
    return replace(free(190), yarns=yarns, stripes=stripes)


def test_a_grey_is_told_up_to_the_bound_and_not_at_it() -> None:
    greys = [f"#{level:02x}{level:02x}{level:02x}" for level in range(0x78, 0x100)]
    clear = next(shade for shade in greys if difference("#777777", shade) >= 10)
    close = greys[greys.index(clear) - 1]
    # The lightness of #777777 is 50.0 (CIE 15), near which CIEDE2000 counts lightness almost fully.
    assert 0x8F <= int(clear[1:3], 16) <= 0x93
    assert not told(striped("#777777", clear), CODE)
    assert len(told(striped("#777777", close), CODE)) == 1


def test_the_warning_names_the_pair_the_kinds_and_the_place() -> None:
    (problem,) = told(striped("#b22222", "#2e7d32"), CODE)
    assert problem.message == (
        "neighbouring stripes of yarn A (wool 0) and B (wool 1) look alike in greyscale (6.7),"
        " to deutan colour vision (5); a CIEDE2000 difference of 10 tells them apart"
    )
    assert problem.path == ("yarns", "B", "colour")
    assert problem.severity == "warning"
    assert "letters" in problem.help


@pytest.mark.parametrize(
    ("one", "other", "kinds"),
    [
        ("#777777", "#777777", {"full", "greyscale", "protan", "deutan", "tritan"}),
        # Only the red in the second tells them apart, for which two kinds of eyes lack a cone.
        ("#3366cc", "#7744cc", {"greyscale", "protan", "deutan"}),
        ("#44546a", "#d8c36a", set()),
    ],
)
def test_each_kind_is_told_by_itself(one: str, other: str, kinds: set[str]) -> None:
    said = " ".join(alike(one, other))
    assert {k for k in ("full", "greyscale", "protan", "deutan", "tritan") if k in said} == kinds


def test_yarns_that_never_meet_are_not_compared() -> None:
    alike_ends = ("#44546a", "#eef2f3", "#445469")
    assert not told(striped(*alike_ends, plan="ABCB"), CODE)
    assert len(told(striped(*alike_ends, plan="ABC"), CODE)) == 1


def test_a_plan_that_repeats_meets_itself() -> None:
    spec = striped("#44546a", "#eef2f3", "#445469", plan="ABC")
    assert "A (wool 0) and C (wool 2)" in message(spec, CODE)
    once = replace(spec, stripes=replace(spec.stripes, repeat=False))
    assert not told(once, CODE)


def test_every_pair_is_told_once_for_all_sizes() -> None:
    spec = striped("#777777", "#787878", "#797979", plan="ABC")
    many = replace(spec, sizes=free(180, 190, 200).sizes)
    pairs = [problem.message.split(" look")[0] for problem in told(many, CODE)]
    assert len(pairs) == 3
    assert len(set(pairs)) == 3


def test_the_cuff_meets_the_hand() -> None:
    base = striped("#44546a", "#445469", plan="A")
    assert not told(base, CODE)
    rib = Gauge("sc", Fraction(5), Fraction(9, 2))
    assert told(replace(base, cuff=Cuff(gauge=rib, yarn="B")), CODE)
    assert told(replace(base, cuff=Cuff(style="round", yarn="B")), CODE)


@given(st.integers(0, 0xFFFFFF), st.integers(0, 0xFFFFFF))
@settings(max_examples=100, deadline=None)
def test_which_yarn_is_named_first_changes_nothing(one: int, other: int) -> None:
    first, second = f"#{one:06x}", f"#{other:06x}"
    assert alike(first, second) == alike(second, first)
