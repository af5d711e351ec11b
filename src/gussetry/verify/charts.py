"""Stitch charts (hand, gusset, crown, thumb, cuff): every stitch counted again from its place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median
from typing import NamedTuple

from gussetry.stitchmap import Piece, Round, StitchMap
from gussetry.verify.claims import claimed
from gussetry.verify.findings import Asked, Disagreement
from gussetry.verify.labels import found_at
from gussetry.verify.rows import APART, Row, grid_rows, pitch_of, ring_centre, ring_rows, up_to
from gussetry.verify.strokes import Symbol, read_symbol
from gussetry.verify.sums import Sums, read_sums
from gussetry.verify.svg import Page, Shape
from gussetry.verify.words import operations

PIECES = {"hand": "hand", "gusset": "hand", "crown": "hand", "thumb": "thumb", "cuff": "cuff"}
_CROWN = ("crown", "close", "draw shut")
_MOST = 4  # findings of one kind told of one row
_AT_END = 1.0  # mm: words that begin at one place do so within it, whatever their letters
_BELOW = 1.2  # mm: words beside a row stand nearer to its middle, those below it do not
_LINE = 2.2  # lines of words that belong together stand no further apart, over their height
_BESIDE = 0.48  # lines of a row reach so far towards the next, over the distance of the two
_ALONE = 20.0  # mm: words below the one row of a sheet are no further off
_DRAWN = 1.75  # a pitch is no more of what is drawn of most stitches, where all stand far apart
_MEASURED = 0.9  # a pitch found from centres of boxes may be this much too large


@dataclass(frozen=True, slots=True)
class Sheet:
    """A stitch chart read back: its stitches in rows, and the rounds that these ought to be.

    `centre` is the crown's, None on a grid. `drawn` are the rounds that are no part of a sum of
    rounds, in order of working; `rows` the rows found, in the same order.
    """

    page: Page
    asked: Asked
    map: StitchMap
    piece: Piece
    texts: dict[int, str]
    stitches: tuple[Shape, ...]
    pitch: float
    centre: complex | None
    rows: tuple[Row, ...]
    drawn: tuple[Round, ...]
    sums: Sums
    left: bool

    @property
    def paired(self) -> list[tuple[Row, Round]]:
        """Each row with its round; none where their numbers differ."""
        if len(self.rows) != len(self.drawn):
            return []
        return list(zip(self.rows, self.drawn, strict=True))

    def up(self, shape: Shape) -> complex:
        """The way from foot to head at the shape's place."""
        return -1j if self.centre is None else up_to(self.centre, shape.box.centre)


def covered(piece: Piece, kind: str) -> tuple[Round, ...]:
    """The rounds of the piece that a chart of the kind must show or sum up."""
    if kind == "crown":
        return tuple(r for r in piece.rounds if r.phase.startswith(_CROWN))
    if kind in ("hand", "gusset"):
        return tuple(r for r in piece.rounds if not r.phase.startswith(_CROWN))
    return piece.rounds


def fabric_stitch(stitches: StitchMap, piece: Piece) -> str:
    """The stitch that the piece's fabric is made of."""
    if piece.piece == "cuff" and stitches.rib is not None:
        return stitches.rib.stitch
    return stitches.fabric.stitch


def read_sheet(
    page: Page, asked: Asked, stitches: StitchMap, texts: dict[int, str]
) -> tuple[Sheet | None, list[Disagreement]]:
    """The chart in rows, and what its sums of rounds have wrong; no sheet where there is no such
    piece or no stitch."""
    piece = next((p for p in stitches.pieces if p.piece == PIECES[asked.kind]), None)
    shapes = tuple(s for s in page.shapes if "stitch" in s.classes)
    if piece is None or not shapes:
        what = "the map has no such piece" if piece is None else "the drawing has no stitch"
        return None, [Disagreement("rows", what, piece=PIECES[asked.kind])]
    left = page.tag("hand") == "left"
    places = [shape.box.centre for shape in shapes]
    pitch = pitch_of(places)
    due = claimed(page, covered(piece, asked.kind), asked.maps.index(stitches))
    sums = read_sums(page, asked.terms, due, texts)
    if asked.kind == "crown" and not unrolled(page):
        centre = ring_centre(places, pitch, _shut_at(shapes))
        rows = ring_rows(shapes, centre, pitch, left)
    else:
        centre = None
        ends = _Ends(page, left, frozenset(_shut(sums.within, texts, asked.terms)))
        rows = _with_sums(_with_bridges(grid_rows(shapes, pitch)), sums.within, ends)
    drawn = tuple(r for r in due if r.number not in sums.rounds)
    if asked.kind in ("hand", "gusset") and drawn[:1] and drawn[0].phase == "foundation":
        # A hand begun on a chain may be drawn from its first round on.
        drawn = drawn[1:] if len(rows) < len(drawn) else drawn
    sheet = Sheet(
        page, asked, stitches, piece, texts, shapes, pitch, centre, tuple(rows), drawn, sums, left
    )
    return sheet, list(sums.findings)


