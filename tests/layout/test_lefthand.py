"""Left-handed charts: the mirror of the whole, letters upright, found out where they are not."""

import itertools
import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Literal

import pytest
from layout.sheets import SPECS, chart, mittens, off_the_page, tagged, touching

from gussetry.chart import Chart, Label, PlacedStitch
from gussetry.diagnostics import Faults
from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.grading import grade
from gussetry.layout import HANDED, kinds, sheets
from gussetry.manifest import asset
from gussetry.plan import plan
from gussetry.stitchmap import StitchMap
from gussetry.style import Style, load_style
from gussetry.units import Point
from gussetry.verify import Asked, Disagreement, recount

MITTENS = [m for spec in SPECS for m in mittens(spec)[:2]]
DRAWN = [(m, kind) for m in MITTENS for kind in kinds(m) if kind in HANDED]
SIDED = [m for m in MITTENS if m.mitten != "both"]
STYLES = ("default", "large-print")


def look(style: str, hand: Literal["right", "left", "both"] = "left") -> Style:
    return replace(load_style(style), hand=hand)


def named(case: object) -> str:
    if isinstance(case, StitchMap):
        return f"{case.pattern} {case.size} {case.mitten}"
    return str(case)


def both(stitches: StitchMap, kind: str, style: str = "default") -> tuple[Chart, Chart]:
    """The right-handed chart and the left-handed one."""
    right, left = (chart(kind, [stitches], look(style, hand), "US") for hand in ("right", "left"))
    return right, left


def place(shown: PlacedStitch | Label) -> Point:
    return shown.frame.origin if isinstance(shown, PlacedStitch) else shown.at


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize(("stitches", "kind"), DRAWN, ids=named)
def test_left_handed_charts_recount(stitches: StitchMap, kind: str, style: str) -> None:
    left, right = (sheets(kind, [stitches], look(style, hand), "US") for hand in ("left", "right"))
    svgs = [svg_bytes(engrave(drawn, look(style))) for drawn in left]
    assert recount(svgs, Asked(kind, (stitches,), hand="left")) == ()
    # Headings of unlike lengths may part them at other rows.
    met = [{pair for one in made for pair in touching(one, look(style))} for made in (left, right)]
    assert met[0] == met[1]
    assert len(left) == len(right)
    assert not any(off_the_page(drawn, look(style)) for drawn in left)


@pytest.mark.parametrize(("stitches", "kind"), DRAWN, ids=named)
def test_every_place_is_mirrored_and_no_letter_is(stitches: StitchMap, kind: str) -> None:
    right, left = both(stitches, kind)
    pairs = [
        (a, b)
        for a, b in itertools.chain(
            zip(right.stitches, left.stitches, strict=True),
            # Headings and keys may run in other lines: what stands beside rounds is compared.
            zip(*([x for x in c.labels if tagged(x, "round")] for c in (right, left)), strict=True),
        )
        if ("class", "symbol") not in a.tags
    ]
    assert len({round(place(a).x + place(b).x, 6) for a, b in pairs}) == 1
    # A longer heading may stand in more lines, above them all.
    assert len({round(place(a).y - place(b).y, 6) for a, b in pairs}) == 1
    for a, b in pairs:
        if isinstance(a, Label) and isinstance(b, Label):
            assert (a.text, a.turned) == (b.text, b.turned)
            assert {a.anchor, b.anchor} in ({"middle"}, {"start", "end"})
        elif isinstance(a, PlacedStitch) and isinstance(b, PlacedStitch):
            assert (a.op, a.tags, a.reach) == (b.op, b.tags, b.reach)
            assert b.frame.up == (-a.frame.up.x, a.frame.up.y)
    for one, other in zip(right.stitches, left.stitches, strict=True):
        if ("class", "symbol") in one.tags:
            assert one.frame.up == other.frame.up == (0, -1)


@pytest.mark.parametrize(("stitches", "kind"), DRAWN, ids=named)
def test_words_follow_the_hand(stitches: StitchMap, kind: str) -> None:
    right, left = both(stitches, kind)
    ways = ["right to left", "clockwise"]
    for drawn in (right, left):
        notes = " ".join(x.text for x in drawn.labels if tagged(x, "role") == "note")
        assert notes in drawn.description
    assert ", left-handed" in left.title
    assert ", left-handed" not in right.title
    found = re.findall(r"right to left|left to right|\b(?:anti)?clockwise", left.description)
    told = re.findall(r"right to left|left to right|\b(?:anti)?clockwise", right.description)
    assert told[0] in ways
    swapped = {
        "right to left": "left to right",
        "left to right": "right to left",
        "clockwise": "anticlockwise",
    }
    assert found == [swapped[way] for way in told]


