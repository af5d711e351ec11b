"""Errata of gauge, yarns and finished measures, told as they are printed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from cli.comparing import example, output, spec

from gussetry.errata import Change, as_text, changes, read_output
from gussetry.errata.telling import CM_STEP, INCH_STEP
from gussetry.grading import finished
from gussetry.style import load_style


def test_gauge_and_yarns_are_told_once_for_all_sizes() -> None:
    other = spec(("rounds: 20}", "rounds: 20.5}"), ("foam", "spray"))
    told = as_text(Path("a"), Path("b"), changes(output(spec()), output(other)))
    head = told.partition("\n\nsize S")[0]
    assert "gauge: sc, 18 × 20 over 10 cm → sc, 18 × 20.5 over 10 cm" in head
    assert "yarn B: foam #eef2f3 → spray #eef2f3" in head
    assert told.count("gauge: sc") == 1


def test_a_cuff_that_ends_higher_and_another_style_sheet_are_told() -> None:
    other = replace(
        output(spec(("lower hand", "cuff: {above crease: 1 cm}\nlower hand"))), style="x"
    )
    told = as_text(Path("a"), Path("b"), changes(output(spec()), other))
    assert "  style sheet: default → x\n" in told
    assert "  cuff above the crease: 0 cm (0 in) → 1 cm (0.39 in)\n" in told


def _crown(*changed: tuple[str, str]) -> str:
    return as_text(Path("a"), Path("b"), changes(example(), example(*changed)))


def test_measures_are_told_as_the_schematics_print_them() -> None:
    # Every count of this example is pinned: 36 stitches are 20 cm at 18 to 10 cm, 21.2 at 17.
    told = _crown(("stitch: sc, stitches: 18", "stitch: sc, stitches: 17"))
    assert "  hand circumference: printed 20 cm (7¾ in) → 21 cm (8¼ in)\n" in told
    # 13 stitches, 72.2 mm and 76.5 mm.
    assert "  thumb circumference: printed 7 cm (2¾ in) → 7.5 cm (3 in)" in told
    assert " sts" not in told


def test_a_measure_that_prints_alike_is_told_in_millimetres() -> None:
    # 36 stitches are 198.895 mm at 18.1 to 10 cm: 1.105 mm less, and 20 cm still.
    told = _crown(("stitch: sc, stitches: 18", "stitch: sc, stitches: 18.1"))
    assert "  hand circumference: 1.105 mm less, printed 20 cm (7¾ in) as before\n" in told
    told = _crown(("stitch: sc, stitches: 18", "stitch: sc, stitches: 17.9"))
    assert "  hand circumference: 1.117 mm more, printed 20 cm (8 in)" not in told
    assert "  hand circumference: printed 20 cm (7¾ in) → 20 cm (8 in)\n" in told


def test_a_measure_that_comes_or_goes_is_told_as_printed() -> None:
    bare = ("cuff: {style: ribbed, rows: 30, stitches: 11}", "cuff: {style: none}")
    assert "  cuff depth: gone, printed 6.5 cm (2½ in)" in _crown(bare)
    back = as_text(Path("a"), Path("b"), changes(example(bare), example()))
    assert "  cuff depth: new, printed 6.5 cm (2½ in)" in back


@pytest.mark.parametrize("name", ["default", "large-print"])
def test_measures_are_rounded_as_our_style_sheets_round_them(name: str) -> None:
    style = load_style(name)
    assert (style.cm_step, style.inch_step) == (CM_STEP, INCH_STEP)


def test_the_figures_told_are_those_on_the_schematic(drawn: Path) -> None:
    # What compare says that size M has lost is what its schematic shows.
    stitches = next(m for m in read_output(drawn).maps if m.size == "M")
    shown = (drawn / "M" / "schematic.svg").read_text(encoding="utf-8")
    for name, value in finished(stitches).items():
        gone = Change("measure", "M", "both", name, old=value)
        line = as_text(Path("a"), Path("b"), [gone]).splitlines()[-1]
        start, printed = line.split(": gone, printed ")
        assert start == f"  {name}"
        assert f'data-says="{printed}"' in shown