def unrolled(page: Page) -> bool:
    """Whether a crown's rounds are drawn as rows, as the page itself says."""
    return page.tag("form") == "unrolled"


def _shut_at(shapes: Sequence[Shape]) -> complex | None:
    """Where the drawing shut is drawn, the one symbol that is alike from every side."""
    for shape in shapes:
        if len(shape.subs) == 2 and not any("L" in sub.steps for sub in shape.subs):
            symbol = symbol_in(shape, -1j)
            if symbol is not None and symbol.do == "close":
                return shape.box.centre
    return None


def nearest_level(levels: Sequence[float], height: float) -> tuple[float, float]:
    """The row nearest to a height on the page, and how far the next row is on that side of it: on
    the other side where there is none; 20 mm of a single row."""
    nearest = min(levels, key=lambda level: abs(level - height))
    side = [abs(level - nearest) for level in levels if (level - nearest) * (height - nearest) > 0]
    others = [abs(level - nearest) for level in levels if level != nearest]
    return nearest, min(side or others, default=20.0)


def _shut(sums: Sequence[Shape], texts: dict[int, str], terms: str) -> Iterator[int]:
    """The sums that are a drawing shut, by their order: that is a round by itself."""
    for shape in sums:
        if operations(texts.get(shape.order, ""), terms) == ["close"]:
            yield shape.order


class _Ends:
    """Where words below rows stand: those at the end of rounds begin where the counts do. `alone`:
    sums that are rows by themselves, by their order."""

    def __init__(self, page: Page, left: bool, alone: frozenset[int]) -> None:
        words = [s for s in page.shapes if s.tag("role") in ("count", "sum")]
        edges = [s.box.right if left else s.box.left for s in words]
        self.alone, self.left = alone, left
        self.outer = (max if left else min)(edges, default=0.0)
        self.known = any(s.tag("role") == "count" for s in words)

    def side(self, shape: Shape, middle: float) -> int:
        """-1 for words at the left end of rows, 1 for those at the right."""
        if not self.known:
            return -1 if shape.box.centre.real < middle else 1
        return 1 if self.holds(shape) == self.left else -1

    def below(self, sums: Sequence[Shape], levels: Sequence[float]) -> bool:
        """Whether sums stand below the rows of those heights, not beside them."""
        heights = [s.box.centre.imag for s in sums if s.order not in self.alone]
        return all(min(abs(height - level) for level in levels) > _BELOW for height in heights)

    def holds(self, shape: Shape) -> bool:
        """Whether words stand at the end of rounds, where the counts do."""
        edge = shape.box.right if self.left else shape.box.left
        return self.known and abs(edge - self.outer) < _AT_END


