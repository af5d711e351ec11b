"""One mitten told by three writers, each in habits of their own: all make the same fabric."""

from __future__ import annotations

import re
from pathlib import Path
from random import Random

import pytest

from gussetry.grading import Grading
from gussetry.manuscripts import Against, check_against
from gussetry.pipeline import graded

FOLDER = Path(__file__).parent / "whole"
WRITERS = sorted(FOLDER.iterdir())
EXAMPLE = Path(__file__).parents[2] / "examples" / "worked-example.yaml"
_ROUND = re.compile(
    r"^[\s*-]*(?:R|Rnds?|Rounds?|Rows?|\d+(?:st|nd|th)|Ch(?:ain)?)\b.*$|^R\d.*$", re.M
)


@pytest.fixture(scope="module")
def grading() -> Grading:
    """The mitten that they all tell."""
    return graded(EXAMPLE).grading


@pytest.mark.parametrize("path", WRITERS, ids=lambda path: path.stem)
def test_the_same_fabric(path: Path, grading: Grading) -> None:
    checked = check_against(path.read_bytes(), path.name, Against(grading.maps))
    assert checked.findings == ()
    assert checked.rounds == 30 + 38 + 9


@pytest.mark.parametrize("path", WRITERS, ids=lambda path: path.stem)
def test_another_number_is_another_fabric(path: Path, grading: Grading) -> None:
    text = path.read_text(encoding="utf-8")
    places = [
        (line.start() + found.start(), line.start() + found.end())
        for line in _ROUND.finditer(text)
        for found in re.finditer(r"\d+", line.group())
    ]
    assert len(places) > 100
    for start, end in Random(path.stem).sample(places, 20):
        spoilt = text[:start] + str(int(text[start:end]) + 1) + text[end:]
        found = check_against(spoilt, path.name, Against(grading.maps)).findings
        assert found, text[start - 40 : start] + "[" + text[start:end] + "]" + text[end : end + 30]
