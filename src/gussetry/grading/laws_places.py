"""Counting laws of the places that are no tops: row ends, chains, undersides, held, crook."""

from __future__ import annotations

from itertools import pairwise

from gussetry.diagnostics import Problem
from gussetry.grading.walk import Step, broken, set_aside, walk
from gussetry.stitchmap import StitchMap

_TWICE = ("row end",)
_MAY_BE_LEFT = ("seam",)


def check_places(stitches: StitchMap) -> tuple[Problem, ...]:
    """Named places that do not exist, are left out unnamed, used too often or out of order.

    A row end may be used twice, one stitch after the other (a pinned pick-up); the seam may be
    left out, since it is a place only where the designer counts it as one. What is named as
    unused may be named at any time, the rest is worked in its order.
    """
    found = []
    for step in walk(stitches):
        there = _places(step)
        named = _named(step)
        for kind in dict.fromkeys([*there, *(kind for kind, _ in named)]):
            used = [i for known, i in named if known == kind]
            if kind not in there:
                text = f"{kind} {used[0]} is worked into, where there is no {kind}"
                found.append(broken(step, "law-places", text))
            else:
                found += _faults(step, kind, used, there[kind])
    return tuple(found)


def _named(step: Step, skipped: bool = True) -> list[tuple[str, int]]:
    return [
        p
        for op in step.round.work
        if skipped or op.do != "skip"
        for p in op.into
        if isinstance(p, tuple)
    ]


def _places(step: Step) -> dict[str, int]:
    """How many named places of each kind the round finds."""
    before, piece = step.before, step.piece
    if step.round.phase == "foundation":
        return {}
    if before is not None and before.phase == "foundation":
        return {"chain": before.count}
    if step.round.phase == "seam":
        return {"underside": sum(r.count for r in piece.rounds if r.phase == "foundation")}
    if before is not None:
        return {}
    if piece.piece == "thumb":
        # How many stitches the crook gives is the designer's choice; their numbering is law.
        crook = {i for kind, i in _named(step) if kind == "crook"}
        return {"crook": len(crook), "held": set_aside(step.stitches)}
    cuff = step.stitches.piece("cuff")
    if piece.piece != "hand" or cuff is None:
        return {}
    if cuff.worked == "rows":
        return {"row end": sum(r.phase == "ribbing" for r in cuff.rounds), "seam": 1}
    return {"cuff": cuff.rounds[-1].count if cuff.rounds else 0}


def _faults(step: Step, kind: str, used: list[int], there: int) -> list[Problem]:
    texts = []
    outside = [i for i in used if not 0 <= i < there]
    missing = sorted(set(range(there)) - set(used))
    most = 2 if kind in _TWICE else 1
    often = sorted({i for i in used if used.count(i) > most}) if len(used) > there else []
    often = often or ([] if most > 1 else sorted({a for a, b in pairwise(sorted(used)) if a == b}))
    if outside:
        texts.append(f"{kind} {outside[0]} is worked into, but there are {there}")
    if missing and kind not in _MAY_BE_LEFT:
        texts.append(f"{kind} {missing[0]} is neither worked nor named")
    if often:
        texts.append(f"{kind} {often[0]} is used too often")
    # Turned rows come back over the chain, and a seam begins where the last row ended.
    sign = -1 if step.piece.worked == "rows" and kind == "chain" else 1
    worked = [i for known, i in _named(step, skipped=False) if known == kind]
    if kind != "underside" and any(sign * (b - a) < 0 for a, b in pairwise(worked)):
        texts.append(f"the places are not worked in their order: {kind}")
    return [broken(step, "law-places", text) for text in texts]


def check_seam(stitches: StitchMap) -> tuple[Problem, ...]:
    """Seam stitches that draw a top and an underside together which do not lie side by side.

    Row 1 comes back over the chain and every row turns, so stitch i of an odd row stands over
    chain n - 1 - i and of an even row over chain i.
    """
    found = []
    for step in walk(stitches):
        if step.round.phase != "seam" or step.before is None:
            continue
        width, odd = step.before.count, step.before.number % 2
        for op in step.round.work:
            if op.do != "seam":
                continue
            tops = [p for p in op.into if isinstance(p, int)]
            undersides = [p[1] for p in op.into if isinstance(p, tuple)]
            if len(tops) != 1 or len(undersides) != 1:
                text = "a seam stitch takes one top of the last row and one underside"
                found.append(broken(step, "law-seam", text))
            elif undersides[0] != (width - 1 - tops[0] if odd else tops[0]):
                text = f"stitch {tops[0]} is seamed to underside {undersides[0]}, not facing it"
                found.append(broken(step, "law-seam", text))
    return tuple(found)


def check_thumb_start(stitches: StitchMap) -> tuple[Problem, ...]:
    """A thumb that does not begin with just what the crook gives and then what was held."""
    thumb, held = stitches.piece("thumb"), set_aside(stitches)
    if thumb is None or not thumb.rounds:
        if held == 0:
            return ()
        text = f"size {stitches.size}: {held} stitches are set aside, and no thumb takes them up"
        return (Problem("law-held", text),)
    step = next(step for step in walk(stitches) if step.piece is thumb)
    named = _named(step)
    found = []
    wanted = [("held", i) for i in range(held)]
    if [place for place in named if place[0] == "held"] != wanted:
        text = f"the thumb does not begin with the {held} stitches set aside, in their order"
        found.append(broken(step, "law-held", text))
    worked = [kind for kind, _ in _named(step, skipped=False) if kind in ("held", "crook")]
    if worked != sorted(worked):  # "crook" stands before "held" in the alphabet too
        found.append(broken(step, "law-held", "the crook does not begin the thumb's first round"))
    crook, chained = sum(kind == "crook" for kind, _ in named), _chained(stitches)
    if crook < chained:
        text = f"the bridge has {chained} chains, but {crook} undersides are used or named"
        found.append(broken(step, "law-crook", text))
    return tuple(found)


def check_thumbless(stitches: StitchMap) -> tuple[Problem, ...]:
    """Rounds that make room for a thumb in a mitten that has none."""
    if stitches.piece("thumb") is not None:
        return ()
    return tuple(
        broken(step, "law-thumb", f"a round of the {step.round.phase}, and no thumb is worked")
        for step in walk(stitches)
        if step.round.phase in ("gusset", "division")
    )


def _chained(stitches: StitchMap) -> int:
    hand = stitches.piece("hand")
    return sum(
        op.makes
        for round_ in (hand.rounds if hand else ())
        if round_.phase == "division"
        for op in round_.work
        if op.do == "ch"
    )
