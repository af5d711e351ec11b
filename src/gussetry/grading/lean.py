"""Stitch lean: where the drift of a spiral carries the columns, and the sides that follow it.

The convention. Places round the hand count with the direction of work, whichever hand holds the
hook; the gauge's lean is how many stitches a column of stitches drifts that way in ten rounds. Seen
from the right side, a right-handed maker works from right to left, and her single crochet drifts to
the right: against the direction of work, a negative lean. (Common practice, no source: the size
comes from the designer's own swatch.) A column that has drifted `d` stitches on stands over the
place `d` stitches on, so what stands straight over the thumb is the column `d` stitches before the
thumb's own: the sides move against the drift, by whole stitches.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from gussetry.grading.counts import Counts
from gussetry.spec import Spec
from gussetry.stitchmap import Piece
from gussetry.units import rounded

LEAN_ROUNDS = 10
"""The gauge's lean is a drift over so many rounds."""
OUTER_SIDE = "outer side"
"""The marker of the side away from the thumb, where it has left the round's start."""


def drift(lean: Fraction, rounds: int) -> Fraction:
    """Stitches by which the columns have drifted after so many rounds, with the direction of work
    (negative against it)."""
    return lean * rounds / LEAN_ROUNDS


def rounds_to_sides(piece: Piece) -> int | None:
    """Rounds from the division to the crown's first decreases at the sides, which are counted;
    None for a hand that lacks one of the two."""
    division = next((r.number for r in piece.rounds if r.phase == "division"), None)
    sides = next((r.number for r in piece.rounds if r.phase == "crown sides"), None)
    return None if division is None or sides is None else sides - division


def side_move(spec: Spec, counts: Counts) -> int:
    """Whole stitches by which the crown's sides are moved with the direction of work, so that they
    stand over the thumb; 0 where the specification does not ask for it."""
    if not spec.crown.follow_lean or not spec.has_thumb:
        return 0
    rounds = counts.plain_before
    for phase, times in zip(spec.crown.phases, counts.phases, strict=True):
        if phase.kind == "sides" and times:
            return -int(rounded(drift(spec.gauge.lean, rounds + 1), Fraction(1)))
        rounds += times * (1 + phase.plain_after)
    return 0


def side_starts(count: int, outer: int, inner: int) -> tuple[int, int]:
    """The first of the two stitches of the decreases at the marked stitches `outer` and `inner`, in
    order of working. One at the round's last stitch takes the stitch before it, since no decrease
    straddles the round's start."""
    first, second = sorted((min(outer, count - 2), min(inner, count - 2)))
    return min(first, second - 2), second


def after(place: int, starts: Iterable[int]) -> int:
    """The number that a stitch, or the decrease that used it, has after decreases at `starts`."""
    return place - sum(1 for start in starts if start < place)
