"""In large letters the words stand beside a schematic where that lets it be larger."""

from __future__ import annotations

from pathlib import Path

import pytest

from gussetry.layout.boxes import label_box
from gussetry.layout.register import schematic
from gussetry.pipeline import graded
from gussetry.style import load_style

EXAMPLES = Path(__file__).parents[2] / "examples"
NOTE = "Cuff depth, crook height and hand length rest on surveyed ratios, not on a measured hand."


@pytest.mark.parametrize("several", [False, True])
def test_notes_beside_a_schematic_let_it_be_large(several: bool) -> None:
    style = load_style("large-print")
    maps = graded(EXAMPLES / "skerry-striped.yaml").grading.maps
    chart = schematic(maps if several else maps[2:3], style, (NOTE,), ("A line.", "And one more."))
    drawn = [p for line in chart.lines if line.kind != "rule" for p in line.points]
    right, foot = max(p.x for p in drawn), max(p.y for p in drawn)
    notes = [label_box(label, style) for label in chart.labels if label.kind == "note"]
    beside = [box for box in notes if box.top < foot]
    assert beside
    assert all(box.left > right for box in beside)
    assert max(p.y for p in drawn) - min(p.y for p in drawn) > 0.4 * style.height
    assert chart.width <= style.width
    assert chart.height <= style.height
