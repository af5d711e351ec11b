"""Text as outlines of Atkinson Hyperlegible (OFL), so that no machine's fonts matter.

The font has no arrows and no geometric signs; where a drawing needs one, it draws it.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from functools import cache, lru_cache
from importlib.resources import files
from typing import Any

Place = tuple[float, float]
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

    if character == PLAIN_ZERO:
        wide, slashed = _glyph("0", bold)
        return wide, _plain_zero(slashed)
    glyphs, names, metrics, em = _font(bold)
    name = names[ord(character)]
    pen = DecomposingRecordingPen(glyphs)
    glyphs[name].draw(pen)
    outline = [
        (verb, tuple((x / em, y / em) for x, y in part))
        for verb, points in pen.value
        for part in (_singly(points) if verb == "qCurveTo" else [points])
    ]
    return metrics[name][0] / em, tuple(outline)


def _singly(points: Sequence[Place]) -> list[list[Place]]:
    """TrueType's run of off-curve points as single quadratic curves, (control, end) each."""
    *controls, end = points
    ends = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in itertools.pairwise(controls)]
    return [list(pair) for pair in zip(controls, [*ends, end], strict=True)]


PLAIN_ZERO = "\ue000"
"""Stands for a zero without its slash, which the font has not: a character of no meaning of its
own (Unicode, private use)."""


def _plain_zero(outline: Contour) -> Contour:
    """The zero's outline with one counter: its two joined, the lines along the slash left out and
    each gap closed by one curve that goes on as the curves at both its ends do."""
    outer, upper, lower = _contours(outline)
    slash = next(i for i, (verb, _) in enumerate(lower) if verb == "lineTo")
    _, ((_, _), bottom) = lower[slash - 1]
    left = lower[slash][1][0]
    start, over = upper[0][1][0], upper[-1][1][-1]
    ahead = lower[slash + 1][1][0]
    first = _meeting((over, upper[-1][1][0]), (left, ahead))
    last = _meeting((bottom, lower[slash - 1][1][0]), (start, upper[1][1][0]))
    counter = [
        *upper, ("qCurveTo", (first, left)), *lower[slash + 1 :],
        *lower[1:slash], ("qCurveTo", (last, start)),
    ]  # fmt: skip
    close: tuple[str, tuple[Place, ...]] = ("closePath", ())
    return (*outer, close, *counter, close)


def _contours(outline: Contour) -> list[list[tuple[str, tuple[Place, ...]]]]:
    """The contours of an outline, each without its closing."""
    found: list[list[tuple[str, tuple[Place, ...]]]] = []
    for verb, points in outline:
        if verb == "moveTo":
            found.append([])
        if verb != "closePath":
            found[-1].append((verb, points))
    return found


def _meeting(one: tuple[Place, Place], other: tuple[Place, Place]) -> Place:
    """Where the lines through two pairs of points meet."""
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = other
    across = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
    share = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / across
    return ax + share * (bx - ax), ay + share * (by - ay)


def drawable(text: str) -> str:
    """The text with every character that the font lacks replaced by a question mark."""
    names = _font(False)[1]
    return "".join(c if ord(c) in names else "?" for c in text)


def advance(text: str, size: float, bold: bool = False) -> float:
    """How far the text runs, in the unit of `size` (its em)."""
    return _ems(text, bold) * size


@lru_cache(maxsize=4096)
def _ems(text: str, bold: bool) -> float:
    """The text's length in ems; kept, since wrapping and levelling ask for the same words again."""
    return sum(glyph(c, bold)[0] for c in drawable(text))


CAP_HEIGHT = 0.668
"""Height of capitals and figures over the em (the font's own OS/2 table)."""
DESCENT = 0.22
"""Depth of descenders below the baseline over the em, rounded up."""


def glyph(character: str, bold: bool = False) -> tuple[float, Contour]:
    """(advance, outline) of a drawable character in ems from its origin on the baseline, y
    upwards; the outline is of the verbs moveTo, lineTo, qCurveTo (one curve each) and closePath."""
    return _glyph(character, bold)
