"""One size's gusset over its columns: which of each round is drawn, and where."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from gussetry.layout.columns import bridge, columns, side_by_side
from gussetry.layout.parts import cells, lifts
from gussetry.layout.rows import Row, runs, summed, whole
from gussetry.stitchmap import Op, Round, StitchMap

CONTEXT = 3
"""Stitches shown on either side of the gusset."""
BESIDE = 2
"""Stitches shown at least on either side of the gap that the division leaves."""
EVEN = 1e-6
"""What is within it stands at one place, in cells."""
ABOVE = ("crown", "close", "draw shut")
OVER = ("division", "hand", "edging")
"""Phases from the division on."""

Span = tuple[float, float]
"""From which column to which, in the order of working, 0 in the middle of the opening."""


class Wedge:
    """The rounds of a size's gusset chart over their columns, and what of them is drawn. `at_end`:
    chains that bridge the gap stand close at its end."""

    def __init__(self, stitches: StitchMap, at_end: bool = False) -> None:
        piece = stitches.piece("hand")
        assert piece is not None
        rounds = tuple(r for r in piece.rounds if not r.phase.startswith(ABOVE))
        self.rounds = rounds
        self.trunk = tuple(r for r in rounds if r.phase not in OVER)
        self.columns = columns(rounds, at_end)
        self.crook = _crook(stitches)
        at = next(i for i, r in enumerate(rounds) if r.phase == "division")
        division, last = rounds[at], rounds[at - 1]
        over = self.columns[division.number].middles
        gap = [over[i] for i, op in enumerate(division.work) if _bridged(op)]
        pairs = sum(op.do == "join" for op in division.work)
        self.axis = (gap[0] + gap[-1]) / 2
        """The middle of the gap, over which everything is centred."""
        # What is drawn beside the gap stands over stitches that are drawn too.
        low, high = self.around(last)
        self.open = min(low, gap[0] - 0.5 - pairs - BESIDE), max(high, gap[-1] + 0.5 + BESIDE)
        chains = [over[i] for i in bridge(division)] or gap
        self.over = (
            min(self.open[0], chains[0] - 0.5 - BESIDE),
            max(self.open[1], chains[-1] + 0.5 + BESIDE),
        )
        self.division, self.last = division.number, last.number
        self.heads = _heads(self.trunk)

    def _marked(self, round_: Round) -> tuple[float, float]:
        """The columns from one marker to the other; of the opening, of its increase."""
        left = self.columns[round_.number].left
        marks = [left[n] for name, n in round_.markers if name.endswith("marker")]
        if marks:
            return marks[0] - 0.5, marks[1] + 0.5
        return (-0.5, 0.5) if round_.phase != "gusset" else (-1.0, 1.0)

    def span(self, round_: Round) -> Span:
        """What of a round the chart of the size alone shows."""
        if round_.number >= self.last:
            return self.open if round_.number <= self.division else self.over
        return self.around(round_)

    def around(self, round_: Round) -> Span:
        """From a few stitches before the gusset to as many after it."""
        low, high = self._marked(round_)
        return low - CONTEXT, high + CONTEXT

    def row(self, round_: Round, span: Span | None = None) -> Row:
        """The round, each stitch over the one it is worked into, in the span, its own if none is
        given."""
        low, high = span or self.span(round_)
        over = self.columns[round_.number].middles
        halves = [cells(op) / 2 for op in round_.work]
        shown = [
            i for i, (x, half) in enumerate(zip(over, halves, strict=True))
            if x - half < high - EVEN and x + half > low + EVEN
        ]  # fmt: skip
        row = Row(round_, shown[0], shown[-1] + 1, self.axis, middles=over)
        head = self.heads.get(round_.number, 0)
        if head < row.first:
            row = replace(row, head=head)
        if round_.number != self.division:
            return row
        return replace(row, raised=frozenset(bridge(round_)), crook=self.crook)

    def over_gap(self) -> list[Row]:
        """The rows from the division on."""
        rows = [self.row(r) for r in self.rounds if r.phase == "division"]
        rows += _above([r for r in self.rounds if r.phase == "hand"], self)
        stacked = not any(row.several for row in rows)
        return rows + _edging([r for r in self.rounds if r.phase == "edging"], self, stacked)

    def closed(self, round_: Round) -> Row:
        """A round far above the gap, closed up about the thumb's side."""
        side = round_.marker("thumb side") or 0
        edge = side_by_side(round_, 0.0).left[side] - 0.5
        starts = whole(round_).starts
        reach = CONTEXT + 1
        shown = [
            i for i in range(len(round_.work))
            if starts[i] < edge + reach and starts[i + 1] > edge - reach
        ]  # fmt: skip
        return Row(round_, shown[0], shown[-1] + 1, edge)


def _heads(rounds: Sequence[Round]) -> dict[int, int]:
    """How many entries are drawn at the beginning of rounds up to the last that widens the hand
    there, by the round's number: its increase, or in others the stitch that one is worked into."""
    found: dict[int, int] = {}
    last = 0
    for r in rounds:
        plain = lifts(r) + 1
        first = next((i + 1 for i, op in enumerate(r.work) if op.do == "inc"), 0)
        grown = r.phase == "outer edge" and 0 < first <= plain
        found[r.number] = first if grown else plain
        last = r.number if grown else last
    return {number: head for number, head in found.items() if 0 < number <= last}


def _bridged(op: Op) -> bool:
    """Whether the hand goes on past the stitch: it is set aside, or joined to a far one."""
    return op.held or op.do in ("hold", "join")


def _crook(stitches: StitchMap) -> int:
    """How many stitches the thumb finds at the bridge."""
    thumb = stitches.piece("thumb")
    places = {p for op in thumb.rounds[0].work for p in op.into} if thumb else set()
    return sum(1 for p in places if isinstance(p, tuple) and p[0] == "crook")


def _above(rounds: Sequence[Round], wedge: Wedge) -> list[Row]:
    """The even rounds over the division: the first drawn, the rest summed by yarns."""
    shown = rounds[:1] if len(rounds) != 2 else rounds
    return [
        *(wedge.row(r) for r in shown),
        *(summed(run[0], run[-1]) for run in runs(rounds[len(shown) :])),
    ]


def _edging(rounds: Sequence[Round], wedge: Wedge, over: bool) -> list[Row]:
    """The edging of an open hand: its first round drawn and its last, so that the chart has a top
    edge to see; what is between summed. `over`: it stands right over rounds with the gap."""
    rows = [wedge.row(r) if over else wedge.closed(r) for r in rounds[:1]]
    between = [summed(run[0], run[-1]) for run in runs(rounds[1:-1])]
    last = rounds[1:][-1:]
    return [
        *rows, *between,
        *(wedge.row(r) if over and not between else wedge.closed(r) for r in last),
    ]  # fmt: skip
