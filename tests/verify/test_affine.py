"""Transforms: points, arcs and what cannot be read."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gussetry.verify.affine import SAME, Affine, affine, moved
from gussetry.verify.findings import UnreadableError
from gussetry.verify.paths import flattened, subpaths

ARCS = "M10 12A4 2 30 0 1 14 9A3 3 0 1 0 9 11M0 0A5 2 0 0 1 5 5L7 7Q8 8 9 7"


def numbers(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False).map(lambda value: round(value, 3))


@st.composite
def transforms(draw: st.DrawFn) -> Affine:
    found = affine(
        f"translate({draw(numbers(-50, 50))} {draw(numbers(-50, 50))})"
        f"rotate({draw(numbers(-360, 360))},3 , 4) scale({draw(numbers(0.2, 5))}"
        f",{draw(st.sampled_from([1.0, -1.0, 0.5, 2.5]))}) skewX({draw(numbers(-40, 40))})"
    )
    return found


@settings(max_examples=60, deadline=None)
@given(transforms())
def test_an_arc_moved_is_the_arc_of_moved_points(by: Affine) -> None:
    subs = subpaths(ARCS)
    for sub, after in zip(subs, moved(subs, by), strict=True):
        wanted = [by(p) for p in flattened(sub, 60)]
        found = flattened(after, 60)
        size = max(abs(p - q) for p in wanted for q in wanted)
        for point in found:
            assert min(abs(point - p) for p in wanted) < 0.06 * size


def test_transforms_are_done_from_the_right() -> None:
    both = affine("translate(10 0) scale(2)")
    assert both(1 + 1j) == 12 + 2j
    assert both == affine("translate(10,0)").after(affine("scale(2)"))
    assert affine("") == SAME
    assert affine("matrix(1 0 0 1 5 6)")(0j) == 5 + 6j
    assert affine("rotate(90)")(1 + 0j) == pytest.approx(1j)
    assert affine("rotate(33) scale(2)").scale == pytest.approx(2)


def test_a_mirror_turns_the_sweep() -> None:
    (sub,) = subpaths("M0 0A5 5 0 0 1 5 5")
    (after,) = moved((sub,), affine("scale(-1 1)"))
    assert after.arcs[0].sweep is False
    assert after.points == (-5 + 5j,)


@pytest.mark.parametrize(
    "text", ["scale(", "turn(3)", "matrix(1 2 3)", "scale(1e9)", "translate(nan)", "rotate()", "3"]
)
def test_what_is_no_transform_is_told(text: str) -> None:
    with pytest.raises(UnreadableError):
        affine(text)


def test_far_outside_is_told() -> None:
    with pytest.raises(UnreadableError):
        moved(subpaths("M90000 0L1 1"), affine("scale(3)"))
