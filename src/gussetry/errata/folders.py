"""An output folder read for comparing, every word of it checked like a stranger's."""

from __future__ import annotations

import csv
import hashlib
import json
import os
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from io import BufferedReader
from pathlib import Path
from typing import Any, NoReturn

from gussetry.diagnostics import Faults, Problem
from gussetry.folder import MANIFEST, MANIFEST_FORMAT, MARK
from gussetry.mapfiles import PIECES, NoMapError, read_map
from gussetry.misreadings import clipped
from gussetry.stitchmap import StitchMap

MAX_BYTES = 16 * 1024 * 1024
"""Longest manifest, stitch map or count table that is read."""

_NAME = re.compile(r"(?:[A-Za-z0-9-]+/)?[A-Za-z0-9+-]+\.(?:svg|png|json|csv|md)")

Cells = dict[tuple[str, str, int], int | None]
"""A count table: for each column, piece and round the count, None where there is no such round."""


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
    maps = tuple(_map(_inside(folder, entry["file"])) for entry in kinds.get("stitches", ()))
    if not maps:
        message = f"{folder / MANIFEST} lists no stitch map"
        _refuse("not-an-output", message, "draw the pattern again")
    cells: Cells = {}
    for entry in kinds.get("counts", ()):
        table = _inside(folder, entry["file"])
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
    if not os.path.lexists(path):
        message = f"{folder} has no {MANIFEST}, so it is no output folder"
        _refuse("not-an-output", message, "name the folder that draw wrote")
    try:
        data = json.loads(_bytes(_inside(folder, MANIFEST)))
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


def _inside(folder: Path, name: str) -> Path:
    """The path of a file of the folder, if it is a plain file and not a way out."""
    path = folder / name
    for part in (path, path.parent):
        if part != folder and part.is_symlink():
            _refuse("link", f"{part} is a link", "put the file itself there")
    return path


def _bytes(path: Path) -> bytes:
    with _opened(path) as file:
        content = file.read(MAX_BYTES + 1)
    if len(content) > MAX_BYTES:
        message = f"{path} is longer than {MAX_BYTES // 1024 // 1024} MiB, so it is not ours"
        _refuse("too-long", message, "draw the pattern again")
    return content


def _digest(path: Path) -> str:
    with _opened(path) as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


@contextmanager
def _opened(path: Path) -> Iterator[BufferedReader]:
    """The file, open for reading; Faults where it is missing, no file, or cannot be read."""
    if not path.is_file():
        _refuse("no-file", f"{path} is missing", "draw the pattern again")
    try:
        with path.open("rb") as file:
            yield file
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
        _digest(_inside(folder, entry["file"])),
        _digest(_inside(folder, png["file"])) if png else None,
    )


def _map(path: Path) -> StitchMap:
    try:
        return read_map(_bytes(path))
    except NoMapError:
        message = f"{path} is no stitch map, or is broken"
        _refuse("broken-map", message, "draw the pattern again")


def _cells(path: Path, content: bytes) -> Cells:
    try:
        rows = [row for row in csv.reader(_lines(content.decode("utf-8-sig")), strict=True) if row]
        head = rows[0]
        if head[:2] != ["piece", "round"] or any(row[0] not in PIECES for row in rows[1:]):
            raise ValueError
        return {
            (column, row[0], _number(row[1])): _number(count) if count else None
            for row in rows[1:]
            for column, count in zip(head[2:], row[2:], strict=True)
        }
    except (ValueError, IndexError, csv.Error):
        message = f"{path} is no count table of gussetry, or is broken"
        _refuse("broken-table", message, "draw the pattern again, or use gussetry counts --csv")


def _number(text: str) -> int:
    if not re.fullmatch("[0-9]{1,5}", text):
        raise ValueError
    return int(text)


def _lines(text: str) -> Iterator[str]:
    return iter(text.splitlines(keepends=True))
