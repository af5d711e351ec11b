"""Signs before and behind figures: how far apart, where they come from, and what signs mean."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Sequence
from fractions import Fraction

from gussetry.fits.reach import of_children
from gussetry.grading import GradedSize
from gussetry.grading.measures import ORIGINS, Origin
from gussetry.spec import Size
from gussetry.units import rounded

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
    "estimated": "estimated: {}, or it rests on such a measure",
    "weak": "weak: by common practice, no source",
}
_NO_TABLE = "no table at hand has it (a child's circumference follows from the breadth)"
_FROM_MEMORY = "of European {} {} the circumference is from memory, not held against a print"

_SENTENCES: dict[Origin, str] = {
    "surveyed": "on the table of a published hand",
    "derived": "on surveyed ratios, not on a measured hand",
    "estimated": "on estimates, not on a measured hand",
    "weak": "on common practice",
}
"""What measures rest on."""


def signed(value: Fraction) -> str:
    """A difference to a tenth with its sign, a true minus; a space before zero."""
    tenths = rounded(value, Fraction(1, 10))
    sign = "+" if tenths > 0 else "−" if tenths < 0 else " "
    return f"{sign}{float(abs(tenths)):.1f}"


def mark(origin: Origin | None) -> str:
    """The sign of an origin; nothing for what the designer gave."""
    return MARKS[origin] if origin else ""


def legend(origins: Container[Origin | None], sizes: Sequence[Size]) -> Iterator[str]:
    """What the signs of the origins mean for these sizes, a line each."""
    estimated = " or ".join(_estimated(sizes))
    return (
        f"{MARKS[one]} {says.format(estimated)}"
        for one, says in _MEANINGS.items()
        if one in origins
    )


def _estimated(sizes: Sequence[Size]) -> Iterator[str]:
    """Why the estimated circumferences of these sizes are that."""
    held = [size.standard or "" for size in sizes if "hand circumference" in size.estimated]
    gloves = [name.rpartition(" ")[2] for name in held if name.startswith("EN ISO 21420")]
    if len(gloves) < len(held) or not gloves or any(of_children(size) for size in sizes):
        yield _NO_TABLE
    if gloves:
        yield _FROM_MEMORY.format("sizes" if len(gloves) > 1 else "size", _listed(gloves))


def _listed(names: Sequence[str]) -> str:
    """The names as a sentence has them: `hand length, thumb length and crook height`."""
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last


def origin_lines(sizes: Iterable[GradedSize]) -> tuple[str, ...]:
    """Which finished measures rest on a table, on ratios or on estimates: a sentence an origin.

    Sizes are named where not all of them are meant.
    """
    graded = tuple(sizes)
    return tuple(
        _sentence(origin, held, len(graded))
        for origin in ORIGINS
        if origin in _SENTENCES and (held := _held(graded, origin))
    )


def _held(graded: Sequence[GradedSize], origin: Origin) -> dict[tuple[str, ...], list[str]]:
    """The measures of that origin, by the sizes in which they are of it."""
    names = dict.fromkeys(m.name for one in graded for m in one.measures)
    held: dict[tuple[str, ...], list[str]] = {}
    for name in names:
        owners = tuple(
            one.size.name
            for one in graded
            for m in one.measures
            if (m.name, m.origin) == (name, origin)
        )
        if owners:
            held.setdefault(owners, []).append(name)
    return held


def _sentence(origin: Origin, held: dict[tuple[str, ...], list[str]], everyone: int) -> str:
    subject = "; ".join(
        _listed(names) + (f" ({', '.join(owners)})" if len(owners) < everyone else "")
        for owners, names in held.items()
    )
    rest = "rest" if sum(map(len, held.values())) > 1 else "rests"
    return f"{subject[0].upper()}{subject[1:]} {rest} {_SENTENCES[origin]}."
