"""What the recount makes of single outlines: symbols by their strokes, labels by their letters."""

from __future__ import annotations

import cmath
import math

import pytest
from fontTools.pens.recordingPen import RecordingPen
from fontTools.svgLib.path import parse_path
from hypothesis import given, settings
from hypothesis import strategies as st
from verify.pen import outline, symbol

from gussetry.stitchmap import MAKES, Op
from gussetry.verify.findings import UnreadableError
from gussetry.verify.glyphs import contours_of, decode, shows
from gussetry.verify.paths import box_of, flattened, subpaths
from gussetry.verify.rows import grid_rows, pitch_of, ring_centre
from gussetry.verify.strokes import Symbol, read_symbol, symbol_of
from gussetry.verify.words import operations, round_sum

TEXTS = (
    "36",
    "20 · m · 11 · m · 20 = 53",
    "18 (20, 22) cm · 7 (7¾, 8¾) in",
    "rounds 14–22: 36 sc",
    "2 inc, sc",
    "½ × 3",
    "sc2tog, 11 sc",
    "6",
    "9",
    "11",
    "A",
)

ways = st.floats(0, 2 * math.pi).map(lambda a: cmath.rect(1, a))
ops = st.builds(
    Op,
    st.sampled_from(sorted(set(MAKES) - {"turn"})),
    st.sampled_from([(0,), (("row end", 3),), (("seam", 0),)]),
    held=st.booleans(),
    loop=st.sampled_from(["both", "back", "front"]),
    of=st.sampled_from([None, "sc", "hdc", "dc"]),
)


@settings(max_examples=300, derandomize=True)
@given(ops, ways, st.floats(1.5, 4))
def test_every_symbol_is_known_from_every_side(op: Op, up: complex, spread: float) -> None:
    data = symbol(op, 50 + 60j, up, spread)
    filled, stroked = op.do in ("slst", "seam"), op.do != "slst"
    seen = read_symbol(subpaths(data), up, filled=filled, stroked=stroked)
    assert seen == symbol_of(op, "sc")


@pytest.mark.parametrize("do", ["hdc", "dc", "inc", "sc2tog", "hdc2tog"])
def test_upside_down_is_no_stitch_of_its_kind(do: str) -> None:
    seen = read_symbol(subpaths(symbol(Op(do), 9 + 9j)), 1j, filled=False, stroked=True)
    assert seen is None or seen.do != do


@pytest.mark.parametrize(
    "data",
    [
        "M0 0L0 4",  # a leg without a bar
        "M0 0L0 4M-1 1L1 1",  # its bar is too low
        "M0 0L0 4M-1 2L1 2M-1 2.4L1 2.4",  # two bars
        "M0 0L0 4M-1 2.4L1 1.6",  # a slanted bar and no cap
        "M0 0L0 4M-1 0L1 0M-1 2L1 2",  # a cap over a level bar
        "M-1 0L0 4L1 0M-1 2L1 2",  # one bar over both legs
        "M0 0L4 0L4 9L0 9Z",  # not square
        "M0 0L0 4M-1 2L1 2M5 5A1 1 0 0 1 6 5",  # a stray arc
        "M0 0L1 1L2 0L3 1L4 0",  # four strokes
        "M0 0L2 1L3 5Z",
    ],
)
def test_other_strokes_are_no_symbol(data: str) -> None:
    assert read_symbol(subpaths(data), -1j, filled=False, stroked=True) is None


@pytest.mark.parametrize(
    ("data", "do"),
    [
        ("M-2 -1L0 0L-2 1ZM2 -1L0 0L2 1Z", "join"),
        ("M0 0L-2 -1L-2 1L0 0L2 1L2 -1Z", "join"),
        ("M-1 -1L1 -1L1 1L-1 1L-1 -1", "hold"),
        ("M-2 0L-1 1M-1 1L1 -1M1 -1L2 0", "?"),
        ("M0 3L-1 0L1 3", "?"),
        ("M-1 3L0 0L1 3M-0.9 1.73L-0.1 1.27M0.1 1.27L0.9 1.73", "sc2tog"),
        ("M-1 3L0 0L1 3M-1.2 1.9L0.2 1.1M-0.2 1.1L1.2 1.9", "?"),
        ("M0 3L0 1.5L0 0M-1 1.5L1 1.5", "sc"),
        ("M-2 -1L0 0L-2 1ZM2 -1L0.5 0L2 1Z", "?"),
        ("M0 0L0 4A1 1 0 0 0 2 4M-1 0L1 0", "fphdc"),
        ("M2 4A1 1 0 0 1 0 4L0 0M-1 0L1 0", "fphdc"),
        ("M0 0L0 4C0 5.3 -2 5.3 -2 4M-1 0L1 0", "bphdc"),
        ("M0 0L0 4A1 1 0 0 1 -2 4M-1 0L1 0M-0.8 2.4L0.8 1.6", "bpdc"),
        ("M0 0L0 4A1 1 0 0 1 -2 4M-1 2L1 2", "?"),  # sc has no post
        ("M0 0L0 4M0.3 4A1 1 0 0 0 2.3 4M-1 0L1 0", "?"),  # the hook has come off
        ("M0 0L0 4A1 1 0 0 1 2 4M-1 0L1 0", "?"),  # it stands up instead of hanging
        ("M0 0L0 4A1 1 0 0 0 2 4M0 4A1 1 0 0 1 -2 4M-1 0L1 0", "?"),  # two hooks
        ("M0 0L0 4A1 1 0 0 0 2 4M-1 0L1 0M-1 -0.6L1 -0.6", "?"),  # never set aside
    ],
)
def test_the_same_symbol_drawn_in_other_strokes(data: str, do: str) -> None:
    seen = read_symbol(subpaths(data), -1j, filled=False, stroked=True)
    assert (seen.do if seen else "?") == do


