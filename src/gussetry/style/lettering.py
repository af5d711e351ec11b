"""Text as outlines of Atkinson Hyperlegible (OFL), so that no machine's fonts matter.

The font has no arrows and no geometric signs; where a drawing needs one, it draws it.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Any

Contour = tuple[tuple[str, tuple[tuple[float, float], ...]], ...]


@cache
def _font(bold: bool) -> tuple[Any, dict[int, str], Any, int]:
    from fontTools.ttLib import TTFont

    weight = "Bold" if bold else "Regular"
    folder = files("fontpkg_atkinson_hyperlegible") / "files"
    with (folder / f"AtkinsonHyperlegible-{weight}.ttf").open("rb") as stream:
        font = TTFont(stream, lazy=False)
    return font.getGlyphSet(), font.getBestCmap(), font["hmtx"].metrics, font["head"].unitsPerEm


@cache
def _glyph(character: str, bold: bool) -> tuple[float, Contour]:
    """(advance, outline) of a character in ems, y upwards. KeyError if the font lacks it."""
    from fontTools.pens.recordingPen import DecomposingRecordingPen

    glyphs, names, metrics, em = _font(bold)
    name = names[ord(character)]
    pen = DecomposingRecordingPen(glyphs)
    glyphs[name].draw(pen)
    outline = tuple(
        (verb, tuple((x / em, y / em) for x, y in points)) for verb, points in pen.value
    )
    return metrics[name][0] / em, outline


def drawable(text: str) -> str:
    """The text with every character that the font lacks replaced by a question mark."""
    names = _font(False)[1]
    return "".join(c if ord(c) in names else "?" for c in text)


def advance(text: str, size: float, bold: bool = False) -> float:
    """How far the text runs, in the unit of `size` (its em)."""
    return sum(_glyph(c, bold)[0] for c in drawable(text)) * size


CAP_HEIGHT = 0.668
"""Height of capitals and figures over the em (the font's own OS/2 table)."""
DESCENT = 0.22
"""Depth of descenders below the baseline over the em, rounded up."""


def outlines(text: str, bold: bool = False) -> list[tuple[str, tuple[tuple[float, float], ...]]]:
    """The outline of the whole text in ems from its start on the baseline, y upwards."""
    found: list[tuple[str, tuple[tuple[float, float], ...]]] = []
    x = 0.0
    for character in drawable(text):
        wide, outline = _glyph(character, bold)
        found += [(verb, tuple((px + x, py) for px, py in points)) for verb, points in outline]
        x += wide
    return found
