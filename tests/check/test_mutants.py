"""Folders broken by one believable fault at a time: every one found, at the right place and by the
right kind; and nothing found where nothing is broken."""

from __future__ import annotations

from pathlib import Path

import pytest
from check.folders import checked, folder, leaves, pattern
from check.mutating import FAULTS, Right
from check.trying import MODULES, mutant, tried

from gussetry.findings import Finding

SEED = 3
MUTANTS = 200
"""At least one of each kind of fault."""
PLACES = (("skerry-striped", "default"), ("pebble-child", "large-print"),
          ("quayside-fingerless", "ink-saver"), ("kittiwake-post-rib", "phone"))  # fmt: skip
TENTHS = 10


@pytest.mark.parametrize("tenth", range(TENTHS))
def test_every_fault_is_found_where_it_is(tenth: int) -> None:
    tries = [tried(SEED, number, PLACES) for number in range(tenth, MUTANTS, TENTHS)]
    assert [f"{one.number} {one.fault}: {one.said}" for one in tries if not one.right] == []


def test_there_are_faults_of_many_kinds() -> None:
    assert len(MODULES) > 10
    assert 40 < len(FAULTS) < MUTANTS


@pytest.mark.parametrize(("example", "style"), PLACES)
def test_an_untouched_folder_has_no_finding(example: str, style: str, tmp_path: Path) -> None:
    own = pattern(example, style)
    size = own.maps[0].size
    names = [name for name, job in own.jobs.items() if job.maps[0].size == size]
    assert len(names) > 4
    painted = names[:2]
    assert checked(folder(own, painted, painted=True), tmp_path / "painted") == []
    assert checked(folder(own, names, told=True, maps=own.maps), tmp_path / "plain") == []


def test_a_drawing_on_several_sheets_is_among_them() -> None:
    names = pattern(*PLACES[1]).jobs
    assert any(len(leaves(*PLACES[1], name)) > 1 for name in names)


def test_a_mutant_is_the_same_again() -> None:
    assert mutant(SEED, 5, PLACES) == mutant(SEED, 5, PLACES)


def test_a_finding_elsewhere_is_not_right() -> None:
    right = Right("M/crown.svg", frozenset({"count"}), "hand", frozenset({7}))
    found = Finding("count", "another number", "M/crown.svg", piece="hand", round=7)
    assert right.covers(found)
    for other in (
        Finding("count", "", "M/gusset.svg", piece="hand", round=7),
        Finding("kind", "", "M/crown.svg", piece="hand", round=7),
        Finding("count", "", "M/crown.svg", piece="thumb", round=7),
        Finding("count", "", "M/crown.svg", piece="hand", round=8),
        Finding("count", "", "M/crown.svg", piece="hand"),
    ):
        assert not right.covers(other)
