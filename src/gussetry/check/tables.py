"""Count tables held against the stitch maps: the folder's own, and a publisher's."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from gussetry.counts import count_table
from gussetry.diagnostics import Faults
from gussetry.findings import Finding
from gussetry.mapfiles import PIECES
from gussetry.source import is_yaml, parse
from gussetry.stitchmap import StitchMap

_NUMBER = re.compile(r"[0-9]{1,6}")
_MOST = 400
"""Findings of one table that are told at most."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One count that a table claims: for a column, piece and round, None where it is left empty;
    `line` and `column` where it stands, `text` as it stands there."""

    size: str
    piece: str
    round: int
    count: int | None
    line: int
    column: int
    text: str


@dataclass(frozen=True, slots=True)
class Table:
    """A table as it was read: its columns by name, its cells, and what could not be read."""

    columns: tuple[str, ...]
    cells: tuple[Cell, ...]
    findings: tuple[Finding, ...]


Counts = dict[tuple[str, str, int], int]
"""The true counts by column, piece and round."""


def true_counts(maps: Sequence[StitchMap]) -> tuple[tuple[str, ...], Counts]:
    """The columns that a table of these maps has, and every count in it."""
    sizes = [tuple(own) for _, own in groupby(maps, key=lambda stitches: stitches.size)]
    table = count_table(sizes)
    counts = {
        (size, row.piece, row.round): count
        for row in table.rows
        for size, count in zip(table.sizes, row.counts, strict=True)
        if count is not None
    }
    return table.sizes, counts


def read_table(content: bytes, file: str) -> Table:
    """A table of counts: CSV, or YAML where the file's name says so.

    CSV has a heading row with `piece`, `round` and a column a size, in any order, whatever else
    stands in further columns. YAML has the pieces, each with a list of rounds:
    `hand: [{round: 1, S: 30, M: 32}]`.
    """
    if is_yaml(file):
        return _yaml(content, file)
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        return _none(file, f"not readable as UTF-8, at byte {fault.start}")
    try:
        return _csv(text, file)
    except csv.Error as fault:
        return _none(file, f"not readable as CSV: {fault}")


def _none(file: str, message: str) -> Table:
    return Table((), (), (Finding("unreadable", message, file),))


def _csv(text: str, file: str) -> Table:
    dialect = "excel"
    first = text.split("\n", 1)[0]
    delimiter = max(",;\t", key=first.count)
    reader = csv.reader(text.splitlines(keepends=True), dialect, delimiter=delimiter, strict=True)
    rows = [(reader.line_num, row) for row in reader if any(cell.strip() for cell in row)]
    if not rows:
        return _none(file, "the table is empty")
    head = [cell.strip() for cell in rows[0][1]]
    plain = [cell.casefold() for cell in head]
    if "piece" not in plain or "round" not in plain:
        return _none(file, "the first row must name the columns piece, round and the sizes")
    at = {name: plain.index(name) for name in ("piece", "round")}
    sizes = [(i, name) for i, name in enumerate(head) if i not in at.values() and name]
    cells: list[Cell] = []
    findings: list[Finding] = []
    for line, row in rows[1:]:
        if len(row) != len(head):
            message = f"the row has {len(row)} cells, the heading {len(head)}"
            findings.append(Finding("table", message, file, line=line))
            continue
        piece, number = row[at["piece"]].strip().casefold(), row[at["round"]].strip()
        if piece not in PIECES or not _NUMBER.fullmatch(number):
            message = f"the row names no piece and round: {piece!r}, {number!r}"
            findings.append(Finding("table", message, file, line=line))
            continue
        for i, size in sizes:
            cells.append(_cell(size, piece, int(number), row[i].strip(), line, i + 1))
    return Table(tuple(name for _, name in sizes), tuple(cells), tuple(findings))


def _cell(size: str, piece: str, number: int, text: str, line: int, column: int) -> Cell:
    count = int(text) if _NUMBER.fullmatch(text) else None
    return Cell(size, piece, number, count, line, column, text)


def _yaml(content: bytes, file: str) -> Table:
    try:
        document = parse(content, file)
    except Faults as faults:
        first = faults.problems[0]
        line = first.span.line if first.span else None
        return Table((), (), (Finding("unreadable", first.message, file, line=line),))
    data = document.data
    if not isinstance(data, dict):
        return _none(file, "the table must name pieces, each with a list of rounds")
    cells: list[Cell] = []
    findings: list[Finding] = []
    columns: dict[str, None] = {}
    for piece, rounds in data.items():
        if str(piece) not in PIECES or not isinstance(rounds, list):
            findings.append(Finding("table", f"{piece!r} is no piece with a list of rounds", file))
            continue
        for i, entry in enumerate(rounds):
            span = document.locate((str(piece), i))
            line = span.line if span else 0
            number = str(entry.get("round", "")) if isinstance(entry, dict) else ""
            if not isinstance(entry, dict) or not _NUMBER.fullmatch(number):
                findings.append(Finding("table", "an entry names no round", file, line=line))
                continue
            for size, text in entry.items():
                if size == "round":
                    continue
                columns[str(size)] = None
                spot = document.locate((str(piece), i, str(size)))
                there = (spot.line, spot.column) if spot else (line, 1)
                cells.append(_cell(str(size), str(piece), int(number), str(text), *there))
    return Table(tuple(columns), tuple(cells), tuple(findings))


def compare_table(
    table: Table, maps: Sequence[StitchMap], file: str, *, whole: bool
) -> list[Finding]:
    """Every cell in which the table and the maps differ. `whole`: the table must have every size
    and every round, as the folder's own has."""
    if not table.columns:
        return list(table.findings)
    columns, counts = true_counts(maps)
    named = _matched(table.columns, columns)
    findings = [*table.findings, *_columns(table, named, columns, file, whole)]
    seen: set[tuple[str, str, int]] = set()
    for cell in table.cells:
        size = named.get(cell.size)
        if size is None:
            continue
        key = (size, cell.piece, cell.round)
        if key in seen:
            findings.append(_at(cell, file, size, "the round stands in the table twice"))
            continue
        seen.add(key)
        findings += _wrong(cell, file, size, counts.get(key))
    missing = [key for key in counts if key not in seen and key[0] in named.values()]
    findings += [
        Finding("table", "the table lacks the round", file, size, piece, number,
                expected=str(counts[size, piece, number]))
        for size, piece, number in missing
        if whole or any(key[0] == size and key[1] == piece for key in seen)
    ]  # fmt: skip
    return findings[:_MOST]


