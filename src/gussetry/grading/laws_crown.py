"""Counting laws of the crown and the thumb's tip: even, not stacked, ended on four to six."""

from __future__ import annotations

from collections.abc import Iterator

from gussetry.diagnostics import Problem
from gussetry.grading.spacing import can_avoid
from gussetry.grading.walk import TOGETHER, Step, broken, decreases, fabric_tops, walk
from gussetry.stitchmap import StitchMap

EVEN_PHASES = ("crown even", "close")
FEWEST, MOST = 4, 6
"""Stitches that a crown or a thumb ends on before it is drawn shut."""


def check_even(stitches: StitchMap) -> tuple[Problem, ...]:
    """Evenly spaced and closing rounds whose decreases are not, or straddle the round's start.

    Even is more than gaps that differ by at most one: the larger gaps are themselves spread, as
    in the Euclidean rhythms (Toussaint 2005, Bridges Banff, pp. 47-56).
    """
    found = []
    for step in walk(stitches):
        if step.round.phase not in EVEN_PHASES:
            continue
        for op in step.round.work:
            if op.do in TOGETHER and not _side_by_side(op.into):
                text = "a decrease straddles the round's start, or takes stitches apart"
                found.append(broken(step, "law-even", text))
        starts, around = decreases(step), fabric_tops(step)
        if not starts:
            continue
        lengths = _gaps(starts, around)
        if max(lengths) - min(lengths) > 1:
            text = f"the gaps between the decreases differ by more than one: {_listed(lengths)}"
            found.append(broken(step, "law-even", text))
        elif not _euclidean(starts, around):
            text = f"the longer gaps between the decreases are bunched: {_listed(lengths)}"
            found.append(broken(step, "law-even", text))
        if step.round.phase == "close" and any(op.do == "skip" for op in step.round.work):
            text = "a closing round leaves a stitch out: an odd one is worked plain"
            found.append(broken(step, "law-even", text))
    return tuple(found)


def _side_by_side(into: tuple[object, ...]) -> bool:
    numbers = [p for p in into if isinstance(p, int)]
    return len(numbers) == 2 and numbers[1] == numbers[0] + 1


def _gaps(starts: list[int], around: int) -> list[int]:
    ends = [*starts[1:], starts[0] + around]
    return [after - start - 2 for start, after in zip(starts, ends, strict=True)]


def _listed(lengths: list[int]) -> str:
    return "-".join(map(str, lengths))


def _euclidean(starts: list[int], around: int) -> bool:
    """Whether start number i is floor((i * around + c) / count) for one c, all round."""
    count = len(starts)
    drift = [count * start - i * around for i, start in enumerate(starts)]
    return max(drift) - min(drift) < count


def check_not_stacked(stitches: StitchMap) -> tuple[Problem, ...]:
    """Decreases of an evenly spaced round that use a decrease of the evenly spaced one below.

    Holds where the lower round was worked over at least four stitches a decrease, and reaches
    through plain rounds between. Where the number of decreases changes, two even spacings may
    have no way past each other, and one forced so may leave the next none; then it is asked only
    where there is a way.
    """
    found = []
    below: set[int] = set()
    roomy, forced, many = False, False, 0
    for step in walk(stitches):
        if step.round.phase != "crown even":
            below, many = set(), 0
            continue
        starts, around = decreases(step), fabric_tops(step)
        if not starts:
            # A plain round carries every stitch straight up.
            if step.round.count != around:
                below, many = set(), 0
            continue
        changes = many not in (0, len(starts))
        stacked = sorted(below & {i for start in starts for i in (start, start + 1)})
        strict = not changes and not forced
        if stacked and roomy and (strict or _passable(around, starts, below)):
            text = f"a decrease uses stitch {stacked[0]}, a decrease of the round below"
            found.append(broken(step, "law-stacked", text))
        work = step.round.work
        below = {i for i, at in enumerate(step.left_at) if work[at].do in TOGETHER}
        roomy, forced, many = around >= 4 * len(starts), changes, len(starts)
    return tuple(found)


def _passable(around: int, starts: list[int], below: set[int]) -> bool:
    return 2 * len(starts) <= around and can_avoid(around, len(starts), below)


