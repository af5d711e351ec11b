"""One round worked in one size, with the meaning of its words that its counts allow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import islice, product

from gussetry.manuscripts.hook import Effort, Hook, TooMuch
from gussetry.manuscripts.runs import Fault, There, Worked
from gussetry.manuscripts.text import Spot
from gussetry.manuscripts.tree import Chain, Choice, Step, walk

MOST_MEANINGS = 16
"""Most meanings that are tried for one round."""

BROKEN = ("uneven", "past", "repeat", "too-much")
"""Faults after which what the round makes means nothing."""


def worked(steps: tuple[Step, ...], there: There, size: int, spot: Spot, effort: Effort) -> Worked:
    """The round worked in the meaning of its words that uses what is there and makes what is
    claimed; the most usual meaning where none does.

    A fault says so where several meanings do, and differ.
    """
    first: Worked | None = None
    fitting: list[Worked] = []
    for variant, by_count in _variants(steps):
        for choices in islice(_choices(variant), MOST_MEANINGS):
            made = _once(Hook(there, size, choices, effort), variant, spot)
            first = first or made
            if _fits(made):
                fitting.append(made)
        if fitting or by_count:
            break
    if not fitting or first is None:
        return first or Worked((), None, 0, (), False, ())
    best = fitting[0]
    if any(other.runs != best.runs for other in fitting[1:]):
        choice = next(s for s in walk(steps, usual=True) if isinstance(s, Choice))
        fault = Fault(
            "ambiguous", "this has more than one meaning, and the counts allow both",
            choice.spot, sure="unclear",
        )  # fmt: skip
        return replace(best, faults=(*best.faults, fault))
    return best


def _variants(steps: tuple[Step, ...]) -> Iterator[tuple[tuple[Step, ...], bool]]:
    """The steps; and where a chain begins them that may stand for a stitch, with it doing so."""
    yield steps, False
    start = steps[0] if steps else None
    if not isinstance(start, Chain) or start.counts is not None or start.stands_for:
        return
    if any((number or 0) > 1 for number in start.number):
        yield (replace(start, stands_for=True), *steps[1:]), True


def _choices(steps: tuple[Step, ...]) -> Iterator[tuple[int, ...]]:
    """Every way to choose, the most usual first."""
    choices = (step for step in walk(steps, usual=True) if isinstance(step, Choice))
    return product(*(range(len(choice.options)) for choice in choices))


def _fits(made: Worked) -> bool:
    if made.faults:
        return False
    return all(made.count is None or claim == made.count for claim, _ in made.claims)


def _once(hook: Hook, steps: tuple[Step, ...], spot: Spot) -> Worked:
    try:
        hook.work(steps)
    except TooMuch:
        hook.fault("too-much", "the round repeats more than any round can", spot)
        return replace(hook.result(), count=None)
    used_up(hook, spot)
    made = hook.result()
    broken = any(fault.code in BROKEN for fault in made.faults)
    return replace(made, count=None) if broken else made


def used_up(hook: Hook, spot: Spot) -> None:
    """Faults the hook where it used other stitches than those that are there."""
    kinds = list(hook.places) or [""]
    loose = hook.used.get("", 0) if hook.places else 0
    for kind in kinds:
        stock, used = hook.stock(kind), hook.used.get(kind, 0)
        if stock is None or (loose and used < stock) or (hook.open and used <= stock):
            continue
        if used != stock and not any(fault.code in BROKEN for fault in hook.faults):
            what = "stitches" if kind in ("", "cuff", "held") else f"{kind}s"
            where = {"held": "set aside", "chain": "in the chain", "cuff": "on the cuff"}
            message = (
                f"{used} {what if used != 1 else what.removesuffix('s')} used, where {stock} "
                f"{'is' if stock == 1 else 'are'} {where.get(kind, 'there')}"
            )
            if kind == "" and used != 1:
                message = f"{used} stitches are used, where {stock} are there"
            elif kind == "":
                message = f"1 stitch is used, where {stock} are there"
            hook.fault("used", message, spot, (f"{stock} used", f"{used} used"))
