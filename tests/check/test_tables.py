"""Count tables: a publisher's own held against the maps, whatever its columns' order."""

from __future__ import annotations

import csv
import io
import random
from functools import cache
from pathlib import Path

import pytest

from gussetry.check.tables import compare_table, read_table, true_counts
from gussetry.counts import count_table, table_csv
from gussetry.findings import Finding
from gussetry.grading import grade
from gussetry.read import read_spec
from gussetry.source import read_source
from gussetry.stitchmap import StitchMap

EXAMPLE = Path(__file__).parents[2] / "examples" / "skerry-striped.yaml"


@cache
def maps() -> tuple[StitchMap, ...]:
    return grade(read_spec(read_source(EXAMPLE))).maps


def ours() -> str:
    return table_csv(count_table([[one] for one in maps()]))


def check(text: str, *, whole: bool = True, file: str = "counts.csv") -> list[Finding]:
    return compare_table(read_table(text.encode(), file), maps(), file, whole=whole)


def shuffled(text: str, seed: int) -> str:
    """The same table with columns and rows in another order."""
    rows = list(csv.reader(io.StringIO(text)))
    order = list(range(len(rows[0])))
    chance = random.Random(seed)
    chance.shuffle(order)
    body = rows[1:]
    chance.shuffle(body)
    with io.StringIO() as out:
        csv.writer(out, delimiter=";").writerows(
            [row[i] for i in order] for row in [rows[0], *body]
        )
        return out.getvalue()


def test_our_own_table_is_right() -> None:
    assert check(ours()) == []


@pytest.mark.parametrize("seed", range(4))
def test_a_table_in_any_order_is_right(seed: int) -> None:
    assert check(shuffled(ours(), seed), whole=False) == []


def test_every_count_that_is_changed_is_found_where_it_stands() -> None:
    rows = list(csv.reader(io.StringIO(ours())))
    columns, counts = true_counts(maps())
    chance = random.Random(5)
    for _ in range(60):
        line, column = chance.randrange(1, len(rows)), chance.randrange(2, len(rows[0]))
        changed = [list(row) for row in rows]
        before = changed[line][column]
        changed[line][column] = str(int(before) + 1) if before else "7"
        with io.StringIO() as out:
            csv.writer(out).writerows(changed)
            (finding,) = check(out.getvalue())
        assert (finding.kind, finding.line, finding.column) == ("table", line + 1, column + 1)
        assert finding.size == columns[column - 2] == rows[0][column]
        assert (finding.piece, finding.round) == (rows[line][0], int(rows[line][1]))
        assert finding.expected == (before or "none")
        assert counts.get((finding.size, rows[line][0], int(rows[line][1]))) == (
            int(before) if before else None
        )


def test_rows_and_columns_that_are_missing_are_found() -> None:
    lines = ours().splitlines()
    assert {f.round for f in check("\n".join(lines[:5] + lines[6:]))} == {5}
    assert len(check("\n".join(lines[:5] + lines[6:]))) == len(maps())
    doubled = check("\n".join([*lines, lines[3]]))
    assert {f.message for f in doubled} == {"the round stands in the table twice"}
    renamed = check(ours().replace(",XL", ",XXL", 1))
    assert [f.message for f in renamed] == [
        "the column 'XXL' is no size of the folder", "the table has no column for the size",
    ]  # fmt: skip


def test_a_publishers_table_may_have_some_sizes_and_pieces_alone() -> None:
    text = "Round;piece;remarks;m\n31;hand;first;36\n32;hand;;36\n"
    wanted = {r.number: r.count for r in maps()[2].pieces[1].counted}
    found = check(text, whole=False)
    assert [f for f in found if f.kind == "table" and f.found == "36"] == []
    assert wanted[31] == wanted[32] == 36
    assert {f.sure for f in found if not f.round} == {"note"}
    counted = check(text.replace("first", "36"), whole=False)
    assert [f.message for f in counted if f.sure == "likely"] == [
        "the column 'remarks' is no size of the folder"
    ]


def test_yaml_tables() -> None:
    text = "hand:\n  - {round: 31, M: 36}\n  - {round: 32, M: 37}\n"
    found = [f for f in check(text, whole=False, file="counts.yaml") if f.found]
    assert [(f.round, f.expected, f.found, f.line) for f in found] == [(32, "36", "37", 3)]


@pytest.mark.parametrize(
    ("content", "file"),
    [
        (b"", "a.csv"),
        (b"\xff\xfe\x00", "a.csv"),
        (b"a,b\n1,2\n", "a.csv"),
        (b'piece,round,"M\n', "a.csv"),
        (b"hand: [", "a.yaml"),
        (b"- 3", "a.yaml"),
        (b"piece,round,M\nhand,x,3\n", "a.csv"),
        (b"piece,round,M\nhand,3\n", "a.csv"),
        (b"hand: [{M: 3}]", "a.yaml"),
        (b"foot: [{round: 3}]", "a.yaml"),
    ],
)
def test_what_is_no_table_is_told(content: bytes, file: str) -> None:
    found = read_table(content, file).findings
    assert len(found) == 1
    assert found[0].kind in ("unreadable", "table")
