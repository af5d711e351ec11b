"""The key: every symbol that the charts of a pattern use, at two pitches, with its words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from gussetry.chart import Chart, Label
from gussetry.layout import boxes
from gussetry.layout.parts import MARGIN, Sheet, Terms, used_symbols
from gussetry.layout.shapes import looks
from gussetry.layout.terms import wording
from gussetry.stitchmap import Op, StitchMap
from gussetry.style import Style
from gussetry.style.symbols import picked_up
from gussetry.units import Point, text

LARGE = 6.0
"""The larger pitch at which every symbol is drawn, mm; the smaller is the style's least."""
_CELL = 1.35
"""A column of symbols over its pitch, and the least distance of rows over the larger pitch."""
_ROW = 1.35
_BETWEEN = 6.0
"""White between columns of entries, mm."""
_WORDY = 18
"""Ems of words that a column of entries has at least, where there are several."""
_ORDER = ("ch", "slst", "sc", "hdc", "dc",
          "fphdc", "bphdc", "fpdc", "bpdc", "inc", "sc2tog", "hdc2tog", "dc2tog",
          "hold", "join", "skip", "seam", "close")  # fmt: skip


_OF = (None, "sc", "hdc", "dc")
_LOOPS = ("both", "back", "front")


def _rank(op: Op) -> tuple[int, int, bool, int, bool]:
    """By stitches, and of one stitch the plain one before its additions."""
    of = op.of if op.do == "inc" else None
    loop = _LOOPS.index(op.loop)
    return _ORDER.index(op.do), _OF.index(of), op.held, loop, picked_up(op)


def in_order(ops: Iterable[Op]) -> list[Op]:
    """Operations in the order of a key."""
    return sorted(ops, key=_rank)


def pitches(style: Style) -> tuple[float, ...]:
    """The pitches at which a key draws each symbol, mm, smallest first."""
    return tuple(sorted({style.least_stitch, max(style.least_stitch, LARGE)}))


@dataclass(frozen=True, slots=True)
class _Columns:
    """A key in columns of entries: the middle of each column of symbols and the left edge of the
    words, from the edge of the entries; how wide the words may be; the entries of each column, each
    an operation and its words in lines; and the distance of rows of one line and of two."""

    middles: tuple[float, ...]
    words: float
    room: float
    entries: tuple[tuple[tuple[Op, tuple[str, ...]], ...], ...]
    row: float
    line: float

    def height(self, column: int) -> float:
        """How high a column of entries is, mm."""
        return sum(self.step(lines) for _, lines in self.entries[column])

    def step(self, lines: Sequence[str]) -> float:
        """How high an entry of so many lines is, mm."""
        return max(self.row, (len(lines) + 0.3) * self.line)


def _heads(sheet: Sheet) -> tuple[str, ...]:
    return tuple(f"{text(pitch)} mm" for pitch in pitches(sheet.style))


def _columns(sheet: Sheet, ops: Sequence[Op], count: int) -> _Columns:
    """The entries in so many columns within the style's width."""
    style = sheet.style
    middles, x = [], 0.0
    for pitch, head in zip(pitches(style), _heads(sheet), strict=True):
        wide = max(_CELL * pitch, sheet.width_of("term", head))
        middles.append(x + wide / 2)
        x += wide + 0.5 * style.size("term")
    x += 0.3 * style.size("term")
    whole = (style.width - 2 * MARGIN - (count - 1) * _BETWEEN) / count
    told = [wording(op, sheet.terms) for op in ops]
    room = min(whole - x, max(sheet.width_of("term", words) for words in told) + 0.1)
    entries = [
        (op, tuple(boxes.wrapped(words, "term", room, style)))
        for op, words in zip(ops, told, strict=True)
    ]
    line = 1.3 * style.size("term")
    row = max(_ROW * pitches(style)[-1], 1.5 * style.size("term"))
    deep = -(-len(entries) // count)
    parts = tuple(tuple(entries[i : i + deep]) for i in range(0, len(entries), deep))
    return _Columns(tuple(middles), x, room, parts, row, line)


def _fitted(sheet: Sheet, ops: Sequence[Op], room: float) -> _Columns:
    """The entries in as few columns as have room in the height, each wide enough for its words."""
    best = _columns(sheet, ops, 1)
    count = 2
    while max(best.height(i) for i in range(len(best.entries))) > room:
        further = _columns(sheet, ops, count)
        if further.room < _WORDY * sheet.style.size("term"):
            break
        best, count = further, count + 1
    return best


def _down(op: Op) -> float:
    """How far below its row's middle a symbol's cell is centred, over the pitch, so that what hangs
    at its foot or lies above its head has as much room."""
    under = {"both": 0.0, "back": -0.1, "front": -0.14}[op.loop]
    return under + (0.1 if op.held else 0.0)


def _draw(sheet: Sheet, columns: _Columns, top: float) -> float:
    """The entries under their headings; returns the y below them."""
    style, bottom = sheet.style, top
    for place, entries in enumerate(columns.entries):
        left = MARGIN + place * (columns.words + columns.room + _BETWEEN)
        y = top + style.size("term")
        for middle, head in zip(columns.middles, _heads(sheet), strict=True):
            at = Point(left + middle, y)
            sheet.labels.append(Label("term", head, at, "middle", tags=(("data-role", "pitch"),)))
        y += 0.6 * style.size("term")
        for op, lines in entries:
            step = columns.step(lines)
            for middle, pitch in zip(columns.middles, pitches(style), strict=True):
                sheet.symbol(op, Point(left + middle, y + step / 2 + _down(op) * pitch), pitch)
            sheet.term(lines, Point(left + columns.words, y + step / 2))
            y += step
        bottom = max(bottom, y)
    return bottom


def _capital(words: str) -> str:
    return words[0].upper() + words[1:]


def key(maps: Sequence[StitchMap], style: Style, terms: Terms) -> Chart:
    """The key to the charts of all `maps`: each symbol at the style's least pitch and at a large
    one, with its words; in columns where one would be too high."""
    used = used_symbols(
        op
        for stitches in maps
        for piece in stitches.pieces
        for round_ in piece.rounds
        for op in round_.work
        if op.do != "turn"
    )
    sheet = Sheet(maps[0], style, terms)
    name = f"{maps[0].pattern}: key to the charts"
    ops = in_order(used)
    narrow = _columns(sheet, ops, 1)
    width = max(sheet.title_width(name), 2 * MARGIN + narrow.words + narrow.room)
    columns = narrow
    top = sheet.heading(name, "", width)
    if narrow.height(0) > style.height - top - 3 * MARGIN:
        columns = _fitted(sheet, ops, style.height - top - 3 * MARGIN)
        count = len(columns.entries)
        wide = count * (columns.words + columns.room + _BETWEEN) - _BETWEEN
        width = max(width, 2 * MARGIN + wide)
    bottom = _draw(sheet, columns, top)
    described = " ".join(f"{_capital(wording(op, terms))}, drawn as {looks(op)}." for op in ops)
    how = f"Each symbol is drawn at {' and at '.join(_heads(sheet))} a stitch, its words beside it."
    made = sheet.chart("key", name, f"{name}. {how} {described}", (width, bottom + MARGIN))
    sizes = " / ".join(dict.fromkeys(m.size for m in maps))
    mittens = " / ".join(dict.fromkeys(m.mitten for m in maps))
    tags = (("data-kind", "key"), ("data-size", sizes), ("data-mitten", mittens))
    return replace(made, tags=tags)
