"""What the sizes must have: one hand each, in order, with measures that fit together."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import get_args

from gussetry import survey
from gussetry.diagnostics import Problem
from gussetry.misreadings import clipped
from gussetry.naming import slug
from gussetry.read import values
from gussetry.read.given import SizeKeys
from gussetry.read.keys import fields
from gussetry.read.problems import value_at
from gussetry.read.values import WrongError
from gussetry.source import Document, Value
from gussetry.spec import Wearer
from gussetry.units import text

HAND = "hand circumference"
STANDARD = "standard"
SMALLEST_WITHOUT_WORD = 85
"""Millimetres. Smaller hands are newborns' (hand breadth 3.7 cm at 0 to 2 months: Snyder et al.
1975, UM-HSRI-BI-75-5; divided by 0.417, the breadth's share of the circumference in adults)."""

SHARES = {
    "wrist circumference": (Fraction(55, 100), Fraction(120, 100)),
    "hand length": (Fraction(55, 100), Fraction(150, 100)),
    "thumb circumference": (Fraction(15, 100), Fraction(55, 100)),
    "thumb length": (Fraction(15, 100), Fraction(65, 100)),
    "crook height": (Fraction(12, 100), Fraction(65, 100)),
    "tucked girth": (Fraction(100, 100), Fraction(165, 100)),
}
"""Bounds of each measure as shares of the hand's circumference: common practice, no source. Wide
enough for every surveyed hand, and tight enough to notice inches written as centimetres."""


def _sizes(document: Document) -> dict[str, Value]:
    sizes = value_at(document.data, ("sizes",))
    return sizes if isinstance(sizes, dict) else {}


def _measure(size: Value, key: str) -> Fraction | None:
    try:
        return values.length(value_at(size, (key,)), *values.BOUNDS[key])
    except WrongError:
        return None


def _published(size: Value) -> survey.Hand | None:
    written = value_at(size, (STANDARD,))
    return survey.HANDS.get(written) if isinstance(written, str) else None


def _circumference(size: Value) -> tuple[Fraction | None, str]:
    """The hand's circumference, and the key that it comes from."""
    published = _published(size)
    if published and isinstance(size, dict) and HAND not in size:
        return published.measures[HAND], STANDARD
    return _measure(size, HAND), HAND


def check_hands(document: Document) -> Iterator[Problem]:
    """Sizes without a hand, with two, or with a wearer whom their published hand is not."""
    for name, size in _sizes(document).items():
        if not isinstance(size, dict):
            continue
        path = ("sizes", name)
        if HAND in size and STANDARD in size:
            yield Problem(
                "contradiction",
                f"{name} has both {HAND} and {STANDARD}",
                (*path, STANDARD),
                "leave one of the two out",
                span=document.locate_key((*path, STANDARD)),
            )
        elif HAND not in size and STANDARD not in size and not _misspelt(size):
            yield Problem(
                "missing-key",
                f"{HAND} is missing under {name}",
                path,
                "add it, such as `hand circumference: 18.5 cm`, or name a published hand, such as"
                " `standard: women p50`",
            )
        published = _published(size)
        if published:
            yield from _other_wearer(document, path, size, published)


def _misspelt(size: dict[str, Value]) -> bool:
    # A misspelt key is reported as such, and not as missing too.
    known = fields(SizeKeys)
    return any(values.nearest(key, known) in (HAND, STANDARD) for key in size if key not in known)


def _other_wearer(
    document: Document, path: tuple[str, str], size: dict[str, Value], published: survey.Hand
) -> Iterator[Problem]:
    words = value_at(size, ("for",))
    if published.wearer and words in get_args(Wearer) and words != published.wearer:
        yield Problem(
            "contradiction",
            f"{published.standard} is a hand of {published.wearer}, not of {words}",
            (*path, "for"),
            "leave `for` out, or name another hand",
        )
    try:
        months = values.months(value_at(size, ("age from",)))
    except WrongError:
        return
    grown = published.wearer in survey.ADULTS
    if grown and months < survey.YOUNGEST_ADULT:
        told = f"is surveyed from {survey.YOUNGEST_ADULT // 12} years"
    elif published.age_from_months is not None and months != published.age_from_months:
        told = "has its age already"
    else:
        return
    yield Problem(
        "contradiction",
        f"{published.standard} {told}, and age from says {size['age from']}",
        (*path, "age from"),
        "leave `age from` out, or name another hand",
    )


def check_order(document: Document) -> Iterator[Problem]:
    """Sizes that do not stand smallest first, by any measure that two of them give. Published hands
    count by their circumference alone: a table's means may waver in the others."""
    sizes = _sizes(document)
    for key in (HAND, *SHARES):
        last: tuple[str, Fraction, str] | None = None
        for name, size in sizes.items():
            measure, at = _circumference(size) if key == HAND else (_measure(size, key), key)
            # What no hand measures is told as that, and says nothing of the order.
            if measure is None or (key == HAND and _impossible(size, measure, at)):
                continue
            if last and (measure < last[1] or (key == HAND and measure == last[1])):
                than = "the same as" if measure == last[1] else "smaller than"
                after = f"{text(measure / 10)} cm after {text(last[1] / 10)} cm"
                yield Problem(
                    "sizes-not-in-order",
                    f"{key} of {name} is {than} that of {last[0]} before it"
                    + (f": {after}" if STANDARD in (at, last[2]) else ""),
                    ("sizes", name, at),
                    "let the sizes stand smallest first, none larger in only some measures",
                )
            last = (name, measure, at)


def check_folders(document: Document) -> Iterator[Problem]:
    """Sizes whose drawings would land in one folder."""
    taken: dict[str, str] = {}
    for name in _sizes(document):
        folder = slug(name)
        first = taken.setdefault(folder.casefold(), name)
        if first != name:
            yield Problem(
                "same-folder",
                f"size {clipped(name)} would share the folder {folder} with size {clipped(first)}",
                ("sizes", name),
                "give it a name that differs in letters or digits",
                span=document.locate_key(("sizes", name)),
            )


def _impossible(size: Value, hand: Fraction, at: str) -> bool:
    """Whether a circumference written as such is a newborn's, and nobody says so."""
    return at == HAND and hand < SMALLEST_WITHOUT_WORD and value_at(size, ("for",)) != "infants"


def check_likely(document: Document) -> Iterator[Problem]:
    """Measures that no hand has beside its circumference: mostly a unit mistaken."""
    for name, size in _sizes(document).items():
        hand, at = _circumference(size)
        if hand is None:
            continue
        if _impossible(size, hand, at):
            written = str(value_at(size, (HAND,)))
            bounds = (Fraction(SMALLEST_WITHOUT_WORD), Fraction(330))
            yield Problem(
                "implausible-measure",
                f"{HAND} of {name} cannot be {written}, unless the hand is a newborn's",
                ("sizes", name, HAND),
                f"{values.likely_unit(written, bounds)}; for a newborn, add `for: infants`",
            )
            continue
        around = value_at(size, (HAND,)) if at == HAND else f"{text(hand / 10)} cm"
        for key, (low, high) in SHARES.items():
            measure = _measure(size, key)
            if measure is not None and not low * hand <= measure <= high * hand:
                written = str(value_at(size, (key,)))
                yield Problem(
                    "implausible-measure",
                    f"{key} of {name} cannot be {written} on a hand that is {around} round",
                    ("sizes", name, key),
                    values.likely_unit(written, (low * hand, high * hand)),
                )
