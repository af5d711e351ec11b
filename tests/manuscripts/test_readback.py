"""The words of a specification make its stitch maps again, in both terms."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from grading.strategies import specs
from hypothesis import HealthCheck, assume, given, settings
from manuscripts.readback import graded, read_back, words_of

from gussetry import pipeline
from gussetry.spec import CrownPhase, Spec

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_words_of_examples_make_their_maps(path: Path) -> None:
    work = pipeline.graded(path)
    us = read_back(words_of(work.spec, work.grading, "US"), work.spec, work.grading)
    uk = read_back(words_of(work.spec, work.grading, "UK", "plain"), work.spec, work.grading)
    assert us.findings == uk.findings == ()
    rounds = sum(len(p.counted) for m in work.grading.maps for p in m.pieces)
    assert us.rounds == uk.rounds == rounds


def test_names_of_sizes_may_have_signs_and_an_and() -> None:
    work = pipeline.graded(next(path for path in EXAMPLES if path.stem == "pebble-child"))
    names = ("1/2 (tiny)", "2 and 3", "Nursery school; large, or first form", "6: tall")
    sizes = tuple(replace(one, name=name) for one, name in zip(work.spec.sizes, names, strict=True))
    spec = replace(work.spec, sizes=sizes)
    grading = graded(spec)
    assert grading is not None
    assert read_back(words_of(spec, grading, "US"), spec, grading).findings == ()


@pytest.mark.parametrize("rounds", [8, 9, 10])
def test_a_marker_that_one_size_alone_still_has_is_told_in_a_line_of_its_own(rounds: int) -> None:
    spec = pipeline.graded(next(p for p in EXAMPLES if p.stem == "eiderdown-infant")).spec
    sides = CrownPhase("sides", rounds=(rounds, rounds), plain_after=0)
    spec = replace(spec, crown=replace(spec.crown, phases=(sides,)))
    grading = graded(spec)
    assert grading is not None
    assert read_back(words_of(spec, grading, "US"), spec, grading).findings == ()


@settings(max_examples=20, deadline=None, suppress_health_check=list(HealthCheck))
@given(specs())
def test_words_of_any_specification_make_its_maps(spec: Spec) -> None:
    grading = graded(spec)
    assume(grading is not None)
    assert grading is not None
    for terms in ("US", "UK"):
        text = words_of(spec, grading, terms)
        found = read_back(text, spec, grading).findings
        assert not found, (found[0], text.split("\n")[found[0].line - 1])
