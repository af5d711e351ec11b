"""Rows of a chart: which of a round's stitches are drawn, and over which cells they stand."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from gussetry.layout.parts import UP, cells, heads_and_feet, lifts
from gussetry.stitchmap import Op, Round, bridged, left_of_made, sections
from gussetry.style import Style, lettering
from gussetry.style.symbols import LEG
from gussetry.units import Frame, Point

LEAST_LIFT = 1.0
"""Least height of a chain bridge above its row, and of the next row above it, over the pitch."""
HELD = 0.5
"""Height of the bar over a stitch set aside, above its middle, over the pitch."""
OVER_BARS = 1.2
"""White between such bars and a bracket over them, mm."""
JOINED, BOW = 0.6, 0.15
"""Height of a small bow tie over the far stitch of a joined pair, and half its own, over the
pitch."""
OFF_BRACKET = 0.25
"""White between such a bow tie and the end of its bracket, mm."""
LOZENGE, LEAST_LOZENGE = 0.11, 0.42
"""Half of the lozenge over a marked stitch, over the pitch, and at least, mm."""
OFF_HEAD, UNDER_FOOT = 0.5, 0.8
"""White between a marked stitch and its lozenge, and between the end of its line and the foot of
the stitch that it leads to, mm: the line is no leg of either."""
LED = 1.6
"""Height of a marker's line over its lozenge at least, mm."""
CAP = 0.05
"""What the cap of a slanting leg rises over its head, over the pitch."""
OVAL = 0.16
"""Half the height of a chain's oval, over the pitch."""
NEAR, FAR = 0.7, 0.8
"""White between a number at the crook and what it belongs to, and beyond it, mm."""
LONGEST, BEGINNING = 32, 16
"""Stitches that a plain round worked round may have to be drawn whole, else how many are."""


