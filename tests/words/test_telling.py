"""The core of the words: repeats, lists, phrases that sizes share, markers."""

from __future__ import annotations

from itertools import groupby

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gussetry.stitchmap import Op, Piece, Round
from gussetry.telling import named, told, worked
from gussetry.telling.atoms import Atom, Phrase, joined
from gussetry.telling.lists import counted, enumerated, listed, span
from gussetry.telling.markers import moves
from gussetry.telling.repeats import phrasings, shared
from gussetry.telling.wording import in_words

SC, TOG = Atom("stitch", "sc", "st"), Atom("tog", "sc2tog", "st")
INC = Atom("inc", "sc", "st")


def row(*numbers: int) -> tuple[Atom, ...]:
    """Plain stitches and decreases by turns, so many of each; 0 for none."""
    kinds = (SC, TOG)
    made = [Atom(kinds[i % 2].kind, kinds[i % 2].stitch, "st", n=n) for i, n in enumerate(numbers)]
    return tuple(atom for atom in made if atom.n)


def expanded(phrase: Phrase) -> list[tuple[str, ...]]:
    """Every operation of a phrase, one by one."""
    found: list[tuple[str, ...]] = []
    for part in phrase:
        if isinstance(part, Atom):
            found += [part.key] * part.n
        else:
            found += [a.key for a in part.body for _ in range(a.n)] * part.times
    return found


def words(*columns: tuple[Atom, ...]) -> list[str]:
    return [in_words(tuple(group.values()), "US", "around") for group in shared(columns)]


atoms = st.lists(st.tuples(st.sampled_from((SC, TOG, INC)), st.integers(1, 4)), max_size=14).map(
    lambda pairs: tuple(joined([Atom(atom.kind, atom.stitch, "st", n=n) for atom, n in pairs]))
)


@settings(max_examples=150, deadline=None, derandomize=True)
@given(atoms)
def test_every_phrasing_works_the_same_stitches(flat: tuple[Atom, ...]) -> None:
    for phrase in phrasings(flat).values():
        assert expanded(phrase) == expanded(flat)


@settings(max_examples=100, deadline=None, derandomize=True)
@given(st.lists(atoms, min_size=1, max_size=5))
def test_sizes_share_sentences_and_each_is_in_one(columns: list[tuple[Atom, ...]]) -> None:
    groups = shared(columns)
    assert sorted(i for group in groups for i in group) == list(range(len(columns)))
    for group in groups:
        for i, phrase in group.items():
            assert expanded(phrase) == expanded(columns[i])


def test_repeats_are_found() -> None:
    assert words(row(0, 1, 6, 1, 6, 1, 6, 1, 6)) == ["[sc2tog, sc in next 6 sts] 4 times"]
    assert words(row(3, 1, 6, 1, 3)) == ["[sc in next 3 sts, sc2tog, sc in next 3 sts] twice"]
    assert words(row(2, 1, 5, 1, 6, 1, 5, 1, 6)) == [
        "sc in next 2 sts, [sc2tog, sc in next 5 sts, sc2tog, sc in next 6 sts] twice"
    ]
    assert words(row(0, 8)) == ["sc2tog around"]


def test_sizes_are_told_together_as_far_as_words_can() -> None:
    even, odd = row(0, 5), row(0, 4, 1)
    assert words(even, odd) == ["sc2tog around", "sc2tog 4 times, sc in last st"]
    assert words(row(0, 1, 6, 1, 6), row(0, 1, 7, 1, 7, 1, 7)) == [
        "[sc2tog, sc in next 6 (7) sts] 2 (3) times"
    ]
    assert words((INC,), row(0, 2)) == ["2 sc in first st", "sc2tog around"]


@pytest.mark.parametrize(
    ("values", "told_as"),
    [((14, 15, 16), "14 (15, 16)"), ((7, 7), "7"), (("A", "–"), "A (–)"), ((3,), "3")],
)
def test_lists(values: tuple[int | str, ...], told_as: str) -> None:
    assert listed(values) == told_as


def test_nouns_and_names() -> None:
    assert counted([1, 1], "st") == "1 st"
    assert counted([1, 2], "st") == "1 (2) sts"
    assert span(9, 14) == "9–14"
    assert span(9, 9) == "9"
    assert enumerated(["S", "M", "L"]) == "S, M and L"
    assert [named(do, "UK") for do in ("fpdc", "hdc2tog", "slst", "skip")] == [
        "FPtr", "htr2tog", "ss", "miss",
    ]  # fmt: skip


def plain(number: int, count: int, marks: tuple[tuple[str, int], ...] = ()) -> Round:
    work = tuple(Op("sc", (i,)) for i in range(count))
    return Round(number, "A", "hand", number, work, count, marks)


def test_a_marker_that_goes_by_itself_is_not_told() -> None:
    first, second = plain(1, 6, (("thumb side", 3),)), plain(2, 6, (("thumb side", 3),))
    assert moves(second, first) == ()
    assert [move.verb for move in moves(first, None)] == ["place"]
    moved = plain(3, 6, (("thumb side", 4),))
    assert [(move.verb, move.stitch) for move in moves(moved, second)] == [("move", 5)]
    assert [move.verb for move in moves(plain(4, 6), moved)] == ["remove"]


def test_a_decrease_takes_its_marker_along() -> None:
    before = plain(1, 6, (("thumb side", 3),))
    work = (*before.work[:3], Op("sc2tog", (3, 4)), Op("sc", (5,)))
    assert moves(Round(2, "A", "hand", 2, work, 5, (("thumb side", 3),)), before) == ()
    elsewhere = moves(Round(2, "A", "hand", 2, work, 5, (("thumb side", 2),)), before)
    assert [(move.verb, move.stitch) for move in elsewhere] == [("move", 3)]


def test_a_round_is_told_where_it_stands() -> None:
    piece = Piece("hand", "rounds", (plain(1, 6), plain(2, 6, (("thumb side", 2),))))
    assert [told(one, "UK") for one in worked(piece)] == [
        "Dc in each st around. 6 sts.",
        "Dc in each st around. 6 sts. Place the thumb-side marker in st 3.",
    ]


def test_neighbours_of_one_kind_are_one() -> None:
    single = [SC, SC, TOG, TOG, TOG, SC]
    assert [a.n for a in joined(single)] == [len(list(run)) for _, run in groupby(single)]
