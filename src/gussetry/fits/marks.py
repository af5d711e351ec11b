"""Signs behind figures that say where they come from, and what the signs mean."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator

from gussetry.grading import GradedSize, Measure
from gussetry.grading.measures import ORIGINS, Origin

MARKS: dict[Origin, str] = {
    "given": "",
    "surveyed": "°",
    "derived": "*",
    "estimated": "~",
    "weak": "?",
}

_MEANINGS: dict[Origin, str] = {
    "surveyed": "out of the table of the published hand that the size names",
    "derived": "derived by a surveyed ratio, since the size does not give it",
    "estimated": "estimated: no table at hand has it (a child's circumference follows from the"
    " breadth), or it rests on such a measure",
    "weak": "weak: by common practice, no source",
}
_SENTENCES: dict[Origin, str] = {
    "surveyed": "Rest on the table of a published hand",
    "derived": "Rest on surveyed ratios, not on a measured hand",
    "estimated": "Rest on estimates, not on a measured hand",
    "weak": "Rest on common practice",
}


def mark(origin: Origin | None) -> str:
    """The sign of an origin; nothing for what the designer gave."""
    return MARKS[origin] if origin else ""


def legend(origins: Container[Origin | None]) -> Iterator[str]:
    """What the signs of the origins mean, a line each."""
    return (f"{MARKS[one]} {says}" for one, says in _MEANINGS.items() if one in origins)


def origin_lines(sizes: Iterable[GradedSize]) -> tuple[str, ...]:
    """Which finished measures rest on a table, on ratios or on estimates: a sentence an origin.

    Sizes are named where not all of them are meant.
    """
    graded = tuple(sizes)
    lines = []
    for origin in ORIGINS:
        if origin not in _SENTENCES:
            continue
        held: dict[tuple[str, ...], list[str]] = {}
        for name in _names(graded):
            owners = tuple(
                one.size.name
                for one in graded
                for m in one.measures
                if (m.name, m.origin) == (name, origin)
            )
            if owners:
                held.setdefault(owners, []).append(name)
        if held:
            everyone = len(graded)
            parts = (
                ", ".join(names) + (f" ({', '.join(owners)})" if len(owners) < everyone else "")
                for owners, names in held.items()
            )
            lines.append(f"{_SENTENCES[origin]}: {'; '.join(parts)}.")
    return tuple(lines)


def _names(graded: Iterable[GradedSize]) -> tuple[str, ...]:
    measures: Iterator[Measure] = (m for one in graded for m in one.measures)
    return tuple(dict.fromkeys(m.name for m in measures))
