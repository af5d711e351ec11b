"""Drawings on several sheets: their files, the manifest, and columns that hold none of it."""

from __future__ import annotations

import json
from pathlib import Path

from cli.program import gussetry

LARGE = "stitch: 10\nleast stitch: 8\n"
TINY = "stitch: 4\ncolumn:\n  width: 60\n  height: 100\n"


def files(folder: Path) -> set[str]:
    return {p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file()}


def test_further_sheets_are_listed_and_go_when_they_are_no_longer_drawn(
    starter: Path, tmp_path: Path
) -> None:
    look, folder = tmp_path / "large.yaml", tmp_path / "out"
    look.write_text(LARGE)
    done = gussetry("draw", starter, "-o", folder, "--style", look, "--quiet")
    assert done.returncode == 0, done.stderr
    assets = json.loads((folder / "manifest.json").read_text())["assets"]
    sheets = {a["file"]: a for a in assets if a.get("of", 1) > 1}
    assert {"L/gusset.svg", "L/gusset-2.svg"} <= set(sheets)
    one, other = sheets["L/gusset.svg"], sheets["L/gusset-2.svg"]
    assert (one["sheet"], other["sheet"], one["of"], other["of"]) == (1, 2, 2, 2)
    assert one["last round"] == other["first round"]
    assert max(a["millimetres"][1] for a in sheets.values()) <= 257
    assert set(sheets) <= files(folder)
    assert {"L/gusset-2.png", "L/gusset-2.svg"} <= files(folder)
    again = gussetry("draw", starter, "-o", folder, "--quiet")
    assert again.returncode == 0, again.stderr
    assert not any("-2." in name for name in files(folder))


def test_a_column_that_holds_none_of_it_is_shown_with_what_would_do(
    starter: Path, tmp_path: Path
) -> None:
    look, folder = tmp_path / "tiny.yaml", tmp_path / "out"
    look.write_text(TINY)
    done = gussetry("draw", starter, "-o", folder, "--style", look, "--quiet")
    assert done.returncode == 1
    assert not folder.exists()
    assert "error[column-too-small]: the column is too narrow for" in done.stderr
    assert f"{look}:3:10 (column.width)" in done.stderr
    assert "help: make the column's width" in done.stderr
