"""Warnings on the terminal: shown once, never in the way; with --strict they stop the run."""

from __future__ import annotations

from pathlib import Path

import click
import pytest
from cli.program import gussetry

from gussetry.cli import program

WARNED = """\
# Its thumb is narrower than the hand's, and its swatch is no swatch of weight 4.
pattern: Skerry
gauge: {over: 4 in, stitches: 18, rounds: 20, lean: -2}
rib gauge: {over: 10 cm, stitches: 17, rows: 20, stretches to: 18 cm}
yarns:
  A: {name: slate, colour: "#44546a", weight: 4}
sizes:
  M: {hand circumference: 19.5 cm, for: women}
ease: {thumb: -5 mm}
crown: {follow lean: yes}
"""
CODES = ("unusual-gauge-for-weight", "narrow-thumb")

READING = sorted(
    name
    for name, command in program.commands.items()
    if any(isinstance(p, click.Argument) and p.name == "spec" for p in command.params)
)
"""Every command that grades a specification."""


def ordered(name: str, spec: Path, folder: Path) -> list[str | Path]:
    """The command's words."""
    return [name, spec, "-o", folder, "-q"] if name in ("draw", "pages") else [name, spec]


@pytest.fixture
def warned(tmp_path: Path) -> Path:
    """A specification that can be worked, with two warnings."""
    path = tmp_path / "warned.yaml"
    path.write_text(WARNED, encoding="utf-8")
    return path


def test_the_commands_that_grade_are_known() -> None:
    assert {"draw", "counts", "yarn", "fit"} <= set(READING)


@pytest.mark.parametrize("name", READING)
def test_each_warning_is_shown_once_and_stops_nothing(
    name: str, warned: Path, tmp_path: Path
) -> None:
    done = gussetry(*ordered(name, warned, tmp_path / "out"))
    assert done.returncode == 0
    shown = [line for line in done.stderr.splitlines() if line.startswith(("warning[", "error["))]
    assert sorted(shown) == sorted(set(shown))
    assert {line.split("[")[1].split("]")[0] for line in shown} == set(CODES)
    assert "warning[" not in done.stdout


@pytest.mark.parametrize("name", READING)
def test_strict_makes_every_warning_an_error(name: str, warned: Path, tmp_path: Path) -> None:
    done = gussetry(*ordered(name, warned, tmp_path / "out"), "--strict")
    assert done.returncode == 1
    assert done.stdout == ""
    assert "warning" not in done.stderr
    assert all(done.stderr.count(f"error[{code}]: ") == 1 for code in CODES)
    assert done.stderr.rstrip().endswith("2 errors; nothing was written")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["warned.yaml"]


def test_strict_shows_the_place_and_the_remedy(warned: Path) -> None:
    done = gussetry("counts", "--strict", warned.name, cwd=warned.parent)
    assert done.stderr.startswith(
        "error[unusual-gauge-for-weight]: yarn A: 18 sc over 4 in is unusual for weight 4, where"
        " the yarn council's guideline is 11 to 14\n"
        " --> warned.yaml:6:47 (yarns.A.weight)\n"
        "   |\n"
        ' 6 |   A: {name: slate, colour: "#44546a", weight: 4}\n'
        "   |                                               ^\n"
        "   = help: look at the weight and at the swatch; it is a guideline only, and a dense"
        " mitten may be meant\n"
    )


def test_strict_leaves_an_earlier_folder_as_it_was(warned: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert gussetry("draw", warned, "-q", "-o", out).returncode == 0

    def content() -> dict[str, bytes]:
        return {str(p.relative_to(out)): p.read_bytes() for p in out.rglob("*") if p.is_file()}

    before = content()
    assert gussetry("draw", warned, "-q", "-o", out, "--strict").returncode == 1
    assert content() == before


@pytest.mark.parametrize("name", ["counts", "yarn", "fit"])
def test_strict_lets_pass_what_deserves_no_warning(name: str, starter: Path) -> None:
    plain, strict = gussetry(name, starter), gussetry(name, starter, "--strict")
    assert (strict.returncode, strict.stderr) == (0, "")
    assert strict.stdout == plain.stdout


EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_the_examples_deserve_no_warning(example: Path) -> None:
    done = gussetry("counts", example, "--strict")
    assert (done.returncode, done.stderr) == (0, "")
