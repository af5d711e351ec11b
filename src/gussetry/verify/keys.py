"""Keys: each symbol drawn as it is tagged, named in the reader's terms, and none too many."""

from __future__ import annotations

import re
from collections.abc import Iterable

from gussetry.stitchmap import Round
from gussetry.verify.charts import Sheet, fabric_stitch, symbol_in
from gussetry.verify.findings import Disagreement
from gussetry.verify.labels import found_at
from gussetry.verify.strokes import LEGGED, POSTS, Symbol, symbol_of
from gussetry.verify.svg import Page, Shape
from gussetry.verify.words import kinds_by_term, shown_work

_WORD = re.compile(r"[A-Za-z0-9]+")


def compare_key(
    page: Page, wanted: Iterable[Symbol], named: frozenset[str] = frozenset()
) -> list[Disagreement]:
    """The symbols of a key: each drawn as it is tagged, and all together just those wanted, and
    one for each kind that is only `named` in words."""
    findings: list[Disagreement] = []
    shown: list[Symbol] = []
    for shape in page.shapes:
        if "symbol" not in shape.classes:
            continue
        symbol = symbol_in(shape, -1j)
        tagged = Symbol(
            shape.tag("do"),
            shape.tag("of"),
            shape.tag("loop") or "both",
            shape.tag("pick-up") == "yes",
            shape.tag("held") == "yes",
        )
        if symbol != tagged:
            findings.append(
                found_at("key", "a symbol of the key is drawn as another", shape,
                         tagged, symbol or "?")
            )  # fmt: skip
        if symbol is not None:
            shown.append(symbol)
    needed = set(wanted)
    others = named - {symbol.do for symbol in needed}
    found = [symbol.do for symbol in shown]
    findings += [
        Disagreement("key", f"the key lacks {do}, which a sum names", expected=do)
        for do in sorted(others)
        if found.count(do) != 1
    ]
    findings += [
        Disagreement("key", f"the key lacks {symbol}", expected=str(symbol))
        for symbol in sorted(needed - set(shown))
    ]
    findings += [
        Disagreement("key", f"the key has {symbol}, which is not used", found=str(symbol))
        for symbol in sorted(set(shown) - needed)
        if symbol.do not in others
    ]
    if len(shown) != len(set(shown)):
        findings.append(Disagreement("key", "the key shows one symbol twice"))
    return findings


def drawn_symbols(sheet: Sheet) -> set[Symbol]:
    """The symbols of the entries that the chart draws, sums left out."""
    stitch = fabric_stitch(sheet.map, sheet.piece)
    drawn = {(shape.tag("round"), shape.tag("index")) for shape in sheet.stitches}
    return {
        symbol_of(op, stitch)
        for round_ in sheet.drawn
        for index, op in shown_work(round_)
        if (str(round_.number), str(index)) in drawn
    }


def summed_kinds(sheet: Sheet) -> frozenset[str]:
    """The kinds that the rounds have in entries that are not drawn, so that sums name them."""
    drawn = {(shape.tag("round"), shape.tag("index")) for shape in sheet.stitches}
    missing = [
        op.do
        for round_ in sheet.drawn
        for index, op in shown_work(round_)
        if (str(round_.number), str(index)) not in drawn
    ]
    return frozenset([*missing, *(do for _, said in sheet.sums.whole for do in said.work)])


def all_symbols(sheet_maps: Iterable[tuple[str, Iterable[Round]]]) -> set[Symbol]:
    """The symbols of every entry of the rounds, given with the stitch of their fabric."""
    return {
        symbol_of(op, stitch)
        for stitch, rounds in sheet_maps
        for round_ in rounds
        for _, op in shown_work(round_)
    }


def compare_terms(page: Page, texts: dict[int, str], terms: str) -> list[Disagreement]:
    """The words beside each symbol of a key: the stitch's name in the reader's terms, the loop,
    picked up, set aside; nothing of them where the symbol has none."""
    names = {kind: term for term, kind in kinds_by_term(terms).items()}
    words = [shape for shape in page.shapes if shape.tag("role") == "term"]
    findings: list[Disagreement] = []
    for shape in page.shapes:
        if "symbol" not in shape.classes or not words:
            continue
        symbol = symbol_in(shape, -1j)
        if symbol is None or symbol.do not in LEGGED | POSTS | {"slst", "ch"}:
            continue
        text = texts.get(_beside(shape, words).order, "")
        if symbol.do == "slst":
            right = names["slst"] in text
        else:
            first = _WORD.findall(text)
            name = names[symbol.of if symbol.do == "inc" else symbol.do]
            others = {names[kind] for kind in LEGGED | POSTS if kind != "inc"} - {name}
            right = name in first and not others & set(first)
        right &= _told_post(text) == (symbol.do[:2] if symbol.do in POSTS else "")
        right &= (f"{symbol.loop} loop" in text) if symbol.loop != "both" else "loop" not in text
        right &= symbol.pick_up == ("picked up" in text) and symbol.held == ("set aside" in text)
        if not right:
            findings.append(
                found_at("key", "a symbol of the key has other words", shape, symbol, text)
            )
    return findings


def _told_post(text: str) -> str:
    """`fp` or `bp` where the words say that the hook goes round a post, from that side."""
    if "post" not in text:
        return ""
    sides = [side[0] + "p" for side in ("front", "back") if f"from the {side}" in text]
    return sides[0] if len(sides) == 1 else "?"


def _beside(symbol: Shape, words: list[Shape]) -> Shape:
    """The words that stand next to a symbol, on its right, at its height."""
    right, middle = symbol.box.right, symbol.box.centre

    def away(label: Shape) -> float:
        gap = label.box.left - right
        return abs(label.box.centre.imag - middle.imag) * 3 + (gap if gap >= 0 else 1000 - gap)

    return min(words, key=away)
