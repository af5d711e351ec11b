"""A thumb wider than the gusset's end: it goes on from its outer edge and lies over the hand."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from grading.test_worked_example import spec
from layout.sheets import chart
from verify.breaking import bytes_of, move, paths, points, tree

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.grading import grade
from gussetry.spec import Division, Stripe, Stripes
from gussetry.stitchmap import StitchMap
from gussetry.style import Style, load_style
from gussetry.verify import Asked, recount


@cache
def _maps() -> tuple[StitchMap, ...]:
    base = spec()
    plan = tuple(Stripe(yarn, rounds) for yarn, rounds in (("A", 3), ("B", 2)))
    return grade(replace(base, division=Division(bridge="chain"), stripes=Stripes(plan))).maps


def _drawing(look: Style) -> bytes:
    return svg_bytes(engrave(chart("schematic", _maps()[:1], look, "US"), look))


@pytest.mark.parametrize("yarns", ["colours", "hatches"])
@pytest.mark.parametrize("filled", ["outline", "stripes"])
def test_the_thumb_goes_on_from_the_gusset_over_the_hand(filled: str, yarns: str) -> None:
    look = replace(load_style("default"), schematic=filled, yarns=yarns)
    svg = _drawing(look)
    assert recount(svg, Asked("schematic", _maps()[:1])) == ()
    hand, thumb = (
        points(paths(tree(svg), data_role="outline", data_piece=piece)[0])
        for piece in ("hand", "thumb")
    )
    foot = max(at.imag for at in thumb)
    feet = [at.real for at in thumb if abs(at.imag - foot) < 1e-3]
    ledge = [at.real for at in hand if abs(at.imag - foot) < 1e-3]
    assert max(feet) == pytest.approx(max(ledge), abs=2e-3)
    # The crook: where the hand's edge meets the ledge.
    assert min(feet) < sorted(ledge)[1]


@pytest.mark.parametrize("by", [-2.0, -0.1, 0.1, 2.0])
def test_a_thumb_beside_the_gussets_edge_is_found(by: float) -> None:
    root = tree(_drawing(load_style("default")))
    move(paths(root, data_role="outline", data_piece="thumb")[0], by, 0)
    assert "outline" in {
        one.kind for one in recount(bytes_of(root), Asked("schematic", _maps()[:1]))
    }
