"""A count table as people save it, read strictly: every count with the place where it stands."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple, NoReturn

from gussetry.counts import PIECES
from gussetry.diagnostics import Problem, Span
from gussetry.misreadings import clipped, unopened
from gussetry.source import Source, UnreadableSource

MAX_BYTES = 256 * 1024
"""Longest count table that is read: dozens of sizes of some hundred rounds take a tenth of it."""

MAX_COUNT = 999
_HEAD = "the first line names the columns: piece,round,<size>,<size>…"
_LINE_END = re.compile("\r\n|\r|\n")
_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")


class Cell(NamedTuple):
    """The text between two separators, without blanks and quotes, and where it stands."""

    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Entry:
    """The count of one round, and where it stands."""

    count: int
    span: Span


@dataclass(frozen=True, slots=True)
class Sample:
    """One size's column: for each piece the counts of its rounds, from round 1 on without a gap."""

    source: Source
    size: str
    cuff: tuple[Entry, ...]
    hand: tuple[Entry, ...]
    thumb: tuple[Entry, ...]

    def piece(self, name: str) -> tuple[Entry, ...]:
        """The rounds of `cuff`, `hand` or `thumb`; none where the size has no such piece."""
        return {"cuff": self.cuff, "hand": self.hand, "thumb": self.thumb}[name]


def read_sample(path: Path, size: str | None) -> Sample:
    """The column of `size` in the table, or its only one.

    Commas, semicolons or tabs, blanks round the cells, capitals, a byte order mark and any line
    ends are taken. Raises UnreadableSource with one problem, at its line and column.
    """
    try:
        with path.open("rb") as file:
            content = file.read(MAX_BYTES + 1)
    except (OSError, ValueError) as error:
        raise UnreadableSource([unopened(error)], Source(str(path))) from None
    source = Source(str(path))
    text = _decoded(content, source)
    source.lines = tuple(_LINE_END.split(text))
    rows = list(_rows(source))
    if not rows:
        _refuse(source, "empty-file", "the table is empty", None, _HEAD)
    columns, own = _columns(source, rows[0], size)
    found = _counts(source, rows[1:], columns)
    if not found["hand"]:
        where = rows[0][own].span
        message = f"size {clipped(rows[0][own].text)} has no counts of the hand"
        _refuse(source, "no-hand", message, where, "a row for each round: hand,1,30 and so on")
    return Sample(source, rows[0][own].text, found["cuff"], found["hand"], found["thumb"])


def _refuse(source: Source, code: str, message: str, span: Span | None, remedy: str) -> NoReturn:
    raise UnreadableSource([Problem(code, message, help=remedy, span=span)], source)


def _decoded(content: bytes, source: Source) -> str:
    if len(content) > MAX_BYTES:
        message = f"the file is longer than {MAX_BYTES // 1024} KiB, so it is no count table"
        _refuse(source, "too-long", message, None, "check that this is the file you meant")
    save = "save the table as CSV in UTF-8"
    if b"\0" in content or content[:2] in (b"\xff\xfe", b"\xfe\xff", b"PK"):
        _refuse(source, "not-text", "the file is not plain text in UTF-8", None, save)
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = _LINE_END.split(content[: error.start].decode("utf-8-sig"))
        source.lines = tuple(_LINE_END.split(content.decode("utf-8-sig", "replace")))
        span = Span(len(before), len(before[-1]) + 1)
        message = f"byte {content[error.start]:#04x} is not UTF-8"
        _refuse(source, "not-text", message, span, save)
    control = _UNPRINTABLE.search(text)
    if control:
        before = _LINE_END.split(text[: control.start()])
        source.lines = tuple(_LINE_END.split(text))
        span = Span(len(before), len(before[-1]) + 1)
        message = f"a control character (U+{ord(control.group()):04X}) stands here"
        _refuse(source, "not-text", message, span, "delete it")
    return text


def _rows(source: Source) -> Iterator[tuple[Cell, ...]]:
    """The lines that hold anything, cell by cell. The first line tells the separator."""
    separator = ""
    for number, line in enumerate(source.lines, 1):
        if not line.strip():
            continue
        if not separator:
            separator = max(",;\t", key=line.count)
        cells = tuple(_cells(source, number, line, separator))
        if any(cell.text for cell in cells):
            yield cells


def _cells(source: Source, number: int, line: str, separator: str) -> Iterator[Cell]:
    blanks = " " if separator == "\t" else " \t"
    at = 0
    while True:
        start = at + len(line[at:]) - len(line[at:].lstrip(blanks))
        if line[start : start + 1] == '"':
            end, text = _quoted(source, number, line, start)
            rest = line[end:].lstrip(blanks)
            if rest and rest[0] != separator:
                span = Span(number, len(line) - len(rest) + 1)
                message = "something stands between the closing quote and the separator"
                _refuse(source, "stray-quote", message, span, "write a quote inside quotes twice")
            at = len(line) - len(rest)
        else:
            end = line.find(separator, at)
            end = len(line) if end < 0 else end
            text = line[start:end].strip(blanks)
            at = end
        yield Cell(text.strip(), Span(number, start + 1, max(1, len(text))))
        if at >= len(line):
            return
        at += 1


