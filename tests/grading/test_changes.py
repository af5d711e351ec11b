"""Colour changes, floats and ends of pieces written by hand, and laws that hold for all."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Literal

from hypothesis import given
from hypothesis import strategies as st

from gussetry.grading.changes import all_changes, changes, ends
from gussetry.stitchmap import Fabric, Op, Piece, PieceName, Round, StitchMap

FABRIC = Fabric("sc", Fraction(5), Fraction(11, 2))
RIB = Fabric("sc", Fraction(6), Fraction(4))


def piece(yarns: str, name: PieceName = "hand", rows: bool = False) -> Piece:
    """A piece of one letter a round."""
    made = tuple(Round(n, y, "hand", n, (Op("sc", (0,)),), 1) for n, y in enumerate(yarns, 1))
    return Piece(name, "rows" if rows else "rounds", made)


def mitten(*pieces: Piece) -> StitchMap:
    colours = tuple((letter, letter, "#000000") for letter in "ABC")
    return StitchMap("p", "M", "both", FABRIC, RIB, colours, Fraction(0), tuple(pieces))


def told(found: Sequence[object]) -> list[tuple[object, ...]]:
    names = ("after", "round", "old", "new", "back", "carried", "length", "joined")
    return [tuple(getattr(change, name) for name in names) for change in found]


def test_two_colours_by_turns_are_both_carried_to_their_last_use() -> None:
    # A 1–2, B 3–4, A 5–6, B 7.
    assert told(changes(piece("AABBAAB"), FABRIC, 4)) == [
        (2, 3, "A", "B", 5, True, 11, True),
        (4, 5, "B", "A", 7, True, 11, False),
        (6, 7, "A", "B", None, False, 0, False),
    ]


def test_a_yarn_that_rests_too_long_is_cut_and_joined_anew() -> None:
    # A rests rounds 2–4: three rounds.
    assert told(changes(piece("ABBBA"), FABRIC, 2)) == [
        (1, 2, "A", "B", 5, False, 0, True),
        (4, 5, "B", "A", None, False, 0, True),
    ]
    assert told(changes(piece("ABBBA"), FABRIC, 3))[0] == (
        1, 2, "A", "B", 5, True, Fraction(33, 2), True,
    )  # fmt: skip


def test_three_colours_rest_below_one_another() -> None:
    # A rests 2–3 under B and C, B rests 3–4 under C and A.
    assert told(changes(piece("ABCAB"), FABRIC, 2)) == [
        (1, 2, "A", "B", 4, True, 11, True),
        (2, 3, "B", "C", 5, True, 11, True),
        (3, 4, "C", "A", None, False, 0, False),
        (4, 5, "A", "B", None, False, 0, False),
    ]


def test_in_turned_rows_a_yarn_waits_at_its_own_edge() -> None:
    # A rests two rows and is back at its edge; over one row or three it hangs at the other.
    two = changes(piece("ABBA", "cuff", rows=True), RIB, 4)
    assert [(c.carried, c.length) for c in two] == [(True, 8), (False, 0)]
    for rows in ("ABA", "ABBBA"):
        assert not any(c.carried for c in changes(piece(rows, "cuff", rows=True), RIB, 4))
        assert changes(piece(rows, "cuff"), RIB, 4)[0].carried


def kinds(stitches: StitchMap, carry: int) -> list[tuple[str, int, str, str]]:
    return [(e.piece, e.round, e.yarn, e.kind) for e in ends(stitches, carry)]


def test_the_hand_goes_on_with_the_cuffs_yarn() -> None:
    cuff, thumb = piece("AA", "cuff", rows=True), piece("A", "thumb")
    assert kinds(mitten(cuff, piece("AAB"), thumb), 4) == [
        ("cuff", 1, "A", "joined"),
        ("hand", 2, "A", "cut"),
        ("hand", 3, "B", "joined"),
        ("hand", 3, "B", "fastened off"),
        ("thumb", 1, "A", "joined"),
        ("thumb", 1, "A", "fastened off"),
    ]
    assert kinds(mitten(cuff, piece("BB"), thumb), 4)[:4] == [
        ("cuff", 1, "A", "joined"),
        ("cuff", 2, "A", "fastened off"),
        ("hand", 1, "B", "joined"),
        ("hand", 2, "B", "fastened off"),
    ]


def test_a_mitten_without_cuff_or_thumb() -> None:
    assert len(ends(mitten(piece("AAAA")), 4)) == 2
    assert [e.yarn for e in ends(mitten(piece("AABBAABB")), 4)] == ["A", "B", "A", "B"]
    assert len(ends(mitten(piece("AABBAABB")), 0)) == 8


striped = st.text("ABC", min_size=1, max_size=25)
mittens = st.builds(
    lambda cuff, rows, hand, thumb: mitten(
        piece(cuff, "cuff", rows), piece(hand), piece(thumb, "thumb")
    ),
    striped,
    st.booleans(),
    striped,
    striped,
)


def strands(yarns: str, carry: int, rows: bool) -> Counter[str]:
    """The lengths of yarn that a piece is worked from, one letter each, found letter by letter:
    two uses of a yarn hang together where no more than `carry` rounds lie between them."""
    found: Counter[str] = Counter()
    for letter in set(yarns):
        places = [i for i, yarn in enumerate(yarns) if yarn == letter]
        found[letter] = 1
        for before, after in pairwise(places):
            rested = after - before - 1
            if rested and (rested > carry or (rows and rested % 2)):
                found[letter] += 1
    return found


@given(striped, st.integers(0, 8), st.booleans())
def test_every_strand_has_two_ends(yarns: str, carry: int, rows: bool) -> None:
    name: Literal["cuff", "hand"] = "cuff" if rows else "hand"
    left = Counter(e.yarn for e in ends(mitten(piece(yarns, name, rows)), carry))
    assert left == Counter({y: 2 * many for y, many in strands(yarns, carry, rows).items()})


@given(striped, st.integers(0, 8))
def test_a_carried_yarn_comes_back_and_no_float_passes_the_threshold(
    yarns: str, carry: int
) -> None:
    found = changes(piece(yarns), FABRIC, carry)
    turns = [n for n in range(2, len(yarns) + 1) if yarns[n - 1] != yarns[n - 2]]
    assert [change.round for change in found] == turns
    for change in found:
        assert change.length <= carry * FABRIC.height
        assert (change.length > 0) == change.carried
        if change.carried:
            assert change.back is not None
            assert yarns[change.back - 1] == change.old
            assert change.old not in yarns[change.round - 1 : change.back - 1]
            assert change.length == (change.back - change.round) * FABRIC.height
            # Who is carried up to a round is not joined in there.
            back = next(c for c in found if c.round == change.back)
            assert back.new == change.old
            assert not back.joined


@given(mittens, st.integers(0, 8), st.integers(0, 8))
def test_who_carries_further_never_weaves_in_more_ends(
    made: StitchMap, carry: int, more: int
) -> None:
    assert len(ends(made, carry + more)) <= len(ends(made, carry))


@given(mittens)
def test_who_never_carries_cuts_at_every_change(made: StitchMap) -> None:
    found = all_changes(made, 0)
    assert not any(change.carried for change in found)
    assert all(change.joined for change in found)
    goes_on = made.pieces[0].rounds[-1].yarn == made.pieces[1].rounds[0].yarn
    assert len(ends(made, 0)) == 2 * (len(found) + 3) - 2 * goes_on
