"""Sentences about the way of working that several charts say, each from the rounds themselves."""

from __future__ import annotations

from collections.abc import Sequence

from gussetry.layout.parts import lifts
from gussetry.stitchmap import Op, Round, StitchMap


def joined_text(rounds: Sequence[Round], unit: str = "round") -> str:
    """What lifts the hook before a round (`unit`: or a row), and what joins it: ` The 2 chains …`;
    nothing for a spiral."""
    words = ""
    high = max((lifts(r) for r in rounds), default=0)
    if high == 1:
        words = f" The chain that begins a {unit} lifts the hook: it is no stitch, not counted."
    elif high:
        words = f" The {high} chains that begin a {unit} lift the hook: no stitches, not counted."
    if any(_joins(op) for r in rounds if r.count for op in r.work):
        words += f" The slip stitch that ends a {unit} joins it to its first stitch; not counted."
    return words


def _joins(op: Op) -> bool:
    return op.do == "slst" and not op.counts


def begun_text(stitches: StitchMap) -> str:
    """What round 1 of the hand is worked into: the cuff's row ends, its top, or the chain."""
    hand = stitches.piece("hand")
    assert hand is not None
    first = next(r for r in hand.rounds if r.number)
    found = {p[0] for op in first.work for p in op.into if isinstance(p, tuple)}
    if found & {"row end", "seam"}:
        return " Round 1 is picked up in the row ends along the cuff's hand edge."
    if "cuff" in found:
        return " Round 1 is worked into the tops of the cuff's last round."
    if "chain" in found:
        return (
            f" The lowest line is the foundation: {hand.rounds[0].count} chains joined into a ring;"
            " round 1 is worked into them."
        )
    return ""
