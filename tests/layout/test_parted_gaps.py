"""A gap wider than its column is parted over sheets, and nothing of the division is lost."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest
from layout.sheets import tagged
from layout.test_division import bridged
from verify.breaking import bytes_of, paths, tree

from gussetry.chart import Chart
from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.layout import sheets
from gussetry.stitchmap import Round, StitchMap
from gussetry.style import load_style
from gussetry.verify import Asked, recount
from gussetry.verify.legibility import Limits

LOOK = replace(load_style("default"), width=76.0, height=400.0, stitch=5.0, least_stitch=5.0)
BRIDGES = ("join", "one pair", "chain", "unworked", "none", "crook of nothing")


@cache
def parted(name: str) -> tuple[Chart, ...]:
    return sheets("gusset", [bridged(name)], LOOK, "US")


def svgs_of(name: str) -> list[bytes]:
    return [svg_bytes(engrave(one, LOOK)) for one in parted(name)]


def found(svgs: list[bytes], name: str) -> set[str]:
    asked = Asked("gusset", (bridged(name),), limits=Limits(LOOK.least_text, LOOK.least_stitch))
    return {finding.kind for finding in recount(svgs, asked)}


def division_of(stitches: StitchMap) -> Round:
    hand = stitches.piece("hand")
    assert hand is not None
    return next(r for r in hand.rounds if r.phase == "division")


@pytest.mark.parametrize("name", BRIDGES)
def test_a_gap_wider_than_its_column_is_parted(name: str) -> None:
    division = division_of(bridged(name))
    aside = {str(i) for i, op in enumerate(division.work) if op.held or op.do == "hold"}
    shares = []
    for one in parted(name):
        assert one.width <= LOOK.width
        assert min(s.pitch for s in one.stitches) >= LOOK.least_stitch
        drawn = {
            tagged(s, "index")
            for s in one.stitches
            if tagged(s, "round") == str(division.number) and not tagged(s, "repeat")
        }
        shares.append(aside & drawn)
    assert sum(bool(share) for share in shares) > 1
    assert set().union(*shares) == aside
    assert found(svgs_of(name), name) == set()


@pytest.mark.parametrize("name", BRIDGES)
def test_every_number_of_the_crook_stands_on_a_sheet(name: str) -> None:
    thumb = bridged(name).piece("thumb")
    assert thumb is not None
    crook = {p for op in thumb.rounds[0].work for p in op.into if p in op.into and _is_crook(p)}
    said = {
        label.text for one in parted(name) for label in one.labels
        if tagged(label, "role") == "crook"
    }  # fmt: skip
    assert said == {str(number) for number in range(1, len(crook) + 1)}


def _is_crook(place: object) -> bool:
    return isinstance(place, tuple) and place[0] == "crook"


@pytest.mark.parametrize("name", ["join", "chain", "none"])
def test_what_leads_over_the_gap_goes_to_the_edge_of_each_sheet(name: str) -> None:
    division = division_of(bridged(name))
    over = 0
    for one in parted(name):
        own = [s for s in one.stitches if tagged(s, "round") == str(division.number)]
        if not own:
            continue
        (level,) = {round(s.frame.origin.y, 3) for s in own if s.op.do != "ch"}
        xs = [s.frame.origin.x for s in one.stitches if tagged(s, "round")]
        lines = [
            line for line in one.lines
            if line.kind in ("join", "rule") and 0 < level - min(p.y for p in line.points) < 12
        ]  # fmt: skip
        ends = {p.x for line in lines for p in line.points}
        aside = [i for i, op in enumerate(division.work) if op.held or op.do == "hold"]
        goes_on = str(aside[-1]) not in {tagged(s, "index") for s in own}
        edge = min(xs) if goes_on else max(xs)
        over += any(abs(x - edge) < LOOK.stitch for x in ends)
    assert over > 1


def lost(role: str) -> Callable[[list[bytes]], list[bytes]]:
    """The last sheet that has one without a mark of the role."""

    def spoil(svgs: list[bytes]) -> list[bytes]:
        for place in reversed(range(len(svgs))):
            root = tree(svgs[place])
            marks = paths(root, data_role=role)
            if marks:
                next(p for p in root.iter() if marks[0] in list(p)).remove(marks[0])
                return [*svgs[:place], bytes_of(root), *svgs[place + 1 :]]
        raise AssertionError(role)

    return spoil


@pytest.mark.parametrize("role", ["crook", "marked", "section", "register", "joined"])
def test_what_a_sheet_loses_is_found(role: str) -> None:
    assert found(lost(role)(svgs_of("join")), "join")
