"""Stripes of every size, from every anchor, against a slow reckoning on paper."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gussetry.grading import grade
from gussetry.grading.yarns import colour_hand, colour_thumb
from gussetry.spec import Division, Gauge, Size, Spec, Stripe, Stripes, Thumb, Yarn
from gussetry.stitchmap import Op, Piece, Round

Anchor = Literal["cuff", "crook", "tip"]
YARNS = tuple(Yarn(letter, letter, "#000000") for letter in "ABC")
SIZES = tuple(Size(name, Fraction(170 + 15 * i)) for i, name in enumerate("SML"))
GAUGE = Gauge("sc", Fraction(50, 9), Fraction(5))


def piece(name: str, rounds: int, division: int = 0, last: str = "draw shut") -> Piece:
    """A piece of so many plain rounds, one of them the division, the last drawn shut or an
    edging."""
    made = [
        Round(n, "", "division" if n == division else "hand", 1, (Op("sc", (0,)),), 1)
        for n in range(1, rounds + 1)
    ]
    if last == "edging":
        made[-1] = replace(made[-1], phase="edging")
    else:
        made.append(Round(rounds + 1, "", "draw shut", 1, (Op("close", (0,)),), 0))
    return Piece("hand" if name == "hand" else "thumb", "rounds", tuple(made))


def spec(stripes: Stripes, worked_again: bool = True) -> Spec:
    return Spec("p", GAUGE, YARNS, SIZES, stripes, division=Division(worked_again=worked_again))


def tape(plan: list[tuple[str, int]], long: int, repeat: bool) -> str:
    """The stripes written out, one letter a round, at least `long` letters."""
    once = "".join(letter * rounds for letter, rounds in plan)
    if repeat:
        return once * long
    return once + once[-1] * long


def on_paper(plan: list[tuple[str, int]], anchor: Anchor, repeat: bool, rounds: int, d: int) -> str:
    """The hand's rounds from the pick-up, one letter each: the tape is laid against the hand."""
    written = tape(plan, rounds, repeat)
    if anchor == "cuff":
        return written[:rounds]
    if anchor == "tip":
        return written[:rounds][::-1]
    once = "".join(letter * many for letter, many in plan)
    # Below the division the plan is read backwards from its end; without repeat nothing but its
    # first yarn lies there.
    below = (once * rounds)[::-1] if repeat else once[0] * rounds
    return below[: d - 1][::-1] + written[: rounds - d + 1]


plans = st.lists(
    st.tuples(st.sampled_from("ABC"), st.integers(1, 6)), min_size=1, max_size=4
)  # fmt: skip
hands = st.integers(6, 50).flatmap(lambda n: st.tuples(st.just(n), st.integers(2, n - 2)))


def stripes_of(plan: list[tuple[str, int]]) -> tuple[Stripe, ...]:
    return tuple(Stripe(letter, rounds) for letter, rounds in plan)


@given(
    st.lists(st.tuples(plans, hands), min_size=3, max_size=3),
    st.sampled_from(("cuff", "crook", "tip")),
    st.booleans(),
    st.lists(st.booleans(), min_size=3, max_size=3),
    st.sampled_from(("draw shut", "edging")),
)
def test_every_anchor_lays_the_plan_as_on_paper(
    each: list[tuple[list[tuple[str, int]], tuple[int, int]]],
    anchor: Anchor,
    repeat: bool,
    own: list[bool],
    last: str,
) -> None:
    common = [("A", 2), ("B", 1)]
    asked = spec(
        Stripes(
            stripes_of(common),
            repeat,
            anchor,
            plans=tuple(
                stripes_of(plan) if mine else None
                for (plan, _), mine in zip(each, own, strict=True)
            ),
        )
    )
    for size, (plan, (rounds, division)), mine in zip(SIZES, each, own, strict=True):
        hand = colour_hand(asked, size, piece("hand", rounds, division, last))
        shown = "".join(r.yarn for r in hand.counted)
        assert shown == on_paper(plan if mine else common, anchor, repeat, rounds, division)
        assert hand.rounds[-1].yarn == shown[-1]


