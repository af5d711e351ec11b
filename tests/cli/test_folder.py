"""The output folder: all or nothing, ours alone, nothing outside."""

from __future__ import annotations

import errno
import hashlib
import json
import os
from collections.abc import Mapping
from pathlib import Path

import pytest

from gussetry.folder import MANIFEST, MARK, WORK, FolderFaults, Placed, Staging, staging


def manifest(files: Mapping[str, str]) -> str:
    assets = [
        {"file": name, "sha256": hashlib.sha256(content.encode()).hexdigest()}
        for name, content in files.items()
    ]
    return json.dumps({"format": "gussetry-manifest", "version": 1, "assets": assets})


def run(folder: Path, files: Mapping[str, str]) -> Placed:
    with staging(folder) as out:
        for name, content in files.items():
            out.write(name, content)
        return out.place(manifest(files))


def break_off(folder: Path, error: BaseException) -> None:
    with staging(folder) as out:
        out.write("M/gusset.svg", "half")
        raise error


def listing(folder: Path) -> dict[str, str]:
    return {
        str(path.relative_to(folder)): path.read_text()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def codes(raised: pytest.ExceptionInfo[FolderFaults]) -> list[str]:
    return [problem.code for problem in raised.value.problems]


def test_a_run_leaves_its_files_and_nothing_else(tmp_path: Path) -> None:
    out = tmp_path / "deep" / "out"
    files = {"counts.csv": "a", "M/gusset.svg": "b"}
    run(out, files)
    assert listing(out) == {**files, MANIFEST: manifest(files)}
    assert not (out / WORK).exists()


def test_the_next_run_removes_what_it_no_longer_draws(tmp_path: Path) -> None:
    run(tmp_path, {"S/gusset.svg": "a", "M/gusset.svg": "b"})
    (tmp_path / "mine.txt").write_text("mine")
    placed = run(tmp_path, {"M/gusset.svg": "c"})
    assert placed.removed == ("S/gusset.svg",)
    assert not (tmp_path / "S").exists()
    assert (tmp_path / "M/gusset.svg").read_text() == "c"
    assert (tmp_path / "mine.txt").read_text() == "mine"


def test_a_stale_file_that_somebody_changed_is_kept(tmp_path: Path) -> None:
    run(tmp_path, {"S/gusset.svg": "a", "M/gusset.svg": "b"})
    (tmp_path / "S/gusset.svg").write_text("retouched")
    placed = run(tmp_path, {"M/gusset.svg": "c"})
    assert placed == Placed(removed=(), kept=("S/gusset.svg",))
    assert (tmp_path / "S/gusset.svg").read_text() == "retouched"


def test_a_failure_before_the_mark_changes_nothing(tmp_path: Path) -> None:
    out = tmp_path / "out"
    files = {"M/gusset.svg": "a"}
    run(out, files)
    before = listing(out)
    with pytest.raises(ZeroDivisionError):
        break_off(out, ZeroDivisionError())
    assert listing(out) == before
    assert not (out / WORK).exists()


def test_a_failure_takes_the_new_folder_away_again(tmp_path: Path) -> None:
    with pytest.raises(KeyboardInterrupt):
        break_off(tmp_path / "a" / "b", KeyboardInterrupt())
    assert list(tmp_path.iterdir()) == []


def test_a_run_killed_half_way_is_mended_by_the_next(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = {"S/gusset.svg": "old", "M/gusset.svg": "old"}
    run(tmp_path, first)
    killed = {"L/gusset.svg": "new", "M/gusset.svg": "new", "XL/gusset.svg": "new"}
    rename = Path.replace

    def dies(self: Path, target: Path) -> Path:
        if target.parent.name == "XL":
            raise KeyboardInterrupt
        return rename(self, target)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "replace", dies)
        with pytest.raises(KeyboardInterrupt):
            run(tmp_path, killed)
    assert (tmp_path / MARK).exists()
    assert (tmp_path / MANIFEST).read_text() == manifest(first)

    last = {"M/gusset.svg": "last"}
    placed = run(tmp_path, last)
    # L came from the killed run, which no manifest names: its mark does.
    assert placed.removed == ("L/gusset.svg", "S/gusset.svg")
    assert listing(tmp_path) == {**last, MANIFEST: manifest(last)}


@pytest.mark.parametrize(
    "name",
    [
        "../outside.svg",
        "M/../../outside.svg",
        "{absolute}",
        "..\\outside.svg",
        "link/outside.svg",
        ".ssh/outside.svg",
        "M/deep/outside.svg",
        "notes.txt",
        "",
        ".",
        "manifest.json",
    ],
)
def test_a_tampered_manifest_removes_nothing_of_others(tmp_path: Path, name: str) -> None:
    outside = tmp_path / "elsewhere"
    outside.mkdir()
    out = tmp_path / "out"
    run(out, {"M/gusset.svg": "a"})
    (out / "link").symlink_to(outside)
    (out / "M" / "deep").mkdir()
    (out / ".ssh").mkdir()
    others = [
        tmp_path / "outside.svg",
        outside / "outside.svg",
        out / "notes.txt",
        out / "M" / "deep" / "outside.svg",
        out / ".ssh" / "outside.svg",
    ]
    for path in others:
        path.write_text("theirs")
    shown = name.format(absolute=tmp_path / "outside.svg")
    (out / MANIFEST).write_text(manifest({"M/gusset.svg": "a", shown: "theirs"}))
    placed = run(out, {"M/crown.svg": "b"})
    assert placed.removed == ("M/gusset.svg",)
    assert [path.read_text() for path in others] == ["theirs"] * len(others)


@pytest.mark.parametrize(
    "content",
    ["", "[]", "null", "{}", '{"format": "gussetry-manifest"}', "[" * 100_000, "\0",
     '{"format": "gussetry-manifest", "assets": [1]}',
     '{"format": "gussetry-manifest", "assets": [{"file": "a.svg", "png": 3}]}',
     '{"format": "else", "assets": []}'],
)  # fmt: skip
def test_a_manifest_of_somebody_else_stops_the_run(tmp_path: Path, content: str) -> None:
    (tmp_path / MANIFEST).write_text(content)
    with pytest.raises(FolderFaults) as raised:
        run(tmp_path, {"M/gusset.svg": "a"})
    assert codes(raised) == ["in-the-way"]
    assert listing(tmp_path) == {MANIFEST: content}


def test_a_strangers_file_is_never_replaced(tmp_path: Path) -> None:
    (tmp_path / "counts.csv").write_text("theirs")
    with pytest.raises(FolderFaults) as raised:
        run(tmp_path, {"counts.csv": "ours", "key.svg": "a"})
    assert codes(raised) == ["in-the-way"]
    assert listing(tmp_path) == {"counts.csv": "theirs"}


def test_a_link_in_the_place_of_a_size_is_not_followed(tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    out = tmp_path / "out"
    out.mkdir()
    (out / "M").symlink_to(elsewhere)
    with pytest.raises(FolderFaults) as raised:
        run(out, {"M/gusset.svg": "a"})
    assert codes(raised) == ["in-the-way"]
    assert list(elsewhere.iterdir()) == []


@pytest.mark.parametrize("hidden", [WORK, f"{WORK}/lock", f"{WORK}/files"])
def test_a_link_in_the_place_of_the_hidden_folder_is_not_followed(
    tmp_path: Path, hidden: str
) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "theirs.svg").write_text("theirs")
    out = tmp_path / "out"
    (out / hidden).parent.mkdir(parents=True)
    (out / hidden).symlink_to(elsewhere / "new" if hidden.endswith("lock") else elsewhere)
    with pytest.raises(FolderFaults):
        run(out, {"M/gusset.svg": "a"})
    assert listing(elsewhere) == {"theirs.svg": "theirs"}


def test_a_second_run_at_the_same_time_is_told_so(tmp_path: Path) -> None:
    with staging(tmp_path) as first:
        first.write("counts.csv", "first")
        with pytest.raises(FolderFaults) as raised:
            break_off(tmp_path, AssertionError("two runs at once"))
        assert codes(raised) == ["busy"]
        first.place(manifest({"counts.csv": "first"}))
    assert (tmp_path / "counts.csv").read_text() == "first"


def test_what_a_killed_run_left_in_the_hidden_folder_goes(tmp_path: Path) -> None:
    left = tmp_path / WORK / "files" / "M"
    left.mkdir(parents=True)
    (left / "gusset.svg").write_text("left")
    (tmp_path / WORK / "lock").touch()
    run(tmp_path, {"counts.csv": "a"})
    assert not (tmp_path / WORK).exists()


@pytest.mark.parametrize("below", ["out", "out/deeper"])
def test_a_file_in_the_place_of_the_folder_is_told(tmp_path: Path, below: str) -> None:
    (tmp_path / "out").write_text("a file")
    with pytest.raises(FolderFaults) as raised:
        run(tmp_path / below, {"counts.csv": "a"})
    assert codes(raised) == ["cannot-write"]
    assert "file of that name" in raised.value.problems[0].message
    assert listing(tmp_path) == {"out": "a file"}


@pytest.mark.parametrize(
    ("reason", "told", "remedy"),
    [
        (errno.ENOSPC, "no space left", "make room"),
        (errno.EROFS, "read-only", "can be written"),
        (errno.EACCES, "permission denied", "you may write"),
    ],
)
def test_a_disk_that_takes_nothing_is_told_and_nothing_changes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, reason: int, told: str, remedy: str
) -> None:
    def refuses(self: Path, data: bytes) -> int:
        raise OSError(reason, os.strerror(reason))

    monkeypatch.setattr(Path, "write_bytes", refuses)
    with pytest.raises(FolderFaults) as raised:
        run(tmp_path / "out", {"counts.csv": "a"})
    (problem,) = raised.value.problems
    assert problem.code == "cannot-write"
    assert told in problem.message
    assert remedy in problem.help
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["../a.svg", "a/b/c.svg", "/a.svg", "M/.svg", "a.exe"])
def test_only_plain_names_are_written(tmp_path: Path, name: str) -> None:
    with pytest.raises(FolderFaults):
        run(tmp_path / "out", {name: "a"})
    assert list(tmp_path.iterdir()) == []


def test_two_names_that_some_file_systems_hold_for_one_are_refused(tmp_path: Path) -> None:
    out = Staging(tmp_path, tmp_path)
    out.write("M/gusset.svg", "a")
    with pytest.raises(FolderFaults):
        out.write("m/gusset.svg", "b")
