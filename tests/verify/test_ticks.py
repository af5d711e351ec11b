"""Boxes to tick: one a round where the style has them; moved, lost or doubled, they are found."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from layout.sheets import FIVE_SIZES, SAMPLE, mittens

from gussetry.chart import Chart, Line
from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.layout import sheets
from gussetry.pipeline import graded
from gussetry.stitchmap import StitchMap
from gussetry.style import Style, load_style
from gussetry.units import Point
from gussetry.verify import Asked, recount

LOOK = replace(load_style("default"), tick_boxes=True)
LARGE = replace(load_style("large-print"), tick_boxes=True)
MAP = mittens(SAMPLE)[0]


@cache
def _drawn(kind: str, maps: tuple[StitchMap, ...], look: Style = LOOK) -> tuple[Chart, ...]:
    return sheets(kind, maps, look, "US")


def _findings(
    charts: tuple[Chart, ...], kind: str, maps: tuple[StitchMap, ...], look: Style = LOOK
) -> tuple[str, ...]:
    svgs = [svg_bytes(engrave(chart, look)) for chart in charts]
    asked = Asked(kind, maps, hand=look.hand, tick_boxes=True)
    return tuple(finding.kind for finding in recount(svgs, asked))


def _is_box(line: Line) -> bool:
    return ("data-role", "tick") in line.tags


@pytest.mark.parametrize(
    "look", [LOOK, LARGE, replace(LOOK, hand="left")], ids=lambda look: f"{look.name} {look.hand}"
)
@pytest.mark.parametrize("kind", ["cuff", "gusset", "thumb", "crown"])
def test_every_round_has_its_box(kind: str, look: Style) -> None:
    charts = _drawn(kind, (MAP,), look)
    assert any(_is_box(line) for chart in charts for line in chart.lines)
    assert _findings(charts, kind, (MAP,), look) == ()


def test_several_sizes_share_a_box() -> None:
    maps = mittens(FIVE_SIZES)[:2]
    assert _findings(_drawn("gusset", maps), "gusset", maps) == ()


def test_a_style_without_has_none() -> None:
    plain = load_style("default")
    (chart,) = sheets("gusset", (MAP,), plain, "US")
    assert not any(_is_box(line) for line in chart.lines)
    svg = svg_bytes(engrave(chart, plain))
    assert {f.kind for f in recount(svg, Asked("gusset", (MAP,), tick_boxes=True))} == {"tick"}
    (boxed,) = _drawn("gusset", (MAP,))
    found = recount(svg_bytes(engrave(boxed, LOOK)), Asked("gusset", (MAP,)))
    assert {f.kind for f in found} == {"tick"}


def _with(chart: Chart, place: int, *lines: Line) -> Chart:
    return replace(chart, lines=(*chart.lines[:place], *lines, *chart.lines[place + 1 :]))


def _lost(chart: Chart, place: int) -> Chart:
    return _with(chart, place)


def _doubled(chart: Chart, place: int) -> Chart:
    return _with(chart, place, chart.lines[place], chart.lines[place])


def _moved(chart: Chart, place: int) -> Chart:
    line = chart.lines[place]
    return _with(
        chart, place, replace(line, points=tuple(p.plus(Point(0, 5.3)) for p in line.points))
    )


def _squashed(chart: Chart, place: int) -> Chart:
    line = chart.lines[place]
    flat = tuple(Point(p.x, line.points[0].y + (p.y - line.points[0].y) / 2) for p in line.points)
    return _with(chart, place, replace(line, points=flat))


@pytest.mark.parametrize("spoil", [_lost, _doubled, _moved, _squashed], ids=lambda s: s.__name__)
def test_a_spoilt_box_is_found(spoil: Callable[[Chart, int], Chart]) -> None:
    (chart,) = _drawn("gusset", (MAP,))
    boxes = [i for i, line in enumerate(chart.lines) if _is_box(line)]
    for place in (boxes[0], boxes[len(boxes) // 2], boxes[-1]):
        assert "tick" in _findings((spoil(chart, place),), "gusset", (MAP,))


@pytest.mark.parametrize("look", [LOOK, replace(LOOK, hand="left")], ids=["right", "left"])
def test_a_crowns_boxes_are_one_a_round_at_its_number(look: Style) -> None:
    charts = _drawn("crown", (MAP,), look)
    (chart,) = charts
    boxes = [line for line in chart.lines if _is_box(line)]
    crown = [r for r in MAP.piece("hand").counted if r.phase.startswith(("crown", "close"))]
    assert [dict(line.tags)["data-round"] for line in boxes] == [str(r.number) for r in crown]
    none = replace(chart, lines=tuple(line for line in chart.lines if not _is_box(line)))
    assert _findings((none,), "crown", (MAP,), look) == ("tick",)
    lost = replace(chart, lines=tuple(line for line in chart.lines if line is not boxes[0]))
    assert _findings((lost,), "crown", (MAP,), look) == ("tick",)
    # Where the round ends, beyond its count, it would be read as the count's.
    (count,) = (
        x
        for x in chart.labels
        if ("data-role", "count") in x.tags and x.tags[1:] == boxes[0].tags[1:]
    )
    middle = sum(p.x for p in boxes[0].points) / 4
    by = count.at.x + (count.at.x - middle) / 3 - middle
    aside = tuple(p.plus(Point(by, 0)) for p in boxes[0].points)
    moved = replace(
        chart,
        lines=tuple(
            replace(line, points=aside) if line is boxes[0] else line for line in chart.lines
        ),
    )
    assert _findings((moved,), "crown", (MAP,), look) == ("tick",)


def _levels(chart: Chart) -> Counter[float]:
    return Counter(round(line.points[0].y, 3) for line in chart.lines if _is_box(line))


def test_the_boxes_of_a_sum_stand_in_fives() -> None:
    (chart,) = _drawn("cuff", (MAP,))
    cuff = MAP.piece("cuff")
    assert cuff is not None
    levels = _levels(chart)
    assert max(levels.values()) == 5
    assert levels.total() == len(cuff.counted)


def test_a_sixth_box_in_a_line_is_found() -> None:
    (chart,) = _drawn("cuff", (MAP,))
    boxes = [i for i, line in enumerate(chart.lines) if _is_box(line)]
    full, levels = next(
        (i, {chart.lines[i].points[0].y, chart.lines[boxes[n + 1]].points[0].y})
        for n, i in enumerate(boxes[:-1])
        if _levels(chart)[round(chart.lines[i].points[0].y, 3)] == 5
        and chart.lines[boxes[n + 1]].points[0].y > chart.lines[i].points[0].y
    )
    after = chart.lines[boxes[boxes.index(full) + 1]]
    up = replace(
        after, points=tuple(p.plus(Point(-8.0, min(levels) - max(levels))) for p in after.points)
    )
    assert "tick" in _findings((_with(chart, chart.lines.index(after), up),), "cuff", (MAP,))


def test_rounds_that_one_size_has_beyond_have_lines_of_their_own_with_its_name() -> None:
    example = Path(__file__).parents[2] / "examples" / "skerry-striped.yaml"
    every = graded(example).grading.maps
    maps = tuple(stitches for stitches in every if stitches.size in ("S", "M"))
    (chart,) = _drawn("cuff", maps)
    alone = [line for line in chart.lines if _is_box(line) and dict(line.tags)["data-size"] == "M"]
    assert alone
    names = [label for label in chart.labels if ("data-role", "size") in label.tags]
    for box in alone:
        middle = (box.points[0].y + box.points[2].y) / 2
        assert any(label.text == "M" and abs(label.at.y - middle) < 2 for label in names)
    assert _findings((chart,), "cuff", maps) == ()
