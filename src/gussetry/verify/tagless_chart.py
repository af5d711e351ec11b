"""The tags of a stitch chart told from its shapes: stitches by rows, labels by what they say and
where they stand."""

from __future__ import annotations

import cmath
import math
import re
from collections.abc import Sequence
from dataclasses import replace
from statistics import median

from gussetry.stitchmap import Op, Round, StitchMap
from gussetry.verify.aligned import aligned
from gussetry.verify.charts import (
    Entry,
    Sheet,
    entries_of,
    fabric_stitch,
    read_sheet,
    symbol_in,
)
from gussetry.verify.findings import Asked
from gussetry.verify.paths import Box
from gussetry.verify.rows import Row
from gussetry.verify.strokes import LEGGED, POSTS, symbol_of
from gussetry.verify.svg import Page, Shape, colour
from gussetry.verify.tagless_guides import infer_guides
from gussetry.verify.tagless_key import key_symbols, tag_symbols
from gussetry.verify.tagless_labels import infer_labels
from gussetry.verify.tagless_parts import (
    SIDES,
    Parts,
    corners,
    ends,
    interim,
    is_rectangle,
    is_square,
    is_stroked,
    is_symbol,
    length,
    touches_arrow,
    usual,
)
from gussetry.verify.tagless_several import infer_several
from gussetry.verify.told import rounds_told
from gussetry.verify.words import operations, round_sum, shown_work

Key = tuple[str, str, str]
"""Size, round and entry of a stitch."""

_SHEET = re.compile(r"\(sheet (\d{1,3}) of (\d{1,3})\)")
_PLACE = re.compile(r"start|crook|hand edge|arm edge|\d+ held(?: stitches)?")
_FIGURES = re.compile(r"\d{1,4}|\(\d{1,4}\)")
_OTHER = 11  # what a stitch of another kind costs, over 10 for one without its place
_ALL_ROUND = tuple(cmath.rect(1, math.tau * turn / 24) for turn in range(24))
_LONG = 3.0  # of a stitch's size: no symbol is larger
_MARK = 4.0  # mm: a register mark is no larger


def infer_chart(parts: Parts, asked: Asked, before: set[Key]) -> None:
    """The tags of a chart; `before` are the stitches of the sheets before this one, to which its
    own are added."""
    for line in parts.lines:
        if touches_arrow(line, parts.arrows):
            parts.tag(line, role="direction")
            if asked.kind == "crown" and len(line.subs[0].points) == 1:
                # Round rings the way to go is bent.
                parts.root["form"] = "unrolled"
    symbols = key_symbols(parts)
    own = _stitches(parts, symbols, crown=asked.kind == "crown")
    if asked.kind == "crown":
        # The name at a ray's foot may stand close over the key, whose words it is not.
        for label in parts.labels:
            if parts.text(label) in _sides(asked):
                parts.tag(label, role="place")
    tag_symbols(parts, symbols)
    for shape in own:
        parts.tag(shape, class_="stitch")
    if len(asked.maps) > 1:
        infer_several(parts, asked, lambda view, one: _infer_size(view, one, before))
    else:
        _infer_size(parts, asked, before)


def _infer_size(parts: Parts, asked: Asked, before: set[Key]) -> None:
    """The tags of what the maker of one size reads, stitches and key being known."""
    (stitches,) = asked.maps
    for label in parts.labels:
        _tag_words(parts, label, asked)
    _tag_sheet(parts, asked, stitches)
    _tag_hatches(parts, stitches)
    sheet, _ = read_sheet(interim(parts), asked, stitches, parts.texts)
    if sheet is None:
        return
    pairs = sheet.paired or _by_numbers(parts, sheet)
    for row, round_ in pairs:
        _tag_row(parts, sheet, row, round_, before)
    before |= {_key(parts, shape) for shape in sheet.stitches}
    infer_labels(parts, replace(sheet, rows=tuple(r for r, _ in pairs),
                                drawn=tuple(r for _, r in pairs)))  # fmt: skip
    infer_guides(parts, sheet)


