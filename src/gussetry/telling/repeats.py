"""Repeats found in a round, and the phrasing that several sizes can share."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from gussetry.telling.atoms import Atom, Phrase, Repeat, joined

_REPEAT_COST, _SPLIT_COST = 6, 9
"""Beside ten an atom: a pair of brackets; a run cut in two by a bracket."""
LONGEST, LONGEST_REST = 60, 16
"""Atoms of a round in which repeats are sought, and of what follows one for a second."""


Form = tuple[tuple[object, ...], ...]
"""A phrase without its numbers."""


def form(phrase: Phrase) -> Form:
    """What sizes must share to be told in one sentence."""
    return tuple(
        part.key if isinstance(part, Atom) else tuple(a.key for a in part.body) for part in phrase
    )


def cost(phrase: Phrase) -> int:
    """How long the phrase reads, ten an atom."""
    total = 0
    before: Atom | None = None
    for part in phrase:
        body = (part,) if isinstance(part, Atom) else part.body
        total += 10 * len(body)
        if isinstance(part, Repeat):
            total += _REPEAT_COST
            total += _SPLIT_COST if _alike(body[-1], body[0]) else 0
        total += _SPLIT_COST if before and _alike(before, body[0]) else 0
        before = body[-1]
    return total


def _alike(one: Atom, other: Atom) -> bool:
    return one.key == other.key


def phrasings(atoms: Sequence[Atom]) -> dict[Form, Phrase]:
    """The ways to tell the atoms by their forms, the shortest first."""
    flat = tuple(atoms)
    ways: list[Phrase] = [flat]
    if len(flat) <= LONGEST:
        ways += (*_grouped(flat), *_periods(flat))
    found: dict[Form, Phrase] = {}
    for way in sorted(ways, key=cost):  # a stable order: of equals the first found
        found.setdefault(form(way), way)
    return found


def _grouped(atoms: Phrase) -> Iterator[Phrase]:
    """With one repeat of two or more atoms somewhere, and one more in what follows it."""
    for first, size, times in _runs(atoms):
        body = tuple(a for a in atoms[first : first + size] if isinstance(a, Atom))
        rest = atoms[first + size * times :]
        head: Phrase = (*atoms[:first], Repeat(body, times))
        yield (*head, *rest)
        for begin, long, often in _runs(rest) if len(rest) <= LONGEST_REST else ():
            second = tuple(a for a in rest[begin : begin + long] if isinstance(a, Atom))
            yield (*head, *rest[:begin], Repeat(second, often), *rest[begin + long * often :])


def _runs(atoms: Phrase) -> Iterator[tuple[int, int, int]]:
    """Where a group of two or more atoms is worked at least twice running: its place, its length,
    and how many times."""
    for size in range(2, len(atoms) // 2 + 1):
        for first in range(len(atoms) - 2 * size + 1):
            body = atoms[first : first + size]
            times = 1
            while atoms[first + times * size : first + (times + 1) * size] == body:
                times += 1
            if times > 1:
                yield first, size, times


def _periods(atoms: Phrase) -> Iterator[Phrase]:
    """The whole round as one repeat, where a run that the round's start cut in two is whole."""
    if any(a.mark for a in _every(atoms)):
        return
    single = [one for a in _every(atoms) for one in [replace(a, n=1)] * a.n]
    keys = [key for a in _every(atoms) for key in [a.key] * a.n]
    for times in range(2, len(single) // 2 + 1):
        size, rest = divmod(len(single), times)
        if rest == 0 and keys[:size] * times == keys:
            body = tuple(joined(single[:size]))
            if len(body) > 1:
                yield (Repeat(body, times),)


def _every(phrase: Phrase) -> Iterator[Atom]:
    for part in phrase:
        yield from (part,) if isinstance(part, Atom) else part.body


def shared(columns: Sequence[Sequence[Atom]]) -> list[dict[int, Phrase]]:
    """The columns (sizes) in groups that one sentence serves, each column's phrase in it; the
    groups in the order of their first columns. A size that has none of a stitch is in a group of
    its own: nobody should have to read `sc in next 0 (4) sts`."""
    ways = [phrasings(atoms) for atoms in columns]
    waiting = list(range(len(columns)))
    groups: list[dict[int, Phrase]] = []
    while waiting:
        lead = waiting[0]
        best: tuple[int, dict[int, Phrase]] | None = None
        for shape in ways[lead]:
            group = {i: ways[i][shape] for i in waiting if shape in ways[i]}
            # A sentence saved is worth some longer words.
            price = max(map(cost, group.values())) - 40 * len(group)
            if best is None or price < best[0]:
                best = price, group
        assert best is not None, "every round can be told atom by atom"
        groups.append(best[1])
        waiting = [i for i in waiting if i not in best[1]]
    return groups
