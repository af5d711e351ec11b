"""The stripe strip: cuff and hand as bands of their yarns, to scale, beside their landmarks."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, field
from typing import NamedTuple

from gussetry.chart import Chart, Label, LabelKind, Line, Patch, Tags
from gussetry.grading import finished
from gussetry.layout import boxes
from gussetry.layout.parts import MARGIN, title
from gussetry.stitchmap import Round, StitchMap
from gussetry.style import Style, lettering
from gussetry.units import Point, text

_WIDE = 22.0
_LEADER = 5.0
"""Widths of the strip and of the gap between it and its labels, mm."""

_LINE = 1.0
_CLEAR = 0.57
"""From a label's middle to the next label's, and to a leader, over the em."""
_MOST_COLUMNS = 4
"""Columns in which the labels of low stripes are staggered at most."""


class Band(NamedTuple):
    """One band of the strip: rounds of one piece in one yarn, mm of the finished mitten."""

    piece: str
    first: int
    last: int
    yarn: str
    height: float

    @property
    def rounds(self) -> str:
        """The rounds as tagged: `4`, or `1-30` for a block."""
        return str(self.first) if self.first == self.last else f"{self.first}-{self.last}"


class Landmark(NamedTuple):
    """A named height: its tag, its words, its round, and mm above the pick-up round's foot."""

    name: str
    words: str
    round: int
    height: float


def bands(stitches: StitchMap) -> tuple[Band, ...]:
    """The bands from the cuff's edge to the tip or the edging: a ribbed cuff as one block in its
    first row's yarn, every other round by itself."""
    found: list[Band] = []
    for piece in stitches.pieces:
        if piece.piece == "thumb":
            continue
        if piece.worked == "rows":
            rows = piece.counted
            depth = float(finished(stitches)["cuff depth"])
            found.append(Band("cuff", rows[0].number, rows[-1].number, rows[0].yarn, depth))
            continue
        own = stitches.rib if piece.piece == "cuff" and stitches.rib else stitches.fabric
        up = float(own.height)
        found += [Band(piece.piece, r.number, r.number, r.yarn, up) for r in piece.counted]
    return tuple(found)


def _stripes(found: tuple[Band, ...]) -> list[tuple[Band, float]]:
    """Bands of one yarn in one piece as one, each with the height of its middle above the edge."""
    stripes: list[tuple[Band, float]] = []
    foot = 0.0
    for _, run in itertools.groupby(found, lambda band: (band.piece, band.yarn)):
        members = list(run)
        height = sum(band.height for band in members)
        first, last = members[0], members[-1]
        stripes.append(
            (Band(first.piece, first.first, last.last, first.yarn, height), foot + height / 2)
        )
        foot += height
    return stripes


def _first(rounds: tuple[Round, ...], *phases: str) -> Round | None:
    return next((r for r in rounds if r.phase.startswith(phases)), None)


def landmarks(stitches: StitchMap) -> tuple[Landmark, ...]:
    """The landmarks from the cuff's edge up, as far as the mitten has them."""
    hand = stitches.piece("hand")
    assert hand is not None
    high = float(stitches.fabric.height)
    depth = float(finished(stitches).get("cuff depth", 0))
    found = [Landmark("cuff", "cuff edge", 0, -depth)] if depth else []
    found.append(Landmark("cuff", "pick-up, round 1", 1, 0.0))
    gusset = _first(hand.rounds, "gusset")
    division = _first(hand.rounds, "division")
    crown = _first(hand.rounds, "crown", "close")
    edging, top = _first(hand.rounds, "edging"), hand.counted[-1]
    several = edging is not None and edging.number < top.number
    for name, words, round_, above in (
        ("gusset", "gusset from round", gusset, 0),
        ("division", "division, round", division, 1),
        ("crown", "crown from round", crown, 0),
        ("edging", "edging, rounds" if several else "edging, round", edging, 0),
        ("tip", "tip, round", None if edging else top, 1),
    ):
        if round_ is not None:
            height = (round_.number - 1 + above) * high
            words = f"{words} {round_.number}"
            if round_ is edging and several:
                words += f"–{top.number}"
            found.append(Landmark(name, words, round_.number, height))
    return tuple(found)


