"""Divisions over a chain bridge: sound as they are drawn, and found out when spoilt."""

from __future__ import annotations

import re
from collections.abc import Callable
from copy import deepcopy
from dataclasses import replace
from functools import cache
from typing import Literal
from xml.etree.ElementTree import Element

import pytest
from layout.sheets import TALL_STITCHES, chart, mittens
from verify.breaking import bytes_of, centre, move, parent, paths, tree

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.layout import sheets
from gussetry.spec import Division, LowerHand
from gussetry.stitchmap import StitchMap
from gussetry.style import load_style
from gussetry.verify import Asked, recount

BRIDGES = {
    "chain": Division("chain", chains=(3,)),
    "long": Division("chain", chains=(16,)),
    "unworked": Division("chain", chains=(4,), worked_again=False),
    "join": Division("join", pairs=(2,)),
    "none": Division("none"),
}
Hand = Literal["right", "left"]
JOINED = LowerHand(joined=True)


@cache
def _map(name: str) -> StitchMap:
    return mittens(replace(TALL_STITCHES, division=BRIDGES[name], lower_hand=JOINED))[0]


@cache
def _drawing(name: str, hand: Hand = "right") -> bytes:
    look = replace(load_style("default"), hand=hand)
    return svg_bytes(engrave(chart("gusset", [_map(name)], look, "US"), look))


def _kinds(svg: bytes, name: str = "chain", hand: Hand = "right") -> set[str]:
    return {found.kind for found in recount(svg, Asked("gusset", (_map(name),), hand=hand))}


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("style", ["default", "large-print"])
@pytest.mark.parametrize("name", BRIDGES)
def test_every_bridge_recounts(name: str, style: str, hand: Hand) -> None:
    look = replace(load_style(style), hand=hand)
    made = sheets("gusset", [_map(name)], look, "US")
    drawn = [svg_bytes(engrave(one, look)) for one in made]
    assert recount(drawn, Asked("gusset", (_map(name),), hand=hand)) == ()


def _chains(root: Element) -> list[Element]:
    """The chains of the bridge, those of the foundation left out, in the order of working."""
    found = [p for p in paths(root, class_="stitch", data_do="ch") if p.get("data-round") != "0"]
    return sorted(found, key=lambda p: -centre(p).real)


def _numbers(root: Element) -> list[Element]:
    return sorted(paths(root, data_role="crook"), key=lambda p: centre(p).real)


def drop_chain(root: Element) -> None:
    one = _chains(root)[1]
    parent(root, one).remove(one)


def swap_chains(root: Element) -> None:
    first, last = _chains(root)[0], _chains(root)[-1]
    away = centre(last).real - centre(first).real
    move(first, away, 0)
    move(last, -away, 0)


def lower_bridge(root: Element) -> None:
    for one in _chains(root):
        move(one, 0, 3)


def chain_from_its_level(root: Element) -> None:
    move(_chains(root)[1], 2, -2.5)


def stack_chains(root: Element) -> None:
    first, second = _chains(root)[:2]
    move(second, centre(first).real - centre(second).real - 0.4, 0)


def swap_numbers(root: Element) -> None:
    first, last = _numbers(root)[0], _numbers(root)[-1]
    away = centre(last).real - centre(first).real
    move(first, away, 0)
    move(last, -away, 0)


def drop_number(root: Element) -> None:
    one = _numbers(root)[1]
    parent(root, one).remove(one)


def number_beside_its_chain(root: Element) -> None:
    move(_numbers(root)[1], 6, 0)


def numbers_to_another_row(root: Element) -> None:
    for one in _numbers(root):
        move(one, 0, 12)


@pytest.mark.parametrize(
    ("spoil", "kinds"),
    [
        (drop_chain, {"count"}),
        (swap_chains, {"tag"}),
        (lower_bridge, {"stacked"}),
        (chain_from_its_level, {"count"}),
        (stack_chains, {"stacked"}),
        (swap_numbers, {"crook"}),
        (drop_number, {"crook"}),
        (number_beside_its_chain, {"crook"}),
        (numbers_to_another_row, {"crook"}),
    ],
)
def test_a_spoilt_bridge_is_found(spoil: Callable[[Element], None], kinds: set[str]) -> None:
    root = tree(_drawing("chain"))
    spoil(root)
    assert kinds <= _kinds(bytes_of(root))


def drop_bow(root: Element) -> None:
    one = paths(root, data_role="joined")[0]
    parent(root, one).remove(one)


def bow_over_a_plain_stitch(root: Element) -> None:
    move(paths(root, data_role="joined")[0], -4.6, 0)


def bow_over_the_next_round(root: Element) -> None:
    move(paths(root, data_role="joined")[0], 0, -12)


def bow_twice(root: Element) -> None:
    one = paths(root, data_role="joined")[0]
    parent(root, one).append(deepcopy(one))


def bow_of_another(root: Element) -> None:
    paths(root, data_role="joined")[0].set("data-index", "3")


def no_bow(root: Element) -> None:
    one = paths(root, data_role="joined")[0]
    one.set("d", one.get("d", "").split("Z")[0] + "Z")


@pytest.mark.parametrize(
    "spoil",
    [drop_bow, bow_over_a_plain_stitch, bow_over_the_next_round, bow_twice, bow_of_another, no_bow],
)
@pytest.mark.parametrize("hand", ["right", "left"])
def test_a_far_stitch_without_its_own_sign_is_found(
    hand: Hand, spoil: Callable[[Element], None]
) -> None:
    root = tree(_drawing("join", hand=hand))
    assert len(paths(root, data_role="joined")) == 2
    spoil(root)
    assert "joined" in _kinds(bytes_of(root), "join", hand)


@pytest.mark.parametrize(
    ("name", "count"), [("join", r"\d+ · 2 join · \d+ = \d+"), ("chain", r"\d+ · 3 ch · \d+ = \d+")]
)
def test_a_division_is_counted_on_both_sides_of_its_bridge(name: str, count: str) -> None:
    said = [label.get("data-says", "") for label in paths(tree(_drawing(name)), data_role="count")]
    found = [text for text in said if re.fullmatch(count, text)]
    assert len(found) == 1
    before, bridge, after, total = map(int, re.findall(r"\d+", found[0]))
    assert before + after + (bridge if name == "chain" else 0) == total


@pytest.mark.parametrize("change", ["drop", "repeat"])
def test_a_stitch_that_only_sums_name_stands_in_the_key_once(change: str) -> None:
    root = tree(_drawing("chain"))
    one = paths(root, class_="symbol", data_do="slst")[0]
    if change == "drop":
        parent(root, one).remove(one)
    else:
        parent(root, one).append(deepcopy(one))
    assert "key" in _kinds(bytes_of(root))
