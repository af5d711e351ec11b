"""What deserves a second look in a table that can be made as it stands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from gussetry.sample.hand import read_crowns
from gussetry.sample.makings import CrownShape, Departs, Making, ThumbShape

REACH = 3
"""How far a count may have slipped."""

CALMER_BY = 2
"""Phases fewer that another count must bring before it is called a slip."""


def remarks(making: Making, hand: Sequence[int]) -> Iterator[str]:
    """Counts of the crown that break its rhythm, mostly a slip of the pen, and an end left open."""
    slips = list(_slips(making, hand))
    yield from slips or _odd_phases(making)
    if making.aside:
        yield from _half_open(making.crown, making.aside.thumb)


def _half_open(crown: CrownShape, thumb: ThumbShape) -> Iterator[str]:
    """A hand or a thumb that is left open where the other is drawn shut."""
    if crown.edging is not None and thumb.edging is None:
        yield f"the hand is left open on {crown.last} stitches: it never narrows"
    if thumb.edging is not None and crown.edging is None:
        yield f"the thumb is left open on {thumb.last} stitches: it is never closed"


def _slips(making: Making, hand: Sequence[int]) -> Iterator[str]:
    """Single counts, with another one in their place the crown would have far fewer phases."""
    phases = len(making.crown.phases)
    for number in range(making.from_round + 1, len(hand)):
        calmest = (phases - CALMER_BY + 1, 0)
        for more in sorted(range(-REACH, REACH + 1), key=abs):
            counts = [*hand[: number - 1], hand[number - 1] + more, *hand[number:]]
            try:
                crowns = read_crowns(counts, making.from_round)
            except Departs:
                continue
            if more and crowns:
                calmest = min(calmest, (len(crowns[0].phases), more), key=lambda way: way[0])
        if calmest[1]:
            found, meant = hand[number - 1], hand[number - 1] + calmest[1]
            before = hand[number - 2]
            yield (
                f"hand round {number} has {found} stitches, {before} − {before - found} = {found};"
                f" with {meant}, {before} − {before - meant}, the crown would keep its rhythm"
            )


def _odd_phases(making: Making) -> Iterator[str]:
    """Single rounds that take away another number than those before them."""
    count, number = making.hand, making.from_round + making.crown.plain_before
    rhythm: tuple[int, int, int] | None = None
    for phase in making.crown.phases:
        if rhythm and phase.rounds == 1 and phase.decreases != rhythm[1]:
            begun, each, times = rhythm
            left = begun - (times + 1) * each
            yield (
                f"hand round {number + 1} takes away {phase.decreases}, the {times} before it"
                f" {each} each: {begun} − {times + 1}×{each} = {left}, and the table says"
                f" {count - phase.decreases}"
            )
        steady = phase.kind == "evenly" and phase.rounds > 1
        rhythm = (count, phase.decreases, phase.rounds) if steady else None
        count -= phase.rounds * phase.decreases
        number += phase.rounds * (1 + phase.plain_after)
