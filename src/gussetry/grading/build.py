"""Counts become rounds: cuff, hand and thumb, stitch by stitch, still without yarns."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from gussetry.grading.counts import Counts
from gussetry.grading.spacing import made_by, spread, spread_count
from gussetry.spec import Spec
from gussetry.stitchmap import Op, Piece, PieceName, Place, Round

_TURNING = {"sc": 1, "hdc": 2, "dc": 3}
"""Chains that lift the hook to the height of a stitch: common practice, no source."""


class _Rounds:
    """The rounds of a piece while they are made; local to one builder, frozen at its end."""

    def __init__(self, stitch: str, joined: bool, number: int = 1) -> None:
        self.stitch = stitch
        self.joined = joined
        self.number = number
        self.done: list[Round] = []
        self.count = 0
        self._step = ("", 0)

    def add(
        self,
        phase: str,
        work: Iterable[Op],
        markers: tuple[tuple[str, int], ...] = (),
        joinable: bool = True,
    ) -> None:
        """Adds a round; its count and its step follow from its work and the round before."""
        ops = tuple(work)
        if self.joined and joinable:
            lift = (Op("ch", counts=False),) * _TURNING[self.stitch]
            ops = (*lift, *ops, Op("slst", onto=(0,), uses=False, counts=False))
        made = sum(op.makes for op in ops)
        aside = sum(op.makes for op in ops if op.held)
        used = sum(len(op.onto) for op in ops if op.uses)
        self.count = made - aside - used
        self._step = (phase, self._step[1] + 1 if self._step[0] == phase else 1)
        self.done.append(Round(self.number, "", phase, self._step[1], ops, self.count, markers))
        self.number += 1

    def plain(self, first: int, end: int) -> tuple[Op, ...]:
        """One stitch into each of the stitches from `first` up to `end`, `end` left out."""
        return tuple(Op(self.stitch, (i,)) for i in range(first, end))

    def together(self, i: int) -> Op:
        """Two stitches together over i and i + 1."""
        return Op(f"{self.stitch}2tog", (i, i + 1))

    def increase(self, i: int) -> Op:
        """Two stitches in stitch i."""
        return Op("inc", (i,), of=self.stitch)

    def decreased(self, starts: Collection[int]) -> tuple[Op, ...]:
        """A round with decreases over the stitches that begin at `starts`."""
        ops: list[Op] = []
        i = 0
        while i < self.count:
            if i in starts:
                ops.append(self.together(i))
                i += 2
            else:
                ops.append(Op(self.stitch, (i,)))
                i += 1
        return tuple(ops)

    def close(self, counts: Iterable[int]) -> None:
        """The closing rounds to those counts, and the drawing shut."""
        for count in counts:
            self.add("close", self.decreased(spread(self.count, self.count - count)))
        shut = Op("close", tuple(range(self.count)))
        self.add("draw shut", (shut,), joinable=False)

    def piece(self, name: PieceName) -> Piece:
        """The finished piece, worked in rounds."""
        return Piece(name, "rounds", tuple(self.done))


def ribbed_cuff(rows: int, across: int, stitch: str) -> Piece:
    """A sideways cuff: a foundation chain, turned rows in the back loop, a seam."""
    chain = tuple(Op("ch") for _ in range(across))
    made = [Round(0, "", "foundation", 1, chain, across)]
    lift = (Op("ch", counts=False),) * _TURNING[stitch]
    for row in range(1, rows + 1):
        # In turned rows the first stitch stands over the last one of the row before.
        places: list[Place] = [("chain", i) if row == 1 else i for i in reversed(range(across))]
        ops = [*lift, *(Op(stitch, (place,), loop="back") for place in places)]
        if row < rows:
            ops.append(Op("turn"))
        made.append(Round(row, "", "ribbing", row, tuple(ops), across))
    free = range(across) if rows % 2 == 0 else range(across - 1, -1, -1)
    seam = tuple(Op("seam", (i, ("underside", free[i]))) for i in reversed(range(across)))
    made.append(Round(rows + 1, "", "seam", 1, seam, 0))
    return Piece("cuff", "rows", tuple(made))


def _foundation(rounds: _Rounds, count: int) -> None:
    rounds.number = 0
    ring = Op("slst", onto=(0,), uses=False, counts=False)
    rounds.add("foundation", (*(Op("ch") for _ in range(count)), ring), joinable=False)


def round_cuff(count: int, height: int, stitch: str, joined: bool) -> Piece:
    """A cuff of plain rounds on a chain joined into a ring."""
    rounds = _Rounds(stitch, joined)
    _foundation(rounds, count)
    for number in range(height):
        places: list[Place] = [("chain", i) if number == 0 else i for i in range(count)]
        rounds.add("cuff", (Op(stitch, (place,)) for place in places))
    return rounds.piece("cuff")


def _pick_up(spec: Spec, counts: Counts, rounds: _Rounds) -> None:
    """The first round of the hand: into the cuff's row ends, its top, or a chain."""
    base, stitch = counts.base, spec.gauge.stitch
    if spec.cuff.style == "none":
        _foundation(rounds, base.pick_up)
    if spec.cuff.style != "ribbed":
        kind = "chain" if spec.cuff.style == "none" else "cuff"
        rounds.add("pick-up", (Op(stitch, ((kind, i),)) for i in range(base.pick_up)))
        return
    places: list[Place] = [("row end", i) for i in range(base.cuff_rows)]
    if spec.cuff.seam_counts:
        places.append(("seam", 0))
    worked = spread_count(len(places), base.pick_up)
    ops: list[Op] = []
    for i, place in enumerate(places):
        times = worked.count(i)
        if times == 0:
            ops.append(Op("skip", (place,)))
        elif times == 1:
            ops.append(Op(stitch, (place,)))
        else:
            ops.append(Op("inc", (place,), of=stitch))
    rounds.add("pick-up", ops)


