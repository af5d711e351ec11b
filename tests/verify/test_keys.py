"""The key sheet: each symbol at two pitches, and what the recount finds where one is wrong."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from itertools import product
from xml.etree.ElementTree import Element

import pytest
from verify.breaking import bytes_of, centre, parent, paths, tree
from verify.pen import outline, symbol

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.layout.key import key
from gussetry.layout.parts import Terms
from gussetry.layout.sampler import sampler
from gussetry.stitchmap import MAKES, POSTS, Op
from gussetry.style import load_style, names
from gussetry.verify import Asked, Limits, recount
from gussetry.verify.strokes import LEGGED, Symbol, symbol_of


@cache
def drawn(style: str = "default", terms: Terms = "US") -> bytes:
    look = load_style(style)
    return svg_bytes(engrave(key((sampler(),), look, terms), look))


def findings(root: Element) -> set[str]:
    return {found.message for found in recount(bytes_of(root), Asked("key", (sampler(),)))}


@pytest.mark.parametrize("terms", ["US", "UK"])
@pytest.mark.parametrize("style", names())
def test_every_stitch_is_drawn_at_two_pitches_in_every_style(style: str, terms: Terms) -> None:
    assert recount(drawn(style, terms), Asked("key", (sampler(),), terms)) == ()
    heads = [p.get("data-says") for p in paths(tree(drawn(style, terms)), data_role="pitch")]
    least = load_style(style).least_stitch
    assert set(heads) == {f"{least:g} mm", "6 mm"}


def test_a_column_headed_a_little_off_is_found() -> None:
    """A tenth of a millimetre: by the proportion of the two columns, and by the style's word."""
    root = tree(drawn("phone"))
    for head in paths(root, data_role="pitch", data_says="3.6 mm"):
        head.set("data-says", "3.5 mm")
        head.set("d", outline("3.5 mm", centre(head).real, centre(head).imag, 2.5))
    for limits in (None, Limits(stitch=3.6)):
        wrong = recount(bytes_of(root), Asked("key", (sampler(),), limits=limits))
        assert {one.kind for one in wrong} >= {"key"}


def test_the_sheet_of_all_stitches_lacks_none() -> None:
    """Counted from the kinds that there are: nine that may be worked in a loop, picked up or set
    aside, four round a post, seven of their own."""
    (piece,) = sampler().pieces
    found = {symbol_of(op, "sc") for op in piece.rounds[0].work}
    plain = {(do, of) for do in LEGGED for of in (("sc", "hdc", "dc") if do == "inc" else ("",))}
    wanted = {Symbol(do) for do in set(MAKES) - LEGGED - {"turn"}} | {
        Symbol(do, of, *addition)
        for (do, of), addition in product(
            plain, [("both",), ("back",), ("front",), ("both", True), ("both", False, True)]
        )
    }
    assert found == wanted
    assert len(found) == 9 * 5 + 4 + 7
    assert set(POSTS) < {symbol.do for symbol in found}


def _first(root: Element, do: str) -> Element:
    """The symbol of that kind in the first column: the smaller."""
    return min(paths(root, class_="symbol", data_do=do), key=lambda p: centre(p).real)


def swell(root: Element) -> None:
    one = _first(root, "ch")
    one.set("d", symbol(Op("ch"), centre(one), scale=0.2))


def full_size(root: Element) -> None:
    one = _first(root, "fpdc")
    one.set("d", symbol(Op("fpdc"), centre(one)))


def change_row(root: Element) -> None:
    one, other = _first(root, "hold"), _first(root, "skip")
    here, there = centre(one), centre(other)
    for path, at in ((one, there), (other, here)):
        path.set("d", symbol(Op(path.get("data-do", "")), at, scale=2.2 / 6.6))


def lose_one(root: Element) -> None:
    one = _first(root, "seam")
    parent(root, one).remove(one)


def lose_head(root: Element) -> None:
    for head in paths(root, data_role="pitch", data_says="6 mm"):
        parent(root, head).remove(head)


def rename_heads(root: Element) -> None:
    for head in paths(root, data_role="pitch", data_says="2.2 mm"):
        head.set("data-says", "3 mm")
        head.set("d", outline("3 mm", centre(head).real - 3, centre(head).imag + 1))


def set_words_lower(root: Element) -> None:
    """The second line of some words slips into the row below."""
    rows = paths(root, data_role="term")
    second = next(p for p in rows if p.get("data-says") == "the front")
    second.set("d", outline("the front", centre(second).real - 5, centre(second).imag + 5))


FAULTS = {
    swell: "a symbol of the key is not drawn in proportion",
    full_size: "a symbol of the key is not of the size that its heading says",
    change_row: "a symbol of the key stands beside another",
    lose_one: "the key lacks seam",
    lose_head: "the key is not drawn for print small and large",
    rename_heads: "a symbol of the key is not drawn in proportion",
    set_words_lower: "a symbol of the key has other words",
}


@pytest.mark.parametrize("spoil", FAULTS)
def test_a_spoilt_key_is_found(spoil: Callable[[Element], None]) -> None:
    root = tree(drawn())
    assert findings(root) == set()
    spoil(root)
    assert FAULTS[spoil] in findings(root)
