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
    """The one count that breaks the crown's rhythm: with another in its place the crown would have
    the fewest phases, of these the gentlest, of these with the least slip. Several rounds only
    where that is all alike."""
    found = list(_calmer(making, hand))
    calmest = min((calm for calm, _, _ in found), default=None)
    meant: dict[int, list[int]] = {}
    for calm, number, count in found:
        if calm == calmest:
            meant.setdefault(number, []).append(count)
    for number, counts in meant.items():
        before, count = hand[number - 2], hand[number - 1]
        ways = " or ".join(f"{other}, {before} − {before - other}," for other in counts)
        yield (
            f"hand round {number} has {count} stitches, {before} − {before - count} = {count};"
            f" with {ways} the crown would keep its rhythm"
        )


def _calmer(making: Making, hand: Sequence[int]) -> Iterator[tuple[tuple[int, int, int], int, int]]:
    """Single counts, with another one in their place the crown would have far fewer phases: these,
    the most decreases in a round and how far it slipped; the round; that other count."""
    most = len(making.crown.phases) - CALMER_BY
    for number in range(making.from_round + 1, len(hand)):
        for more in range(-REACH, REACH + 1):
            counts = [*hand[: number - 1], hand[number - 1] + more, *hand[number:]]
            try:
                crowns = read_crowns(counts, making.from_round)
            except Departs:
                continue
            if more and crowns and len(crowns[0].phases) <= most:
                phases = crowns[0].phases
                steepest = max((phase.decreases for phase in phases), default=0)
                yield (len(phases), steepest, abs(more)), number, counts[number - 1]


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
