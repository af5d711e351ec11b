"""Counting laws case by case: what a round may be, and just no more."""

from dataclasses import replace

import pytest
from grading.notation import changed, mitten, ops, row
from grading.typed import chained, finishing, hand, joined_pair, ribbed_cuff, thumb

from gussetry.grading.laws import (
    check_even,
    check_halves,
    check_joins,
    check_kinds,
    check_map,
    check_not_stacked,
    check_seam,
    check_yarns,
)
from gussetry.stitchmap import Op, Piece, StitchMap


def test_undersides_of_the_bridge_are_used_or_named() -> None:
    spoilt = changed(chained(), "thumb", 1, work="sc k0, sc h0-3", count=5)
    assert "law-crook" in {problem.code for problem in check_map(spoilt)}
    named = changed(chained(), "thumb", 1, work="sc k0, skip k1, sc h0-3", count=5)
    named = changed(named, "thumb", 2, work="close 0+1+2+3+4")
    assert check_map(named) == ()


def test_stitches_held_unworked_are_taken_up_too() -> None:
    spoilt = changed(chained(), "thumb", 1, work="sc k0-1, sc h0-2")
    assert "law-held" in {problem.code for problem in check_map(spoilt)}


def test_row_ends_of_a_pinned_pick_up_may_be_missed_by_name_or_doubled() -> None:
    missed = changed(joined_pair(), "hand", 1, work="skip r0, sc r1-11, sc s0")
    assert check_map(missed) == ()
    doubled = changed(joined_pair(), "hand", 1, work="skip r0, sc r1-10, sc r10, sc r11")
    assert check_map(doubled) == ()


def test_a_plain_round_between_carries_the_decreases_up() -> None:
    whole = hand()
    even = next(r for r in whole.rounds if r.number == 11)
    plain = row(12, "crown even", 2, "sc 0-5")
    for work, codes in (
        ("sc 0, sc2tog 1+2, sc 3, sc2tog 4+5", set()),
        ("sc2tog 0+1, sc 2, sc2tog 3+4, sc 5", {"law-stacked"}),
    ):
        after = row(13, "crown even", 3, work)
        shut = row(14, "draw shut", 1, "close 0+1+2+3")
        rounds = (*whole.rounds[: whole.rounds.index(even) + 1], plain, after, shut)
        stitches = mitten(ribbed_cuff(), replace(whole, rounds=rounds), thumb())
        assert {problem.code for problem in check_map(stitches)} == codes


def test_a_round_with_less_than_four_stitches_a_decrease_may_be_stacked() -> None:
    # 14 over 4: the next round of 10 has no even way past the four below.
    crown = (
        row(1, "pick-up", 1, "sc t0-13"),
        row(2, "crown even", 1, "sc2tog 0+1, sc 2, sc2tog 3+4, sc 5-6, sc2tog 7+8, sc 9, "
            "sc2tog 10+11, sc 12-13"),
        row(3, "crown even", 2, "sc2tog 0+1, sc2tog 2+3, sc 4, sc2tog 5+6, sc2tog 7+8, sc 9"),
        row(4, "draw shut", 1, "close 0+1+2+3+4+5"),
    )  # fmt: skip
    cuff = Piece(
        "cuff", "rounds", (row(0, "foundation", 1, "ch *14"), row(1, "cuff", 1, "sc c0-13"))
    )
    assert check_map(mitten(cuff, Piece("hand", "rounds", crown))) == ()


def test_longer_gaps_bunched_together_are_not_even() -> None:
    # Gaps 1-1-0-0 differ by at most one, and are still no Euclidean rhythm.
    bunched = "sc2tog 0+1, sc 2, sc2tog 3+4, sc 5, sc2tog 6+7, sc2tog 8+9"
    spoilt = changed(chained(), "hand", 5, work=bunched, count=6)
    spoilt = changed(spoilt, "hand", 6, work="close 0+1+2+3+4+5")
    assert {problem.code for problem in check_map(spoilt)} == {"law-even"}


def test_lopsided_halves_are_found_where_they_should_be_equal() -> None:
    lopsided = changed(chained(), "hand", 4, work="sc 0-2, hold 3-6, ch *2, sc 7-11")
    assert [p.code for p in check_halves(lopsided, "inside")] == ["law-halves"]
    assert [p.code for p in check_halves(lopsided, "alternating")] == ["law-halves"]
    assert check_halves(lopsided, "second") == ()
    assert check_halves(lopsided, "inside", towards_palm=1) == ()
    assert [p.code for p in check_halves(chained(), "inside", 2)] == ["law-halves"]


def test_the_outer_edge_stitch_lies_between_the_halves() -> None:
    edge = changed(chained(), "hand", 4, work="sc 0-4, hold 5-8, ch *2, sc 9-11")
    assert check_halves(edge, "inside") == ()
    lopsided = changed(chained(), "hand", 4, work="sc 0-5, hold 6-9, ch *2, sc 10-11")
    assert [p.code for p in check_halves(lopsided, "inside")] == ["law-halves"]


