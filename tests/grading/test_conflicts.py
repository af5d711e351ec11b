"""Counts that fight: named with their sum, and what would make peace does."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from grading.strategies import specs
from hypothesis import HealthCheck, Phase, assume, given, settings

from gussetry.diagnostics import Faults
from gussetry.grading.fit import fit, solve
from gussetry.grading.pins import only, pinned, places, repinned
from gussetry.read import read_spec
from gussetry.source import parse
from gussetry.spec import Spec

EXAMPLES = Path(__file__).parents[2] / "examples"


def changed(example: str, old: str, new: str) -> Spec:
    """An example with one thing in it changed."""
    text = (EXAMPLES / f"{example}.yaml").read_text(encoding="utf-8")
    assert old in text
    return read_spec(parse(text.replace(old, new), "made.yaml"))


SAMPLE = (
    # 30 picked up, 2 increases; nine rounds grow 8 outside; 2 pairs are joined.
    ("hand stitches: 36", "hand stitches: 39",
     "hand stitches 39 cannot be worked: 30 + 2 + 8 of the gusset − 4 joined = 36 in the hand,"
     " not 39", "hand stitches 36"),
    # 36 stitches, two side rounds: 32; four rounds of four: 16.
    ("{evenly: 3, decreases: 4}", "{evenly: 4, decreases: 4}\n  before closing: 14",
     "the crown: 36 − 2×2 − 4×4 = 16, not 14", "before closing 16"),
    # Three rounds, then 2 and 9 of the gusset: 14; the division is the 15th.
    ("round: 15", "round: 12",
     "3 rounds + 11 of the gusset: the division is round 15 at the earliest, not 12",
     "division round 15"),
    # 11 between the markers and the 2 marked, 2 of the crook.
    ("crook decreases: 2", "stitches: 17\n  crook decreases: 2",
     "13 held + 2 of the crook = 15 in the thumb, not 17", "thumb stitches 15"),
    ("rounds to length: 0", "rounds to length: 0\n  before closing: 8",
     "thumb before closing 8 cannot be worked", "thumb before closing 9"),
)  # fmt: skip


@pytest.mark.parametrize(("old", "new", "message", "peace"), SAMPLE)
def test_a_pin_that_breaks_a_sample_is_told_in_numbers(
    old: str, new: str, message: str, peace: str
) -> None:
    with pytest.raises(Faults) as caught:
        fit(changed("worked-example", old, new))
    (problem,) = caught.value.problems
    assert message in problem.message
    assert peace in problem.help


def test_a_pin_that_shrinks_is_named_with_the_one_that_it_fights() -> None:
    spec = changed("skerry-striped", "gusset:", "lower hand: {pick up: {M: 36, L: 34}}\ngusset:")
    with pytest.raises(Faults) as caught:
        fit(spec)
    (problem,) = caught.value.problems
    assert problem.code == "size-shrinks"
    assert "pick up 34 of L and pick up 36 of M fight" in problem.message
    assert problem.path == ("lower hand", "pick up", "L")
    assert "pick up 36 in size L" in problem.help


def test_a_pin_far_from_all_that_works_is_told_the_best_that_does() -> None:
    old = "    - {evenly: fitted, decreases: 4}\n"
    spec = changed("skerry-striped", old, f"{old}  before closing: 100\n")
    with pytest.raises(Faults) as caught:
        fit(spec)
    for problem, counts in zip(
        caught.value.problems, fit(changed("skerry-striped", "pattern", "pattern")), strict=True
    ):
        sides, evenly = counts.phases
        assert problem.path[:2] == ("crown", "before closing")
        assert f"before closing {counts.base.hand - 2 * sides - 4 * evenly}" in problem.help


def test_a_thumb_too_far_to_the_palm_is_told_at_its_key() -> None:
    spec = changed("skerry-striped", "alternating}", "alternating, towards palm: 20}")
    with pytest.raises(Faults) as caught:
        fit(spec)
    assert {p.path for p in caught.value.problems} == {("gusset", "towards palm")}


@settings(
    derandomize=True,
    max_examples=30,
    deadline=None,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=list(HealthCheck),
)
@given(specs())
def test_what_would_make_peace_does(spec: Spec) -> None:
    try:
        fit(spec)
        fought = False
    except Faults as faults:
        fought, problems = True, faults.problems
    assume(fought)
    for problem in problems:
        found = re.search(r"these would work: (.*)", problem.help)
        if found is None or problem.code == "size-shrinks":
            continue
        size = next(i for i, s in enumerate(spec.sizes) if s.name == problem.path[-1])
        alone = only(spec, [size])
        for offer in found.group(1).split("; "):
            counts = [int(n) for n in re.findall(r"\b\d+\b", offer)]
            named = [
                place
                for place in places(spec)
                if offer.startswith(f"{place.name} ") and pinned(alone, place, 0) is not None
            ]
            for count in counts:
                assert any(solve(repinned(alone, place, 0, count)) for place in named)