def _stitches(parts: Parts, symbols: Sequence[Shape], *, crown: bool) -> list[Shape]:
    """What stands on the page as stitches; boxes, frames and register marks get their roles."""
    key = {shape.order for shape in symbols}
    known = [g for g in parts.glyphs if _is_legged(g)] or parts.glyphs
    size = median(g.box.size for g in known) if known else 0.0
    pens = _pens([g for g in parts.glyphs if g.box.size <= _LONG * size], known)
    found = []
    for shape in parts.glyphs:
        strange = (shape.stroke, round(shape.pen, 3)) not in pens and is_stroked(shape)
        if shape.order in key:
            continue
        if strange and is_rectangle(shape):
            parts.tag(shape, role="tick" if is_square(shape) else "frame")
        elif strange and _is_register(shape):
            parts.tag(shape, role="register")
        elif strange and (shape.box.size > _LONG * size or not is_symbol(shape)):
            # A line that is broken where it would cross something: a crown has no gap to join.
            if crown:
                parts.lines.append(shape)
            else:
                parts.tag(shape, role="join")
        elif _on(parts.page, shape.box):
            found.append(shape)
    for shape in (*parts.loops, *parts.lines):
        if _is_register(shape):
            parts.tag(shape, role="register")
    bars = [
        line
        for line in parts.lines
        if (line.stroke, round(line.pen, 3)) in pens
        and len(line.subs[0].points) == 1
        and length(line) < 1.2 * size
        and _is_bar(line, found, size)
    ]
    return found + bars


def _is_register(shape: Shape) -> bool:
    """Whether a shape is a mark by which two sheets are laid on each other: small, of many
    strokes."""
    return shape.box.size < _MARK and any(len(corners(sub)) > 9 for sub in shape.subs)


def _pens(glyphs: Sequence[Shape], known: Sequence[Shape]) -> set[tuple[str, float]]:
    """The inks and pens of the stitches among shapes that are small enough, of which those are
    known: on a crown there may be some whose every stitch stands aslant."""
    orders = {shape.order for shape in known}
    pens = usual([glyph for glyph in glyphs if glyph.order in orders])
    for glyph in glyphs:
        new = usual([glyph]) - pens
        if new and _is_legged(glyph, _ALL_ROUND):
            pens |= new
    return pens


def _is_legged(shape: Shape, sides: Sequence[complex] = SIDES) -> bool:
    """Whether a shape is a stitch from some side: legs look alike from no other."""
    for up in sides:
        symbol = symbol_in(shape, up)
        if symbol is not None and symbol.do in LEGGED | POSTS:
            return True
    return False


def _is_bar(line: Shape, stitches: Sequence[Shape], size: float) -> bool:
    """Whether a short level line stands in a row of stitches: one that is passed over."""
    a, b = ends(line)
    if abs((b - a).imag) > 0.05 * abs(b - a):
        return False
    middle = line.box.centre
    return any(
        abs(s.box.centre.imag - middle.imag) < 0.3 * size and abs(s.box.centre - middle) < 3 * size
        for s in stitches
    )


def _on(page: Page, box: Box) -> bool:
    return box.left >= 0 and box.right <= page.width and box.top >= 0 and box.bottom <= page.height


def _tag_words(parts: Parts, label: Shape, asked: Asked) -> None:
    """Labels that are known by what they say alone."""
    text = parts.text(label)
    if parts.role(label):
        return
    if round_sum(text, asked.terms) is not None or operations(text, asked.terms) is not None:
        parts.tag(label, role="sum")
    elif _PLACE.fullmatch(text):
        parts.tag(label, role="place")


def _sides(asked: Asked) -> set[str]:
    """The names of the marked sides of a hand."""
    rounds = [r for m in asked.maps for p in m.pieces if p.piece == "hand" for r in p.rounds]
    return {name for round_ in rounds for name, _ in round_.markers}


def _tag_sheet(parts: Parts, asked: Asked, stitches: StitchMap) -> None:
    """Which sheet of how many this is, by its title, and which rounds it tells of."""
    found = _SHEET.search(" ".join(parts.text(label) for label in parts.labels))
    if not found:
        return
    parts.root |= {"sheet": found[1], "of": found[2]}
    numbers = _rounds_shown(parts, stitches, asked)
    if numbers:
        parts.root["rounds"] = f"{min(numbers)}-{max(numbers)}"


