"""The rounds of a piece while they are made."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from gussetry.grading.spacing import spread
from gussetry.stitchmap import Op, Piece, PieceName, Round

TURNING = {"sc": 1, "hdc": 2, "dc": 3}
"""Chains that lift the hook to the height of a stitch: common practice, no source."""


class Rounds:
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
            lift = (Op("ch", counts=False),) * TURNING[self.stitch]
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
