"""Stitch charts: every stitch placed once or summed, in the true order, with room, on the page."""

import itertools
import math
import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

import pytest
from grading.strategies import specs
from hypothesis import HealthCheck, Phase, given, settings
from layout.sheets import FIVE_SIZES, SPECS, chart, mittens, off_the_page, touching

from gussetry.chart import Chart, Label, PlacedStitch
from gussetry.diagnostics import Faults
from gussetry.grading import grade
from gussetry.layout import kinds, sheets
from gussetry.layout.parts import used_symbols
from gussetry.layout.signature import signed
from gussetry.layout.terms import named
from gussetry.spec import Cuff, Gauge, Spec
from gussetry.stitchmap import Round, StitchMap
from gussetry.style import Style, load_style
from gussetry.units import Frame, Point

STYLES = {name: load_style(name) for name in ("default", "large-print")}
MITTENS = [m for spec in SPECS for m in mittens(spec)]
GUSSETED = [m for m in MITTENS if "gusset" in kinds(m)]
STITCH_CHARTS = ("cuff", "hand", "gusset", "crown", "thumb")


def tag(thing: PlacedStitch | Label, name: str) -> str:
    return dict(thing.tags).get(name, "")


def stitches_of(drawn: Chart) -> list[PlacedStitch]:
    return [s for s in drawn.stitches if tag(s, "class") == "stitch"]


def by_round(drawn: Chart) -> dict[int, list[PlacedStitch]]:
    found: dict[int, list[PlacedStitch]] = {}
    for s in stitches_of(drawn):
        found.setdefault(int(tag(s, "data-round")), []).append(s)
    return found


def rounds_of(stitches: StitchMap, kind: str) -> dict[int, Round]:
    name = "hand" if kind in ("gusset", "crown") else kind
    piece = next(p for p in stitches.pieces if p.piece == name)
    return {r.number: r for r in piece.rounds}


def numbers(span: str) -> range:
    """The numbers that `3` or `3-7` stands for."""
    first, _, last = span.partition("-")
    return range(int(first), int(last or first) + 1)


def assert_covered(drawn: Chart, stitches: StitchMap) -> None:
    """Every entry of each round that the chart shows is drawn once or summed once."""
    rounds = rounds_of(stitches, drawn.kind)
    summed = [
        (int(tag(label, "data-round")), numbers(tag(label, "data-index")))
        for label in drawn.labels
        if tag(label, "data-role") == "sum" and tag(label, "data-index")
    ]
    for number, drawn_stitches in by_round(drawn).items():
        work = rounds[number].work
        entries = [int(tag(s, "data-index")) for s in drawn_stitches]
        entries += [i for n, span in summed if n == number for i in span]
        wanted = [i for i, op in enumerate(work) if op.do != "turn"]
        assert sorted(i for i in entries if work[i].do != "turn") == wanted
    several = {
        n
        for label in drawn.labels
        if tag(label, "data-role") == "sum" and not tag(label, "data-index")
        for n in numbers(tag(label, "data-round"))
    }
    assert not several & set(by_round(drawn))
    for label in drawn.labels:
        if tag(label, "data-role") == "sum" and not tag(label, "data-index"):
            yarns = {rounds[n].yarn for n in numbers(tag(label, "data-round"))}
            assert len(yarns) == 1
    shown = several | set(by_round(drawn))
    assert shown == set(range(min(shown), max(shown) + 1))


def assert_room(drawn: Chart) -> None:
    """Neighbours are at least 0.8 pitch apart, and everything lies on the page."""
    placed = [s.frame.origin for s in stitches_of(drawn)]
    pitch = min(s.pitch for s in stitches_of(drawn))
    grid: dict[tuple[int, int], list[Point]] = {}
    for p in placed:
        cell = (math.floor(p.x / pitch), math.floor(p.y / pitch))
        for dx, dy in itertools.product((-1, 0, 1), repeat=2):
            for q in grid.get((cell[0] + dx, cell[1] + dy), ()):
                assert math.dist(p, q) >= 0.8 * pitch - 1e-9
        grid.setdefault(cell, []).append(p)
        assert pitch / 2 <= p.x <= drawn.width - pitch / 2
        assert pitch / 2 <= p.y <= drawn.height - pitch / 2


