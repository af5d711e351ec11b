"""Style sheets: those that come with gussetry, and what one of a user's own may say."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from gussetry.diagnostics import Faults, Problem
from gussetry.style import SERIES, load_style, names, step


def faults(folder: Path, sheet: str) -> tuple[Problem, ...]:
    path = folder / "look.yaml"
    path.write_text(sheet, encoding="utf-8")
    with pytest.raises(Faults) as raised:
        load_style(str(path))
    return tuple(raised.value.problems)


def where(problem: Problem) -> tuple[int, int]:
    assert problem.span is not None
    return problem.span.line, problem.span.column


@pytest.mark.parametrize(
    ("sheet", "code", "place", "remedy"),
    [
        ("pens: {stitch: 0.3}\n", "not-a-pen", (1, 16), "0.25, 0.35"),
        ("pens:\n  guide: 0.05\n", "not-a-pen", (2, 10), "0.13, 0.18"),
        ("pens: {marker: 2.8}\n", "not-a-pen", (1, 16), "1.4, 2.0"),
        ("pens: {marker: thin}\n", "not-a-pen", (1, 16), "0.13"),
        ("text:\n  note: 6.5\nleast text: 7\n", "small-text", (2, 9), "7 or more"),
        ("text: {title: 5.9}\n", "not-a-size", (1, 15), "from 6"),
        ("least text: 5\n", "not-a-size", (1, 13), "from 6"),
        ("stitch: 2.1\n", "not-a-size", (1, 9), "from 2.2"),
        ("least stitch: 2.1\n", "not-a-size", (1, 15), "from 2.2"),
        ("paper: '#ffffff'\nstitch: 3\nleast stitch: 4\n", "small-stitch", (2, 9), "4 or more"),
        ("least stitch: 5\n", "small-stitch", (1, 15), "lower least stitch"),
        ("pens: {stitch: 0.5}\n", "even-pens", (1, 16), "wider pen"),
        ("pens: {least: 0.5}\n", "unknown-property", (1, 8), "stitch, shaping"),
        ("least: 0.5\n", "unknown-property", (1, 1), "least stitch, "),
    ],
)
def test_what_print_loses_is_refused_at_its_line(
    tmp_path: Path, sheet: str, code: str, place: tuple[int, int], remedy: str
) -> None:
    (problem,) = faults(tmp_path, sheet)
    assert (problem.code, where(problem)) == (code, place)
    assert remedy in problem.help


def test_every_kind_of_letters_is_raised_to_a_larger_least_text(tmp_path: Path) -> None:
    found = faults(tmp_path, "least text: 12\n")
    assert {problem.code for problem in found} == {"small-text"}
    assert {where(problem) for problem in found} == {(1, 13)}
    assert len(found) == len([p for _, p in load_style().text if p < 12])


def test_thick_and_thin_are_two_steps_apart(tmp_path: Path) -> None:
    even = "".join(f"  {name}: 0.35\n" for name, _ in load_style().pens)
    even = even.replace("shaping: 0.35", "shaping: 0.5")
    (problem,) = faults(tmp_path, "pens:\n" + even)
    assert problem.code == "even-pens"
    assert problem.help.startswith("make the widest 0.7")
    path = tmp_path / "look.yaml"
    path.write_text("pens:\n" + even.replace("guide: 0.35", "guide: 0.25"), encoding="utf-8")
    assert load_style(str(path)).pen("guide") == 0.25


@pytest.mark.parametrize("written", ["1", "1.0", "1.00", "2", "0.50"])
def test_a_pen_may_be_written_as_any_number_is(tmp_path: Path, written: str) -> None:
    path = tmp_path / "look.yaml"
    path.write_text(f"pens: {{outline: {written}}}\n", encoding="utf-8")
    assert load_style(str(path)).pen("outline") == float(written)


def test_the_series_is_the_standards() -> None:
    """ISO 128-2, 6.1: 0.13 to 2 mm in the ratio 1:√2, rounded."""
    widths = [float(pen) for pen in SERIES]
    assert widths == [0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0]
    assert all(abs(b / a / 2**0.5 - 1) < 0.03 for a, b in pairwise(widths))
    assert min(widths) > 0.25 * 25.4 / 72
    assert [step(width) for width in (0.05, 0.13, 0.179, 0.18, 0.36, 2.0, 9)] == [
        0,
        0,
        0,
        1,
        3,
        8,
        8,
    ]


def test_a_finer_pen_is_of_the_series_and_never_finer_than_its_first() -> None:
    style = load_style()
    assert [style.pen("shaping", finer) for finer in (0, 1, 2, 4, 9)] == [
        0.5,
        0.35,
        0.25,
        0.13,
        0.13,
    ]


LEAST = {
    "default": (2.2, 6), "large-print": (6, 16), "clear-print": (3, 12), "phone": (3.6, 10),
    "ink-saver": (2.2, 6),
}  # fmt: skip


@pytest.mark.parametrize("name", names())
def test_each_sheet_that_comes_with_gussetry_says_its_least(name: str) -> None:
    style = load_style(name)
    assert (style.least_stitch, style.least_text) == LEAST[name]
    assert min(points for _, points in style.text) >= style.least_text
