"""Counting laws between sizes: nothing gets smaller, and all are made in the same phases."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from gussetry.diagnostics import Problem
from gussetry.stitchmap import Piece, StitchMap, sections


def check_sizes(maps: Sequence[StitchMap]) -> tuple[Problem, ...]:
    """What gets smaller from one size to the next larger, and phases that the sizes do not share.

    One map a size, smallest first (of a left and a right that differ, one).
    """
    found = []
    for smaller, larger in pairwise(maps):
        found += _shrunk(smaller, larger)
        found += _disordered(smaller, larger)
    return tuple(found)


def named_counts(stitches: StitchMap) -> dict[str, int]:
    """The counts and measures that sizes are ordered by, in stitches, rows or rounds, by name.

    Measures stand here as numbers of rounds: all sizes share one gauge.
    """
    counts: dict[str, int] = {}
    cuff, hand, thumb = (stitches.piece(name) for name in ("cuff", "hand", "thumb"))
    if cuff is not None:
        across = next((r.count for r in reversed(cuff.rounds) if r.count), 0)
        counts["stitches of the cuff"] = across
        counts[f"{cuff.worked} of the cuff"] = len(cuff.counted)
    if hand is not None:
        counts |= _hand_counts(hand)
    if thumb is not None and thumb.rounds:
        # What the first round works into: the held stitches and the crook's.
        counts["thumb"] = sum(len(op.into) for op in thumb.rounds[0].work if op.do != "skip")
        counts["rounds of the thumb"] = len(thumb.counted)
    return counts


_BEFORE_THE_END = ("pick-up", "outer edge", "lower hand", "division", "hand")


def _hand_counts(hand: Piece) -> dict[str, int]:
    counts: dict[str, int] = {}
    before_end = None
    divided = any(r.phase == "division" for r in hand.rounds)
    for round_ in hand.rounds:
        if round_.phase == "pick-up":
            counts["pick-up"] = round_.count
        elif round_.phase == "gusset" and (parts := sections(round_)) is not None:
            counts["between the markers"] = parts[1]
        elif round_.phase == "division":
            counts["hand"] = round_.count
            counts["rounds to the division"] = round_.number
        if round_.phase in _BEFORE_THE_END:
            before_end = round_.count
    if before_end is not None:
        if not divided:
            counts["hand"] = before_end
        counts["edging start" if hand.rounds[-1].phase == "edging" else "crown start"] = before_end
    counts["rounds of the hand"] = len(hand.counted)
    return counts


def _shrunk(smaller: StitchMap, larger: StitchMap) -> list[Problem]:
    less, more = named_counts(smaller), named_counts(larger)
    return [
        Problem(
            "law-sizes",
            f"{name}: {count} in size {smaller.size}, but only {more[name]} in the larger "
            f"size {larger.size}",
        )
        for name, count in less.items()
        if name in more and more[name] < count
    ]


def _disordered(smaller: StitchMap, larger: StitchMap) -> list[Problem]:
    both = f"sizes {smaller.size} and {larger.size}"
    if [p.piece for p in smaller.pieces] != [p.piece for p in larger.pieces]:
        return [Problem("law-phases", f"{both} are not made of the same pieces")]
    found = []
    for one, other in zip(smaller.pieces, larger.pieces, strict=True):
        first, second = _phases(one), _phases(other)
        shared = set(first) & set(second)
        if one.worked != other.worked or [p for p in first if p in shared] != [
            p for p in second if p in shared
        ]:
            text = f"{both} do not work the {one.piece} in the same phases"
            found.append(Problem("law-phases", text))
        if one.piece != "cuff" and first[-1:] != second[-1:]:
            text = f"{both} do not end the {one.piece} alike"
            found.append(Problem("law-phases", text))
    return found


def _phases(piece: Piece) -> list[str]:
    """The phases in order, each run once. A phase may be 0 rounds long: then it is not there."""
    found: list[str] = []
    for round_ in piece.rounds:
        if not found or found[-1] != round_.phase:
            found.append(round_.phase)
    return found
