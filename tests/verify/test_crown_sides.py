"""The crown's marked sides: a ray through every ring, before the marked stitch, and no other."""

from __future__ import annotations

import copy
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest
from grading.test_worked_example import spec
from layout.sheets import chart
from verify.breaking import bytes_of, paths, tree
from verify.rewriting import everything_lost

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.grading import grade
from gussetry.layout import sheets
from gussetry.stitchmap import StitchMap
from gussetry.style import load_style
from gussetry.units import Point
from gussetry.verify import Asked, Limits, recount


@cache
def _map(lean: str, joined: bool = False) -> StitchMap:
    base = spec()
    return grade(
        replace(
            base,
            gauge=replace(base.gauge, lean=Fraction(lean)),
            lower_hand=replace(base.lower_hand, joined=joined),
            crown=replace(base.crown, follow_lean=True),
        )
    ).maps[0]


def _drawing(stitches: StitchMap) -> bytes:
    look = load_style("default")
    return svg_bytes(engrave(chart("crown", (stitches,), look, "US"), look))


def _kinds(svg: bytes, stitches: StitchMap) -> set[str]:
    return {finding.kind for finding in recount(svg, Asked("crown", (stitches,)))}


@pytest.mark.parametrize("joined", [False, True])
@pytest.mark.parametrize("lean", ["0", "-3", "3", "1"])
def test_marked_sides_are_drawn_and_found(lean: str, joined: bool) -> None:
    stitches = _map(lean, joined)
    svg = _drawing(stitches)
    assert _kinds(svg, stitches) == set()
    assert len(paths(tree(svg), data_role="marker")) == (1 if lean == "0" else 2)


@pytest.mark.parametrize("look", ["large-print", "phone", "clear-print"])
@pytest.mark.parametrize(("lean", "joined"), [("-5", True), ("4", False), ("6", True)])
def test_a_side_that_leans_is_named_clear_of_the_rings(lean: str, joined: bool, look: str) -> None:
    style = load_style(look)
    style = replace(style, width=0.85 * style.width if look != "phone" else style.width)
    stitches = _map(lean, joined)
    svgs = [svg_bytes(engrave(one, style)) for one in sheets("crown", (stitches,), style, "US")]
    limits = Limits(style.least_text, style.least_stitch)
    assert recount(svgs, Asked("crown", (stitches,), limits=limits)) == ()


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("lean", ["-5", "-1", "1"])
def test_every_ray_is_named_at_its_end(lean: str, hand: str) -> None:
    look = replace(load_style("default"), hand=hand)
    stitches = _map(lean)
    drawing = chart("crown", (stitches,), look, "US")
    asked = Asked("crown", (stitches,), hand=hand, limits=Limits(look.least_text, 2.2))

    def found(by: float) -> set[str]:
        labels = tuple(
            replace(x, at=x.at.plus(Point(by, 0))) if x.text == "outer side" else x
            for x in drawing.labels
        )
        svg = svg_bytes(engrave(replace(drawing, labels=labels), look))
        return {one.kind for one in recount(svg, asked)}

    assert {"thumb side", "outer side"} <= {x.text for x in drawing.labels}
    assert found(0) == set()
    assert "marker" in found(6) & found(-6)
    lost = replace(drawing, labels=tuple(x for x in drawing.labels if x.text != "outer side"))
    assert {one.kind for one in recount(svg_bytes(engrave(lost, look)), asked)} == {"marker"}
    bare = everything_lost(svg_bytes(engrave(drawing, look)))
    assert {one.kind for one in recount(bare, asked)} == {"tags"}


@pytest.mark.parametrize("lean", ["-6", "-1", "1"])
def test_names_at_each_others_rays_are_found(lean: str) -> None:
    look, stitches = load_style("default"), _map(lean)
    drawing = chart("crown", (stitches,), look, "US")
    other = {"thumb side": "outer side", "outer side": "thumb side"}
    labels = tuple(replace(x, text=other.get(x.text, x.text)) for x in drawing.labels)
    assert _kinds(svg_bytes(engrave(replace(drawing, labels=labels), look)), stitches) == {"marker"}


def test_the_words_name_the_sides_that_are_marked() -> None:
    look = load_style("default")
    asked = {lean: chart("crown", (_map(lean),), look, "US").description for lean in ("0", "-3")}
    assert "A ray marks the thumb side." in asked["0"]
    assert "Rays mark the thumb side and the outer side." in asked["-3"]


@pytest.mark.parametrize("n", [0, 1])
@pytest.mark.parametrize("lean", ["0", "-3"])
def test_a_lost_ray_is_found(lean: str, n: int) -> None:
    stitches = _map(lean)
    root = tree(_drawing(stitches))
    marks = paths(root, data_role="marker")
    lost = marks[n % len(marks)]
    next(parent for parent in root.iter() if lost in list(parent)).remove(lost)
    assert _kinds(bytes_of(root), stitches) == {"marker"}


@pytest.mark.parametrize("n", [0, 1])
def test_a_ray_that_ends_early_is_found(n: int) -> None:
    stitches = _map("-3")
    root = tree(_drawing(stitches))
    ray = paths(root, data_role="marker")[n]
    ray.set("d", (ray.get("d") or "").rsplit("L", 2)[0])
    assert _kinds(bytes_of(root), stitches) == {"marker"}


@pytest.mark.parametrize("n", [0, 1])
def test_a_ray_beside_another_stitch_is_found(n: int) -> None:
    # Drawn for sides that moved by three stitches, and held against sides that moved by one less.
    elsewhere = _map("-2")
    root, other = tree(_drawing(_map("-3"))), tree(_drawing(elsewhere))
    marks, moved = (paths(one, data_role="marker") for one in (root, other))
    marks[n].set("d", moved[n].get("d") or "")
    assert _kinds(bytes_of(root), _map("-3")) == {"marker"}


def test_a_ray_too_many_is_found() -> None:
    root = tree(_drawing(_map("0")))
    (ray,) = paths(root, data_role="marker")
    twin = copy.deepcopy(ray)
    next(parent for parent in root.iter() if ray in list(parent)).append(twin)
    assert _kinds(bytes_of(root), _map("0")) == {"marker"}


def test_the_chart_of_unmoved_sides_does_not_pass_for_moved_ones() -> None:
    assert "marker" in _kinds(_drawing(_map("0")), _map("-3"))
