"""What every stitch chart has: titles, row labels, colour chips, sums, and its own key."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Literal

from gussetry.chart import Chart, Label, LabelKind, Line, Patch, PlacedStitch, Tags
from gussetry.layout import boxes
from gussetry.layout.lefthand import left_handed, mirrored, named_for, ways_for
from gussetry.layout.terms import wording
from gussetry.stitchmap import Op, Piece, Round, StitchMap, sections
from gussetry.style import Style, lettering
from gussetry.style.symbols import LEG, picked_up
from gussetry.telling.names import named
from gussetry.units import Frame, Point

Terms = Literal["US", "UK"]
MARGIN = 4.0
"""White round every drawing, mm."""
UP = Point(0.0, -1.0)
KEY_CELL = 1.65
"""Where the words of a key begin over the pitch: an increase is more than a cell wide."""
FEWEST_PAIRS = 3
"""Two stitches by turns are summed as pairs from so many on; fewer are told one by one."""
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


def round_tags(stitches: StitchMap, piece: Piece, round_: Round | str) -> Tags:
    """The tags that name a round of a piece and the size."""
    number = round_ if isinstance(round_, str) else str(round_.number)
    return (
        ("data-piece", piece.piece),
        ("data-round", number),
        ("data-size", stitches.size),
    )


def stitch_tags(stitches: StitchMap, piece: Piece, round_: Round, index: int) -> Tags:
    """The tags of one stitch element."""
    return (
        ("class", "stitch"),
        ("data-piece", piece.piece),
        ("data-round", str(round_.number)),
        ("data-index", str(index)),
        ("data-do", round_.work[index].do),
        ("data-size", stitches.size),
    )


def count_text(round_: Round) -> str:
    """The count as printed, by sections where the round has markers."""
    parts = sections(round_)
    if parts is None:
        return str(round_.count)
    before, between, after = parts
    return f"{before} · m · {between} · m · {after} = {round_.count}"


def sum_text(work: Iterable[Op], terms: Terms) -> str:
    """Stitches in words, in order of working, runs and ribs counted: `inc, 11 sc`,
    `(FPdc, BPdc) 9 times`."""
    names = [named(op.do, terms) for op in work if op.do != "turn"]
    shown = []
    at = 0
    while at < len(names):
        one, pair = names[at : at + 1], names[at : at + 2]
        run, pairs = _times(names, at, one), _times(names, at, pair)
        if pairs >= FEWEST_PAIRS and len(set(pair)) == 2:
            shown.append(f"({', '.join(pair)}) {pairs} times")
            at += 2 * pairs
        else:
            shown.append(one[0] if run == 1 else f"{run} {one[0]}")
            at += run
    return ", ".join(shown)


def _times(names: Sequence[str], at: int, part: Sequence[str]) -> int:
    """How often the part is repeated from that place on."""
    times = 0
    while names[at : at + len(part)] == part:
        times += 1
        at += len(part)
    return times


@dataclass(slots=True)
class Sheet:
    """A chart while it is laid out, local to one layout function; `chart` freezes it."""

    stitches_of: StitchMap
    style: Style
    terms: Terms
    patches: list[Patch] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    stitches: list[PlacedStitch] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)

    def width_of(self, kind: LabelKind, words: str) -> float:
        """How wide a label is, mm."""
        return lettering.advance(words, self.style.size(kind), kind in ("title", "number"))

    def drop(self, kind: LabelKind) -> float:
        """From the middle of a line of figures down to its baseline, mm."""
        return self.style.size(kind) * lettering.CAP_HEIGHT / 2

    def stitch(self, op: Op, frame: Frame, pitch: float, tags: Tags) -> None:
        """Places a stitch."""
        self.stitches.append(PlacedStitch(op, frame, reach(op, pitch), pitch, tags))

    def chip(self, at: Point, piece: Piece, round_: Round, span: str = "") -> None:
        """A patch of the round's colour with its yarn's letter, centred at `at`; `span`: the rounds
        that it stands for, `15-16`."""
        half = self.chip_size() / 2
        colour = self.stitches_of.colour(round_.yarn)
        corners = (
            Point(at.x - half, at.y - half),
            Point(at.x + half, at.y - half),
            Point(at.x + half, at.y + half),
            Point(at.x - half, at.y + half),
        )
        tags = round_tags(self.stitches_of, piece, span or round_)
        self.patches.append(
            Patch(corners, round_.yarn, colour,
                  (("data-role", "colour"), *tags, ("data-yarn", round_.yarn)))
        )  # fmt: skip
        self.labels.append(
            Label("yarn", round_.yarn, Point(at.x, at.y + self.drop("yarn")), "middle",
                  ground=colour, tags=(("data-role", "yarn"), *tags))
        )  # fmt: skip

    def chip_size(self) -> float:
        """The side of a colour chip, mm."""
        letters = max(self.width_of("yarn", letter) for letter, _, _ in self.stitches_of.yarns)
        return max(1.35 * self.style.size("yarn"), letters + 1.2)

    def number(self, at: Point, piece: Piece, round_: Round) -> None:
        """The round's number, centred at `at`."""
        tags = (("data-role", "round"), *round_tags(self.stitches_of, piece, round_))
        below = Point(at.x, at.y + self.drop("number"))
        self.labels.append(Label("number", str(round_.number), below, "middle", tags=tags))

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
        """The width of a drawing whose key to `ops` and `named` has one entry a line, mm."""
        entries = in_key(list(ops), named)
        terms = [self.width_of("term", wording(op, self.terms)) for op in entries]
        return 2 * MARGIN + KEY_CELL * self.style.stitch + max(terms)

    def key(self, top: float, width: float, pitch: float, named: Sequence[Op] = ()) -> float:
        """The key of the symbols used so far, and of what is `named` in sums alone, in lines;
        returns the y below it."""
        entries = in_key([s.op for s in self.stitches], named)
        step = max(1.25 * pitch, 1.5 * self.style.size("term"))
        x, y = MARGIN, top + step / 2
        for op in entries:
            term = wording(op, self.terms)
            wide = KEY_CELL * pitch + self.width_of("term", term) + 1.2 * pitch
            if x > MARGIN and x + wide - 1.2 * pitch > width - MARGIN:
                x, y = MARGIN, y + step
            self.symbol(op, Point(x + 0.7 * pitch, y), pitch)
            self.words(
                "term", term, Point(x + KEY_CELL * pitch, y + self.drop("term")), role="term"
            )
            x += wide
        return y + step / 2

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
        tags: Tags = (
            ("data-kind", kind),
            ("data-size", self.stitches_of.size),
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


def title(stitches: StitchMap, what: str) -> str:
    """A chart's title: pattern, piece, size, and which mitten where they differ."""
    mitten = "" if stitches.mitten == "both" else f", {stitches.mitten} mitten"
    return f"{stitches.pattern}: {what}, size {stitches.size}{mitten}"


def heads_and_feet(frame: Frame, op: Op, pitch: float) -> tuple[list[Point], list[Point]]:
    """The drawn heads and feet of a leg symbol."""
    spread = reach(op, pitch)
    low, high = -LEG * pitch, LEG * pitch
    sides: Sequence[float] = (-spread, spread) if spread else (0.0,)
    heads = [frame.place(x, high) for x in (sides if op.do == "inc" else (0.0,))]
    feet = [frame.place(x, low) for x in (sides if op.do.endswith("2tog") else (0.0,))]
    return heads, feet
