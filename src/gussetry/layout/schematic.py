"""The schematic: a mitten drawn flat and to scale from its counts, with its finished measures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from gussetry.chart import Chart, Label, Line
from gussetry.grading import finished
from gussetry.layout import boxes, outlines, striping
from gussetry.layout.dimensions import (
    AIR,
    APART,
    ASIDE,
    GAP,
    TAIL,
    Dimensions,
    measure_text,
    mirrored,
)
from gussetry.layout.legend import yarn_legend
from gussetry.layout.looks import Look, notes_of, run_on, set_words
from gussetry.layout.marks import size_marks
from gussetry.layout.outlines import Outline, edges
from gussetry.layout.paging import Content, Heading, paged
from gussetry.layout.tags import title
from gussetry.stitchmap import StitchMap
from gussetry.style import Style
from gussetry.units import Point

_OFF = 4.5
"""From an outline to the first dimension line, mm."""


_SLIM = 1.5
"""Room for a leader beside the thumb, mm."""
_OVER = 3.0
"""White between the tip and the term over it, mm."""
_ON_THE_STRIP = "Stripes that could not be told apart here are shown on the stripe strip alone."


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


def _lengths(
    dims: Dimensions, largest: StitchMap, scale: float, box: boxes.Box, *, over: bool
) -> None:
    """Crook height, hand length and total length on the outer side, each further out. The crook's
    projection line runs `over` the hand, or begins at its outer edge."""
    crook = outlines.edge(largest, scale)
    hand = outlines.hand(largest, scale)
    cuff = outlines.cuff(largest, scale)
    tip = min(hand.points, key=lambda p: (p.y, p.x))
    foot = cuff.points[0] if cuff else hand.points[0]
    crease = Point(min(hand.points[0].x, foot.x), float(largest.above_crease) * scale)
    if not over:
        crook = Point(min(p.x for p in hand.points), crook.y)
    elif largest.piece("thumb"):
        # A thumb that lies over the hand has its own foot there.
        crook = Point(min(crook.x, outlines.thumb(largest, scale).points[0].x), crook.y)
    x, drawn_out = box.left, dims.box(box).bottom + dims.above() + 1.0
    apart = _OFF - APART - GAP
    for name, low, high in (
        ("crook height", crease, crook),
        ("hand length", crease, tip),
        ("total length", foot, tip),
    ):
        if name not in dims.texts:
            continue
        if dims.listed:
            x -= _OFF if x == box.left else dims.between()
            dims.upright(name, low, high, x, drawn_out)
            continue
        # A term hangs between its line and what stands right of it; a leader needs no such room.
        stands = dims.stands(name, low, high)
        x -= apart + APART + (dims.below() if stands else 0.0)
        dims.upright(name, low, high, x, drawn_out)
        apart = dims.above() if stands else ASIDE
        if not stands:
            drawn_out += dims.above() + dims.below() + 1.0


def _thumb(dims: Dimensions, largest: StitchMap, scale: float, found: Sequence[Outline]) -> None:
    """Length and circumference of the thumb, on its outer side and between it and the hand."""
    points = outlines.thumb(largest, scale).points
    tall = min(p.y for p in points)
    tip = max((p for p in points if p.y == tall), key=lambda p: p.x)
    # The division's ledge may reach further out than the thumb on it.
    foot = max(points[-1], *(p for p in outlines.hand(largest, scale).points
                             if p.y == points[-1].y))  # fmt: skip
    box = boxes.around(boxes.round_points(o.points) for o in found)
    middle = (foot.y + tip.y) / 2
    dims.beside("thumb length", foot, tip, box.right + _OFF, middle)
    # Clear of what tells the length: its text, and an arrow that points down at a short thumb.
    over = dims.box(boxes.round_points((tip, foot))).top - dims.below()
    over -= AIR if dims.listed else 2 * AIR
    others = [
        ends
        for o in found
        if (o.piece, o.size) != ("thumb", largest.size)
        for ends in zip(o.points, (*o.points[1:], o.points[0]), strict=True)
    ]
    best, fewest = None, len(others) + 1
    for way in _ways(largest, scale, over):
        crossed = _crossed(way[0], way[2], others)
        if crossed < fewest:
            best, fewest = way, crossed
        if not crossed:
            break
    assert best is not None
    left, right, bend = best
    rim = outlines.top_at(points, bend.x) if bend.x > left.x else left.y
    dims.across("thumb circumference", left, right, bend, rim)


def _ways(largest: StitchMap, scale: float, over: float) -> Iterator[tuple[Point, Point, Point]]:
    """Where the thumb's circumference may be told, the best first: both edges, and the place left
    of them at whose x its leader goes up to the y `over`, between thumb and hand; at last, where
    the thumb lies over the hand, within it."""
    # Beside the hand, and the projection line that goes up from its edge.
    least = outlines.edge(largest, scale).x + 1.2
    around = outlines.thumb_around(largest, scale)[::-1]
    for left, right in around:
        if left.x - TAIL >= least:
            yield from (
                (left, right, Point(left.x - TAIL - i, over))
                for i in range(1 + int(left.x - TAIL - least))
            )
        elif left.x - _SLIM >= least:
            yield left, right, Point((least + left.x) / 2, over)
    for left, right in around:
        yield left, right, Point(max(least, left.x + (right.x - left.x) / 4), over)


def _crossed(left: Point, bend: Point, others: Sequence[tuple[Point, Point]]) -> int:
    """How often the way left from a point to a bend's x and up to the bend crosses outlines."""
    crossed = 0
    for a, b in others:
        if (a.y <= left.y) != (b.y <= left.y):
            x = a.x + (b.x - a.x) * (left.y - a.y) / (b.y - a.y)
            crossed += bend.x - 0.5 <= x <= left.x
        if (a.x <= bend.x) != (b.x <= bend.x):
            y = a.y + (b.y - a.y) * (bend.x - a.x) / (b.x - a.x)
            crossed += bend.y <= y <= left.y
    return crossed