def _with_sums(rows: list[Row], sums: Sequence[Shape], ends: _Ends) -> list[Row]:
    """The rows with the sums that stand in them; a sum far from every row is a row itself."""
    gaps = sorted(abs(a.level - b.level) for a, b in pairwise(rows))
    half = gaps[len(gaps) // 2] / 2 if gaps else _ALONE
    levels = [row.level for row in rows]
    ends.known = ends.known and ends.below(sums, levels)
    found = {row.level: row for row in rows}
    lines: dict[float, float] = {}
    for label in sorted(sums, key=lambda shape: shape.box.centre.imag):
        height = label.box.centre.imag
        nearest, gap = nearest_level(levels, height)
        reach = _LINE * (label.box.bottom - label.box.top) if ends.known else 0.0
        if label.order in ends.alone:
            nearest = height
        elif abs(nearest - height) > max(half, _BESIDE * gap):
            nearest = next((k for k, last in lines.items() if height - last < reach), height)
        # Words in the next line below go on from those of the line above.
        lines[nearest] = height
        row = found.get(nearest, Row(nearest, ()))
        found[nearest] = row._replace(items=(*row.items, label))
    return [
        row._replace(items=tuple(_across(row.items, ends)))
        for _, row in sorted(found.items(), reverse=True)
    ]


def _across(items: Sequence[Shape], ends: _Ends) -> list[Shape]:
    """Stitches and sums from left to right; sums that stand below stitches, at their ends, in lines
    in the order of working."""
    drawn = sorted((s for s in items if s.tag("role") != "sum"), key=lambda s: s.box.centre.real)
    middle = (drawn[0].box.centre.real + drawn[-1].box.centre.real) / 2 if drawn else 0.0

    def key(shape: Shape) -> tuple[int, float, float]:
        x = shape.box.centre.real
        over = [s for s in drawn if s.box.left < shape.box.right and s.box.right > shape.box.left]
        # A short line of words may stand beside all stitches: it begins where the counts do.
        if shape.tag("role") != "sum" or not (over or ends.holds(shape)):
            return 0, x, x
        down = shape.box.centre.imag
        return ends.side(shape, middle), down if ends.left else -down, x

    return sorted(items, key=key)


def _kinds(shapes: Sequence[Shape]) -> list[Symbol | None]:
    """What shapes of a grid draw, sums left out."""
    return [symbol_in(shape, -1j) for shape in shapes if shape.tag("role") != "sum"]


def _with_bridges(rows: list[Row]) -> list[Row]:
    """The rows with each bridge given to the row that it spans: a row of nothing but chains right
    above one of which stitches are set aside."""
    found: list[Row] = []
    for row in rows:
        below = _kinds(found[-1].items) if found else []
        aside = any(s is not None and (s.held or s.do == "hold") for s in below)
        if aside and all(s is not None and s.do == "ch" for s in _kinds(row.items)):
            found[-1] = found[-1]._replace(bridge=row.items)
        else:
            found.append(row)
    return found


# --- a row against its round ------------------------------------------------------------------


class Entry(NamedTuple):
    """One operation found in a row: its symbol (None where its strokes are no known one) and the
    shape it was found in, a stitch or a sum."""

    do: str
    symbol: Symbol | None
    shape: Shape
    summed: bool


def entries_of(sheet: Sheet, row: Row, round_: Round, findings: list[Disagreement]) -> list[Entry]:
    """What a row holds in order of working."""
    items, bridge = list(row.items), list(row.bridge)
    if sheet.centre is None:
        turned = sheet.piece.worked == "rows" and round_.number % 2 == 0
        if turned == sheet.left:
            items.reverse()
            bridge.reverse()
    entries: list[Entry] = []
    aside = 0
    for shape in items:
        if shape.tag("role") == "sum":
            text = sheet.texts.get(shape.order, "")
            work = operations(text, sheet.asked.terms)
            if work is None:
                findings.append(found_at("sum", "a sum cannot be read", shape, found=text))
            entries += [Entry(do, None, shape, True) for do in work or ()]
            continue
        entries.append(_drawn(sheet, shape, findings))
        symbol = entries[-1].symbol
        if symbol is not None and (symbol.held or symbol.do == "hold"):
            aside = len(entries)
    # A bridge is chained when the last stitch is set aside.
    entries[aside:aside] = [_drawn(sheet, shape, findings) for shape in bridge]
    return entries


def _drawn(sheet: Sheet, shape: Shape, findings: list[Disagreement]) -> Entry:
    """A stitch that is drawn, not summed."""
    symbol = symbol_in(shape, sheet.up(shape))
    if symbol is None:
        findings.append(
            found_at("shape", "strokes that are no known symbol", shape, shape.tag("do"))
        )
    return Entry(symbol.do if symbol else "?", symbol, shape, False)


def symbol_in(shape: Shape, up: complex) -> Symbol | None:
    """The symbol that a painted shape draws."""
    return read_symbol(
        shape.subs,
        up,
        filled=shape.fill != "none",
        stroked=shape.stroke != "none" and shape.pen > 0,
    )


def crowded(sheet: Sheet) -> list[Disagreement]:
    """Neighbours and rows that stand closer than the contract allows, stacked ones among them."""
    rows = [_neighbours(sheet, row) for row in sheet.rows]
    # The tightest row sets the pitch; by its middle, so that a stacked pair does not set it.
    usual = [median(away for _, away in row) for row in rows if len(row) > 2]
    drawn = _DRAWN * median(shape.box.size for shape in sheet.stitches)
    least = APART * min([sheet.pitch, drawn, *usual]) * _MEASURED
    findings = [
        found_at("stacked", "two stitches stand at one place", shape,
                 f"{least:.2f} mm", f"{away:.2f} mm")
        for row in (*rows, *(_between(row.bridge) for row in sheet.rows))
        for shape, away in row
        # Where every stitch is doubled there is no pitch to go by: the strokes' size serves.
        if away < max(least, 0.05 * shape.box.size)
    ]  # fmt: skip
    levels = [
        level
        for row in sheet.rows
        for level in ((row.items, row.level), (row.bridge, _level(row.bridge)))
        if level[0]
    ]
    findings += [
        found_at("stacked", "two rows stand too close", above[0],
                 f"{least:.2f} mm", f"{abs(below - at):.2f} mm")
        for (_, below), (above, at) in pairwise(levels)
        if abs(below - at) < least
    ]  # fmt: skip
    return findings[: 2 * _MOST]


def _neighbours(sheet: Sheet, row: Row) -> list[tuple[Shape, float]]:
    """Each stitch of a row with its distance from the next one."""
    stitches = [s for s in row.items if s.tag("role") != "sum"]
    if sheet.centre is not None and len(stitches) > 2:
        stitches.append(stitches[0])
    return _between(stitches)


def _between(stitches: Sequence[Shape]) -> list[tuple[Shape, float]]:
    """Each shape with its distance from the next one."""
    return [(one, abs(one.box.centre - other.box.centre)) for one, other in pairwise(stitches)]


def _level(shapes: Sequence[Shape]) -> float:
    """The height on the page at which shapes stand, 0 of none."""
    return median(shape.box.centre.imag for shape in shapes) if shapes else 0.0