def _matched(names: Iterable[str], columns: Sequence[str]) -> dict[str, str | None]:
    """Each column of the table with the size that it means, None where there is none."""
    plain = {" ".join(name.casefold().split()): name for name in columns}
    return {name: plain.get(" ".join(name.casefold().split())) for name in names}


def _columns(
    table: Table, named: dict[str, str | None], columns: Sequence[str], file: str, whole: bool
) -> Iterator[Finding]:
    counting = {cell.size for cell in table.cells if cell.count is not None}
    for name, size in named.items():
        if size is None and (whole or name in counting):
            message = f"the column {name!r} is no size of the folder"
            yield Finding("table", message, file, expected=", ".join(columns),
                          sure="certain" if whole else "likely")  # fmt: skip
    for size in columns:
        if size not in named.values():
            yield Finding("table", "the table has no column for the size", file, size,
                          sure="certain" if whole else "note")  # fmt: skip


def _wrong(cell: Cell, file: str, size: str, true: int | None) -> Iterator[Finding]:
    if cell.count == true and (cell.count is not None or not cell.text):
        return
    if true is None:
        yield _at(cell, file, size, "the size has no such round", "none")
    elif not cell.text:
        yield _at(cell, file, size, "the count is left out", str(true))
    else:
        yield _at(cell, file, size, "the table has another count than the stitch map", str(true))


def _at(cell: Cell, file: str, size: str, message: str, expected: str = "") -> Finding:
    return Finding(
        "table", message, file, size, cell.piece, cell.round, line=cell.line, column=cell.column,
        expected=expected, found=cell.text,
    )  # fmt: skip
