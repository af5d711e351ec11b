"""Concerns about how the work lies: lopsided hands, crowns that ruffle, sides that turn away."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from gussetry.diagnostics import Problem, Where
from gussetry.grading.concerns_told import Told, Words, gathered
from gussetry.grading.finished import GradedSize
from gussetry.grading.lean import drift, rounds_to_sides
from gussetry.spec import Crown, Spec
from gussetry.stitchmap import Piece, StitchMap
from gussetry.units import text

MOST_APART = 2
"""Stitches by which the hand's halves may differ, and by which the crown's sides may stand off the
thumb's line: common practice, no source."""
PI = Fraction(314159265358979323846, 10**20)
"""π, to twenty places: no ratio of counts and swatches that a designer could write lies between."""


def _hand(stitches: StitchMap) -> Piece:
    hand = stitches.piece("hand")
    assert hand is not None
    return hand


def halves(stitches: StitchMap, towards_palm: int) -> tuple[int, int] | None:
    """Stitches of the hand after the division from the round's start to the thumb side, and from
    there back to the start; None without a thumb.

    A thumb that was moved towards the palm is taken back to where the crown's side stands, since
    the hand's front and back meet there.
    """
    moved = {"both": 0, "right": 1, "left": -1}[stitches.mitten] * towards_palm
    for one in _hand(stitches).rounds:
        side = one.marker("thumb side")
        if one.phase == "division" and side is not None:
            return side - moved, one.count - side + moved
    return None


def halves_concerns(spec: Spec, graded: Sequence[GradedSize]) -> tuple[Problem, ...]:
    """Hands whose front and back differ by more than two stitches after the division."""
    told = []
    for one in graded:
        two = halves(one.maps[0], spec.gusset.towards_palm)
        if two is not None and abs(two[0] - two[1]) > MOST_APART:
            apart = Fraction(abs(two[0] - two[1]))
            told.append(Told(one.size.name, f"{two[0]} and {two[1]}", apart))
    words = Words(
        "uneven-halves",
        f"front and back of the hand differ by more than {MOST_APART} stitches after the division",
        ("gusset", "growth"),
        "let the markers alternate, with `growth: alternating`, or grow inside",
    )
    return gathered(words, told)


def crown_slope(hand: Piece) -> Fraction | None:
    """Stitches that a round of the crown loses in the mean, before the closing rounds, plain rounds
    counted; None for a hand without such rounds."""
    rounds = [i for i, r in enumerate(hand.rounds) if r.phase.startswith("crown")]
    if not rounds or rounds[0] == 0:
        return None
    lost = hand.rounds[rounds[0] - 1].count - hand.rounds[rounds[-1]].count
    return Fraction(lost, len(rounds))


def crown_concerns(spec: Spec, graded: Sequence[GradedSize]) -> tuple[Problem, ...]:
    """Crowns that lose more stitches a round than a flat disc, 2π·h/w, so that they cannot lie
    smooth (derived from the circle; for a square stitch the trade's `six a round`)."""
    shape = spec.gauge.height / spec.gauge.width
    flat = 2 * PI * shape
    told = []
    for one in graded:
        slope = crown_slope(_hand(one.maps[0]))
        if slope is not None and slope > flat:
            told.append(Told(one.size.name, f"loses {text(slope, 2)} a round", slope))
    written = spec.crown.phases != Crown().phases
    path: Where = ("crown", "phases") if written else ("gauge",)
    words = Words(
        "ruffling-crown",
        f"the crown loses more than the {text(flat, 2)} stitches a round with which it would lie"
        f" flat (2π × {text(shape, 3)}, a stitch's height over its width)",
        path,
        "work fewer decreases in a round, or plain rounds between",
    )
    return gathered(words, told)


def lean_concerns(spec: Spec, graded: Sequence[GradedSize]) -> tuple[Problem, ...]:
    """Crowns whose sides stand more than two stitches off the thumb's line, since the stitches lean
    (the lean is the swatch's own)."""
    if spec.crown.follow_lean:
        return ()
    told = []
    for one in graded:
        rounds = rounds_to_sides(_hand(one.maps[0]))
        turned = drift(spec.gauge.lean, rounds) if rounds is not None else Fraction(0)
        if abs(turned) > MOST_APART:
            figures = f"by {text(abs(turned), 2)} in {rounds} rounds"
            told.append(Told(one.size.name, figures, abs(turned)))
    words = Words(
        "leaning-crown",
        f"the stitches' lean turns the crown's sides from the thumb's line by more than"
        f" {MOST_APART} stitches",
        ("gauge", "lean"),
        "let the sides follow, with `crown: {follow lean: yes}`",
    )
    return gathered(words, told)
