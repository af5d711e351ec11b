"""Lines that break around stitches and letters: what is left keeps clear, and no more is lost."""

from __future__ import annotations

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from gussetry.chart import Chart, Label, Line, LineKind, PlacedStitch
from gussetry.engrave import engrave
from gussetry.engrave.breaks import BROKEN, WHITE, Obstacles
from gussetry.export.svg import svg_bytes
from gussetry.stitchmap import Op
from gussetry.style import load_style
from gussetry.units import Frame, Point
from gussetry.verify.legibility import legibility

STYLE = load_style()


def _chart(kind: LineKind, line: tuple[Point, ...], do: str, words: str) -> Chart:
    """A stitch in the middle of a page, words below it, and a line."""
    stitch = PlacedStitch(Op(do, (0,)), Frame(Point(30, 30), Point(0, -1)),
                          2.3 if do.endswith(("inc", "2tog")) else 0.0, 4.6,
                          (("class", "stitch"), ("data-do", do)))  # fmt: skip
    label = Label("note", words, Point(30, 40), "middle", tags=(("data-role", "note"),))
    return Chart("key", "", "", 60, 60, (), (Line(kind, line),), (stitch,), (label,), ())


def test_a_line_through_a_stroke_loses_its_middle() -> None:
    obstacles = Obstacles([((Point(5, 0), Point(5, 10)), 0.25)], [])
    left, right = obstacles.broken((Point(0, 5), Point(10, 5)), 0.2)
    room = 0.25 + 0.1 + WHITE
    assert left[0] == Point(0, 5)
    assert right[-1] == Point(10, 5)
    assert math.isclose(left[-1].x, 5 - room, abs_tol=0.01)
    assert math.isclose(right[0].x, 5 + room, abs_tol=0.01)


def test_a_line_that_passes_nothing_stays_as_it_is() -> None:
    line = (Point(0, 5), Point(3, 5), Point(3, 9))
    assert Obstacles([((Point(5, 0), Point(5, 10)), 0.25)], []).broken(line, 0.2) == [line]


def test_nothing_is_left_of_a_line_within_an_outline() -> None:
    box = (Point(0, 0), Point(9, 0), Point(9, 9), Point(0, 9), Point(0, 0))
    assert Obstacles([], [box]).broken((Point(2, 2), Point(7, 7)), 0.2) == []


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    kind=st.sampled_from(BROKEN),
    do=st.sampled_from(("sc", "hdc", "dc", "ch", "slst", "hold", "join", "inc", "sc2tog", "fpdc")),
    turn=st.integers(0, 35),
    off=st.integers(-14, 14),
)
def test_no_line_touches_a_stitch_or_a_letter(kind: LineKind, do: str, turn: int, off: int) -> None:
    way = Point(math.cos(math.radians(5 * turn)), math.sin(math.radians(5 * turn)))
    middle = Point(30 - way.y * off, 33 + way.x * off)
    ends = tuple(Point(middle.x + way.x * t, middle.y + way.y * t) for t in (-22, 22))
    svg = svg_bytes(engrave(_chart(kind, ends, do, "quay, round 7"), STYLE))
    kinds = [found.kind for found in legibility(svg)]
    assert not {"line-on-glyph", "line-on-text"} & set(kinds)


def test_outlines_are_not_broken() -> None:
    ends = (Point(20, 30), Point(40, 30))
    svg = svg_bytes(engrave(_chart("outline", ends, "sc", "quay"), STYLE))
    assert "line-on-glyph" in {found.kind for found in legibility(svg)}