def centre_of_rings(ring: Sequence[PlacedStitch]) -> Point:
    """Where the ways from foot to head of a ring's stitches meet: by the first, and by that which
    stands most at right angles to it."""
    first = ring[0].frame

    def turn(frame: Frame) -> float:
        return first.up.x * frame.up.y - first.up.y * frame.up.x

    other = max((s.frame for s in ring), key=lambda frame: abs(turn(frame)))
    x, y = other.origin.x - first.origin.x, other.origin.y - first.origin.y
    along = (x * other.up.y - y * other.up.x) / turn(other)
    return Point(first.origin.x + along * first.up.x, first.origin.y + along * first.up.y)


def assert_order(drawn: Chart, stitches: StitchMap) -> None:
    """Rounds run right to left, even turned rows left to right, crown rounds clockwise."""
    cuff = stitches.piece("cuff")
    turned = drawn.kind == "cuff" and cuff is not None and cuff.worked == "rows"
    for number, drawn_stitches in by_round(drawn).items():
        ordered = sorted(drawn_stitches, key=lambda s: int(tag(s, "data-index")))
        if drawn.kind == "crown" and len(ordered) > 1:
            shut = centre_of_rings(ordered)
            angles = [
                math.atan2(s.frame.origin.x - shut.x, shut.y - s.frame.origin.y) % math.tau
                for s in ordered
            ]
            assert angles == sorted(angles)
            for s in ordered:
                inward = (shut.x - s.frame.origin.x, shut.y - s.frame.origin.y)
                assert inward[0] * s.frame.up.x + inward[1] * s.frame.up.y > 0
        elif drawn.kind != "crown":
            # A chain bridge stands above its row, in the same order.
            for level in {s.frame.origin.y for s in ordered}:
                xs = [s.frame.origin.x for s in ordered if s.frame.origin.y == level]
                assert xs == sorted(xs, reverse=not (turned and number % 2 == 0))
            raised = {s.op.do for s in ordered if s.frame.origin.y < ordered[0].frame.origin.y}
            assert raised <= {"ch"}


def assert_key(drawn: Chart) -> None:
    """The chart's own key has just the symbols that it uses, and stitches that only sums name."""
    shown = [s.op for s in drawn.stitches if tag(s, "class") == "symbol"]
    assert used_symbols(shown) == shown
    used = used_symbols(s.op for s in stitches_of(drawn))
    assert shown[: len(used)] == used
    sums = " ".join(label.text for label in drawn.labels if tag(label, "data-role") == "sum")
    words = set(re.findall(r"sl st|\w+", sums))
    told = {named(op.do, "US") for op in shown}
    assert {named(op.do, "US") for op in shown[len(used) :]} <= words
    assert words & {"sc", "hdc", "dc", "inc", "ch", "sl st", "skip", "join", "hold"} <= told


@pytest.mark.parametrize("style", STYLES)
def test_hand_picked_mittens_are_charted_whole(style: str) -> None:
    for stitches in MITTENS:
        for kind in kinds(stitches):
            if kind in STITCH_CHARTS:
                for drawn in sheets(kind, [stitches], STYLES[style], "US"):
                    assert_chart(drawn, stitches)


def assert_chart(drawn: Chart, stitches: StitchMap) -> None:
    assert_covered(drawn, stitches)
    assert_room(drawn)
    assert_order(drawn, stitches)
    assert_key(drawn)


@settings(
    derandomize=True, max_examples=25, deadline=None, phases=[Phase.explicit, Phase.generate],
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)  # fmt: skip
@given(specs())
def test_whatever_is_graded_is_charted_whole(spec: Spec) -> None:
    try:
        graded = grade(spec)
    except Faults:
        return
    for stitches in graded.maps[:1]:
        for kind in kinds(stitches):
            if kind in STITCH_CHARTS:
                assert_chart(chart(kind, [stitches], STYLES["default"], "US"), stitches)


@pytest.mark.parametrize("style", STYLES)
def test_no_text_touches_another_or_a_line_and_all_stays_in_the_column(style: str) -> None:
    look = STYLES[style]
    for stitches in MITTENS:
        for kind in (*(k for k in kinds(stitches) if k in STITCH_CHARTS), "key"):
            for drawn in sheets(kind, [stitches], look, "US"):
                # A yarn's letter stands on its colour.
                assert {pair[1] for pair in touching(drawn, look)} <= {"colour"}
                assert off_the_page(drawn, look) == []
                assert drawn.width <= look.width + 1e-6
                assert drawn.height <= look.height + 1e-6


