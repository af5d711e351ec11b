"""The corpus of snippets, and what a manuscript's check comes to, as its notation says it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from gussetry.manuscripts import Checked

CORPUS = Path(__file__).parent / "corpus.txt"


@dataclass(frozen=True)
class Snippet:
    """A snippet, the counts its rounds leave in each size, and what is found in it."""

    name: str
    text: str
    counts: dict[str, list[int | None]]
    found: list[str]


def snippets() -> list[Snippet]:
    """Every snippet of the corpus."""
    return [_snippet(part) for part in CORPUS.read_text(encoding="utf-8").split("\n=== ")[1:]]


def _snippet(part: str) -> Snippet:
    text, _, told = part.partition("\n--- ")
    name, _, text = text.partition("\n")
    lines = told.replace("\n--- ", "\n").strip().split("\n")
    counts, found = {}, []
    for line in lines:
        if "@" in line:
            found += line.split()
        elif line:
            size, _, numbers = line.rpartition(":")
            counts[size.strip()] = _numbers(numbers)
    return Snippet(name, text + "\n", counts, sorted(found))


def _numbers(text: str) -> list[int | None]:
    numbers: list[int | None] = []
    for part in text.split():
        number, _, times = part.partition("*")
        numbers += [None if number == "?" else int(number)] * int(times or 1)
    return numbers


def counts_of(checked: Checked) -> dict[str, list[int | None]]:
    """The counts that the rounds leave, by size."""
    return {
        size.size: [made.count for piece in size.pieces for made in piece.rounds]
        for size in checked.sizes
    }


def found_in(checked: Checked) -> list[str]:
    """Codes and lines of what is found, each once."""
    return sorted({f"{finding.kind}@{finding.line}" for finding in checked.findings})
