"""The count table of a page read back from where its figures stand, and held against the maps."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby
from typing import NamedTuple

from gussetry.stitchmap import StitchMap
from gussetry.verify.findings import Disagreement
from gussetry.verify.labels import first_number, found_at, read_labels, stray
from gussetry.verify.levels import in_lines
from gussetry.verify.svg import Page, Shape

PIECES = ("cuff", "hand", "thumb")
_LEVEL = 0.6  # mm: figures of one row have their feet at one height
_EDGE = 0.6  # mm: figures of one column end at one place

_TITLE = re.compile(r"Counts: (\w+)(?: \(cont\.\))?")

Row = tuple[str, str, tuple[str, ...]]
"""Piece, rounds as printed, and what each column says."""


class _Read(NamedTuple):
    """A table as its figures stand: its piece, whether that is worked in rows or rounds, columns,
    rows with a shape each, framed columns."""

    piece: str
    worked: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Row, Shape], ...]
    framed: tuple[str, ...]


def columns_of(maps: Sequence[StitchMap]) -> tuple[tuple[str, StitchMap], ...]:
    """The columns that the table must have: a size each, or one a mitten where a left and a right
    count otherwise."""
    made: list[tuple[str, StitchMap]] = []
    for size, group in groupby(maps, key=lambda one: one.size):
        mittens = list(group)
        alike = all(_counts(one) == _counts(mittens[0]) for one in mittens)
        if alike:
            made.append((size, mittens[0]))
        else:
            made += [(f"{size} {one.mitten}", one) for one in mittens]
    return tuple(made)


def _counts(stitches: StitchMap) -> dict[tuple[str, int], int]:
    return {(p.piece, r.number): r.count for p in stitches.pieces for r in p.counted}


def _wanted(maps: Sequence[StitchMap]) -> dict[str, list[Row]]:
    """The rows of each piece, rounds that are alike in every size in one."""
    counted = [_counts(one) for _, one in columns_of(maps)]
    found: dict[str, list[Row]] = {}
    for piece in PIECES:
        numbers = sorted({n for counts in counted for p, n in counts if p == piece})
        told = [(n, tuple(str(counts.get((piece, n), "–")) for counts in counted)) for n in numbers]
        rows = []
        for cells, run in groupby(told, key=lambda one: one[1]):
            spans = [n for n, _ in run]
            ends = str(spans[0]) if len(spans) == 1 else f"{spans[0]}–{spans[-1]}"
            rows.append((piece, ends, cells))
        if rows:
            found[piece] = rows
    return found


def compare_tables(
    pages: Sequence[Page], maps: Sequence[StitchMap], own: Sequence[str]
) -> Iterator[Disagreement]:
    """What the tables, one a piece or several in order, have wrong; `sheet` is which of them."""
    wanted = _wanted(maps)
    names = tuple(name for name, _ in columns_of(maps))
    seen: dict[str, list[Row]] = {}
    for number, page in enumerate(pages, 1):
        texts, wrong = read_labels(page)
        table, faults = _read(page, texts)
        for fault in [*page.findings, *wrong, *stray(page), *faults]:
            yield replace(fault, sheet=number)
        if table.columns != names:
            yield Disagreement("counts", "the count table's columns are not the sizes",
                               expected=", ".join(names), found=", ".join(table.columns),
                               sheet=number)  # fmt: skip
        ways = {p.worked for one in maps for p in one.pieces if p.piece == table.piece}
        if table.worked not in ways:
            yield Disagreement("counts", "the count table's first column is headed wrongly",
                               expected=", ".join(sorted(ways)), found=table.worked,
                               sheet=number)  # fmt: skip
        if sorted(table.framed) != sorted(own):
            yield Disagreement("counts", "the count table frames other columns than the size's",
                               expected=", ".join(own), found=", ".join(table.framed),
                               sheet=number)  # fmt: skip
        due = wanted.get(table.piece, [])[len(seen.get(table.piece, [])) :]
        seen.setdefault(table.piece, []).extend(row for row, _ in table.rows)
        for (row, shape), right in zip(table.rows, due, strict=False):
            if row != right:
                odd = found_at("counts", "a row of the count table is wrong", shape,
                               _said(right), _said(row))  # fmt: skip
                yield replace(odd, piece=table.piece, round=first_number(right[1]), sheet=number)
    for piece in dict.fromkeys((*wanted, *seen)):
        due, told = wanted.get(piece, []), seen.get(piece, [])
        if len(due) != len(told):
            yield Disagreement("counts", "the count table has more or fewer rows", piece=piece,
                               expected=str(len(due)), found=str(len(told)))  # fmt: skip


def _said(row: Row) -> str:
    return f"{row[1]}: {' '.join(row[2])}"


def _read(page: Page, texts: dict[int, str]) -> tuple[_Read, list[Disagreement]]:
    """The table by the places of its figures: heads name the columns, rows are level."""
    labels = [s for s in page.shapes if s.tag("role") in ("column", "cell")]
    heads = sorted((s for s in labels if s.tag("role") == "column"), key=lambda s: s.box.right)
    if not heads:
        return _Read("", "", (), (), ()), []
    piece = _piece(page, texts)
    names = tuple(texts.get(head.order, "") for head in heads[1:])
    rows, faults = [], []
    cells = sorted((s for s in labels if s.tag("role") == "cell"), key=lambda s: s.box.bottom)
    # A dash stands higher than the feet of figures, so rows are told by the middles.
    for line in in_lines(cells, 2 * _LEVEL):
        told = [""] * len(heads)
        for shape in line:
            near = min(range(len(heads)), key=lambda i: abs(heads[i].box.right - shape.box.right))
            if told[near] or abs(heads[near].box.right - shape.box.right) > _EDGE:
                faults.append(found_at("counts", "a figure stands in no column", shape))
            told[near] = texts.get(shape.order, "")
        rows.append(((piece, told[0], tuple(told[1:])), line[0]))
    worked = texts.get(heads[0].order, "")
    return _Read(
        piece, worked, names, tuple(rows), tuple(_framed(page, heads, names, cells))
    ), faults


def _piece(page: Page, texts: dict[int, str]) -> str:
    """The piece that the table's title names: `Counts: hand`, `Counts: hand (cont.)`."""
    titles = [texts.get(s.order, "") for s in page.shapes if s.tag("role") == "title"]
    found = _TITLE.fullmatch(" ".join(titles))
    return found[1] if found else ""


def _framed(
    page: Page, heads: Sequence[Shape], names: Sequence[str], cells: Sequence[Shape]
) -> Iterator[str]:
    """The columns that a frame goes round, from the name to the last figure."""
    low = max((s.box.bottom for s in cells), default=0.0)
    for frame in (s for s in page.shapes if s.tag("role") == "own" and s.inks):
        for head, name in zip(heads[1:], names, strict=True):
            if frame.box.left < head.box.left and head.box.right < frame.box.right:
                whole = frame.box.top < head.box.top and frame.box.bottom > low
                yield name if whole else f"a part of {name}"