@dataclass(slots=True)
class _Sheet:
    """A strip while it is laid out: its edge (the cuff's) is y = 0, its left side x = 0."""

    stitches: StitchMap
    style: Style
    scale: float
    patches: list[Patch] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)

    def drop(self, kind: LabelKind) -> float:
        """From the middle of a label's figures down to its baseline, mm."""
        return self.style.size(kind) * lettering.CAP_HEIGHT / 2

    def apart(self, kind: LabelKind) -> float:
        """How far apart the lines of neighbouring labels stand, mm."""
        return self.style.size(kind) * _LINE

    def rule(self, start: Point, end: Point, tags: Tags = ()) -> None:
        """A thin leader between the strip and a label."""
        self.lines.append(Line("rule", (start, end), tags=tags))

    def say(self, kind: LabelKind, words: str, at: Point, tags: Tags, end: bool = False) -> None:
        """A label with its size's tag."""
        tags = (*tags, ("data-size", self.stitches.size))
        self.labels.append(Label(kind, words, at, "end" if end else "start", tags=tags))


def _draw_bands(sheet: _Sheet, found: tuple[Band, ...]) -> float:
    """Every band as a patch; returns the y of the strip's top."""
    foot = 0.0
    for band in found:
        head = foot - band.height * sheet.scale
        corners = (Point(0, foot), Point(_WIDE, foot), Point(_WIDE, head), Point(0, head))
        tags = (
            ("data-role", "stripe"), ("data-piece", band.piece), ("data-round", band.rounds),
            ("data-yarn", band.yarn), ("data-size", sheet.stitches.size),
        )  # fmt: skip
        sheet.patches.append(Patch(corners, band.yarn, sheet.stitches.colour(band.yarn), tags))
        foot = head
    return foot


def _columns(middles: list[float], size: float) -> list[int | None]:
    """The column in which each stripe's label stands, 0 next to the strip, so that each is level
    with its stripe and clear of the others and of their leaders; None where there is no room.

    `middles` are the heights of the stripes from the top down, `size` the letters' em, mm.
    """
    last = [-math.inf] * _MOST_COLUMNS
    chosen: list[int | None] = []
    for y in middles:
        clear = (
            column
            for column in range(_MOST_COLUMNS)
            if all(
                y - before >= (_LINE if other == column else _CLEAR) * size
                for other, before in enumerate(last)
            )
        )
        column = next(clear, None)
        if column is not None:
            last[column] = y
        chosen.append(column)
    return chosen


def _draw_yarns(sheet: _Sheet, found: tuple[Band, ...], top: float) -> None:
    """Yarn and rounds beside each stripe, staggered where stripes are lower than the letters."""
    size = sheet.style.size("yarn")
    shown = [(band, -middle * sheet.scale) for band, middle in reversed(_stripes(found))]
    columns = _columns([y for _, y in shown], size)
    ranges = [_range(sheet.stitches, band) for band, _ in shown]
    wide = max(boxes.words_width("yarn", words, sheet.style) for words in ranges)
    letters = max(boxes.words_width("yarn", band.yarn, sheet.style) for band, _ in shown)
    step = wide + letters + 0.6 * size + _LEADER
    for (band, y), column, words in zip(shown, columns, ranges, strict=True):
        if column is None:
            continue
        right = -_LEADER - column * step
        sheet.rule(Point(0, y), Point(right, y))
        tags = (("data-piece", band.piece), ("data-round", band.rounds))
        below = y + sheet.drop("yarn")
        at = Point(right - 0.8, below)
        sheet.say("yarn", words, at, (("data-role", "term"), *tags), end=True)
        letter = Point(right - 0.8 - wide - 0.6 * size, below)
        sheet.say("yarn", band.yarn, letter, (("data-role", "yarn"), *tags), end=True)
    head = Point(-_LEADER - 0.8, top - 0.8 * size)
    sheet.say("yarn", "yarn, rounds", head, (("data-role", "term"),), end=True)


def _range(stitches: StitchMap, band: Band) -> str:
    shown = str(band.first) if band.first == band.last else f"{band.first}–{band.last}"
    if band.piece == "hand":
        return shown
    cuff = stitches.piece("cuff")
    return f"rows {shown}" if cuff and cuff.worked == "rows" else f"cuff {shown}"


