"""What a manuscript makes, size by size: pieces, and each of their rounds."""

from __future__ import annotations

from dataclasses import dataclass, field

from gussetry.findings import Finding
from gussetry.manuscripts.hook import Effort
from gussetry.manuscripts.runs import There, Worked
from gussetry.manuscripts.text import Spot

MOST_WORK = 15_000
"""Most rounds that are worked of one manuscript, all sizes together."""


@dataclass(frozen=True, slots=True)
class ReadRound:
    """One round of one size. `found`: stitches that it finds, `count`: what it leaves for the next,
    as the text says or else as it is counted; None where that is not known. `yarn` blank where the
    text does not say; `spot` is its label's."""

    number: int
    worked: Worked
    found: int | None
    count: int | None
    yarn: str
    spot: Spot
    line: int
    column: int


@dataclass(frozen=True, slots=True)
class ReadPiece:
    """A piece of one size: its name as far as headings tell it, rows or rounds, and each of them.
    `base`: chains of its foundation, None where it has none; `joined` says whether to a ring."""

    name: str
    rows: bool
    base: int | None
    joined: bool
    rounds: tuple[ReadRound, ...]


@dataclass(frozen=True, slots=True)
class ReadSize:
    """One size of a manuscript, or one mitten of it where they differ: its pieces and findings."""

    size: str
    side: str
    pieces: tuple[ReadPiece, ...]
    findings: tuple[Finding, ...]


@dataclass(slots=True)
class Budget:
    """How much work one manuscript may still be: rounds, and steps in them; and what was worked."""

    left: int = MOST_WORK
    effort: Effort = field(default_factory=Effort)
    known: dict[tuple[int, There, int], Worked] = field(default_factory=dict)
