"""How a concern of many sizes is told as one warning."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from gussetry.diagnostics import Problem, Where
from gussetry.units import text

FULLY = 4
"""Sizes whose figures are all told; of more, only the worst one's."""


class Told(NamedTuple):
    """What a concern says of one size: its figures in words, and how bad it is, to find the
    worst."""

    size: str
    figures: str
    badness: Fraction


class Words(NamedTuple):
    """What a warning says of all its sizes, without their figures."""

    code: str
    what: str
    path: Where
    remedy: str
    note: str = ""


def gathered(words: Words, told: Sequence[Told]) -> tuple[Problem, ...]:
    """The one warning of all sizes that have the concern, none where no size has it."""
    if not told:
        return ()
    if len(told) <= FULLY:
        figures = "; ".join(f"size {one.size} {one.figures}" for one in told)
    else:
        worst = max(told, key=lambda one: one.badness)
        names = ", ".join(one.size for one in told)
        figures = f"sizes {names}; most in size {worst.size}, {worst.figures}"
    note = f" ({words.note})" if words.note else ""
    message = f"{words.what}: {figures}{note}"
    return (Problem(words.code, message, words.path, words.remedy, "warning"),)


def cm(mm: Fraction) -> str:
    """A length in centimetres, to a tenth of a millimetre."""
    return f"{text(mm / 10, 2)} cm"
