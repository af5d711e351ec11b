"""Samples that end open or have no thumb, every count pinned, round by round as typed by hand."""

from dataclasses import replace
from fractions import Fraction

import pytest
from grading.notation import ops
from grading.test_worked_example import spec as worked

from gussetry.diagnostics import Faults
from gussetry.grading import grade
from gussetry.spec import (
    Crown,
    CrownPhase,
    Cuff,
    Division,
    Gauge,
    Gusset,
    LowerHand,
    Size,
    Spec,
    Stripes,
    Thumb,
)
from gussetry.stitchmap import Round, StitchMap


def fingerless() -> Spec:
    """The worked example up to its division, then six plain rounds and two of edging; its thumb
    two crook decreases, two plain rounds and one of edging."""
    return replace(
        worked(),
        crown=Crown(style="open", plain_before=(6,), edging=(2,)),
        thumb=Thumb(
            crook_decreases=(2,),
            plain_after=(2,),
            side_decreases=(0,),
            rounds_to_length=(0,),
            style="open",
            edging=(1,),
        ),
    )


def thumbless() -> Spec:
    """Picked up 24, two increases, ten plain rounds, two sides, two rounds of four, drawn shut."""
    return replace(
        worked(),
        gauge=Gauge("sc", Fraction(100, 22), Fraction(100, 24)),
        sizes=(Size("9 months", Fraction(110), "infants", 9),),
        cuff=Cuff(style="none"),
        lower_hand=LowerHand((24,), (2,), (4,)),
        gusset=Gusset(),
        division=Division(hand=(26,)),
        crown=Crown(
            (CrownPhase("sides", (2,), 2, 1), CrownPhase("evenly", (2,), 4)), plain_before=(10,)
        ),
        thumb=Thumb(style="none"),
        stripes=Stripes(worked().stripes.plan),
    )


def mitten(spec: Spec) -> StitchMap:
    (stitches,) = grade(spec).maps
    return stitches


def rounds(stitches: StitchMap, name: str) -> list[Round]:
    return [r for p in stitches.pieces if p.piece == name for r in p.rounds]


def test_an_open_hand_ends_on_its_edging_and_nothing_else() -> None:
    hand = rounds(mitten(fingerless()), "hand")
    assert [r.count for r in hand] == [
        30, 31, 32, 33, 35, 37, 39, 41, 43, 45, 47, 49, 51, 53, 36, 36, 36, 36, 36, 36, 36, 36, 36,
    ]  # fmt: skip
    assert [(r.phase, r.step) for r in hand[-4:]] == [
        ("hand", 5), ("hand", 6), ("edging", 1), ("edging", 2),
    ]  # fmt: skip
    assert all(plain(r, 36) for r in hand[15:])


def plain(round_: Round, count: int) -> bool:
    """Whether the round works each of so many stitches once; yarns may change in its last one."""
    return tuple(replace(op, finish=None) for op in round_.work) == ops(f"sc 0-{count - 1}")


def test_an_open_thumb_ends_on_its_edging_and_nothing_else() -> None:
    thumb = rounds(mitten(fingerless()), "thumb")
    assert [(r.count, r.phase) for r in thumb] == [
        (14, "thumb crook"),
        (13, "thumb crook"),
        (13, "thumb plain"),
        (13, "thumb plain"),
        (13, "edging"),
    ]
    assert plain(thumb[-1], 13)


@pytest.mark.parametrize("crown", ["open", "closed"])
@pytest.mark.parametrize("thumb", ["open", "closed"])
def test_each_end_is_open_or_shut_by_itself(crown: str, thumb: str) -> None:
    spec, opened = worked(), fingerless()
    spec = replace(
        spec,
        crown=opened.crown if crown == "open" else spec.crown,
        thumb=opened.thumb if thumb == "open" else spec.thumb,
    )
    ends = {"open": "edging", "closed": "draw shut"}
    stitches = mitten(spec)
    assert rounds(stitches, "hand")[-1].phase == ends[crown]
    assert rounds(stitches, "thumb")[-1].phase == ends[thumb]


def test_a_thumbless_mitten_round_by_round() -> None:
    stitches = mitten(thumbless())
    assert [p.piece for p in stitches.pieces] == ["hand"]
    hand = rounds(stitches, "hand")
    assert [r.count for r in hand] == [
        24, 24, 25, 26, 26, *[26] * 10, 24, 24, 22, 22, 18, 14, 7, 4, 0,
    ]  # fmt: skip
    phases = [r.phase for r in hand]
    assert list(dict.fromkeys(phases)) == [
        "foundation", "pick-up", "outer edge", "lower hand", "hand", "crown sides", "crown even",
        "close", "draw shut",
    ]  # fmt: skip


def test_the_sides_without_a_thumb_are_the_start_and_half_of_the_round() -> None:
    hand = rounds(mitten(thumbless()), "hand")
    sides = [r for r in hand if r.phase == "crown sides"]
    assert [
        [op.into for op in r.work if op.do == "sc2tog"] for r in sides
    ] == [[(0, 1), (13, 14)], [], [(0, 1), (12, 13)], []]  # fmt: skip
    assert [r.markers for r in sides] == [
        (("half-way point", at),) for at in (12, 12, 11, 11)
    ]  # fmt: skip
    assert not any(r.markers for r in hand if r.phase != "crown sides")


def test_an_odd_round_has_its_half_way_point_on_the_shorter_half() -> None:
    spec = thumbless()
    odd = replace(
        spec, lower_hand=LowerHand((24,), (1,), (4,)), division=Division(hand=(25,)),
    )  # fmt: skip
    sides = [r for r in rounds(mitten(odd), "hand") if r.phase == "crown sides"]
    assert [op.into for op in sides[0].work if op.do == "sc2tog"] == [(0, 1), (12, 13)]
    assert [r.markers[0][1] for r in sides] == [11, 11, 10, 10]


def test_edging_goes_on_in_the_stripes() -> None:
    striped = replace(fingerless(), stripes=replace(worked().stripes, anchor="tip"))
    hand = rounds(mitten(striped), "hand")
    first = striped.stripes.plan[0].yarn
    assert {r.yarn for r in hand[-striped.stripes.plan[0].rounds :]} == {first}


def test_pins_of_an_open_hand_that_fight_are_told_and_not_graded() -> None:
    sizes = (Size("S", Fraction(180)), Size("M", Fraction(190)))
    spec = replace(
        fingerless(), sizes=sizes, lower_hand=LowerHand(), gusset=Gusset(), division=Division(),
        cuff=Cuff(style="none"), thumb=Thumb(style="open"),
        crown=Crown(style="open", plain_before=(60, 2)),
    )  # fmt: skip
    with pytest.raises(Faults) as caught:
        grade(spec)
    assert all(p.path and p.help for p in caught.value.problems)
