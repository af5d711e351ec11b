"""A round as worked in one size: runs of equal operations, in their order."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import groupby

from gussetry.findings import Sure
from gussetry.manuscripts.text import Spot


@dataclass(frozen=True, slots=True)
class Run:
    """So many equal operations one after the other.

    `do` as in the stitch map, besides `<n>in1`, `sc3tog` and the like, and `evenly` for what is
    spread without being told where. `uses` and `makes` are those of one operation, `makes` what it
    leaves for the next round. `place`: what it is worked into if not a stitch of the round before;
    blank too where the text does not say. `counts`: False for a chain or slip stitch that is none.
    """

    do: str
    of: str = ""
    times: int = 1
    uses: int = 1
    makes: int = 1
    loop: str = ""
    place: str = ""
    held: bool = False
    counts: bool = True

    @property
    def sort(self) -> tuple[object, ...]:
        """What one operation is, without how many there are."""
        return (
            self.do, self.of, self.uses, self.makes, self.loop, self.place, self.held, self.counts
        )  # fmt: skip


def merged(runs: Iterable[Run]) -> tuple[Run, ...]:
    """The runs with neighbours of one operation made one, and those of none left out."""
    made: list[Run] = []
    for _, alike in groupby((run for run in runs if run.times), key=lambda run: run.sort):
        first, *others = alike
        times = first.times + sum(run.times for run in others)
        made.append(replace(first, times=times) if others else first)
    return tuple(made)


@dataclass(frozen=True, slots=True)
class Mark:
    """A marker: in the stitch numbered `at` from 0, or `between` it and the one before."""

    name: str
    at: int
    between: bool = False


@dataclass(frozen=True, slots=True)
class There:
    """What a round finds. `count`: stitches of the round before, None where that is not known.
    `places`: how many of each other place there are (None: not known); where there are any, the
    round is worked into them. `marks`: markers, in order. `stitch`: the fabric's stitch."""

    count: int | None
    places: tuple[tuple[str, int | None], ...] = ()
    marks: tuple[Mark, ...] = ()
    stitch: str = ""


@dataclass(frozen=True, slots=True)
class Fault:
    """Something that cannot be as the words say."""

    code: str
    message: str
    spot: Spot
    expected: str = ""
    found: str = ""
    sure: Sure = "certain"


@dataclass(frozen=True, slots=True)
class Worked:
    """What working a round's words comes to: its runs, what it leaves and sets aside.

    `count` None: it cannot be known. `exact`: every stitch's place is told. `claims`: the totals
    that the words name, with where they stand. `sections`: a claimed count by sections.
    """

    runs: tuple[Run, ...]
    count: int | None
    aside: int
    marks: tuple[Mark, ...]
    exact: bool
    faults: tuple[Fault, ...]
    claims: tuple[tuple[int, Spot], ...] = ()
    aside_claims: tuple[tuple[int, Spot], ...] = ()
    sections: tuple[tuple[tuple[int, ...], Spot], ...] = ()
    series: tuple[int, ...] = ()
