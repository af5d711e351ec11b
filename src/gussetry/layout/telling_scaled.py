"""What a screen reader gets of the drawings to scale: every stripe of a strip from the bottom up,
its landmarks, and every measure of a schematic. The sentences are regular, so that they can be
recounted: `Hand, rounds 5 to 6: lichen (B).`, `Cuff depth: 6.5 cm (2½ in).`
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from gussetry.chart import Chart, Label
from gussetry.layout.striping import runs
from gussetry.stitchmap import StitchMap
from gussetry.style import Style

_HATCHES = (
    "no strokes", "strokes that rise to the right", "strokes crossing aslant", "upright strokes",
    "strokes that fall to the right",
)  # fmt: skip
_MEASURES = (
    "cuff circumference", "cuff depth", "hand circumference", "thumb circumference",
    "crook height", "hand length", "thumb length", "total length",
)  # fmt: skip
_INCHES = re.compile(r"(?<= cm)(?: ·)? (?=[^(·])")
"""Between centimetres and inches of several sizes, in one row or in two."""
_WAYS = 4
"""After so many hatches with strokes the same come again, closer; then those of two ways."""


def told_to_scale(chart: Chart, maps: Sequence[StitchMap], style: Style) -> Chart:
    """A strip or a schematic with its description in full sentences."""
    tell = _strip if chart.kind == "stripes" else _schematic
    sentences = [f"{chart.title}.", *tell(chart, maps), *_notes(chart)]
    shows = chart.kind == "stripes" or ("data-stripes", "yes") in chart.tags
    if shows and style.yarns == "hatches":
        sentences += _hatches(maps[0])
    return replace(chart, description=" ".join(sentences))


def _role(label: Label) -> str:
    return dict(label.tags).get("data-role", "")


def _notes(chart: Chart) -> list[str]:
    """The words under a drawing, as they stand there."""
    return [label.text for label in chart.labels if _role(label) == "note"]


def _in_rows(chart: Chart, role: str) -> dict[str, str]:
    """What the labels of a role say by what they name, from the top down, words in rows joined."""
    found: dict[str, str] = {}
    own = [label for label in chart.labels if _role(label) == role]
    for label in sorted(own, key=lambda label: label.at.y):
        name = dict(label.tags)[f"data-{role}"]
        found[name] = f"{found[name]} {label.text}" if name in found else label.text
    return found


def _strip(chart: Chart, maps: Sequence[StitchMap]) -> Iterator[str]:
    (stitches,) = maps
    yield "Every stripe of the mitten, as high as it is in the finished piece, to scale."
    yield "From the bottom up."
    names = {letter: name for letter, name, _ in stitches.yarns}

    for piece in stitches.pieces:
        for first, last, yarn in runs(piece) if piece.piece != "thumb" else ():
            yield f"{_span(stitches, piece.piece, first, last)}: {names[yarn]} ({yarn})."
    yield "Landmarks."
    marks = list(_in_rows(chart, "landmark").values())
    for words in reversed(marks):
        yield f"{words[0].upper()}{words[1:]}."


def _span(stitches: StitchMap, name: str, first: int, last: int) -> str:
    """`Cuff, rows 1 to 32`; `Hand, round 4`."""
    turned = any(p.piece == name and p.worked == "rows" for p in stitches.pieces)
    unit = "row" if turned else "round"
    numbers = f"{unit} {first}" if first == last else f"{unit}s {first} to {last}"
    return f"{name.capitalize()}, {numbers}"


def _hatches(stitches: StitchMap) -> Iterator[str]:
    """How each yarn is hatched."""
    for place, (letter, name, _) in enumerate(stitches.yarns):
        words = "strokes of two or three ways" if place > 2 * _WAYS else ""
        if place <= 2 * _WAYS:
            words = _HATCHES[(place - 1) % _WAYS + 1 if place else 0]
            words = f"close {words}" if place > _WAYS else words
        yield f"{name[0].upper()}{name[1:]} ({letter}) is drawn with {words}."


def _place(measure: str) -> int:
    """A measure's place in the telling: round, then up, hand before thumb."""
    return _MEASURES.index(measure) if measure in _MEASURES else len(_MEASURES)


def _schematic(chart: Chart, maps: Sequence[StitchMap]) -> Iterator[str]:
    if len(maps) == 1:
        yield "The finished mitten laid flat, its outline to scale from the count of every round."
    else:
        sizes = ", ".join(stitches.size for stitches in maps)
        yield "The finished mitten laid flat, the outlines of all sizes one in the other, to scale"
        yield f"from the count of every round. Each measure is told for {sizes}, in this order."
    yield "Finished measures."
    found = _in_rows(chart, "measure")
    for measure, says in sorted(found.items(), key=lambda item: _place(item[0])):
        yield f"{measure.capitalize()}: {_INCHES.sub(', ', says)}."
