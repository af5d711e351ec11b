"""Hand-typed mittens that obey the counting laws, and every law broken on purpose."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from grading.notation import changed, mitten, ops, row

from gussetry.grading.laws import (
    check_even,
    check_halves,
    check_joins,
    check_kinds,
    check_map,
    check_not_stacked,
    check_seam,
    check_sizes,
    check_yarns,
)
from gussetry.grading.laws_sizes import named_counts
from gussetry.stitchmap import Op, Piece, StitchMap

GUSSET = ("first marker", "second marker")


def marked(first: int, second: int) -> tuple[tuple[str, int], ...]:
    return tuple(zip(GUSSET, (first, second), strict=True))


def ribbed_cuff() -> Piece:
    """Twelve turned rows of two stitches, seamed to the chain."""
    odd, even = "loose ch, sc c1-0", "loose ch, sc 1-0"
    return Piece(
        "cuff",
        "rows",
        (
            row(0, "foundation", 1, "ch *2"),
            *(row(i, "ribbing", i, odd if i == 1 else even) for i in range(1, 13)),
            row(13, "seam", 1, "seam 1+u1, seam 0+u0"),
        ),
    )


def hand() -> Piece:
    """Twelve picked up, gusset grown inside, six held, one pair joined, crown from ten to four."""
    side = (("thumb side", 5),)
    return Piece(
        "hand",
        "rounds",
        (
            row(1, "pick-up", 1, "sc r0-11"),
            row(2, "outer edge", 1, "inc 0, sc 1-11"),
            row(3, "lower hand", 1, "sc 0-11, sc 12", work_finish="B"),
            row(4, "gusset", 1, "sc 0-5, inc 6, sc 7-12", yarn="B"),
            row(5, "gusset", 2, "sc 0-5, inc 6-7, sc 8-13", yarn="B", markers=marked(6, 9)),
            row(
                6, "gusset", 3, "sc 0-5, inc 6, sc 7-8, inc 9, sc 10-15",
                yarn="B", markers=marked(6, 11), work_finish="A",
            ),
            row(7, "division", 1, "sc 0-5, held sc 6-11, join 12 >5, sc 13-17", markers=side),
            row(8, "hand", 1, "sc 0-9", markers=side),
            row(9, "crown sides", 1, "sc2tog 0+1, sc 2-4, sc2tog 5+6, sc 7-9"),
            row(10, "crown sides", 2, "sc 0-7"),
            row(11, "crown even", 1, "sc2tog 0+1, sc 2-3, sc2tog 4+5, sc 6-7"),
            row(12, "crown even", 2, "sc 0, sc2tog 1+2, sc 3, sc2tog 4+5"),
            row(13, "draw shut", 1, "close 0+1+2+3"),
        ),
    )  # fmt: skip


def thumb() -> Piece:
    """Six held and two from the crook, closed to four."""
    return Piece(
        "thumb",
        "rounds",
        (
            row(1, "thumb crook", 1, "sc2tog k0+k1, sc h0-5", markers=(("thumb outer side", 3),)),
            row(2, "thumb even", 1, "sc 0-6"),
            row(3, "close", 1, "sc2tog 0+1, sc2tog 2+3, sc2tog 4+5, sc 6"),
            row(4, "draw shut", 1, "close 0+1+2+3"),
        ),
    )


def joined_pair() -> StitchMap:
    return mitten(ribbed_cuff(), hand(), thumb())


def chained() -> StitchMap:
    """A cuff worked round, rounds joined, thumb stitches held unworked, the gap chained."""
    close_up = ", loose slst ~0"
    return mitten(
        Piece(
            "cuff",
            "rounds",
            (
                row(0, "foundation", 1, "ch *9, loose slst ~0"),
                row(1, "cuff", 1, "sc c0-8" + close_up),
                row(2, "cuff", 2, "sc 0-8" + close_up),
            ),
        ),
        Piece(
            "hand",
            "rounds",
            (
                row(1, "pick-up", 1, "loose ch, sc t0-8" + close_up),
                row(2, "gusset", 1, "loose ch, sc 0-3, inc 4, sc 5-8" + close_up),
                row(3, "gusset", 2, "sc 0-3, inc 4, inc 5, sc 6-9", markers=marked(4, 7)),
                row(4, "division", 1, "sc 0-3, hold 4-7, ch *2, sc 8-11"),
                row(5, "close", 1, "sc2tog 0+1, sc2tog 2+3, sc2tog 4+5, sc2tog 6+7, sc2tog 8+9"),
                row(6, "draw shut", 1, "close 0+1+2+3+4"),
            ),
        ),
        Piece(
            "thumb",
            "rounds",
            (
                row(1, "thumb crook", 1, "sc k0-1, sc h0-3"),
                row(2, "draw shut", 1, "close 0+1+2+3+4+5"),
            ),
        ),
    )


@pytest.mark.parametrize("obeying", [joined_pair(), chained()], ids=["joined", "chained"])
def test_a_mitten_that_obeys_is_found_faultless(obeying: StitchMap) -> None:
    assert check_map(obeying, "inside") == ()


Breaking = Callable[[StitchMap], StitchMap]


def hand_round(number: int, /, **changes: object) -> Breaking:
    return lambda stitches: changed(stitches, "hand", number, **changes)


def thumb_round(number: int, /, **changes: object) -> Breaking:
    return lambda stitches: changed(stitches, "thumb", number, **changes)


def cuff_round(number: int, /, **changes: object) -> Breaking:
    return lambda stitches: changed(stitches, "cuff", number, **changes)


def without(piece: str, number: int | None = None) -> Breaking:
    def break_(stitches: StitchMap) -> StitchMap:
        pieces = []
        for p in stitches.pieces:
            if p.piece == piece and number is None:
                continue
            kept = tuple(r for r in p.rounds if p.piece != piece or r.number != number)
            pieces.append(replace(p, rounds=kept))
        return replace(stitches, pieces=tuple(pieces))

    return break_


def finishing(piece: str, number: int, at: int, yarn: str | None) -> Breaking:
    def break_(stitches: StitchMap) -> StitchMap:
        whole = next(p for p in stitches.pieces if p.piece == piece)
        work = list(next(r for r in whole.rounds if r.number == number).work)
        work[at] = replace(work[at], finish=yarn)
        return changed(stitches, piece, number, work=tuple(work))

    return break_


TOPS = "law-tops"
BROKEN: list[tuple[str, str, Breaking]] = [
    ("unknown kind", "law-kinds", hand_round(8, work="sc 0-8, bobble 9")),
    ("a decrease over one", "law-kinds", hand_round(8, work="sc 0-8, sc2tog 9")),
    ("an increase over two", "law-kinds", hand_round(8, work="sc 0-7, inc 8+9")),
    ("a stitch that does not count", "law-kinds", hand_round(8, work="sc 0-8, loose sc 9")),
    ("a held hold", "law-kinds", hand_round(8, work="sc 0-8, held hold 9")),
    ("a join onto nothing", "law-kinds", hand_round(8, work="sc 0-8, join 9")),
    ("a slip stitch into two", "law-kinds", hand_round(8, work="sc 0-7, slst 8+9")),
    ("a joining slip stitch that uses", "law-kinds", hand_round(8, work="sc 0-9, loose slst >0")),
    ("count too high", "law-counts", hand_round(8, count=11)),
    ("count too low", "law-counts", cuff_round(3, count=1)),
    ("held stitch counted", "law-counts", hand_round(7, count=16)),
    ("used-up stitch beyond the round", "law-counts", hand_round(8, work="sc 0-8, join 9 >12")),
    (
        "stitch used up twice",
        "law-counts",
        hand_round(7, work="sc 0-5, held sc 6-11, join 12-13 >5, sc 14-17", count=9),
    ),
    (
        "held stitch used up",
        "law-counts",
        hand_round(7, work="sc 0-5, held sc 6-11, join 12 >6, sc 13-17", count=10),
    ),
    ("stitch left out", TOPS, hand_round(8, work="sc 0-4, sc 6-9", count=9)),
    ("last stitch left out", TOPS, hand_round(8, work="sc 0-8", count=9)),
    ("stitch worked twice", TOPS, hand_round(8, work="sc 0-4, sc 4-9", count=11)),
    ("stitch that is not there", TOPS, hand_round(8, work="sc 0-10", count=11)),
    ("stitch before the first", TOPS, hand_round(8, work="sc 0-8, sc2tog 9+-1")),
    ("order turned", TOPS, hand_round(8, work="sc 9-0")),
    ("two stitches swapped", TOPS, hand_round(8, work="sc 0-3, sc 5, sc 4, sc 6-9")),
    ("row not turned", TOPS, cuff_round(4, work="loose ch, sc 0-1")),
    ("not all drawn shut", TOPS, hand_round(13, work="close 0+1+2")),
    ("row end missed", "law-places", hand_round(1, work="sc r0-10, sc s0")),
    ("row end that is not there", "law-places", hand_round(1, work="sc r0-12")),
    ("row end used three times", "law-places", hand_round(1, work="sc r0, sc r0, sc r0-11")),
    ("row ends out of order", "law-places", hand_round(1, work="sc r1, sc r0, sc r2-11")),
    ("seam used twice", "law-places", hand_round(1, work="sc s0, sc r0-11, sc s0")),
    ("chain missed", "law-places", cuff_round(1, work="loose ch, sc c1")),
    ("chain worked the wrong way", "law-places", cuff_round(1, work="loose ch, sc c0-1")),
    ("underside missed", "law-places", cuff_round(13, work="seam 1+u1, seam 0+u1")),
    ("a place of another piece", "law-places", hand_round(8, work="sc 0-9, sc h0", count=11)),
    ("a cuff's top where it has none", "law-places", hand_round(1, work="sc t0-11")),
    ("crook strand missed", "law-places", thumb_round(1, work="sc k1, sc h0-5")),
    ("crook strand used twice", "law-places", thumb_round(1, work="sc2tog k0+k0, sc h0-5")),
    ("held stitch missed", "law-places", thumb_round(1, work="sc2tog k0+k1, sc h0-4")),
    ("seam askew", "law-seam", cuff_round(13, work="seam 1+u0, seam 0+u1")),
    ("seam of two tops", "law-seam", cuff_round(13, work="seam 1+0, seam u0+u1")),
    ("held stitch not taken up", "law-held", thumb_round(1, work="sc2tog k0+k1, sc h0-4")),
    (
        "held stitches out of order",
        "law-held",
        thumb_round(1, work="sc2tog k0+k1, sc h1, sc h0, sc h2-5"),
    ),
    ("more taken up than held", "law-held", thumb_round(1, work="sc2tog k0+k1, sc h0-6")),
    ("crook last", "law-held", thumb_round(1, work="sc h0-5, sc2tog k0+k1")),
    ("no thumb", "law-held", without("thumb")),
    (
        "pairs that cross",
        "law-joins",
        hand_round(7, work="sc 0-5, held sc 6-11, join 12 >4, join 13 >5, sc 14-17"),
    ),
    (
        "pairs far from the gap",
        "law-joins",
        hand_round(7, work="sc 0-5, held sc 6-11, sc 12, join 13 >5, sc 14-17"),
    ),
    (
        "joined before the far one is made",
        "law-joins",
        hand_round(7, work="sc 0-4, held sc 6-11, join 12 >11, sc 5, sc 13-17"),
    ),
    ("a pair with no gap", "law-joins", hand_round(8, work="sc 0-3, join 4 >4, sc 5-9")),
    ("marker past the end", "law-markers", hand_round(8, markers=(("thumb side", 10),))),
    ("markers crossed", "law-markers", hand_round(6, markers=marked(11, 6))),
    ("markers on one stitch", "law-markers", hand_round(6, markers=marked(6, 6))),
    ("marker alone", "law-markers", hand_round(6, markers=marked(6, 11)[:1])),
    (
        "marker twice",
        "law-markers",
        hand_round(8, markers=(("thumb side", 4), ("thumb side", 5))),
    ),
    ("first marker strays", "law-gusset", hand_round(6, markers=marked(8, 11))),
    ("second marker strays", "law-gusset", hand_round(6, markers=marked(6, 12))),
    ("marker dropped", "law-gusset", hand_round(6, markers=())),
    (
        "growth in one marked stitch",
        "law-gusset",
        hand_round(6, work="sc 0-5, inc 6, sc 7-15", markers=marked(6, 10)),
    ),
    (
        "growth beside the marker",
        "law-gusset",
        hand_round(6, work="sc 0-5, inc 6, sc 7, inc 8, sc 9-15"),
    ),
    (
        "uneven gaps",
        "law-even",
        hand_round(11, work="sc2tog 0+1, sc 2, sc2tog 3+4, sc 5-7"),
    ),
    ("straddle", "law-even", hand_round(11, work="sc 1-3, sc2tog 4+5, sc 6, sc2tog 7+0")),
    ("odd stitch skipped", "law-even", thumb_round(3, work="sc2tog 0+1, sc2tog 2+3, skip 4-6")),
    (
        "decreases stacked",
        "law-stacked",
        hand_round(12, work="sc2tog 0+1, sc 2, sc2tog 3+4, sc 5"),
    ),
    (
        "stacked on the second stitch of the decrease",
        "law-stacked",
        hand_round(12, work="sc 0-1, sc2tog 2+3, sc 4, sc2tog 5+0"),
    ),
    ("ended on three", "law-ends", thumb_round(3, work="sc2tog 0+1, sc2tog 2+3, sc 4", count=3)),
    ("ended on seven", "law-ends", without("thumb", 3)),
    ("not drawn shut", "law-ends", without("hand", 13)),
    ("drawn shut by stitches", "law-ends", hand_round(13, work="close 0+1, close 2+3")),
    ("round number missing", "law-rounds", without("hand", 8)),
    ("round numbered twice", "law-rounds", hand_round(8, number=7)),
    ("foundation numbered", "law-rounds", cuff_round(0, number=1)),
    ("step twice", "law-rounds", hand_round(6, step=2)),
    ("phase twice", "law-rounds", hand_round(8, phase="lower hand")),
    ("yarn not declared", "law-yarns", hand_round(5, yarn="C")),
    ("finished with an undeclared yarn", "law-yarns", finishing("hand", 3, -1, "Z")),
    ("change not prepared", "law-finish", finishing("hand", 3, -1, None)),
    ("change prepared too early", "law-finish", finishing("hand", 3, 0, "B")),
    ("no change follows", "law-finish", finishing("hand", 8, -1, "B")),
    ("change to the wrong yarn", "law-finish", finishing("hand", 3, -1, "A")),
]  # fmt: skip


@pytest.mark.parametrize(
    ("code", "breaking"), [(c, b) for _, c, b in BROKEN], ids=[name for name, _, _ in BROKEN]
)
def test_a_law_broken_on_purpose_is_found(code: str, breaking: Breaking) -> None:
    whole = joined_pair()
    spoilt = breaking(whole)
    assert spoilt != whole
    assert code in {problem.code for problem in check_map(spoilt, "inside")}


def test_every_law_has_been_broken() -> None:
    elsewhere = {"law-crook", "law-halves", "law-edging", "law-sides", "law-thumb"}
    laws = {code for _, code, _ in BROKEN} | elsewhere
    assert laws == {
        "law-counts", "law-crook", "law-edging", "law-ends", "law-even", "law-finish",
        "law-gusset", "law-halves", "law-held", "law-joins", "law-kinds", "law-markers",
        "law-places", "law-rounds", "law-seam", "law-sides", "law-stacked", "law-thumb",
        "law-tops", "law-yarns",
    }  # fmt: skip


def test_a_finding_says_where_it_is() -> None:
    found = check_map(changed(joined_pair(), "hand", 8, count=11))
    assert found[0].message.startswith("size M, hand, round 8: the count is 11, but 10 made")
    found = check_map(changed(joined_pair(), "cuff", 3, count=1))
    assert found[0].message.startswith("size M, cuff, row 3: ")


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


def test_sizes_that_grow_in_the_same_phases_are_in_order() -> None:
    assert check_sizes([joined_pair(), joined_pair()]) == ()
    assert check_sizes([joined_pair()]) == ()
    assert check_sizes([]) == ()


def test_the_named_counts_of_a_size() -> None:
    assert named_counts(joined_pair()) == {
        "stitches of the cuff": 2,
        "rows of the cuff": 12,
        "pick-up": 12,
        "between the markers": 4,
        "hand": 10,
        "rounds to the division": 7,
        "crown start": 10,
        "rounds of the hand": 12,
        "thumb": 8,
        "rounds of the thumb": 3,
    }


@pytest.mark.parametrize(
    ("breaking", "name"),
    [
        (hand_round(1, count=11), "pick-up"),
        (hand_round(6, markers=marked(6, 10)), "between the markers"),
        (hand_round(7, count=9), "hand"),
        (hand_round(8, count=9), "crown start"),
        (thumb_round(1, work="sc k0, sc h0-5"), "thumb"),
        (without("thumb", 2), "rounds of the thumb"),
        (without("cuff", 5), "rows of the cuff"),
    ],
)
def test_a_count_that_gets_smaller_is_found(breaking: Breaking, name: str) -> None:
    larger = replace(breaking(joined_pair()), size="L")
    found = check_sizes([joined_pair(), larger])
    assert any(p.code == "law-sizes" and p.message.startswith(f"{name}: ") for p in found)
    assert not [p for p in check_sizes([larger, joined_pair()]) if p.code == "law-sizes"]


def test_sizes_in_other_phases_are_found() -> None:
    swapped = hand_round(2, phase="lower hand")(hand_round(3, phase="outer edge")(joined_pair()))
    assert [p.code for p in check_sizes([joined_pair(), swapped])] == ["law-phases"]
    assert [p.code for p in check_sizes([joined_pair(), without("thumb")(joined_pair())])] == [
        "law-phases"
    ]


def test_a_phase_may_have_no_rounds_in_one_size() -> None:
    shorter = without("hand", 3)(joined_pair())
    assert not [p for p in check_sizes([shorter, joined_pair()]) if p.code == "law-phases"]