@dataclass(frozen=True, slots=True)
class Row:
    """A round to draw: entries of its work from `first` up to `end` (left out), `centre` in cells
    from the round's first, `rightwards` for a turned row that reads left to right. `several`: the
    rounds that one summing line stands for, nothing drawn. `middles`: the cell over which each
    entry is centred, where they do not stand side by side; `raised`: entries of a chain bridge;
    `crook`: stitches that the thumb will find at the bridge; `head`: so many entries are drawn at
    the round's beginning, beyond what is summed before the others."""

    round: Round
    first: int
    end: int
    centre: float
    rightwards: bool = False
    several: tuple[int, int] | None = None
    middles: tuple[float, ...] = ()
    raised: frozenset[int] = frozenset()
    crook: int = 0
    head: int = 0
    centred: tuple[float, ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Finds once where every entry is centred."""
        found = self.middles or tuple((a + b) / 2 for a, b in pairwise(self.starts))
        object.__setattr__(self, "centred", found)

    @property
    def starts(self) -> list[int]:
        """The cell at which each entry of the work begins."""
        # What lifts the hook stands outside, so that stitches stand over what they are worked into.
        at, found = -lifts(self.round), []
        for op in self.round.work:
            found.append(at)
            at += cells(op)
        return [*found, at]

    def extent(self) -> tuple[float, float]:
        """How many cells reach before and after the centre in the order of working."""
        if self.several or self.first == self.end:
            return 0.0, 0.0
        wide = [(i, cells(self.round.work[i]) / 2) for i in range(self.first, self.end)]
        before = min(self.middle(i) - half for i, half in wide)
        return self.centre - before, max(self.middle(i) + half for i, half in wide) - self.centre

    @property
    def drawn(self) -> tuple[int, ...]:
        """The entries of the work that are drawn, in the order of working."""
        if self.several:
            return ()
        return tuple(i for i in range(self.first, self.end) if self.round.work[i].do != "turn")

    @property
    def shown(self) -> tuple[int, ...]:
        """The entries that are drawn, those at the round's beginning too."""
        return (*range(self.head), *self.drawn)

    @property
    def head_cells(self) -> int:
        """The cells that those at the round's beginning take."""
        return sum(cells(op) for op in self.round.work[: self.head])

    @property
    def before(self) -> range:
        """The entries that are summed before what is drawn, from the round's beginning on."""
        return range(self.head, self.first)

    @property
    def after(self) -> range:
        """The entries that are summed after what is drawn; a turn is none."""
        turns = sum(op.do == "turn" for op in self.round.work[self.end :])
        return range(self.end, len(self.round.work) - turns)

    @property
    def summed(self) -> tuple[Op, ...]:
        """What of the round is not drawn but told in words."""
        return tuple(self.round.work[i] for i in (*self.before, *self.after))

    @property
    def counted(self) -> bool:
        """Whether it is one round that a maker counts."""
        return bool(self.round.number and self.round.count and not self.several)

    @property
    def marked(self) -> tuple[int, ...]:
        """The stitches that the gusset's markers mark, by number, in the order of working."""
        if self.several:
            return ()
        return tuple(n for name, n in self.round.markers if name.endswith("marker"))

    @property
    def parted(self) -> bool:
        """Whether its count is told in parts."""
        return not self.several and (
            sections(self.round) is not None or bridged(self.round) is not None
        )

    @property
    def span(self) -> str:
        """The round's number, or the first and last of those that it stands for: `6-10`."""
        return "{}-{}".format(*self.several) if self.several else str(self.round.number)

    def middle(self, entry: int) -> float:
        """The cell over which an entry of the work is centred."""
        return self.centred[entry]


def whole(round_: Round, rightwards: bool = False) -> Row:
    """A row that shows all of its round about its middle."""
    wide = sum(cells(op) for op in round_.work if op.counts)
    return Row(round_, 0, len(round_.work), wide / 2, rightwards)


def begun(round_: Round) -> Row:
    """A row that shows the beginning of a round too long for a column, the rest summed."""
    row = whole(round_)
    end = max(i for i, at in enumerate(row.starts) if at <= BEGINNING)
    return Row(round_, 0, end, row.starts[end] / 2)


def summed(first: Round, last: Round) -> Row:
    """A line that stands for equal rounds."""
    return Row(first, 0, 0, 0.0, several=(first.number, last.number))


def lozenge(pitch: float) -> float:
    """Half of the lozenge over a marked stitch, mm."""
    return max(LOZENGE * pitch, LEAST_LOZENGE)


def over_head(style: Style, pitch: float) -> float:
    """From the head of a marked stitch up to the middle of its lozenge, mm."""
    return OFF_HEAD + style.pen("shaping") / 2 + CAP * pitch + lozenge(pitch)


def marked_room(style: Style, pitch: float) -> float:
    """The distance of rows that leaves a marker's line its length between them, mm."""
    line = over_head(style, pitch) + lozenge(pitch) + LED + UNDER_FOOT
    return 2 * LEG * pitch + line + style.pen("shaping") / 2


def number_height(style: Style) -> float:
    """The room that a number at the crook takes up the page, its white included, mm."""
    return style.size("yarn") * (lettering.CAP_HEIGHT + lettering.DESCENT) + NEAR + FAR


def bridge_lift(style: Style, pitch: float) -> float:
    """How high a chain bridge is drawn above its row, mm: its numbers stand below it."""
    return max(LEAST_LIFT * pitch, (HELD + OVAL) * pitch + number_height(style))


def join_rise(pairs: int, pitch: float, style: Style) -> float:
    """Height of the bracket over so many joined pairs, mm: clear of the bars over what is set
    aside, and of each other, with the crook's numbers in the line of the first."""
    high = style.size("yarn") * lettering.CAP_HEIGHT / 2
    first = max(HELD * pitch + OVER_BARS, (JOINED + BOW) * pitch + 2 * OFF_BRACKET)
    # Numbers stand about the line.
    first = max(first, (JOINED + BOW) * pitch + high + 2 * OFF_BRACKET)
    return first + (high + 2 * OFF_BRACKET) * (max(pairs, 1) - 1)


def room(row: Row, step: float, pitch: float, style: Style) -> float:
    """How far above a row the next may stand, mm: a step, more over the bridge of a gap."""
    if row.raised:
        return max(step, bridge_lift(style, pitch) + LEAST_LIFT * pitch)
    if row.crook:
        pairs = sum(op.do == "join" for op in row.round.work)
        half = style.size("yarn") * lettering.CAP_HEIGHT / 2
        return max(step, join_rise(pairs, pitch, style) + half + FAR + LEG * pitch)
    return step


@dataclass(frozen=True, slots=True)
class Standing:
    """A row at its place: `y` of its stitches, `axis` where its centre stands across, `pitch` the
    width of a cell, `lift` the height of its bridge above it, `start` where its first cell begins
    if the round's beginning is drawn by itself; mm."""

    row: Row
    y: float
    axis: float
    pitch: float
    lift: float
    start: float = 0.0

    def across(self, entry: int) -> float:
        """Where an entry of the row's work stands across the page, drawn or not, mm."""
        way = 1 if self.row.rightwards else -1
        return self.axis + way * (self.row.middle(entry) - self.row.centre) * self.pitch

    @property
    def frames(self) -> dict[int, Frame]:
        """The frame of each drawn entry of the row's work."""
        row = self.row
        way = 1 if row.rightwards else -1
        found = {}
        for i in range(row.head):
            beyond = row.centred[i] - row.centred[0] + cells(row.round.work[0]) / 2
            found[i] = Frame(Point(self.start + way * beyond * self.pitch, self.y), UP)
        for i in row.drawn:
            height = self.y - (self.lift if i in row.raised else 0.0)
            found[i] = Frame(Point(self.across(i), height), UP)
        return found

    def heads(self) -> dict[int, Point]:
        """Where the head of each drawn stitch that is left stands, by its number."""
        numbers, frames = left_of_made(self.row.round), self.frames
        found: dict[int, Point] = {}
        made = 0
        for i, op in enumerate(self.row.round.work):
            for k in range(op.makes):
                number = numbers[made]
                if number is not None and i in frames:
                    heads, _ = heads_and_feet(frames[i], op, self.pitch)
                    # Heads are listed from the reader's left; a round reads from the right.
                    heads.sort(key=lambda p: p.x, reverse=not self.row.rightwards)
                    found[number] = heads[k]
                made += 1
        return found

    def feet(self) -> dict[int, Point]:
        """Where the foot of each drawn stitch stands, by the stitch that it is worked into."""
        return {
            into: heads_and_feet(frame, op, self.pitch)[1][0]
            for i, frame in self.frames.items()
            if (op := self.row.round.work[i]).into and isinstance(into := op.into[0], int)
        }


def runs(rounds: Sequence[Round]) -> list[list[Round]]:
    """Rounds grouped where they are plain repeats of the one before."""
    runs: list[list[Round]] = []
    for r in rounds:
        same = runs and _like(runs[-1][-1]) == _like(r) and r.count
        if same:
            runs[-1].append(r)
        else:
            runs.append([r])
    return runs


def _like(round_: Round) -> tuple[object, ...]:
    work = tuple((op.do, op.loop, op.held, op.counts, op.of) for op in round_.work)
    return round_.phase, tuple(w for w in work if w[0] != "turn"), round_.count, round_.yarn


def cropped(rounds: Sequence[Round], keep: int, row: Callable[[Round], Row]) -> list[Row]:
    """Rows of the rounds, of a long run of equal ones the first `keep` and the last, the rest
    summed."""
    rows: list[Row] = []
    for run in runs(rounds):
        if len(run) <= keep + 3:
            rows += [row(r) for r in run]
        else:
            rows += [row(r) for r in run[:keep]]
            rows += [summed(run[keep], run[-2]), row(run[-1])]
    return rows
