"""The schematic: a mitten drawn flat and to scale from its counts, with its finished measures."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from gussetry.chart import Chart, Label, LabelKind, Line
from gussetry.grading import finished
from gussetry.layout import boxes, outlines
from gussetry.layout.dimensions import AIR, GAP, Dimensions, measure_text, mirrored
from gussetry.layout.outlines import Outline
from gussetry.layout.parts import MARGIN, title
from gussetry.stitchmap import StitchMap
from gussetry.style import Style, lettering
from gussetry.units import Point, text

_OFF = 4.5
"""From an outline to the first dimension line, mm."""


def _texts(maps: Sequence[StitchMap], style: Style) -> dict[str, str]:
    """Every measure as printed, all sizes in one line."""
    tables = [finished(m) for m in maps]
    return {
        name: measure_text([table[name] for table in tables if name in table], style)
        for table in tables
        for name in table
    }


def _outlines(maps: Sequence[StitchMap], scale: float) -> tuple[list[Outline], list[Line]]:
    """The outlines of all sizes, and of one alone the ribs of its cuff."""
    found = [outline for m in maps for outline in outlines.of(m, scale)]
    lines = [
        # The largest, to which the dimension lines belong, stands out by the heavier pen.
        Line("outline" if o.size == maps[-1].size else "frame", o.points, closed=True,
             tags=(("data-role", "outline"), ("data-piece", o.piece), ("data-size", o.size)))
        for o in found
    ]  # fmt: skip
    if len(maps) == 1:
        # Nested, nobody would tell the grooves from the sizes' edges.
        lines += [Line("rib", ends) for ends in outlines.ribs(maps[0], scale)]
    return found, lines


def _lengths(dims: Dimensions, largest: StitchMap, scale: float, box: boxes.Box) -> None:
    """Crook height, hand length and total length on the outer side, each further out."""
    crook = outlines.edge(largest, scale)
    hand = outlines.hand(largest, scale)
    cuff = outlines.cuff(largest, scale)
    tip = min(hand.points, key=lambda p: (p.y, p.x))
    foot = cuff.points[0] if cuff else hand.points[0]
    crease = Point(min(hand.points[0].x, foot.x), float(largest.above_crease) * scale)
    # The first one's term hangs between its line and the hand.
    x = box.left - _OFF - max(dims.above(), dims.below()) + GAP
    drawn_out = dims.box(box).bottom + dims.above() + 1.0
    for name, low, high in (
        ("crook height", crease, crook),
        ("hand length", crease, tip),
        ("total length", foot, tip),
    ):
        if name not in dims.texts:
            continue
        if dims.upright(name, low, high, x, drawn_out):
            drawn_out += dims.above() + dims.below() + 1.0
        x -= dims.above() + dims.below() + 1.0


def _thumb(dims: Dimensions, largest: StitchMap, scale: float, box: boxes.Box) -> None:
    """Length and circumference of the thumb, on its outer side."""
    points = outlines.thumb(largest, scale).points
    tall = min(p.y for p in points)
    tip = max((p for p in points if p.y == tall), key=lambda p: p.x)
    foot = points[-1]
    x = box.right + _OFF
    dims.beside("thumb length", foot, tip, x, (foot.y + tip.y) / 2)
    left, right = outlines.thumb_around(largest, scale)
    dims.arrows(left, right)
    over = min(tip.y, (foot.y + tip.y) / 2 - dims.above()) - dims.below() - AIR
    middle = Point((left.x + right.x) / 2, left.y)
    dims.shelf("thumb circumference", middle, Point(middle.x, over))


def _cuff(dims: Dimensions, largest: StitchMap, scale: float, found: Sequence[Outline]) -> None:
    """Depth and circumference of the cuff, clear of the outlines of every size."""
    outline = outlines.cuff(largest, scale)
    if outline is None:
        return
    low_left, _, high_right, low_right = outline.points
    middle = (low_right.y + high_right.y) / 2
    top = min(high_right.y, middle - dims.above())
    x = _OFF + max(_reach(o, top) for o in found if o.piece != "thumb")
    dims.beside("cuff depth", low_right, high_right, x, middle)
    y = max(low_right.y + 1.0, middle + dims.below()) + dims.above() + 1.0
    dims.level("cuff circumference", low_left, low_right, y)


def _hand(dims: Dimensions, largest: StitchMap, scale: float, top: float) -> None:
    """The hand's circumference, over the tip."""
    right = outlines.edge(largest, scale)
    hand = outlines.hand(largest, scale).points
    divided = outlines.widest(largest).count
    piece = largest.piece("hand")
    assert piece is not None
    full = [r.number for r in piece.counted if r.count == divided]
    y = hand[full[-1]].y
    dims.level("hand circumference", Point(-right.x, y), Point(right.x, y), top - dims.below() - 1)


def _letters(found: Sequence[Outline], style: Style) -> list[Label]:
    """Each size's name under its tip, or none where they would touch an outline or each other."""
    size = style.size("term")
    hands = [o for o in found if o.piece == "hand"]
    labels = []
    for outline in hands:
        tip = min(p.y for p in outline.points)
        at = Point(0.0, tip + 0.7 + size * lettering.CAP_HEIGHT)
        tags = (("data-role", "term"), ("data-size", outline.size))
        labels.append(Label("term", outline.size, at, "middle", tags=tags))
    places = [boxes.label_box(label, style) for label in labels]
    if any(a.touches(b) for a, b in itertools.combinations(places, 2)):
        return []
    for box in places:
        low = box.bottom + 0.3
        for outline in hands:
            left, right = edges(outline, box.top + 0.5), edges(outline, box.bottom)
            tip = min(p.y for p in outline.points)
            inside = all(e and e[0] < box.left - 0.5 and box.right + 0.5 < e[1]
                         for e in (left, right))  # fmt: skip
            if not inside and tip < low:
                return []
    return labels


