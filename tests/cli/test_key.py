"""`gussetry key`: the sheet of all stitches, from the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from cli.program import gussetry

from gussetry.layout.sampler import every, samplers
from gussetry.style import load_style, names


def test_the_sheet_is_drawn_in_the_terms_asked_for(tmp_path: Path) -> None:
    done = gussetry("key", "-o", str(tmp_path / "sheet"), "--terms", "UK")
    assert (done.returncode, done.stderr) == (0, "")
    svg = (tmp_path / "sheet" / "key.svg").read_text(encoding="utf-8")
    assert 'data-says="FPtr: round the post' in svg
    assert (tmp_path / "sheet" / "key.png").exists()
    manifest = json.loads((tmp_path / "sheet" / "manifest.json").read_bytes())
    assert [asset["file"] for asset in manifest["assets"]] == ["key.svg"]
    assert "wrote key.svg and manifest.json" in done.stdout


def test_a_folder_of_a_pattern_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "manifest.json").write_text(
        '{"format": "gussetry-manifest", "pattern": "Skerry", "assets": []}', encoding="utf-8"
    )
    done = gussetry("key", "-o", str(tmp_path))
    assert done.returncode == 1
    assert "holds the drawings of Skerry" in done.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["manifest.json"]


def test_a_wrong_sheet_is_shown_at_its_line(tmp_path: Path) -> None:
    sheet = tmp_path / "look.yaml"
    sheet.write_text("pens:\n  guide: 0.2\n", encoding="utf-8")
    done = gussetry("key", "-o", str(tmp_path / "out"), "--style", str(sheet))
    assert done.returncode == 1
    assert "look.yaml:2:10 (pens.guide)" in done.stderr
    assert not (tmp_path / "out").exists()
    done = gussetry("key", "-o", str(tmp_path / "out"), "--style", "nope")
    assert "there is no style 'nope'" in done.stderr


@pytest.mark.parametrize("style", names())
def test_the_parts_of_a_sheet_are_all_of_it(style: str) -> None:
    parts = samplers(load_style(style), "US")
    found = [op for part in parts for op in part.pieces[0].rounds[0].work]
    assert sorted(map(repr, found)) == sorted(map(repr, every()))