def test_a_disc_must_be_filled_and_an_oval_open() -> None:
    disc, oval = (subpaths(symbol(Op(do), 5 + 5j)) for do in ("slst", "ch"))
    assert read_symbol(disc, -1j, filled=True, stroked=False) == Symbol("slst")
    assert read_symbol(disc, -1j, filled=False, stroked=True) is None
    assert read_symbol(oval, -1j, filled=False, stroked=True) == Symbol("ch")
    assert read_symbol(oval, -1j, filled=True, stroked=False) is None
    assert read_symbol(oval, 1, filled=False, stroked=True) is None


_DISC = "M0.4 0A0.4 0.4 0 0 1 -0.4 0A0.4 0.4 0 0 1 0.4 0Z"


@pytest.mark.parametrize(
    ("data", "do"),
    [
        (f"M-1.4 -1L1.4 -1M-1.4 1L1.4 1{_DISC}", "seam"),
        (f"{_DISC}M1.4 -1L0 -1L-1.4 -1M-1.4 1L1.4 1", "seam"),
        (f"M-1.4 -1L1.4 -1M-1.4 -1.6L1.4 -1.6{_DISC}", "?"),  # both over the disc
        (f"M-1.4 -1L1.4 -1M-1 1L1 1{_DISC}", "?"),  # of two lengths
        (f"M-1.4 -1L1.4 -0.6M-1.4 1L1.4 1{_DISC}", "?"),  # not level
        (f"M-1.4 -0.5L1.4 -0.5M-1.4 0.5L1.4 0.5{_DISC}", "?"),  # the disc too near
        (f"M-0.4 -1L2.4 -1M-0.4 1L2.4 1{_DISC}", "?"),  # beside the disc
        (f"M-1.4 -1L1.4 -1{_DISC}", "?"),  # one edge
        (f"M-1 -1L-1 1M1 -1L1 1{_DISC}", "?"),  # upright
        ("M-1.4 -1L1.4 -1M-1.4 1L1.4 1M-0.4 -0.2L0.4 -0.2L0.4 0.2L-0.4 0.2Z", "?"),  # no disc
    ],
)
def test_a_seam_is_a_disc_between_two_edges(data: str, do: str) -> None:
    seen = read_symbol(subpaths(data), -1j, filled=True, stroked=True)
    assert (seen.do if seen else "?") == do
    assert read_symbol(subpaths(data), -1j, filled=False, stroked=True) is None


@pytest.mark.parametrize("turned", [0, 90, -90])
@pytest.mark.parametrize("weight", ["Regular", "Bold"])
@pytest.mark.parametrize("text", TEXTS)
def test_a_label_is_read_as_it_is_drawn(text: str, weight: str, turned: float) -> None:
    contours = contours_of(subpaths(outline(text, 40, 50, 2.4, weight=weight, turned=turned)))
    assert shows(contours, text)
    assert decode(contours) == text
    for other in TEXTS:
        assert (other == text) == shows(contours, other)


@pytest.mark.parametrize("text", TEXTS)
def test_a_label_rewritten_with_other_curves_is_still_read(text: str) -> None:
    pen = RecordingPen()
    parse_path(outline(text, 40, 50, 2.4), pen)
    data, here = "", (0.0, 0.0)
    for name, points in pen.value:
        if name == "qCurveTo":
            (cx, cy), (x, y) = points
            first = (here[0] + 2 * (cx - here[0]) / 3, here[1] + 2 * (cy - here[1]) / 3)
            second = (x + 2 * (cx - x) / 3, y + 2 * (cy - y) / 3)
            data += "C" + " ".join(f"{a:.3f} {b:.3f}" for a, b in (first, second, (x, y)))
        elif name in ("moveTo", "lineTo"):
            data += name[0].upper() + f"{points[0][0]:.3f} {points[0][1]:.3f}"
        else:
            data += "Z"
        here = points[-1] if points else here
    contours = contours_of(subpaths(data))
    assert "C" not in data or not shows(contours, text)
    assert decode(contours) == text