def check_ends(stitches: StitchMap) -> tuple[Problem, ...]:
    """Hands and thumbs neither drawn shut over all of four to six stitches nor ended by an edging.

    A foundation, a division or a plain round alone ends nothing: a crown was forgotten.
    """
    found = []
    last: dict[str, Step] = {}
    for step in walk(stitches):
        last[step.piece.piece] = step
        if step.round.phase == "draw shut":
            there = fabric_tops(step)
            if not FEWEST <= there <= MOST:
                text = f"{there} stitches are drawn shut, not {FEWEST} to {MOST}"
                found.append(broken(step, "law-ends", text))
            if [op.do for op in step.round.work] != ["close"]:
                found.append(broken(step, "law-ends", "drawing shut is not one close"))
    for name in ("hand", "thumb"):
        if name in last and last[name].round.phase not in ("draw shut", "edging"):
            text = "the piece is neither drawn shut nor ended by an edging"
            found.append(broken(last[name], "law-ends", text))
    return tuple(found)


def check_edging(stitches: StitchMap) -> tuple[Problem, ...]:
    """Edgings that end no hand or thumb, stand on a crown, or are not plain rounds of the fabric.

    An edging is worked over the full round, so that the open end is as wide as what it ends.
    """
    found = []
    for step in walk(stitches):
        if step.round.phase != "edging":
            continue
        rounds = step.piece.rounds
        at = next(i for i, r in enumerate(rounds) if r is step.round)
        before = {r.phase for r in rounds[:at]}
        after = {r.phase for r in rounds[at:]} - {"edging"}
        if step.piece.piece == "cuff" or after:
            text = "an edging that ends neither a hand nor a thumb"
            found.append(broken(step, "law-edging", text))
        if before & {"crown sides", "crown even", "close"}:
            text = "an edging on a crown: an open end is not decreased"
            found.append(broken(step, "law-edging", text))
        if {op.do for op in step.round.work if op.counts} - {stitches.fabric.stitch, "skip"}:
            text = f"an edging is worked plain, in {stitches.fabric.stitch}"
            found.append(broken(step, "law-edging", text))
    return tuple(found)


def check_sides(stitches: StitchMap) -> tuple[Problem, ...]:
    """Sides of a crown without a thumb that are not the round's start and the stitch half-way
    round, and a half-way marker that stands elsewhere.

    With a thumb the second side is over it, and need not be half-way.
    """
    found = []
    for step in walk(stitches):
        at = step.round.marker("half-way point")
        if at is None:
            continue
        if stitches.piece("thumb") is not None:
            text = "a half-way marker, where the thumb marks the side"
            found.append(broken(step, "law-sides", text))
        if at != step.round.count // 2:
            text = f"the half-way marker is on stitch {at} of {step.round.count}"
            found.append(broken(step, "law-sides", text))
        starts, around = decreases(step), fabric_tops(step)
        if step.round.phase == "crown sides" and starts not in ([], [0, around // 2]):
            text = f"the sides are stitches {_listed(starts)}, not 0 and half of {around}"
            found.append(broken(step, "law-sides", text))
    return tuple(found)


SIDES = ("thumb side", "outer side")
"""The markers of a crown over a thumb; the outer side is unmarked where it is the round's start."""


def check_side_marks(stitches: StitchMap) -> tuple[Problem, ...]:
    """Decreases at the sides that are not two, straddle the round's start or leave their markers,
    and markers that do not go straight up through the crown.

    A marked side's decrease uses the marked stitch and becomes the next one marked.
    """
    found = []
    for step in walk(stitches):
        if not step.round.phase.startswith("crown"):
            continue
        if step.round.phase == "crown sides":
            found += [broken(step, "law-sides", text) for text in _side_faults(step)]
        if step.before is None or not step.before.phase.startswith("crown"):
            continue
        for name in SIDES:
            was, now = step.before.marker(name), step.round.marker(name)
            if was is None and now is None:
                continue
            if was is None or now is None or was not in _into(step, now):
                found.append(broken(step, "law-sides", f"the {name}'s marker leaves its column"))
    return tuple(found)


def _into(step: Step, left: int) -> tuple[object, ...]:
    """What the stitch of that *left* number is worked into."""
    at = step.left_at
    return step.round.work[at[left]].into if 0 <= left < len(at) else ()


def _side_faults(step: Step) -> Iterator[str]:
    pairs = [op.into for op in step.round.work if op.do in TOGETHER]
    if not pairs:
        return
    if len(pairs) != 2:
        yield f"{len(pairs)} decreases, not one at each side"
    if not all(map(_side_by_side, pairs)):
        yield "a decrease straddles the round's start, or takes stitches apart"
    if step.round.marker(SIDES[0]) is None:
        return
    marked = {_into(step, step.round.marker(name) or 0) for name in SIDES}
    if set(pairs) != marked:
        yield "the decreases are not those of the marked sides"