def test_worked_by_hand() -> None:
    # Ten rounds, division in round 4, A A A B B.
    plan = stripes_of([("A", 3), ("B", 2)])
    hand = piece("hand", 10, 4)
    wanted: dict[tuple[Anchor, bool], str] = {
        ("cuff", True): "AAABBAAABB",
        ("cuff", False): "AAABBBBBBB",
        ("crook", True): "ABBAAABBAA",
        ("crook", False): "AAAAAABBBB",
        ("tip", True): "BBAAABBAAA",
        ("tip", False): "BBBBBBBAAA",
    }
    for (anchor, repeat), letters in wanted.items():
        asked = spec(Stripes(plan, repeat, anchor))
        coloured = colour_hand(asked, SIZES[0], hand)
        assert "".join(r.yarn for r in coloured.counted) == letters, (anchor, repeat)


@given(hands, st.integers(1, 60), st.booleans(), plans)
def test_a_thumb_has_the_hands_colour_at_its_height(
    hand: tuple[int, int], long: int, worked_again: bool, plan: list[tuple[str, int]]
) -> None:
    rounds, division = hand
    asked = spec(Stripes(stripes_of(plan)), worked_again)
    coloured = colour_hand(asked, SIZES[0], piece("hand", rounds, division))
    thumb = colour_thumb(asked, piece("thumb", long), coloured)
    # Measured in half rounds: a round's middle, and which of the hand's rounds lies there.
    lower = 2 * (division if worked_again else division - 1)
    for number, made in enumerate(thumb.counted):
        middle = lower + 2 * number + 1
        at = [r for r in coloured.counted if 2 * (r.number - 1) < middle < 2 * r.number]
        assert made.yarn == (at[0] if at else coloured.counted[-1]).yarn


@pytest.mark.parametrize("anchor", ["cuff", "crook", "tip"])
def test_sizes_of_different_rounds_keep_their_plans_at_the_anchor(anchor: Anchor) -> None:
    own = {"S": [("A", 3), ("B", 2)], "L": [("C", 1), ("A", 4), ("B", 3)]}
    stripes = Stripes(
        stripes_of([("B", 2), ("A", 5)]),
        anchor=anchor,
        plans=tuple(stripes_of(own[s.name]) if s.name in own else None for s in SIZES),
    )
    rib = Gauge("sc", Fraction(100, 17), Fraction(5))
    asked = spec(stripes)
    graded = grade(replace(asked, cuff=replace(asked.cuff, gauge=rib, yarn="")))
    lengths = set()
    for one in graded.sizes:
        hand, cuff = one.maps[0].piece("hand"), one.maps[0].piece("cuff")
        assert hand is not None
        assert cuff is not None
        plan = own.get(one.size.name, [("B", 2), ("A", 5)])
        rounds = len(hand.counted)
        lengths.add(rounds)
        division = next(r.number for r in hand.rounds if r.phase == "division")
        shown = "".join(r.yarn for r in hand.counted)
        assert shown == on_paper(plan, anchor, True, rounds, division)
        assert {letter for letter, _, _ in one.maps[0].yarns} == {letter for letter, _ in plan}
        # A cuff without a yarn of its own goes with its size's first stripe.
        assert {r.yarn for r in cuff.rounds} == {plan[0][0]}
        for below, above in zip(hand.rounds, hand.rounds[1:], strict=False):
            finish = next(op for op in reversed(below.work) if op.makes or op.do == "close").finish
            assert finish == (above.yarn if above.yarn != below.yarn else None)
    assert len(lengths) == 3


def test_without_a_thumb_stripes_begin_at_cuff_or_tip() -> None:
    wanted: dict[Anchor, str] = {"cuff": "AABAABA", "tip": "ABAABAA"}
    for anchor, letters in wanted.items():
        stripes = Stripes(stripes_of([("A", 2), ("B", 1)]), anchor=anchor)
        asked = replace(spec(stripes), thumb=Thumb(style="none"))
        hand = colour_hand(asked, SIZES[0], piece("hand", 7))
        assert "".join(r.yarn for r in hand.counted) == letters
