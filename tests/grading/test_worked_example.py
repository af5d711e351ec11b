"""A mitten worked out stitch by stitch with plain lists, and the same out of its pinned counts.

The mitten is common practice, no source. The lists know nothing of the code that grades: a round
is a list of stitches, each carrying what it is called; an increase puts two into the next list.
"""

from dataclasses import replace
from fractions import Fraction

import pytest

from gussetry.diagnostics import Faults
from gussetry.grading import grade
from gussetry.spec import (
    Crown,
    CrownPhase,
    Cuff,
    Division,
    Gauge,
    Growth,
    Gusset,
    LowerHand,
    Size,
    Spec,
    Stripe,
    Stripes,
    Thumb,
    Yarn,
)
from gussetry.stitchmap import StitchMap, sections

HAND = [30, 31, 32, 33, 35, 37, 39, 41, 43, 45, 47, 49, 51, 53, 36]
CROWN = [34, 34, 32, 32, 28, 24, 20, 10, 5]
THUMB = [14, 13, 13, 13, 11, 11, 9, 9, 6]
PLAIN_BEFORE = 10


def spec(growth: Growth = "alternating") -> Spec:
    """The mitten with all of its counts pinned."""
    return Spec(
        pattern="Worked example",
        gauge=Gauge("sc", Fraction(100, 17), Fraction(100, 19)),
        yarns=(Yarn("A", "grey", "#777777"), Yarn("B", "blue", "#0033aa")),
        sizes=(Size("M", Fraction(190)),),
        stripes=Stripes((Stripe("A", 2), Stripe("B", 1))),
        cuff=Cuff(
            gauge=Gauge("sc", Fraction(100, 17), Fraction(100, 18)),
            rows=(30,),
            stitches=(9,),
            yarn="A",
        ),
        lower_hand=LowerHand(pick_up=(30,), increases=(2,), rounds=(3,)),
        gusset=Gusset(growth=growth, between_markers=(11,)),
        division=Division(bridge="join", pairs=(2,), crook=(2,), round=(15,), hand=(36,)),
        crown=Crown(
            phases=(
                CrownPhase("sides", rounds=(2,), plain_after=1),
                CrownPhase("evenly", rounds=(3,), decreases=4),
            ),
            plain_before=(PLAIN_BEFORE,),
            last=(5,),
        ),
        thumb=Thumb(
            crook_decreases=(2,),
            plain_after=(2,),
            side_decreases=(2,),
            rounds_to_length=(0,),
            last=(6,),
        ),
    )


class Simulated:
    """The mitten as lists. A stitch is a name; only marked and outer-edge stitches have one."""

    def __init__(self, growth: str) -> None:
        self.growth = growth
        self.counts: list[int] = []
        self.sections: list[tuple[int, int, int]] = []
        self.round = ["edge"] + [""] * 29
        self.note()
        for _ in range(2):
            self.round = ["edge", "", *self.round[1:]]
            self.note()
        self.grow()
        self.divide()

    def note(self) -> None:
        self.counts.append(len(self.round))
        if "first" in self.round:
            first, second = self.round.index("first"), self.round.index("second")
            after = len(self.round) - second - 1
            self.sections.append((first, second - first - 1, after))

    def grow(self) -> None:
        half = len(self.round) // 2
        self.round[half : half + 1] = ["pair", "pair"]
        self.note()
        # Two in the first of the pair, one in the second, two in the stitch after it; both
        # markers in the first of their two.
        at = self.round.index("pair")
        self.round[at : at + 3] = ["first", "", "", "second", ""]
        self.note()
        for turn in range(9):
            way = self.growth
            if way == "alternating":
                way = "first" if turn % 2 == 0 else "second"
            grown: list[str] = []
            for stitch in self.round:
                if stitch not in ("first", "second"):
                    grown.append(stitch)
                elif way == "first":
                    grown += [stitch, ""]
                else:
                    grown += ["", stitch]
            self.round = grown
            self.note()

    def divide(self) -> None:
        first, second = self.round.index("first"), self.round.index("second")
        before, after = self.round[:first], self.round[second + 1 :]
        self.held = second - first + 1
        self.halves = len(before), len(after)
        for _ in range(2):
            before.pop()
            after.pop(0)
        self.round = before + after
        self.note()


def test_the_lists_give_the_known_counts() -> None:
    simulated = Simulated("alternating")
    assert simulated.counts == HAND
    assert simulated.held == 13
    assert simulated.halves == (20, 20)
    assert simulated.sections[0] == (16, 2, 15)
    assert simulated.sections[-1] == (20, 11, 20)


def graded(growth: Growth) -> StitchMap:
    (size,) = grade(spec(growth)).sizes
    (stitches,) = size.maps
    return stitches


@pytest.mark.parametrize("growth", ["alternating", "second", "first"])
def test_the_pinned_counts_grow_as_the_lists_do(growth: Growth) -> None:
    simulated = Simulated(growth)
    hand = graded(growth).piece("hand")
    assert hand is not None
    assert [r.count for r in hand.rounds[:15]] == simulated.counts
    found = [parts for r in hand.rounds[:15] if (parts := sections(r)) is not None]
    assert found == simulated.sections


def test_the_whole_hand_and_thumb() -> None:
    stitches = graded("alternating")
    hand, thumb = stitches.piece("hand"), stitches.piece("thumb")
    assert hand is not None
    assert thumb is not None
    assert [r.count for r in hand.counted] == HAND + [36] * PLAIN_BEFORE + CROWN
    assert [r.count for r in thumb.counted] == THUMB
    assert sum(len(op.into) for op in thumb.rounds[0].work) == 15


def test_rounds_of_the_crown_and_thumb_as_a_maker_reads_them() -> None:
    stitches = graded("alternating")
    hand, thumb = stitches.piece("hand"), stitches.piece("thumb")
    assert hand is not None
    assert thumb is not None
    # (sc2tog, sc) three times to the thumb's six.
    closing = next(r for r in thumb.rounds if r.phase == "close")
    assert [op.do for op in closing.work] == ["sc2tog", "sc"] * 3
    # The first side round: the first two stitches, and the two at the thumb side.
    sides = next(r for r in hand.rounds if r.phase == "crown sides")
    assert [op.into for op in sides.work if op.do == "sc2tog"] == [(0, 1), (18, 19)]
    # sc2tog all round, twice.
    for round_, decreases in zip(
        [r for r in hand.rounds if r.phase == "close"], (10, 5), strict=True
    ):
        assert [op.do for op in round_.work] == ["sc2tog"] * decreases


def test_both_markers_always_second_leave_the_hand_lopsided() -> None:
    stitches = graded("second")
    hand = stitches.piece("hand")
    assert hand is not None
    grown = next(r for r in hand.rounds if r.number == 14)
    # 24 without the outer-edge stitch.
    assert sections(grown) == (25, 11, 15)
    assert Simulated("second").halves == (25, 15)
    assert hand.rounds[14].count == 36


def test_the_division_holds_thirteen_and_joins_two_pairs() -> None:
    hand = graded("alternating").piece("hand")
    assert hand is not None
    division = hand.rounds[14]
    assert sum(op.held for op in division.work) == 13
    assert sum(op.do == "join" for op in division.work) == 2
    kept = [op for op in division.work if not op.held and op.do == "sc"]
    assert len(kept) == 38
    assert division.count == 36


def test_one_pin_more_that_cannot_be_worked_names_it() -> None:
    whole = spec()
    late = replace(whole, division=replace(whole.division, round=(9,)))
    with pytest.raises(Faults, match="division"):
        grade(late)
