"""`gussetry check` of a folder, as a publisher's editor runs it."""

from __future__ import annotations

import json
import os
import re
import sys
from functools import cache
from pathlib import Path
from typing import Any, NoReturn

import pytest
from check.folders import Folder, folder, pattern, write
from click.testing import CliRunner, Result

from gussetry.cli import program
from gussetry.findings import Finding, as_json, report

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
SPEC = ROOT / "examples" / "worked-example.yaml"
STITCH = re.compile(r' *<path class="stitch"[^>]*data-round="(\d+)"[^>]*/>\n')


@cache
def sound() -> Folder:
    own = pattern("worked-example")
    return folder(own, ["M/gusset"], told=True, maps=own.maps)


@pytest.fixture
def work(tmp_path: Path) -> Path:
    """A folder in which nothing disagrees."""
    return write(sound(), tmp_path / "work")


def run(*arguments: object) -> Result:
    done = CliRunner().invoke(program, ["check", *map(str, arguments)])
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    return done


def machine(*arguments: object) -> dict[str, Any]:
    """What the check tells machines; NaN is no JSON."""

    def no(name: str) -> NoReturn:
        raise ValueError(name)

    told: dict[str, Any] = json.loads(run(*arguments, "--json").stdout, parse_constant=no)
    assert (told["format"], told["version"]) == ("gussetry-check", 1)
    return told


