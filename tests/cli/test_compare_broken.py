"""What cannot be compared is told with what is wrong, and nothing outside is read."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from cli.comparing import compare, edit
from click.testing import CliRunner

from gussetry.cli import program


def _names(name: str) -> Callable[[Any], object]:
    def change(data: dict[str, Any]) -> None:
        data["assets"][0]["file"] = name

    return change


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (_names("../secret.svg"), "cannot be in the folder"),
        (_names("/etc/passwd.svg"), "cannot be in the folder"),
        (_names("M/../../x.svg"), "cannot be in the folder"),
        (_names("M\\x.svg"), "cannot be in the folder"),
        (_names(".hidden.svg"), "cannot be in the folder"),
        (_names("gone.svg"), "is missing"),
        (_names(3), "not written by gussetry"),  # type: ignore[arg-type]
        (lambda data: data.update(format="other"), "not written by gussetry"),
        (lambda data: data.update(version=2), "not written by gussetry"),
        (lambda data: data.pop("assets"), "not written by gussetry"),
        (lambda data: data.update(assets=[1]), "not written by gussetry"),
        (lambda data: data.update(assets={}), "lists no stitch map"),
        (lambda data: data.update(assets="abc"), "not written by gussetry"),
        (lambda data: data.update(pattern=None), "not written by gussetry"),
    ],
)
def test_a_strange_manifest_is_told_with_code_1(
    drawn: Path, copy: Path, change: Callable[[Any], object], told: str
) -> None:
    edit(copy / "manifest.json", change)
    done = compare(copy, drawn)
    assert done.exit_code == 1
    assert told in done.stderr
    assert "nothing was compared" in done.stderr


def _first(data: dict[str, Any]) -> dict[str, Any]:
    round_: dict[str, Any] = data["pieces"][1]["rounds"][2]
    return round_


@pytest.mark.parametrize(
    "change",
    [
        lambda data: data.update(format="x"),
        lambda data: data.update(pieces=5),
        lambda data: data["fabric"].update({"width mm": "1/0"}),
        lambda data: data["fabric"].update({"width mm": "0"}),
        lambda data: data["fabric"].update({"width mm": "1e999999999"}),
        lambda data: data.update(fabric=None),
        lambda data: _first(data).update(count="36"),
        lambda data: _first(data).update(count=-1),
        lambda data: _first(data).update(count=True),
        lambda data: _first(data).update(markers=[1]),
        lambda data: _first(data).update(work=[{"do": "purl"}]),
        lambda data: _first(data).update(work=[{"do": "sc", "into": [[]]}]),
        lambda data: _first(data).update(phase=7),
        lambda data: data["pieces"][0].update(piece="sleeve"),
        lambda data: data["pieces"][1].update(rounds=[]),
    ],
)
def test_a_broken_stitch_map_is_told_with_code_1(
    drawn: Path, copy: Path, change: Callable[[Any], object]
) -> None:
    edit(copy / "M" / "stitches.json", change)
    done = compare(copy, drawn)
    assert done.exit_code == 1, done.output
    assert "broken-map" in done.stderr


@pytest.mark.parametrize("content", [b"", b"{", b"[]", b"\xff", b"[" * 100_000, b'"a"', b"null"])
def test_what_is_no_json_is_told_with_code_1(drawn: Path, copy: Path, content: bytes) -> None:
    for name in ("M/stitches.json", "manifest.json"):
        (copy / name).write_bytes(content)
        done = compare(copy, drawn)
        assert done.exit_code == 1, done.output
        assert str(copy / name) in done.stderr


@pytest.mark.parametrize(
    "content",
    [b"", b"a,b\n", b"piece,round,S\nhand,x,3\n", b"piece,round,S\nhand,1\n", b"\xff",
     b"piece,round,S\nfoot,1,3\n", b"piece,round,S\nhand,1,-3\n"],
)  # fmt: skip
def test_a_broken_count_table_is_told_with_code_1(drawn: Path, copy: Path, content: bytes) -> None:
    (copy / "counts.csv").write_bytes(content)
    for other in (copy, copy / "counts.csv"):
        done = compare(other, drawn)
        assert done.exit_code == 1, done.output
        assert "broken-table" in done.stderr


def test_what_is_no_output_is_told_with_code_1(drawn: Path, tmp_path: Path, copy: Path) -> None:
    (tmp_path / "empty").mkdir()
    (tmp_path / "note.txt").write_text("x", encoding="utf-8")
    for path, told in (
        (tmp_path / "empty", "not-an-output"),
        (tmp_path / "note.txt", "not-an-output"),
        (tmp_path / "none", "no-folder"),
        (tmp_path / "none.csv", "no-file"),
    ):
        for pair in ((drawn, path), (path, drawn)):
            done = compare(*pair)
            assert done.exit_code == 1
            assert told in done.stderr
    (copy / ".gussetry-unfinished").write_text("{}", encoding="utf-8")
    assert "unfinished" in compare(copy, drawn).stderr


def test_nothing_is_read_through_a_link(drawn: Path, copy: Path, tmp_path: Path) -> None:
    secret = tmp_path / "secret"
    shutil.move(copy / "M", secret)
    (copy / "M").symlink_to(secret, target_is_directory=True)
    done = compare(copy, drawn)
    assert done.exit_code == 1
    assert "is a link" in done.stderr


def test_the_folder_itself_may_be_a_link(drawn: Path, copy: Path, tmp_path: Path) -> None:
    (tmp_path / "latest").symlink_to(copy, target_is_directory=True)
    assert "no difference" in compare(drawn, tmp_path / "latest").stdout


def test_a_name_cannot_disturb_the_terminal(drawn: Path, copy: Path) -> None:
    edit(copy / "manifest.json", lambda data: data.update(pattern="\x1b[2Jx"))
    done = compare(copy, drawn)
    assert done.exit_code == 0
    assert "\x1b" not in done.stdout


def test_a_name_left_out_is_wrong_usage(drawn: Path) -> None:
    assert CliRunner().invoke(program, ["compare", str(drawn)]).exit_code == 2