def _lower_hand(counts: Counts, rounds: _Rounds) -> None:
    base = counts.base
    for _ in range(base.increases):
        rounds.add("outer edge", (rounds.increase(0), *rounds.plain(1, rounds.count)))
    for _ in range(base.lower - 1 - base.increases):
        rounds.add("lower hand", rounds.plain(0, rounds.count))


_MARKED = {"inside": (0, 1), "first": (0, 0), "second": (1, 1)}
"""Which of its two new stitches each marker moves on to, by the way of growing."""


def _gusset(spec: Spec, counts: Counts, rounds: _Rounds, shift: int) -> tuple[int, int]:
    """Opens and grows the gusset; returns the marked stitches. `shift`: stitches by which the
    thumb stands after the half-way point."""
    growth = spec.gusset.growth
    # Grown inside, the pair of its markers takes a stitch from the second half as well.
    thumb = (rounds.count - (1 if growth == "inside" else 0)) // 2 + shift
    rounds.add(
        "gusset",
        (*rounds.plain(0, thumb), rounds.increase(thumb), *rounds.plain(thumb + 1, rounds.count)),
    )
    first, second = thumb, thumb + 3 + (1 if growth == "inside" else 0)
    rounds.add(
        "gusset",
        (
            *rounds.plain(0, thumb),
            rounds.increase(thumb),
            *rounds.plain(thumb + 1, thumb + 2),
            rounds.increase(thumb + 2),
            *rounds.plain(thumb + 3, rounds.count),
        ),
        (("first marker", first), ("second marker", second)),
    )
    grown = rounds.number + counts.base.steps * spec.gusset.every
    step = 0
    while rounds.number < counts.base.division:
        marks = (("first marker", first), ("second marker", second))
        waits = (rounds.number - grown) % spec.gusset.every != spec.gusset.every - 1
        if rounds.number >= grown or waits:
            rounds.add("gusset", rounds.plain(0, rounds.count), marks)
            continue
        work = (
            *rounds.plain(0, first),
            rounds.increase(first),
            *rounds.plain(first + 1, second),
            rounds.increase(second),
            *rounds.plain(second + 1, rounds.count),
        )
        turn = growth if growth != "alternating" else ("first", "second")[step % 2]
        first, second = first + _MARKED[turn][0], second + 1 + _MARKED[turn][1]
        step += 1
        rounds.add("gusset", work, (("first marker", first), ("second marker", second)))
    return first, second


