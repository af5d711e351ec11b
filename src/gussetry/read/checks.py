"""What one key alone cannot tell: sizes in order, measures that fit together, contradictions.

These look at the values as written, so that they find their faults beside all the others. A
value that cannot be read is passed over here: its own fault is reported anyway.
"""

from __future__ import annotations

from collections.abc import Container, Iterator
from fractions import Fraction
from typing import Literal

from gussetry.diagnostics import Problem
from gussetry.misreadings import clipped
from gussetry.naming import slug
from gussetry.read import values
from gussetry.read.checks_cuff import check_cuff
from gussetry.read.problems import value_at
from gussetry.read.values import WrongError
from gussetry.source import Document, Value
from gussetry.spec import Division
from gussetry.units import text

HAND = "hand circumference"
SMALLEST_WITHOUT_WORD = 85
"""Millimetres. Smaller hands are newborns' (hand breadth 3.7 cm at 0 to 2 months: Snyder et al.
1975, UM-HSRI-BI-75-5; divided by 0.417, the breadth's share of the circumference in adults)."""

STITCH_WIDTHS = (1, 35)
STITCH_HEIGHTS = (1, 60)
"""Millimetres: from sewing thread to arm's thickness; common practice, no source. Printed gauges
run from 4 to 13 mm across, and from 4 to 20 mm up."""

SHARES = {
    "wrist circumference": (Fraction(55, 100), Fraction(120, 100)),
    "hand length": (Fraction(55, 100), Fraction(150, 100)),
    "thumb circumference": (Fraction(15, 100), Fraction(55, 100)),
    "thumb length": (Fraction(15, 100), Fraction(65, 100)),
    "crook height": (Fraction(12, 100), Fraction(65, 100)),
}
"""Bounds of each measure as shares of the hand's circumference: common practice, no source. Wide
enough for every surveyed hand, and tight enough to notice inches written as centimetres."""


def check_all(document: Document) -> Iterator[Problem]:
    """Every fault that takes more than one key to see."""
    for check in (
        check_gauges,
        check_order,
        check_folders,
        check_likely,
        check_cuff,
        check_bridge,
        check_phases,
    ):
        yield from check(document)


def check_gauges(document: Document) -> Iterator[Problem]:
    """Swatches whose stitches would be finer than thread or broader than a thumb."""
    for gauge, across, up in (
        ("gauge", "stitches", "rounds"),
        ("rib gauge", "stitches", "rows"),
    ):
        swatch = value_at(document.data, (gauge,))
        for key, limits in ((across, STITCH_WIDTHS), (up, STITCH_HEIGHTS)):
            try:
                over = values.length(value_at(swatch, ("over",)), 20, 300) if swatch else None
                number = values.decimal(value_at(swatch, (key,)), Fraction(1), Fraction(300))
            except WrongError:
                continue
            if over is None or limits[0] <= over / number <= limits[1]:
                continue
            yield Problem(
                "absurd-gauge",
                f"{key} cannot be {text(number)} over {value_at(swatch, ('over',))}: one would "
                f"measure {text(over / number, 2)} mm",
                (gauge, key),
                f"expected {limits[0]} to {limits[1]} mm; count again, and look at `over`",
            )


def _sizes(document: Document) -> dict[str, Value]:
    sizes = value_at(document.data, ("sizes",))
    return sizes if isinstance(sizes, dict) else {}


def _measure(size: Value, key: str) -> Fraction | None:
    try:
        return values.length(value_at(size, (key,)), *values.BOUNDS[key])
    except WrongError:
        return None


