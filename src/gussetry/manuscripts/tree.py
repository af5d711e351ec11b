"""What a round's words say, before any size is worked: steps with numbers for every size."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, TypeAlias

from gussetry.manuscripts.text import Spot

Number: TypeAlias = "tuple[int | None, ...]"
"""One number for all sizes, or one a size; None where a size has none."""

ONE: Number = (1,)


def value(number: Number, size: int) -> int:
    """The number that stands for a size, counted from 0; 0 where it has none."""
    return (number[0] if len(number) == 1 else number[size]) or 0


@dataclass(frozen=True, slots=True)
class Extent:
    """How far a step goes: so many `times`; to the `end` of the round; until `number` stitches are
    left (`last`); or to so many before the next `marker`."""

    kind: Literal["times", "end", "last", "marker"]
    number: Number = ONE


@dataclass(frozen=True, slots=True)
class Stitches:
    """One kind of stitch. Each time it uses `uses` stitches and makes `makes`.

    `do`: the US name, `inc` or `dec` of no named stitch, `<n>in1` for more than two in one place.
    `where`: `first`, `last`, `marked`, `rest` if the text says which stitches they must be.
    `place`: `row end`, `seam`, `crook`, `held`, `chain`, `cuff`, `hook`, `ring`, `same`, two of
    them joined with `+`, blank for the stitches of the round before. `part`: of those worked
    together, how many are named so far.
    """

    do: str
    of: str
    uses: int
    makes: int
    extent: Extent
    spot: Spot
    loop: str = ""
    place: str = ""
    where: str = ""
    held: bool = False
    part: Number = ()


@dataclass(frozen=True, slots=True)
class Chain:
    """Chains: stitches of the round where `counts`, none where not, None where the text does not
    say. `stands_for`: it stands for the first stitch of the round."""

    number: Number
    spot: Spot
    counts: bool | None = None
    stands_for: bool = False


@dataclass(frozen=True, slots=True)
class Join:
    """The slip stitch that joins a round."""

    spot: Spot


@dataclass(frozen=True, slots=True)
class Turn:
    """The work turned; `no` where the text says that it is not."""

    spot: Spot
    no: bool = False


@dataclass(frozen=True, slots=True)
class Repeat:
    """Steps worked again and again."""

    steps: tuple[Step, ...]
    extent: Extent
    spot: Spot
    one_stitch: bool = False


@dataclass(frozen=True, slots=True)
class Choice:
    """Words with more than one meaning, the usual one first; the counts must decide."""

    options: tuple[tuple[Step, ...], ...]
    spot: Spot


@dataclass(frozen=True, slots=True)
class Evenly:
    """So many increases (`change` 1), decreases (-1) or plain stitches (0) spread over the rest."""

    do: str
    of: str
    change: int
    number: Number
    spot: Spot


@dataclass(frozen=True, slots=True)
class Marker:
    """A marker put, moved or removed. `which`: the `first`, `second` or `last` of the stitches just
    made; blank: where the hook is. `name` and `at` (1-based) of a side's marker."""

    act: Literal["put", "move", "remove", "up"]
    spot: Spot
    which: str = ""
    name: str = ""
    at: Number = ()


@dataclass(frozen=True, slots=True)
class Pairs:
    """Pairs joined over the gap: the next stitch with the last before the gap, and outwards."""

    number: Number
    spot: Spot


@dataclass(frozen=True, slots=True)
class Claim:
    """What the text says that the round leaves; `sections` between the markers, `aside` held."""

    number: Number
    spot: Spot
    sections: tuple[Number, ...] = ()
    aside: Number = ()
    each: tuple[Number, ...] = ()


@dataclass(frozen=True, slots=True)
class Again:
    """Rounds worked again: those numbered `rounds`, or the last `last`; so many times, or until
    `until` stitches are left."""

    rounds: tuple[Number, ...]
    last: Number
    spot: Spot
    times: Number = ONE
    until: Number = ()


@dataclass(frozen=True, slots=True)
class Even:
    """Plain rounds, as many as the text or its label says."""

    spot: Spot
    rounds: Number = ()


@dataclass(frozen=True, slots=True)
class Loop:
    """From here on in the round every stitch goes into this loop."""

    loop: str
    spot: Spot


Step: TypeAlias = (
    "Stitches | Chain | Join | Turn | Repeat | Choice | Evenly | Marker | Pairs | Claim | Again"
    " | Even | Loop"
)


def walk(steps: tuple[Step, ...], usual: bool = False) -> Iterator[Step]:
    """Every step in order, those within repeats and within the meanings of a choice too; where
    `usual`, within the usual meaning of each alone."""
    for step in steps:
        yield step
        if isinstance(step, Repeat):
            yield from walk(step.steps, usual)
        elif isinstance(step, Choice):
            for option in step.options[:1] if usual else step.options:
                yield from walk(option, usual)