def _cuff(dims: Dimensions, largest: StitchMap, scale: float, found: Sequence[Outline]) -> None:
    """Depth and circumference of the cuff, clear of the outlines of every size."""
    outline = outlines.cuff(largest, scale)
    if outline is None:
        return
    low_left, _, high_right, low_right = outline.points
    middle = (low_right.y + high_right.y) / 2
    top = high_right.y if dims.listed else min(high_right.y, middle - dims.above())
    x = _OFF + max(_reach(o, top) for o in found if o.piece != "thumb")
    # From the hand, where it reaches over the cuff.
    foot = max(high_right, outlines.hand(largest, scale).points[-1])
    dims.beside("cuff depth", low_right, foot, x, middle)
    y = low_right.y + 1.0
    if not dims.listed:
        y = max(y, middle + dims.below())
    dims.level("cuff circumference", low_left, low_right, y + dims.above() + 1.0)


def _hand(dims: Dimensions, largest: StitchMap, scale: float, top: float) -> None:
    """The hand's circumference, over the tip."""
    right = outlines.edge(largest, scale)
    divided = outlines.widest(largest).count
    piece = largest.piece("hand")
    assert piece is not None
    full = [r.number for r in piece.counted if r.count == divided]
    y = outlines.hand_sides(largest, scale).left[full[-1]].y
    # Its term keeps off the projection line at the tip.
    over = top - dims.below() - (1.0 if dims.listed else _OVER)
    dims.level("hand circumference", Point(-right.x, y), Point(right.x, y), over)


def _reach(outline: Outline, y: float) -> float:
    """The rightmost x of an outline from a height downwards."""
    cut = edges(outline.points, y)
    below = [p.x for p in outline.points if p.y >= y]
    return max([*below, cut[1]] if cut else below)


def _title(maps: Sequence[StitchMap]) -> str:
    if len(maps) == 1:
        return title(maps[0], "schematic")
    return f"{maps[0].pattern}: schematic, sizes {' / '.join(m.size for m in maps)}"


