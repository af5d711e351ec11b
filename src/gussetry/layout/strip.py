"""The stripe strip: cuff and hand as bands of their yarns, to scale, beside their landmarks."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import NamedTuple

from gussetry.chart import Chart, Label, LabelKind, Line, Patch, Tags
from gussetry.grading import finished
from gussetry.layout import boxes, striping
from gussetry.layout.landmarks import landmarks
from gussetry.layout.legend import yarn_legend
from gussetry.layout.paging import Content, Heading, paged
from gussetry.layout.parts import MARGIN
from gussetry.layout.tags import title
from gussetry.stitchmap import Fabric, Piece, StitchMap
from gussetry.style import Style, lettering
from gussetry.units import Point

_WIDE, _SLIM, _NARROW = 22.0, 15.0, 140.0
"""Width of the strip, mm, and in a column that is narrower than the last."""
_LEADER = 5.0
"""Width of the gap between the strip and its labels, mm."""
_AIR = 0.8
"""White between a leader or the strip and words, mm."""
_OFF = 1.2
"""White between the strip's outline and the numbers of rounds, mm."""
_LINE, _CLEAR = 1.0, 0.6
"""From a label's middle to the next label's in its column, and to the next leader, over the em."""
_SHIFT = 1.5
"""How far labels in one column are moved from their stripes at most, over the em."""


class Band(NamedTuple):
    """One band of the strip: rounds of one piece in one yarn, or the rows of a cuff with all their
    `yarns`; mm of the finished mitten."""

    piece: str
    first: int
    last: int
    yarns: tuple[str, ...]
    height: float

    @property
    def rounds(self) -> str:
        """The rounds as tagged: `4`, or `1-30` for a block."""
        return str(self.first) if self.first == self.last else f"{self.first}-{self.last}"

    @property
    def tags(self) -> Tags:
        """The piece and the rounds."""
        return (("data-piece", self.piece), ("data-round", self.rounds))

    @property
    def letters(self) -> str:
        """The letters of its yarns, as printed."""
        return ", ".join(self.yarns)


def bands(stitches: StitchMap) -> tuple[Band, ...]:
    """The bands from the cuff's edge to the tip or the edging: a cuff worked in rows as one block,
    every other round by itself."""
    found: list[Band] = []
    for piece in stitches.pieces:
        if piece.piece != "thumb":
            found += _bands(stitches, piece)
    return tuple(found)


def _bands(stitches: StitchMap, piece: Piece) -> list[Band]:
    if piece.worked == "rows":
        rows = piece.counted
        depth = float(finished(stitches)["cuff depth"])
        yarns = tuple(dict.fromkeys(row.yarn for row in rows))
        return [Band("cuff", rows[0].number, rows[-1].number, yarns, depth)]
    own: Fabric = stitches.fabric
    if piece.piece == "cuff" and stitches.rib:
        own = stitches.rib
    up = float(own.height)
    return [Band(piece.piece, r.number, r.number, (r.yarn,), up) for r in piece.counted]


def _stripes(found: tuple[Band, ...]) -> list[tuple[Band, float]]:
    """Bands of one yarn in one piece as one, each with the height of its middle above the edge."""
    stripes: list[tuple[Band, float]] = []
    foot = 0.0
    for _, run in itertools.groupby(found, lambda band: (band.piece, band.yarns)):
        members = list(run)
        height = sum(band.height for band in members)
        first, last = members[0], members[-1]
        stripes.append(
            (Band(first.piece, first.first, last.last, first.yarns, height), foot + height / 2)
        )
        foot += height
    return stripes


class _Strip(NamedTuple):
    """A strip while it is laid out: its edge (the cuff's) is y = 0, its left side x = 0."""

    stitches: StitchMap
    style: Style
    scale: float
    found: tuple[Band, ...]
    content: Content

    @property
    def wide(self) -> float:
        """How wide the bands are."""
        return _SLIM if self.style.width < _NARROW else _WIDE

    def level(self, kind: LabelKind, y: float) -> float:
        """The baseline of a label whose figures have their middle at `y`."""
        return y + self.style.size(kind) * lettering.CAP_HEIGHT / 2

    def rule(self, *points: Point, tags: Tags = ()) -> None:
        """A thin leader between the strip and a label."""
        self.content.lines.append(Line("rule", points, tags=tags))

    def say(self, kind: LabelKind, words: str, at: Point, tags: Tags, end: bool = False) -> None:
        """A label with its size's tag."""
        tags = (*tags, ("data-size", self.stitches.size))
        self.content.labels.append(Label(kind, words, at, "end" if end else "start", tags=tags))


