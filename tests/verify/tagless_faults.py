"""Faults of drawings that have no tags any more: put in with them, which are then thrown away."""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple
from xml.etree.ElementTree import Element

from verify.breaking import STITCHES, Spoiler, bytes_of, centre, move, paths, tree
from verify.breaking_more import REST
from verify.hatch_faults import HATCHED
from verify.rewriting import tags_lost

from gussetry.verify.reading import read


def unlike_bands(root: Element, n: int) -> bool:
    """Two neighbouring bands of unlike yarns change places; without colours they look alike."""
    bands = paths(root, data_role="stripe", data_piece="hand")
    unlike = [(a, b) for a, b in pairwise(bands) if a.get("data-yarn") != b.get("data-yarn")]
    if not unlike or root.get("data-yarns") == "hatches":
        return False
    one, other = unlike[n % len(unlike)]
    way = centre(other) - centre(one)
    move(one, 0, way.imag)
    move(other, 0, -way.imag)
    return True


_NAMES = ("retag", "root ", "swap_tags", "claim_another", "hide_by_sheet", "swap_bands")
"""Faults of tags or classes alone: nothing is left of them where these are gone; and of bands that
change places, which may be of one yarn, and so alike."""
FAULTS: tuple[Spoiler, ...] = (
    *(fault for fault in (*STITCHES, *REST) if not fault.__name__.startswith(_NAMES)),
    unlike_bands,
    *HATCHED,
)
"""Every fault that changes what is drawn."""


class Broken(NamedTuple):
    """A drawing with a fault and without tags, and the rounds of the shapes that it changed."""

    svg: bytes
    rounds: frozenset[str]


def spoilt(svg: bytes, fault: Spoiler, n: int) -> Broken | None:
    """The drawing with the fault; None where it has nothing to spoil so, or shows the same after it
    (a disc without its stroke)."""
    root = tree(svg)
    before = {id(e): (e, dict(e.attrib)) for e in root.iter()}
    if not fault(root, n):
        return None
    now = {id(e): dict(e.attrib) for e in root.iter()}
    changed = [
        tags.get("data-round", "") for name, (_, tags) in before.items() if now.get(name) != tags
    ]
    rounds = frozenset(text for text in changed if text.isdigit())
    broken = tags_lost(bytes_of(root))
    return None if _shown(broken) == _shown(svg) else Broken(broken, rounds)


def _shown(svg: bytes) -> tuple[object, ...]:
    page = read(svg)
    shapes = (
        # What is filled is seen without its outline too.
        (s.data, s.box, s.fill, *((s.stroke, s.pen) if s.fill == "none" else ()), s.hidden)
        for s in page.shapes
    )
    return (*shapes, page.findings)
