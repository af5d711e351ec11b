"""The numbers of a mitten as a specification pins them, read from its counts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

Growth = Literal["inside", "alternating"]
Bridge = Literal["join", "chain", "none"]

SEATS = {"join": 2, "none": 0}
"""Stitches that the crook gives where nothing else is known: common practice, no source. A chain
gives all its stitches."""

USUAL_CROOK_DECREASES = 2
"""Crook decreases where the crook gives as many stitches: common practice, no source."""


class Departs(Exception):
    """The first round that no construction of ours can make."""

    def __init__(self, piece: str, number: int, why: str, remedy: str) -> None:
        self.piece, self.number, self.why, self.remedy = piece, number, why, remedy
        super().__init__(why)


class CuffShape(NamedTuple):
    """`across`: stitches of a row of a ribbed cuff; of a round cuff, those of the pick-up."""

    style: Literal["ribbed", "round", "none"]
    rows: int = 0
    across: int = 0
    seam_counts: bool = False


class LowerShape(NamedTuple):
    """From the pick-up round to the gusset; `rounds` are those before the opening."""

    pick_up: int
    increases: int
    rounds: int


class GussetShape(NamedTuple):
    """How the gusset grows: `steps` increase rounds after the pairs were made, one in `every`
    rounds; `division` is the round that sets the thumb aside."""

    steps: int
    every: int
    division: int


class ThumbShape(NamedTuple):
    """The thumb's pins; `start` is what its first round finds. `edging` is None where it is drawn
    shut on `last` stitches."""

    start: int
    crook_decreases: int
    plain_after: int
    side_decreases: int
    to_length: int
    last: int
    edging: int | None = None


class GapShape(NamedTuple):
    """What goes to the thumb, and how the gap is bridged."""

    growth: Growth
    between: int
    with_marked: bool
    bridge: Bridge
    pairs: int
    chains: int
    crook: int
    hand: int

    @property
    def usual_crook(self) -> int:
        """The stitches that such a crook gives where no pin says otherwise."""
        return self.chains if self.bridge == "chain" else SEATS[self.bridge]


class PhaseShape(NamedTuple):
    """A phase of the crown."""

    kind: Literal["sides", "evenly"]
    rounds: int
    decreases: int
    plain_after: int


class CrownShape(NamedTuple):
    """From the division to the drawing shut; `edging` is None unless the hand ends open."""

    plain_before: int
    phases: tuple[PhaseShape, ...]
    closing: tuple[int, ...]
    last: int
    edging: int | None = None


class SetAside(NamedTuple):
    """The thumb, and how the hand grows it, sets it aside and goes on without it."""

    gusset: GussetShape
    gap: GapShape
    thumb: ThumbShape


@dataclass(frozen=True, slots=True)
class Making:
    """One way of making all of a size's counts. `hand` is its count above the thumb, in round
    `from_round`; `aside` is None for a mitten without a thumb."""

    cuff: CuffShape
    lower: LowerShape
    aside: SetAside | None
    crown: CrownShape
    hand: int
    from_round: int
