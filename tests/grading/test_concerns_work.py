"""An editor's warnings of the work and of pins, at their bounds and beyond, and what holds of
all."""

import math
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from grading.strategies import MADE_UP, specs, unpinned_specs
from grading.test_worked_example import spec
from grading.warned import GRAIN, free, message, of_size, told
from hypothesis import given

from gussetry.diagnostics import Faults
from gussetry.fits import fit_of
from gussetry.grading import Grading, grade
from gussetry.grading.concerns_work import halves_concerns
from gussetry.grading.lean import rounds_to_sides
from gussetry.spec import Cuff, Division, Gauge, Growth, Gusset, Spec
from gussetry.stitchmap import StitchMap


@pytest.mark.parametrize(("growth", "figures"), [("first", "14 and 22"), ("second", "23 and 13")])
def test_halves_that_differ_by_the_way_of_growing(growth: Growth, figures: str) -> None:
    # Before the joining, halves of 15 and 24 and the outer-edge stitch, which is the round's first;
    # two pairs take two of each half.
    (problem,) = told(spec(growth), "uneven-halves")
    assert problem.message == (
        "front and back of the hand differ by more than 2 stitches after the division: size M "
        + figures
    )
    assert problem.path == ("gusset", "growth")
    assert not told(spec(), "uneven-halves")


def with_side(stitches: StitchMap, count: int, side: int) -> StitchMap:
    """The map with another count and thumb side in its division."""
    pieces = tuple(
        replace(
            piece,
            rounds=tuple(
                replace(r, count=count, markers=(("thumb side", side),))
                if r.phase == "division"
                else r
                for r in piece.rounds
            ),
        )
        for piece in stitches.pieces
    )
    return replace(stitches, pieces=pieces)


