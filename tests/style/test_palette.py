"""A sheet's palette: the same pattern in other colours, its map and its warnings with it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from cli.program import gussetry

from gussetry.diagnostics import Faults
from gussetry.grading.recolour import recoloured
from gussetry.pipeline import graded
from gussetry.style import load_style

EXAMPLE = Path(__file__).parents[2] / "examples" / "pebble-child.yaml"


def sheet(folder: Path, text: str) -> str:
    path = folder / "look.yaml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_a_palette_names_letters_and_colours(tmp_path: Path) -> None:
    style = load_style(sheet(tmp_path, 'palette: {A: "#336699", Z: "#FFEEDD"}\n'))
    assert style.palette == (("A", "#336699"), ("Z", "#ffeedd"))


@pytest.mark.parametrize(
    ("text", "code", "column"),
    [
        ('palette: {a: "#336699"}', "not-a-letter", 14),
        ('palette: {AB: "#336699"}', "not-a-letter", 15),
        ("palette: {A: red}", "not-a-colour", 14),
        ("palette: {A: [red]}", "wrong-shape", 14),
        ("palette: red", "wrong-shape", 10),
    ],
)
def test_a_wrong_palette_is_an_error_at_its_place(
    tmp_path: Path, text: str, code: str, column: int
) -> None:
    with pytest.raises(Faults) as raised:
        load_style(sheet(tmp_path, text + "\n"))
    (problem,) = raised.value.problems
    assert problem.code == code
    assert problem.span is not None
    assert (problem.span.line, problem.span.column) == (1, column)


def test_maps_wear_the_palette_and_nothing_else_changes() -> None:
    work = graded(EXAMPLE)
    spec, grading = recoloured(work.spec, work.grading, {"A": "#010203", "Q": "#ffffff"})
    for before, after in zip(work.grading.maps, grading.maps, strict=True):
        assert after.colour("A") == "#010203"
        assert after.yarns[1:] == before.yarns[1:]
        assert after.pieces == before.pieces
    assert spec.yarns[0].colour == "#010203"
    assert recoloured(work.spec, work.grading, {"Q": "#ffffff"}) == (work.spec, work.grading)


def test_yarns_that_a_palette_makes_alike_are_warned_of() -> None:
    work = graded(EXAMPLE)
    first, second = (yarn.letter for yarn in work.spec.yarns[:2])
    _, grading = recoloured(work.spec, work.grading, {first: "#808080", second: "#848484"})
    assert "alike-stripes" in {warning.code for warning in grading.warnings}
    _, grading = recoloured(work.spec, grading, {first: "#101010", second: "#f0f0f0"})
    assert "alike-stripes" not in {warning.code for warning in grading.warnings}


def test_a_pattern_is_drawn_in_the_palette(tmp_path: Path) -> None:
    spec = tmp_path / "one.yaml"
    spec.write_text(
        "pattern: One\ngauge: {over: 10 cm, stitches: 18, rounds: 20}\n"
        'yarns: {A: {name: grey, colour: "#667788"}}\n'
        "sizes: {S: {hand circumference: 14 cm}}\ncuff: {style: round}\n",
        encoding="utf-8",
    )
    look = sheet(tmp_path, 'palette: {A: "#123456"}\n')
    done = gussetry("draw", "-q", spec, "-o", tmp_path / "out", "--style", look)
    assert done.returncode == 0, done.stderr
    stitches = json.loads((tmp_path / "out" / "S" / "stitches.json").read_bytes())
    assert "#123456" in json.dumps(stitches)
    strip = (tmp_path / "out" / "S" / "stripes.svg").read_text(encoding="utf-8")
    assert 'fill="#123456"' in strip
    assert "#667788" not in strip
