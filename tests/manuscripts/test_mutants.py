"""One number or word changed at a time: what breaks is found, what does not is let be."""

from __future__ import annotations

from itertools import islice
from pathlib import Path
from random import Random

import pytest
from manuscripts.inventing import breaks, changed, in_words, invent
from manuscripts.mutating import figure_mutants, mutants
from manuscripts.readback import read_back, words_of

from gussetry import pipeline
from gussetry.manuscripts import check_text

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.mark.parametrize("terms", ["US", "UK"])
@pytest.mark.parametrize("seed", range(100))
def test_broken_arithmetic_is_found_without_a_specification(seed: int, terms: str) -> None:
    random = Random(seed)
    text = invent(random)
    assert not breaks(text)
    assert check_text(in_words(text, seed, terms), "sound").findings == ()
    mutant = changed(text, random)
    written = in_words(mutant, seed, terms)
    assert bool(check_text(written, "mutant").findings) == breaks(mutant), written


@pytest.mark.parametrize(
    ("example", "terms"), [("worked-example", "US"), ("quayside-fingerless", "UK")]
)
def test_another_fabric_is_found_with_a_specification(example: str, terms: str) -> None:
    work = pipeline.graded(EXAMPLES / f"{example}.yaml")
    text = words_of(work.spec, work.grading, "UK" if terms == "UK" else "US")
    assert read_back(text, work.spec, work.grading).findings == ()
    for mutant in islice(mutants(text, Random(7)), 25):
        found = read_back(mutant.text, work.spec, work.grading).findings
        assert found, f"{mutant.old} → {mutant.new} in: {mutant.line}"


@pytest.mark.parametrize("example", ["skerry-striped", "boulder-hdc"])
def test_another_figure_is_found_at_its_place(example: str) -> None:
    work = pipeline.graded(EXAMPLES / f"{example}.yaml")
    text = words_of(work.spec, work.grading, "US")
    for mutant in islice(figure_mutants(text, Random(example)), 25):
        found = read_back(mutant.text, work.spec, work.grading).findings
        assert {one.kind for one in found} <= {"measure", "amount"}
        assert found, f"{mutant.old} → {mutant.new} in: {mutant.line}"
        lines = mutant.text.split("\n")
        assert {lines[one.line - 1][one.column - 1 :][: one.length] for one in found} == {
            mutant.new
        }