@MADE_UP
@given(specs())
def test_the_thumb_side_is_the_middle_of_the_chains_that_leaves_the_evener_halves(
    base: Spec,
) -> None:
    grading = graded_or_refused(base)
    if grading is None:
        return
    for stitches in (one for size in grading.sizes for one in size.maps):
        hand = stitches.piece("hand")
        assert hand is not None
        division = next((r for r in hand.rounds if r.phase == "division"), None)
        chains = [op.do == "ch" and op.counts for op in division.work] if division else []
        if division is None or not any(chains):
            continue
        first, side = chains.index(True), division.marker("thumb side")
        first = sum(op.makes for op in division.work[:first] if op.counts and not op.held)
        assert side is not None
        moved = {"both": 0, "right": 1, "left": -1}[stitches.mitten] * base.gusset.towards_palm
        middles = {first + sum(chains) // 2, first + (sum(chains) + 1) // 2}
        assert side in middles
        uneven = {place: abs(2 * (place - moved) - division.count) for place in middles}
        assert uneven[side] == min(uneven.values())


@pytest.mark.parametrize(
    ("count", "side", "expected"),
    [(36, 18, 0), (36, 17, 0), (36, 19, 0), (37, 18, 0), (37, 17, 1), (37, 20, 1), (36, 16, 1)],
)
def test_halves_just_at_two_stitches_and_beyond(count: int, side: int, expected: int) -> None:
    graded = grade(spec()).sizes[0]
    changed = replace(graded, maps=(with_side(graded.maps[0], count, side),))
    found = halves_concerns(spec(), (changed,))
    assert len(found) == expected
    if found:
        assert found[0].message.endswith(f"size M {side} and {count - side}")


def test_a_thumb_towards_the_palm_is_no_unevenness() -> None:
    moved = replace(spec(), gusset=replace(spec().gusset, towards_palm=3))
    assert not told(moved, "uneven-halves")


def with_shape(base: Spec, shape: Fraction) -> Spec:
    """The specification with stitches so much taller than wide."""
    gauge = base.gauge
    return replace(base, gauge=replace(gauge, height=gauge.width * shape))


def test_a_crown_steeper_than_a_disc_is_told() -> None:
    # The sample goes from 36 to 20 in seven rounds: 16/7 a round, flat where 2π·h/w is that.
    flat = Fraction(16, 7) / (2 * Fraction(math.pi))
    assert not told(with_shape(spec(), flat + GRAIN), "ruffling-crown")
    (problem,) = told(with_shape(spec(), flat - GRAIN), "ruffling-crown")
    assert "2.29 stitches a round with which it would lie flat (2π × 0.364" in problem.message
    assert problem.message.endswith("size M loses 2.29 a round")
    assert problem.path == ("crown", "phases")


# The sample's crown begins eleven rounds above its division: 20/11 in ten rounds are 2 stitches.
@pytest.mark.parametrize("sign", [1, -1])
def test_a_lean_of_more_than_two_stitches_is_told(sign: int) -> None:
    def leaning(lean: Fraction, follow: bool = False) -> Spec:
        gauge = replace(spec().gauge, lean=lean)
        return replace(spec(), gauge=gauge, crown=replace(spec().crown, follow_lean=follow))

    bound = Fraction(20, 11) * sign
    assert not told(leaning(bound), "leaning-crown")
    assert len(told(leaning(bound + sign * GRAIN), "leaning-crown")) == 1
    assert not told(leaning(bound * 2, follow=True), "leaning-crown")
    assert message(leaning(Fraction(sign * 3)), "leaning-crown") == (
        "the stitches' lean turns the crown's sides from the thumb's line by more than 2 stitches:"
        " size M by 3.3 in 11 rounds"
    )


# Pins: 44 stitches of 5 mm are 220 mm; the wish is the hand and 10 mm of ease.
@pytest.mark.parametrize(
    ("hand", "expected"),
    [
        (Fraction(220) - 10 - Fraction(127, 10), 0),
        (Fraction(220) - 10 - Fraction(127, 10) - GRAIN, 1),
        (Fraction(220) - 10 + Fraction(127, 10), 0),
        (Fraction(220) - 10 + Fraction(127, 10) + GRAIN, 1),
    ],
)
def test_a_pin_that_costs_half_a_size_is_told(hand: Fraction, expected: int) -> None:
    base = of_size(free(190), hand_circumference=hand)
    assert not told(base, "pin-costs-fit")
    pinned = replace(base, division=Division(hand=(44,)))
    found = told(pinned, "pin-costs-fit")
    assert [p.path for p in found] == [("division", "hand stitches", "S190")] * expected
    if found:
        assert "hand circumference 22 cm for 2" in found[0].message


def test_a_pin_of_rounds_is_told_beyond_two_rounds() -> None:
    # The crook is wished 0.3 of the hand's length above the wrist; round 16 of 4.5 mm is at 72.
    for length, expected in ((240, 0), (210, 0), (Fraction(209), 1)):
        base = of_size(free(190), hand_length=Fraction(length))
        off = abs(Fraction(72) - Fraction(3, 10) * length)
        assert (off > 9) == bool(expected)
        pinned = replace(base, division=Division(round=(16,)))
        found = told(pinned, "pin-costs-fit")
        assert [p.path for p in found] == [("division", "round", "S190")] * expected


def test_a_pin_that_fits_is_blamed_for_nothing() -> None:
    # The hand's pin is right; the thumb's leaves it five stitches too wide.
    base = free(190)
    hand = grade(base).maps[0].piece("hand")
    assert hand is not None
    count = next(r.count for r in hand.rounds if r.phase == "division")
    pinned = replace(
        base, division=Division(hand=(count,)), gusset=replace(base.gusset, between_markers=(17,))
    )
    (problem,) = told(pinned, "pin-costs-fit")
    assert problem.path == ("gusset", "between markers", "S190")


def test_where_no_pin_alone_is_to_blame_the_nearest_to_the_measure_is_named() -> None:
    # The sample's pins hold each other, so that freeing one changes nothing.
    found = told(of_size(spec(), hand_circumference=Fraction(240)), "pin-costs-fit")
    places = {p.path: p.message.split("size M ", 1)[1] for p in found}
    assert places["division", "hand stitches", "M"] == "hand circumference 21.18 cm for 25 cm"
    assert places["cuff", "rows", "M"] == "cuff circumference 16.67 cm for 17.93 cm"


def test_what_is_far_off_without_pins_is_no_pins_doing() -> None:
    # A rib with tall rows, one picked-up stitch in each, makes a wide cuff whatever is pinned.
    rib = Gauge("sc", Fraction(5), Fraction(8))
    base = replace(free(190), cuff=Cuff(gauge=rib))
    (cuff,) = (m for m in grade(base).sizes[0].measures if m.name == "cuff circumference")
    assert cuff.finished - cuff.wish > 2 * rib.height
    pinned = replace(base, crown=replace(base.crown, last=(5,)))
    assert not told(pinned, "pin-costs-fit")


def measured(base: Spec, name: str) -> tuple[Fraction, Fraction]:
    """What a measure of the only size comes out as, and its wish."""
    (found,) = (m for m in grade(base).sizes[0].measures if m.name == name)
    return found.finished, found.wish


def test_what_the_construction_keeps_far_is_told_though_nothing_is_pinned() -> None:
    # A gusset that grows every tenth round cannot be wide enough below the crook.
    slow = replace(free(190), gusset=Gusset(every=10))
    finished, wish = measured(slow, "thumb circumference")
    assert wish - finished > 2 * slow.gauge.width
    assert "thumb circumference" in message(slow, "far-from-wish")
    assert not told(slow, "pin-costs-fit")
    assert not told(free(190), "far-from-wish")


def test_a_pin_that_makes_a_far_measure_farther_is_blamed_too() -> None:
    slow = replace(free(190), gusset=Gusset(every=10))
    worse = replace(slow, gusset=replace(slow.gusset, between_markers=(3,)))
    before, after = (measured(base, "thumb circumference")[0] for base in (slow, worse))
    assert before - after >= slow.gauge.width
    assert "thumb circumference" in message(worse, "pin-costs-fit")
    assert not told(worse, "far-from-wish")


def test_many_sizes_are_told_as_one() -> None:
    shape = Gauge("sc", Fraction(5), Fraction(9, 2), lean=Fraction(4))
    four = message(free(170, 180, 190, 200, gauge=shape), "leaning-crown")
    assert [f"size S{girth} by" in four for girth in (170, 180, 190, 200)] == [True] * 4
    many = free(170, 180, 190, 200, 210, gauge=shape)
    reach = {m.size: rounds_to_sides(m.pieces[0]) or 0 for m in grade(many).maps}
    worst = max(reach, key=lambda size: reach[size])
    assert worst != "S170"
    assert message(many, "leaning-crown").endswith(
        f": sizes S170, S180, S190, S200, S210; most in size {worst}, by"
        f" {reach[worst] * 4 / 10:g} in {reach[worst]} rounds"
    )


# --- for whatever is asked ------------------------------------------------------------------


def graded_or_refused(spec: Spec) -> Grading | None:
    """The grading, or None where the pins cannot be worked."""
    try:
        return grade(spec)
    except Faults:
        return None


def sized(grading: Grading, code: str, holds: Callable[[StitchMap], bool]) -> None:
    """Asserts that the warning names just the sizes of which the condition holds."""
    names = {one.size.name for one in grading.sizes if holds(one.maps[0])}
    found = [p for p in grading.warnings if p.code == code]
    assert len(found) == bool(names), (code, names, found)
    if found:
        figures = found[0].message.split(": ", 1)[1].split(" (weak")[0].replace(";", " ").split()
        named = {word.strip(",") for word in figures if word.startswith("S")}
        assert named == names


@MADE_UP
@given(unpinned_specs())
def test_every_bound_reckoned_anew(base: Spec) -> None:
    grading = graded_or_refused(base)
    if grading is None:
        return
    sizes = {size.name: size for size in base.sizes}
    width, height = base.gauge.width, base.gauge.height

    def narrow(stitches: StitchMap) -> bool:
        size = sizes[stitches.size]
        inside = size.thumb_circumference or size.hand_circumference * 311 / 1000
        thumb = next((p for p in stitches.pieces if p.piece == "thumb"), None)
        if thumb is None:
            return False
        crook = [r.count for r in thumb.rounds if r.phase == "thumb crook"]
        return (crook[-1] if crook else thumb.rounds[0].count) * width < inside

    def tight(stitches: StitchMap) -> bool:
        lowest = stitches.pieces[0]
        rows = [r for r in lowest.rounds if r.number and r.count]
        own = (stitches.rib if lowest.piece == "cuff" else None) or stitches.fabric
        sideways = lowest.worked == "rows"
        around = len(rows) * own.height if sideways else rows[0].count * own.width
        return sizes[stitches.size].hand_circumference * 12 > around * 14

    def steep(stitches: StitchMap) -> bool:
        hand = next(p for p in stitches.pieces if p.piece == "hand")
        counts = [(r.phase.split()[0], r.count) for r in hand.rounds]
        crown = [(a, b) for (_, a), (phase, b) in pairwise(counts) if phase == "crown"]
        if not crown:
            return False
        return sum(a - b for a, b in crown) / len(crown) > 2 * math.pi * float(height / width)

    passing = {one.size.name for one in fit_of(base, grading).sizes if one.passing.passes}
    assert passing == {m.size for m in grading.maps if not tight(m)}
    sized(grading, "narrow-thumb", narrow)
    sized(grading, "tight-cuff", tight)
    sized(grading, "ruffling-crown", steep)
    assert "uneven-halves" not in {p.code for p in grading.warnings}
    assert "pin-costs-fit" not in {p.code for p in grading.warnings}


@MADE_UP
@given(specs())
def test_every_warning_says_what_where_and_what_to_do_once(base: Spec) -> None:
    grading = graded_or_refused(base)
    for problem in grading.warnings if grading else ():
        assert problem.severity == "warning"
        assert problem.path
        assert problem.help
        assert any(letter.isdigit() for letter in problem.message)
    if grading:
        once = [
            p.code for p in grading.warnings if p.code not in ("shrinking-wish", "pin-costs-fit")
        ]
        assert len(set(once)) == len(once)
        assert len(set(grading.warnings)) == len(grading.warnings)
