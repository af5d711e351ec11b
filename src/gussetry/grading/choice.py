"""The choice over all sizes: one candidate a size, together the best in a stated order.

The order is lexicographic:

1. the least sum of the candidates' costs (weighted squared misses);
2. of these, the least sum of squared second differences of every count from size to size, so that
   steps between sizes are even;
3. of these, the smallest counts: their sum first, then the numbers themselves, size by size.

From each size to the next no ordered count may shrink. All numbers are whole, so that sums are
exact and ties break alike on every machine.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from operator import le
from typing import Any, NamedTuple, Protocol


class Candidate(NamedTuple):
    """One possibility of a size: its cost, the counts that may not shrink from size to size, all
    its counts, and what it stands for."""

    cost: int
    ordered: tuple[int, ...]
    counts: tuple[int, ...]
    stands_for: Any


class Menu(Protocol):
    """The candidates of one size, given out by how much more than the cheapest they cost.

    `least`: the cheapest one's cost.
    """

    least: int

    def span(self) -> int:
        """At least by how much the dearest costs more."""
        ...

    def within(self, excess: int) -> list[Candidate]:
        """Those that cost at most `excess` more than the cheapest."""
        ...

    def extent(self) -> tuple[Sequence[int], Sequence[int]]:
        """Bounds of the ordered counts, least and largest."""
        ...

    def keep(self, lows: Sequence[int], highs: Sequence[int]) -> int:
        """Leaves out what is outside those bounds, as far as is easily seen; how much is left."""
        ...


@dataclass(frozen=True, slots=True)
class Chosen:
    """A choice: its rank in the three tiers, smaller is better, and the candidates, one a size."""

    rank: tuple[int, int, int, tuple[tuple[int, ...], ...]]
    candidates: tuple[Candidate, ...]


class Listed:
    """A menu whose candidates are all at hand."""

    def __init__(self, candidates: Sequence[Candidate]) -> None:
        self._candidates = sorted(candidates)
        self.least = self._candidates[0].cost

    def span(self) -> int:
        """By how much the dearest costs more than the cheapest."""
        return self._candidates[-1].cost - self.least

    def within(self, excess: int) -> list[Candidate]:
        """Those that cost at most `excess` more than the cheapest."""
        return [c for c in self._candidates if c.cost <= self.least + excess]

    def extent(self) -> tuple[Sequence[int], Sequence[int]]:
        """Bounds of the ordered counts, least and largest."""
        columns = list(zip(*(c.ordered for c in self._candidates), strict=True))
        return [min(n) for n in columns], [max(n) for n in columns]

    def keep(self, lows: Sequence[int], highs: Sequence[int]) -> int:
        """Leaves out what is outside those bounds; how much is left."""
        self._candidates = [
            c
            for c in self._candidates
            if all(map(le, lows, c.ordered)) and all(map(le, c.ordered, highs))
        ]
        return len(self._candidates)


def choose(menus: Sequence[Menu], first: int) -> Chosen | None:
    """The best choice, or None where no choice keeps every ordered count from shrinking.

    Candidates dearer than the cheapest by more than a whole choice's excess cannot be in a better
    one: so the menus are opened only as far as needed, first by nothing, then by `first`, and the
    result is that of looking at all.
    """
    excess, least = 0, sum(menu.least for menu in menus)
    span: int | None = None
    while True:
        lists = [menu.within(excess) for menu in menus]
        totals = _totals(lists)
        found = min((t for t in totals[-1] if t is not None), default=None)
        if found is not None and found - least <= excess:
            return _evenest(lists, totals, found)
        if found is not None:
            excess = found - least
            continue
        if span is None and excess >= 8 * first:
            # So far off, something may stand in the way altogether.
            if not narrow(menus):
                return None
            span = max(menu.span() for menu in menus)
        if span is not None and excess >= span:
            return None
        excess = max(first, 2 * excess)


def narrow(menus: Sequence[Menu]) -> bool:
    """Leaves out what no choice could hold, since a smaller or larger size has nothing that fits
    to it; whether every size has something left."""
    known: list[int] = []
    while True:
        extents = [menu.extent() for menu in menus]
        lows = list(accumulate((low for low, _ in extents), _larger))
        highs = list(accumulate((high for _, high in reversed(extents)), _smaller))[::-1]
        left = []
        for menu, low, high in zip(menus, lows, highs, strict=True):
            left.append(menu.keep(low, high))
            if not left[-1]:
                return False
        if left == known:
            return True
        known = left


def _larger(one: Sequence[int], other: Sequence[int]) -> Sequence[int]:
    return [max(pair) for pair in zip(one, other, strict=True)]


def _smaller(one: Sequence[int], other: Sequence[int]) -> Sequence[int]:
    return [min(pair) for pair in zip(one, other, strict=True)]


def _fits(smaller: Candidate, larger: Candidate) -> bool:
    return all(map(le, smaller.ordered, larger.ordered))


def _totals(lists: Sequence[Sequence[Candidate]]) -> list[list[int | None]]:
    """For each candidate the least cost of a chain from the smallest size that ends on it."""
    totals: list[list[int | None]] = [[c.cost for c in lists[0]]]
    for before, here in pairwise(lists):
        known = _undominated(before, totals[-1])
        row: list[int | None] = []
        for candidate in here:
            way = next((t for t, i in known if _fits(before[i], candidate)), None)
            row.append(None if way is None else way + candidate.cost)
        totals.append(row)
    return totals


def _undominated(
    candidates: Sequence[Candidate], totals: Sequence[int | None]
) -> list[tuple[int, int]]:
    """(total, place) of the chains that no cheaper one makes needless, since its end fits whatever
    theirs fits; the cheapest first."""
    kept: list[tuple[int, int]] = []
    for total, i in sorted((t, i) for i, t in enumerate(totals) if t is not None):
        if not any(_fits(candidates[k], candidates[i]) for _, k in kept):
            kept.append((total, i))
    return kept


def _best_only(
    lists: Sequence[Sequence[Candidate]], totals: Sequence[Sequence[int | None]], best: int
) -> list[list[tuple[int, int]]]:
    """For each size the (place, predecessor's place) pairs of all candidates on cheapest chains;
    -1 stands for no predecessor."""
    needed = {i for i, t in enumerate(totals[-1]) if t == best}
    links: list[list[tuple[int, int]]] = []
    for size in range(len(lists) - 1, 0, -1):
        pairs: list[tuple[int, int]] = []
        for place in sorted(needed):
            candidate, total = lists[size][place], totals[size][place]
            assert total is not None
            wanted = total - candidate.cost
            ways = [
                i
                for i, t in enumerate(totals[size - 1])
                if t == wanted and _fits(lists[size - 1][i], candidate)
            ]
            pairs += [(place, i) for i in ways]
        links.append(pairs)
        needed = {i for _, i in pairs}
    links.append([(place, -1) for place in sorted(needed)])
    return links[::-1]


Way = tuple[int, int, tuple[tuple[int, ...], ...], tuple[int, ...]]
"""Roughness, sum of counts, the counts themselves, the places of the candidates."""


def _evenest(
    lists: Sequence[Sequence[Candidate]], totals: Sequence[Sequence[int | None]], best: int
) -> Chosen:
    """Of the cheapest chains the one that steps most evenly, then the smallest."""
    ways: dict[tuple[int, int], Way] = {}
    for size, pairs in enumerate(_best_only(lists, totals, best)):
        grown: dict[tuple[int, int], Way] = {}
        for place, before in pairs:
            counts = lists[size][place].counts
            if before < 0:
                grown[-1, place] = 0, sum(counts), (counts,), (place,)
                continue
            reached = [way for (_, there), way in ways.items() if there == before]
            grown[before, place] = min(_longer(way, counts, place) for way in reached)
        ways = grown
    roughness, total, counts_of, path = min(ways.values())
    chain = tuple(lists[size][place] for size, place in enumerate(path))
    return Chosen((best, roughness, total, counts_of), chain)


def _longer(way: Way, counts: tuple[int, ...], place: int) -> Way:
    roughness, total, so_far, path = way
    if len(so_far) > 1:
        steps = zip(so_far[-2], so_far[-1], counts, strict=True)
        roughness += sum((c - 2 * b + a) ** 2 for a, b, c in steps)
    return roughness, total + sum(counts), (*so_far, counts), (*path, place)
