"""Keys: each symbol drawn as it is tagged, named in the reader's terms, and none too many."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from typing import NamedTuple

from gussetry.stitchmap import Round
from gussetry.verify.charts import Sheet, fabric_stitch, symbol_in
from gussetry.verify.feet import parted
from gussetry.verify.findings import Disagreement
from gussetry.verify.labels import found_at
from gussetry.verify.strokes import LEGGED, POSTS, Symbol, symbol_of
from gussetry.verify.svg import Page, Shape
from gussetry.verify.words import kinds_by_term, shown_work

_WORD = re.compile(r"[A-Za-z0-9]+")
_OWN_WORDS = {
    "hold": "set aside unworked", "skip": "miss ", "join": "join: ", "seam": "seam: ",
    "close": "draw shut: ",
}  # fmt: skip
_PITCH = re.compile(r"(\d+(?:\.\d+)?) mm")
SMALLEST, LARGE = 2.2, 6.0
"""The pitches at which a key must show its symbols, mm: none smaller, and one as large."""
_LEG = (0.5, 0.75)
"""How high a leg may be over its pitch."""
_EVEN = 0.005
"""How far one symbol at two pitches may be from their proportion."""


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
    picked up, set aside; nothing of them where the symbol has none. A symbol that is drawn at
    several pitches has its words beside the last."""
    names = {kind: term for term, kind in kinds_by_term(terms).items()}
    symbols = [shape for shape in page.shapes if "symbol" in shape.classes]
    heads = pitch_heads(page)
    if heads:
        largest = max(heads, key=lambda head: head.pitch).pitch
        symbols = [shape for shape in symbols if _under(shape, heads).pitch == largest]
    words = _words_of(page, symbols, texts)
    findings: list[Disagreement] = []
    for shape in symbols if any(words.values()) else ():
        symbol = symbol_in(shape, -1j)
        if symbol is None:
            continue
        text = words[shape.order]
        if symbol.do in _OWN_WORDS:
            right = text.startswith(_OWN_WORDS[symbol.do])
        elif symbol.do == "slst":
            right = names["slst"] in text
        else:
            first = _WORD.findall(text)
            name = names[symbol.of if symbol.do == "inc" else symbol.do]
            others = {names[kind] for kind in LEGGED | POSTS if kind != "inc"} - {name}
            right = name in first and not others & set(first)
        if symbol.do in LEGGED | POSTS:
            right &= _told_post(text) == (symbol.do[:2] if symbol.do in POSTS else "")
            right &= f"{symbol.loop} loop" in text if symbol.loop != "both" else "loop" not in text
            right &= (symbol.do == "inc") == ("in one " in text)
            right &= symbol.pick_up == ("picked up" in text)
            right &= symbol.held == ("set aside" in text)
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


def _words_of(page: Page, symbols: list[Shape], texts: dict[int, str]) -> dict[int, str]:
    """The words of each symbol, by its order: those that stand on its right, nearer to its height
    than to another's; several lines from the top down."""
    found: dict[int, list[Shape]] = {symbol.order: [] for symbol in symbols}
    for label in page.shapes:
        if label.tag("role") != "term" or not symbols:
            continue

        def away(symbol: Shape, label: Shape = label) -> float:
            gap = label.box.left - symbol.box.right
            lower = abs(label.box.centre.imag - symbol.box.centre.imag)
            return lower * 3 + (gap if gap >= 0 else 1000 - gap)

        found[min(symbols, key=away).order].append(label)
    return {
        order: " ".join(
            texts.get(label.order, "") for label in sorted(labels, key=lambda s: s.box.centre.imag)
        )
        for order, labels in found.items()
    }


class PitchHead(NamedTuple):
    """A heading over symbols that are drawn at one pitch: the pitch it says, mm, and its place."""

    pitch: float
    at: complex


def pitch_heads(page: Page) -> list[PitchHead]:
    """The headings of a key over its columns of symbols, none where it has no columns."""
    found = []
    for shape in page.shapes:
        says = _PITCH.fullmatch(shape.marks.get("data-says", ""))
        if shape.tag("role") == "pitch" and says:
            found.append(PitchHead(float(says[1]), shape.box.centre))
    return found


def _under(symbol: Shape, heads: list[PitchHead]) -> PitchHead:
    """The heading under which a symbol stands."""
    return min(heads, key=lambda head: abs(head.at.real - symbol.box.centre.real))


def compare_pitches(
    page: Page, wanted: set[Symbol], least: float | None = None
) -> list[Disagreement]:
    """The columns of a key: under each heading every symbol once and as large as it says; in each
    row one symbol. The first is at the style's `least` pitch, 2.2 mm or more, the last at 6 mm, or
    at that if it is larger; where it is not known, no smaller than these."""
    heads = pitch_heads(page)
    pitches = sorted({head.pitch for head in heads})
    floor = least or SMALLEST
    due = sorted({max(SMALLEST, floor), max(LARGE, floor)})
    small = not pitches or pitches[0] < SMALLEST or pitches[-1] < LARGE
    if small or (least is not None and pitches != due):
        told, said = (" and ".join(f"{pitch:g} mm" for pitch in own) for own in (due, pitches))
        return [Disagreement("key", "the key is not drawn for print small and large",
                             expected=told, found=said)]  # fmt: skip
    columns: dict[float, list[Shape]] = {pitch: [] for pitch in pitches}
    for shape in page.shapes:
        if "symbol" in shape.classes:
            columns[_under(shape, heads).pitch].append(shape)
    findings: list[Disagreement] = []
    for pitch, shapes in columns.items():
        own = replace(page, shapes=tuple(shapes))
        findings += compare_key(own, wanted)
        findings += [
            found_at("key", "a symbol of the key is not of the size that its heading says", shape,
                     f"{pitch:g} mm")
            for shape in shapes
            if not _legs_fit(shape, pitch)
        ]  # fmt: skip
    return findings + _odd_rows(columns)


def _odd_rows(columns: dict[float, list[Shape]]) -> list[Disagreement]:
    """Symbols beside which the last column has another at that height, or one that is not larger
    in the proportion of the two pitches."""
    *smaller, largest = sorted(columns)
    findings: list[Disagreement] = []
    for pitch, shape in ((each, shape) for each in smaller for shape in columns[each]):
        here, symbol = shape.box.centre, symbol_in(shape, -1j)
        right = [other for other in columns[largest] if other.box.centre.real > here.real]
        beside = min(right, key=lambda s: abs(s.box.centre - here), default=None)
        if beside is None or symbol_in(beside, -1j) != symbol:
            findings.append(
                found_at("key", "a symbol of the key stands beside another", shape, symbol or "?")
            )
        elif abs(beside.box.size / shape.box.size / (largest / pitch) - 1) > _EVEN:
            findings.append(
                found_at("key", "a symbol of the key is not drawn in proportion", shape,
                         f"{largest / pitch:.2f}", f"{beside.box.size / shape.box.size:.2f}")
            )  # fmt: skip
    return findings


def _legs_fit(shape: Shape, pitch: float) -> bool:
    """Whether a symbol's legs are as high as they are at that pitch; true of what has no leg."""
    symbol = symbol_in(shape, -1j)
    if symbol is None or symbol.do not in LEGGED | POSTS:
        return True
    strokes = [part for sub in shape.subs for part in parted(sub) if part.straight]
    highs = [abs((point - part.start).imag) for part in strokes for point in part.points]
    return _LEG[0] <= max(highs, default=0) / pitch <= _LEG[1]
