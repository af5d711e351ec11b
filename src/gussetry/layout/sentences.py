"""Sentences about the way of working that several charts say, each from the rounds themselves."""

from __future__ import annotations

from collections.abc import Sequence

from gussetry.layout.parts import lifts
from gussetry.stitchmap import Op, Round, StitchMap


def joined_text(rounds: Sequence[Round], unit: str = "round") -> str:
    """What lifts the hook before a round (`unit`: or a row), and what joins it, none of it
    counted; nothing for a spiral."""
    high = max((lifts(r) for r in rounds), default=0)
    chains = "The chain" if high == 1 else f"The {high} chains"
    lift = f"{chains} before a {unit} {'lifts' if high == 1 else 'lift'} the hook"
    join = f"the slip stitch after a {unit} joins it"
    joined = any(_joins(op) for r in rounds if r.count for op in r.work)
    if high and joined:
        return f" {lift}, {join}; none of these is counted."
    if high:
        return f" {lift} and {'is' if high == 1 else 'are'} not counted."
    return f" {join.capitalize()} and is not counted." if joined else ""


def _joins(op: Op) -> bool:
    return op.do == "slst" and not op.counts


def begun_text(stitches: StitchMap) -> str:
    """What round 1 of the hand is worked into: the cuff's row ends, its top, or the chain."""
    hand = stitches.piece("hand")
    assert hand is not None
    first = next(r for r in hand.rounds if r.number)
    found = {p[0] for op in first.work for p in op.into if isinstance(p, tuple)}
    if found & {"row end", "seam"}:
        return " Round 1 is picked up in the row ends of the cuff's hand edge, from the seam on."
    if "cuff" in found:
        return " Round 1 is worked into the tops of the cuff's last round."
    if "chain" in found:
        return (
            f" The lowest line is the foundation: {hand.rounds[0].count} chains joined into a ring;"
            " round 1 is worked into them."
        )
    return ""
