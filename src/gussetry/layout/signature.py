"""The designer's own lines under every drawing: caption, credit, copyright."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from gussetry.chart import Chart, Label
from gussetry.layout.boxes import wrapped
from gussetry.layout.parts import MARGIN
from gussetry.style import Style
from gussetry.units import Point


def signed(chart: Chart, style: Style, lines: Sequence[str]) -> Chart:
    """The chart with the lines set under it, broken to its width; as it was without any."""
    step = 1.3 * style.size("note")
    y = chart.height - MARGIN
    labels = list(chart.labels)
    y += 0.4 * step if lines else 0.0
    for line in lines:
        for part in wrapped(line, "note", chart.width - 2 * MARGIN, style):
            y += step
            labels.append(Label("note", part, Point(MARGIN, y), tags=(("data-role", "note"),)))
    if len(labels) == len(chart.labels):
        return chart
    said = " ".join(line if line.endswith((".", "!", "?")) else f"{line}." for line in lines)
    return replace(
        chart,
        labels=tuple(labels),
        height=y + MARGIN,
        description=f"{chart.description} {said}",
    )