def check_order(document: Document) -> Iterator[Problem]:
    """Sizes that do not stand smallest first, by any measure that two of them give."""
    sizes = _sizes(document)
    for key in (HAND, *SHARES):
        last: tuple[str, Fraction] | None = None
        for name, size in sizes.items():
            measure = _measure(size, key)
            if measure is None:
                continue
            if last and (measure < last[1] or (key == HAND and measure == last[1])):
                than = "the same as" if measure == last[1] else "smaller than"
                yield Problem(
                    "sizes-not-in-order",
                    f"{key} of {name} is {than} that of {last[0]} before it",
                    ("sizes", name, key),
                    "let the sizes stand smallest first, none larger in only some measures",
                )
            last = (name, measure)


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


def check_likely(document: Document) -> Iterator[Problem]:
    """Measures that no hand has beside its circumference: mostly a unit mistaken."""
    for name, size in _sizes(document).items():
        hand = _measure(size, HAND)
        if hand is None:
            continue
        if hand < SMALLEST_WITHOUT_WORD and value_at(size, ("for",)) != "infants":
            written = str(value_at(size, (HAND,)))
            bounds = (Fraction(SMALLEST_WITHOUT_WORD), Fraction(330))
            yield Problem(
                "implausible-measure",
                f"{HAND} of {name} cannot be {written}, unless the hand is a newborn's",
                ("sizes", name, HAND),
                f"{values.likely_unit(written, bounds)}; for a newborn, add `for: infants`",
            )
            continue
        for key, (low, high) in SHARES.items():
            measure = _measure(size, key)
            if measure is not None and not low * hand <= measure <= high * hand:
                written = str(value_at(size, (key,)))
                yield Problem(
                    "implausible-measure",
                    f"{key} of {name} cannot be {written} on a hand that is "
                    f"{value_at(size, (HAND,))} round",
                    ("sizes", name, key),
                    values.likely_unit(written, (low * hand, high * hand)),
                )


def implied_bridge(division: Container[str]) -> Literal["join", "chain", "none"]:
    """The bridge that is meant where none is named: pairs are joined, chains are chained."""
    if "pairs" in division:
        return "join"
    return "chain" if "chains" in division else Division().bridge


def check_bridge(document: Document) -> Iterator[Problem]:
    """Pairs where nothing is joined, chains where none are made."""
    division = value_at(document.data, ("division",))
    division = division if isinstance(division, dict) else {}
    bridge = division.get("bridge", implied_bridge(division))
    if bridge not in ("join", "chain", "none"):
        return
    for key, needs in (("pairs", "join"), ("chains", "chain")):
        if key in division and bridge != needs:
            yield Problem(
                "contradiction",
                f"bridge is {bridge}, which has no {key}",
                ("division", key),
                f"leave {key} out, or write `bridge: {needs}`",
                span=document.locate_key(("division", key)),
            )


def check_phases(document: Document) -> Iterator[Problem]:
    """Phases of the crown that are neither one thing nor the other."""
    phases = value_at(document.data, ("crown", "phases"))
    for place, phase in enumerate(phases if isinstance(phases, list) else ()):
        if not isinstance(phase, dict):
            continue
        path = ("crown", "phases", place)
        kinds = [key for key in ("sides", "evenly") if key in phase]
        if len(kinds) != 1 and not any(values.nearest(k, ["sides", "evenly"]) for k in phase):
            yield Problem(
                "missing-key",
                f"phase {place + 1} has neither sides nor evenly",
                path,
                "add `sides: fitted` or `evenly: fitted`",
            )
        elif len(kinds) == 2:
            yield Problem(
                "contradiction",
                f"phase {place + 1} has both sides and evenly",
                path,
                "make two phases of it, in the order of working",
            )
        elif kinds == ["evenly"] and "decreases" not in phase:
            yield Problem(
                "missing-key",
                f"decreases is missing under phase {place + 1}",
                path,
                "add it, such as `decreases: 4`",
            )
        elif kinds == ["sides"] and "decreases" in phase:
            yield Problem(
                "contradiction",
                f"phase {place + 1} decreases at the sides, which is always twice a round",
                (*path, "decreases"),
                "leave decreases out",
                span=document.locate_key((*path, "decreases")),
            )
