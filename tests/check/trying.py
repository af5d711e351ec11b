"""One mutant after another made and checked, each by a seed and a number of its own."""

from __future__ import annotations

import random
import shutil
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path

from check.folders import EXAMPLES, checked, pattern
from check.mutating import FAULTS, Mutant

from gussetry.findings import Finding, told

MODULES = tuple(
    import_module(f"check.{path.stem}")
    for path in sorted(Path(__file__).parent.glob("mutating_*.py"))
)
"""Where faults are made; importing them enters them."""
STYLES = ("default", "large-print", "ink-saver", "phone")
EVERYWHERE = tuple((example, style) for example in EXAMPLES for style in STYLES)

_TURNS = 10  # that every place gets

Place = tuple[str, str]
"""An example and a style."""


@dataclass(frozen=True, slots=True)
class Tried:
    """What became of a mutant: whether anything was found, whether what is right, and whether that
    was told first; `said` tells what was expected and found where it was not right."""

    number: int
    fault: str
    found: bool
    right: bool
    first: bool
    said: str


def mutant(seed: int, number: int, places: Sequence[Place] = EVERYWHERE) -> tuple[Place, Mutant]:
    """The mutant of a number: the kinds of fault take turns, the rest is chance. RuntimeError where
    no place has anything to spoil so."""
    make = FAULTS[sorted(FAULTS)[number % len(FAULTS)]]
    chance = random.Random(f"{seed}:{number}")
    # By chance a place may have nothing to spoil so just once: another page, another line has.
    for place in (one for _ in range(_TURNS) for one in chance.sample(places, len(places))):
        made = make(pattern(*place), chance)
        if made is not None:
            return place, made
    raise RuntimeError(f"nowhere to put: {sorted(FAULTS)[number % len(FAULTS)]}")


def faults(made: Mutant) -> list[Finding]:
    """What the check finds in a mutant's folder, notes left out."""
    place = Path(tempfile.mkdtemp(prefix="mutant-"))
    try:
        return [found for found in checked(made.folder, place) if found.fault]
    finally:
        shutil.rmtree(place)


def tried(seed: int, number: int, places: Sequence[Place] = EVERYWHERE) -> Tried:
    """The mutant of a number, checked."""
    place, made = mutant(seed, number, places)
    found = faults(made)
    good = [any(right.covers(one) for right in made.right) for one in found]
    said = ""
    if not any(good):
        wanted = {(", ".join(sorted(r.kinds)), r.piece, *sorted(r.rounds)) for r in made.right}
        lines = [f"{one.file}: {told(one)}" for one in found[:4]]
        said = f"{' '.join(place)} {made.where}\n    wanted {sorted(wanted)[:2]}\n    found {lines}"
    return Tried(number, made.fault, bool(found), any(good), any(good[:1]), said)
