"""The count table: how many stitches every round of every size leaves."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from gussetry.stitchmap import PieceName, StitchMap

PIECES: tuple[PieceName, ...] = ("cuff", "hand", "thumb")


@dataclass(frozen=True, slots=True)
class CountRow:
    """One round: its count in each column, None where that size has no such round."""

    piece: str
    round: int
    counts: tuple[int | None, ...]


@dataclass(frozen=True, slots=True)
class CountTable:
    """All sizes side by side, smallest first; `worked` says of each piece `rows` or `rounds`."""

    sizes: tuple[str, ...]
    rows: tuple[CountRow, ...]
    worked: tuple[tuple[str, str], ...]


def count_table(sizes: Sequence[Sequence[StitchMap]]) -> CountTable:
    """The table of the sizes, each given by its map or its left and right maps.

    A left and a right with the same counts share one column, named after the size; else each has
    its own: `M left`, `M right`.
    """
    columns: list[tuple[str, StitchMap]] = []
    for maps in sizes:
        first, *others = maps
        if all(_counts(other) == _counts(first) for other in others):
            columns.append((first.size, first))
        else:
            columns += [(f"{one.size} {one.mitten}", one) for one in maps]
    counted = [_counts(stitches) for _, stitches in columns]
    rows = [
        CountRow(piece, number, tuple(counts.get((piece, number)) for counts in counted))
        for piece in PIECES
        for number in sorted({n for counts in counted for p, n in counts if p == piece})
    ]
    worked = {p.piece: p.worked for _, stitches in columns for p in stitches.pieces}
    return CountTable(tuple(name for name, _ in columns), tuple(rows), tuple(worked.items()))


def _counts(stitches: StitchMap) -> dict[tuple[str, int], int]:
    return {(p.piece, r.number): r.count for p in stitches.pieces for r in p.counted}


def table_csv(table: CountTable) -> str:
    """`piece,round,<size>,…`: one row a round, empty where a size has no such round."""
    with io.StringIO() as text:
        writer = csv.writer(text, lineterminator="\n")
        writer.writerow(("piece", "round", *table.sizes))
        writer.writerows((row.piece, row.round, *row.counts) for row in table.rows)
        return text.getvalue()


def table_json(table: CountTable) -> str:
    """The table as JSON, one line a round; null where a size has no such round."""
    head = json.dumps(list(table.sizes), ensure_ascii=False)
    rows = ",\n".join(
        "  " + json.dumps({"piece": row.piece, "round": row.round, "counts": list(row.counts)})
        for row in table.rows
    )
    return (
        f'{{"format": "gussetry-counts", "version": 1,\n "sizes": {head},\n "rows": [\n{rows}]}}\n'
    )


def table_text(table: CountTable) -> str:
    """The table to read: runs of rounds with the same counts in every size share a line."""
    worked = dict(table.worked)
    lines: list[tuple[str, ...]] = []
    for piece, rows in groupby(table.rows, key=lambda row: row.piece):
        lines.append((f"{piece}, {worked[piece]}", *table.sizes))
        lines += _runs(tuple(rows))
        lines.append(())
    wide = [max(len(line[i]) for line in lines if line) for i in range(len(table.sizes) + 1)]
    shown = (
        "  ".join((cell.ljust if i == 0 else cell.rjust)(wide[i]) for i, cell in enumerate(line))
        for line in lines
    )
    return "\n".join(line.rstrip() for line in shown)


def _runs(rows: Sequence[CountRow]) -> Iterator[tuple[str, ...]]:
    for counts, run in groupby(rows, key=lambda row: row.counts):
        numbers = [row.round for row in run]
        ends = f"{numbers[0]}" if len(numbers) == 1 else f"{numbers[0]}–{numbers[-1]}"
        yield (f"  {ends}", *("–" if count is None else str(count) for count in counts))
