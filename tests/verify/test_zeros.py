"""Zeros with and without a slash: drawn by the style, read back as zeros and as nothing else."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from fontTools.pens.recordingPen import RecordingPen
from fontTools.svgLib.path import parse_path

from gussetry.chart import Chart, Label
from gussetry.diagnostics import Faults
from gussetry.engrave import engrave
from gussetry.style import load_style, names
from gussetry.units import Point
from gussetry.verify.glyphs import contours_of, decode, shows
from gussetry.verify.paths import subpaths

TEXTS = ("0", "10", "100", "20 · m · 10 · m · 20 = 50", "rounds 30–40: 80 sc", "O0", "Ø0", "o0O")


def drawn(text: str, bold: bool, numerals: str) -> str:
    style = replace(load_style(), numerals=numerals)  # type: ignore[arg-type]
    label = Label("title" if bold else "note", text, Point(20, 30))
    drawing = engrave(Chart("key", "t", "d", 90, 40, labels=(label,)), style)
    (path,) = (item for group in drawing.groups for item in group.items)
    return path.data


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("numerals", ["plain", "slashed"])
@pytest.mark.parametrize("text", TEXTS)
def test_zeros_are_read_as_they_are_drawn(text: str, bold: bool, numerals: str) -> None:
    contours = contours_of(subpaths(drawn(text, bold, numerals)))
    assert shows(contours, text)
    assert decode(contours) == text
    for wrong in (text.replace("0", "O"), text.replace("0", "6"), text.replace("0", "")):
        assert not shows(contours, wrong)


@pytest.mark.parametrize("numerals", ["plain", "slashed"])
@pytest.mark.parametrize("text", TEXTS)
def test_zeros_rewritten_with_other_curves_are_still_zeros(text: str, numerals: str) -> None:
    pen = RecordingPen()
    parse_path(drawn(text, False, numerals), pen)
    data, here = "", (0.0, 0.0)
    for name, points in pen.value:
        if name == "qCurveTo":
            (cx, cy), (x, y) = points
            first = (here[0] + 2 / 3 * (cx - here[0]), here[1] + 2 / 3 * (cy - here[1]))
            second = (x + 2 / 3 * (cx - x), y + 2 / 3 * (cy - y))
            data += "C" + " ".join(f"{a:.3f} {b:.3f}" for a, b in (first, second, (x, y)))
        elif name == "closePath":
            data += "Z"
        else:
            data += {"moveTo": "M", "lineTo": "L"}[name] + "{:.3f} {:.3f}".format(*points[0])
        here = points[-1] if points else here
    assert decode(contours_of(subpaths(data))) == text


def test_a_plain_zero_has_one_counter_and_a_slashed_one_two() -> None:
    assert drawn("0", False, "plain").upper().count("M") == 2
    assert drawn("0", False, "slashed").upper().count("M") == 3


@pytest.mark.parametrize("name", names())
def test_prints_for_who_sees_little_keep_the_slash(name: str) -> None:
    wanted = "slashed" if name.endswith("print") else "plain"
    assert load_style(name).numerals == wanted


def test_other_numerals_are_an_error(tmp_path: Path) -> None:
    path = tmp_path / "look.yaml"
    path.write_text("numerals: roman\n", encoding="utf-8")
    with pytest.raises(Faults, match="numerals cannot be 'roman'"):
        load_style(str(path))
