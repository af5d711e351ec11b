"""Faults in the count table and in the table of assets."""

from __future__ import annotations

import csv
import io
import random
from collections.abc import Callable

from check.folders import ASSETS, TABLE, Folder, Pattern, folder, renewed
from check.mutating import Mutant, Right, another, enter_file, right_at

Rows = list[list[str]]
Retype = Callable[[Rows, random.Random], "Right | None"]


def retyped(
    name: str, file: str, make: Callable[[Pattern, random.Random], Folder]
) -> Callable[[Retype], Retype]:
    """Enters a way to spoil a table of a folder among the faults."""

    def enter(retype: Retype) -> Retype:
        @enter_file(name)
        def spoilt(own: Pattern, chance: random.Random) -> Mutant | None:
            made = make(own, chance)
            rows = list(csv.reader(io.StringIO(made[file].decode())))
            right = retype(rows, chance)
            if right is None:
                return None
            with io.StringIO() as out:
                csv.writer(out, lineterminator="\n").writerows(rows)
                made[file] = out.getvalue().encode()
            return Mutant(name, file, renewed(made), (right,))

        return retype

    return enter


# --- the count table --------------------------------------------------------------------------


def _at(row: list[str]) -> Right:
    rounds = [int(row[1])] if row[1].isdigit() else []
    return right_at(TABLE, "table", piece=row[0], rounds=rounds)


def table(name: str) -> Callable[[Retype], Retype]:
    """Enters a way to spoil the count table among the faults."""
    return retyped(name, TABLE, lambda own, _: folder(own, told=True, maps=own.maps))


def _cell(rows: Rows, chance: random.Random) -> tuple[int, int]:
    """A row and a column of the table with a count in it."""
    return chance.choice(
        [(i, j) for i, row in enumerate(rows) if i for j, cell in enumerate(row) if j > 1 and cell]
    )


@table("a count changed in the table")
def other_count(rows: Rows, chance: random.Random) -> Right:
    i, j = _cell(rows, chance)
    rows[i][j] = str(int(rows[i][j]) + chance.choice((-1, 1, 2, 10)))
    return _at(rows[i])


@table("a count left out of the table")
def no_count(rows: Rows, chance: random.Random) -> Right:
    i, j = _cell(rows, chance)
    rows[i][j] = ""
    return _at(rows[i])


@table("a count of the table no number")
def no_number(rows: Rows, chance: random.Random) -> Right:
    i, j = _cell(rows, chance)
    rows[i][j] = chance.choice(("many", "3O", "-5", "3.5", "٣"))
    return _at(rows[i])


@table("a row deleted from the table")
def no_row(rows: Rows, chance: random.Random) -> Right:
    i, _ = _cell(rows, chance)
    return _at(rows.pop(i))


@table("a row doubled in the table")
def two_rows(rows: Rows, chance: random.Random) -> Right:
    i, _ = _cell(rows, chance)
    rows.insert(i, list(rows[i]))
    return _at(rows[i])


@table("a round's number changed in the table")
def other_round(rows: Rows, chance: random.Random) -> Right:
    i, _ = _cell(rows, chance)
    right = _at(rows[i])
    rows[i][1] = str(int(rows[i][1]) + 50)
    return right


@table("two sizes' headings exchanged in the table")
def other_heads(rows: Rows, chance: random.Random) -> Right | None:
    pairs = [(a, b) for a in range(2, len(rows[0])) for b in range(2, a)
             if any(row[a] != row[b] for row in rows[1:])]  # fmt: skip
    if not pairs:
        return None
    a, b = chance.choice(pairs)
    rows[0][a], rows[0][b] = rows[0][b], rows[0][a]
    return right_at(TABLE, "table")


@table("a size's heading changed in the table")
def no_size(rows: Rows, chance: random.Random) -> Right:
    rows[0][chance.randrange(2, len(rows[0]))] = "Giant"
    return right_at(TABLE, "table")


# --- the table of assets ----------------------------------------------------------------------

_IN_ASSETS = right_at(ASSETS, "table")


def _with_drawings(own: Pattern, chance: random.Random) -> Folder:
    """A folder with the drawings of a size, all that it lists of them told."""
    stitches = chance.choice(own.maps)
    names = [n for n, job in own.jobs.items() if job.maps == (stitches,)] or list(own.jobs)[:2]
    return folder(own, names[:4], told=True, maps=own.maps)


def assets(name: str) -> Callable[[Retype], Retype]:
    """Enters a way to spoil the table of assets among the faults."""
    return retyped(name, ASSETS, _with_drawings)


@assets("a cell changed in the table of assets")
def other_cell(rows: Rows, chance: random.Random) -> Right | None:
    row, j = chance.choice(rows[1:]), chance.randrange(len(rows[0]))
    cell = another(row[j], chance) if row[j] else "7"
    # Less than a drawing program rounds a length to is no fault.
    if rows[0][j] in ("width mm", "height mm") and abs(float(cell) - float(row[j])) < 0.02:
        return None
    row[j] = cell
    return _IN_ASSETS


@assets("a row deleted from the table of assets")
def no_asset(rows: Rows, chance: random.Random) -> Right:
    del rows[chance.randrange(1, len(rows))]
    return _IN_ASSETS


@assets("a row doubled in the table of assets")
def two_assets(rows: Rows, chance: random.Random) -> Right:
    rows.append(list(chance.choice(rows[1:])))
    return _IN_ASSETS


@assets("a column deleted from the table of assets")
def no_column(rows: Rows, chance: random.Random) -> Right:
    j = chance.randrange(len(rows[0]))
    for row in rows:
        del row[j]
    return _IN_ASSETS


@assets("two drawings exchanged in the table of assets")
def exchanged_assets(rows: Rows, chance: random.Random) -> Right | None:
    if len(rows) < 3:
        return None
    one, other = chance.sample(rows[1:], 2)
    one[0], other[0] = other[0], one[0]
    return _IN_ASSETS


@enter_file("a table of assets from another size")
def strange_assets(own: Pattern, chance: random.Random) -> Mutant | None:
    made = [_with_drawings(own, chance) for _ in range(2)]
    # Of one size twice: no fault.
    if made[0][ASSETS] == made[1][ASSETS]:
        return None
    spoilt = made[0] | {ASSETS: made[1][ASSETS]}
    return Mutant("a table of assets from another size", ASSETS, renewed(spoilt), (_IN_ASSETS,))
