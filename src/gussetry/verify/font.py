"""The font's own outlines, as data to hold a label against."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache
from typing import NamedTuple

from fontpkg_atkinson_hyperlegible import ROOT
from fontTools.pens.basePen import decomposeQuadraticSegment
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont

WEIGHTS = ("Regular", "Bold")
_LETTERS = (
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
    """A letter's outline in ems, in one weight and one figure style."""

    letter: str
    contours: tuple[Contour, ...]
    advance: float


class Font(NamedTuple):
    """One weight: the glyphs of each letter (figures have two, proportional and tabular), every
    contour by its steps, and the width of a space."""

    weight: str
    glyphs: dict[str, tuple[Glyph, ...]]
    by_steps: dict[str, tuple[tuple[Glyph, int], ...]]
    space: float


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


def _tabular(font: TTFont) -> dict[str, str]:
    """Glyph names of the tabular figures by the names of the proportional ones."""
    table = font["GSUB"].table
    found: dict[str, str] = {}
    for record in table.FeatureList.FeatureRecord:
        if record.FeatureTag == "tnum":
            for index in record.Feature.LookupListIndex:
                for part in table.LookupList.Lookup[index].SubTable:
                    found.update(getattr(part, "mapping", {}))
    return found


@cache
def font(weight: str) -> Font:
    """The outlines of one weight (`Regular` or `Bold`)."""
    path = ROOT / "files" / f"AtkinsonHyperlegible-{weight}.ttf"
    with TTFont(path, lazy=True) as file:
        em = float(file["head"].unitsPerEm)
        names = file.getBestCmap()
        outlines = file.getGlyphSet()
        tabular = _tabular(file)
        glyphs: dict[str, tuple[Glyph, ...]] = {}
        by_steps: dict[str, list[tuple[Glyph, int]]] = {}
        for letter in _LETTERS:
            name = names.get(ord(letter))
            if name is None:
                continue
            forms = []
            for form in (name, tabular.get(name)):
                if form is None:
                    continue
                pen = DecomposingRecordingPen(outlines)
                outlines[form].draw(pen)
                glyph = Glyph(letter, _contours(pen.value, em), outlines[form].width / em)
                forms.append(glyph)
                for i, part in enumerate(glyph.contours):
                    by_steps.setdefault(part.steps, []).append((glyph, i))
            glyphs[letter] = tuple(forms)
        space = outlines[names[ord(" ")]].width / em
    return Font(weight, glyphs, {k: tuple(v) for k, v in by_steps.items()}, space)
