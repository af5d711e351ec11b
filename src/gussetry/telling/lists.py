"""Numbers of several sizes in one line: `14 (15, 16)`."""

from __future__ import annotations

from collections.abc import Sequence

ABSENT = "–"
"""What stands for a size that a list does not speak of."""


def listed(values: Sequence[int | str]) -> str:
    """The values of all sizes, the first outside the parentheses; one alone where all are alike."""
    shown = [str(value) for value in values]
    if len(set(shown)) == 1:
        return shown[0]
    return f"{shown[0]} ({', '.join(shown[1:])})"


def span(first: int, last: int) -> str:
    """`7`, or `9–14`."""
    return str(first) if first == last else f"{first}–{last}"


def counted(values: Sequence[int], one: str, many: str = "") -> str:
    """The numbers with their noun, which is singular only where every size has one."""
    noun = one if set(values) == {1} else many or f"{one}s"
    return f"{listed(values)} {noun}"


def enumerated(names: Sequence[str]) -> str:
    """The names as a sentence has them: `S, M and L`."""
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last
