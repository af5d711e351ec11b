"""Legibility: sound drawings have no finding, and each way to make one harder to read is found."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from xml.etree.ElementTree import Element

import pytest
from verify.breaking import bytes_of, centre, parent, paths, points, tree
from verify.faults_legible import CHART, HATCHED, SCHEMATIC, STRIPES, Fault

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.layout import sheets
from gussetry.pipeline import graded
from gussetry.style import load_style
from gussetry.verify.findings import Disagreement
from gussetry.verify.legibility import KINDS, Limits, legibility

STRIPED = Path(__file__).parents[2] / "examples" / "skerry-striped.yaml"
CASES = [
    *((fault, kind, "gusset", "default") for fault, kind in CHART.items()),
    *((fault, kind, "schematic", "default") for fault, kind in SCHEMATIC.items()),
    *((fault, kind, "stripes", "default") for fault, kind in STRIPES.items()),
    *((fault, kind, "stripes", "ink-saver") for fault, kind in HATCHED.items()),
]


@cache
def drawing(kind: str, style: str) -> bytes:
    """A drawing of the striped example's third size."""
    look = load_style(style)
    stitches = graded(STRIPED).grading.maps[2]
    return svg_bytes(engrave(sheets(kind, (stitches,), look, "US")[0], look))


@cache
def _sound(kind: str, style: str) -> frozenset[Disagreement]:
    return frozenset(legibility(drawing(kind, style)))


def spoilt(fault: Fault, kind: str, style: str) -> tuple[Disagreement, ...]:
    """What is found in a drawing with a fault."""
    root = tree(drawing(kind, style))
    fault(root)
    return legibility(bytes_of(root))


@pytest.mark.parametrize(("fault", "kind", "drawn", "style"), CASES,
                         ids=lambda value: getattr(value, "__name__", value))  # fmt: skip
def test_every_fault_is_found(fault: Fault, kind: str, drawn: str, style: str) -> None:
    found = spoilt(fault, drawn, style)
    assert kind in {one.kind for one in set(found) - _sound(drawn, style)}
    assert all(one.at is not None and one.kind in KINDS for one in found)


def test_every_kind_has_a_fault() -> None:
    assert {kind for _, kind, _, _ in CASES} == set(KINDS)


def test_a_hatch_shows_by_one_stroke_a_direction_where_there_is_room_for_no_more() -> None:
    root = tree(drawing("stripes", "ink-saver"))
    kept: set[Element] = set()
    for stripe in paths(root, data_role="stripe"):
        level, across = centre(stripe).imag, [point.real for point in points(stripe)]
        ways: dict[bool, Element] = {}
        for hatch in paths(root, data_role="hatch"):
            a, b = sorted(points(hatch), key=lambda point: point.imag)
            own = min(across) < centre(hatch).real < max(across)
            if own and a.imag <= level <= b.imag:
                ways.setdefault(b.real < a.real, hatch)
        kept |= set(ways.values())
    for hatch in paths(root, data_role="hatch"):
        if hatch not in kept:
            parent(root, hatch).remove(hatch)
    assert 0 < len(kept) < 40
    assert "hatches-alike" not in {one.kind for one in legibility(bytes_of(root))}


def test_a_style_sets_its_own_limits() -> None:
    plain = drawing("gusset", "default")
    assert not {"text-small", "stitch-small"} & {found.kind for found in legibility(plain)}
    strict = {found.kind for found in legibility(plain, Limits(text=12, stitch=6))}
    assert {"text-small", "stitch-small"} <= strict


def test_what_is_no_drawing_is_said_so() -> None:
    assert [found.kind for found in legibility(b"no drawing")] == ["unreadable"]
