"""An output folder read for comparing, every word of it checked like a stranger's."""

from __future__ import annotations

import csv
import hashlib
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NoReturn

from gussetry.counts import PIECES
from gussetry.diagnostics import Faults, Problem
from gussetry.folder import MANIFEST, MANIFEST_FORMAT, MARK
from gussetry.misreadings import clipped
from gussetry.stitchmap import MAKES, StitchMap, from_json

COUNTS = "counts.csv"
MAX_BYTES = 16 * 1024 * 1024
"""Longest manifest, stitch map or count table that is read."""

_NAME = re.compile(r"(?:[A-Za-z0-9-]+/)?[A-Za-z0-9-]+\.(?:svg|png|json|csv|md)")
_LENGTH = re.compile(r"-?[0-9]{1,9}(?:/[1-9][0-9]{0,8})?")
_MOST = 100_000

Cells = dict[tuple[str, str, str], str]
"""A count table: for each column, piece and round what stands there."""


@dataclass(frozen=True, slots=True)
class Listed:
    """A file that the manifest lists, and the sha256 of what it holds. `kind` is `crown`, `words`
    and so on; `size` and `mitten` are empty where it shows no one size; `png` is the picture's."""

    name: str
    kind: str
    size: str
    mitten: str
    content: str
    png: str | None


@dataclass(frozen=True, slots=True)
class Output:
    """What one run wrote: the stitch maps smallest size first, the other files, the count table.

    `maps` and `files` are empty where a count table alone was named.
    """

    path: Path
    pattern: str
    style: str
    maps: tuple[StitchMap, ...]
    files: tuple[Listed, ...]
    cells: Cells


def read_output(path: Path) -> Output:
    """The output folder, named by itself or its manifest; or a count table alone.

    Raises Faults where it is missing, unfinished, broken, or was not written by gussetry.
    """
    if path.name == MANIFEST:
        path = path.parent
    if path.is_dir():
        return _folder(path)
    if path.suffix.casefold() == ".csv":
        return Output(path, "", "", (), (), _cells(path, _bytes(path)))
    if path.exists():
        _refuse("not-an-output", f"{path} is no output folder", "name the folder that draw wrote")
    _refuse("no-folder", f"there is no folder {path}", "check the name")


def _refuse(code: str, message: str, remedy: str) -> NoReturn:
    raise Faults([Problem(code, message, help=remedy)])


def _folder(folder: Path) -> Output:
    if (folder / MARK).exists():
        message = f"{folder} is unfinished: a run was stopped while it wrote"
        _refuse("unfinished", message, "draw it again")
    data = _manifest(folder)
    entries = [entry for entry in data["assets"] if entry["kind"] not in ("stitches", "counts")]
    kinds = _by_kind(data["assets"])
    maps = tuple(_map(folder / entry["file"]) for entry in kinds.get("stitches", ()))
    if not maps:
        message = f"{folder / MANIFEST} lists no stitch map"
        _refuse("not-an-output", message, "draw the pattern again")
    cells: Cells = {}
    for entry in kinds.get("counts", ()):
        table = folder / entry["file"]
        cells |= _cells(table, _bytes(table))
    files = tuple(_listed(folder, entry) for entry in entries)
    return Output(folder, data["pattern"], str(data.get("style", "")), maps, files, cells)


def _by_kind(entries: list[dict[str, Any]]) -> dict[str, list[dict[str, Any]]]:
    found: dict[str, list[dict[str, Any]]] = {}
    for entry in entries:
        found.setdefault(entry["kind"], []).append(entry)
    return found


def _manifest(folder: Path) -> dict[str, Any]:
    """The manifest, its entries known to have a kind and a name that stays inside the folder."""
    path = folder / MANIFEST
    if not path.is_file():
        message = f"{folder} has no {MANIFEST}, so it is no output folder"
        _refuse("not-an-output", message, "name the folder that draw wrote")
    try:
        data = json.loads(_bytes(path))
        if data["format"] != MANIFEST_FORMAT or data["version"] != 1:
            raise ValueError
        entries = [dict(entry) for entry in data["assets"]]
        pictures = [dict(entry["png"]) for entry in entries if entry.get("png")]
        names = [entry["file"] for entry in (*entries, *pictures)]
        kinds = [entry["kind"] for entry in entries]
        words = [*names, *kinds, data["pattern"]]
        if not all(isinstance(word, str) for word in words):
            raise TypeError
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        message = f"{path} was not written by gussetry, or was changed since"
        _refuse("not-an-output", message, "draw the pattern again")
    strange = [name for name in names if not _NAME.fullmatch(name)]
    if strange:
        message = f"{path} names a file that cannot be in the folder: {clipped(strange[0])}"
        _refuse("bad-name", message, "draw the pattern again")
    return {**data, "assets": entries}


