"""The font's own outlines, as data to hold a label against."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache
from typing import Any, NamedTuple

from fontpkg_atkinson_hyperlegible import ROOT
from fontTools.pens.basePen import decomposeQuadraticSegment
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont

WEIGHTS = ("Regular", "Bold")
LETTERS = (
    "0123456789=·–−-×½¼¾+,.:;()[]/&%!?'’\"…#*@|~<>_±•§©®°"
    "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
    "äöüßÄÖÜàâçéèêëîïôùûñáíóúåøæœÅØÆ"
)


class Contour(NamedTuple):
    """One contour, y downwards: its steps, its points, and `far`, the index of the point farthest
    from the first, which fixes size and turn."""

    steps: str
    points: tuple[complex, ...]
    far: int


class Glyph(NamedTuple):
    """A letter's outline in ems. `form` counts its figure styles: 0 proportional, 1 tabular, 2 a
    zero without its slash."""

    weight: str
    letter: str
    form: int
    contours: tuple[Contour, ...]
    advance: float


def contour(steps: str, points: Sequence[complex]) -> Contour:
    """A contour in the form in which all are compared: no closing line back to its start."""
    first = points[0]
    away = [abs(point - first) for point in points]
    far = away.index(max(away))
    if steps.endswith("L") and len(points) > 2 and away[-1] < 1e-4 * away[far]:
        return Contour(steps[:-1], tuple(points[:-1]), far)
    return Contour(steps, tuple(points), far)


def _contours(
    commands: Iterable[tuple[str, tuple[tuple[float, float], ...]]], em: float
) -> tuple[Contour, ...]:
    done = []
    steps, points = "", [0j]

    def at(point: tuple[float, float]) -> complex:
        return complex(point[0] / em, -point[1] / em)

    for name, places in commands:
        if name == "moveTo":
            steps, points = "", [at(places[0])]
        elif name == "lineTo":
            steps += "L"
            points.append(at(places[0]))
        elif name == "qCurveTo":
            for control, end in decomposeQuadraticSegment(places):
                steps += "Q"
                points += [at(control), at(end)]
        elif name == "closePath":
            done.append(contour(steps, points))
    return tuple(done)


def _tabular(file: TTFont) -> dict[str, str]:
    """Glyph names of the tabular figures by the names of the proportional ones."""
    table = file["GSUB"].table
    found: dict[str, str] = {}
    for record in table.FeatureList.FeatureRecord:
        if record.FeatureTag == "tnum":
            for index in record.Feature.LookupListIndex:
                for part in table.LookupList.Lookup[index].SubTable:
                    found.update(getattr(part, "mapping", {}))
    return found


class _Face(NamedTuple):
    """An opened font file: its outlines, glyph names by character, tabular figures, and em."""

    outlines: Any
    names: dict[int, str]
    tabular: dict[str, str]
    em: float


@cache
def _face(weight: str) -> _Face:
    file = TTFont(ROOT / "files" / f"AtkinsonHyperlegible-{weight}.ttf", lazy=False)
    return _Face(
        file.getGlyphSet(), file.getBestCmap(), _tabular(file), float(file["head"].unitsPerEm)
    )


@cache
def glyphs_of(weight: str, letter: str) -> tuple[Glyph, ...]:
    """The outlines of a letter in one weight (`Regular` or `Bold`), none where it is not there.

    Read one letter at a time: a drawing uses few.
    """
    face = _face(weight)
    name = face.names.get(ord(letter))
    found: list[Glyph] = []
    for form, shape in enumerate((name, face.tabular.get(name or ""))):
        if shape is not None:
            pen = DecomposingRecordingPen(face.outlines)
            face.outlines[shape].draw(pen)
            contours = _contours(pen.value, face.em)
            advance = face.outlines[shape].width / face.em
            found.append(Glyph(weight, letter, form, contours, advance))
    if letter == "0":
        slashed = found[0]
        parts = (slashed.contours[0], _whole_counter(*slashed.contours[1:]))
        found.append(Glyph(weight, letter, len(found), parts, slashed.advance))
    return tuple(found)


def _whole_counter(upper: Contour, lower: Contour) -> Contour:
    """The counter of a zero without its slash, after the drawing contract: both counters without
    the line along the slash, each gap one quadratic whose control is where the end tangents meet.
    """
    # The upper counter is closed along the slash; in the lower one the line is a step of its own.
    cut = 1 + sum({"L": 1, "Q": 2}[step] for step in lower.steps.partition("L")[0])
    rising, falling = list(lower.points[:cut]), list(lower.points[cut:])
    right = upper.points
    over = _crossing(right[-1], right[-2], falling[0], falling[1])
    under = _crossing(rising[-1], rising[-2], right[0], right[1])
    points = (*right, over, *falling, *rising[1:], under, right[0])
    return contour("Q" * ((len(points) - 1) // 2), points)


def _crossing(a: complex, b: complex, c: complex, d: complex) -> complex:
    """Where the line through a and b meets that through c and d."""
    along, other = b - a, d - c
    area = (along.conjugate() * other).imag
    return a + along * (((c - a).conjugate() * other).imag / area)


@cache
def space(weight: str) -> float:
    """The width of a space, ems."""
    return glyphs_of(weight, " ")[0].advance


@cache
def by_steps(weight: str) -> dict[str, tuple[tuple[Glyph, int], ...]]:
    """Every contour of every letter by its steps, as glyph and place in it."""
    found: dict[str, list[tuple[Glyph, int]]] = {}
    for letter in LETTERS:
        for glyph in glyphs_of(weight, letter):
            for i, part in enumerate(glyph.contours):
                found.setdefault(part.steps, []).append((glyph, i))
    return {steps: tuple(parts) for steps, parts in found.items()}
