"""`gussetry draw`: the folder of the contract, whole or not at all."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import os
import pty
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest
from cli.program import PROGRAM, environment, gussetry, spoil
from PIL import Image

from gussetry.folder import MARK, WORK

SIZES = ("S", "M", "L")
KINDS = ("cuff", "gusset", "crown", "thumb", "stripes", "schematic")


def files(folder: Path) -> set[str]:
    return {p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file()}


def manifest(folder: Path) -> dict[str, Any]:
    read: dict[str, Any] = json.loads((folder / "manifest.json").read_text())
    return read


def test_the_folder_holds_what_the_contract_says(drawn: Path) -> None:
    drawings = [f"{size}/{kind}" for size in SIZES for kind in KINDS] + ["schematic", "key"]
    expected = {f"{name}.{form}" for name in drawings for form in ("svg", "png")}
    expected |= {f"{size}/stitches.json" for size in SIZES}
    expected |= {f"words-{size}.md" for size in SIZES}
    assert files(drawn) == expected | {"manifest.json", "counts.csv", "assets.csv", "words.md"}


def test_the_manifest_names_every_file_as_it_is(drawn: Path) -> None:
    assets = manifest(drawn)["assets"]
    pngs = [asset["png"] for asset in assets if asset.get("png")]
    entries = [*assets, *pngs]
    assert {entry["file"] for entry in entries} == files(drawn) - {"manifest.json"}
    for entry in entries:
        content = (drawn / entry["file"]).read_bytes()
        assert entry["sha256"] == hashlib.sha256(content).hexdigest()


def test_the_manifest_and_the_table_say_what_placing_needs(drawn: Path) -> None:
    listed = {a["file"]: a for a in manifest(drawn)["assets"] if a["file"].endswith(".svg")}
    with (drawn / "assets.csv").open(encoding="utf-8", newline="") as file:
        rows = {row["file"]: row for row in csv.DictReader(file)}
    assert rows.keys() == listed.keys()
    for name, entry in listed.items():
        row = rows[name]
        assert [float(row["width mm"]), float(row["height mm"])] == entry["millimetres"]
        assert [int(row["width px"]), int(row["height px"])] == entry["png"]["pixels"]
        assert row["caption"] == entry["caption"] != ""
        assert row["alternative text"] == entry["alternative text"]
        assert entry["alternative text"].startswith(entry["caption"])
        assert row["shown with"].split() == entry["shown with"]
        assert entry["columns"] == (1 if entry["millimetres"][0] <= 84 else 2)
    assert listed["M/stripes.svg"]["shown with"] == ["M/schematic.svg"]
    assert listed["M/schematic.svg"]["shown with"] == ["M/stripes.svg"]
    assert listed["M/crown.svg"]["shown with"] == listed["schematic.svg"]["shown with"] == []
    assert "Round by round" not in listed["M/gusset.svg"]["alternative text"]


def test_the_manifest_tells_true_sizes(drawn: Path) -> None:
    for asset in manifest(drawn)["assets"]:
        png = asset.get("png")
        if not png:
            continue
        with Image.open(drawn / png["file"]) as image:
            assert list(image.size) == png["pixels"]
            assert image.info["dpi"] == pytest.approx((png["dpi"], png["dpi"]), abs=0.01)
        millimetres = asset["millimetres"]
        assert png["pixels"] == pytest.approx([mm * 300 / 25.4 for mm in millimetres], abs=0.51)


def test_charts_tell_their_rounds(drawn: Path) -> None:
    by_file = {asset["file"]: asset for asset in manifest(drawn)["assets"]}
    stitches = json.loads((drawn / "M/stitches.json").read_text())
    rounds = {p["piece"]: len([r for r in p["rounds"] if r["count"]]) for p in stitches["pieces"]}
    thumb = by_file["M/thumb.svg"]
    assert (thumb["piece"], thumb["first round"]) == ("thumb", 1)
    assert thumb["last round"] == rounds["thumb"]
    gusset, crown = by_file["M/gusset.svg"], by_file["M/crown.svg"]
    assert (gusset["piece"], gusset["first round"], gusset["size"]) == ("hand", 1, "M")
    assert crown["first round"] <= gusset["last round"] + 1


def test_the_count_table_agrees_with_the_stitch_maps(drawn: Path) -> None:
    rows = list(csv.reader(io.StringIO((drawn / "counts.csv").read_text(encoding="utf-8"))))
    assert rows[0] == ["piece", "round", *SIZES]
    table = {(row[0], int(row[1])): row[2:] for row in rows[1:]}
    assert len(table) == len(rows) - 1
    for column, size in enumerate(SIZES):
        stitches = json.loads((drawn / size / "stitches.json").read_text(encoding="utf-8"))
        counted = {
            (piece["piece"], r["round"]): str(r["count"])
            for piece in stitches["pieces"]
            for r in piece["rounds"]
            if r["round"] and r["count"]
        }
        for place, counts in table.items():
            assert counts[column] == counted.pop(place, "")
        assert not counted


def test_it_tells_each_file_and_each_measure(drawn: Path) -> None:
    said = (drawn.parent / "said").read_text(encoding="utf-8")
    assert "20/20 " in said
    assert "wrote 20 drawings as SVG and PNG" in said
    for size in SIZES:
        assert f"size {size}\n" in said
    assert said.count("hand circumference") == len(SIZES)
    assert "cm*" in said


def test_the_same_specification_draws_the_same_bytes(drawn: Path, starter: Path) -> None:
    before = {name: (drawn / name).read_bytes() for name in files(drawn)}
    done = gussetry("draw", starter, "-o", drawn, "-q")
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
    assert {name: (drawn / name).read_bytes() for name in files(drawn)} == before


def test_a_left_and_a_right_that_differ_have_files_of_their_own(
    small: Path, tmp_path: Path
) -> None:
    text = small.read_text(encoding="utf-8").replace("gusset:\n", "gusset:\n  towards palm: 2\n")
    small.write_text(text, encoding="utf-8")
    done = gussetry("draw", small, "-o", tmp_path / "out", "-q")
    assert done.returncode == 0, done.stderr
    found = files(tmp_path / "out")
    for name in ("gusset-left.svg", "gusset-right.png", "stitches-left.json", "crown-right.svg"):
        assert f"M/{name}" in found
    assert "M/gusset.svg" not in found
    rows = (tmp_path / "out" / "counts.csv").read_text(encoding="utf-8").splitlines()
    assert rows[0] == "piece,round,M"


def test_a_missing_cuff_is_absent_with_its_reason(small: Path, tmp_path: Path) -> None:
    text = small.read_text(encoding="utf-8")
    begin, end = text.index("cuff:\n"), text.index("gusset:\n")
    small.write_text(text[:begin] + "cuff: {style: none}\n\n" + text[end:], encoding="utf-8")
    done = gussetry("draw", small, "-o", tmp_path / "out", "-q")
    assert done.returncode == 0, done.stderr
    assert "M/cuff.svg" not in files(tmp_path / "out")
    absent = {one["file"]: one["why"] for one in manifest(tmp_path / "out")["absent"]}
    assert absent["M/cuff.svg"] == "the pattern has no cuff"
    assert "words.md" not in absent


def test_a_style_may_be_named(small: Path, tmp_path: Path) -> None:
    done = gussetry("draw", small, "-o", tmp_path / "out", "-q", "--style", "large-print")
    assert done.returncode == 0, done.stderr
    assert manifest(tmp_path / "out")["style"] == "large-print"
    sheet = tmp_path / "mine.yaml"
    sheet.write_text("dpi: 150\n", encoding="utf-8")
    done = gussetry("draw", small, "-o", tmp_path / "out", "-q", "--style", sheet)
    assert done.returncode == 0, done.stderr
    png = manifest(tmp_path / "out")["assets"][0]["png"]
    assert png["dpi"] == 150


def test_a_fault_in_a_style_is_shown_where_it_stands(small: Path, tmp_path: Path) -> None:
    sheet = tmp_path / "mine.yaml"
    sheet.write_text("# mine\nsparkle: 3\n", encoding="utf-8")
    done = gussetry("draw", small, "-o", tmp_path / "out", "--style", sheet)
    assert done.returncode == 1
    assert f"{sheet}:2:" in done.stderr
    assert "sparkle: 3" in done.stderr
    assert not (tmp_path / "out").exists()


def test_too_many_dots_are_told(small: Path, tmp_path: Path) -> None:
    sheet = tmp_path / "mine.yaml"
    huge = "dpi: 1200\nstitch: 20\ncolumn: {width: 1500, height: 1500}\n"
    sheet.write_text(huge, encoding="utf-8")
    done = gussetry("draw", small, "-o", tmp_path / "out", "-q", "--style", sheet)
    assert done.returncode == 1
    assert "too large to paint" in done.stderr
    assert not (tmp_path / "out").exists()


def test_faults_are_told_with_their_lines_and_nothing_is_written(
    small: Path, tmp_path: Path
) -> None:
    text = small.read_text(encoding="utf-8").replace("plan: [A: 4, B: 2]", "plan: [A: 4, C: 2]")
    small.write_text(text.replace("caption:", "capton:"), encoding="utf-8")
    done = gussetry("draw", small, "-o", tmp_path / "out")
    assert done.returncode == 1
    first, second = done.stderr.index("capton"), done.stderr.index("C: 2")
    assert first < second
    assert f"{small}:" in done.stderr
    assert "2 errors; nothing was written" in done.stderr
    assert not (tmp_path / "out").exists()


def test_without_libcairo_every_svg_is_drawn(small: Path, tmp_path: Path) -> None:
    blocked = spoil(
        tmp_path / "blocked",
        "import sys\n"
        "class Missing:\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        "        if name == 'cairocffi':\n"
        "            raise OSError('no library called \"cairo-2\" was found')\n"
        "sys.meta_path.insert(0, Missing())\n",
    )
    done = gussetry("draw", small, "-o", tmp_path / "out", spoiler=blocked)
    assert done.returncode == 0, done.stderr
    for system in ("Debian", "Fedora", "macOS", "Windows"):
        assert system in done.stderr
    assert done.stderr.count("\n") == 1
    drawings = [a for a in manifest(tmp_path / "out")["assets"] if a["file"].endswith(".svg")]
    assert len(drawings) == len(KINDS) + 2
    assert all(asset["png"] is None for asset in drawings)
    assert not list((tmp_path / "out").rglob("*.png"))


def test_a_drawing_that_disagrees_stops_the_run(small: Path, tmp_path: Path) -> None:
    loses = spoil(
        tmp_path / "loses",
        "import dataclasses, sys\n"
        "if 'gussetry' in ' '.join(sys.orig_argv) or 'spawn_main' in ' '.join(sys.orig_argv):\n"
        "    import gussetry.engrave as module\n"
        "    whole = module.engrave\n"
        "    def engrave(chart, style):\n"
        "        return whole(dataclasses.replace(chart, stitches=chart.stitches[:-1]), style)\n"
        "    module.engrave = engrave\n",
    )
    done = gussetry("draw", small, "-o", tmp_path / "out", spoiler=loses)
    assert done.returncode == 3
    assert "M/gusset.svg: error[" in done.stderr
    assert "fault of gussetry" in done.stderr
    assert not (tmp_path / "out").exists()


def running(pid: int) -> bool:
    """Whether the process is there and not merely waiting to be reaped."""
    try:
        stat = Path(f"/proc/{pid}/stat").read_text()
    except OSError:
        return False
    return stat.rpartition(")")[2].split()[0] != "Z"


def gone(pids: list[int]) -> bool:
    """Whether all have ended, given a moment."""
    until = time.monotonic() + 20
    while any(running(pid) for pid in pids) and time.monotonic() < until:
        time.sleep(0.05)
    return not any(running(pid) for pid in pids)


def children(pid: int) -> list[int]:
    found = Path(f"/proc/{pid}/task/{pid}/children").read_text()
    return [int(child) for child in found.split()]


HEEDING = (
    "import os, signal, sys\n"
    "signal.signal(signal.SIGINT, signal.SIG_DFL)\n"
    "os.execv(sys.argv[1], sys.argv[1:])\n"
)
"""Tests that run in the background of a shell have inherited that interrupts are ignored: this
becomes a program that heeds them."""


def stopped(starter: Path, out: Path, how: signal.Signals) -> tuple[int, str, list[int]]:
    """Exit code and words of a run stopped after its first drawing, and its child processes."""
    with subprocess.Popen(
        [sys.executable, "-c", HEEDING, *PROGRAM, "draw", str(starter), "-o", str(out)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        encoding="utf-8",
        env={**environment(), "PYTHONUNBUFFERED": "1"},
    ) as process:
        assert process.stdout is not None
        assert process.stdout.readline().startswith("1/")
        workers = children(process.pid)
        process.send_signal(how)
        _, said = process.communicate(timeout=60)
        return process.returncode, said, workers


@pytest.mark.parametrize(("how", "code"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
def test_a_run_that_is_stopped_leaves_nothing(
    starter: Path, tmp_path: Path, how: signal.Signals, code: int
) -> None:
    returned, said, workers = stopped(starter, tmp_path / "out", how)
    assert returned == code
    assert "Traceback" not in said
    assert not (tmp_path / "out").exists()
    assert workers
    assert gone(workers)


def test_a_run_that_is_killed_leaves_no_process_and_is_mended(
    starter: Path, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    returned, _, workers = stopped(starter, out, signal.SIGKILL)
    assert returned == -signal.SIGKILL
    assert gone(workers)
    assert {path.name for path in out.iterdir()} == {WORK}
    done = gussetry("draw", starter, "-o", out, "-q")
    assert done.returncode == 0, done.stderr
    assert not (out / WORK).exists()
    assert not (out / MARK).exists()
    assert (out / "manifest.json").exists()


def test_a_terminal_gets_a_bar(small: Path, tmp_path: Path) -> None:
    main, terminal = pty.openpty()
    with subprocess.Popen(
        [*PROGRAM, "draw", str(small), "-o", str(tmp_path / "out")],
        stdout=terminal,
        stderr=terminal,
        env={**environment(), "TERM": "xterm", "COLUMNS": "100"},
    ) as process:
        os.close(terminal)
        shown = b""
        # A terminal whose last user has gone answers with an error, not with an end.
        while True:
            try:
                part = os.read(main, 4096)
            except OSError:
                break
            if not part:
                break
            shown += part
    os.close(main)
    assert process.returncode == 0
    assert b"drawing" in shown
    assert b"100%" in shown
    assert b"8/8 " not in shown
