"""Correct output spoilt by one believable fault, and what the check may rightly say of it.

Every fault says beforehand in which file, at which piece and round and by which kinds of finding it
is rightly found; where another explanation is as good, that is listed too. What leaves picture,
tags and files equivalent is no fault, and is never made: two like neighbours swapped, a symbol
turned that is alike when turned, rows of a table in another order, an entry of the manifest less.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from xml.etree.ElementTree import Element

from check.folders import Folder, Pattern, folder, leaves, renewed
from verify.breaking import bytes_of, centre, mapped, parent, paths, points, tree
from verify.pen import PITCH, outline, symbol

from gussetry.findings import Finding
from gussetry.plan import Job
from gussetry.stitchmap import Op

CHARTS = ("cuff", "hand", "gusset", "crown", "thumb")
GRIDS = ("cuff", "hand", "gusset", "thumb")
SCALED = ("stripes", "schematic")
DRAWINGS = (*CHARTS, *SCALED, "key")
_DRAWINGS = 8  # of a folder that are tried for something to spoil


@dataclass(frozen=True, slots=True)
class Right:
    """An explanation that is right: a finding in the file, of one of the kinds, and where a piece
    or rounds are named, at that piece and one of those rounds."""

    file: str
    kinds: frozenset[str]
    piece: str = ""
    rounds: frozenset[int] = frozenset()

    def covers(self, found: Finding) -> bool:
        """Whether a finding says this."""
        return (
            found.file == self.file
            and found.kind in self.kinds
            and (not self.piece or found.piece == self.piece)
            and (not self.rounds or found.round in self.rounds)
        )


def right_at(file: str, *kinds: str, piece: str = "", rounds: Iterable[int] = ()) -> Right:
    """The explanation that something of these kinds is wrong in a file, there if it is said."""
    return Right(file, frozenset(kinds), piece, frozenset(rounds))


@dataclass(frozen=True, slots=True)
class Mutant:
    """A folder with one fault: the kind of fault, what was spoilt, and the right explanations."""

    fault: str
    where: str
    folder: Folder
    right: tuple[Right, ...]


@dataclass(slots=True)
class Scene:
    """A sheet of a drawing about to be spoilt: `file` its name in the folder, `root` its tree."""

    own: Pattern
    job: Job
    file: str
    root: Element
    chance: random.Random

    def pick(self, found: Iterable[Element]) -> Element | None:
        """One of them by chance; None of none."""
        among = list(found)
        return self.chance.choice(among) if among else None

    @property
    def stitches(self) -> list[Element]:
        """Every stitch of a chart."""
        return paths(self.root, class_="stitch")

    def at(self, one: Element | Iterable[Element], *kinds: str) -> tuple[Right, ...]:
        """The explanation that something of these kinds is wrong where these marks stand."""
        marks = [one] if isinstance(one, Element) else list(one)
        pieces = {mark.get("data-piece", "") for mark in marks}
        rounds = frozenset(n for mark in marks for n in numbers(mark))
        return tuple(Right(self.file, frozenset(kinds), p, rounds) for p in sorted(pieces))

    def whole(self, *kinds: str) -> tuple[Right, ...]:
        """The explanation that something of these kinds is wrong with the drawing."""
        return (Right(self.file, frozenset(kinds)),)

    @property
    def paper(self) -> str:
        """The colour of the paper."""
        return paths(self.root, data_role="paper")[0].get("fill", "#ffffff")

    @property
    def middle(self) -> complex | None:
        """The centre of a crown's rings; None of another chart, and where no sheet tells."""
        shut = paths(self.root, data_do="close", class_="stitch")
        return centre(shut[0]) if self.job.kind == "crown" and shut else None

    def up(self, one: Element) -> complex:
        """The way from foot to head where a stitch stands."""
        away = (self.middle or 0) - centre(one)
        return away / abs(away) if self.middle is not None and abs(away) > 1e-6 else -1j

    @property
    def pitch(self) -> float:
        """The usual distance of neighbours, mm."""
        gaps = sorted(abs(centre(a) - centre(b)) for a, b in neighbours(self))
        return gaps[len(gaps) // 2] if gaps else 5.0

    def draw(self, one: Element, op: Op) -> None:
        """Another stitch's strokes at the place of one, its tags left alone."""
        scale = 0.9 * self.pitch / PITCH
        one.set("d", symbol(op, centre(one), self.up(one), scale=scale))


Rights = tuple[Right, ...] | None
"""What is right to find; None where there is nothing to spoil so."""
Spoil = Callable[[Scene], Rights]
SpoilMark = Callable[[Scene, Element], Rights]
Among = Callable[[Scene], Iterable[Element]]
"""The marks of a drawing of which one is spoilt."""
Make = Callable[[Pattern, random.Random], "Mutant | None"]
"""One fault somewhere in a pattern's folder; None where there is nothing to spoil so."""

FAULTS: dict[str, Make] = {}


def fault(name: str, kinds: Sequence[str], *, shared: bool = False) -> Callable[[Spoil], Spoil]:
    """Enters a way to spoil a drawing of these kinds among the faults; `shared`: only such as serve
    several sizes."""

    def enter(spoil: Spoil) -> Spoil:
        def make(own: Pattern, chance: random.Random) -> Mutant | None:
            jobs = [job for job in own.jobs.values() if job.kind in kinds]
            if shared:
                jobs = [job for job in jobs if len(job.maps) > 1]
            for job in chance.sample(jobs, min(len(jobs), _DRAWINGS)):
                leaf = chance.choice(leaves(own.example, own.style.name, job.name))
                file = f"{leaf.name}.svg"
                scene = Scene(own, job, file, tree(leaf.svg), chance)
                right = spoil(scene)
                if right is not None:
                    made = folder(own, [job.name]) | {file: bytes_of(scene.root)}
                    return Mutant(name, file, renewed(made), right)
            return None

        return enter_file(name)(make) and spoil

    return enter


def fault_in(
    name: str, kinds: Sequence[str], among: Among, *, shared: bool = False
) -> Callable[[SpoilMark], SpoilMark]:
    """Enters a way to spoil one of those marks, by chance, of drawings of these kinds."""

    def enter(spoil: SpoilMark) -> SpoilMark:
        def whole(scene: Scene) -> Rights:
            one = scene.pick(among(scene))
            return None if one is None else spoil(scene, one)

        fault(name, kinds, shared=shared)(whole)
        return spoil

    return enter


def stitches(*kinds: str) -> Among:
    """The stitches of these kinds; every one where none is named."""
    return lambda scene: [s for s in scene.stitches if not kinds or s.get("data-do") in kinds]


def marks(role: str) -> Among:
    """The marks of a role."""
    return lambda scene: paths(scene.root, data_role=role)


def texts(*roles: str) -> Among:
    """The labels of these roles."""
    return lambda scene: labels(scene, *roles)


def enter_file(name: str) -> Callable[[Make], Make]:
    """Enters a way to spoil any file among the faults."""

    def enter(make: Make) -> Make:
        assert name not in FAULTS
        FAULTS[name] = make
        return make

    return enter


# --- what stands where ------------------------------------------------------------------------


def numbers(mark: Element) -> Iterator[int]:
    """The rounds that a mark's tag names, spans and lists among them."""
    for part in mark.get("data-round", "").split():
        first, _, last = part.partition("-")
        yield from range(int(first), int(last or first) + 1)


def rows(scene: Scene) -> dict[tuple[str, str], list[Element]]:
    """The stitches of each round by size and round, as the tags have them."""
    found: dict[tuple[str, str], list[Element]] = {}
    for one in scene.stitches:
        found.setdefault((one.get("data-size", ""), one.get("data-round", "")), []).append(one)
    for own in found.values():
        own.sort(key=lambda one: int(one.get("data-index", "0").split()[0]))
    return found


def neighbours(scene: Scene) -> list[tuple[Element, Element]]:
    """Pairs of stitches that stand side by side in their round."""
    return [
        (one, other)
        for own in rows(scene).values()
        for one, other in pairwise(own)
        if int(other.get("data-index", "0").split()[0])
        - int(one.get("data-index", "0").split()[0]) == 1
    ]  # fmt: skip


def same(one: Element, other: Element) -> bool:
    """Whether two stitches look alike: of one kind, with the same strokes."""
    tall = [points(mark) for mark in (one, other)]
    return one.get("data-do") == other.get("data-do") and len(tall[0]) == len(tall[1])


def drop(scene: Scene, one: Element) -> None:
    """Takes a mark out of the drawing."""
    parent(scene.root, one).remove(one)


def to(one: Element, place: complex) -> None:
    """Moves a mark to a place."""
    way = place - centre(one)
    one.set("d", mapped(one.get("d", ""), way.real, way.imag))


def scaled(one: Element, wide: float, tall: float) -> None:
    """Stretches a mark about its middle."""
    here = centre(one)
    data = mapped(one.get("d", ""), here.real * (1 - wide), here.imag * (1 - tall), wide, tall)
    one.set("d", data)


def exchange_places(one: Element, other: Element) -> None:
    """Two marks change places, tags and all."""
    here, there = centre(one), centre(other)
    to(one, there)
    to(other, here)


def exchange_tags(one: Element, other: Element, *names: str) -> None:
    """Two marks change attributes."""
    for name in names:
        mine, yours = one.get(name, ""), other.get(name, "")
        one.set(name, yours)
        other.set(name, mine)


# --- labels -----------------------------------------------------------------------------------


def labels(scene: Scene, *roles: str) -> list[Element]:
    """The labels of these roles."""
    return [p for role in roles for p in paths(scene.root, data_role=role) if p.get("data-says")]


def said(label: Element) -> str:
    """What a label claims to say."""
    return label.get("data-says", "")


def print_(label: Element, text: str) -> None:
    """Prints another text in a label's place and size; what it claims is left alone."""
    old = points(label)
    wide, tall = _extent(old)
    turned = 90 if tall > wide and len(said(label)) > 2 else 0
    plain = Element("path", {"d": outline(said(label), 0, 0, 3.0, turned=turned)})
    mine = _extent(points(plain))
    em = 3.0 * max(wide, tall) / max(mine)
    place = centre(label)
    label.set("d", outline(text, 0, 0, em, turned=turned))
    to(label, place)


def reprint(label: Element, text: str) -> None:
    """Prints another text in a label's place, and has the label claim it."""
    print_(label, text)
    label.set("data-says", text)


def exchange_texts(one: Element, other: Element) -> None:
    """Two labels change what they say, in print and claim."""
    mine, yours = said(one), said(other)
    reprint(one, yours)
    reprint(other, mine)


def _extent(found: Sequence[complex]) -> tuple[float, float]:
    xs, ys = [p.real for p in found], [p.imag for p in found]
    return max(xs) - min(xs), max(ys) - min(ys)


def another(text: str, chance: random.Random) -> str:
    """A text in which one figure has become another, or of letters the first."""
    places = [found.start() for found in re.finditer(r"\d", text)]
    if not places:
        return ("B" if text[:1] != "B" else "A") + text[1:]
    at = chance.choice(places)
    figures = [figure for figure in "123456789" if figure != text[at]]
    return text[:at] + chance.choice(figures) + text[at + 1 :]
