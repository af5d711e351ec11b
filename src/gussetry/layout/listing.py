"""The list of measures of a schematic whose dimension lines carry letters: a table."""

from __future__ import annotations

from dataclasses import dataclass

from gussetry.chart import Label, LabelKind
from gussetry.layout import boxes
from gussetry.layout.dimensions import Dimensions
from gussetry.style import Style
from gussetry.units import Point

_ROW, _ENTRY = 1.25, 1.35
"""From a row of an entry to its next one, and from its last to the next entry, over the em."""

_BELOW = 1.3
"""How much less high a list must be for texts to stand below their names, where they are sought."""


@dataclass(frozen=True, slots=True)
class _Form:
    """How all entries of a list stand: in so many columns, `across` mm wide each; each measure's
    text in its rows, `aside` mm right of its name or, at 0, below it."""

    columns: int
    across: float
    aside: float
    rows: tuple[tuple[str, ...], ...]

    @property
    def deep(self) -> int:
        """How many entries stand in a column."""
        return -(-len(self.rows) // self.columns)

    def wide(self, between: float) -> float:
        """How wide the list is with so much white between its columns, mm."""
        return self.columns * (self.across + between) - between

    @property
    def high(self) -> float:
        """How high it is, over the em."""
        below = _ROW * (not self.aside)
        tall = [_ENTRY + below + _ROW * (len(own) - 1) for own in self.rows]
        return max(sum(tall[i : i + self.deep]) for i in range(0, len(tall), self.deep))


def _form(dims: Dimensions, width: float) -> _Form:
    """How the list stands in that width, so that it is low: names and texts in columns
    of their own, or all texts below their names. A text too long for its row has inches below its
    centimetres, at worst further rows."""
    style, size = dims.style, dims.style.size("measure")
    between, names = 1.5 * size, max(boxes.words_width("term", n, style) for n in dims.texts)
    found: list[_Form] = []
    for columns in (2, 1):
        for aside in (names + 0.8 * size, 0.0):
            room = (width + between) / columns - between - _indent(dims) - aside
            rows = tuple(_rows(text, room, style) for text in dims.texts.values())
            longest = max(boxes.words_width("measure", row, style) for own in rows for row in own)
            across = _indent(dims) + max(names, aside + longest)
            form = _Form(columns, across, aside, rows)
            if form.wide(between) <= width:
                found.append(form)
    if found:
        return min(found, key=lambda form: form.high * (1 if form.aside else _BELOW))
    room = width - _indent(dims)
    broken = (
        tuple(row for part in own for row in boxes.wrapped(part, "measure", room, style))
        for own in rows
    )
    return _Form(1, width, 0.0, tuple(broken))


def _rows(text: str, width: float, style: Style) -> tuple[str, ...]:
    """A measure's text in one row, or where that is too narrow centimetres and inches apart."""
    cm, dot, inch = text.partition(" · ")
    if not dot or boxes.words_width("measure", text, style) <= width:
        return (text,)
    return cm, inch


def list_width(dims: Dimensions) -> float:
    """The least width in which the list stands without a row of figures broken, mm."""
    kinds: list[tuple[LabelKind, str]] = [("term", name) for name in dims.texts]
    kinds += [
        ("measure", row) for text in dims.texts.values() for row in _rows(text, 0, dims.style)
    ]
    return _indent(dims) + max(boxes.words_width(kind, words, dims.style) for kind, words in kinds)


def _indent(dims: Dimensions) -> float:
    """From a letter to what it stands for, mm."""
    return dims.style.size("number") * 1.3


def measures_list(dims: Dimensions, corner: Point, width: float) -> tuple[list[Label], float]:
    """What each letter measures, in rows from the top left `corner` down, all entries in one way;
    and the y below them."""
    size, form = dims.style.size("measure"), _form(dims, width)
    labels, lowest = [], corner.y
    for i, (name, rows) in enumerate(zip(dims.texts, form.rows, strict=True)):
        if i % form.deep == 0:
            x = corner.x + i // form.deep * (form.across + 1.5 * size)
            y = corner.y + boxes.ASCENT * size
        tags = (("data-measure", name), ("data-size", dims.size))
        at = Point(x, y)
        labels.append(Label("number", dims.letter(name), at, tags=(("data-role", "letter"), *tags)))
        at = Point(x + _indent(dims), y)
        labels.append(Label("term", name, at, tags=(("data-role", "term"),)))
        for k, row in enumerate(rows):
            y += _ROW * size if k or not form.aside else 0.0
            at = Point(x + _indent(dims) + form.aside, y)
            labels.append(Label("measure", row, at, tags=(("data-role", "measure"), *tags)))
        y += _ENTRY * size
        lowest = max(lowest, y - boxes.ASCENT * size)
    return labels, lowest + 0.3 * size
