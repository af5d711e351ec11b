"""Counts whose rows have no room beside them: their parts stand between the markers' lines."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from layout.sheets import FIVE_SIZES, mittens, tagged

from gussetry.chart import Chart, Label
from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.layout import sheets
from gussetry.stitchmap import sections
from gussetry.style import Style, load_style
from gussetry.units import Point
from gussetry.verify import Asked, recount
from gussetry.verify.reading import read
from gussetry.verify.svg import Shape

LARGEST = mittens(FIVE_SIZES)[-1]
PHONE = load_style("phone")
STYLES = (PHONE, load_style("large-print"))
LED = 1.5
"""A marker's line is so long at least, mm: common practice, no source."""
CLEAR = 0.8
"""White between a marker's line and the foot of what it leads to at least, mm."""


def drawn(style: Style) -> tuple[Chart, ...]:
    return sheets("gusset", [LARGEST], style, "US")


def found(charts: tuple[Chart, ...], style: Style) -> set[str]:
    svgs = [svg_bytes(engrave(one, style)) for one in charts]
    return {finding.kind for finding in recount(svgs, Asked("gusset", (LARGEST,)))}


def shapes(style: Style) -> list[list[Shape]]:
    return [list(read(svg_bytes(engrave(one, style))).shapes) for one in drawn(style)]


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.name)
def test_the_parts_of_a_count_are_its_rounds_own_and_recount(style: Style) -> None:
    hand = LARGEST.piece("hand")
    assert hand is not None
    rounds = {str(r.number): r for r in hand.rounds}
    for chart in drawn(style):
        parts: dict[str, list[Label]] = {}
        for label in chart.labels:
            if tagged(label, "role") == "section":
                parts.setdefault(tagged(label, "round"), []).append(label)
        assert parts
        for number, labels in parts.items():
            wanted = sections(rounds[number])
            if wanted is not None:
                labels.sort(key=lambda label: -label.at.x)
                assert tuple(int(label.text) for label in labels) == wanted
    assert found(drawn(style), style) == set()


@pytest.mark.parametrize("name", ["default", "ink-saver", "clear-print", "phone", "large-print"])
def test_a_marker_is_one_line_that_ends_clear_of_what_it_leads_to(name: str) -> None:
    lines = 0
    for page in shapes(load_style(name)):
        stitches = [s for s in page if "stitch" in s.classes]
        middles = sorted({round(s.box.centre.imag, 1) for s in stitches})
        for marker in (s for s in page if s.tag("role") == "marker"):
            top, over = marker.box.top, marker.box.bottom
            if not any(level < top for level in middles):
                # It leads off the sheet.
                continue
            lines += 1
            assert len(marker.subs) == 1
            # Its boxes are of the ink: half a pen at both ends.
            assert over - top >= LED
            above = [s for s in stitches if s.box.bottom < over]
            assert min(top - s.box.bottom for s in above) >= CLEAR - marker.pen
    assert lines >= 8


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.name)
def test_no_words_stand_in_the_way_of_a_marker(style: Style) -> None:
    for page in shapes(style):
        words = [s for s in page if s.tag("role") in ("count", "section", "sum")]
        for line in (s for s in page if s.tag("role") == "marker"):
            (start, end), box = (line.box.left, line.box.right), line.box
            assert not any(
                s.box.left < end and s.box.right > start
                and s.box.top < box.bottom and s.box.bottom > box.top
                for s in words
                if s.tag("role") != "section"
            )  # fmt: skip


def _changed(chart: Chart, change: Callable[[Label], Label | None], nth: int) -> Chart:
    own = [label for label in chart.labels if tagged(label, "role") == "section"]
    new = change(own[nth])
    kept = (new if label is own[nth] else label for label in chart.labels)
    return replace(chart, labels=tuple(label for label in kept if label is not None))


def _lost(label: Label) -> Label | None:
    return None


def _another(label: Label) -> Label:
    return replace(label, text=str(int(label.text) + 1))


def _elsewhere(label: Label) -> Label:
    # Over the line, from whichever side.
    way = -40.0 if label.anchor == "start" else 40.0
    return replace(label, at=label.at.plus(Point(way, 0.0)))


def _above(label: Label) -> Label:
    return replace(label, at=label.at.plus(Point(0.0, -8.0)))


@pytest.mark.parametrize("change", [_lost, _another, _elsewhere, _above])
@pytest.mark.parametrize("nth", [0, 1, 2])
def test_a_part_that_is_wrong_is_found(change: Callable[[Label], Label | None], nth: int) -> None:
    (chart,) = drawn(PHONE)
    assert found((_changed(chart, change, nth),), PHONE) & {"printed", "place"}
