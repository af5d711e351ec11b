"""Where markers go: by themselves with the stitches, or because the maker is told so."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from gussetry.stitchmap import Round, left_of_made
from gussetry.telling.atoms import marked_increases

CALLED = {
    "thumb side": "thumb-side marker", "half-way point": "half-way marker",
    "outer side": "outer-side marker", "thumb outer side": "outer-side marker",
    "first marker": "first gusset marker", "second marker": "second gusset marker",
}  # fmt: skip
"""What the words call each marker."""


class Move(NamedTuple):
    """What the maker does with a marker after a round: `place`, `move` or `remove`; the stitch it
    is in then, counted from 1, 0 where it is removed."""

    verb: str
    name: str
    stitch: int


def by_itself(round_: Round, marked: int) -> int | None:
    """The *left* number that a marker has if it moves up into the stitch worked into the marked
    one, the first of two; None where that stitch is not left or there is none."""
    left = left_of_made(round_)
    made = 0
    for op in round_.work:
        if marked in op.into and op.makes:
            return left[made]
        made += op.makes
    return None


def moves(round_: Round, before: Round | None) -> tuple[Move, ...]:
    """The markers that are new, gone, or not where they go by themselves."""
    return tuple(_moves(round_, before))


def _moves(round_: Round, before: Round | None) -> Iterator[Move]:
    old = dict(before.markers) if before else {}
    told = {name for name, _ in marked_increases(round_, before).values()}
    for name, stitch in round_.markers:
        if name in told:
            continue
        if name not in old:
            yield Move("place", name, stitch + 1)
        elif by_itself(round_, old[name]) != stitch:
            yield Move("move", name, stitch + 1)
    kept = dict(round_.markers)
    for name in old:
        if name not in kept:
            yield Move("remove", name, 0)
