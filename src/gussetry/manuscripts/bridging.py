"""Steps that are no plain stitches: chains, pairs joined over a gap, what is spread evenly."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gussetry.manuscripts.runs import Run
from gussetry.manuscripts.tree import Chain, Evenly, Pairs, value

if TYPE_CHECKING:
    from gussetry.manuscripts.hook import Hook


def chain(hook: Hook, step: Chain, trailing: bool) -> None:
    """Works chains, which count as the text says: else where they bridge something in the round."""
    number = value(step.number, hook.size)
    if step.stands_for:
        hook.runs.append(Run("ch", "", 1, 1, 1))
        kind = hook.kind("")
        hook.used[kind] = hook.used.get(kind, 0) + 1
        hook.made += 1
        return
    worked = any(run.counts and (run.uses or run.makes) for run in hook.runs)
    counts = step.counts
    if counts is None:
        counts = worked and not trailing
    if counts:
        hook.runs.append(Run("ch", "", number, 0, 1))
        hook.made += number
    else:
        hook.runs.append(Run("ch", "", number, 0, 0, counts=False))


def spread(hook: Hook, step: Evenly) -> None:
    """Works so many of a kind spread over the rest of the round, nobody knows where."""
    number, kind = value(step.number, hook.size), hook.kind("")
    left = hook.left(kind)
    hook.exact = False
    do = f"{hook.there.stitch}2tog" if step.do == "dec" else step.do
    if step.change == 0:
        hook.used[kind] = hook.used.get(kind, 0) + (left or 0)
        hook.open = hook.open or left is None
        # So many whatever is there: nothing is carried on from it.
        hook.runs.append(Run(do, step.of, number, 0, 1))
        hook.made += number
        hook.fixed = True
        return
    if left is None:
        hook.open = True
        hook.made += step.change * number
        return
    spread = left if left or not hook.used.get(kind, 0) else 0
    if step.change < 0 and (1 - step.change) * number > (spread or hook.made):
        message = f"{number} decreases do not go into {spread or hook.made} stitches"
        hook.fault("too-few", message, step.spot)
    hook.used[kind] = hook.used.get(kind, 0) + spread
    hook.runs.append(Run(do, step.of, number, 0, step.change))
    hook.runs.append(Run("evenly", "", spread, 1, 1))
    hook.made += spread + step.change * number


def join_pairs(hook: Hook, step: Pairs) -> None:
    """Joins the next stitches with the last ones before the gap."""
    number = value(step.number, hook.size)
    if hook.made < number and not hook.open:
        hook.fault("too-few", f"there are no {number} stitches before the gap", step.spot)
    if not any(run.held for run in hook.runs):
        hook.fault("place", "no stitches are set aside, so there is no gap", step.spot)
    hook.used[""] = hook.used.get("", 0) + number
    hook.runs.append(Run("join", "", number, 1, -1))
    hook.made -= number
    hook.marks = [m for m in hook.marks if m.at < hook.made]
