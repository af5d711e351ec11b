"""What every stitch chart has: titles, row labels, colour chips, sums, and its own key."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Literal

from gussetry.chart import Chart, Label, LabelKind, Line, Patch, PlacedStitch, Tags
from gussetry.layout import boxes
from gussetry.layout.lefthand import left_handed, mirrored, named_for, ways_for
from gussetry.layout.terms import wording
from gussetry.stitchmap import Op, Round, StitchMap
from gussetry.style import Style, lettering
from gussetry.style.symbols import LEG, picked_up
from gussetry.units import Frame, Point

Terms = Literal["US", "UK"]
MARGIN = 4.0
"""White round every drawing, mm."""
UP = Point(0.0, -1.0)
UNROLLED = "unrolled"
"""The kind of a crown chart whose rounds are rows, not rings."""
KEY_CELL = 1.65
"""Where the words of a key begin over the pitch: an increase is more than a cell wide."""
REACH_INCREASE = 0.5
"""An increase spreads its heads over the two cells it makes: half a pitch each way."""
REACH_DECREASE = 0.38
"""A decrease keeps its feet within its one cell."""


def reach(op: Op, pitch: float) -> float:
    """How far the legs of an increase or a decrease spread from its middle, mm."""
    if op.do == "inc":
        return REACH_INCREASE * pitch
    return REACH_DECREASE * pitch if op.do.endswith("2tog") else 0.0


def lifts(round_: Round) -> int:
    """How many chains that are no stitches begin the round: they stand before its first cell."""
    return next((i for i, op in enumerate(round_.work) if op.counts), 0)


def cells(op: Op) -> int:
    """The cells of a row that an operation takes: two for an increase, none for a turn."""
    return {"inc": 2, "turn": 0}.get(op.do, 1)


@dataclass(slots=True)
class Sheet:
    """A chart while it is laid out, local to one layout function; `chart` freezes it. `others`:
    further sizes that it serves."""

    stitches_of: StitchMap
    style: Style
    terms: Terms
    others: tuple[StitchMap, ...] = ()
    patches: list[Patch] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    stitches: list[PlacedStitch] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)

    @property
    def maps(self) -> tuple[StitchMap, ...]:
        """The sizes that the chart serves, smallest first."""
        return (self.stitches_of, *self.others)

    def width_of(self, kind: LabelKind, words: str) -> float:
        """How wide a label is, mm."""
        return lettering.advance(words, self.style.size(kind), kind in ("title", "number"))

    def drop(self, kind: LabelKind) -> float:
        """From the middle of a line of figures down to its baseline, mm."""
        return self.style.size(kind) * lettering.CAP_HEIGHT / 2

    def stitch(self, op: Op, frame: Frame, pitch: float, tags: Tags) -> None:
        """Places a stitch."""
        self.stitches.append(PlacedStitch(op, frame, reach(op, pitch), pitch, tags))

    def chip(self, at: Point, yarn: str, tags: Tags) -> None:
        """A patch of the yarn's colour with its letter, centred at `at`; `tags`: what it is the
        yarn of."""
        half = self.chip_size() / 2
        # A size may be worked without a yarn that others have.
        own = next(m for m in self.maps if any(letter == yarn for letter, _, _ in m.yarns))
        colour = own.colour(yarn)
        corners = (
            Point(at.x - half, at.y - half),
            Point(at.x + half, at.y - half),
            Point(at.x + half, at.y + half),
            Point(at.x - half, at.y + half),
        )
        self.patches.append(
            Patch(corners, yarn, colour, (("data-role", "colour"), *tags, ("data-yarn", yarn)))
        )
        self.labels.append(
            Label("yarn", yarn, Point(at.x, at.y + self.drop("yarn")), "middle",
                  ground=colour, tags=(("data-role", "yarn"), *tags))
        )  # fmt: skip

    def chip_size(self) -> float:
        """The side of a colour chip, mm."""
        letters = max(self.width_of("yarn", letter) for letter, _, _ in self.stitches_of.yarns)
        return max(1.35 * self.style.size("yarn"), letters + 1.2)

    def number(self, at: Point, number: str, tags: Tags) -> None:
        """A round's number, centred at `at`."""
        below = Point(at.x, at.y + self.drop("number"))
        role = ("data-role", "round")
        self.labels.append(Label("number", number, below, "middle", tags=(role, *tags)))

    def words(
        self,
        kind: LabelKind,
        words: str,
        at: Point,
        anchor: Literal["start", "middle", "end"] = "start",
        role: str = "note",
    ) -> None:
        """A line of words with its baseline at `at`."""
        self.labels.append(Label(kind, words, at, anchor, tags=(("data-role", role),)))

    def heading(self, name: str, how: str, width: float) -> float:
        """The title and how the chart is read, broken to the width; returns the y below them."""
        name, how = named_for(name, self.style), ways_for(how, self.style)
        y = MARGIN
        headings: tuple[tuple[LabelKind, str], ...] = (("title", name), ("note", how))
        for kind, words in headings:
            step = self.style.size(kind) * (1.2 if kind == "title" else 1.3)
            for line in boxes.wrapped(words, kind, width - 2 * MARGIN, self.style):
                y += step if y > MARGIN else self.style.size(kind)
                self.words(kind, line, Point(MARGIN, y), role=kind)
            y += 1.0
        return y + 1.0

    def title_width(self, name: str) -> float:
        """The width of a drawing whose title stands in one line, if the style has room for it."""
        wide = self.width_of("title", named_for(name, self.style))
        return min(2 * MARGIN + wide + 0.1, self.style.width)

    def key_width(self, ops: Iterable[Op], named: Sequence[Op] = ()) -> float:
        """The width of a drawing whose key to `ops` and `named` has one entry a line, if the style
        has room for it, mm."""
        entries = in_key(list(ops), named)
        terms = [self.width_of("term", wording(op, self.terms)) for op in entries]
        wide = 2 * MARGIN + KEY_CELL * self.style.stitch + max(terms) + 0.1
        return min(wide, self.style.width)

    def key(self, top: float, width: float, pitch: float, named: Sequence[Op] = ()) -> float:
        """The key of the symbols used so far, and of what is `named` in sums alone, in lines; words
        that are too long for one line have a few of their own. Returns the y below it."""
        entries = in_key([s.op for s in self.stitches], named)
        line = 1.3 * self.style.size("term")
        step = max(1.25 * pitch, 1.5 * self.style.size("term"))
        x, y, room = MARGIN, top + step / 2, width - 2 * MARGIN - KEY_CELL * pitch
        for op in entries:
            terms = boxes.wrapped(wording(op, self.terms), "term", room, self.style)
            wide = KEY_CELL * pitch + max(self.width_of("term", term) for term in terms)
            if x > MARGIN and (x + wide > width - MARGIN or terms[1:]):
                x, y = MARGIN, y + step
            self.symbol(op, Point(x + 0.7 * pitch, y + (len(terms) - 1) * line / 2), pitch)
            self.term(terms, Point(x + KEY_CELL * pitch, y + (len(terms) - 1) * line / 2))
            x += wide + 1.2 * pitch
            if terms[1:]:
                # Nothing stands beside words of several lines.
                x, y = width, y + (len(terms) - 1) * line
        return y + step / 2

    def term(self, lines: Sequence[str], at: Point) -> None:
        """The words of a symbol, in lines about the height of its middle."""
        line = 1.3 * self.style.size("term")
        top = at.y + self.drop("term") - (len(lines) - 1) * line / 2
        for i, words in enumerate(lines):
            self.words("term", words, Point(at.x, top + i * line), role="term")

    def symbol(self, op: Op, at: Point, pitch: float) -> None:
        """A symbol of a key, upright about `at`."""
        tags: Tags = (("class", "symbol"), ("data-do", op.do))
        if op.do == "inc":
            tags += (("data-of", op.of or "sc"),)
        if op.loop != "both":
            tags += (("data-loop", op.loop),)
        if picked_up(op):
            tags += (("data-pick-up", "yes"),)
        if op.held:
            tags += (("data-held", "yes"),)
        self.stitch(op, Frame(at, UP), pitch, tags)

    def growth(self, foot: Point, head: Point) -> None:
        """A thin line from a shaping stitch to what it is worked into."""
        self.lines.append(Line("growth", (foot, head)))

    def chart(self, kind: str, title: str, description: str, size: tuple[float, float]) -> Chart:
        """The finished chart, for the hand that the style draws for."""
        told = named_for(title, self.style)
        description = told + ways_for(description.removeprefix(title), self.style)
        form: Tags = (("data-form", UNROLLED),) if kind == UNROLLED else ()
        tags: Tags = (
            ("data-kind", "crown" if form else kind),
            *form,
            ("data-size", " / ".join(m.size for m in self.maps)),
            ("data-mitten", self.stitches_of.mitten),
        )
        chart = Chart(
            kind, told, description, *size,
            tuple(self.patches), tuple(self.lines), tuple(self.stitches), tuple(self.labels), tags,
        )  # fmt: skip
        return mirrored(chart, self.style, MARGIN) if left_handed(self.style) else chart


def used_symbols(ops: Iterable[Op]) -> list[Op]:
    """One operation for each different symbol, in the order of their first use."""
    found: dict[tuple[object, ...], Op] = {}
    for op in ops:
        of = (op.of or "sc") if op.do == "inc" else ""
        found.setdefault((op.do, of, op.loop, picked_up(op), op.held), op)
    return list(found.values())


def in_key(drawn: Sequence[Op], named: Sequence[Op]) -> list[Op]:
    """What a key explains: each symbol drawn, and each stitch that only sums name."""
    known = {op.do for op in drawn}
    found = {op.do: op for op in reversed(named) if op.do not in known and op.do != "turn"}
    return [*used_symbols(drawn), *reversed(found.values())]


def heads_and_feet(frame: Frame, op: Op, pitch: float) -> tuple[list[Point], list[Point]]:
    """The drawn heads and feet of a leg symbol."""
    spread = reach(op, pitch)
    low, high = -LEG * pitch, LEG * pitch
    sides: Sequence[float] = (-spread, spread) if spread else (0.0,)
    heads = [frame.place(x, high) for x in (sides if op.do == "inc" else (0.0,))]
    feet = [frame.place(x, low) for x in (sides if op.do.endswith("2tog") else (0.0,))]
    return heads, feet
