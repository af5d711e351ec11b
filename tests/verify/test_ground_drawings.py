"""What a thumb and a sideways cuff stand on: sound as it is drawn, and found out when spoilt."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from typing import Literal
from xml.etree.ElementTree import Element

import pytest
from layout.sheets import SAMPLE, TALL_STITCHES, chart, mittens
from verify.breaking import bytes_of, centre, move, parent, paths, tree

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.spec import Division
from gussetry.stitchmap import StitchMap
from gussetry.style import load_style
from gussetry.verify import Asked, recount

Hand = Literal["right", "left"]
SPECS = {
    "pairs": SAMPLE,
    "chains": replace(TALL_STITCHES, division=Division("chain", chains=(4,), crook=(3,))),
    "none": replace(TALL_STITCHES, division=Division("none")),
}


@cache
def _map(name: str) -> StitchMap:
    return mittens(SPECS[name])[0]


@cache
def _drawing(kind: str, name: str, style: str = "default", hand: Hand = "right") -> bytes:
    look = replace(load_style(style), hand=hand)
    return svg_bytes(engrave(chart(kind, [_map(name)], look, "US"), look))


def _kinds(svg: bytes, kind: str, name: str, hand: Hand = "right") -> set[str]:
    return {found.kind for found in recount(svg, Asked(kind, (_map(name),), hand=hand))}


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize(
    ("kind", "name"),
    [("thumb", "pairs"), ("thumb", "chains"), ("thumb", "none"), ("cuff", "pairs")],
)
def test_every_ground_recounts(kind: str, name: str, hand: Hand) -> None:
    assert _kinds(_drawing(kind, name, hand=hand), kind, name, hand) == set()


def _sorted(root: Element, role: str) -> list[Element]:
    return sorted(paths(root, data_role=role), key=lambda p: centre(p).real)


def _swap(one: Element, other: Element) -> None:
    away = centre(other).real - centre(one).real
    move(one, away, 0)
    move(other, -away, 0)


def swap_crook(root: Element) -> None:
    numbers = _sorted(root, "crook")
    _swap(numbers[0], numbers[-1])


def drop_crook(root: Element) -> None:
    one = _sorted(root, "crook")[0]
    parent(root, one).remove(one)


def shift_crook(root: Element) -> None:
    move(_sorted(root, "crook")[0], 3, 0)


def lift_crook(root: Element) -> None:
    for one in _sorted(root, "crook"):
        move(one, 0, -14)


def drop_held(root: Element) -> None:
    one = next(p for p in paths(root, data_role="place") if "held" in p.get("data-says", ""))
    parent(root, one).remove(one)


def swap_edges(root: Element) -> None:
    edges = _sorted(root, "place")
    _swap(edges[0], edges[-1])


def drop_arrow(root: Element) -> None:
    one = _sorted(root, "direction")[0]
    parent(root, one).remove(one)


def arrow_to_the_other_side(root: Element) -> None:
    """The arrow of a row with its head, moved to where the row ends."""
    line = _sorted(root, "direction")[0]
    level = centre(line).imag
    head = next(h for h in paths(root, data_role="arrow") if abs(centre(h).imag - level) < 0.1)
    far = max(centre(p).real for p in paths(root, class_="stitch"))
    away = far + 6 - centre(line).real
    move(line, away, 0)
    move(head, away, 0)


def head_to_the_tail(root: Element) -> None:
    line = _sorted(root, "direction")[0]
    level = centre(line).imag
    head = next(h for h in paths(root, data_role="arrow") if abs(centre(h).imag - level) < 0.1)
    move(head, 2 * (centre(line).real - centre(head).real), 0)


@pytest.mark.parametrize(
    ("kind", "name", "spoil", "found"),
    [
        ("thumb", "chains", swap_crook, "crook"),
        ("thumb", "chains", drop_crook, "crook"),
        ("thumb", "chains", shift_crook, "crook"),
        ("thumb", "chains", lift_crook, "crook"),
        ("thumb", "pairs", drop_held, "place"),
        ("cuff", "pairs", swap_edges, "place"),
        ("cuff", "pairs", drop_arrow, "direction"),
        ("cuff", "pairs", arrow_to_the_other_side, "direction"),
        ("cuff", "pairs", head_to_the_tail, "direction"),
    ],
)
def test_a_spoilt_ground_is_found(
    kind: str, name: str, spoil: Callable[[Element], None], found: str
) -> None:
    root = tree(_drawing(kind, name))
    spoil(root)
    assert found in _kinds(bytes_of(root), kind, name)
