"""Dimension lines after ISO 129-1: thin, text above the line, upright text read from the right.

Where a text is longer than what it measures, the dimension line is drawn out beyond an arrowhead
and the text stands on the part drawn out, or on a level shelf at its end. Where the column is too
narrow for that the lines carry letters, and a list beside the drawing says what each measures: the
standard's tabular dimensioning. The rules are from memory of the standard.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Literal

from gussetry.chart import Label, LabelKind, Line, Patch, Tags
from gussetry.layout.boxes import ASCENT, Box, around, chart_box, words_width
from gussetry.style import Style, lettering
from gussetry.units import Point, centimetres_text, inches_text

AIR = 0.8
"""White between a text and a line, mm."""
GAP = 0.8
"""White between what is measured and its projection line, mm."""
PAST = 1.5
"""How far a projection line runs past the dimension line, mm."""
APART = 2.6
"""White between a term and the measure of the next line, mm: each stands nearer to its own line."""
ASIDE = 1.7
"""How far beside a dimension line its leader runs, mm."""
TAIL = 3.2
"""An arrowhead that points inwards, and the line behind it, mm."""
_HEADS = 5.4
"""The shortest line with both arrowheads between its ends, mm; at a shorter they point inwards."""

_SHORT = 0.2
"""The least piece of a dimension line that is drawn, mm."""


def measure_text(values: Sequence[Fraction], style: Style) -> str:
    """A measure of every size, smallest first: `20 cm (7¾ in)`, or of several sizes
    `18 (20, 22) cm · 7 (7¾, 8¾) in`."""
    cm = [centimetres_text(v, style.cm_step) for v in values]
    inch = [inches_text(v, style.inch_step) for v in values]
    if len(values) == 1:
        return f"{cm[0]} cm ({inch[0]} in)"
    return f"{cm[0]} ({', '.join(cm[1:])}) cm · {inch[0]} ({', '.join(inch[1:])}) in"


@dataclass(slots=True)
class Dimensions:
    """Dimensions while they are laid out. `texts` says each measure, `size` tags them; where the
    drawing is to be `mirrored`, upright text is laid so that it stands right afterwards; where
    measures are `listed`, lines carry their letters, the measures' places in `texts`."""

    style: Style
    texts: Mapping[str, str]
    size: str
    mirrored: bool = False
    listed: bool = False
    lines: list[Line] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)

    def letter(self, name: str) -> str:
        """The letter of a measure."""
        return chr(ord("a") + list(self.texts).index(name))

    def above(self) -> float:
        """From a line up to the top of what stands on it, mm."""
        size = self.style.size("number" if self.listed else "measure")
        return AIR + size * (ASCENT + lettering.DESCENT)

    def below(self) -> float:
        """From a line down to the foot of the term that hangs under it, mm."""
        if self.listed:
            return AIR
        return AIR + self.style.size("term") * (ASCENT + lettering.DESCENT)

    def between(self) -> float:
        """From one upright dimension line to the next, mm."""
        if self.listed:
            return 3 * AIR + max(words_width("number", c, self.style) for c in "abcdefgh")
        return self.above() + self.below() + APART

    def runs(self, name: str) -> float:
        """How much of a line the measure and its term take, mm."""
        if self.listed:
            return words_width("number", self.letter(name), self.style)
        return max(
            words_width("measure", self.texts[name], self.style),
            words_width("term", name, self.style),
        )

    def box(self, drawn: Box) -> Box:
        """The box round what is drawn and all dimensions that are laid out so far."""
        if not self.lines:
            return drawn
        return around([drawn, chart_box((), self.lines, self.labels, self.style)])

    def _say(self, kind: LabelKind, name: str, at: Point, turned: float, *, middle: bool) -> None:
        role = "letter" if kind == "number" else kind
        tags: Tags = (("data-role", role), ("data-measure", name), ("data-size", self.size))
        if kind == "term":
            tags = (("data-role", kind),)
        words = {"measure": self.texts[name], "number": self.letter(name)}.get(kind, name)
        self.labels.append(
            Label(kind, words, at, "middle" if middle else "start", turned, tags=tags)
        )

    def _both(self, name: str, at: Point, *, middle: bool = False, upright: bool = False) -> None:
        """The measure above the line through `at` and its term below it; or its letter above."""
        over = AIR + self.style.size("measure") * lettering.DESCENT
        under = AIR + self.style.size("term") * ASCENT
        kinds: tuple[tuple[LabelKind, float], ...] = (("measure", -over), ("term", under))
        if self.listed:
            kinds = (("number", -AIR - self.style.size("number") * lettering.DESCENT),)
        for kind, off in kinds:
            off = -off if upright and self.mirrored else off
            place = Point(at.x + off, at.y) if upright else Point(at.x, at.y + off)
            self._say(kind, name, place, 90.0 if upright else 0.0, middle=middle)

    def _beside(self, name: str, at: Point, side: int) -> None:
        """The letter level beside an upright line through `at`, on its right (1) or left (-1)."""
        wide = self.runs(name)
        x = at.x + side * (AIR + wide / 2)
        down = self.style.size("number") * lettering.CAP_HEIGHT / 2
        self._say("number", name, Point(x, at.y + down), 0.0, middle=True)

    def project(self, *points: Point) -> None:
        """A projection line."""
        self.lines.append(Line("projection", points))

    def _line(
        self, name: str, points: tuple[Point, ...], arrows: Literal["none", "start", "both"]
    ) -> None:
        tags = (("data-role", "dimension"), ("data-measure", name))
        self.lines.append(Line("dimension", points, arrows, tags=tags))

    def shelf(self, name: str, *points: Point) -> None:
        """A thin line through `points` that ends in a level shelf, measure and term on it."""
        start = points[-1]
        end = Point(start.x + self.runs(name) + AIR, start.y)
        self._line(name, (*points, end), "none")
        self._both(name, Point(start.x + AIR, start.y))

    def arrows(self, name: str, start: Point, end: Point) -> None:
        """A dimension line with a head at each end; where it is too short for both they point
        inwards from outside."""
        long = math.dist(start, end)
        if long >= _HEADS:
            self._line(name, (start, end), "both")
            return
        self._line(name, (start, end), "none")
        out = Point((end.x - start.x) / long * TAIL, (end.y - start.y) / long * TAIL)
        self._line(name, (start, start.plus(out.times(-1))), "start")
        self._line(name, (end, end.plus(out)), "start")

    def level(self, name: str, left: Point, right: Point, y: float) -> None:
        """A level dimension at `y`, projected from two points above or below it."""
        past = PAST if y > left.y else -PAST
        gap = GAP if y > left.y else -GAP
        for point in (left, right):
            self.project(Point(point.x, point.y + gap), Point(point.x, y + past))
        self.arrows(name, Point(left.x, y), Point(right.x, y))
        if self.runs(name) + 2 * AIR <= right.x - left.x:
            self._both(name, Point((left.x + right.x) / 2, y), middle=True)
        else:
            self.shelf(name, Point(right.x, y), Point(right.x + PAST, y))

    def stands(self, name: str, low: Point, high: Point) -> bool:
        """Whether what an upright dimension says has room along its line."""
        return self.runs(name) + 2 * AIR <= low.y - high.y

    def upright(self, name: str, low: Point, high: Point, x: float, drawn_out: float) -> None:
        """An upright dimension at `x`, left of what it measures. Where its text is too long, a
        leader goes out sideways and down to a shelf at the y `drawn_out`, never on along the line,
        which would look the longer for it."""
        for point in (low, high):
            self.project(Point(point.x - GAP, point.y), Point(x - PAST, point.y))
        self.arrows(name, Point(x, low.y), Point(x, high.y))
        middle = Point(x, (low.y + high.y) / 2)
        if self.listed:
            self._beside(name, middle, -1)
        elif self.stands(name, low, high):
            self._both(name, middle, middle=True, upright=True)
        else:
            aside = x - ASIDE
            self.shelf(name, middle, Point(aside, middle.y), Point(aside, drawn_out))

    def beside(self, name: str, low: Point, high: Point, x: float, shelf: float) -> None:
        """An upright dimension at `x`, right of what it measures, its text level beside it at the
        y `shelf`."""
        for point in (low, high):
            self.project(Point(point.x + GAP, point.y), Point(x + PAST, point.y))
        self.arrows(name, Point(x, low.y), Point(x, high.y))
        middle = (low.y + high.y) / 2
        if self.listed:
            # Past the projection lines where the letter is taller than what it measures.
            past = 0.0 if low.y - high.y > 1.3 * self.style.size("number") else PAST
            self._beside(name, Point(x + past, middle), 1)
            return
        # Past the projection lines where the text is taller than what it measures.
        fits = high.y < shelf - self.above() and shelf + self.below() < low.y
        foot = Point(x + (AIR if fits else PAST + AIR), shelf)
        self.shelf(name, Point(x, middle), foot)

    def across(self, name: str, left: Point, right: Point, bend: Point, rim: float) -> None:
        """A level dimension within an outline, drawn out left to the x of `bend` and up to a shelf
        at its y; or if that is right of it only up, through the outline at the y `rim`. Its heads
        point inwards where there is room for one left of the outline."""
        tail = Point(bend.x, left.y)
        if bend.x > left.x:
            self.arrows(name, left, right)
            if self.style.yarns == "colours":
                # A piece of its own, which takes an ink that shows on the stripe behind it.
                edge = Point(bend.x, rim)
                self.lines.append(Line("dimension", (tail, edge)))
                tail = edge
        elif left.x - bend.x >= TAIL:
            self._line(name, (left, tail), "start")
            self._line(name, (right, Point(right.x + TAIL, right.y)), "start")
        else:
            self.arrows(name, left, right)
            # From the outline's own edge on, not over what it holds.
            self.lines.append(Line("dimension", (Point((left.x + tail.x) / 2, left.y), tail)))
        self.shelf(name, tail, bend)


def mirrored(
    patches: Sequence[Patch], lines: Sequence[Line], labels: Sequence[Label]
) -> tuple[list[Patch], list[Line], list[Label]]:
    """Patches, lines and labels as in a mirror, the letters not mirrored."""
    other: dict[str, Literal["start", "middle", "end"]] = {"start": "end", "end": "start"}
    return (
        [replace(p, points=tuple(Point(-at.x, at.y) for at in p.points)) for p in patches],
        [replace(line, points=tuple(Point(-p.x, p.y) for p in line.points)) for line in lines],
        [
            replace(
                label,
                at=Point(-label.at.x, label.at.y),
                anchor=label.anchor if label.turned else other.get(label.anchor, "middle"),
            )
            for label in labels
        ],
    )
