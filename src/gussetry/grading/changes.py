"""Colour changes, floats and ends, read off the stitch map alone.

At a change the last stitch of the old yarn is finished with the new one. The old yarn then rests:
if it comes back soon enough it is *carried* up the inside, its strand there is a *float*; else it
is *cut*. Every joining-in and every cutting leaves an *end* to weave in. Common practice, no
source, like everything here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Literal

from gussetry.stitchmap import Fabric, Piece, PieceName, StitchMap


@dataclass(frozen=True, slots=True)
class Change:
    """A change of yarn, from `old` to `new`.

    `after` is the round whose last stitch is finished with the new yarn, `round` the first one
    worked in it. `back` is the round in which the old yarn is worked again, None where it was its
    last use in the piece. `carried`: the old yarn is carried up the inside until then, and its
    float is `length` mm long; else it is cut here. `joined`: the new yarn is joined in, else it
    was carried up to here.
    """

    piece: PieceName
    after: int
    round: int
    old: str
    new: str
    back: int | None
    carried: bool
    length: Fraction
    joined: bool


@dataclass(frozen=True, slots=True)
class End:
    """An end to weave in: where a yarn is joined in before a round, or cut (or fastened off)
    after one."""

    piece: PieceName
    round: int
    yarn: str
    kind: Literal["joined", "cut", "fastened off"]


def fabric_of(stitches: StitchMap, piece: Piece) -> Fabric:
    """The fabric that a piece is worked in: the rib's for a ribbed cuff, else the hand's."""
    if piece.piece == "cuff" and stitches.rib:
        return stitches.rib
    return stitches.fabric


def changes(piece: Piece, fabric: Fabric, carry: int) -> tuple[Change, ...]:
    """Every change of yarn of a piece, in order of working.

    `carry`: rounds that a yarn may rest and still be carried. In turned rows a yarn hangs at the
    edge where it was left, and the hook is there again after an even number of rows only: a yarn
    that rests an odd number of rows is cut. A float is as long as the rounds that it passes.
    """
    found: list[Change] = []
    resting: set[str] = set()
    rounds = piece.rounds
    for i, (old, new) in enumerate(pairwise(rounds)):
        if old.yarn == new.yarn:
            continue
        back = next((k for k in range(i + 2, len(rounds)) if rounds[k].yarn == old.yarn), None)
        rested = back - i - 1 if back is not None else 0
        at_hand = piece.worked == "rounds" or rested % 2 == 0
        carried = back is not None and rested <= carry and at_hand
        found.append(
            Change(
                piece=piece.piece,
                after=old.number,
                round=new.number,
                old=old.yarn,
                new=new.yarn,
                back=None if back is None else rounds[back].number,
                carried=carried,
                length=rested * fabric.height if carried else Fraction(0),
                joined=new.yarn not in resting,
            )
        )
        resting.discard(new.yarn)
        if carried:
            resting.add(old.yarn)
    return tuple(found)


def all_changes(stitches: StitchMap, carry: int) -> tuple[Change, ...]:
    """Every change of yarn of a mitten, piece by piece."""
    return tuple(
        change
        for piece in stitches.pieces
        for change in changes(piece, fabric_of(stitches, piece), carry)
    )


def ends(stitches: StitchMap, carry: int) -> tuple[End, ...]:
    """Every end that one mitten leaves to weave in, in order of working.

    The hand goes on with the cuff's last yarn where it begins with the same; whatever else was
    carried in the cuff has been cut by then. The thumb is always joined in anew.
    """
    return tuple(_ends(stitches, carry))


def _ends(stitches: StitchMap, carry: int) -> Iterator[End]:
    cuff, hand = stitches.piece("cuff"), stitches.piece("hand")
    goes_on = bool(cuff and hand and cuff.rounds[-1].yarn == hand.rounds[0].yarn)
    for piece in stitches.pieces:
        name, first, last = piece.piece, piece.rounds[0], piece.rounds[-1]
        if not (name == "hand" and goes_on):
            yield End(name, first.number, first.yarn, "joined")
        for change in changes(piece, fabric_of(stitches, piece), carry):
            if not change.carried:
                yield End(name, change.after, change.old, "cut")
            if change.joined:
                yield End(name, change.round, change.new, "joined")
        if not (name == "cuff" and goes_on):
            yield End(name, last.number, last.yarn, "fastened off")
