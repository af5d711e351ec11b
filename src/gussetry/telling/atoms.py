"""A round taken apart into what a maker is told: so many of the same thing, one after the other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import NamedTuple

from gussetry.stitchmap import Op, Place, Round, left_of_made


@dataclass(frozen=True, slots=True)
class Atom:
    """So many (`n`) of one operation in a row.

    `kind`: stitch, inc, tog, ch, aside (worked and set aside), hold, join or skip. `stitch` is its
    stitch, `place` what it is worked into (st, row end, seam, ch, cuff st, crook st, held st, or
    `crook st and held st` for two together over both). `mark` says of an increase in which of its
    two the marker then is: `place first`, `move second` …; `to marker` says of plain stitches that
    a marked one follows.
    """

    kind: str
    stitch: str = ""
    place: str = ""
    loop: str = "both"
    mark: str = ""
    n: int = 1

    @property
    def key(self) -> tuple[str, ...]:
        """All but its number: what two sizes must share to be told in one sentence."""
        return self.kind, self.stitch, self.place, self.loop, self.mark


@dataclass(frozen=True, slots=True)
class Repeat:
    """Atoms worked one after the other, so many times."""

    body: tuple[Atom, ...]
    times: int


Part = Atom | Repeat
Phrase = tuple[Part, ...]


class Taken(NamedTuple):
    """A round taken apart: chains that lift the hook, what is worked, and how it ends: `turn`,
    `join` (a slip stitch into its first stitch) or nothing."""

    lift: int
    atoms: tuple[Atom, ...]
    end: str


_PLACES = {
    "row end": "row end", "seam": "seam", "chain": "ch", "cuff": "cuff st", "crook": "crook st",
    "held": "held st",
}  # fmt: skip
GUSSET = ("first marker", "second marker")
"""The two markers between which a gusset grows."""


def taken_apart(round_: Round, before: Round | None) -> Taken:
    """What the round's work tells, its lifting chains and its end apart."""
    work = list(round_.work)
    lift = 0
    while lift < len(work) and work[lift].do == "ch" and not work[lift].counts:
        lift += 1
    end = ""
    if work and work[-1].do == "turn":
        end = "turn"
        work.pop()
    elif work and work[-1].do == "slst" and not work[-1].counts:
        end = "join"
        work.pop()
    return Taken(lift, tuple(joined(_atoms(round_, before, work[lift:], lift))), end)


def joined(atoms: Iterable[Atom]) -> Iterator[Atom]:
    """The atoms, neighbours of one form as one; nothing of none."""
    held: Atom | None = None
    number = 0
    for atom in atoms:
        if held and held.key == atom.key and not atom.mark.startswith(("place", "move")):
            number += atom.n
            continue
        if held:
            yield replace(held, n=number)
        held, number = atom, atom.n
    if held:
        yield replace(held, n=number)


def _atoms(round_: Round, before: Round | None, work: list[Op], lift: int) -> Iterator[Atom]:
    marks = {at: mark for at, (_, mark) in marked_increases(round_, before).items()}
    marked = {i for name, i in (before.markers if before else ()) if name in GUSSET}
    # Only where a marked stitch is increased in does the way to it matter.
    stops = sorted(marked) if any(mark.startswith("move") for mark in marks.values()) else []
    for at, op in enumerate(work, start=lift):
        atom = _atom(op)
        if at in marks:
            atom = replace(atom, mark=marks[at])
        elif atom.kind == "stitch" and stops and isinstance(op.into[0], int):
            atom = replace(atom, mark="to marker" if stops[0] < op.into[0] < stops[-1] else "")
        yield atom


def marked_increases(round_: Round, before: Round | None) -> dict[int, tuple[str, str]]:
    """The increases that a gusset marker goes to, by their place in the round's work: the marker's
    name, and `place first`, `move second` …: whether it is new, in which of the two it is then."""
    old = dict(before.markers) if before else {}
    left = left_of_made(round_)
    found: dict[int, tuple[str, str]] = {}
    made = 0
    for at, op in enumerate(round_.work):
        for name in GUSSET if op.do == "inc" else ():
            now, pair = round_.marker(name), left[made : made + 2]
            if now is not None and now in pair and (name not in old or op.into == (old[name],)):
                which = ("first", "second")[pair.index(now)]
                found[at] = name, f"{'move' if name in old else 'place'} {which}"
        made += op.makes
    return found


def _place(places: tuple[Place, ...]) -> str:
    kinds = dict.fromkeys("st" if isinstance(place, int) else _PLACES[place[0]] for place in places)
    return " and ".join(kinds)


def _atom(op: Op) -> Atom:
    place = _place(op.into)
    if op.held:
        return Atom("aside", op.do, place, op.loop)
    if op.do == "inc":
        return Atom("inc", op.of or "sc", place, op.loop)
    if op.do.endswith("2tog"):
        return Atom("tog", op.do, place, op.loop)
    if op.do in ("ch", "hold", "join", "skip", "close", "seam"):
        return Atom(op.do, place="" if op.do in ("ch", "join") else place)
    return Atom("stitch", op.do, place, op.loop)
