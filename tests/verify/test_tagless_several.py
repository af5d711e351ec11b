"""Charts of several sizes without tags: what each size reads is told from the shapes, untouched
ones have one note, and faults are found all the same."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from verify.breaking import (
    Spoiler,
    bytes_of,
    double,
    drop,
    paths,
    reshape,
    swap,
    to_next_row,
    tree,
)
from verify.breaking_more import change_label, drop_label, recolour, redraw
from verify.rewriting import everything_lost, tags_lost
from verify.tagless_faults import spoilt

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.layout import sheets
from gussetry.pipeline import graded
from gussetry.plan import Job, plan, wished
from gussetry.style import load_style
from gussetry.verify import recount

EXAMPLES = Path(__file__).parents[2] / "examples"
SHARED = (
    ("kittiwake-post-rib", "shared/gusset"), ("kittiwake-post-rib", "shared/thumb"),
    ("skerry-striped", "shared/gusset-S+M"), ("skerry-striped", "shared/cuff"),
    ("pebble-child", "shared/gusset-4-years+6-years"), ("eiderdown-infant", "shared/hand"),
)  # fmt: skip
"""Sizes that part and do not, rows that some sizes lack, yarns that differ, bridged and joined
gaps, turned rows, and a hand without a thumb."""


@cache
def _jobs(example: str, hand: str = "right") -> dict[str, Job]:
    work = graded(EXAMPLES / f"{example}.yaml")
    look = replace(load_style("default"), sizes="together", hand=hand)
    return {job.name: job for job in plan(work.spec, work.grading, wished(work.spec, look)).jobs}


@cache
def _drawing(example: str, name: str, hand: str = "right") -> bytes:
    job = _jobs(example, hand)[name]
    (chart,) = sheets(job.kind, job.maps, job.style, job.terms, job.words)
    return svg_bytes(engrave(chart, job.style))


@pytest.mark.parametrize(("example", "name"), SHARED)
def test_a_chart_of_several_sizes_is_counted_from_its_shapes(example: str, name: str) -> None:
    asked = _jobs(example)[name].asked()
    assert len(asked.maps) > 1
    for lose in (tags_lost, everything_lost):
        found = recount(lose(_drawing(example, name)), asked)
        assert [one.kind for one in found] == ["tags"]
        assert "checked from its shapes alone" in found[0].message


def test_a_left_handed_one_is_counted_too() -> None:
    name = "shared/gusset-lefthand"
    asked = _jobs("kittiwake-post-rib", "left")[name].asked()
    found = recount(tags_lost(_drawing("kittiwake-post-rib", name, "left")), asked)
    assert [one.kind for one in found] == ["tags"]


@pytest.mark.parametrize("fault", [drop, double, reshape, swap, to_next_row, change_label,
                                   drop_label, recolour])  # fmt: skip
@pytest.mark.parametrize(("example", "name"), SHARED[:3:2])
def test_a_fault_in_one_is_found(fault: Spoiler, example: str, name: str) -> None:
    broken = spoilt(_drawing(example, name), fault, 11)
    assert broken is not None
    assert {one.kind for one in recount(broken.svg, _jobs(example)[name].asked())} > {"tags"}


def test_a_stitch_too_much_for_one_size_is_found() -> None:
    """A sum of one size says a repeat more; what is drawn is too much for it then."""
    root = tree(_drawing("kittiwake-post-rib", "shared/cuff"))
    label = paths(root, data_role="sum", data_says="(FPdc, BPdc) 5 (6, 7) times, sl st")[-1]
    redraw(label, "(FPdc, BPdc) 6 (6, 7) times, sl st")
    asked = _jobs("kittiwake-post-rib")["shared/cuff"].asked()
    found = [one for one in recount(tags_lost(bytes_of(root)), asked) if one.kind != "tags"]
    assert {(one.kind, one.round) for one in found} == {("count", 7)}
