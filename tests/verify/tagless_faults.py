"""Faults of drawings that have no tags any more: put in with them, which are then thrown away."""

from __future__ import annotations

import re
from typing import NamedTuple

from verify.breaking import STITCHES, Spoiler, bytes_of, tree
from verify.breaking_more import REST
from verify.rewriting import tags_lost

_LOST = re.compile(r"data-|class$|root ")
FAULTS: tuple[Spoiler, ...] = tuple(
    fault
    for fault in (*STITCHES, *REST)
    # Tags alone are changed: nothing is left of it where they are gone.
    if not fault.__name__.startswith(("retag", "root ", "swap_tags", "claim_another"))
)
"""Every fault that changes what is drawn."""


class Broken(NamedTuple):
    """A drawing with a fault and without tags, and the rounds of the shapes that it changed."""

    svg: bytes
    rounds: frozenset[str]


def spoilt(svg: bytes, fault: Spoiler, n: int) -> Broken | None:
    """The drawing with the fault; None where it has nothing to spoil so."""
    root = tree(svg)
    before = {id(e): (e, dict(e.attrib)) for e in root.iter()}
    if not fault(root, n):
        return None
    now = {id(e): dict(e.attrib) for e in root.iter()}
    changed = [
        tags.get("data-round", "")
        for name, (_, tags) in before.items()
        if now.get(name) != tags
    ]
    rounds = frozenset(text for text in changed if text.isdigit())
    return Broken(tags_lost(bytes_of(root)), rounds)
