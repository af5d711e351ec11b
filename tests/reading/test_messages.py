"""Faulty specifications beside the messages that they must bring."""

from __future__ import annotations

from pathlib import Path

import pytest
from reading.golden import REFRESH, compare

from gussetry.diagnostics import Faults, SourceMap, render
from gussetry.read import read_spec
from gussetry.source import UnreadableSource, parse

FAULTY = Path(__file__).parent / "faulty"
CASES = sorted(FAULTY.glob("*.yaml"))


def faults_of(text: str | bytes, name: str) -> tuple[Faults, SourceMap]:
    """What is wrong with a text, and where its lines can be looked up."""
    try:
        document = parse(text, name)
    except UnreadableSource as unreadable:
        return unreadable, unreadable.source
    with pytest.raises(Faults) as found:
        read_spec(document)
    return found.value, document


@pytest.mark.parametrize("case", CASES, ids=lambda path: path.stem)
def test_faulty_specification_says_what_is_wrong_and_where(case: Path) -> None:
    faults, source = faults_of(case.read_bytes(), case.name)
    shown = "\n\n".join(render(problem, source) for problem in faults.problems)
    compare(shown + "\n", case.with_suffix(".txt"))


@pytest.mark.parametrize("case", CASES, ids=lambda path: path.stem)
def test_problems_stand_in_the_order_of_the_file(case: Path) -> None:
    faults, source = faults_of(case.read_bytes(), case.name)
    spans = [problem.span or source.locate(problem.path) for problem in faults.problems]
    known = [(span.line, span.column) for span in spans if span]
    assert known == sorted(known)


def test_every_kept_message_has_its_case() -> None:
    assert {path.stem for path in FAULTY.glob("*.txt")} == {path.stem for path in CASES}


def test_refreshing_is_refused_on_a_build_server(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("CI", "true")
    monkeypatch.setenv(REFRESH, "1")
    kept = tmp_path / "kept.txt"
    with pytest.raises(AssertionError, match="refused"):
        compare("anything", kept)
    assert not kept.exists()
