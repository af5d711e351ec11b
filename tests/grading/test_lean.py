"""Stitch lean: the sides that follow it stand over the thumb, within the round."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from grading.strategies import hundredths, unpinned_specs
from grading.test_worked_example import spec
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from gussetry.grading import grade
from gussetry.grading.laws import check_map
from gussetry.grading.lean import after, drift, rounds_to_sides, side_starts
from gussetry.spec import Spec
from gussetry.stitchmap import Op, Piece, Round, StitchMap

SHARED = settings(
    derandomize=True,
    max_examples=40,
    deadline=None,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)


def leaning(lean: str, follow: bool = True, base: Spec | None = None) -> Spec:
    """The sample (or `base`) with that lean in ten rounds, its sides following or not."""
    base = spec() if base is None else base
    gauge = replace(base.gauge, lean=Fraction(lean))
    return replace(base, gauge=gauge, crown=replace(base.crown, follow_lean=follow))


def hand(stitches: StitchMap) -> Piece:
    """The hand."""
    piece = stitches.piece("hand")
    assert piece is not None
    return piece


def sides(piece: Piece) -> list[Round]:
    """The crown's rounds with decreases at the sides."""
    return [
        r
        for r in piece.rounds
        if r.phase == "crown sides" and any(op.do.endswith("2tog") for op in r.work)
    ]


def starts(round_: Round) -> list[int]:
    """The first stitches of the round's decreases."""
    return [int(str(op.into[0])) for op in round_.work if op.do.endswith("2tog")]


def first(piece: Piece) -> tuple[Round, Round, list[int]]:
    """The division, the first round with sides, and where its decreases begin."""
    division = next(r for r in piece.rounds if r.phase == "division")
    crown = sides(piece)[0]
    return division, crown, starts(crown)


@pytest.mark.parametrize(
    ("lean", "rounds", "carried"),
    [("1.5", 18, "2.7"), ("-1.5", 18, "-2.7"), ("0", 40, "0"), ("2", 5, "1"), ("0.1", 1, "0.01")],
)
def test_the_drift_over_rounds_by_hand(lean: str, rounds: int, carried: str) -> None:
    assert drift(Fraction(lean), rounds) == Fraction(carried)


@pytest.mark.parametrize(
    ("count", "outer", "inner", "expected"),
    [
        (36, 0, 18, (0, 18)),
        (36, 3, 21, (3, 21)),
        (36, 33, 15, (15, 33)),
        (36, 34, 16, (16, 34)),
        (36, 35, 17, (17, 34)),  # no decrease over the last stitch and the first
        (36, 17, 35, (17, 34)),
        (8, 7, 5, (4, 6)),  # and the two keep clear of each other
    ],
)
def test_where_the_sides_begin(
    count: int, outer: int, inner: int, expected: tuple[int, int]
) -> None:
    assert side_starts(count, outer, inner) == expected
    assert side_starts(count, inner, outer) == expected


def test_a_decrease_and_what_stands_after_it_by_hand() -> None:
    # sc, sc2tog, sc, sc2tog, sc: 0 | 1+2 | 3 | 4+5 | 6 become 0 1 2 3 4.
    assert [after(place, (1, 4)) for place in range(7)] == [0, 1, 1, 2, 3, 3, 4]


# The sample: division in round 15, thumb side at stitch 18 of 36. With no plain rounds pinned the
# first side round is 16; with nine plain rounds it is 25, ten rounds on.
@pytest.mark.parametrize(
    ("lean", "expected"),
    [
        ("0", [0, 18]),
        ("-3", [3, 21]),  # drifted three back: three further on stands over the thumb
        ("3", [15, 33]),
        ("-0.4", [0, 18]),
        ("-0.5", [1, 19]),  # halves are rounded away from nothing
        ("-0.6", [1, 19]),
        ("1", [17, 34]),  # stitch 35 would straddle the start
    ],
)
def test_ten_rounds_above_the_division(lean: str, expected: list[int]) -> None:
    base = spec()
    base = replace(base, crown=replace(base.crown, plain_before=(9,)))
    stitches = grade(leaning(lean, base=base)).maps[0]
    division, crown, found = first(hand(stitches))
    assert (division.number, crown.number, division.marker("thumb side")) == (15, 25, 18)
    assert rounds_to_sides(hand(stitches)) == 10
    assert found == expected
    assert check_map(stitches, "alternating") == ()


def test_markers_stay_on_the_sides_to_the_end_of_the_crown() -> None:
    base = spec()
    base = replace(base, crown=replace(base.crown, plain_before=(9,)))
    rounds = [r for r in hand(grade(leaning("-3", base=base)).maps[0]).rounds if "crown" in r.phase]
    # 36: 3 and 21 → 34: 3 and 20, twice → 32: 3 and 19, twice; then four evenly.
    assert [r.markers for r in rounds[:4]] == [
        (("thumb side", 20), ("outer side", 3)),
        (("thumb side", 20), ("outer side", 3)),
        (("thumb side", 19), ("outer side", 3)),
        (("thumb side", 19), ("outer side", 3)),
    ]
    assert all({name for name, _ in r.markers} == {"thumb side", "outer side"} for r in rounds)


