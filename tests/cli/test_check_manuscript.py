"""`gussetry check` of a manuscript, as people run it."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from cli.program import gussetry

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
EXAMPLE = Path(__file__).parents[2] / "examples" / "worked-example.yaml"
DECREASED = """Written in US terms.

Hand
Rnd 30: 32 sc evenly around. 32 sts.
Rnds 31–34: dec 4 sts evenly each rnd. 14 sts
"""


@pytest.fixture
def manuscript(tmp_path: Path) -> Path:
    """A manuscript with one total that cannot be right."""
    path = tmp_path / "mittens.txt"
    path.write_text(DECREASED, encoding="utf-8")
    return path


def test_a_wrong_total_is_told(manuscript: Path) -> None:
    done = gussetry("check", manuscript)
    assert done.returncode == 1
    assert "made: hand round 34: 32 − 4 × 4 = 16, not 14" in done.stdout
    assert f"{manuscript}:5:40 (certain)" in done.stdout
    assert "expected 16 sts, found 14 sts" in done.stdout
    assert done.stdout.rstrip().endswith("5 rounds, US terms: 1 finding")


def test_clean(manuscript: Path) -> None:
    manuscript.write_text(DECREASED.replace("14 sts", "16 sts"), encoding="utf-8")
    done = gussetry("check", manuscript)
    assert done.returncode == 0
    assert done.stdout.rstrip().endswith("5 rounds, US terms: nothing disagrees")


def test_for_machines(manuscript: Path) -> None:
    done = gussetry("check", manuscript, "--json")
    told = json.loads(done.stdout)
    assert done.returncode == 1
    assert (told["format"], told["version"], told["clean"]) == ("gussetry-check", 1, False)
    (finding,) = told["findings"]
    assert (finding["line"], finding["column"], finding["length"]) == (5, 40, 6)
    assert (finding["piece"], finding["round"], finding["worked"]) == ("hand", 34, "rounds")
    assert (finding["expected"], finding["found"]) == ("16 sts", "14 sts")
    section = README.split("## What a check finds")[1].split("\n## ")[0]
    named = {" ".join(key.split()) for key in re.findall(r"`([^`]+)`", section)}
    assert {*told, *finding} <= named


def test_words_read_back_against_the_specification(tmp_path: Path) -> None:
    text = tmp_path / "words.md"
    assert gussetry("words", EXAMPLE, "--terms", "UK", "-o", text).returncode == 0
    done = gussetry("check", text, "--spec", EXAMPLE)
    assert done.returncode == 0, done.stdout
    assert "77 rounds, UK terms: nothing disagrees" in done.stdout
    moved = "[dc in next 16 sts, dc2tog] twice"
    spoilt = text.read_text(encoding="utf-8").replace("[Dc2tog, dc in next 16 sts] twice", moved)
    assert moved in spoilt
    text.write_text(spoilt, encoding="utf-8")
    done = gussetry("check", text, "--spec", EXAMPLE)
    assert done.returncode == 1
    assert "fabric: hand round 30" in done.stdout
    assert gussetry("check", text).returncode == 0


def test_terms_and_sizes_by_option(tmp_path: Path) -> None:
    text = tmp_path / "two.txt"
    text.write_text(
        "Sizes: S (M)\nRnd 1: 30 (32) dc evenly around. 30 (32) sts.\n"
        "Rnd 2: dc in next 10 (11) sts, dc2tog, dc to end. 29 (30) sts.\n",
        encoding="utf-8",
    )
    assert "terms:" in gussetry("check", text).stdout
    assert gussetry("check", text, "--terms", "uk").returncode == 1
    assert gussetry("check", text, "--terms", "uk", "--size", "S").returncode == 0
    assert "size M" in gussetry("check", text, "--terms", "uk", "--size", "M").stdout
    done = gussetry("check", text, "--size", "XL")
    assert done.returncode == 2
    assert "none of S, M" in done.stderr


def test_what_is_no_text(tmp_path: Path) -> None:
    path = tmp_path / "scan.txt"
    path.write_bytes(b"\x89PNG\r\n\x1a\n\x00\x00")
    done = gussetry("check", path)
    assert done.returncode == 1
    assert "UTF-8" in done.stdout
    done = gussetry("check", tmp_path / "none.txt")
    assert done.returncode == 1
    assert "error[no-file]: there is no such file\n --> " in done.stderr
    assert "= help: check the name" in done.stderr