def test_the_same_letters_in_relative_steps() -> None:
    data = "M10 20q1 2 3 4l-3 1zm5 5h2v3zM1 1l2 2z"
    absolute = "M10 20Q11 22 13 24L10 25ZM15 25L17 25L17 28ZM1 1L3 3Z"
    for one, other in zip(subpaths(data), subpaths(absolute), strict=True):
        assert (one.start, one.steps, one.closed) == (other.start, other.steps, other.closed)
        assert one.points == pytest.approx(other.points)


@settings(max_examples=80, derandomize=True)
@given(
    st.tuples(st.floats(5, 40), st.floats(5, 40), st.floats(-90, 90)),
    st.tuples(st.floats(3, 60), st.floats(-60, 60)),
    st.booleans(),
    st.booleans(),
)
def test_arcs_run_where_the_library_draws_them(
    shape: tuple[float, float, float], end: tuple[float, float], large: bool, sweep: bool
) -> None:
    rx, ry, turn = shape
    data = f"M0 0A{rx:.3f} {ry:.3f} {turn:.3f} {large:d} {sweep:d} {end[0]:.3f} {end[1]:.3f}"
    pen = RecordingPen()
    parse_path(data, pen)
    (ours,) = (flattened(sub, 256) for sub in subpaths(data))
    here = 0j
    for name, points in pen.value:
        if name == "curveTo":
            a, b, c = (complex(*point) for point in points)
            middle = (here + 3 * a + 3 * b + c) / 8
            assert min(abs(middle - p) for p in ours) < 0.02 * max(rx, ry, abs(complex(*end)))
        if points:
            here = complex(*points[-1])


def test_a_half_circle_bulges_by_its_radius() -> None:
    # SVG 1.1, clause 8.3.8: sweep 1 is drawn in the direction of positive angles.
    (upper,) = subpaths("M-2 0A2 2 0 0 1 2 0")
    (lower,) = subpaths("M-2 0A2 2 0 0 0 2 0")
    assert flattened(upper)[4] == pytest.approx(-2j)
    assert flattened(lower)[4] == pytest.approx(2j)


@pytest.mark.parametrize(
    "data",
    ["L0 0", "M0", "M0 0L1", "M0 0A1 1 0 2 0 1 1", "M0 0Lnan 1", "M0 0L1e99 0", "!", "M0 0W"],
)
def test_malformed_path_data_are_refused(data: str) -> None:
    with pytest.raises(UnreadableError):
        box_of(subpaths(data))


def test_sums_are_taken_apart() -> None:
    assert operations("inc, 3 sc", "US") == ["inc", "sc", "sc", "sc"]
    assert operations("inc, 2 dc", "UK") == ["inc", "sc", "sc"]
    assert operations("ss", "UK") == ["slst"]
    assert operations("sl st", "US") == ["slst"]
    assert operations("3 tr", "US") is None
    assert operations("0 sc", "US") is None
    assert round_sum("rounds 14–22: 36 sc", "US") == (14, 22, ("sc",) * 36)
    assert round_sum("row 3: 2 dc", "UK") == (3, 3, ("sc", "sc"))
    assert round_sum("rounds 22–14: 36 sc", "US") is None
    assert round_sum("36 sc", "US") is None
    assert operations("ch, (FPdc, BPdc) 2 times, ss", "US") is None
    assert operations("ch, (FPtr, BPtr) 2 times, ss", "UK") == [
        "ch", "fpdc", "bpdc", "fpdc", "bpdc", "slst",
    ]  # fmt: skip
    assert operations("(2 sc, inc) 2 times", "US") == ["sc", "sc", "inc"] * 2
    assert operations("(sc, hdc) 0 times", "US") is None
    assert operations("(0 sc, hdc) 2 times", "US") is None
    assert operations("(sc, hdc 2 times", "US") is None
    assert operations("(sc, hdc) 99999 times", "US") is None


def test_pitch_and_rings_come_from_places_alone() -> None:
    rings = [
        100 + 80j + cmath.rect(radius, 2 * math.pi * i / 24)
        for radius in (30, 36, 42)
        for i in range(24)
    ]
    assert pitch_of(rings) == pytest.approx(6)
    assert ring_centre(rings, 6) == pytest.approx(100 + 80j)
    assert ring_centre(rings[1:], 6) == pytest.approx(100 + 80j)
    assert pitch_of([1 + 1j]) == 0
    assert grid_rows([], 5) == []