@pytest.mark.parametrize(("stitches", "kind"), DRAWN[:8], ids=named)
def test_a_chart_that_only_says_left_is_found(stitches: StitchMap, kind: str) -> None:
    right, left = both(stitches, kind)
    asked = Asked(kind, (stitches,), hand="left")
    tags = tuple(t for t in left.tags if t[0] in ("data-hand", "data-mitten"))
    said = replace(right, tags=(*(t for t in right.tags if t[0] != "data-mitten"), *tags))
    found = {f.kind for f in recount(svg_bytes(engrave(said, look("default"))), asked)}
    assert found & {"direction", "tag", "kind", "marker"}
    # And one that is mirrored, and does not say so.
    mute = replace(left, tags=tuple(t for t in left.tags if t[0] != "data-hand"))
    found = {f.kind for f in recount(svg_bytes(engrave(mute, look("default"))), asked)}
    assert {"root"} < found


def roots(found: Sequence[Disagreement]) -> list[tuple[str, str]]:
    """What the root's tags have wrong, where nothing else is but the title."""
    assert {f.kind for f in found} <= {"root", "title"}
    return [(f.expected, f.found) for f in found if f.kind == "root"]


def test_a_right_handed_chart_is_not_taken_for_a_left_handed_one() -> None:
    stitches, kind = DRAWN[0]
    right, left = both(stitches, kind)
    svg = svg_bytes(engrave(right, look("default", "right")))
    found = recount(svg, Asked(kind, (stitches,), hand="left"))
    assert roots(found) == [("left", "")]
    svg = svg_bytes(engrave(left, look("default")))
    found = recount(svg, Asked(kind, (stitches,)))
    assert roots(found) == [("", "left")]


@pytest.mark.parametrize("stitches", SIDED, ids=named)
def test_left_and_right_mitten_swap(stitches: StitchMap) -> None:
    other = {"left": "right", "right": "left"}[stitches.mitten]
    left = chart("gusset", [stitches], look("default"), "US")
    assert f", {other} mitten, left-handed" in left.title
    assert tagged(left, "mitten") == other
    unswapped = replace(
        left,
        tags=tuple((k, stitches.mitten if k == "data-mitten" else v) for k, v in left.tags),
    )
    svg = svg_bytes(engrave(unswapped, look("default")))
    found = recount(svg, Asked("gusset", (stitches,), hand="left"))
    assert roots(found) == [(other, stitches.mitten)]


def test_the_style_says_whose_charts_are_drawn() -> None:
    spec = SPECS[4]
    grading = grade(spec)
    names = {
        hand: [job.name for job in plan(spec, grading, look("default", hand)).jobs]
        for hand in ("right", "left", "both")
    }
    assert not any("lefthand" in name for name in names["right"])
    assert set(names["both"]) == set(names["right"]) | set(names["left"])
    assert {"M/gusset-left-lefthand", "M/crown-right-lefthand"} < set(names["left"])
    assert {"M/stripes-left", "M/schematic-right", "schematic", "key"} < set(names["left"])
    assert not {"M/gusset-left", "M/crown-right"} & set(names["left"])
    gone = {one.file for one in plan(spec, grading, look("default", "left")).absent}
    assert {"M/gusset-left.svg", "M/cuff-right.svg"} < gone
    assert plan(spec, grading, look("default", "both")).absent == ()


def test_a_left_handed_job_works_the_other_mittens_map() -> None:
    spec = SPECS[4]
    jobs = {job.name: job for job in plan(spec, grade(spec), look("default", "both")).jobs}
    job = jobs["M/gusset-left-lefthand"]
    assert job.maps[0].mitten == "right"
    assert job.asked().hand == "left"
    assert jobs["M/gusset-left"].maps[0].mitten == "left"


def test_the_manifest_says_whose_chart_it_is() -> None:
    stitches = MITTENS[0]
    for kind, hands in (("gusset", ["right", "left"]), ("stripes", [None, None])):
        entries = [asset(kind, drawn, 300, "", None) for drawn in both(stitches, kind)]
        assert [entry.hand for entry in entries] == hands
    key = asset("key", both(stitches, "key")[1], 300, "", None)
    assert key.hand is None


def test_what_shows_no_way_of_working_is_the_same_for_both_hands() -> None:
    stitches = MITTENS[0]
    for kind in ("stripes", "schematic", "key"):
        right, left = both(stitches, kind)
        assert right == left


@pytest.mark.parametrize("said", ["Left", "lefty", "1"])
def test_another_hand_is_refused_at_its_line(tmp_path: Path, said: str) -> None:
    sheet = tmp_path / "mine.yaml"
    sheet.write_text(f"dpi: 150\nhand: {said}\n")
    with pytest.raises(Faults) as fault:
        load_style(str(sheet))
    (problem,) = fault.value.problems
    assert problem.code == "not-a-hand"
    assert problem.span is not None
    assert problem.span.line == 2