@pytest.mark.parametrize(("lean", "follow"), [("0", True), ("-3", False), ("0", False)])
def test_nothing_moves_unless_it_leans_and_is_asked_for(lean: str, follow: bool) -> None:
    assert grade(leaning(lean, follow)).maps == grade(spec()).maps


def test_left_and_right_move_the_same_way_round() -> None:
    base = spec()
    base = replace(base, gusset=replace(base.gusset, towards_palm=2))
    base = replace(base, crown=replace(base.crown, plain_before=(9,)))
    still, moved = grade(leaning("0", base=base)).maps, grade(leaning("-3", base=base)).maps
    for before, now in zip(still, moved, strict=True):
        assert first(hand(now))[2] == [start + 3 for start in first(hand(before))[2]]


@SHARED
@given(unpinned_specs(), hundredths(-500, 500))
def test_followed_sides_stand_over_the_thumb(base: Spec, lean: Fraction) -> None:
    plain = grade(base)
    for size, still in zip(grade(leaning(str(lean), base=base)).sizes, plain.sizes, strict=True):
        assert check_map(size.maps[0], base.gusset.growth) == ()
        if not base.has_thumb or not sides(hand(size.maps[0])):
            continue
        division, crown, found = first(hand(size.maps[0]))
        count = division.count
        # Every column of stitches, set where the drift has carried it over the division's round.
        carried = lean * (crown.number - division.number) / 10
        over = [(start + carried) % count for start in found]
        for line in first(hand(still.maps[0]))[2]:
            away = min(min((place - line) % count, (line - place) % count) for place in over)
            # Half a stitch by rounding; one more where the pair keeps within the round.
            bound = Fraction(3, 2) if count - 2 in found else Fraction(1, 2)
            assert away <= bound


@SHARED
@given(st.integers(8, 60), st.data())
def test_no_pair_leaves_the_round_or_touches_the_other(count: int, data: st.DataObject) -> None:
    apart = data.draw(st.integers(2, count - 2))
    outer = data.draw(st.integers(0, count - 1))
    inner = (outer + apart) % count
    one, other = side_starts(count, outer, inner)
    assert 0 <= one <= other - 2 <= count - 4


def _sides_spoilt(stitches: StitchMap, change: dict[str, Any]) -> StitchMap:
    piece = hand(stitches)
    at = piece.rounds.index(sides(piece)[0])
    spoilt = replace(piece.rounds[at], **change)
    rounds = (*piece.rounds[:at], spoilt, *piece.rounds[at + 1 :])
    pieces = tuple(replace(p, rounds=rounds) if p is piece else p for p in stitches.pieces)
    return replace(stitches, pieces=pieces)


def _moved_work(count: int, places: tuple[int, ...]) -> tuple[Op, ...]:
    ops, i = [], 0
    while i < count:
        two = i in places
        ops.append(Op("sc2tog", (i, i + 1)) if two else Op("sc", (i,)))
        i += 2 if two else 1
    return tuple(ops)


@pytest.mark.parametrize(
    "change",
    [
        {"markers": (("thumb side", 16), ("outer side", 0))},
        {"markers": (("thumb side", 17), ("outer side", 1))},
        {"work": _moved_work(36, (1, 18))},
        {"work": _moved_work(36, (0, 19))},
        {"work": (*(Op("sc", (i,)) for i in range(1, 18)), Op("sc2tog", (18, 19)),
                  *(Op("sc", (i,)) for i in range(20, 35)), Op("sc2tog", (35, 0)))},
        {"work": _moved_work(36, (0,)), "count": 35},
    ],
    ids=["thumb marker", "outer marker", "outer pair", "thumb pair", "straddling", "one side"],
)  # fmt: skip
def test_sides_that_leave_their_markers_break_the_law(change: dict[str, Any]) -> None:
    sound = grade(spec()).maps[0]
    assert "law-sides" not in {p.code for p in check_map(sound)}
    assert "law-sides" in {p.code for p in check_map(_sides_spoilt(sound, change))}


def test_a_marker_that_leaves_its_column_in_a_plain_round_breaks_the_law() -> None:
    sound = grade(spec()).maps[0]
    piece = hand(sound)
    at = piece.rounds.index(sides(piece)[0]) + 1
    for moved, expected in ((17, False), (16, True), (18, True)):
        plain = replace(piece.rounds[at], markers=(("thumb side", moved),))
        rounds = (*piece.rounds[:at], plain, *piece.rounds[at + 1 :])
        pieces = tuple(replace(p, rounds=rounds) if p is piece else p for p in sound.pieces)
        found = {p.message for p in check_map(replace(sound, pieces=pieces))}
        assert any("round 27: the thumb side's marker" in text for text in found) == expected
