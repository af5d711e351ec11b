"""Counts become rounds: hand and thumb, stitch by stitch, still without yarns."""

from __future__ import annotations

from gussetry.grading.counts import Counts
from gussetry.grading.cuffs import foundation
from gussetry.grading.lean import OUTER_SIDE, after, side_move, side_starts
from gussetry.grading.rounds import Rounds
from gussetry.grading.spacing import made_by, spread, spread_count
from gussetry.spec import Spec
from gussetry.stitchmap import Op, Piece, Place


def _pick_up(spec: Spec, counts: Counts, rounds: Rounds) -> None:
    """The first round of the hand: into the cuff's row ends, its top, or a chain."""
    base, stitch = counts.base, spec.gauge.stitch
    if spec.cuff.style == "none":
        foundation(rounds, base.pick_up)
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


def _lower_hand(counts: Counts, rounds: Rounds) -> None:
    base = counts.base
    for _ in range(base.increases):
        rounds.add("outer edge", (rounds.increase(0), *rounds.plain(1, rounds.count)))
    for _ in range(base.lower - 1 - base.increases):
        rounds.add("lower hand", rounds.plain(0, rounds.count))


_MARKED = {"inside": (0, 1), "first": (0, 0), "second": (1, 1)}
"""Which of its two new stitches each marker moves on to, by the way of growing."""


def _gusset(spec: Spec, counts: Counts, rounds: Rounds, shift: int) -> tuple[int, int]:
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


def _division(
    spec: Spec, counts: Counts, rounds: Rounds, marked: tuple[int, int], shift: int
) -> int:
    """Sets the thumb's stitches aside, bridges the gap; returns the crook's place in the hand: the
    middle of its chains, the one of the two about it that leaves the evener halves once the thumb,
    moved by `shift`, stands at the side."""
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
    first = low - base.pairs
    left = first + base.chains + len(after)
    middles = first + base.chains // 2, first + (base.chains + 1) // 2
    crook = min(middles, key=lambda place: abs(2 * (place - shift) - left))
    rounds.add(
        "division",
        (*rounds.plain(0, low), *aside, *joins, *chain, *after),
        (("thumb side", crook),),
    )
    return crook


def _crown(spec: Spec, counts: Counts, rounds: Rounds, side: int, marker: str) -> None:
    """The crown's phases from the second side's stitch on, which `marker` names, and the closing.

    Without a thumb to stand over, the second side is half-way round in every round, and marked
    where decreases stand at it. Sides that follow the stitches' lean leave the round's start, and
    both are marked.
    """
    below: tuple[int, ...] = ()
    moved = side_move(spec, counts)
    outer, side = moved % rounds.count, (side + moved) % rounds.count
    for phase, times in zip(spec.crown.phases, counts.phases, strict=True):
        name = "crown sides" if phase.kind == "sides" else "crown even"
        for _ in range(times):
            if phase.kind == "sides":
                starts: tuple[int, ...] = side_starts(rounds.count, outer, side)
            else:
                starts = spread(rounds.count, phase.decreases, below)
                below = made_by(starts)
            outer, side = after(outer, starts), after(side, starts)
            if not spec.has_thumb:
                side = (rounds.count - len(starts)) // 2
            marks = [(marker, side), *([(OUTER_SIDE, outer)] if moved else [])]
            if not spec.has_thumb and phase.kind == "evenly":
                marks = []
            rounds.add(name, rounds.decreased(starts), tuple(marks))
            for _ in range(phase.plain_after):
                rounds.add(name, rounds.plain(0, rounds.count), tuple(marks))
        if phase.kind == "sides":
            below = ()
    rounds.close(counts.closing)


def hand(spec: Spec, counts: Counts, shift: int) -> Piece:
    """The hand from the pick-up round to the drawing shut, or to the edging that ends it open."""
    rounds = Rounds(spec.gauge.stitch, spec.lower_hand.joined)
    _pick_up(spec, counts, rounds)
    _lower_hand(counts, rounds)
    marker, side = "half-way point", rounds.count // 2
    marks: tuple[tuple[str, int], ...] = ()
    if spec.has_thumb:
        marked = _gusset(spec, counts, rounds, shift)
        crook = _division(spec, counts, rounds, marked, shift)
        marks = (("thumb side", crook),)
        # The crown's sides lie opposite each other, wherever the thumb was moved to.
        marker, side = "thumb side", crook - shift
    for _ in range(counts.plain_before):
        rounds.add("hand", rounds.plain(0, rounds.count), marks)
    if spec.crown.style == "closed":
        _crown(spec, counts, rounds, side, marker)
    for _ in range(counts.edging):
        rounds.add("edging", rounds.plain(0, rounds.count), marks)
    return rounds.piece("hand")


def thumb(spec: Spec, counts: Counts) -> Piece | None:
    """The thumb from the crook to the drawing shut, or to the edging that ends it open; None for a
    mitten without one."""
    if not spec.has_thumb:
        return None
    base = counts.base
    rounds = Rounds(spec.gauge.stitch, spec.lower_hand.joined)
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
    for _ in range(counts.thumb_edging):
        add("edging", ())
    if spec.thumb.style == "closed":
        rounds.close(counts.thumb_closing)
    return rounds.piece("thumb")
