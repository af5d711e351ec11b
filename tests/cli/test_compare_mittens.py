"""Errata where a left and a right mitten differ, and of sizes that come and go."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from cli.comparing import PALM, example, output, spec

from gussetry.errata import Change, as_text, changes
from gussetry.errata.folders import Listed


def test_what_a_left_and_a_right_share_is_told_once() -> None:
    palm = ("growth: alternating", "growth: alternating, towards palm: 2")
    old, new = example(palm), example(palm, ("sides: 2", "sides: 1"))
    found = changes(old, new)
    assert [m.mitten for m in new.maps] == ["left", "right"]
    assert {c.mitten for c in found if c.what in ("count", "round", "measure")} == {"both"}
    plain = changes(example(), example(("sides: 2", "sides: 1")))
    for what in ("count", "round", "measure"):
        assert [c for c in found if c.what == what] == [c for c in plain if c.what == what]


def _kinds(found: tuple[Change, ...]) -> set[tuple[str, str]]:
    return {(c.what, c.mitten) for c in found}


def test_a_left_and_a_right_told_apart_are_compared_with_what_served_both() -> None:
    one, other = example(), example(PALM)
    for found, before, after in (
        (changes(one, other), "both alike", "a left and a right"),
        (changes(other, one), "a left and a right", "both alike"),
    ):
        assert [(c.size, c.old, c.new) for c in found if c.what == "mittens"] == [
            ("", before, after)
        ]
        assert _kinds(found) == {("mittens", ""), ("work", "both"), ("markers", "both")}
        told = as_text(Path("a"), Path("b"), found)
        assert f"\n\nall sizes\n  mittens: {before} → {after}\n" in told
        assert "is gone" not in told
        assert "is new" not in told


def test_all_else_that_changes_with_left_and_right_is_found() -> None:
    crown = ("sides: 2", "sides: 1")
    apart = changes(example(), example(PALM, crown))
    alone = changes(example(), example(crown))
    for what in ("count", "round", "measure"):
        assert [c for c in apart if c.what == what] == [c for c in alone if c.what == what]


def test_what_only_the_left_mitten_has_is_told_of_the_left() -> None:
    new = example(PALM)
    left, right = new.maps
    hand = left.piece("hand")
    assert hand
    slipped = replace(hand.rounds[20], count=hand.rounds[20].count + 1)
    rounds = (*hand.rounds[:20], slipped, *hand.rounds[21:])
    pieces = tuple(replace(p, rounds=rounds) if p.piece == "hand" else p for p in left.pieces)
    new = replace(new, maps=(replace(left, pieces=pieces), right))
    for pair in ((example(), new), (new, example())):
        counted = [c for c in changes(*pair) if c.what == "count"]
        assert [(c.mitten, c.old_round) for c in counted] == [("left", slipped.number)]


def test_drawings_of_a_left_and_a_right_are_not_called_new() -> None:
    def listed(kind: str, mitten: str = "both") -> Listed:
        side = "" if mitten == "both" else f"-{mitten}"
        return Listed(f"M/{kind}{side}.svg", kind, "M", mitten, "1", None)

    old = replace(example(), files=(listed("crown"), listed("cuff")))
    sides = [listed(kind, side) for kind in ("crown", "thumb") for side in ("left", "right")]
    new = replace(example(PALM), files=tuple(sides))
    found = [(c.name, c.old, c.new) for c in changes(old, new) if c.what == "drawing"]
    assert found == [
        ("M/thumb-left.svg", None, "1"),
        ("M/thumb-right.svg", None, "1"),
        ("M/cuff.svg", "1", None),
    ]


def test_a_new_size_is_new_where_left_and_right_come_too() -> None:
    palm = ("gusset: {", "gusset: {growth: alternating, towards palm: 1, ")
    fewer = ("{S: 9, M: 11}", "{S: 6, M: 7}")
    alternating = (palm[0], "gusset: {growth: alternating, ")
    old, new = output(spec(alternating, fewer)), output(spec(palm, fewer))
    old = replace(old, maps=old.maps[1:])
    for found, fate in ((changes(old, new), "new"), (changes(new, old), "gone")):
        assert [(c.size, c.mitten) for c in found if c.what == "size"] == [("S", "both")]
        assert [c.size for c in found if c.what == "mittens"] == [""]
        assert f"size S\n  is {fate}" in as_text(Path("a"), Path("b"), found)


def test_sizes_that_come_and_go_are_told() -> None:
    other = spec(("{S: ", "{XS: "))
    found = changes(output(spec()), output(other))
    assert [(c.size, c.old, c.new) for c in found if c.what == "size"] == [
        ("XS", None, "XS"), ("S", "S", None),
    ]  # fmt: skip
    assert {c.size for c in found} == {"XS", "S"}
