"""What a manuscript's check finds, one disagreement each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Sure = Literal["certain", "likely", "unclear"]

MOST = 500
"""Most findings that are told of one manuscript."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One place where the text cannot be right, or cannot be read.

    `line` and `column` count from 1. `round` names piece and round as the text does, blank where
    the finding is of the text as a whole, and so `size`. `sure`: `certain` where it follows from
    the words alone, `likely` where it rests on a usual reading of them, `unclear` where the words
    could not be read.
    """

    code: str
    line: int
    column: int
    length: int
    message: str
    round: str = ""
    size: str = ""
    expected: str = ""
    found: str = ""
    sure: Sure = "certain"
    remedy: str = ""
