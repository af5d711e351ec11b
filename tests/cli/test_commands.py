"""The other commands, wrong usage, and what a start-up loads."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
from cli.program import PROGRAM, environment, gussetry, spoil

import gussetry as package


def test_the_version_is_told() -> None:
    done = gussetry("--version")
    assert (done.returncode, done.stdout) == (0, f"gussetry {package.__version__}\n")


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("drow",), "No such command"),
        (("draw", "a.yaml"), "Missing option"),
        (("draw", "-o", "out"), "Missing argument"),
        (("counts", "a.yaml", "--xml"), "No such option"),
        (("new",), "Missing argument"),
        (("draw", "a.yaml", "-o", ""), "the name is empty"),
        (("counts", ""), "the name is empty"),
    ],
)
def test_wrong_usage_is_told_with_code_2(arguments: tuple[str, ...], told: str) -> None:
    done = gussetry(*arguments)
    assert done.returncode == 2
    assert told in done.stderr
    assert "--help" in done.stderr


def test_every_command_has_help() -> None:
    for command in ("new", "draw", "counts", "yarn", "schema"):
        done = gussetry(command, "--help")
        assert done.returncode == 0
        assert done.stdout.startswith(f"Usage: gussetry {command}")


def test_new_never_writes_over_a_file(tmp_path: Path) -> None:
    path = tmp_path / "mine.yaml"
    path.write_text("mine", encoding="utf-8")
    done = gussetry("new", path)
    assert done.returncode == 1
    assert "is there already" in done.stderr
    assert path.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("name", ["no/such/folder/mine.yaml", "", "."])
def test_new_tells_what_cannot_be_written(tmp_path: Path, name: str) -> None:
    done = gussetry("new", tmp_path / name)
    assert done.returncode == 1
    assert done.stderr.startswith("error[")
    assert "= help: " in done.stderr


def test_new_shows_the_starter(starter: Path) -> None:
    done = gussetry("new", "-")
    assert done.returncode == 0
    assert done.stdout == starter.read_text(encoding="utf-8")


def test_the_schema_is_one() -> None:
    schema = json.loads(gussetry("schema").stdout)
    jsonschema.Draft202012Validator.check_schema(schema)


def test_counts_as_csv_is_the_file_that_draw_writes(drawn: Path, starter: Path) -> None:
    done = gussetry("counts", starter, "--csv")
    assert done.returncode == 0
    assert done.stdout == (drawn / "counts.csv").read_text(encoding="utf-8")


def test_counts_as_json_tells_the_same(starter: Path) -> None:
    table = json.loads(gussetry("counts", starter, "--json").stdout)
    lines = gussetry("counts", starter, "--csv").stdout.splitlines()
    assert table["sizes"] == lines[0].split(",")[2:]
    rows = [
        ",".join(
            [row["piece"], str(row["round"]), *("" if c is None else str(c) for c in row["counts"])]
        )
        for row in table["rows"]
    ]
    assert rows == lines[1:]


def test_counts_to_read_tell_the_same(starter: Path) -> None:
    """The table spelt out again, round by round, is the CSV."""
    spelt: list[str] = []
    piece = ""
    for line in gussetry("counts", starter).stdout.splitlines():
        if line and not line.startswith(" "):
            piece = line.split(",")[0]
        elif line:
            rounds, *counts = line.split()
            first, _, last = rounds.partition("–")
            shown = ",".join("" if count == "–" else count for count in counts)
            spelt += [f"{piece},{n},{shown}" for n in range(int(first), int(last or first) + 1)]
    assert spelt == gussetry("counts", starter, "--csv").stdout.splitlines()[1:]


def test_counts_of_a_missing_file(tmp_path: Path) -> None:
    done = gussetry("counts", tmp_path / "none.yaml")
    assert done.returncode == 1
    assert "no such file" in done.stderr


def test_a_reader_who_leaves_early_gets_no_complaint(starter: Path) -> None:
    with subprocess.Popen(
        [*PROGRAM, "counts", str(starter), "--csv"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=environment(),
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        said = process.stderr.read()
    assert said == b""


def test_a_fault_of_ours_is_apologised_for(starter: Path, tmp_path: Path) -> None:
    broken = spoil(
        tmp_path / "broken",
        "import sys\n"
        "if 'gussetry' in ' '.join(sys.orig_argv):\n"
        "    import gussetry.counts\n"
        "    gussetry.counts.count_table = lambda sizes: 1 / 0\n",
    )
    done = gussetry("counts", starter, spoiler=broken)
    assert done.returncode == 3
    assert "ZeroDivisionError" in done.stderr
    assert "Please report it" in done.stderr


def test_a_start_up_loads_nothing_slow() -> None:
    done = subprocess.run(
        [sys.executable, "-X", "importtime", *PROGRAM[1:], "--help"],
        capture_output=True,
        encoding="utf-8",
        env=environment(),
        check=True,
    )
    loaded = {line.rpartition("|")[2].strip() for line in done.stderr.splitlines()}
    assert "click" in loaded
    slow = {"pydantic", "yaml", "PIL", "cairosvg", "cairocffi", "svgwrite", "fontTools",
            "multiprocessing", "importlib.metadata", "gussetry.grading"}  # fmt: skip
    assert not loaded & slow


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_shells_can_complete(shell: str) -> None:
    done = subprocess.run(
        PROGRAM,
        capture_output=True,
        encoding="utf-8",
        env={**environment(), "_GUSSETRY_COMPLETE": f"{shell}_source"},
    )
    assert "_GUSSETRY_COMPLETE" in done.stdout, done.stderr