def test_a_cuffs_last_stitch_may_prepare_the_hands_yarn() -> None:
    prepared = finishing("cuff", 2, -2, "B")(chained())
    assert [p.code for p in check_yarns(prepared)] == ["law-finish"]
    first = next(r for p in prepared.pieces if p.piece == "hand" for r in p.rounds)
    whole = changed(prepared, "hand", 1, yarn="B", work=first.work)
    assert [p.message.split(":")[0] for p in check_yarns(whole)] == ["size M, hand, round 1"]
    # It need not: the hand's yarn may be joined anew.
    bare = changed(chained(), "hand", 1, yarn="B")
    assert not [p for p in check_yarns(bare) if "cuff" in p.message]


def test_two_joined_pairs_nest() -> None:
    nested = "sc 0-5, held sc 6-11, join 12 >5, join 13 >4, sc 14-17"
    assert check_joins(changed(joined_pair(), "hand", 7, work=nested)) == ()
    for spoilt in (
        "sc 0-5, held sc 6-11, join 12 >4, join 13 >5, sc 14-17",
        "sc 0-5, held sc 6-11, join 12 >5, join 13 >3, sc 14-17",
        "sc 0-5, held sc 6-11, join 12 >5, sc 13, join 14 >4, sc 15-17",
    ):
        found = check_joins(changed(joined_pair(), "hand", 7, work=spoilt))
        assert {problem.code for problem in found} == {"law-joins"}


def test_the_seam_of_an_odd_number_of_rows_runs_the_other_way() -> None:
    cuff = ribbed_cuff()
    for text, codes in (
        ("seam 1+u0, seam 0+u1", []),
        ("seam 1+u1, seam 0+u0", ["law-seam", "law-seam"]),
    ):
        odd = replace(cuff, rounds=(*cuff.rounds[:12], row(12, "seam", 1, text)))
        assert [p.code for p in check_seam(mitten(odd))] == codes


@pytest.mark.parametrize(("do", "of"), [("inc", "sc2tog"), ("sc", "sc"), ("inc", "bobble")])
def test_only_an_increase_is_of_a_stitch(do: str, of: str) -> None:
    work = (Op(do, (0,), of=of), *ops("sc 1-9"))
    found = check_kinds(changed(joined_pair(), "hand", 8, work=work))
    assert [problem.code for problem in found] == ["law-kinds"]
    work = (Op("inc", (0,), of="dc"), *ops("sc 1-9"))
    assert check_kinds(changed(joined_pair(), "hand", 8, work=work)) == ()


@pytest.mark.parametrize(
    ("before", "after", "middle", "moved"),
    [
        (1, 7, False, False),
        (2, 7, False, True),
        (3, 6, False, True),
        (3, 5, False, True),
        (4, 5, True, False),
        (4, 4, True, False),
        (5, 4, True, False),
        (5, 3, True, False),
        (6, 3, False, True),
        (7, 2, False, True),
        (7, 1, False, True),
        (8, 1, False, False),
    ],
)
def test_halves_differ_by_one_at_most_about_the_edge_stitch(
    before: int, after: int, middle: bool, moved: bool
) -> None:
    end = before + 4 + after
    work = f"sc 0-{before - 1}, hold {before}-{before + 3}, ch *2, sc {before + 4}-{end - 1}"
    stitches = changed(chained(), "hand", 4, work=work)
    assert (check_halves(stitches, "inside") == ()) == middle
    # A thumb two stitches from the half-way point makes them differ by four more.
    assert (check_halves(stitches, "inside", 2) == ()) == moved


def even_rounds(*rounds: str) -> StitchMap:
    """A crown of evenly spaced rounds alone."""
    work = enumerate(rounds, 1)
    crown = tuple(row(i, "crown even", i, text) for i, text in work)
    stitches = ops(rounds[0])
    first = row(0, "pick-up", 1, f"sc t0-{sum(len(op.into) for op in stitches) - 1}")
    return mitten(Piece("hand", "rounds", (first, *crown)))


def test_another_number_of_decreases_is_held_only_to_what_can_be() -> None:
    below = "sc2tog 0+1, sc 2-5, sc2tog 6+7, sc 8-11"  # 12 to 10, decreases 0 and 5
    # One of ten: eight ways keep off 0 and 5.
    found = check_not_stacked(even_rounds(below, "sc2tog 0+1, sc 2-9"))
    assert [problem.code for problem in found] == ["law-stacked"]
    assert check_not_stacked(even_rounds(below, "sc 0, sc2tog 1+2, sc 3-9")) == ()
    # Five of ten use every stitch.
    every = "sc2tog 0+1, sc2tog 2+3, sc2tog 4+5, sc2tog 6+7, sc2tog 8+9"
    assert check_not_stacked(even_rounds(below, every)) == ()


def test_a_skipped_stitch_is_a_fault_of_closing_rounds_alone() -> None:
    shut = changed(joined_pair(), "thumb", 3, work="sc2tog 0+1, sc2tog 2+3, sc2tog 4+5, skip 6")
    assert [p.code for p in check_even(shut)] == ["law-even"]
    crown = changed(joined_pair(), "hand", 11, work="sc2tog 0+1, skip 2, sc 3, sc2tog 4+5, sc 6-7")
    assert check_even(crown) == ()
