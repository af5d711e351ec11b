"""Metres and grams: worked by hand on small maps, and laws that hold for every mitten."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from grading.strategies import unpinned_specs
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from gussetry.diagnostics import Faults
from gussetry.grading import grade
from gussetry.grading.amounts import estimate, needs, strands, uses, worth
from gussetry.grading.finished import GradedSize
from gussetry.spec import Gauge, Size, Spec, Stripe, Stripes, Swatch, Yarn
from gussetry.stitchmap import Fabric, Op, Piece, Round, StitchMap

SC = Fabric("sc", Fraction(5), Fraction(5))
RIB = Fabric("sc", Fraction(6), Fraction(4))
A = Yarn("A", "slate", "#000000")
B = Yarn("B", "foam", "#ffffff")


def round_(number: int, yarn: str, *work: Op) -> Round:
    made = sum(op.makes for op in work)
    return Round(number, yarn, "hand", number, work, made)


def sc(*into: int) -> tuple[Op, ...]:
    return tuple(Op("sc", (i,)) for i in into)


CUFF = Piece(
    "cuff",
    "rows",
    (
        round_(0, "A", *(Op("ch"),) * 3),
        round_(1, "A", Op("ch", counts=False), *sc(2, 1, 0), Op("turn")),
        round_(2, "A", Op("ch", counts=False), *sc(2, 1, 0)),
        round_(3, "A", *(Op("seam", (i, ("underside", i))) for i in range(3))),
    ),
)
HAND = Piece(
    "hand",
    "rounds",
    (
        round_(1, "A", *sc(0, 1, 2, 3)),
        round_(2, "B", Op("inc", (0,), of="sc"), *sc(1), Op("sc2tog", (2, 3))),
        round_(3, "A", Op("skip", (0,)), *sc(1, 2, 3), Op("ch"), Op("hold", (0,))),
        round_(4, "A", Op("close", (0, 1, 2, 3))),
    ),
)


def mitten(*pieces: Piece, rib: Fabric | None = None) -> StitchMap:
    yarns = tuple((y.letter, y.name, y.colour) for y in (A, B))
    return StitchMap("p", "M", "both", SC, rib, yarns, Fraction(0), pieces)


def spec(*yarns: Yarn, swatch: Swatch | None = None, carry: int = 4) -> Spec:
    gauge = Gauge("sc", SC.width, SC.height)
    size = Size("M", Fraction(190))
    stripes = Stripes((Stripe("A", 1),), carry=carry)
    return Spec("p", gauge, yarns, (size,), stripes, swatch=swatch)


def pair(*maps: StitchMap) -> GradedSize:
    return GradedSize(Size("M", Fraction(190)), maps, ())


METRES = Swatch(10, 10, metres=Fraction(5))  # 50 mm a stitch
GRAMS = Swatch(10, 10, grams=Fraction(2))  # 0.02 g a stitch


def test_a_hand_stitch_by_stitch() -> None:
    a, b = uses(mitten(HAND), 4)
    # A: 4 + 3 sc made and a chain; B: two in one, one, two together.
    assert (a.stitches, a.worth) == (4 + 3 + 1, 7)
    assert (b.stitches, b.worth) == (2 + 1 + 1, 2 + 1 + 2)
    # A: a chain of 5 mm, drawn shut twice round 4 stitches, carried over one round, two tails.
    assert a.strand == Fraction("5.1") * 5 + 2 * 4 * 5 + 5 + 2 * 150
    assert b.strand == 2 * 150
    # Cut instead of carried: no float, two tails more.
    assert uses(mitten(HAND), 0)[0].strand == a.strand - 5 + 2 * 150


def test_a_ribbed_cuff_counts_by_the_area_of_its_own_gauge() -> None:
    assert worth(RIB, SC) == Fraction(24, 25)
    (a,) = uses(mitten(CUFF, rib=RIB), 4)
    assert (a.stitches, a.worth) == (3 + 3 + 3, 6 * Fraction(24, 25))
    # Three chains, one to turn before each row, three seamed: each as long as a stitch is wide.
    assert a.strand == 8 * Fraction("5.1") * 6 + 2 * 150


def test_metres_of_a_pair() -> None:
    a, b = needs(spec(A, B, swatch=METRES), pair(mitten(HAND)))
    # 7 × 50 + 370.5 mm and 5 × 50 + 300 mm, twice.
    assert (a.metres, b.metres) == (2 * Fraction("0.7205"), 2 * Fraction("0.55"))
    assert a.metres_to_have == a.metres * Fraction(11, 10)
    assert (a.grams, a.balls(), a.weak) == (None, None, False)


def test_grams_and_balls_by_the_label() -> None:
    ball = replace(A, grams=Fraction(50), metres=Fraction(1))
    (a,) = needs(spec(ball, swatch=METRES), pair(mitten(HAND)))[:1]
    # 1.441 m, at 50 g a metre; with 10 % over 1.5851 m.
    assert a.grams == Fraction("72.05")
    assert a.balls() == 2
    assert a.balls(Fraction(2)) == 4


def test_a_swatch_in_grams_without_labels_tells_grams_only() -> None:
    a, b = needs(spec(A, B, swatch=GRAMS), pair(mitten(HAND)))
    assert (a.metres, b.metres) == (None, None)
    each = estimate(SC)
    assert a.grams == 2 * Fraction("0.02") * (7 + Fraction("370.5") / each)
    # A later yarn's own label turns its grams into metres.
    ball = replace(B, grams=Fraction(50), metres=Fraction(100))
    _, b = needs(spec(A, ball, swatch=GRAMS), pair(mitten(HAND)))
    assert b.grams == 2 * Fraction("0.02") * (5 + 300 / each)
    assert b.metres == 2 * b.grams


def test_a_swatch_in_grams_with_the_first_yarns_label_tells_metres() -> None:
    ball = replace(A, grams=Fraction(50), metres=Fraction(125))  # 2.5 m a gram: 50 mm a stitch
    fine = replace(B, grams=Fraction(50), metres=Fraction(250))
    known = needs(spec(A, B, swatch=METRES), pair(mitten(HAND)))
    a, b = needs(spec(ball, fine, swatch=GRAMS), pair(mitten(HAND)))
    assert [a.metres, b.metres] == [need.metres for need in known]
    assert a.metres is not None
    assert b.metres is not None
    assert (a.grams, b.grams) == (a.metres / Fraction("2.5"), b.metres / 5)
    # A yarn without a label is taken to weigh what the swatch's yarn does.
    _, plain = needs(spec(ball, B, swatch=GRAMS), pair(mitten(HAND)))
    assert plain.grams == b.metres / Fraction("2.5")


def test_a_left_and_a_right_are_each_counted_once() -> None:
    left, right = mitten(HAND), mitten(Piece("hand", "rounds", (HAND.rounds[0],)))
    a, _ = needs(spec(A, B, swatch=METRES), pair(left, right))
    assert a.stitches == 8 + 4
    assert a.metres == Fraction("0.7205") + Fraction(4 * 50 + 300, 1000)


def test_the_estimate_is_seventy_millimetres_for_a_worsted_stitch() -> None:
    # 13 stitches and 14 rows to 4 in: 31.42 in of yarn to the square inch.
    worsted = Fabric("sc", Fraction("101.6") / 13, Fraction("101.6") / 14)
    area = Fraction(4, 13) * Fraction(4, 14)
    assert estimate(worsted) == Fraction("31.42") * area * Fraction("25.4")
    assert round(estimate(worsted)) == 70
    half = Fabric("sc", worsted.width / 2, worsted.height / 2)
    assert estimate(half) == estimate(worsted) / 2
    (a, _) = needs(spec(A, B), pair(mitten(HAND)))
    assert a.weak
    assert a.metres == 2 * (7 * estimate(SC) + Fraction("370.5")) / 1000


@pytest.mark.parametrize(
    ("op", "many"),
    [
        (Op("sc", (0,)), 1),
        (Op("sc", (0,), held=True), 1),
        (Op("inc", (0,), of="sc"), 2),
        (Op("sc2tog", (0, 1)), 2),
        (Op("join", (3,), (1,)), 2),
        (Op("ch"), 0),
        (Op("slst", onto=(0,), uses=False, counts=False), 0),
        (Op("seam", (0, ("underside", 0))), 0),
        (Op("hold", (0,)), 0),
        (Op("skip", (0,)), 0),
        (Op("turn"), 0),
        (Op("close", (0, 1, 2, 3)), 0),
    ],
)
def test_strands_of_every_kind(op: Op, many: int) -> None:
    assert strands(op) == many


def graded(made: Spec) -> tuple[GradedSize, ...]:
    try:
        return grade(made).sizes
    except Faults:
        assume(False)
        raise


few = settings(max_examples=8, suppress_health_check=[HealthCheck.too_slow], deadline=None)


@few
@given(unpinned_specs(), st.integers(0, 6), st.integers(0, 6))
def test_laws_of_every_mitten(made: Spec, carry: int, more: int) -> None:
    for one in graded(made):
        for stitches in one.maps:
            found = uses(stitches, carry)
            by_hand: Counter[str] = Counter()
            legs: Counter[str] = Counter()
            for piece in stitches.pieces:
                for round_ in piece.rounds:
                    by_hand[round_.yarn] += round_.made
                    # In the hand and the thumb each leg is a stitch made, a stitch used up by
                    # two together, or one of a pair drawn together.
                    if piece.piece != "cuff":
                        stitch = stitches.fabric.stitch
                        together = sum(op.do == f"{stitch}2tog" for op in round_.work)
                        joins = 2 * sum(op.do == "join" for op in round_.work)
                        chains = sum(op.do == "ch" and op.counts for op in round_.work)
                        legs[round_.yarn] += round_.made - chains + together + joins
            assert {use.yarn: use.stitches for use in found} == dict(by_hand)
            if not stitches.piece("cuff"):
                assert {use.yarn: use.worth for use in found} == dict(legs)
            further = uses(stitches, carry + more)
            tails = (sum(use.strand for use in some) for some in (further, found))
            # A float of so few rounds is shorter than the two tails that it saves.
            if (carry + more) * stitches.fabric.height <= 300:
                assert next(tails) <= next(tails)


@few
@given(unpinned_specs(), st.integers(1, 40))
def test_twice_the_yarn_in_the_swatch_is_twice_the_yarn_in_the_stitches(
    made: Spec, metres: int
) -> None:
    one, two = (
        replace(made, swatch=Swatch(20, 20, metres=Fraction(metres * times))) for times in (1, 2)
    )
    sizes = graded(made)
    for size in sizes:
        maps = size.maps if len(size.maps) > 1 else size.maps * 2
        strand: dict[str, Fraction] = {}
        for stitches in maps:
            for use in uses(stitches, made.stripes.carry):
                strand[use.yarn] = strand.get(use.yarn, Fraction(0)) + use.strand / 1000
        for a, b in zip(needs(one, size), needs(two, size), strict=True):
            assert a.metres is not None
            assert b.metres is not None
            beside = strand[a.yarn.letter]
            assert b.metres - beside == 2 * (a.metres - beside)
    light, heavy = (
        replace(made, swatch=Swatch(20, 20, grams=Fraction(metres * times))) for times in (1, 2)
    )
    for size in sizes:
        for a, b in zip(needs(light, size), needs(heavy, size), strict=True):
            assert a.grams is not None
            assert b.grams == 2 * a.grams