def _side_by_side(strip: _Strip, band: Band) -> list[tuple[Band, float, float]]:
    """The parts of a band, each with where on the strip it begins and ends, mm: the rows of a cuff
    in runs of one yarn, the first on the right as she works round it, where they can be told."""
    cuff = strip.stitches.piece("cuff")
    whole = [(band, 0.0, strip.wide)]
    if len(band.yarns) == 1 or cuff is None:
        return whole
    row = strip.wide / len(cuff.counted)
    if not striping.are_upright(strip.stitches, strip.style, row):
        return whole
    return [
        (Band("cuff", first, last, (yarn,), band.height),
         strip.wide - last * row, strip.wide - (first - 1) * row)
        for first, last, yarn in striping.runs(cuff)
    ]  # fmt: skip


def _draw_bands(strip: _Strip) -> None:
    """Every band as a patch, or as several side by side, and the edge about all of them."""
    foot = 0.0
    for band in strip.found:
        head = foot - band.height * strip.scale
        for part, left, right in _side_by_side(strip, band):
            corners = (Point(left, foot), Point(right, foot),
                       Point(right, head), Point(left, head))  # fmt: skip
            yarn = part.yarns[0]
            tags = (
                ("data-role", "stripe"), *part.tags,
                ("data-yarn", yarn), ("data-size", strip.stitches.size),
            )  # fmt: skip
            strip.content.patches.append(Patch(corners, yarn, strip.stitches.colour(yarn), tags))
        foot = head
    # Rules take the ink that shows on their yarn; the strip's edge is seen against the paper.
    edge = (Point(0, 0), Point(strip.wide, 0), Point(strip.wide, foot), Point(0, foot))
    tags = (("data-role", "outline"), ("data-size", strip.stitches.size))
    strip.content.lines.append(Line("outline", edge, closed=True, tags=tags))


def _columns(levels: Sequence[float], size: float) -> list[int]:
    """The column of each label, 0 next to the strip, so that it is clear of the others and of
    their leaders. `levels` stand from the top down, `size` is the letters' em, mm."""
    last = [-math.inf, -math.inf]
    chosen: list[int] = []
    for y in levels:
        column = 0 if y - last[0] >= _LINE * size - 1e-9 else 1
        last[column] = y
        chosen.append(column)
    return chosen


def _draw_yarns(strip: _Strip, *, many: bool) -> None:
    """Yarn and rounds beside each stripe, on a leader; in two columns where there are `many`."""
    size = strip.style.size("yarn")
    shown = [(band, -middle * strip.scale) for band, middle in reversed(_stripes(strip.found))]
    ranges = [_range(strip.stitches, band) for band, _ in shown]
    letters = max(boxes.words_width("yarn", band.letters, strip.style) for band, _ in shown)
    wide = max(boxes.words_width("yarn", words, strip.style) for words in ranges)
    step = letters + wide + 0.6 * size + 2 * _AIR + 1.0
    apart = (_CLEAR if many else _LINE) * size
    levels = boxes.spread([y for _, y in shown], apart, strip.content.top, 0.0)
    columns = _columns(levels, size) if many else [0] * len(levels)
    for (band, y), level, column, words in zip(shown, levels, columns, ranges, strict=True):
        bend = Point(-_LEADER, level)
        right = -_LEADER - column * step
        strip.rule(Point(0, y), bend, *([Point(right, level)] if column else ()), tags=band.tags)
        below = strip.level("yarn", level)
        tags = (("data-role", "yarn"), *band.tags)
        strip.say("yarn", band.letters, Point(right - _AIR, below), tags, end=True)
        at = Point(right - _AIR - letters - 0.6 * size, below)
        strip.say("yarn", words, at, (("data-role", "term"), *band.tags), end=True)
    head = Point(-_LEADER - _AIR, min(strip.content.top, levels[0]) - 0.9 * size)
    strip.say("yarn", "rounds, yarn", head, (("data-role", "term"),), end=True)


def _is_crowded(strip: _Strip) -> bool:
    """Whether one column of labels would leave its stripes."""
    size = strip.style.size("yarn")
    wanted = [-middle * strip.scale for _, middle in reversed(_stripes(strip.found))]
    placed = boxes.spread(wanted, _LINE * size, strip.content.top, 0.0)
    return max(abs(a - b) for a, b in zip(wanted, placed, strict=True)) > _SHIFT * size


def _range(stitches: StitchMap, band: Band) -> str:
    shown = str(band.first) if band.first == band.last else f"{band.first}–{band.last}"
    if band.piece == "hand":
        return shown
    cuff = stitches.piece("cuff")
    return f"rows {shown}" if cuff and cuff.worked == "rows" else f"cuff {shown}"


