"""What a clumsy or a hostile user gets: an exit code that tells, a message that helps, soon."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from cli.program import gussetry
from click.testing import CliRunner
from layout.sheets import chart

from gussetry.cli import program
from gussetry.diagnostics import Faults
from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.pipeline import graded
from gussetry.plan import plan
from gussetry.style import LIMITS, load_style
from gussetry.verify import recount

SPEC = """\
pattern: Trial
gauge: {over: 10 cm, stitches: 18, rounds: 20}
yarns: {A: {name: slate, colour: "#44546a"}}
sizes: {S: {hand circumference: 18 cm}, M: {hand circumference: 20 cm}}
cuff: {style: round}
"""


def _counts(folder: Path, text: str) -> tuple[int, str]:
    path = folder / "trial.yaml"
    path.write_text(text, encoding="utf-8")
    result = CliRunner().invoke(program, ["counts", str(path)])
    assert result.exception is None or isinstance(result.exception, SystemExit)
    return result.exit_code, result.stderr


@pytest.mark.parametrize(
    ("added", "code"),
    [
        ("lower hand: {pick up: 3}\n", "out-of-range"),
        ("gusset: {towards palm: 40}\n", "out-of-range"),
        ("gusset: {every: 50}\n", "out-of-range"),
        ("gusset: {growth: inside, between markers: 10}\n", "pin-does-not-fit"),
        ("gusset: {between markers: 11}\ndivision: {round: 5}\n", "pin-does-not-fit"),
        ("division: {chains: 50}\n", "pin-does-not-fit"),
        ("division: {pairs: 2, chains: 3}\n", "contradiction"),
        ("crown: {phases: [{evenly: 20, decreases: 4}]}\n", "pin-does-not-fit"),
        ("lower hand: {pick up: {S: 40, M: 30}}\n", "size-shrinks"),
        ("stripes: {plan: [A: 2, C: 3]}\n", "unknown-yarn"),
        ("lower hand: {rounds: -3}\n", "out-of-range"),
        (f"lower hand: {{rounds: {'9' * 5000}}}\n", "out-of-range"),
        ("pattern: Twice\n", "duplicate-key"),
        ("ease: {<<: {hand: 1 cm}}\n", "merge-key"),
        ("---\npattern: Other\n", "second-document"),
        ("credit: " + "[" * 45 + "]" * 45 + "\n", "too-deep"),
    ],
)
def test_what_cannot_be_worked_is_told_with_its_place_and_a_remedy(
    tmp_path: Path, added: str, code: str
) -> None:
    exit_code, said = _counts(tmp_path, SPEC + added)
    assert exit_code == 1
    assert f"error[{code}]" in said
    assert "trial.yaml:" in said
    assert "= help: " in said


@pytest.mark.parametrize(
    "added",
    [
        "lower hand: {pick up: 400}\n",
        "division: {pairs: 40}\n",
        "division: {hand stitches: 400}\n",
        "division: {round: 300}\n",
        "thumb: {crook decreases: 60}\n",
        "thumb: {side decreases: 60}\n",
        "crown: {plain before: 200}\n",
    ],
)
def test_absurd_pins_that_can_be_worked_are_worked(tmp_path: Path, added: str) -> None:
    assert _counts(tmp_path, SPEC + added)[0] == 0


def test_twelve_fitted_phases_are_fitted_in_a_moment(tmp_path: Path) -> None:
    phases = ", ".join(f"{{evenly: fitted, decreases: 1, plain after: {n}}}" for n in range(12))
    begun = time.perf_counter()
    assert _counts(tmp_path, SPEC + f"crown: {{phases: [{phases}]}}\n")[0] == 0
    assert time.perf_counter() - begun < 10


@pytest.mark.parametrize(
    ("sheet", "code", "column"),
    [
        ("stitch: 0.001", "not-a-size", 9),
        ("stitch: 500", "not-a-size", 9),
        ("scale: 100", "not-a-size", 8),
        ("dpi: 0.5", "not-a-size", 6),
        ("dpi: 72.9", "not-a-size", 6),
        ("dpi: 100000", "not-a-size", 6),
        ("text: {title: 0.1}", "not-a-size", 15),
        ("column: {width: 1}", "not-a-size", 17),
        ("stitch: 1e1", "not-a-size", 9),
        ("stitch: 1_0", "not-a-size", 9),
        ("stitch: nan", "not-a-size", 9),
        ("pens: 3", "wrong-shape", 7),
        ("pens: [3]", "wrong-shape", 7),
        ("stitch: {a: 1}", "wrong-shape", 9),
        ("ink: [a]", "wrong-shape", 6),
        ("ink: red", "not-a-colour", 6),
        ("stich: 4", "unknown-property", 1),
        ("text: {nope: 4}", "unknown-property", 8),
    ],
)
def test_absurd_styles_are_refused_at_their_place(
    tmp_path: Path, sheet: str, code: str, column: int
) -> None:
    path = tmp_path / "look.yaml"
    path.write_text(sheet + "\n", encoding="utf-8")
    with pytest.raises(Faults) as raised:
        load_style(str(path))
    (problem,) = raised.value.problems
    assert problem.code == code
    assert problem.span is not None
    assert (problem.span.line, problem.span.column) == (1, column)
    assert problem.help


@pytest.mark.parametrize(
    ("written", "option", "place"),
    [
        ("", "nosuch", " --> the style nosuch "),
        ("", "nosuch.yaml", " --> nosuch.yaml\n"),
        ("style: nosuch\n", "", "trial.yaml:6:8 (style)"),
        ("style: nosuch.yaml\n", "", "trial.yaml:6:8 (style)"),
    ],
)
def test_a_style_that_is_not_there_is_told_where_it_is_named(
    tmp_path: Path, written: str, option: str, place: str
) -> None:
    (tmp_path / "trial.yaml").write_text(SPEC + written, encoding="utf-8")
    arguments = ["draw", "-q", "trial.yaml", "-o", "out", *(["--style", option] if option else [])]
    done = gussetry(*arguments, cwd=tmp_path)
    assert done.returncode == 1
    assert place in done.stderr
    assert "= help: " in done.stderr
    assert not (tmp_path / "out").exists()


def test_every_property_may_stand_at_its_limits(tmp_path: Path) -> None:
    for end in (0, 1):
        stitch, dpi = float(LIMITS["stitch"][end]), float(LIMITS["dpi"][end])
        path = tmp_path / "look.yaml"
        path.write_text(f"stitch: {stitch}\ndpi: {dpi:.0f}\n", encoding="utf-8")
        style = load_style(str(path))
        assert (style.stitch, style.dpi) == (stitch, dpi)


STRANGE_NAMES = """\
pattern: "漢字 Ωmega"
credit: "Жанна 🧤"
gauge: {over: 10 cm, stitches: 18, rounds: 20}
yarns: {A: {name: "серый", colour: "#c5d0da"}}
sizes:
  ../../x: {hand circumference: 18 cm}
  CON: {hand circumference: 19 cm}
  shared: {hand circumference: 20 cm}
  "🧤": {hand circumference: 21 cm}
