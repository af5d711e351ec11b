"""The division on the gusset chart: gap, bridge, crook, and the markers that lead up to it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Literal

import pytest
from layout.sheets import FIVE_SIZES, TALL_STITCHES, chart, mittens, off_the_page, touching
from layout.test_charts import STYLES, assert_chart, by_round, rounds_of, tag

from gussetry.chart import PlacedStitch
from gussetry.layout import sheets
from gussetry.spec import Division, Gusset
from gussetry.stitchmap import Round, StitchMap, left_of_made
from gussetry.style import Style


def heads_by_number(round_: Round, row: list[PlacedStitch]) -> dict[int, float]:
    """Where the drawn stitches of a round stand that are left, by number; increases left out."""
    numbers, found, made = left_of_made(round_), {}, 0
    across = {int(tag(s, "data-index")): s.frame.origin.x for s in row}
    for i, op in enumerate(round_.work):
        number = numbers[made] if op.makes == 1 else None
        if number is not None and i in across:
            found[number] = across[i]
        made += op.makes
    return found


BRIDGES = {
    "join": Division("join", pairs=(2,)),
    "one pair": Division("join", pairs=(1,), with_marked=False),
    "chain": Division("chain", chains=(3,)),
    "chain longer than the gap": Division("chain", chains=(16,)),
    "unworked": Division("chain", chains=(4,), worked_again=False),
    "none": Division("none"),
    "crook of nothing": Division("none", crook=(3,)),
}


@cache
def bridged(name: str, palm: int = 0) -> StitchMap:
    spec = replace(
        TALL_STITCHES, division=BRIDGES[name], gusset=replace(Gusset(), towards_palm=palm)
    )
    return mittens(spec)[0]


@pytest.mark.parametrize("palm", [0, -1, 1])
@pytest.mark.parametrize("name", BRIDGES)
def test_over_the_division_stitches_stand_over_what_they_are_worked_into(
    name: str, palm: int
) -> None:
    stitches = bridged(name, palm)
    rounds = rounds_of(stitches, "gusset")
    division = next(n for n, r in rounds.items() if r.phase == "division")
    chains = sum(op.do == "ch" for op in rounds[division].work)
    for style in STYLES.values():
        made, met, gaps = sheets("gusset", [stitches], style, "US"), 0, 0
        for drawn in made:
            rows = by_round(drawn)
            for number in {division, division + 1} & rows.keys():
                below = heads_by_number(rounds[number - 1], rows.get(number - 1, []))
                for s in rows[number]:
                    at = s.op.into[0] if s.op.into and s.op.counts else None
                    if isinstance(at, int) and at in below:
                        met += 1
                        if chains < 16 or number == division:
                            assert s.frame.origin.x == pytest.approx(below[at])
            if {division, division + 1} <= rows.keys():
                gaps += 1
                assert_gap_open(rows, division, bridged=bool(chains))
            assert_chart(drawn, stitches)
            assert {pair[1] for pair in touching(drawn, style)} <= {"colour"}
            assert off_the_page(drawn, style) == []
        aside = [op for op in rounds[division].work if op.held or op.do == "hold"]
        assert met >= len(aside) + 4
        assert gaps == 1


def assert_gap_open(rows: dict[int, list[PlacedStitch]], division: int, *, bridged: bool) -> None:
    """Nothing but what is worked into the bridge stands over the gap."""
    aside = [s for s in rows[division] if s.op.held or s.op.do == "hold"]
    right, left = aside[0].frame.origin.x, aside[-1].frame.origin.x
    over = [s for s in rows[division + 1] if left - 1 < s.frame.origin.x < right + 1]
    bridge = {s.frame.origin.x for s in rows[division] if s.op.do == "ch" and s.op.counts}
    assert all(min(abs(s.frame.origin.x - x) for x in bridge) < 1e-6 for s in over)
    assert bool(over) == bridged


@pytest.mark.parametrize("name", BRIDGES)
def test_the_crook_is_numbered_as_the_thumb_takes_it_up(name: str) -> None:
    stitches = bridged(name)
    thumb = rounds_of(stitches, "thumb")[1]
    crook = {p for op in thumb.work for p in op.into if isinstance(p, tuple) and p[0] == "crook"}
    drawn = chart("gusset", [stitches], STYLES["default"], "US")
    shown = [label for label in drawn.labels if tag(label, "data-role") == "crook"]
    assert [label.text for label in sorted(shown, key=lambda label: label.at.x)] == [
        str(n) for n in range(1, len(crook) + 1)
    ]
    division = next(
        r.number for r in rounds_of(stitches, "gusset").values() if r.phase == "division"
    )
    chains = [s for s in by_round(drawn)[division] if s.op.do == "ch" and s.op.counts]
    # The chain made last is taken up first.
    for label, chain in zip(sorted(shown, key=lambda s: s.at.x), reversed(chains), strict=False):
        assert label.at.x == pytest.approx(chain.frame.origin.x)
        assert label.at.y > chain.frame.origin.y


@pytest.mark.parametrize("growth", ["alternating", "inside", "first", "second"])
@pytest.mark.parametrize("every", [1, 2])
def test_markers_walk_from_the_marked_stitch_to_what_is_worked_into_it(
    growth: Literal["alternating", "inside", "first", "second"], every: int
) -> None:
    spec = replace(
        FIVE_SIZES, sizes=FIVE_SIZES.sizes[2:3], gusset=Gusset(growth=growth, every=every)
    )
    stitches = mittens(spec)[0]
    drawn = chart("gusset", [stitches], STYLES["default"], "US")
    rows, rounds = by_round(drawn), rounds_of(stitches, "gusset")
    lines = [line for line in drawn.lines if line.kind == "marker"]
    marked = [r for r in rounds.values() if r.markers and r.phase == "gusset"]
    assert len(lines) == 2 * len(marked)
    for r in marked:
        left = left_of_made(r)
        made_by = [i for i, op in enumerate(r.work) for _ in range(op.makes)]
        for _, number in r.markers:
            below = next(
                s for s in rows[r.number]
                if int(tag(s, "data-index")) == made_by[left.index(number)]
            )  # fmt: skip
            above = next(s for s in rows[r.number + 1] if s.op.into == (number,))
            assert any(
                abs(line.points[0].x - below.frame.origin.x) <= below.reach + 1e-6
                and above.frame.origin.y < line.points[1].y < line.points[0].y
                and line.points[0].y < below.frame.origin.y
                and line.points[1].x == pytest.approx(above.frame.origin.x)
                for line in lines
            )


@pytest.mark.parametrize("name", BRIDGES)
def test_a_division_right_below_the_crown_keeps_clear_of_the_heading(name: str) -> None:
    stitches = bridged(name)
    pieces = tuple(
        replace(p, rounds=tuple(r for r in p.rounds if r.phase != "hand")) for p in stitches.pieces
    )
    for style in STYLES.values():
        for drawn in sheets("gusset", [replace(stitches, pieces=pieces)], style, "US"):
            assert {pair[1] for pair in touching(drawn, style)} <= {"colour"}


@pytest.mark.parametrize("style", STYLES.values(), ids=lambda style: style.name)
def test_the_line_of_a_long_bridge_goes_round_what_stands_beside_the_gap(style: Style) -> None:
    stitches = bridged("chain longer than the gap")
    division = next(r for r in rounds_of(stitches, "gusset").values() if r.phase == "division")
    made = sheets("gusset", [stitches], style, "US")
    drawn = next(one for one in made if division.number in by_round(one))
    rules = [line for line in drawn.lines if line.kind == "rule" and len(line.points) == 5]
    bridge = [s for s in by_round(drawn)[division.number] if s.op.do == "ch"]
    ends = min(s.frame.origin.x for s in bridge), max(s.frame.origin.x for s in bridge)
    level = bridge[0].frame.origin.y
    assert len(rules) == 2
    for line in rules:
        assert line.points[-1].y == level < line.points[0].y
        assert min(abs(line.points[-1].x - end) for end in ends) < bridge[0].pitch
        assert not ends[0] < line.points[-2].x < ends[1]
