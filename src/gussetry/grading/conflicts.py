"""Where no counts fit: which pins fight, and what would make peace.

A pin is in the way where the sizes can be worked once it is freed. Two such pins of one size, or
of two sizes, fight each other; one alone fights the construction. The nearest counts that work are
found by trying them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import combinations

from gussetry.diagnostics import Problem
from gussetry.grading.counts import Counts, between_markers, gusset_rounds, hand_change, held
from gussetry.grading.phases import decreases
from gussetry.grading.pins import Pinned, only, pinned, places, repinned, worked
from gussetry.spec import Spec

Solve = Callable[[Spec], tuple[Counts, ...] | None]

FARTHEST = 6
"""How far from a pin other counts are tried for it."""


def conflicts(spec: Spec, solve: Solve, near: Solve) -> Iterator[Problem]:
    """A problem for each size that cannot be worked, or else for the first sizes that cannot
    follow one another. `solve` gives the counts of a specification, or None; `near` does so only
    where they are near the wishes, as those of a pin that is meant are."""
    alone = [solve(only(spec, [i])) is not None for i in range(len(spec.sizes))]
    for i, works in enumerate(alone):
        if not works:
            yield _of_size(spec, i, near)
    if all(alone):
        yield _between(spec, solve, near)


def _set(spec: Spec, size: int) -> list[tuple[Pinned, int]]:
    """The pins of a size and their counts."""
    found = ((place, pinned(spec, place, size)) for place in places(spec))
    return [(place, count) for place, count in found if count is not None]


def _of_size(spec: Spec, size: int, solve: Solve) -> Problem:
    name = spec.sizes[size].name
    alone = only(spec, [size])
    pins = _set(alone, 0)
    guilty = [p for p in pins if solve(repinned(alone, p[0], 0, None)) is not None]
    if not guilty:
        return _no_single(spec, size, pins, solve)
    # The later a pin comes in working, the likelier it is the one that was reckoned wrong.
    last, *others = reversed(guilty)
    place, count = last
    sums = tuple(_sums(alone, dict(pins)))
    if not others:
        message = f"size {name}: {place.name} {count} cannot be worked"
    else:
        rival = others[0]
        message = f"size {name}: {place.name} {count} and {rival[0].name} {rival[1]} fight"
    peace = [(place, _nearest(alone, place, 0, count, solve))]
    peace += [(other, _nearest(alone, other, 0, n, solve)) for other, n in others[:1]]
    return Problem(
        "pins-fight" if others else "pin-does-not-fit",
        message + (f": {'; '.join(sums)}" if sums else ""),
        (*place.words, name),
        _peace(peace),
    )


def _peace(offers: Sequence[tuple[Pinned, tuple[int, ...]]]) -> str:
    """What would make them fit, in words."""
    told = [
        f"{place.name} {' or '.join(str(n) for n in counts)}" for place, counts in offers if counts
    ]
    return f"these would work: {'; '.join(told)}" if told else "free one of them"


def _nearest(spec: Spec, place: Pinned, size: int, count: int, solve: Solve) -> tuple[int, ...]:
    """The nearest counts, one or two, with which the specification can be worked; where none is
    near, the best."""
    found: list[int] = []
    for far in range(1, FARTHEST + 1):
        for other in (count - far, count + far):
            if other >= 0 and solve(repinned(spec, place, size, other)) is not None:
                found.append(other)
        if found:
            return tuple(found)
    free = solve(repinned(spec, place, size, None))
    return () if free is None else (worked(spec, place, free[size]),)


def _no_single(spec: Spec, size: int, pins: Sequence[tuple[Pinned, int]], solve: Solve) -> Problem:
    """A size for which no single pin is to blame: the first two whose freeing helps, or none."""
    name = spec.sizes[size].name
    alone = only(spec, [size])
    for (one, m), (two, n) in combinations(pins, 2):
        if solve(repinned(repinned(alone, one, 0, None), two, 0, None)) is not None:
            sums = "; ".join(_sums(alone, dict(pins)))
            return Problem(
                "pins-fight",
                f"size {name}: {one.name} {m} and {two.name} {n} both stand in the way"
                + (f": {sums}" if sums else ""),
                (*two.words, name),
                "free both, or look at the gauge and the measures of this size",
            )
    told = ", ".join(f"{place.name} {count}" for place, count in pins)
    shift = spec.gusset.towards_palm
    if shift and solve(replace(alone, gusset=replace(spec.gusset, towards_palm=0))) is not None:
        return Problem(
            "too-far-to-the-palm",
            f"size {name}: a thumb {shift} stitches nearer to the palm leaves no room for the"
            " gusset or the crown's sides",
            ("gusset", "towards palm"),
            "move it by fewer stitches",
        )
    return Problem(
        "counts-do-not-fit",
        f"size {name}: no counts can be worked" + (f" with {told}" if told else ""),
        ("sizes", name),
        ("free some pins, or " if pins else "") + "look at the gauge and the measures of this size",
    )


def _between(spec: Spec, solve: Solve, near: Solve) -> Problem:
    """The first two sizes that cannot follow one another, and the pins that hinder them."""
    many = len(spec.sizes)
    end = next(n for n in range(2, many + 1) if solve(only(spec, range(n))) is None) - 1
    start = next((i for i in reversed(range(end)) if solve(only(spec, [i, end])) is None), None)
    if start is None:
        name = spec.sizes[end].name
        return Problem(
            "size-shrinks",
            f"size {name} cannot follow the smaller sizes without a count that shrinks",
            ("sizes", name),
            f"free or raise the pins of {name}, or lower those before it",
        )
    return _of_two(only(spec, [start, end]), near)


def _of_two(two: Spec, solve: Solve) -> Problem:
    """Two sizes that cannot follow one another: the pins that hinder them, the later size's first,
    and of these such as shrink themselves."""
    smaller, larger = (size.name for size in two.sizes)
    guilty = [
        (place, count, i)
        for i in (1, 0)
        for place, count in _set(two, i)
        if solve(repinned(two, place, i, None)) is not None
    ]
    for place, count, i in guilty:
        rival = pinned(two, place, 1 - i)
        if rival is not None and (count < rival) == bool(i):
            guilty = [(place, count, i), (place, rival, 1 - i)]
            break
    message = f"size {larger} would get a smaller count or measure than size {smaller}"
    if not guilty:
        return Problem("size-shrinks", message, ("sizes", larger), "let their measures grow alike")
    place, count, i = guilty[0]
    told = [f"{place.name} {count} of {two.sizes[i].name}"]
    told += [f"{p.name} {n} of {two.sizes[k].name}" for p, n, k in guilty[1:] if k != i][:1]
    verb = "fight" if len(told) > 1 else "is in the way"
    nearest = _nearest(two, place, i, count, solve)
    peace = f"these would work: {place.name} {' or '.join(str(n) for n in nearest)} in size"
    return Problem(
        "size-shrinks",
        f"{message}: {' and '.join(told)} {verb}",
        (*place.words, two.sizes[i].name),
        f"{peace} {two.sizes[i].name}" if nearest else "free one of them",
    )


def _sums(spec: Spec, pins: dict[Pinned, int]) -> Iterator[str]:
    """The sums that show what is wrong, of those whose every term is pinned."""
    at = {place.words[:2]: count for place, count in pins.items()}
    yield from _hand_sum(spec, at)
    yield from _thumb_sum(spec, at)
    yield from _round_sum(spec, at)
    yield from _crown_sum(spec, pins, at)


Known = dict[tuple[str | int, ...], int]


def _steps(spec: Spec, at: Known) -> int | None:
    between = at.get(("gusset", "between markers"))
    if between is None or not spec.has_thumb:
        return None
    return next((s for s in range(200) if between_markers(spec, s) == between), None)


def _hand_sum(spec: Spec, at: Known) -> Iterator[str]:
    picked, more = at.get(("lower hand", "pick up")), at.get(("lower hand", "increases"))
    hand, steps = at.get(("division", "hand stitches")), _steps(spec, at)
    pairs, chains = at.get(("division", "pairs")), at.get(("division", "chains"))
    bridge = spec.division.bridge
    known = {"join": pairs, "chain": chains, "none": 0}[bridge]
    if picked is None or more is None or hand is None or steps is None or known is None:
        return
    grown = hand_change(spec, steps, 0, 0)
    total = picked + more + grown
    text = f"{picked} + {more} + {grown} of the gusset"
    if bridge != "none":
        total += chains or -2 * (pairs or 0)
        text += f" + {chains} chained" if chains else f" − {2 * (pairs or 0)} joined"
    if total != hand:
        yield f"{text} = {total} in the hand, not {hand}"


def _thumb_sum(spec: Spec, at: Known) -> Iterator[str]:
    between, crook = at.get(("gusset", "between markers")), at.get(("division", "crook stitches"))
    thumb = at.get(("thumb", "stitches"))
    if between is None or crook is None or thumb is None:
        return
    total = held(spec, between) + crook
    if total != thumb:
        yield f"{total - crook} held + {crook} of the crook = {total} in the thumb, not {thumb}"


def _round_sum(spec: Spec, at: Known) -> Iterator[str]:
    division, steps = at.get(("division", "round")), _steps(spec, at)
    lower = at.get(("lower hand", "rounds"), 1 + at.get(("lower hand", "increases"), 0))
    if division is None or steps is None:
        return
    first = lower + gusset_rounds(spec, steps) + 1
    if division < first:
        yield (
            f"{lower} rounds + {first - lower - 1} of the gusset: the division is round {first} at"
            f" the earliest, not {division}"
        )


def _crown_sum(spec: Spec, pins: dict[Pinned, int], at: Known) -> Iterator[str]:
    hand = at.get(("division", "hand stitches"))
    phases = {place.phase: n for place, n in pins.items() if place.phase is not None}
    if hand is None or len(phases) < len(spec.crown.phases):
        return
    left, text = hand, str(hand)
    for i, phase in enumerate(spec.crown.phases):
        left -= phases[i] * decreases(phase)
        text += f" − {phases[i]}×{decreases(phase)}" if phases[i] else ""
    wanted, last = at.get(("crown", "before closing")), at.get(("crown", "last"))
    shown = str(left).replace("-", "−")
    if wanted is not None and wanted != left:
        yield f"the crown: {text} = {shown}, not {wanted}"
    elif left < 4 or (last is not None and left < last):
        yield f"the crown: {text} = {shown}, too few to draw shut"