def _rounds_shown(parts: Parts, stitches: StitchMap, asked: Asked) -> set[int]:
    """The rounds that the description tells; without one those whose numbers and counts stand
    beside the rows, all sums of rounds with them."""
    told = rounds_told(parts.page, asked, stitches)
    sheet, _ = read_sheet(interim(parts), asked, stitches, parts.texts)
    if told or sheet is None:
        return told
    summed = {n for _, said in sheet.sums.whole for n in range(said.first, said.last + 1)}
    due = [r for r in sheet.drawn if r.number not in summed]
    figures = [label for label in parts.labels if _FIGURES.fullmatch(parts.text(label))]

    def beside(row: Row) -> set[str]:
        near = 0.4 * sheet.pitch if sheet.centre is None else parts.page.height
        near_by = (s for s in figures if abs(s.box.centre.imag - row.level) < near)
        return {parts.text(s).strip("()") for s in near_by}

    said = [beside(row) for row in sheet.rows]

    def fits(first: int) -> int:
        rounds = due[first : first + len(said)]
        return sum(
            (str(r.number) in own) + (str(r.count) in own)
            for r, own in zip(rounds, said, strict=False)
        )

    first = max(range(max(len(due) - len(said) + 1, 1)), key=fits)
    return summed | {r.number for r in due[first : first + len(said)]}


def _tag_hatches(parts: Parts, stitches: StitchMap) -> None:
    """Whether the chart tells its yarns by letters alone: no patch has a colour of its own."""
    paper = next((s.fill for s in parts.page.shapes if parts.role(s) == "paper"), "#ffffff")
    fills = {patch.fill for patch in parts.patches}
    if fills == {paper} and {colour(paint) for _, _, paint in stitches.yarns} != fills:
        parts.root["yarns"] = "hatches"


def _by_numbers(parts: Parts, sheet: Sheet) -> list[tuple[Row, Round]]:
    """Rows with the rounds whose numbers stand beside them, where there are more or fewer rows
    than rounds."""
    if sheet.centre is not None or not sheet.rows:
        return []
    rounds = {str(r.number): r for r in sheet.drawn}
    found: dict[int, tuple[Row, Round]] = {}
    for label in parts.labels:
        round_ = rounds.get(parts.text(label).strip("()"))
        if round_ is None or parts.role(label):
            continue
        row = min(sheet.rows, key=lambda row: abs(row.level - label.box.centre.imag))
        beside = abs(row.level - label.box.centre.imag) < 0.3 * sheet.pitch
        outside = not any(s.box.left < label.box.centre.real < s.box.right for s in row.items)
        ahead = label.box.left > max(s.box.right for s in row.items)
        turned = sheet.piece.worked == "rows" and round_.number % 2 == 0
        if beside and outside and ahead != (turned != sheet.left):
            found.setdefault(round_.number, (row, round_))
    return [pair for _, pair in sorted(found.items())]


def _tag_row(parts: Parts, sheet: Sheet, row: Row, round_: Round, before: set[Key]) -> None:
    """The tags of a row's stitches and sums, in the order of working."""
    work = shown_work(round_)
    own = {"piece": sheet.piece.piece, "round": str(round_.number), "size": sheet.map.size}
    sums: dict[int, list[str]] = {}
    shapes: dict[int, Shape] = {}
    for entry, place in _places(sheet, row, round_):
        index = str(work[place][0]) if place is not None else ""
        if entry.summed:
            sums.setdefault(entry.shape.order, []).append(index)
            shapes[entry.shape.order] = entry.shape
            continue
        do = work[place][1].do if place is not None else entry.do
        parts.tag(entry.shape, **own, index=index, do=do)
        if _key(parts, entry.shape) in before:
            parts.tag(entry.shape, repeat="overlap")
    for order, places in sums.items():
        known = [place for place in places if place] or [""]
        parts.tag(shapes[order], **own, index=f"{known[0]}-{known[-1]}")


def _places(sheet: Sheet, row: Row, round_: Round) -> list[tuple[Entry, int | None]]:
    """What a row holds, each with its place in the round's work as shown, None for what is too
    much."""
    entries, work = entries_of(sheet, row, round_, []), shown_work(round_)
    if len(entries) == len(work):
        return list(zip(entries, range(len(work)), strict=True))
    stitch = fabric_stitch(sheet.map, sheet.piece)

    def cost(entry: Entry, due: tuple[int, Op]) -> int:
        same = entry.do == due[1].do if entry.summed else entry.symbol == symbol_of(due[1], stitch)
        return 0 if same else _OTHER

    return [(entries[i], j) for i, j in aligned(entries, work, cost) if i is not None]


def _key(parts: Parts, shape: Shape) -> Key:
    marks = parts.marks.get(shape.order, {})
    size, round_, index = (marks.get(f"data-{name}", "") for name in ("size", "round", "index"))
    return size, round_, index
