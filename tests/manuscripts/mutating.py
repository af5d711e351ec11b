"""One number or one word of a written pattern changed at a time.

Only what an instruction says is changed: its label, its words, its counts, its markers. Changes of
which it is known beforehand that they say the same are not made: the next stitch for the marked,
first or last one where it is that very stitch, a repeat round for one to the end.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from random import Random

_LINE = re.compile(r"^(?:\*\*)?(?:[^*\n]{1,80}only: |(?:Left|Right) mitten: )*"
                   r"(?:Rnds?|Rows?|Foundation|Seam|Draw shut)\b[^:\n]{0,90}:")  # fmt: skip
_PROSE = re.compile(
    r"\([^()]*[a-z]\.\)|Change (?:to|yarn) [^.]*\.|Do not turn\.|Remove the markers\."
    r"|Move the markers up\."
)
_SHUT = re.compile(r"^(?:\*\*)?(?:.*only: )?(?:Seam|Draw shut)\b")
_NAMES = re.compile(r"^(?:\*\*)?(?:Sizes? .{1,200}? only: |(?:Left|Right) mitten: )+")
SWAPS = {
    "second": "first", "sc": "hdc", "hdc": "dc", "dc": "hdc", "htr": "tr", "tr": "htr",
    "sc2tog": "sc", "hdc2tog": "hdc", "dc2tog": "dc", "tr2tog": "tr", "htr2tog": "htr",
    "BLO": "FLO", "FPdc": "BPdc", "BPdc": "FPdc", "FPhdc": "BPhdc", "BPhdc": "FPhdc",
    "twice": "3 times", "turn": "join", "around": "to last 2 sts", "marker": "last st",
    "Rnd": "Foundation", "aside": "up", "skip": "sc in", "gap": "crook",
}  # fmt: skip
_FIGURES = (
    re.compile(r"^- Yarn [A-Z]\w*,[^:]*: (?P<said>.*)"),
    re.compile(r"^- [A-Z][a-z]+ (?:circumference|depth|height|length): (?P<said>.*)"),
    re.compile(r"^- (?P<said>[\d.]+ \w+ and [\d.]+ \w+ over [\d.]+)"),
    re.compile(r"^Try on:(?P<said>.*) above the wrist"),
)
_FIGURE = re.compile(r"\d+(?:\.\d+)?[¼½¾]?(?! g\b)|[¼½¾]")
_WORD = re.compile(r"\d+|\b(?:" + "|".join(SWAPS) + r")\b")


@dataclass(frozen=True)
class Mutant:
    """A text with one place changed, and what was changed in which line."""

    text: str
    line: str
    old: str
    new: str


def mutants(text: str, random: Random) -> Iterator[Mutant]:
    """Changes of a text without end, each of one place."""
    lines = text.split("\n")
    places = [
        (at, found.span())
        for at, line in enumerate(lines)
        if _LINE.match(line)
        for found in _WORD.finditer(line)
        if _may(line, found)
    ]
    while places:
        at, (start, end) = random.choice(places)
        line = lines[at]
        old = line[start:end]
        new = str(max(0, int(old) + random.choice((-1, 1, 2)))) if old.isdigit() else SWAPS[old]
        if new == old:
            continue
        changed = line[:start] + new + line[end:]
        yield Mutant("\n".join([*lines[:at], changed, *lines[at + 1 :]]), line, old, new)


def figure_mutants(text: str, random: Random) -> Iterator[Mutant]:
    """Changes without end of one figure each that stands beside the rounds: a finished measure, an
    amount of yarn, a gauge, a height at which to try on."""
    lines = text.split("\n")
    places = [
        (at, found.span())
        for at, line in enumerate(lines)
        for told in filter(None, (form.match(line) for form in _FIGURES))
        for found in _FIGURE.finditer(line, *told.span("said"))
    ]
    while places:
        at, (start, end) = random.choice(places)
        line = lines[at]
        old = line[start:end]
        whole = re.sub(r"\D.*", "", old)
        more = f"{int(whole or 0) + random.choice((1, 2, 10))}{old[len(whole) :]}"
        new = random.choice([more, _other(old)])
        if new != old:
            changed = line[:start] + new + line[end:]
            yield Mutant("\n".join([*lines[:at], changed, *lines[at + 1 :]]), line, old, new)


def _other(figure: str) -> str:
    """The figure with another part of a unit: a quarter more, half a centimetre left out."""
    if figure[-1] in "¼½¾":
        return figure[:-1] + {"¼": "½", "½": "¾", "¾": "¼"}[figure[-1]]
    return figure.removesuffix(".5")


def _may(line: str, found: re.Match[str]) -> bool:
    """Whether the place is one that says what to do or how many there are."""
    names = _NAMES.match(line)
    if names and found.start() < names.end():
        return False
    if any(prose.start() <= found.start() < prose.end() for prose in _PROSE.finditer(line)):
        return False
    # How a seam is sewn and the last loops are drawn shut is told in prose: only its count is read.
    return not _SHUT.match(line) or found.group().isdigit()
