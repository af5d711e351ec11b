"""Counting laws of rounds, markers, the gusset's growth, the hand's halves and the yarns."""

from __future__ import annotations

from itertools import zip_longest

from gussetry.diagnostics import Problem
from gussetry.grading.walk import Step, broken, makes, walk
from gussetry.spec import Growth
from gussetry.stitchmap import StitchMap

GUSSET_MARKERS = ("first marker", "second marker")


def check_rounds(stitches: StitchMap) -> tuple[Problem, ...]:
    """Rounds that are not numbered one after the other, or whose phase and step repeat.

    Steps run upwards within a phase; no two rounds of a piece share phase and step.
    """
    found = []
    seen: set[tuple[str, str, int]] = set()
    for step in walk(stitches):
        now, before = step.round, step.before
        first = 0 if now.phase == "foundation" else 1
        wanted = first if before is None else before.number + 1
        if now.number != wanted:
            text = f"its number should be {wanted}"
            found.append(broken(step, "law-rounds", text))
        key = (step.piece.piece, now.phase, now.step)
        backwards = before is not None and before.phase == now.phase and before.step >= now.step
        if key in seen or backwards:
            text = f"step {now.step} of {now.phase} comes twice or late"
            found.append(broken(step, "law-rounds", text))
        seen.add(key)
    return tuple(found)


def check_markers(stitches: StitchMap) -> tuple[Problem, ...]:
    """Markers that mark no stitch, and gusset markers out of order or left alone."""
    found = []
    for step in walk(stitches):
        names = [name for name, _ in step.round.markers]
        if len(set(names)) < len(names):
            found.append(broken(step, "law-markers", "a marker stands twice"))
        for name, at in step.round.markers:
            if not 0 <= at < step.round.count:
                text = f"the {name} is on stitch {at} of {step.round.count}"
                found.append(broken(step, "law-markers", text))
        first, second = (step.round.marker(name) for name in GUSSET_MARKERS)
        if (first is None) != (second is None):
            found.append(broken(step, "law-markers", "one gusset marker stands without the other"))
        elif first is not None and second is not None and first >= second:
            found.append(broken(step, "law-markers", "the first marker is not before the second"))
    return tuple(found)


def check_gusset(stitches: StitchMap) -> tuple[Problem, ...]:
    """Gusset rounds that do not grow at both markers or at none, or whose markers stray.

    A marker goes on to a stitch made in the one it marked before.
    """
    found = []
    for step in walk(stitches):
        if step.before is None or step.round.phase != "gusset":
            continue
        marked = {at: name for name, at in step.before.markers if name in GUSSET_MARKERS}
        if len(marked) != 2:
            continue
        grown = {op.into[0] for op in step.round.work if op.do == "inc" and op.into}
        if grown not in (set(), set(marked)):
            text = "the gusset grows in one marked stitch alone, or beside the marked ones"
            found.append(broken(step, "law-gusset", text))
        work, left = step.round.work, step.left_at
        for at, name in marked.items():
            now = step.round.marker(name)
            if now is None or not 0 <= now < len(left) or work[left[now]].into != (at,):
                text = f"the {name} has left the stitches made in the one it marked"
                found.append(broken(step, "law-gusset", text))
    return tuple(found)


def check_halves(stitches: StitchMap, growth: Growth, towards_palm: int = 0) -> tuple[Problem, ...]:
    """Halves of the hand, before and after the gap, that differ by more than one at the division.

    The outer-edge stitch, first of the round, lies between the halves: it is counted with the
    first of them or with neither, whichever is evener. Asked of a gusset grown inside or by
    turns; one always grown on the same side is lopsided. A thumb moved n stitches towards the
    palm makes the halves differ by 2n more. The bridge's chains belong to neither half.
    """
    if growth not in ("inside", "alternating"):
        return ()
    found = []
    for step in walk(stitches):
        if step.round.phase != "division":
            continue
        before, after = _halves(step)
        moved = 2 * towards_palm
        if not any(-1 <= before - after + shift <= 2 for shift in (-moved, moved)):
            text = f"the hand's halves have {before} and {after} stitches"
            found.append(broken(step, "law-halves", text))
    return tuple(found)


def _halves(step: Step) -> tuple[int, int]:
    work = step.round.work
    gap = next((at for at, op in enumerate(work) if op.held or op.do == "hold"), len(work))
    sides = [at < gap for at in step.left_at if work[at].do != "ch"]
    return sum(sides), len(sides) - sum(sides)


def check_yarns(stitches: StitchMap) -> tuple[Problem, ...]:
    """Yarns not declared, and changes not prepared in the last stitch of the old yarn.

    A cuff's last stitch may be finished with the hand's first yarn.
    """
    declared = {letter for letter, _, _ in stitches.yarns}
    found = []
    for step in walk(stitches):
        named = [step.round.yarn, *(op.finish for op in step.round.work if op.finish)]
        found += [
            broken(step, "law-yarns", f"yarn {yarn} is not declared")
            for yarn in dict.fromkeys(named)
            if yarn not in declared
        ]
    for piece in stitches.pieces:
        steps = [step for step in walk(stitches) if step.piece is piece]
        for step, after in zip_longest(steps, steps[1:]):
            found += _change(step, after)
    return tuple(found)


def _change(step: Step, after: Step | None) -> list[Problem]:
    work = step.round.work
    making = [at for at, op in enumerate(work) if makes(op)]
    finished = [at for at, op in enumerate(work) if op.finish is not None]
    wanted = None
    if after is not None:
        if after.round.yarn != step.round.yarn:
            wanted = after.round.yarn
    elif step.piece.piece == "cuff":
        hand = step.stitches.piece("hand")
        first = hand.rounds[0].yarn if hand and hand.rounds else step.round.yarn
        if finished and first != step.round.yarn:
            wanted = first
    if wanted is None or not making:
        return [
            broken(step, "law-finish", f"is finished with {work[at].finish}, with no change after")
            for at in finished
        ]
    if finished == making[-1:] and work[making[-1]].finish == wanted:
        return []
    text = f"its last stitch, and no other, should be finished with {wanted}"
    return [broken(step, "law-finish", text)]
