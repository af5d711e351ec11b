"""Errata of rounds: counts, rounds that come and go, markers, rows."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

from cli.comparing import PALM, example, output, spec

from gussetry.errata import Output, as_text, changes


def test_a_round_more_moves_none_above_it() -> None:
    found = changes(output(spec()), output(spec(("S: 14", "S: 15"))))
    rounds = [c for c in found if c.what in ("round", "count", "work")]
    assert [(c.what, c.size, c.phase, c.step, c.old) for c in rounds] == [
        ("round", "S", "hand", 15, None)
    ]
    assert [c.name for c in found if c.what == "measure"] == ["hand length", "total length"]
    shift = [c for c in found if c.what == "colour"]
    assert shift
    assert all(c.new_round == (c.old_round or 0) + 1 for c in shift)


def test_a_round_less_is_told_with_its_old_number() -> None:
    old, new = output(spec()), output(spec(("S: 14", "S: 13")))
    gone = [c for c in changes(old, new) if c.what == "round"]
    hand = old.maps[0].piece("hand")
    assert hand
    last = max(r.number for r in hand.rounds if r.phase == "hand")
    assert [(c.old_round, c.new_round, c.new) for c in gone] == [(last, None, None)]
    assert f"hand round {last}, hand: gone" in as_text(Path("a"), Path("b"), changes(old, new))


def test_all_that_depends_on_a_changed_crown_is_told() -> None:
    found = changes(output(spec()), output(spec(("{S: 2, M: 2}", "{S: 2, M: 3}"))))
    assert {c.size for c in found} == {"M"}
    assert ("round", "crown even", 3) in {(c.what, c.phase, c.step) for c in found}


def test_runs_of_rounds_are_told_on_a_line() -> None:
    # 36 stitches: 34, 34, then three times four less, then sc2tog all round, 5 drawn shut.
    other = example(("sides: 2", "sides: 1"))
    told = as_text(Path("a"), Path("b"), changes(example(), other))
    hand = [line for line in told.splitlines() if line.startswith("  hand round")]
    assert hand == [
        "  hand rounds 32–33, crown sides: gone, 32 sts",
        "  hand rounds 34–36 (now 32–34), crown even: 28, 24, 20 → 30, 26, 22 sts",
        "  hand rounds 37–38 (now 35–36), close: 10, 5 → 11, 6 sts",
        "  hand round 37, close: new, 5 sts",
    ]


def test_a_plain_round_whose_marker_moved_is_not_worked_otherwise() -> None:
    found = changes(example(PALM), example(("growth: alternating", f"{PALM[1][:-1]}1")))
    moved = {c.phase for c in found if c.what == "markers"}
    assert "hand" in moved
    told = as_text(Path("a"), Path("b"), found)
    # The division is round 15, and 14 plain rounds are pinned.
    assert "  hand rounds 16–29, hand: markers elsewhere" in told.splitlines()
    assert not [c for c in found if c.what == "work" and c.phase == "hand"]
    work, markers = (sum(c.what == what for c in found) for what in ("work", "markers"))
    head = told.partition("\n")[0]
    assert head.endswith(
        f": {work} rounds of the same count worked otherwise; {markers} rounds with markers"
        " elsewhere"
    )


def _with_round(drawn: Output, phase: str, **changed: Any) -> Output:
    """The output, the first hand round of that phase changed in its first size."""
    first, *others = drawn.maps
    hand = first.piece("hand")
    assert hand
    at = next(i for i, r in enumerate(hand.rounds) if r.phase == phase)
    rounds = list(hand.rounds)
    rounds[at] = replace(rounds[at], **changed)
    pieces = tuple(
        replace(p, rounds=tuple(rounds)) if p.piece == "hand" else p for p in first.pieces
    )
    return replace(drawn, maps=(replace(first, pieces=pieces), *others))


def test_other_markers_are_named() -> None:
    old = _with_round(output(spec()), "hand", markers=(("one", 3), ("two", 9)))
    for markers, told in (
        ((("two", 9), ("one", 3)), None),
        ((("one", 4), ("two", 9)), "markers elsewhere"),
        ((("one", 3), ("mid", 9)), "markers one, two → mid, one"),
        ((), "markers one, two → none"),
    ):
        new = _with_round(output(spec()), "hand", markers=markers)
        found = changes(old, new)
        assert [c.what for c in found] == (["markers"] if told else [])
        assert as_text(Path("a"), Path("b"), found).endswith(f", hand: {told}") is bool(told)


def test_rounds_with_moved_markers_share_a_line_though_others_stand_between() -> None:
    every = ("gusset: {", "gusset: {growth: alternating, every: 2, ")
    fewer = (("{S: 9, M: 11}", "{S: 6, M: 7}"), ("{S: 12, M: 13}", "{S: 15, M: 17}"))
    old = output(spec(every, *fewer))
    palm = (every[0], every[1] + "towards palm: 1, ")
    lines = as_text(Path("a"), Path("b"), changes(old, output(spec(palm, *fewer)))).splitlines()
    gusset = [line for line in lines[lines.index("size S") : lines.index("size M")]
              if ", gusset: " in line]  # fmt: skip
    assert len(gusset) == 2
    assert gusset[1] == "  hand rounds 7, 9, 11, 13, gusset: markers elsewhere"


def test_rows_are_called_rows() -> None:
    found = changes(example(), example(("stitches: 11", "stitches: 12")))
    told = as_text(Path("a"), Path("b"), found)
    assert "  cuff foundation: 11 → 12 sts\n" in told
    assert "  cuff rows 1–30, ribbing: 11 → 12 sts\n" in told
    assert "round" not in told.replace("rounds changed", "")
    assert {c.worked for c in found if c.piece == "cuff"} == {"rows"}
    # The seam joins one stitch more, which goes without saying.
    assert "seam" not in told


def test_a_row_changed_in_the_table_alone_is_called_a_row() -> None:
    old = example()
    cells = {key: 12 if key == ("M", "cuff", 7) else count for key, count in old.cells.items()}
    told = as_text(Path("a"), Path("b"), changes(old, replace(old, cells=cells)))
    assert told.endswith("  counts.csv alone, cuff row 7: 11 → 12")


def test_rows_of_ribbing_are_no_rounds_of_ribbing() -> None:
    sideways = ("cuff: {style: ribbed, rows: 30, stitches: 11}", "cuff: {style: post, rounds: 12}")
    rib = ("rib gauge: {over: 10 cm, ", "rib gauge: {over: 10 cm, stitch: dc, ")
    told = as_text(Path("a"), Path("b"), changes(example(), example(sideways, rib)))
    assert "  cuff rows 1–30, ribbing: gone, 11 sts\n" in told
    assert "  cuff seam: gone\n" in told
    assert "  cuff rounds 2–12, ribbing: new, 30 sts\n" in told


def test_the_same_count_worked_otherwise_is_told() -> None:
    old = output(spec())
    first, *others = old.maps
    hand = first.piece("hand")
    assert hand
    at = next(i for i, r in enumerate(hand.rounds) if r.phase == "crown even")
    turned = replace(hand.rounds[at], work=hand.rounds[at].work[::-1])
    rounds = (*hand.rounds[:at], turned, *hand.rounds[at + 1 :])
    pieces = tuple(replace(p, rounds=rounds) if p.piece == "hand" else p for p in first.pieces)
    new = replace(old, maps=(replace(first, pieces=pieces), *others))
    found = changes(old, new)
    assert [(c.what, c.size, c.old_round) for c in found] == [("work", "S", turned.number)]
    assert "the same count, worked otherwise" in as_text(Path("a"), Path("b"), found)
