"""The count table of maps written by hand."""

from __future__ import annotations

from fractions import Fraction

from gussetry.counts import count_table, table_csv, table_json, table_text
from gussetry.stitchmap import Fabric, Mitten, Op, Piece, Round, StitchMap


def mitten(size: str, counts: list[int], side: Mitten = "both") -> StitchMap:
    rounds = tuple(
        Round(number, "A", "hand", number, (Op("sc"),) * count, count)
        for number, count in enumerate(counts, 1)
    )
    fabric = Fabric("sc", Fraction(5), Fraction(5))
    pieces = (Piece("hand", "rounds", rounds),)
    return StitchMap("p", size, side, fabric, None, (), Fraction(0), pieces)


def test_a_size_without_a_round_leaves_its_place_empty() -> None:
    table = count_table([[mitten("S", [8, 6])], [mitten("M", [9, 9, 6])]])
    assert table_csv(table) == "piece,round,S,M\nhand,1,8,9\nhand,2,6,9\nhand,3,,6\n"
    assert '"counts": [null, 6]' in table_json(table)


def test_rounds_alike_share_a_line_to_read() -> None:
    table = count_table([[mitten("S", [8, 8, 8, 6])], [mitten("M", [12, 12, 12, 6, 6])]])
    assert table_text(table) == (
        "hand, rounds  S   M\n  1–3         8  12\n  4           6   6\n  5           –   6\n"
    )


def test_names_with_commas_and_quotes_survive_csv() -> None:
    table = count_table([[mitten('6", wide', [8])]])
    assert table_csv(table).splitlines()[0] == 'piece,round,"6"", wide"'


def test_a_left_and_a_right_alike_share_a_column() -> None:
    pair = [mitten("M", [8, 6], "left"), mitten("M", [8, 6], "right")]
    assert count_table([pair]).sizes == ("M",)


def test_a_left_and_a_right_that_differ_have_columns_of_their_own() -> None:
    pair = [mitten("M", [8, 6], "left"), mitten("M", [9, 6], "right")]
    table = count_table([pair])
    assert table.sizes == ("M left", "M right")
    assert table.rows[0].counts == (8, 9)