def _draw_numbers(strip: _Strip) -> float:
    """The numbers of every fifth round of the hand right of it, or of each where rounds are tall;
    returns the x right of them."""
    kind: LabelKind = "yarn"
    size = strip.style.size(kind)
    hand = strip.stitches.piece("hand")
    assert hand is not None
    step = float(strip.stitches.fabric.height) * strip.scale
    each = 1 if step >= 1.6 * size else next((n for n in (5, 10) if n * step >= size), 20)
    foot = -sum(band.height for band in strip.found if band.piece == "cuff") * strip.scale
    right = strip.wide + strip.style.pen("outline") / 2 + _OFF + max(
        boxes.words_width(kind, str(r.number), strip.style) for r in hand.counted
    )  # fmt: skip
    for round_ in hand.counted:
        y = foot - (round_.number - 0.5) * step
        if round_.number % each:
            continue
        tags = (("data-role", "round"), ("data-piece", "hand"), ("data-round", str(round_.number)))
        at = Point(right, strip.level(kind, y))
        strip.say(kind, str(round_.number), at, tags, end=True)
    return right + _AIR


def _draw_landmarks(strip: _Strip, *, broken: bool) -> None:
    """Every landmark on the strip's right side with its line, its words `broken` in two rows or
    not; the rounds' numbers between."""
    found = landmarks(strip.stitches)[::-1]
    foot = -sum(band.height for band in strip.found if band.piece == "cuff") * strip.scale
    wanted = [foot - mark.height * strip.scale for mark in found]
    right = _draw_numbers(strip)
    size = strip.style.size("term")
    words = [_rows(mark.words) if broken else [mark.words] for mark in found]
    apart = size * (1.1 + 1.25 * (max(len(rows) for rows in words) - 1))
    levels = boxes.spread(wanted, apart, strip.content.top - apart, apart)
    for mark, at, y, rows in zip(found, wanted, levels, words, strict=True):
        tags: Tags = (("data-landmark", mark.name),)
        if mark.round:
            tags += (("data-round", str(mark.round)),)
        # Level past the numbers, around which it is broken.
        bend = Point(right + _LEADER, y)
        strip.rule(Point(strip.wide, at), Point(right, at), bend, tags=tags)
        for i, row in enumerate(rows):
            middle = y + (i - (len(rows) - 1) / 2) * 1.05 * size
            below = Point(right + _LEADER + _AIR, strip.level("term", middle))
            strip.say("term", row, below, (("data-role", "landmark"), *tags))


def _rows(words: str) -> list[str]:
    name, colon, rest = words.partition(": ")
    return [f"{name}:", rest] if colon else [words]


def _draw_foot(strip: _Strip, width: float) -> None:
    """The yarns and the scale, under the strip."""
    box = strip.content.box()
    size = strip.style.size("term")
    corner = Point(box.left, box.bottom + 1.2 * size)
    patches, labels, y = yarn_legend(strip.stitches, strip.style, corner, width)
    strip.content.patches += patches
    strip.content.labels += labels
    words = boxes.scale_text(strip.scale)
    at = Point(box.left, y + size)
    strip.content.labels.append(Label("note", words, at, tags=(("data-role", "scale"),)))


def strip(stitches: StitchMap, style: Style, scale: float, head: float = 0.0) -> Chart:
    """The strip at one scale, as large as it comes out, its upper end `head` mm below the page's
    edge or lower."""
    for broken, single in itertools.product((False, True), repeat=2):
        chart = _drawn(stitches, style, (scale, head), broken=broken, single=single)
        if chart.width <= style.width:
            break
    return chart


def _drawn(
    stitches: StitchMap, style: Style, place: tuple[float, float], *, broken: bool, single: bool
) -> Chart:
    """The strip at a scale and below a head, the landmarks' words `broken` in two rows or not, its
    labels in a `single` column or where they crowd in two."""
    scale, head = place
    found = bands(stitches)
    top = -sum(band.height for band in found) * scale
    made = _Strip(stitches, style, scale, found, Content(style, top, 0.0))
    _draw_bands(made)
    _draw_yarns(made, many=_is_crowded(made) and not single)
    _draw_landmarks(made, broken=broken)
    name = title(stitches, "stripes")
    box = made.content.box()
    room = style.width - 2 * MARGIN
    asked = min(boxes.words_width("title", name, style), 0.6 * style.width, room)
    width = max(box.right - box.left, asked)
    _draw_foot(made, width)
    tags = (
        ("data-kind", "stripes"), ("data-size", stitches.size), ("data-mitten", stitches.mitten),
    )  # fmt: skip
    heading = Heading("stripes", name, width, tags)
    return paged(made.content, heading, scale, head)
