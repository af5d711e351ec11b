"""What stands outside a crown's first ring: names of its rays, bars for the round below."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from grading.test_worked_example import spec
from layout.sheets import chart
from verify.breaking import bytes_of, paths, tree

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.grading import grade
from gussetry.stitchmap import StitchMap
from gussetry.style import load_style
from gussetry.verify import Asked, recount


@cache
def _map() -> StitchMap:
    return grade(spec()).maps[0]


@cache
def _drawing(style: str) -> bytes:
    look = load_style(style)
    return svg_bytes(engrave(chart("crown", (_map(),), look, "US"), look))


def _kinds(root: Any) -> set[str]:
    return {finding.kind for finding in recount(bytes_of(root), Asked("crown", (_map(),)))}


def _remove(root: Any, path: Any) -> None:
    next(parent for parent in root.iter() if path in list(parent)).remove(path)


def _bars(root: Any) -> list[Any]:
    """The straight rules of a crown: all others are arcs of many points."""
    return [p for p in paths(root, data_role="rule") if (p.get("d") or "").count("L") == 1]


def _name(root: Any) -> Any:
    (label,) = paths(root, data_role="place", data_says="thumb side")
    return label


def test_ray_is_named_and_bars_stand_for_what_is_taken_together() -> None:
    root = tree(_drawing("default"))
    hand = _map().piece("hand")
    assert hand is not None
    first = next(r for r in hand.rounds if r.phase.startswith("crown"))
    eaten = sum(len(op.into) for op in first.work if op.do.endswith("2tog"))
    assert eaten
    assert len(_bars(root)) == eaten
    assert _name(root) is not None
    assert _kinds(root) == set()


def test_a_lost_name_is_found() -> None:
    root = tree(_drawing("default"))
    _remove(root, _name(root))
    assert _kinds(root) == {"marker"}


@pytest.mark.parametrize("by", ["translate(14 0)", "translate(-14 0)"])
def test_a_name_beside_the_ray_is_found(by: str) -> None:
    root = tree(_drawing("default"))
    _name(root).set("transform", by)
    assert _kinds(root) == {"marker"}


@pytest.mark.parametrize("nth", [0, -1])
def test_a_lost_bar_is_found(nth: int) -> None:
    root = tree(_drawing("default"))
    _remove(root, _bars(root)[nth])
    assert _kinds(root) == {"marker"}


def test_words_on_other_bars_are_found() -> None:
    root = tree(_drawing("default"))
    told = next(element for element in root.iter() if str(element.tag).endswith("desc"))
    words = "; short bars are those worked together"
    assert words in told.text
    told.text = told.text.replace(words, "")
    assert _kinds(root) == {"description"}
