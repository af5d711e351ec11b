"""What one key alone cannot tell: sizes in order, measures that fit together, contradictions.

These look at the values as written, so that they find their faults beside all the others. A
value that cannot be read is passed over here: its own fault is reported anyway.
"""

from __future__ import annotations

from collections.abc import Container, Iterator
from typing import Literal

from gussetry.diagnostics import Problem
from gussetry.read import values
from gussetry.read.checks_cuff import check_cuff
from gussetry.read.checks_ends import check_ends
from gussetry.read.checks_gauge import check_gauges, check_lean
from gussetry.read.checks_sizes import check_folders, check_hands, check_likely, check_order
from gussetry.read.checks_yarn import check_yarn
from gussetry.read.problems import value_at
from gussetry.source import Document
from gussetry.spec import Division


def check_all(document: Document) -> Iterator[Problem]:
    """Every fault that takes more than one key to see."""
    for check in (
        check_gauges,
        check_lean,
        check_hands,
        check_order,
        check_folders,
        check_likely,
        check_cuff,
        check_bridge,
        check_phases,
        check_ends,
        check_yarn,
    ):
        yield from check(document)


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