def _draw_landmarks(sheet: _Sheet, foot: float, top: float) -> None:
    """Every landmark on the strip's right side with its rule."""
    found = landmarks(sheet.stitches)
    apart = sheet.apart("term")
    wanted = [foot - mark.height * sheet.scale for mark in reversed(found)]
    spare = max(2 * apart, len(found) * apart + top)
    places = boxes.spread(wanted, apart, top - spare, spare)
    for mark, at, y in zip(reversed(found), wanted, places, strict=True):
        tags: Tags = (("data-landmark", mark.name),)
        if mark.round:
            tags += (("data-round", str(mark.round)),)
        sheet.rule(Point(_WIDE, at), Point(_WIDE + _LEADER, y))
        below = Point(_WIDE + _LEADER + 0.8, y + sheet.drop("term"))
        sheet.say("term", mark.words, below, (("data-role", "landmark"), *tags))


def _draw_legend(sheet: _Sheet, left: float, width: float, top: float) -> float:
    """The yarns, each with swatch, letter and name, and the scale; returns the y below them."""
    size = sheet.style.size("term")
    step, wide, high = 1.5 * size, 2.0 * size, 0.9 * size
    y = top
    for letter, name, colour in sheet.stitches.yarns:
        lines = boxes.wrapped(f"{letter}  {name}", "term", width - wide - size, sheet.style)
        corners = (
            Point(left, y + 0.2), Point(left + wide, y + 0.2),
            Point(left + wide, y + 0.2 + high), Point(left, y + 0.2 + high),
        )  # fmt: skip
        sheet.patches.append(
            Patch(corners, letter, colour, (("data-role", "swatch"), ("data-yarn", letter)))
        )
        for words in lines:
            at = Point(left + wide + 0.6 * size, y + 0.2 + high / 2 + sheet.drop("term"))
            sheet.labels.append(Label("term", words, at, tags=(("data-role", "term"),)))
            y += step
    at = Point(left, y + size)
    words = boxes.scale_text(sheet.scale)
    sheet.labels.append(Label("note", words, at, tags=(("data-role", "scale"),)))
    return y + step


def _described(stitches: StitchMap, found: tuple[Band, ...]) -> str:
    """The strip in words, from the cuff up."""
    parts = [f"{_range(stitches, band)} in {band.yarn}" for band, _ in _stripes(found)]
    marks = ", ".join(mark.words for mark in landmarks(stitches))
    yarns = ", ".join(f"{letter} is {name}" for letter, name, _ in stitches.yarns)
    return f"From the cuff up: {'; '.join(parts)}. {yarns}. Landmarks: {marks}."


def stripes(stitches: StitchMap, style: Style) -> Chart:
    """The stripe strip of a mitten: every round's band to scale, from the cuff's edge to the tip,
    or to the edging of an open hand.

    The scale is the style's, or the next rounder one at which the strip fits the style's height;
    the smallest is kept even where it does not.
    """
    for scale in boxes.scales(style):
        chart = _drawn(stitches, style, scale)
        if chart.height <= style.height:
            break
    return chart


def _drawn(stitches: StitchMap, style: Style, scale: float) -> Chart:
    """The strip at one scale, as tall as it comes out."""
    found = bands(stitches)
    sheet = _Sheet(stitches, style, scale)
    top = _draw_bands(sheet, found)
    _draw_yarns(sheet, found, top)
    depth = sum(band.height for band in found if band.piece == "cuff")
    _draw_landmarks(sheet, -depth * scale, top)
    box = boxes.chart_box(sheet.patches, sheet.lines, sheet.labels, style)
    heading = title(stitches, "stripes")
    size = style.size("title")
    width = max(box.right - box.left,
                min(boxes.words_width("title", heading, style), 0.6 * style.width))  # fmt: skip
    bottom = _draw_legend(sheet, box.left, width, box.bottom + 1.2 * style.size("term"))
    rows = boxes.wrapped(heading, "title", width, style)
    for i, words in enumerate(reversed(rows)):
        at = Point(box.left, box.top - 0.6 * size - i * 1.25 * size)
        sheet.labels.append(Label("title", words, at, tags=(("data-role", "title"),)))
    whole = boxes.chart_box(sheet.patches, sheet.lines, sheet.labels, style)
    tags = (
        ("data-kind", "stripes"), ("data-size", stitches.size), ("data-mitten", stitches.mitten),
        ("data-scale", text(scale, 6)),
    )  # fmt: skip
    chart = Chart(
        "stripes", heading, _described(stitches, found),
        whole.right - whole.left + 2 * MARGIN,
        max(whole.bottom, bottom) - whole.top + 2 * MARGIN,
        tuple(sheet.patches), tuple(sheet.lines), (), tuple(sheet.labels), tags,
    )  # fmt: skip
    return boxes.moved(chart, Point(MARGIN - whole.left, MARGIN - whole.top))
