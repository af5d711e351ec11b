"""The numbers along a strip: a row of them without a gap, each passed clear of by landmarks."""

from __future__ import annotations

from functools import cache

import pytest
from grading.test_worked_example import spec
from layout.sheets import chart
from verify.breaking import bytes_of, move, parent, paths, tree

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.grading import grade
from gussetry.stitchmap import StitchMap
from gussetry.style import inks, load_style
from gussetry.verify import Asked, Limits, recount

STYLES = ("default", "clear-print", "large-print", "phone")


@cache
def _map() -> StitchMap:
    return grade(spec()).maps[0]


@cache
def _drawing(style: str) -> bytes:
    look = load_style(style)
    return svg_bytes(engrave(chart("stripes", (_map(),), look, "US"), look))


@pytest.mark.parametrize("style", STYLES)
def test_no_number_is_left_out_for_a_landmark(style: str) -> None:
    look = load_style(style)
    shown = [int(p.get("data-round") or 0) for p in paths(tree(_drawing(style)), data_role="round")]
    hand = _map().piece("hand")
    assert hand is not None
    step = min(shown)
    assert step in (1, 5, 10, 20)
    assert shown == list(range(step, hand.counted[-1].number + 1, step))
    asked = Asked("stripes", (_map(),), limits=Limits(look.least_text, look.least_stitch))
    assert recount(_drawing(style), asked) == ()


@pytest.mark.parametrize("style", STYLES)
def test_a_leader_that_does_not_reach_the_strip_is_found(style: str) -> None:
    root = tree(_drawing(style))
    leader = paths(root, data_role="rule", data_landmark="crown")[0]
    move(leader, 0.4, 0)
    found = recount(bytes_of(root), Asked("stripes", (_map(),)))
    assert [f.kind for f in found] == ["landmark"]


@pytest.mark.parametrize("nth", [1, -1])
def test_a_number_that_is_left_out_is_found(nth: int) -> None:
    root = tree(_drawing("default"))
    label = paths(root, data_role="round")[nth]
    parent(root, label).remove(label)
    found = recount(bytes_of(root), Asked("stripes", (_map(),)))
    assert [(f.kind, f.round) for f in found] == [("printed", int(label.get("data-round") or 0))]


@pytest.mark.parametrize("nth", [0, 4, -1])
def test_a_band_that_is_left_out_is_found_at_its_round(nth: int) -> None:
    root = tree(_drawing("default"))
    band = paths(root, data_role="stripe", data_piece="hand")[nth]
    parent(root, band).remove(band)
    found = recount(bytes_of(root), Asked("stripes", (_map(),)))
    number = int(band.get("data-round") or 0)
    assert ("strip", "hand", number) in [(f.kind, f.piece, f.round) for f in found]


@pytest.mark.parametrize(("one", "other"), [("#44546a", "#eef2f2"), ("#44546a", "#d9c167")])
def test_two_yarns_have_one_edge_whichever_is_the_upper(one: str, other: str) -> None:
    pens = ("#5c564e", "#1f1d1a")
    assert inks.edge(pens, one, other) == inks.edge(pens, other, one)
