"""Increases at the outer edge stand where rounds begin, with what they grow from."""

from __future__ import annotations

from dataclasses import replace

import pytest
from layout.sheets import FIVE_SIZES, SAMPLE, chart, mittens, tagged
from layout.test_charts import by_round

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.spec import Spec
from gussetry.stitchmap import StitchMap
from gussetry.style import load_style
from gussetry.units import Point
from gussetry.verify import Asked, recount

LOOK = load_style("default")
CASES = {"sample": (SAMPLE, 0), "XS": (FIVE_SIZES, 0), "L": (FIVE_SIZES, 3)}


def _map(name: str) -> StitchMap:
    spec: Spec
    spec, place = CASES[name]
    return mittens(spec)[place]


def _widened(stitches: StitchMap) -> list[int]:
    hand = stitches.piece("hand")
    assert hand is not None
    return [r.number for r in hand.rounds if r.phase == "outer edge"]


@pytest.mark.parametrize("name", CASES)
def test_increases_at_the_outer_edge_are_drawn_where_rounds_begin(name: str) -> None:
    stitches = _map(name)
    drawn = chart("gusset", [stitches], LOOK, "US")
    rows, widened = by_round(drawn), _widened(stitches)
    assert widened
    for number in widened:
        first, *others = sorted(rows[number], key=lambda s: int(tagged(s, "index")))
        assert (first.op.do, tagged(first, "index")) == ("inc", "0")
        before = [
            label for label in drawn.labels
            if tagged(label, "role") == "sum" and tagged(label, "round") == str(number)
            and tagged(label, "index").startswith("1-")
        ]  # fmt: skip
        assert len(before) == 1
        assert first.frame.origin.x > before[0].at.x > max(s.frame.origin.x for s in others)
        x, y = first.frame.origin
        grows = [
            line for line in drawn.lines
            if line.kind == "growth" and abs(line.points[0].x - x) < first.pitch
            and 0 < line.points[0].y - y < line.points[1].y - y < 1.6 * first.pitch
        ]  # fmt: skip
        assert len(grows) == 1


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("name", CASES)
def test_a_lost_or_displaced_increase_at_the_outer_edge_is_found(name: str, hand: str) -> None:
    stitches = _map(name)
    look = replace(LOOK, hand="left" if hand == "left" else "right")
    drawn = chart("gusset", [stitches], look, "US")
    asked = Asked("gusset", (stitches,), hand=hand)
    assert recount(svg_bytes(engrave(drawn, look)), asked) == ()
    number = str(_widened(stitches)[-1])
    place = next(
        i for i, s in enumerate(drawn.stitches)
        if tagged(s, "round") == number and tagged(s, "index") == "0"
    )  # fmt: skip
    old = drawn.stitches[place]
    rest = (*drawn.stitches[:place], *drawn.stitches[place + 1 :])
    assert recount(svg_bytes(engrave(replace(drawn, stitches=rest), look)), asked)
    middle = drawn.width / 2
    inward = old.frame._replace(origin=Point(middle, old.frame.origin.y))
    moved = replace(drawn, stitches=(*rest, replace(old, frame=inward)))
    assert recount(svg_bytes(engrave(moved, look)), asked)
