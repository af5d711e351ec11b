"""Two sequences laid beside each other: what is missing from the one, and what is too much."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

Found = TypeVar("Found")
Wanted = TypeVar("Wanted")

MOST = 40_000
"""Pairs that are weighed at most; beyond, sequences are laid beside each other from the start."""


def aligned(
    found: Sequence[Found], wanted: Sequence[Wanted], cost: Callable[[Found, Wanted], int]
) -> list[tuple[int | None, int | None]]:
    """Places of both in order, None where one has nothing beside it, at the least cost in all.

    A place without partner costs 10, a pair what `cost` says (Needleman & Wunsch 1970).
    """
    wide, high = len(wanted), len(found)
    if wide * high > MOST:
        rest = max(wide, high)
        return [(i if i < high else None, i if i < wide else None) for i in range(rest)]
    least = [[10 * (i + j) for j in range(wide + 1)] for i in range(high + 1)]
    pairs = [[cost(one, other) for other in wanted] for one in found]
    for i in range(1, high + 1):
        for j in range(1, wide + 1):
            least[i][j] = min(least[i - 1][j - 1] + pairs[i - 1][j - 1],
                              least[i - 1][j] + 10, least[i][j - 1] + 10)  # fmt: skip
    steps: list[tuple[int | None, int | None]] = []
    i, j = high, wide
    while i or j:
        if i and j and least[i][j] == least[i - 1][j - 1] + pairs[i - 1][j - 1]:
            i, j = i - 1, j - 1
            steps.append((i, j))
        elif i and least[i][j] == least[i - 1][j] + 10:
            i -= 1
            steps.append((i, None))
        else:
            j -= 1
            steps.append((None, j))
    return steps[::-1]
