"""How charts are read: sentences with the rows that they are about, and those that several charts
say, each from the rounds themselves."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from gussetry.layout.parts import lifts
from gussetry.layout.rows import Row
from gussetry.layout.tags import merged
from gussetry.stitchmap import Op, Round, StitchMap


def of_any(_: Row) -> bool:
    """Whether a row is one."""
    return True


def of_first(row: Row) -> bool:
    """Whether a row is the first round, or what it stands on."""
    return row.round.number <= 1


class Saying(NamedTuple):
    """Words on how a chart is read, and which of its rows they are about: on several sheets they
    stand on the first that has such a row."""

    words: str
    about: Callable[[Row], bool] = of_any


def together(sizes: Sequence[Sequence[Saying]]) -> tuple[Saying, ...]:
    """What is said of several sizes as sayings for all of them, one by one; nothing empty."""
    found = []
    for own in zip(*sizes, strict=True):
        told = [saying.words.strip() for saying in own if saying.words]
        if told:
            found.append(Saying(merged(told), _of_some(own)))
    return tuple(found)


def _of_some(sayings: Sequence[Saying]) -> Callable[[Row], bool]:
    """Whether a row is one that any of the sayings is about."""
    return lambda row: any(saying.about(row) for saying in sayings)


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
