"""The symbols of a key told from stitches without tags, by the words at their right."""

from __future__ import annotations

import re
from collections.abc import Sequence
from statistics import median

from gussetry.verify.charts import symbol_in
from gussetry.verify.levels import in_lines, level
from gussetry.verify.svg import Shape
from gussetry.verify.tagless_parts import Parts

_NUMBER = re.compile(r"[\d (),–/]+")
_PITCH = re.compile(r"\d+(?:\.\d+)? mm")
_BAND = 0.8  # of a symbol's size: symbols of one row of a key stand no further apart in height


def key_symbols(parts: Parts) -> list[Shape]:
    """The symbols below a chart that make up its key: from the foot of the page up every row of
    which each symbol has words at its right."""
    glyphs = [g for g in parts.glyphs if parts.page.height >= g.box.bottom > 0]
    if not glyphs:
        return []
    found: list[Shape] = []
    for band in reversed(in_lines(glyphs, _BAND * median(g.box.size for g in glyphs))):
        if not all(_has_words(parts, glyph, band) for glyph in band):
            break
        found += band
    return found


def _has_words(parts: Parts, glyph: Shape, band: Sequence[Shape]) -> bool:
    """Whether the next thing at a symbol's right is a text that is no number."""
    right = glyph.box.right
    others = [g.box.left for g in band if g.box.left > right]
    words = [
        (label.box.left, label)
        for label in parts.labels
        if label.box.left > right
        and label.box.top < glyph.box.bottom
        and label.box.bottom > glyph.box.top
        and not any(patch.box.holds(label.box.centre) for patch in parts.patches)
    ]
    if not words:
        return False
    at, label = min(words, key=lambda word: word[0])
    return at < min(others, default=at + 1) and not _NUMBER.fullmatch(parts.text(label))


def tag_symbols(parts: Parts, symbols: Sequence[Shape]) -> None:
    """The tags of a key's symbols, as they are drawn, and of the words beside them."""
    for shape in symbols:
        symbol = symbol_in(shape, -1j)
        parts.tag(shape, class_="symbol")
        if symbol is None:
            parts.tag(shape, do="?")
            continue
        parts.tag(shape, do=symbol.do)
        if symbol.of:
            parts.tag(shape, of=symbol.of)
        if symbol.loop != "both":
            parts.tag(shape, loop=symbol.loop)
        if symbol.pick_up:
            parts.tag(shape, pick_up="yes")
        if symbol.held:
            parts.tag(shape, held="yes")
    if symbols:
        _tag_words(parts, symbols)


def _tag_words(parts: Parts, symbols: Sequence[Shape]) -> None:
    """Words right of the key's symbols, from its first row on; what begins at the margin below it
    is a note."""
    size = median(shape.box.size for shape in symbols)
    top, edge = min(s.box.top for s in symbols) - size, min(s.box.right for s in symbols)
    foot = max(s.box.bottom for s in symbols) + 2 * size
    for label in parts.labels:
        beside = top < level(label) < foot and label.box.left > edge and not parts.role(label)
        if beside and not any(patch.box.holds(label.box.centre) for patch in parts.patches):
            parts.tag(label, role="term")


def infer_key(parts: Parts) -> None:
    """The tags of a key on a page of its own."""
    for label in parts.labels:
        if _PITCH.fullmatch(parts.text(label)):
            parts.tag(label, role="pitch")
    tag_symbols(parts, parts.glyphs)
