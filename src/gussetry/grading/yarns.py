"""Stripes: the yarn of every round, and the stitch that is finished with the next one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from gussetry.spec import Size, Spec, Stripe
from gussetry.stitchmap import Piece, Round


def _unrolled(plan: Sequence[Stripe]) -> list[str]:
    return [stripe.yarn for stripe in plan for _ in range(stripe.rounds)]


def _along(plan: Sequence[Stripe], place: int, repeat: bool) -> str:
    """The yarn at `place` of the plan, counted from 0 at its anchor; negative below it."""
    yarns = _unrolled(plan)
    if repeat:
        return yarns[place % len(yarns)]
    return yarns[max(0, min(place, len(yarns) - 1))]


def plan_of(spec: Spec, size: Size) -> tuple[Stripe, ...]:
    """The stripe plan of a size: its own, or the common one."""
    stripes = spec.stripes
    own = stripes.plans[spec.sizes.index(size)] if stripes.plans else None
    return own or stripes.plan


def hand_yarns(spec: Spec, size: Size, rounds: int, division: int | None) -> tuple[str, ...]:
    """The yarn of each of the hand's rounds from the pick-up on.

    `division`: the number of that round, None where there is no thumb; a plan anchored at the
    crook needs it.
    """
    stripes = spec.stripes
    if stripes.anchor == "crook":
        assert division is not None, "a plan without a thumb is never anchored at its crook"
        origin = division
    else:
        origin = 1 if stripes.anchor == "cuff" else rounds
    way = -1 if stripes.anchor == "tip" else 1
    plan = plan_of(spec, size)
    return tuple(
        _along(plan, way * (number - origin), stripes.repeat) for number in range(1, rounds + 1)
    )


def _finished(round_: Round, yarn: str) -> Round:
    """The round, its last stitch finished with the yarn of the next."""
    work = list(round_.work)
    at = max(i for i, op in enumerate(work) if op.makes)
    work[at] = replace(work[at], finish=yarn)
    return replace(round_, work=tuple(work))


def coloured(piece: Piece, yarns: Sequence[str]) -> Piece:
    """The piece with those yarns, one a round in order."""
    rounds = [replace(r, yarn=yarn) for r, yarn in zip(piece.rounds, yarns, strict=True)]
    for i in range(len(rounds) - 1):
        after = rounds[i + 1]
        if after.yarn != rounds[i].yarn:
            rounds[i] = _finished(rounds[i], after.yarn)
    return replace(piece, rounds=tuple(rounds))


def colour_cuff(spec: Spec, size: Size, piece: Piece) -> Piece:
    """The cuff in its own yarn, or striped by rows or rounds; foundation and seam go with the
    first and the last."""
    numbers = [r.number for r in piece.rounds]
    worked = len(piece.counted)
    if spec.cuff.stripes:
        plan = [_along(spec.cuff.stripes, i, True) for i in range(worked)]
    else:
        plan = [spec.cuff.yarn or plan_of(spec, size)[0].yarn] * worked
    return coloured(piece, [plan[min(max(n, 1), worked) - 1] for n in numbers])


def _division(hand: Piece) -> int | None:
    return next((r.number for r in hand.rounds if r.phase == "division"), None)


def colour_hand(spec: Spec, size: Size, piece: Piece) -> Piece:
    """The hand in its stripes; the drawing shut goes with the last round."""
    worked = len(piece.counted)
    plan = hand_yarns(spec, size, worked, _division(piece))
    return coloured(piece, [plan[min(max(r.number, 1), worked) - 1] for r in piece.rounds])


def colour_thumb(spec: Spec, piece: Piece, hand: Piece) -> Piece:
    """The thumb in its own yarn, or in the coloured hand's stripes at the same height.

    Held stitches that were worked once more wear the division's colour already, and the thumb
    begins with the round above it; skipped unworked, it begins with the division's own.
    """
    worked = len(piece.counted)
    if spec.stripes.thumb:
        plan = [spec.stripes.thumb] * worked
    else:
        division = _division(hand)
        assert division is not None, "a thumb was set aside somewhere"
        start = division + (1 if spec.division.worked_again else 0)
        known = {r.number: r.yarn for r in hand.counted}
        tip = max(known)
        plan = [known[min(start + i, tip)] for i in range(worked)]
    return coloured(piece, [plan[min(r.number, worked) - 1] for r in piece.rounds])


def worked_in(spec: Spec, pieces: Sequence[Piece]) -> tuple[tuple[str, str, str], ...]:
    """The yarns that the pieces are worked in, as letter, name and colour, in the order of their
    declaration: a size's own plan may leave some out."""
    used = {r.yarn for piece in pieces for r in piece.rounds}
    return tuple((y.letter, y.name, y.colour) for y in spec.yarns if y.letter in used)