def edges(outline: Outline, y: float) -> tuple[float, float] | None:
    """The leftmost and the rightmost x of an outline at a height; None above or below it."""
    cuts = []
    points = outline.points
    for a, b in zip(points, (*points[1:], points[0]), strict=True):
        if a.y != b.y and min(a.y, b.y) <= y <= max(a.y, b.y):
            cuts.append(a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y))
    return (min(cuts), max(cuts)) if cuts else None


def _reach(outline: Outline, y: float) -> float:
    """The rightmost x of an outline from a height downwards."""
    cut = edges(outline, y)
    below = [p.x for p in outline.points if p.y >= y]
    return max([*below, cut[1]] if cut else below)


def _notes(
    maps: Sequence[StitchMap], scale: float, cautions: Sequence[str]
) -> list[tuple[str, str]]:
    """The lines under the drawing: (role, words)."""
    notes = [
        ("scale", boxes.scale_text(scale)),
        ("note", f"Drawn flat: circumferences are the full round. {_from_the_crease(maps[0])}"
                 " measured from the wrist crease."),
    ]  # fmt: skip
    if maps[0].mitten != "both":
        notes.append(("note", "Seen from the back of the hand."))
    if len(maps) > 1:
        names = ", ".join(m.size for m in maps)
        notes.append(
            ("note", f"Outlines from the inside out: {names}. The dimension lines show"
                     f" size {maps[-1].size}, the heavier outline.")
        )  # fmt: skip
    return notes + [("note", words) for words in cautions]


def _from_the_crease(stitches: StitchMap) -> str:
    return "Crook height and hand length are" if stitches.piece("thumb") else "The hand length is"


def _rows(role: str, words: str, at: Point, width: float, style: Style) -> list[Label]:
    """Words in lines from `at` downwards, `at` the top left."""
    kind: LabelKind = "title" if role == "title" else "note"
    size = style.size(kind)
    return [
        Label(kind, row, Point(at.x, at.y + boxes.ASCENT * size + i * 1.25 * size),
              tags=(("data-role", role),))
        for i, row in enumerate(boxes.wrapped(words, kind, width, style))
    ]  # fmt: skip


def _heading(maps: Sequence[StitchMap]) -> str:
    if len(maps) == 1:
        return title(maps[0], "schematic")
    return f"{maps[0].pattern}: schematic, sizes {' / '.join(m.size for m in maps)}"


def _described(maps: Sequence[StitchMap], texts: dict[str, str]) -> str:
    parts = "; ".join(f"{name} {says}" for name, says in texts.items())
    return f"Finished measures: {parts}."


def _drawn(maps: Sequence[StitchMap], style: Style, cautions: Sequence[str], scale: float) -> Chart:
    """The schematic at one scale, as large as it comes out."""
    largest = maps[-1]
    sizes = " / ".join(dict.fromkeys(m.size for m in maps))
    found, lines = _outlines(maps, scale)
    texts = _texts(maps, style)
    mirror = all(m.mitten == "right" for m in maps)
    dims = Dimensions(style, texts, sizes, mirror)
    box = boxes.around(boxes.round_points(o.points) for o in found)
    if largest.piece("thumb"):
        _thumb(dims, largest, scale, box)
    _cuff(dims, largest, scale, found)
    _hand(dims, largest, scale, dims.box(box).top)
    _lengths(dims, largest, scale, box)
    labels = list(dims.labels)
    if len(maps) > 1:
        labels += _letters(found, style)
    lines += dims.lines
    if mirror:
        lines, labels = mirrored(lines, labels)
    box = boxes.chart_box((), lines, labels, style)
    heading = _heading(maps)
    asked = min(boxes.words_width("title", heading, style), style.width - 2 * MARGIN)
    width = max(box.right - box.left, asked)
    y = box.bottom + 1.2 * style.size("note")
    for role, words in _notes(maps, scale, cautions):
        rows = _rows(role, words, Point(box.left, y), width, style)
        labels += rows
        y += 1.25 * style.size("note") * len(rows) + 0.3 * style.size("note")
    size = style.size("title")
    above = len(boxes.wrapped(heading, "title", width, style)) * 1.25 * size
    labels += _rows("title", heading, Point(box.left, box.top - above - 0.3 * size),
                    width, style)  # fmt: skip
    whole = boxes.chart_box((), lines, labels, style)
    tags = (
        ("data-kind", "schematic"), ("data-size", sizes),
        ("data-mitten", " / ".join(dict.fromkeys(m.mitten for m in maps))),
        ("data-scale", text(scale, 6)),
    )  # fmt: skip
    chart = Chart(
        "schematic", heading, _described(maps, texts),
        whole.right - whole.left + 2 * MARGIN, whole.bottom - whole.top + 2 * MARGIN,
        (), tuple(lines), (), tuple(labels), tags,
    )  # fmt: skip
    return boxes.moved(chart, Point(MARGIN - whole.left, MARGIN - whole.top))


def schematic(maps: Sequence[StitchMap], style: Style, cautions: Sequence[str] = ()) -> Chart:
    """The schematic of one mitten, or of all sizes nested on the centre line and the wrist.

    `maps` stand smallest first, one a size. A right mitten is drawn with its thumb on the left, as
    seen from the back of the hand; every other with its thumb on the right. The scale is the
    style's, or the next rounder one at which the drawing fits the style's width and height; the
    smallest is kept even where it does not.
    """
    for scale in boxes.scales(style):
        chart = _drawn(maps, style, cautions, scale)
        if chart.width <= style.width and chart.height <= style.height:
            break
    return chart