def _quoted(source: Source, number: int, line: str, start: int) -> tuple[int, str]:
    """Where the text in quotes ends, its closing quote passed, and the text."""
    found = re.compile('"((?:[^"]|"")*)"').match(line, start)
    if found is None:
        message = "a quote that is opened here is not closed in its line"
        _refuse(
            source, "stray-quote", message, Span(number, start + 1), "close it, or leave it out"
        )
    return found.end(), found.group(1).replace('""', '"')


def _plain(name: str) -> str:
    return "".join(name.split()).casefold()


def _columns(
    source: Source, head: tuple[Cell, ...], size: str | None
) -> tuple[tuple[int, int, int], int]:
    """Where piece, round and the size stand; and where the size stands."""
    seen: dict[str, Cell] = {}
    for cell in head:
        known = _plain(cell.text)
        if known and known in seen:
            message = f"two columns are called {clipped(cell.text)}"
            _refuse(source, "same-column", message, cell.span, "rename or delete one of them")
        seen[known] = cell
    for needed in ("piece", "round"):
        if needed not in seen:
            message = f"there is no column called {needed}"
            _refuse(source, "no-column", message, head[0].span, _HEAD)
    sizes = [i for i, c in enumerate(head) if c.text and _plain(c.text) not in ("piece", "round")]
    shown = ", ".join(head[i].text for i in sizes)
    if not sizes:
        message = "there is no column of counts"
        _refuse(source, "no-column", message, head[-1].span, _HEAD)
    if size is None and len(sizes) > 1:
        message = f"the table has {len(sizes)} sizes: {shown}"
        remedy = f"say which one, such as --size {_shell(head[sizes[0]].text)}"
        _refuse(source, "which-size", message, head[sizes[0]].span, remedy)
    own = sizes if size is None else [i for i in sizes if _plain(head[i].text) == _plain(size)]
    if not own:
        message = f"there is no size {clipped(size or '')} in the table"
        _refuse(source, "no-size", message, head[sizes[0]].span, f"it has {shown}")
    places = {_plain(cell.text): i for i, cell in enumerate(head)}
    return (places["piece"], places["round"], own[0]), own[0]


def _shell(name: str) -> str:
    return name if re.fullmatch(r"[\w.-]+", name) else f"'{name}'"


def _counts(
    source: Source, rows: list[tuple[Cell, ...]], columns: tuple[int, int, int]
) -> dict[str, tuple[Entry, ...]]:
    """The counts of every piece in order of their rounds, which may stand in any order."""
    found: dict[str, dict[int, Entry]] = {piece: {} for piece in PIECES}
    numbers: dict[tuple[str, int], Span] = {}
    for row in rows:
        piece, number, count = (row[i] if i < len(row) else _missing(row) for i in columns)
        name = _plain(piece.text)
        if name not in found:
            told = f"no piece is called {clipped(piece.text)}" if name else "the piece is missing"
            _refuse(source, "no-piece", told, piece.span, "the pieces are cuff, hand and thumb")
        at = _whole(source, number, "the round", "from 1 on")
        if (name, at) in numbers:
            message = f"{name} round {at} stands in line {numbers[name, at].line} already"
            _refuse(source, "same-round", message, number.span, "keep one of the two")
        numbers[name, at] = number.span
        if count.text:
            found[name][at] = Entry(
                _whole(source, count, "the count", "the stitches that the round leaves"), count.span
            )
    return {piece: _in_order(source, piece, entries) for piece, entries in found.items()}


def _missing(row: tuple[Cell, ...]) -> Cell:
    end = row[-1].span
    return Cell("", Span(end.line, end.column + end.length))


def _whole(source: Source, cell: Cell, what: str, wanted: str) -> int:
    if not re.fullmatch("[1-9][0-9]*", cell.text) or len(cell.text) > 3:
        told = f"{what} cannot be {clipped(cell.text)}" if cell.text else f"{what} is missing"
        remedy = f"write a whole number, 1 to {MAX_COUNT}: {wanted}"
        _refuse(source, "no-number", told, cell.span, remedy)
    return int(cell.text)


def _in_order(source: Source, piece: str, entries: dict[int, Entry]) -> tuple[Entry, ...]:
    for place, number in enumerate(sorted(entries), 1):
        if number != place:
            message = f"{piece} round {place} has no count, though round {number} has one"
            remedy = "give every round its row, numbered from 1 in each piece"
            _refuse(source, "round-missing", message, entries[number].span, remedy)
    return tuple(entries[number] for number in sorted(entries))
