"""The same files everywhere: hash seed, language, time zone, folder and fonts change nothing."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

from cli.program import PROGRAM, environment

SPEC = """\
pattern: Same
credit: Nobody
gauge: {over: 10 cm, stitches: 18, rounds: 20}
yarns: {A: {name: grey, colour: "#667788"}, B: {name: cream, colour: "#eeddbb"}}
sizes: {S: {hand circumference: 14 cm}}
stripes: {plan: [A: 3, B: 2]}
cuff: {style: round}
"""
HERE = {"PYTHONHASHSEED": "1", "LC_ALL": "C", "TZ": "UTC"}
THERE = {
    "PYTHONHASHSEED": "77",
    "LC_ALL": "tr_TR.UTF-8",
    "LANG": "tr_TR.UTF-8",
    "TZ": "Asia/Tokyo",
    "FONTCONFIG_FILE": os.devnull,
    "COLUMNS": "40",
}


def drawn(
    out: Path, arguments: tuple[str, ...], where: Path, surrounding: dict[str, str]
) -> dict[str, bytes]:
    """What a run in that folder and surrounding writes, by name."""
    where.mkdir(exist_ok=True)
    done = subprocess.run(
        [*PROGRAM, *arguments, "-o", os.path.relpath(out, where)],
        cwd=where,
        env={**environment(), **surrounding},
        capture_output=True,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr
    found = (path for path in out.rglob("*") if path.is_file())
    return {path.relative_to(out).as_posix(): path.read_bytes() for path in found}


def test_a_pattern_is_drawn_alike_in_every_surrounding(tmp_path: Path) -> None:
    spec = tmp_path / "same.yaml"
    spec.write_text(SPEC, encoding="utf-8")
    look = ("pages", "-q", "--paper", "A4", "--simulate", "protan", "--style", "ink-saver")
    here = drawn(tmp_path / "one", (*look, "same.yaml"), tmp_path, HERE)
    there = drawn(tmp_path / "two", (*look, str(spec)), tmp_path / "elsewhere", THERE)
    assert {"S/gusset.svg", "pages/a4-S-1.svg", "pages/a4-S-1-protan.png", "pages/a4.pdf"} <= {
        *here
    }
    assert there == here


def test_the_sheet_of_stitches_is_drawn_alike_in_every_surrounding(tmp_path: Path) -> None:
    look = ("key", "--style", "ink-saver")
    here = drawn(tmp_path / "one", look, tmp_path, HERE)
    there = drawn(tmp_path / "two", look, tmp_path / "elsewhere", THERE)
    assert "key.svg" in here
    assert there == here