def _inside(path: Path) -> Path:
    """The path, if it is a plain file of the folder and not a way out of it."""
    if path.is_symlink() or path.parent.is_symlink():
        _refuse("link", f"{path} is a link", "put the file itself there")
    if not path.is_file():
        _refuse("no-file", f"{path} is missing", "draw the pattern again")
    return path


def _bytes(path: Path) -> bytes:
    try:
        with _inside(path).open("rb") as file:
            content = file.read(MAX_BYTES + 1)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        _refuse("no-file", f"{path} cannot be read: {reason}", "check its permissions")
    if len(content) > MAX_BYTES:
        message = f"{path} is longer than {MAX_BYTES // 1024 // 1024} MiB, so it is not ours"
        _refuse("too-long", message, "draw the pattern again")
    return content


def _digest(path: Path) -> str:
    try:
        with _inside(path).open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        _refuse("no-file", f"{path} cannot be read: {reason}", "check its permissions")


def _listed(folder: Path, entry: dict[str, Any]) -> Listed:
    png = entry.get("png")
    return Listed(
        entry["file"],
        entry["kind"],
        str(entry.get("size") or ""),
        str(entry.get("mitten") or ""),
        _digest(folder / entry["file"]),
        _digest(folder / png["file"]) if png else None,
    )


def _map(path: Path) -> StitchMap:
    try:
        text = _bytes(path).decode("utf-8")
        _demand_sound(json.loads(text))
        return from_json(text)
    except (ValueError, TypeError, KeyError, AttributeError, IndexError, RecursionError):
        message = f"{path} is no stitch map, or is broken"
        _refuse("broken-map", message, "draw the pattern again")


def _demand_sound(data: dict[str, Any]) -> None:
    """ValueError, TypeError, KeyError or AttributeError where a stitch map is none."""
    fabrics = [data["fabric"], *([data["rib"]] if data["rib"] else [])]
    lengths = [fabric[key] for fabric in fabrics for key in ("width mm", "height mm")]
    if not all(_LENGTH.fullmatch(length) for length in (*lengths, data["above crease mm"])):
        raise ValueError("a length")
    if any(length.lstrip("-").split("/")[0].strip("0") == "" for length in lengths):
        raise ValueError("a length of nothing")
    words = [data["pattern"], data["size"], data["mitten"], *(f["stitch"] for f in fabrics)]
    words += [yarn[key] for yarn in data["yarns"] for key in ("yarn", "name", "colour")]
    numbers: list[Any] = []
    for piece in data["pieces"]:
        if piece["piece"] not in PIECES:
            raise ValueError("a piece")
        for round_ in piece["rounds"]:
            words += [round_["phase"], round_["yarn"], *round_["markers"]]
            words += [op["do"] for op in round_["work"]]
            numbers += [round_["round"], round_["step"], round_["count"]]
            if any(op["do"] not in MAKES for op in round_["work"]):
                raise ValueError("a stitch")
    if not all(isinstance(word, str) for word in words):
        raise TypeError("a word")
    if not all(type(number) is int and 0 <= number <= _MOST for number in numbers):
        raise ValueError("a number")


def _cells(path: Path, content: bytes) -> Cells:
    try:
        rows = [row for row in csv.reader(_lines(content.decode("utf-8-sig"))) if row]
        head = rows[0]
        if head[:2] != ["piece", "round"] or any(len(row) != len(head) for row in rows):
            raise ValueError
    except (ValueError, IndexError, csv.Error):
        message = f"{path} is no count table of gussetry"
        _refuse("broken-table", message, "draw the pattern again, or use gussetry counts --csv")
    return {
        (column, row[0], row[1]): count
        for row in rows[1:]
        for column, count in zip(head[2:], row[2:], strict=True)
    }


def _lines(text: str) -> Iterator[str]:
    return iter(text.splitlines(keepends=True))