def schematic_at(
    maps: Sequence[StitchMap], style: Style, notes: Sequence[str], look: Look
) -> Chart:
    """The schematic of one mitten, or of several sizes nested, laid out as asked, as large as it
    comes out. `notes` stand under it."""
    largest, scale = maps[-1], look.scale
    sizes = " / ".join(dict.fromkeys(m.size for m in maps))
    wished = len(maps) == 1 and style.schematic == "stripes"
    found, lines = _outlines(maps, scale)
    mirror = all(m.mitten == "right" for m in maps)
    dims = Dimensions(style, _texts(maps, style), sizes, mirror, look.listed)
    box = boxes.around(boxes.round_points(o.points) for o in found)
    if largest.piece("thumb"):
        _thumb(dims, largest, scale, found)
    line = _within_thumb(dims)
    striped = wished and striping.can_be_told(largest, style, scale, line)
    _cuff(dims, largest, scale, found)
    _hand(dims, largest, scale, dims.box(box).top)
    _lengths(dims, largest, scale, box, over=not striped)
    content = Content(style, min(_top(o) for o in found), max(_foot(m, scale) for m in maps))
    marks: tuple[list[Line], list[Label]] = ([], [])
    if len(maps) > 1:
        marks = size_marks(found, style, outlines.edge(largest, scale).y)
    content.lines += [*lines, *marks[0], *dims.lines]
    if striped:
        _lay_in(content, largest, scale, line)
    content.labels += [*marks[1], *dims.labels]
    if mirror:
        content.patches, content.lines, content.labels = mirrored(
            content.patches, content.lines, content.labels
        )
    words = notes_of(maps, scale, notes, marked=bool(marks[1]))
    if wished and not striped:
        words.append(("note", _ON_THE_STRIP))
    if look.run_on:
        words = run_on(words)
    width = set_words(content, dims, _title(maps), words, look)
    if striped:
        _yarns(content, largest, width)
    tags = (
        ("data-kind", "schematic"), ("data-size", sizes),
        ("data-mitten", " / ".join(dict.fromkeys(m.mitten for m in maps))),
        *((("data-stripes", "yes"),) if striped else ()),
    )  # fmt: skip
    heading = Heading("schematic", _title(maps), width, tags)
    return paged(content, heading, scale, look.head)


def _top(outline: Outline) -> float:
    return min(p.y for p in outline.points) if outline.piece == "hand" else 0.0


def _foot(stitches: StitchMap, scale: float) -> float:
    cuff = outlines.cuff(stitches, scale)
    return cuff.points[0].y if cuff else 0.0


def _within_thumb(dims: Dimensions) -> float | None:
    """The y at which a dimension line lies within the thumb; None where none does."""
    own = [
        line
        for line in dims.lines
        if line.arrows in ("both", "none")
        and len(line.points) == 2
        and ("data-measure", "thumb circumference") in line.tags
    ]
    return own[0].points[0].y if own else None


def _lay_in(content: Content, stitches: StitchMap, scale: float, line: float | None) -> None:
    """The mitten's stripes, with their letters where these can be read on colours."""
    stripes = list(striping.stripes_of(stitches, content.style, scale))
    rib = stitches.rib or stitches.fabric
    content.patches += [stripe.patch(stitches) for stripe in stripes]
    ribs = [line for line in content.lines if line.kind == "rib"]
    if striping.are_upright(stitches, content.style, float(rib.height) * scale):
        # The edges of upright stripes are grooves themselves.
        ribs = []
    others = [line for line in content.lines if line.kind != "rib"]
    letters = []
    if content.style.yarns == "colours":
        told = (striping.letter(stripe, stitches, content.style, line) for stripe in stripes)
        letters = [label for label in told if label]
    around = [boxes.label_box(label, content.style) for label in letters]
    content.labels += letters
    content.lines = [one for line in others for one in striping.over(stripes, line, stitches)]
    for one in ribs:
        content.lines += striping.grooved(one, stripes, around, stitches)


def _yarns(content: Content, stitches: StitchMap, width: float) -> None:
    box = content.box()
    corner = Point(box.left, box.bottom + content.style.size("term"))
    patches, labels, _ = yarn_legend(stitches, content.style, corner, width)
    content.patches += patches
    content.labels += labels
