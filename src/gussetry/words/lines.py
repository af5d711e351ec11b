"""The rounds of every size in one list of instructions, aligned by phase and step."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby

from gussetry.stitchmap import Piece
from gussetry.telling.lists import listed, span
from gussetry.telling.names import Terms
from gussetry.telling.rounds import (
    Worked,
    count_words,
    instructions,
    marked_alike,
    signature,
    then_words,
    worked,
)


@dataclass(frozen=True, slots=True)
class Line:
    """One instruction: `runs` are the rounds that it tells, one run a size by the size's place
    (equal rounds one after the other), `work` what to do, `after` the count and what follows."""

    phase: str
    runs: dict[int, tuple[Worked, ...]]
    work: str
    after: tuple[str, ...]

    @property
    def numbers(self) -> str:
        """The numbers of its rounds: `7`, `9–14 (9–15, 10)`."""
        return listed(
            [span(run[0].round.number, run[-1].round.number) for run in self.runs.values()]
        )

    @property
    def many(self) -> bool:
        """Whether it tells more than one round of any size."""
        return any(len(run) > 1 for run in self.runs.values())


@dataclass(slots=True)
class _Queue:
    """The rounds of a phase that one size still has to be told; local to one piece."""

    rounds: tuple[Worked, ...]
    alone: bool
    at: int = 0
    signatures: list[tuple[object, ...]] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.signatures = [signature(one) for one in self.rounds]

    def equal(self) -> int:
        """How many of its next rounds are told in the same words."""
        end = self.at + 1
        while end < len(self.rounds) and self._like(end):
            end += 1
        return end - self.at

    def _like(self, other: int) -> bool:
        one, next_ = self.rounds[self.at], self.rounds[other]
        striped = self.alone and one.round.yarn != next_.round.yarn
        return self.signatures[other] == self.signatures[self.at] and not striped

    def take(self, number: int) -> tuple[Worked, ...]:
        """The next rounds, which are told now."""
        run = self.rounds[self.at : self.at + number]
        self.at += number
        return run


def lines(pieces: Sequence[Piece], terms: Terms) -> Iterator[Line]:
    """The instructions of a piece, `pieces` one a size. Each round is told once; of one size alone
    equal rounds are told together as far as their yarn goes, of several through all stripes."""
    columns = [
        [(phase, tuple(run)) for phase, run in groupby(worked(piece), key=lambda w: w.round.phase)]
        for piece in pieces
    ]
    yield from _united(tuple(_lines(columns, terms)), len(pieces) == 1)


_QUIET = ("thumb crook", "thumb plain", "thumb sides", "thumb even")
"""Phases between which nothing is said, so that equal rounds go on across their borders."""


def _united(made: Sequence[Line], alone: bool) -> Iterator[Line]:
    """The lines, equal neighbours of quiet phases as one; of one size `alone` by its yarns."""
    held: Line | None = None
    for line in made:
        if held and _same(held, line, alone):
            runs = {i: (*run, *line.runs[i]) for i, run in held.runs.items()}
            held = replace(held, runs=runs)
            continue
        if held:
            yield held
        held = line
    if held:
        yield held


def _same(one: Line, other: Line, alone: bool) -> bool:
    if one.phase not in _QUIET or other.phase not in _QUIET or list(one.runs) != list(other.runs):
        return False
    yarns = {w.round.yarn for line in (one, other) for run in line.runs.values() for w in run}
    return (one.work, one.after) == (other.work, other.after) and (not alone or len(yarns) == 1)


def _lines(
    columns: Sequence[Sequence[tuple[str, tuple[Worked, ...]]]], terms: Terms
) -> Iterator[Line]:
    order: list[str] = []
    for column in columns:
        order = _merged(order, [phase for phase, _ in column])
    at = [0] * len(columns)
    for phase in order:
        queues: dict[int, _Queue] = {}
        for i, column in enumerate(columns):
            if at[i] < len(column) and column[at[i]][0] == phase:
                queues[i] = _Queue(column[at[i]][1], len(columns) == 1)
                at[i] += 1
        yield from _phase(phase, queues, terms)


def _phase(phase: str, queues: dict[int, _Queue], terms: Terms) -> Iterator[Line]:
    """The lines of one phase: step by step, runs of equal rounds at once where all sizes share
    the words."""
    while active := {i: q for i, q in queues.items() if q.at < len(q.rounds)}:
        sizes = list(active)
        heads = [q.rounds[q.at] for q in active.values()]
        groups = list(_told(heads, terms))
        alone = len(groups) == 1
        lengths = {i: q.equal() if alone else 1 for i, q in active.items()}
        for places, words in groups:
            runs = {sizes[k]: active[sizes[k]].take(lengths[sizes[k]]) for k in places}
            first = [heads[k] for k in places]
            after = (count_words(first), *then_words(first))
            yield Line(phase, runs, words, tuple(filter(None, after)))


def _told(heads: Sequence[Worked], terms: Terms) -> Iterator[tuple[tuple[int, ...], str]]:
    """Groups of sizes (their places in `heads`) that one line serves, and what it tells to do: the
    same words, and the same sentences of markers."""
    for places, words in instructions(heads, terms):
        split = marked_alike([heads[k] for k in places])
        if len(split) == 1:
            yield places, words
            continue
        for alike in split:
            own = [places[k] for k in alike]
            for some, fewer in instructions([heads[k] for k in own], terms):
                yield tuple(own[k] for k in some), fewer


def _merged(one: Sequence[str], other: Sequence[str]) -> list[str]:
    """The shortest list that holds both in their orders."""
    table = [[0] * (len(other) + 1) for _ in range(len(one) + 1)]
    for i in reversed(range(len(one))):
        for k in reversed(range(len(other))):
            same = one[i] == other[k]
            table[i][k] = table[i + 1][k + 1] + 1 if same else max(table[i + 1][k], table[i][k + 1])
    found: list[str] = []
    i = k = 0
    while i < len(one) and k < len(other):
        if one[i] == other[k]:
            found.append(one[i])
            i, k = i + 1, k + 1
        elif table[i + 1][k] >= table[i][k + 1]:
            found.append(one[i])
            i += 1
        else:
            found.append(other[k])
            k += 1
    return [*found, *one[i:], *other[k:]]