cuff: {style: round}
"""


RIBBED = SPEC.replace("cuff: {style: round}", "cuff: {rows: 34}") + (
    "rib gauge: {over: 10 cm, stitches: 17, rows: 20}\nlower hand: {pick up: 30}\n"
)


@pytest.mark.parametrize("kind", ["gusset", "key"])
def test_row_ends_missed_at_the_pick_up_are_drawn(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "missed.yaml"
    path.write_text(RIBBED, encoding="utf-8")
    _, spec, grading = graded(path)
    style = load_style()
    job = next(job for job in plan(spec, grading, style).jobs if job.kind == kind)
    drawing = engrave(chart(kind, job.maps, style, job.terms, job.words.notes), style)
    assert recount(svg_bytes(drawing), job.asked()) == ()
    assert drawing.description.count("Miss this place") == (1 if kind == "key" else 0)


def test_names_beyond_the_font_and_beyond_folders_are_drawn_and_stay_inside(
    tmp_path: Path,
) -> None:
    path = tmp_path / "strange.yaml"
    path.write_text(STRANGE_NAMES, encoding="utf-8")
    _, spec, grading = graded(path)
    style = load_style()
    folders = set()
    for job in plan(spec, grading, style).jobs:
        folders.add(Path(job.name).parent.as_posix())
        if job.kind in ("thumb", "key"):
            laid_out = chart(job.kind, job.maps, style, job.terms, job.words.notes)
            assert recount(svg_bytes(engrave(laid_out, style)), job.asked()) == ()
    assert folders == {".", "x", "CON-size", "shared-size", "size"}
