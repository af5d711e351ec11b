"""Walking a stitch map round by round, as the counting laws read it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from gussetry.diagnostics import Problem
from gussetry.stitchmap import MAKES, Op, Piece, Round, StitchMap

TOGETHER = ("sc2tog", "hdc2tog", "dc2tog")
"""The kinds that work two stitches together."""


class Step(NamedTuple):
    """One round, the round before it in its piece, and where both stand."""

    stitches: StitchMap
    piece: Piece
    before: Round | None
    round: Round

    @property
    def made_at(self) -> list[int]:
        """The place in `work` of what makes each stitch of the round, in *made* order."""
        return [at for at, op in enumerate(self.round.work) for _ in range(makes(op))]

    @property
    def left_at(self) -> list[int]:
        """The place in `work` of what makes each stitch that is left, in *left* order."""
        work = self.round.work
        used = {i for op in work if op.uses for i in op.onto}
        return [at for i, at in enumerate(self.made_at) if not work[at].held and i not in used]


def makes(op: Op) -> int:
    """How many stitches the operation makes, none where its kind is not known."""
    return op.makes if op.do in MAKES else 0


def walk(stitches: StitchMap) -> Iterator[Step]:
    """Every round of every piece, in order of working."""
    for piece in stitches.pieces:
        before = None
        for round_ in piece.rounds:
            yield Step(stitches, piece, before, round_)
            before = round_


def fabric_tops(step: Step) -> int:
    """How many stitches the round finds by number; named places are none of them."""
    if step.before is None or step.before.phase == "foundation":
        return 0
    return step.before.count


def decreases(step: Step) -> list[int]:
    """Where the round's decreases begin: the first of the two stitches that each uses."""
    return [
        first
        for op in step.round.work
        if op.do in TOGETHER and len(op.into) == 2 and isinstance(first := op.into[0], int)
    ]


def set_aside(stitches: StitchMap) -> int:
    """How many stitches the hand sets aside for the thumb."""
    hand = stitches.piece("hand")
    return sum(
        makes(op) if op.held else len(op.into) if op.do == "hold" else 0
        for round_ in (hand.rounds if hand else ())
        for op in round_.work
    )


def broken(step: Step, code: str, message: str) -> Problem:
    """The finding, with its size, piece and round named."""
    kind = "row" if step.piece.worked == "rows" else "round"
    where = f"size {step.stitches.size}, {step.piece.piece}, {kind} {step.round.number}"
    return Problem(code, f"{where}: {message}")
