"""What manifest and table of assets say of drawings, held against these: sound lists pass, such as
earlier versions wrote too, and what is broken is told at its line."""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from check.folders import ASSETS, MANIFEST, Folder, as_bytes, checked, folder, pattern, write

from gussetry.check.evidence import gather
from gussetry.check.facts import Facts, facts_of
from gussetry.check.listed import compare_listed
from gussetry.findings import Finding
from gussetry.verify.reading import read

Change = Callable[[dict[str, Any]], None]


@cache
def sound() -> Folder:
    """A folder with a strip and its schematic, and all that is said of them."""
    own = pattern("worked-example")
    return folder(own, ["M/cuff", "M/stripes", "M/schematic"], told=True, maps=own.maps)


def faults(made: Folder, place: Path) -> list[Finding]:
    return [one for one in checked(made, place) if one.fault]


@cache
def facts() -> dict[str, Facts]:
    """What the folder's drawings tell of themselves."""
    return {name: facts_of(read(svg)) for name, svg in sound().items() if name.endswith(".svg")}


def changed(change: Change) -> Folder:
    """The folder with its manifest changed."""
    made = sound()
    listed = json.loads(made[MANIFEST])
    change(listed)
    return made | {MANIFEST: as_bytes(listed)}


def test_sound_lists_pass(tmp_path: Path) -> None:
    made = sound()
    shown = {e["file"]: e.get("shown with") for e in json.loads(made[MANIFEST])["assets"]}
    assert shown["M/stripes.svg"] == ["M/schematic.svg"]
    assert faults(made, tmp_path) == []


def test_a_manifest_that_says_less_passes(tmp_path: Path) -> None:
    def less(listed: dict[str, Any]) -> None:
        for entry in listed["assets"]:
            for key in ("caption", "alternative text", "shown with", "columns", "millimetres"):
                entry.pop(key, None)

    assert faults(changed(less), tmp_path) == []


@pytest.mark.parametrize("value", [None, 7, "x", [], [1e999], {"a": []}, [["x"]], True])
@pytest.mark.parametrize("key", ["caption", "millimetres", "shown with", "first round", "columns"])
def test_whatever_is_said_is_one_finding_and_no_more(
    key: str, value: object, tmp_path: Path
) -> None:
    def spoil(listed: dict[str, Any]) -> None:
        entry = next(e for e in listed["assets"] if e["file"] == "M/stripes.svg")
        entry[key] = value

    made = changed(spoil)
    del made[ASSETS]
    evidence = gather(write(made, tmp_path))
    evidence.facts = facts()
    found = [*compare_listed(evidence)]
    same = key == "first round" and value is None
    assert [(one.kind, one.file) for one in found] == [("manifest", MANIFEST)] * (not same)


def test_a_table_that_cannot_be_read_is_one_finding(tmp_path: Path) -> None:
    for place, content in enumerate((b"\xff\xfe", b'file\n"a', b"")):
        found = faults(sound() | {ASSETS: content}, tmp_path / str(place))
        assert [one.file for one in found] == [ASSETS]


def test_a_cell_is_told_at_its_line_and_column(tmp_path: Path) -> None:
    made = sound()
    rows = made[ASSETS].decode().split("\n")
    rows[2] = rows[2].replace("M/stripes.svg,", "M/stripes.svg,x", 1)
    (found,) = faults(made | {ASSETS: "\n".join(rows).encode()}, tmp_path)
    assert (found.kind, found.line, found.column, found.size) == ("table", 3, 2, "M")
    assert found.found == "x"
