"""Stripes and chips: whether each tells itself from its neighbour, to every eye and in every print.

A designer's colours are hers: where two of them look alike in greyscale or without one kind of
cone, she has been warned. The drawing must tell the two yarns all the same: by different hatches;
a chip by its letter; a stripe by its letter beside it and an edge that shows on both. Where yarns
are told by hatches, letters are not enough.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from statistics import median

import shapely

from gussetry.colours import contrast
from gussetry.verify.findings import Disagreement
from gussetry.verify.hatching import crossed, is_hatched, over_it, seen, strokes
from gussetry.verify.labels import number
from gussetry.verify.legibility_shapes import Scene, finding, half
from gussetry.verify.paths import Box
from gussetry.verify.sights import alike
from gussetry.verify.svg import LEAST_SYMBOL, Shape

_MEET = 0.05  # mm
_STEP = 0.3  # mm, to which gaps of hatches are rounded

Marks = dict[int, int]
"""A hatch as it is drawn: how far apart its strokes are by their direction, in steps; 0 where there
is room for one only, which shows the direction all the same."""


def alike_stripes(drawing: Scene) -> Iterator[Disagreement]:
    """Neighbouring patches of two yarns that nothing tells apart."""
    hatched = is_hatched(drawing.page)
    marks = _hatches(drawing)
    names = _names(drawing)
    views: dict[tuple[str, str], str] = {}
    for one, other in _neighbours(drawing):
        if not _one_hatch(marks.get(one.order, {}), marks.get(other.order, {})):
            continue
        fills = (one.fill, other.fill)
        if fills not in views:
            views[fills] = alike(*fills)
        if not views[fills]:
            continue
        stripes = one.tag("role") == "stripe"
        two = f"stripes of yarns {one.tag('yarn')} and {other.tag('yarn')}"
        if stripes and hatched:
            yield finding("hatches-alike", f"{two} have one hatch", one)
        elif not _lettered(names, one, other) or (stripes and not _edged(one, other)):
            yield finding("stripes-alike", f"{two} look alike {views[fills]}", one)


def lost(drawing: Scene) -> Iterator[Disagreement]:
    """Patches of a yarn that melt into the paper: of its colour, to some eyes, and without an edge
    that shows on it."""
    for patch in drawing.patches:
        if not patch.tag("yarn"):
            continue
        edged = half(patch) > 0 and contrast(patch.stroke, drawing.paper) >= LEAST_SYMBOL
        where = "" if edged else alike(patch.fill, drawing.paper)
        if where:
            message = f"a {patch.tag('role')} of yarn {patch.tag('yarn')} melts into the paper"
            yield finding("patch-lost", f"{message} {where}", patch)


def _neighbours(drawing: Scene) -> Iterator[tuple[Shape, Shape]]:
    """Stripes of two yarns that touch, and chips within a chip's height of each other."""
    for role in ("stripe", "colour"):
        own = [patch for patch in drawing.patches if patch.tag("role") == role]
        if not own:
            continue
        boxes = [shapely.box(*patch.box) for patch in own]
        # Laid into a schematic, stripes of two pieces are parted by the outline.
        outlined = bool(drawing.page.tag("stripes"))
        highest = max(patch.box.bottom - patch.box.top for patch in own)
        reach = _MEET if role == "stripe" else highest
        ones, others = shapely.STRtree(boxes).query(boxes, predicate="dwithin", distance=reach)
        for i, j in zip(ones.tolist(), others.tolist(), strict=True):
            parted = outlined and own[i].tag("piece") != own[j].tag("piece")
            if i < j and own[i].tag("yarn") != own[j].tag("yarn") and not parted:
                yield own[i], own[j]


def _hatches(drawing: Scene) -> dict[int, Marks]:
    """The hatch on each stripe, by the stripe's place in painting."""
    drawn = strokes(drawing.page)
    if not drawn:
        return {}
    own = [patch for patch in drawing.patches if patch.tag("role") == "stripe"]
    return {
        patch.order: {
            turn: round(median([b - a for a, b in pairwise(sorted(at))] or [0.0]) / _STEP)
            for turn, at in crossed(_across(patch, own), drawn).items()
            if at
        }
        for patch in own
    }


def _one_hatch(one: Marks, other: Marks) -> bool:
    """Whether the two could be one hatch: the same directions, and no distance that differs."""
    return one.keys() == other.keys() and all(
        other[turn] in (apart, 0) or not apart for turn, apart in one.items()
    )


def _across(patch: Shape, others: Sequence[Shape]) -> Box:
    """The patch's box, half-way up as wide as what the others leave to be seen of it."""
    cut = seen(patch, over_it(patch, others))
    return patch.box._replace(left=cut[0], right=cut[1]) if cut else patch.box


def _names(drawing: Scene) -> dict[int, str]:
    """The yarn's letter that a reader finds on each chip, and beside each stripe."""
    letters = [shape for shape in drawing.of("text") if shape.tag("role") == "yarn"]
    spans = [(shape, _span(shape)) for shape in letters]
    found: dict[int, str] = {}
    for patch in drawing.patches:
        if patch.tag("role") == "colour":
            on = [shape for shape in letters if patch.box.holds(shape.box.centre)]
        else:
            own = _span(patch)
            on = [
                shape
                for shape, span in spans
                if shape.tag("piece") == patch.tag("piece")
                and span[0] <= own[0]
                and own[1] <= span[1]
            ]
        if on:
            found[patch.order] = on[0].tag("says")
    return found


def _span(shape: Shape) -> tuple[int, int]:
    ends = [number(part) or 0 for part in shape.tag("round").split("-")]
    return ends[0], ends[-1]


def _lettered(names: dict[int, str], one: Shape, other: Shape) -> bool:
    """Whether both bear letters, and not the same."""
    letters = names.get(one.order, ""), names.get(other.order, "")
    return "" not in letters and letters[0] != letters[1]


def _edged(one: Shape, other: Shape) -> bool:
    """Whether the edge between two stripes, the later one's, shows on both."""
    later = max(one, other, key=lambda patch: patch.order)
    return half(later) > 0 and all(
        contrast(later.stroke, fill) >= LEAST_SYMBOL for fill in (one.fill, other.fill)
    )