def respell(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def faults(told: dict[str, Any]) -> list[dict[str, Any]]:
    return [finding for finding in told["findings"] if finding["sure"] != "note"]


# --- what is found ----------------------------------------------------------------------------


def test_a_sound_folder_is_clean(work: Path) -> None:
    done = run(work)
    assert (done.exit_code, done.stdout) == (0, f"{work}: nothing disagrees\n")
    assert machine(work)["clean"] is True


def test_a_number_changed_in_the_words_is_found(work: Path) -> None:
    words = work / "words.md"
    text = words.read_text(encoding="utf-8")
    found = re.search(r"\*\*Rnd 30:\*\* \[Sc2tog, sc in next (16)", text)
    assert found is not None
    words.write_text(f"{text[: found.start(1)]}15{text[found.end(1) :]}", encoding="utf-8")
    told = machine(work)
    first = faults(told)[0]
    line = text[: found.start()].count("\n") + 1
    assert {one["file"] for one in faults(told)} == {"words.md"}
    assert (first["kind"], first["sure"], first["line"]) == ("used", "certain", line)
    assert (first["size"], first["piece"], first["round"]) == ("M", "hand", 30)
    assert (first["expected"], first["found"]) == ("36 used", "34 used")
    assert first["column"] >= 1
    # A marker that went astray is told once, not in every round that it is carried up.
    assert [one["round"] for one in faults(told) if one["kind"] == "marker"] == [31]
    assert run(work).exit_code == 1


def test_each_place_is_told_and_every_line_fits(work: Path) -> None:
    respell(work / "counts.csv", "cuff,20,11", "cuff,20,12")
    gusset = work / "M" / "gusset.svg"
    text = gusset.read_text(encoding="utf-8")
    lost = next(one for one in STITCH.finditer(text) if one[1] == "8")
    gusset.write_text(text.replace(lost[0], "", 1), encoding="utf-8")
    done = run(work)
    assert done.exit_code == 1
    # The last line has the folder's own path, however long that is.
    assert max(map(len, done.stdout.splitlines()[:-1])) <= 100
    plain = " ".join(done.stdout.split())
    assert "table: line 21, column 3, cuff row 20, size M: the table has another" in plain
    assert "(certain; expected 11, found 12)" in plain
    assert re.search(r"count: hand round 8,.* mm: .* \(certain; expected 39, found 38\)", plain)
    assert done.stdout.index("M/gusset.svg") < done.stdout.index("counts.csv")
    assert re.search(r": \d+ findings in 2 files", done.stdout)


def test_what_is_alike_is_counted() -> None:
    many = [Finding("tag", "is tagged as another", "a.svg", round=n) for n in range(30)]
    lines = report([*many, Finding("count", "differs", "b.svg")]).splitlines()
    assert lines[0] == "b.svg"
    assert lines[3] == "a.svg: 30 findings"
    assert lines[-1] == "      and 25 more like this one: --json lists them all"
    assert len(report(many[:6]).splitlines()) == 7


def test_the_key_names_of_findings_are_explained(work: Path) -> None:
    respell(work / "counts.csv", "cuff,20,11", "cuff,20,12")
    (work / "M" / "gusset.svg").write_bytes(sound()["M/gusset.svg"].replace(b"<path", b"<p", 40))
    told = machine(work)
    section = README.split("## What a check finds")[1].split("\n## ")[0]
    named = {" ".join(key.split()) for key in re.findall(r"`([^`]+)`", section)}
    assert {*told}.union(*told["findings"]) <= named


def test_no_place_is_no_number() -> None:
    odd = Finding("place", "far away", "a.svg", at=(float("nan"), 1.0))
    assert "at mm" not in json.loads(as_json({}, [odd]))["findings"][0]


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere names of files are text")
def test_a_name_that_is_no_text(work: Path) -> None:
    os.close(os.open(os.fsencode(work) + b"/odd\xff\x1b.svg", os.O_CREAT))
    assert any("odd" in one["file"] for one in machine(work)["findings"])
    assert "\x1b" not in run(work).stdout


# --- tables, specifications, marked copies ----------------------------------------------------


def test_a_table_of_the_publisher(work: Path, tmp_path: Path) -> None:
    rows = [line.split(",") for line in sound()["counts.csv"].decode().splitlines()]
    table = tmp_path / "ours.csv"
    table.write_text("\n".join(f"{c};by hand;{r};{p}" for p, r, c in rows), encoding="utf-8")
    assert run(work, "--against", table).exit_code == 0
    respell(table, "\n11;by hand;20;cuff", "\n12;by hand;20;cuff")
    (found,) = faults(machine(work, "--against", table))
    assert (found["file"], found["line"], found["column"]) == (str(table), 21, 1)
    assert (found["piece"], found["round"], found["worked"]) == ("cuff", 20, "rows")
    assert (found["expected"], found["found"]) == ("11", "12")


def test_a_table_in_yaml(work: Path, tmp_path: Path) -> None:
    rows = [line.split(",") for line in sound()["counts.csv"].decode().splitlines()[1:]]
    thumb = [f"  - {{round: {r}, M: {c}}}\n" for p, r, c in rows if p == "thumb"]
    table = tmp_path / "ours.yaml"
    table.write_text("thumb:\n" + "".join(thumb), encoding="utf-8")
    assert run(work, "--against", table).exit_code == 0
    table.write_text("thumb:\n" + "".join(thumb[:-1]), encoding="utf-8")
    (found,) = faults(machine(work, "--against", table))
    assert (found["piece"], found["round"]) == ("thumb", len(thumb))


@pytest.mark.parametrize("content", [None, b"", b"\xff\x00\xfe", b"no table\n", b"a: ["])
@pytest.mark.parametrize("name", ["ours.csv", "ours.yaml"])
def test_what_is_no_table_is_one_finding(
    work: Path, tmp_path: Path, name: str, content: bytes | None
) -> None:
    table = tmp_path / name
    if content is not None:
        table.write_bytes(content)
    (found,) = machine(work, "--against", table)["findings"]
    assert (found["kind"], found["file"]) == ("unreadable", str(table))
    assert run(work, "--against", table).exit_code == 1


def test_the_specification_as_it_is_now(work: Path, tmp_path: Path) -> None:
    assert run(work, "--spec", SPEC).exit_code == 0
    changed = tmp_path / "changed.yaml"
    text = SPEC.read_text(encoding="utf-8")
    changed.write_text(re.sub(r"rounds: 20\b", "rounds: 19", text, count=1), encoding="utf-8")
    assert any(one["kind"] == "stale" for one in machine(work, "--spec", changed)["findings"])


def test_marked_copies(work: Path, tmp_path: Path) -> None:
    gusset = work / "M" / "gusset.svg"
    respell(gusset, 'data-yarn="A" fill="#44546a"', 'data-yarn="A" fill="#aa0000"')
    before = gusset.read_bytes()
    out = tmp_path / "marked"
    done = run(work, "--marked", out)
    assert done.exit_code == 1
    assert done.stdout.endswith(f"{out}: 1 drawing ringed\n")
    assert [path.name for path in out.rglob("*.*")] == ["gusset.svg"]
    assert (out / "M" / "gusset.svg").read_text(encoding="utf-8").count("<circle") >= 1
    assert gusset.read_bytes() == before


# --- what cannot be checked -------------------------------------------------------------------


def refused(*arguments: object) -> str:
    """The message with which the check is refused, which its JSON has too."""
    done = run(*arguments)
    assert (done.exit_code, done.stdout) == (1, "")
    told = machine(*arguments)
    assert told["clean"] is False
    (found,) = told["findings"]
    assert found["message"] in done.stderr
    assert done.stderr.endswith("1 error; nothing was checked\n")
    return str(done.stderr)


def test_nothing_there(tmp_path: Path) -> None:
    assert "there is no such file" in refused(tmp_path / "none")
    assert "there is no such file" in refused(tmp_path / "none", "--against", "t.csv")


@pytest.mark.skipif(sys.platform == "win32", reason="no named pipes")
def test_neither_a_folder_nor_a_text(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    assert "neither a folder nor a text file" in refused(tmp_path / "pipe")


def test_a_folder_that_cannot_be_listed(work: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def closed(_: object) -> NoReturn:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("gussetry.check.evidence.os.scandir", closed)
    assert "may not be read" in refused(work)


def test_an_empty_folder(tmp_path: Path) -> None:
    assert {one["kind"] for one in machine(tmp_path)["findings"]} == {"missing"}
    assert run(tmp_path).exit_code == 1


def test_where_marked_copies_cannot_go(work: Path, tmp_path: Path) -> None:
    (tmp_path / "there").mkdir()
    assert "is there already" in refused(work, "--marked", tmp_path / "there")
    assert "lies within" in refused(work, "--marked", work / "new")
    assert "lies within" in refused(work, "--marked", work)
    assert not (work / "new").exists()
    (tmp_path / "file").touch()
    assert "cannot be written" in refused(work, "--marked", tmp_path / "file" / "new")


def test_a_faulty_specification(work: Path, tmp_path: Path) -> None:
    spec = tmp_path / "spec.yaml"
    spec.write_text(SPEC.read_text(encoding="utf-8").replace("gauge:", "gaueg:", 1))
    assert "did you mean gauge?" in refused(work, "--spec", spec)
    (found,) = machine(work, "--spec", spec)["findings"]
    assert (found["file"], found["column"], found["length"]) == (str(spec), 1, 5)
    assert "no such file" in refused(work, "--spec", tmp_path / "none.yaml")


@pytest.mark.parametrize("option", ["--size", "--terms"])
def test_wrong_usage(work: Path, option: str) -> None:
    done = run(work, option, "US")
    assert done.exit_code == 2
    assert f"{option} is for a manuscript" in done.stderr
    words = work / "words.md"
    assert "--marked is for a folder" in run(words, "--marked", work.parent / "new").stderr
    assert run().exit_code == 2