def test_a_fine_gauge_still_fits_the_column() -> None:
    fine = replace(
        FIVE_SIZES,
        gauge=Gauge("sc", Fraction(100, 32), Fraction(100, 35)),
        cuff=Cuff(style="round", depth=Fraction(50)),
    )
    for stitches in mittens(fine)[-1:]:
        for kind in set(STITCH_CHARTS) & set(kinds(stitches)):
            drawn = chart(kind, [stitches], STYLES["default"], "US")
            assert_chart(drawn, stitches)
            assert drawn.width <= STYLES["default"].width + 1e-6
            assert min(s.pitch for s in drawn.stitches) >= 2.2


def test_the_wedge_widens_round_by_round_and_its_markers_walk_outwards() -> None:
    for stitches in GUSSETED:
        drawn = chart("gusset", [stitches], STYLES["default"], "US")
        rounds = rounds_of(stitches, "gusset")
        wide = [
            len(row) + sum(s.op.do == "inc" for s in row)
            for n, row in sorted(by_round(drawn).items())
            if rounds[n].markers and rounds[n].phase == "gusset"
        ]
        assert wide == sorted(wide)
        assert wide[-1] > wide[0]


@pytest.mark.parametrize("kind", ["cuff", "gusset", "thumb"])
def test_plain_stitches_stand_over_what_they_are_worked_into(kind: str) -> None:
    met = 0
    for stitches in MITTENS:
        if kind not in kinds(stitches):
            continue
        drawn = chart(kind, [stitches], STYLES["default"], "US")
        rows, rounds = by_round(drawn), rounds_of(stitches, kind)
        for number in rows:
            below, above = rounds.get(number - 1), rounds[number]
            if below is None or number - 1 not in rows or below.count != above.count:
                continue
            if any(op.held or (op.counts and op.do not in ("ch", "sc", "hdc", "dc"))
                   for op in (*below.work, *above.work)):  # fmt: skip
                continue
            counted = [i for i, op in enumerate(below.work) if op.counts]
            xs = {
                counted.index(int(tag(s, "data-index"))): s.frame.origin.x
                for s in rows[number - 1]
                if s.op.counts
            }
            for s in rows[number]:
                place = s.op.into[0] if s.op.counts and s.op.into else None
                at = place[1] if isinstance(place, tuple) and place[0] == "chain" else place
                if isinstance(at, int) and at in xs:
                    met += 1
                    assert s.frame.origin.x == pytest.approx(xs[at])
    assert met >= 7


def test_counts_by_sections_add_up_as_printed() -> None:
    for stitches in GUSSETED:
        drawn = chart("gusset", [stitches], STYLES["default"], "US")
        texts = [label.text for label in drawn.labels if tag(label, "data-role") == "count"]
        sums = [t for t in texts if "=" in t]
        assert sums
        for printed in sums:
            # What is joined is no stitch.
            numbers = [int(n) for n in re.findall(r"\d+(?! join)\b", printed)]
            assert sum(numbers[:-1]) + printed.count("m") == numbers[-1]


def test_a_joined_stitch_is_tied_to_the_far_one() -> None:
    for stitches in GUSSETED:
        drawn = chart("gusset", [stitches], STYLES["default"], "US")
        joins = [s for s in stitches_of(drawn) if s.op.do == "join"]
        ties = [line for line in drawn.lines if line.kind == "join"]
        shown = {s.frame.origin.x for s in stitches_of(drawn)}
        assert len(ties) <= len(joins)
        for tie in ties:
            assert {tie.points[0].x, tie.points[-1].x} <= shown


def test_uk_terms_name_uk_stitches_and_nothing_else_moves() -> None:
    stitches = MITTENS[0]
    us = chart("gusset", [stitches], STYLES["default"], "US")
    uk = chart("gusset", [stitches], STYLES["default"], "UK")
    named = [label.text for label in uk.labels if tag(label, "data-role") in ("sum", "term")]
    assert any("dc" in text for text in named)
    assert not any(re.search(r"\bsc", text) for text in named)
    assert [s.op for s in stitches_of(us)] == [s.op for s in stitches_of(uk)]


def test_the_designers_lines_stand_under_the_chart() -> None:
    style: Style = STYLES["default"]
    stitches = MITTENS[0]
    bare = chart("thumb", [stitches], style, "US")
    lines = ("A caption that is a good deal longer than the thumb chart is wide.", "By nobody")
    under = signed(bare, style, lines)
    added = under.labels[len(bare.labels) :]
    assert " ".join(label.text for label in added) == " ".join(lines)
    assert all(label.at.y > bare.height - 4.0 for label in added)
    assert under.height > bare.height
    assert signed(bare, style, ()) == bare
