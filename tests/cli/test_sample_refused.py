"""Count tables that are refused, or written with a second look asked for."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from cli.sampling import CUFF, HAND, THUMB, counted, refused, sampled, table
from click.testing import CliRunner

import gussetry.sample as sample
from gussetry.cli import program
from gussetry.diagnostics import Faults

SEVERAL = "piece,round,S,M\nhand,1,20,22\n"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", ("empty-file",)),
        ("\n \n", ("empty-file",)),
        ("hello\n", ("no-column", "1:1", "piece,round")),
        ("piece,round\nhand,1\n", ("no-column", "1:7", "no column of counts")),
        ("piece,M\nhand,3\n", ("no-column", "no column called round")),
        ("piece,round,M,m\nhand,1,3,3\n", ("same-column", "1:15")),
        (SEVERAL, ("which-size", "1:13", "S, M", "--size S")),
        ("piece,round,M\nglove,1,30\n", ("no-piece", "2:1", "cuff, hand and thumb")),
        ("piece,round,M\n,1,30\n", ("no-piece", "2:1", "missing")),
        ("piece,round,M\nhand,one,30\n", ("no-number", "2:6", "'one'")),
        ("piece,round,M\nhand,0,30\n", ("no-number", "2:6")),
        ("piece,round,M\nhand,1,30.5\n", ("no-number", "2:8")),
        ("piece,round,M\nhand,1,-3\n", ("no-number", "2:8")),
        ("piece,round,M\nhand,1,٣\n", ("no-number", "2:8")),
        ("piece,round,M\nhand,1,99999\n", ("no-number", "1 to 999")),
        ("piece,round,M\nhand,,30\n", ("no-number", "the round is missing")),
        ("piece,round,M\nhand,1,30\nhand,1,31\n", ("same-round", "3:6", "line 2")),
        ("piece,round,M\nhand,1,30\nhand,3,31\n", ("round-missing", "3:8", "hand round 2")),
        ("piece,round,M\nhand,1,30\nhand,2,\nhand,3,31\n", ("round-missing", "hand round 2")),
        ("piece,round,M\ncuff,1,30\n", ("no-hand",)),
        ("piece,round,M\nhand\n", ("no-number", "2:5")),
        ('piece,round,"M\nhand,1,3\n', ("stray-quote", "1:13")),
        ('piece,round,"M"x\nhand,1,3\n', ("stray-quote", "1:16")),
        ("piece,round,M\nhand,1,\x1b[2J\n", ("not-text", "2:8", "U+001B")),
        (b"piece,round,M\nhand,1,\xff\n", ("not-text", "2:8", "0xff")),
        (b"\xff\xfep\0i\0", ("not-text", "UTF-8")),
        (b"PK\x03\x04spreadsheet", ("not-text", "CSV in UTF-8")),
        (b"\x89PNG\r\n\x1a\n\0\0", ("not-text",)),
        ("piece,round,M\n" + "hand,1,30\n" * 30_000, ("too-long", "KiB")),
    ],
)
def test_a_bad_table_is_told_once_with_its_place(
    tmp_path: Path, text: str | bytes, told: tuple[str, ...]
) -> None:
    message = refused(tmp_path, text)
    for part in told:
        assert part in message


@pytest.mark.parametrize(
    ("hand", "thumb", "told"),
    [
        # 24 stitches cannot lose 13.
        ({36: 11}, {}, ("hand round 36", "24 − 12 = 12", "12 stitches or more")),
        # A crown of 32 with 18 decreases in a round.
        ({34: 14}, {}, ("hand round 34", "32 − 16 = 16", "16 stitches or more")),
        ({10: 46}, {}, ("hand round 10", "expected: 45 or 43")),
        ({10: 44}, {}, ("hand round 10", "expected: 45 or 43")),
        ({2: 29}, {}, ("hand round 2", "expected: 30 or 31")),
        ({4: 32}, {}, ("hand round 5", "not opened yet", "expected: 32 or 33")),
        ({20: 37}, {}, ("hand round 20", "more than the 36")),
        ({38: 3}, {}, ("hand round 38", "10 − 5 = 5")),
        ({}, {2: 15}, ("thumb round 2", "more than the 14")),
        ({}, {6: 10}, ("thumb round 6", "expected: 11 stitches")),
        ({}, {9: 7}, ("thumb round 9", "expected: 9 stitches, or 4 to 6")),
        ({}, {4: 12}, ("thumb round 4", "expected: 13 or 11 or 7")),
        ({}, {1: 15}, ("thumb round 5", "expected: 13 or 7")),
        ({15: 37}, {}, ("hand round 15", "expected: 36 or 38 stitches, or another thumb")),
        ({15: 34}, {}, ("hand round 16", "more than the 34")),
        ({14: 54}, {}, ("hand round 14", "expected: 53 or 51")),
        ({}, {1: 5}, ("thumb round 2", "more than the 5")),
    ],
)
def test_the_first_count_that_cannot_be_is_named_with_what_was_expected(
    tmp_path: Path, hand: dict[int, int], thumb: dict[int, int], told: tuple[str, ...]
) -> None:
    changed = [hand.get(n, count) for n, count in enumerate(HAND, 1)]
    other = [thumb.get(n, count) for n, count in enumerate(THUMB, 1)]
    message = refused(tmp_path, table(changed, other))
    for part in ("departs", *told):
        assert part in message


@pytest.mark.parametrize("piece", ["cuff", "hand", "thumb"])
def test_one_wrong_count_is_found_or_makes_just_that_table(tmp_path: Path, piece: str) -> None:
    counts = {"cuff": CUFF, "hand": HAND, "thumb": THUMB}
    found = []
    for number in range(1, len(counts[piece]) + 1):
        for more in (-1, 1):
            own = list(counts[piece])
            own[number - 1] += more
            text = table(**{**counts, piece: own})
            try:
                made = sampled(tmp_path, text)
            except Faults as faults:
                found += faults.problems
            else:
                assert counted(made.text) == text
    assert {problem.code for problem in found} <= {"departs", "cannot-be-worked"}
    assert all(problem.span for problem in found if problem.code == "departs")
    assert len(found) >= len(counts[piece])


def test_a_cuff_that_changes_its_count_is_told(tmp_path: Path) -> None:
    message = refused(tmp_path, table(cuff=[11, 11, 12, 11]))
    assert "cuff round 3 cannot have 12 stitches" in message


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (table(cuff=[11] * 3), ("cannot-be-worked", ":2:8", "rows cannot be 3", "4 to 300")),
        (table(cuff=[11] * 12), ("cannot-be-worked", ":2:8", "cuff rows 12")),
        (table([8, 9, 11, 6], [7, 6, 6, 6]), ("cannot-be-worked", ":32:8", "lacking")),
        (table([30] * 20, []), ("departs", "hand round 20", "4 to 6 stitches are drawn shut")),
        (table([8], []), ("departs", "hand round 1")),
        (table([20] * 9), ("departs", "hand round 9", "never widened")),
        (table([*HAND, 3]), ("departs", "hand round 39", "4 to 6 stitches are drawn shut")),
        (table([30, 30, 31, 33, 35], [7, 6, 6]), ("departs", "hand round 5", "no thumb was set")),
        (table(thumb=[14]), ("cannot-be-worked", ":70:9")),
        (table(thumb=[6, 6]), ("departs", "thumb round 1", "no bridge over the gap")),
        (table(thumb=THUMB[:8]), ("departs", "thumb round 8", "another round of 9")),
        (table([n * 10 for n in HAND]), ("departs", "hand round 2", "300 or 301")),
        (table([*HAND[:30], *[34] * 24, 20, 10, 5]), ("departs", "hand round 51", "20 plain")),
        (table().replace("M", "M" * 50, 1), ("cannot-be-worked",)),
        (table().replace("M", "\u202eM", 1), ("cannot-be-worked",)),
    ],
)
def test_what_has_no_specification_is_told_where_it_stands(
    tmp_path: Path, text: str, told: tuple[str, ...]
) -> None:
    message = refused(tmp_path, text)
    for part in told:
        assert part in message


def test_a_gusset_without_its_thumb_is_told(tmp_path: Path) -> None:
    assert "no thumb" in refused(tmp_path, table(thumb=[]))


def test_a_break_of_the_crowns_rhythm_is_told_in_numbers(tmp_path: Path) -> None:
    hand = [*HAND[:31], 32, 28, 24, 20, 14, 7, 4]
    made = sampled(tmp_path, table(hand))
    assert counted(made.text) == table(hand)
    assert made.remarks == (
        "hand round 36 takes away 6, the 3 before it 4 each: 32 − 4×4 = 16, and the table says 14",
    )


@pytest.mark.parametrize(
    ("number", "count", "meant"),
    [(31, 33, "34"), (33, 31, "32"), (34, 29, "28"), (35, 25, "24"), (35, 23, "24")],
)
def test_a_slip_in_the_crown_is_worth_a_second_look(
    tmp_path: Path, number: int, count: int, meant: str
) -> None:
    hand = [count if n == number else c for n, c in enumerate(HAND, 1)]
    made = sampled(tmp_path, table(hand))
    assert counted(made.text) == table(hand)
    assert len(made.remarks) == 1
    assert f"hand round {number} has {count} stitches" in made.remarks[0]
    assert f"with {meant}," in made.remarks[0]
    assert f"# Pinned as the table has it, but look again: {made.remarks[0]}\n" in made.text


def test_a_second_look_is_asked_for_before_anything_is_called_written(tmp_path: Path) -> None:
    hand = [31 if n == 33 else c for n, c in enumerate(HAND, 1)]
    (tmp_path / "counts.csv").write_text(table(hand), encoding="utf-8")
    arguments = ["new", str(tmp_path / "mine.yaml"), "--from", str(tmp_path / "counts.csv")]
    first, second, *_ = CliRunner().invoke(program, arguments).output.splitlines()
    assert first.startswith("warning: look again at ")
    assert "hand round 33 has 31 stitches" in first
    assert second == f"wrote {tmp_path / 'mine.yaml'}"


def test_an_end_that_never_closes_is_worth_a_second_look(tmp_path: Path) -> None:
    thumb = [*THUMB[:8], 9]
    made = sampled(tmp_path, table(thumb=thumb))
    assert counted(made.text) == table(thumb=thumb)
    assert "style: open" in made.text
    assert made.remarks == ("the thumb is left open on 9 stitches: it is never closed",)
    hand = [*HAND[:15], 36, 36]
    made = sampled(tmp_path, table(hand))
    assert counted(made.text) == table(hand)
    assert made.remarks == ("the hand is left open on 36 stitches: it never narrows",)
    assert sampled(tmp_path, table(hand, thumb)).remarks == ()


def test_a_sample_in_order_needs_no_second_look(tmp_path: Path) -> None:
    made = sampled(tmp_path, table())
    assert made.remarks == ()
    assert "look again" not in made.text


@pytest.mark.parametrize(
    ("written", "slipped", "told"),
    [
        ("plain before: 14", "plain before: 13", ("hand round 29", "expected: 34 stitches")),
        ("rows: 30", "rows: 31", ("cuff round 30", "expected: round 31 too")),
        ("rows: 30", "rows: 29", ("cuff round 30", "expected: no such round")),
    ],
)
def test_a_specification_that_makes_another_table_is_never_written(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    written: str,
    slipped: str,
    told: tuple[str, ...],
) -> None:
    honest = sample.specification

    def careless(*asked: Any) -> str:
        text = honest(*asked)
        assert written in text
        return text.replace(written, slipped)

    monkeypatch.setattr(sample, "specification", careless)
    message = refused(tmp_path, table())
    for part in told:
        assert part in message


def test_nothing_is_written_where_the_table_fails(tmp_path: Path) -> None:
    bad = tmp_path / "bad.csv"
    bad.write_text(SEVERAL, encoding="utf-8")
    done = CliRunner().invoke(program, ["new", str(tmp_path / "mine.yaml"), "--from", str(bad)])
    assert done.exit_code == 1
    assert "which-size" in done.stderr
    assert not (tmp_path / "mine.yaml").exists()
