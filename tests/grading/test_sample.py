"""A mitten of any specification, known by its counts alone, comes back as a pinned one."""

from __future__ import annotations

from pathlib import Path

import pytest
from grading.strategies import specs, unpinned_specs
from hypothesis import HealthCheck, assume, given, settings

from gussetry.counts import CountTable, count_table, table_csv
from gussetry.diagnostics import Faults
from gussetry.grading import graded_sizes
from gussetry.read import read_spec
from gussetry.sample import from_counts
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


@settings(max_examples=12, deadline=None, suppress_health_check=QUIET)
@given(spec=specs())
def test_a_pinned_specification_is_known_by_its_counts(spec: Spec, table: Path) -> None:
    try:
        made = _made(spec)
    except Faults:
        assume(False)
    else:
        _come_back(made, table)


@settings(max_examples=6, deadline=None, suppress_health_check=QUIET)
@given(spec=unpinned_specs())
def test_a_fitted_specification_is_known_by_its_counts(spec: Spec, table: Path) -> None:
    _come_back(_made(spec), table)
