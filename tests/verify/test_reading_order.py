"""The marks of a file stand in the order in which they are read."""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from pathlib import Path
from xml.etree.ElementTree import Element

import pytest
from verify.breaking import SVG, paths, tree

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.layout import sheets
from gussetry.pipeline import graded
from gussetry.style import load_style

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def drawn(kind: str, style: str) -> tuple[Element, ...]:
    look = load_style(style)
    stitches = graded(EXAMPLES / "pebble-child.yaml").grading.maps[0]
    charts = sheets(kind, (stitches,), look, "US")
    return tuple(tree(svg_bytes(engrave(chart, look))) for chart in charts)


@pytest.mark.parametrize("style", ["default", "phone"])
@pytest.mark.parametrize("kind", ["cuff", "gusset", "crown", "thumb"])
def test_a_chart_stands_in_reading_order(kind: str, style: str) -> None:
    for root in drawn(kind, style):
        assert [child.tag for child in root][:2] == [SVG + "title", SVG + "desc"]
        labels = [p for p in paths(root) if p.get("data-says")]
        roles = [label.get("data-role") for label in labels]
        assert roles[0] == "title"
        rounds = [i for i, role in enumerate(roles) if role in ("round", "count", "sum")]
        terms = [i for i, role in enumerate(roles) if role == "term" and i > rounds[-1]]
        assert rounds[0] > 1
        assert terms, "the key stands after the rounds"
        for group in (labels, paths(root, class_="stitch")):
            spans = [p.get("data-round", "").partition("-")[0] for p in group]
            numbers = [int(span) for span in spans if span]
            assert all(a <= b for a, b in pairwise(numbers)), numbers


@pytest.mark.parametrize("style", ["default", "phone"])
def test_stitches_of_a_round_stand_in_the_order_of_working(style: str) -> None:
    for kind in ("cuff", "gusset", "crown", "thumb"):
        for root in drawn(kind, style):
            found = [
                (p.get("data-round"), int(p.get("data-index", "")))
                for p in paths(root, class_="stitch")
                if p.get("data-do") != "slst"
            ]
            assert all(a[1] < b[1] for a, b in pairwise(found) if a[0] == b[0])
