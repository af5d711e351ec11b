"""A mitten of any specification, known by its counts alone, comes back as a pinned one."""

from __future__ import annotations

from pathlib import Path

import pytest
from grading.strategies import specs, unpinned_specs
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from gussetry.counts import CountTable, count_table, table_csv
from gussetry.diagnostics import Faults
from gussetry.grading import graded_sizes
from gussetry.read import read_spec
from gussetry.sample import from_counts
from gussetry.sample.hand import read_crowns, read_cuff
from gussetry.sample.makings import CuffShape, Departs, LowerShape, Making
from gussetry.sample.remarks import remarks
from gussetry.source import parse
from gussetry.spec import Spec

QUIET = (HealthCheck.too_slow, HealthCheck.filter_too_much)


@pytest.fixture(scope="module")
def table(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the tables are written."""
    return tmp_path_factory.mktemp("sample") / "counts.csv"


def _made(spec: Spec) -> CountTable:
    return count_table([size.maps for size in graded_sizes(spec)])


def _come_back(made: CountTable, path: Path) -> None:
    """Every size's column makes a specification that makes the column."""
    path.write_text(table_csv(made), encoding="utf-8")
    for column, size in enumerate(made.sizes):
        text = from_counts(path, size).text
        again = _made(read_spec(parse(text, "sample.yaml")))
        wanted = [
            (row.piece, row.round, row.counts[column])
            for row in made.rows
            if row.counts[column] is not None
        ]
        assert [(row.piece, row.round, row.counts[0]) for row in again.rows] == wanted


@settings(derandomize=True, max_examples=12, deadline=None, suppress_health_check=QUIET)
@given(spec=specs())
def test_a_pinned_specification_is_known_by_its_counts(spec: Spec, table: Path) -> None:
    try:
        made = _made(spec)
    except Faults:
        assume(False)
    else:
        _come_back(made, table)


def test_a_pick_up_of_twice_the_row_ends_and_the_seam_is_known() -> None:
    assert read_cuff((11,) * 9, 20).seam_counts
    assert read_cuff((11,) * 9, 10).seam_counts
    assert not read_cuff((11,) * 9, 18).seam_counts


@settings(derandomize=True, max_examples=6, deadline=None, suppress_health_check=QUIET)
@given(spec=unpinned_specs())
def test_a_fitted_specification_is_known_by_its_counts(spec: Spec, table: Path) -> None:
    _come_back(_made(spec), table)


DIVISION = 15


def _remarks(counts: list[int]) -> list[str]:
    """What is said of a hand without a thumb that has those counts from round 15 on."""
    hand = [counts[0]] * (DIVISION - 1) + counts
    crown = read_crowns(hand, DIVISION)[0]
    lower = LowerShape(counts[0], 0, DIVISION)
    making = Making(CuffShape("none"), lower, None, crown, counts[0], DIVISION)
    return list(remarks(making, hand))


@st.composite
def _crowns(draw: st.DrawFn, each: tuple[int, int] = (3, 5), fewest: int = 2) -> list[int]:
    """Counts from the division on: plain, decreases at the sides, then `each` evenly in at least
    the `fewest` rounds, then drawn shut."""
    counts = [draw(st.integers(34, 48))] * draw(st.integers(2, 5))
    plain_after = draw(st.integers(0, 1))
    for _ in range(draw(st.integers(0, 3))):
        counts += [counts[-1] - 2] * (1 + plain_after)
    decreases = draw(st.integers(*each))
    for _ in range(draw(st.integers(fewest, 4))):
        counts.append(counts[-1] - decreases)
    while counts[-1] > 6:
        counts.append((counts[-1] + 1) // 2)
    return counts


@settings(derandomize=True, max_examples=100, deadline=None)
@given(crown=_crowns())
def test_a_regular_crown_needs_no_second_look(crown: list[int]) -> None:
    assert _remarks(crown) == []


@settings(derandomize=True, max_examples=200, deadline=None)
@given(crown=_crowns((4, 4), 3), place=st.integers(1, 20), more=st.sampled_from([-2, -1, 1, 2]))
def test_no_round_but_the_slipped_one_is_called_a_slip(
    crown: list[int], place: int, more: int
) -> None:
    """Of crowns with four decreases in three rounds or more: in shorter ones one slip may look
    like another."""
    assume(place < len(crown) - 1)
    slipped = [*crown]
    slipped[place] += more
    try:
        told = _remarks(slipped)
    except Departs:
        assume(False)
    named = [line.split(" has ")[0] for line in told if "keep its rhythm" in line]
    assert named in ([], [f"hand round {DIVISION + place}"])
