"""The campaign's own measure, over few specifications: no drawing has a finding."""

from __future__ import annotations

import pytest
from legibility_campaign import EXAMPLES, Found, made_up, tried

from gussetry.pipeline import graded
from gussetry.style import names

MADE_UP = 20
STYLES = names()


def _refused(found: tuple[Found, ...]) -> list[str]:
    return [
        f"{one.style} {one.drawing}: [{one.finding.kind}] {one.finding.message} {one.finding.at}"
        for one in found
    ]


@pytest.mark.parametrize("number", range(len(EXAMPLES)))
def test_every_drawing_of_an_example_can_be_read(number: int) -> None:
    path = EXAMPLES[number]
    tried_in = (STYLES[number % len(STYLES)], STYLES[(number + 2) % len(STYLES)])
    assert _refused(tried((path.stem, graded(path).spec), tried_in).findings) == []


def test_every_drawing_of_made_up_specifications_can_be_read() -> None:
    drawings = 0
    for number, spec in enumerate(made_up(MADE_UP, 1)):
        found = tried((f"made up {number}", spec), (STYLES[number % len(STYLES)],))
        assert _refused(found.findings) == [], spec
        drawings += found.drawings
    assert drawings > 5 * MADE_UP
