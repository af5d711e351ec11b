"""What a text tells beside its rounds: yarns, markers, how rounds begin, sizes that go apart."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from grading.strategies import MADE_UP, unpinned_specs
from hypothesis import given
from manuscripts.readback import ROUNDING

from gussetry.grading import grade
from gussetry.read import read_spec
from gussetry.source import read_source
from gussetry.spec import CrownPhase, Cuff, Spec, Stripe, Stripes
from gussetry.telling.names import Terms
from gussetry.words import pattern_text

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def example(name: str) -> Spec:
    return read_spec(read_source(EXAMPLES / f"{name}.yaml"))


def told(spec: Spec, terms: Terms = "US") -> str:
    return pattern_text(spec, grade(spec).sizes, ROUNDING, terms)


def lines(text: str, start: str) -> list[str]:
    return [line for line in text.split("\n") if line.startswith(start)]


def test_a_size_that_has_none_of_a_stitch_has_a_line_of_its_own() -> None:
    text = told(example("skerry-striped"))
    assert "**Sizes S and XL only: Rnd 38 (43) in A:** Sc2tog around. 5 (6) sts." in text
    assert not re.search(r"\bnext 0\b|[ (]0[,)]", text)


@MADE_UP
@given(unpinned_specs())
def test_no_instruction_tells_to_work_none(spec: Spec) -> None:
    instructions = lines(told(spec), "**")
    assert instructions
    for line in instructions:
        work = line.partition(":** ")[2]
        assert not re.search(r"\bnext 0\b|[ (]0[,)]|[ (]–[,)]|– \(", work), line


def test_every_change_of_yarn_says_what_becomes_of_the_old_in_each_size() -> None:
    text = told(example("skerry-striped"))
    (line,) = lines(text, "**Rnd 28 (30, 31, 32, 34)")
    assert line.endswith(
        "Change yarn in the last st: to B, carrying A up inside (size XS); to A, cutting B (size"
        " S); to C, carrying A up inside (size XL)."
    )
    assert not re.search(r"Change to (?!\w+ in the last st and (?:carry|cut) )", text)


def test_what_becomes_of_resting_yarns_is_told_once_for_all_alike() -> None:
    text = told(example("skerry-striped"))
    assert text.count("at the end of each of") == 1
    assert "- Cut B and C at the end of each of their stripes." in text


def test_yarns_of_a_sideways_cuff_rest_at_one_edge() -> None:
    base = example("pebble-child")
    striped = (Stripe("A", 2), Stripe("B", 2), Stripe("A", 1), Stripe("B", 3))
    spec = replace(base, cuff=replace(base.cuff, yarn="", stripes=striped))
    assert lines(told(spec), "- Cuff: carry ") == [
        "- Cuff: carry A and B up inside where they come back after an even number of rows, 2 or"
        " fewer; else cut them."
    ]


@pytest.mark.parametrize(
    ("terms", "loops"), [("US", "3 for hdc, 2 for dc"), ("UK", "3 for htr, 2 for tr")]
)
def test_a_change_is_explained_for_every_stitch_that_it_is_made_in(
    terms: Terms, loops: str
) -> None:
    (line,) = lines(told(example("kittiwake-post-rib"), terms), "- Changing yarn: ")
    assert f"(loops on the hook: {loops})" in line
    assert "that joins the rnd is worked in the new yarn" in line
    assert ("yarn round hook" in line, "yarn over" in line) == (terms == "UK", terms == "US")


def test_rounds_begin_with_the_chain_of_their_own_stitch() -> None:
    text = told(example("kittiwake-post-rib"))
    assert "- Each rnd begins with ch 3 (cuff), ch 2 (hand and thumb) and is joined" in text
    assert "- Each rnd begins with ch 2 and is joined" in told(example("boulder-hdc"))


def test_a_marker_that_nothing_is_worked_at_is_not_told() -> None:
    assert "outer-side marker" not in told(example("skerry-striped"))
    assert "Place the outer-side marker in st 8." in told(example("worked-example"))


@pytest.mark.parametrize(
    ("name", "markers"),
    [
        ("skerry-striped", "- 3 stitch markers, one of them for the start of the rnd"),
        ("eiderdown-infant", "- 2 stitch markers, one of them for the start of the rnd"),
    ],
)
def test_as_many_markers_as_are_in_the_work_at_once(name: str, markers: str) -> None:
    assert markers in told(example(name)).split("\n")


def test_a_spiral_is_told_where_it_begins() -> None:
    spec = replace(
        example("pebble-child"), cuff=Cuff(style="round"), stripes=Stripes((Stripe("A", 1),))
    )
    text = told(spec)
    assert text.count("Work in a spiral: do not join the rnds.") == 1
    assert text.index("Work in a spiral: do not join") < text.index("## Hand")


def test_an_open_end_is_left_without_a_marker() -> None:
    text = told(example("quayside-fingerless"))
    hand, _, thumb = text.partition("## Thumb\n")
    assert "to level the end of the spiral, fasten off, and remove the markers." in hand
    assert "to level the end of the spiral, fasten off, and remove the marker." in thumb


def sides_alone(rounds: int) -> Spec:
    """A thumbless mitten whose crown is decreased at the sides alone, so many rounds."""
    base = example("eiderdown-infant")
    phase = CrownPhase("sides", rounds=(rounds, rounds), plain_after=0)
    return replace(base, crown=replace(base.crown, phases=(phase,)))


def test_a_marker_is_taken_out_before_the_tip_is_drawn_shut() -> None:
    (line,) = lines(told(sides_alone(10)), "**Draw shut:**")
    assert line.startswith("**Draw shut:** Remove the half-way marker. Thread the tail through")


def test_sizes_of_which_one_alone_has_a_marker_left_go_apart() -> None:
    text = told(sides_alone(9))
    assert "**Size 3 months only: Draw shut:** Remove the half-way marker. Thread" in text
    assert "**Size 9 months only: Draw shut:** Thread the tail" in text
