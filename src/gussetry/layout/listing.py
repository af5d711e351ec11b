"""The list of measures under a schematic whose dimension lines carry letters."""

from __future__ import annotations

from gussetry.chart import Label
from gussetry.layout import boxes
from gussetry.layout.dimensions import Dimensions
from gussetry.units import Point


def _entry(dims: Dimensions, name: str, width: float) -> tuple[float, list[str]]:
    """How wide a measure's name, in its row of the list, and its text in rows: beside the name, or
    below it centimetres and inches by themselves where both are too long for one row."""
    style = dims.style
    beside = boxes.words_width("term", name, style) + 0.8 * style.size("measure")
    text = dims.texts[name]
    if beside + boxes.words_width("measure", text, style) <= width:
        return beside, [text]
    if boxes.words_width("measure", text, style) <= width:
        return 0.0, [text]
    cm, dot, inch = text.partition(" · ")
    parts = (f"{cm} ·", inch) if dot else (text,)
    return 0.0, [row for part in parts for row in boxes.wrapped(part, "measure", width, style)]


def measures_list(dims: Dimensions, corner: Point, width: float) -> tuple[list[Label], float]:
    """What each letter measures, in rows from the top left `corner` down, in two columns where
    there is room for them; and the y below them."""
    style, names = dims.style, list(dims.texts)
    size, indent = style.size("measure"), style.size("number") * 1.3
    half = (width - 1.5 * size) / 2
    entries = [_entry(dims, name, half - indent) for name in names]
    columns = 2 if all(beside for beside, _ in entries) else 1
    if columns == 1:
        entries = [_entry(dims, name, width - indent) for name in names]
    deep = -(-len(names) // columns)
    labels, lowest = [], corner.y
    for i, (name, (beside, rows)) in enumerate(zip(names, entries, strict=True)):
        if i % deep == 0:
            x, y = corner.x + (i // deep) * (half + 1.5 * size), corner.y + boxes.ASCENT * size
        tags = (("data-measure", name), ("data-size", dims.size))
        at = Point(x, y)
        labels.append(Label("number", dims.letter(name), at, tags=(("data-role", "letter"), *tags)))
        at = Point(x + indent, y)
        labels.append(Label("term", name, at, tags=(("data-role", "term"),)))
        for k, row in enumerate(rows):
            y += 1.25 * size if k or not beside else 0.0
            at = Point(x + indent + beside, y)
            labels.append(Label("measure", row, at, tags=(("data-role", "measure"), *tags)))
        y += 1.35 * size
        lowest = max(lowest, y - boxes.ASCENT * size)
    return labels, lowest + 0.3 * size
