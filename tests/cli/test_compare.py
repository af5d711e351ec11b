"""Errata: every difference between two output folders is told where it is, and nothing else."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from cli.comparing import compare, edit, output, spec
from click.testing import CliRunner

from gussetry.cli import program
from gussetry.errata import as_text, changes
from gussetry.errata.folders import Listed


def test_equal_folders_have_no_difference(drawn: Path, copy: Path) -> None:
    done = compare(drawn, copy)
    assert done.exit_code == 0
    assert "no difference" in done.stdout
    told = json.loads(compare(drawn, copy, "--json").stdout)
    assert told["equal"] is True
    assert told["changes"] == []


@pytest.mark.parametrize(
    ("size", "piece", "at"),
    [("S", "cuff", 3), ("M", "hand", 0), ("L", "hand", 20), ("S", "hand", 34), ("M", "thumb", 4)],
)
def test_one_changed_count_is_found_in_its_size_piece_and_round(
    drawn: Path, copy: Path, size: str, piece: str, at: int
) -> None:
    found: dict[str, Any] = {}

    def change(data: dict[str, Any]) -> None:
        found.update(next(p for p in data["pieces"] if p["piece"] == piece)["rounds"][at])
        next(p for p in data["pieces"] if p["piece"] == piece)["rounds"][at]["count"] += 1

    edit(copy / size / "stitches.json", change)
    done = compare(drawn, copy, "--json")
    assert done.exit_code == 0
    told = json.loads(done.stdout)
    counted = [c for c in told["changes"] if c["what"] == "count"]
    assert counted == [
        {
            "what": "count", "size": size, "mitten": "both", "piece": piece,
            "phase": found["phase"], "step": found["step"],
            "worked": "rows" if piece == "cuff" else "rounds", "old round": found["round"],
            "new round": found["round"], "old": found["count"], "new": found["count"] + 1,
        }
    ]  # fmt: skip
    assert {c["what"] for c in told["changes"]} <= {"count", "measure"}
    shown = compare(drawn, copy).stdout
    assert f"size {size}\n" in shown
    word = "row" if piece == "cuff" else "round"
    line = f"{piece} {word} {found['round']}, {found['phase']}: {found['count']} → "
    assert line in shown


def test_a_count_changed_in_the_table_alone_is_found(drawn: Path, copy: Path) -> None:
    table = copy / "counts.csv"
    lines = table.read_text(encoding="utf-8").splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith("hand,9,"))
    cells = lines[at].split(",")
    cells[3], was = "99", cells[3]
    lines[at] = ",".join(cells)
    table.write_text("\n".join(lines) + "\n", encoding="utf-8")
    assert f"size M\n  counts.csv alone, hand round 9: {was} → 99\n" in compare(drawn, copy).stdout
    alone = compare(drawn / "counts.csv", table)
    assert f"size M\n  hand round 9: {was} → 99 sts\n" in alone.stdout
    assert compare(drawn / "counts.csv", copy / "manifest.json").stdout.count("→") == 1


@pytest.mark.parametrize("name", ["S/crown.svg", "L/thumb.svg", "key.svg"])
def test_a_changed_drawing_is_named(drawn: Path, copy: Path, name: str) -> None:
    path = copy / name
    path.write_bytes(path.read_bytes().replace(b"</svg>", b"<!-- --></svg>"))
    told = json.loads(compare(drawn, copy, "--json").stdout)["changes"]
    assert [(c["what"], c["name"], c.get("size")) for c in told] == [
        ("drawing", name, name.split("/")[0] if "/" in name else None)
    ]
    assert f"{name}: drawn otherwise" in compare(drawn, copy).stdout


def test_files_that_come_go_or_change_are_told() -> None:
    def listed(name: str, content: str, png: str | None = None) -> Listed:
        return Listed(name, name.partition(".")[0], "", "", content, png)

    one, other = output(spec()), output(spec())
    old = (listed("words.md", "1"), listed("key.svg", "1", "1"), listed("schematic.svg", "1", "1"))
    new = (listed("words.md", "2"), listed("key.svg", "1", "2"), listed("gusset.svg", "1"))
    found = changes(replace(one, files=old), replace(other, files=new))
    told = as_text(Path("a"), Path("b"), found).splitlines()
    assert told[3:] == [
        "  words.md: changed",
        "  key.svg: its PNG differs",
        "  gusset.svg: new",
        "  schematic.svg: gone",
    ]


def test_pictures_that_one_run_could_not_paint_are_no_difference() -> None:
    drawing = Listed("key.svg", "key", "", "", "1", "1")
    old = replace(output(spec()), files=(drawing,))
    new = replace(output(spec()), files=(replace(drawing, png=None),))
    assert changes(old, new) == ()


def test_the_command_explains_itself() -> None:
    done = CliRunner().invoke(program, ["compare", "--help"])
    assert done.exit_code == 0
    assert "Differences are no error" in " ".join(done.stdout.split())