def _division(spec: Spec, counts: Counts, rounds: _Rounds, marked: tuple[int, int]) -> int:
    """Sets the thumb's stitches aside, bridges the gap; returns the crook's place in the hand."""
    base, division = counts.base, spec.division
    inner = 0 if division.with_marked else 1
    low, high = marked[0] + inner, marked[1] - inner
    if division.worked_again:
        aside = tuple(Op(rounds.stitch, (i,), held=True) for i in range(low, high + 1))
    else:
        aside = tuple(Op("hold", (i,)) for i in range(low, high + 1))
    joins = tuple(Op("join", (high + 1 + k,), (low - 1 - k,)) for k in range(base.pairs))
    chain = tuple(Op("ch") for _ in range(base.chains))
    after = rounds.plain(high + 1 + base.pairs, rounds.count)
    crook = low - base.pairs + (base.chains + 1) // 2
    rounds.add(
        "division",
        (*rounds.plain(0, low), *aside, *joins, *chain, *after),
        (("thumb side", crook),),
    )
    return crook


def _crown(spec: Spec, counts: Counts, rounds: _Rounds, side: int) -> None:
    below: tuple[int, ...] = ()
    for phase, times in zip(spec.crown.phases, counts.phases, strict=True):
        name = "crown sides" if phase.kind == "sides" else "crown even"
        for _ in range(times):
            if phase.kind == "sides":
                starts: tuple[int, ...] = (0, side)
                side -= 1
            else:
                starts = spread(rounds.count, phase.decreases, below)
                below = made_by(starts)
                side -= sum(1 for start in starts if start < side)
            rounds.add(name, rounds.decreased(starts), (("thumb side", side),))
            for _ in range(phase.plain_after):
                rounds.add(name, rounds.plain(0, rounds.count), (("thumb side", side),))
        if phase.kind == "sides":
            below = ()
    rounds.close(counts.closing)


def hand(spec: Spec, counts: Counts, shift: int) -> Piece:
    """The hand from the pick-up round to the drawing shut."""
    rounds = _Rounds(spec.gauge.stitch, spec.lower_hand.joined)
    _pick_up(spec, counts, rounds)
    _lower_hand(counts, rounds)
    marked = _gusset(spec, counts, rounds, shift)
    crook = _division(spec, counts, rounds, marked)
    for _ in range(counts.plain_before):
        rounds.add("hand", rounds.plain(0, rounds.count), (("thumb side", crook),))
    # The crown's sides lie opposite each other, wherever the thumb was moved to.
    _crown(spec, counts, rounds, crook - shift)
    return rounds.piece("hand")


def thumb(spec: Spec, counts: Counts) -> Piece:
    """The thumb from the crook to the drawing shut."""
    base = counts.base
    rounds = _Rounds(spec.gauge.stitch, spec.lower_hand.joined)
    places: list[Place] = [("crook", i) for i in range(base.crook)]
    places += [("held", i) for i in range(base.thumb - base.crook)]
    unused = [Op("skip", (("crook", i),)) for i in range(base.crook, base.chains)]

    rounds.count = len(places)

    def add(phase: str, starts: tuple[int, ...]) -> None:
        work = rounds.decreased(starts)
        if not rounds.done:
            worked = (
                Op(op.do, tuple(places[p] for p in op.into if isinstance(p, int))) for op in work
            )
            work = (*unused, *worked)
        left = sum(op.makes for op in work)
        rounds.add(phase, work, (("thumb outer side", left // 2),))

    for _ in range(base.crook_decreases):
        add("thumb crook", (0,))
    for _ in range(counts.thumb_plain):
        add("thumb plain", ())
    for _ in range(counts.thumb_sides):
        add("thumb sides", (0, rounds.count // 2))
        add("thumb sides", ())
    for _ in range(counts.thumb_to_length):
        add("thumb even", ())
    rounds.close(counts.thumb_closing)
    return rounds.piece("thumb")
