"""The product's own drawings: sound as they come, and found out when spoilt."""

from __future__ import annotations

from functools import cache
from itertools import count

import pytest
from grading.test_worked_example import spec
from layout.sheets import chart
from verify.breaking import STITCHES, Spoiler, bytes_of, tree
from verify.breaking_more import REST

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.grading import grade
from gussetry.layout import Terms, kinds, sheets
from gussetry.stitchmap import StitchMap
from gussetry.style import load_style
from gussetry.verify import Asked, recount

KINDS = ("cuff", "gusset", "crown", "thumb", "stripes", "schematic", "key")


@cache
def _map() -> StitchMap:
    return grade(spec()).maps[0]


@cache
def _drawing(kind: str, style: str = "default", terms: str = "US") -> bytes:
    look = load_style(style)
    drawn = chart(kind, (_map(),), look, "UK" if terms == "UK" else "US")
    return svg_bytes(engrave(drawn, look))


@pytest.mark.parametrize("terms", ["US", "UK"])
@pytest.mark.parametrize("style", ["default", "large-print"])
@pytest.mark.parametrize("kind", KINDS)
def test_every_drawing_recounts(kind: str, style: str, terms: Terms) -> None:
    look = load_style(style)
    drawn = [svg_bytes(engrave(one, look)) for one in sheets(kind, (_map(),), look, terms)]
    assert recount(drawn, Asked(kind, (_map(),), terms)) == ()


def test_no_kind_is_left_out() -> None:
    assert {*kinds(_map()), "key"} == set(KINDS)


@pytest.mark.parametrize("spoil", STITCHES + REST, ids=lambda spoil: spoil.__name__)
def test_every_spoilt_drawing_is_found(spoil: Spoiler) -> None:
    tried = 0
    for kind, n in zip(KINDS, count(3, 11), strict=False):
        root = tree(_drawing(kind))
        if spoil(root, n):
            tried += 1
            assert recount(bytes_of(root), Asked(kind, (_map(),))), kind
    assert tried


def test_another_map_does_not_fit() -> None:
    other = grade(spec("second")).maps[0]
    kinds_found = {f.kind for f in recount(_drawing("gusset"), Asked("gusset", (other,)))}
    assert "kind" in kinds_found
    assert "printed" in kinds_found
