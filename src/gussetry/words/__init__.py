"""The pattern text: every round in words, all sizes in one, from the stitch maps alone."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from gussetry.grading import GradedSize
from gussetry.spec import Spec
from gussetry.stitchmap import Piece, StitchMap
from gussetry.telling.names import Terms
from gussetry.words.blocks import Form, rendered
from gussetry.words.document import document
from gussetry.words.events import Scene

__all__ = ["Form", "pattern_text"]


def pattern_text(
    spec: Spec,
    graded: Sequence[GradedSize],
    rounding: tuple[Fraction, Fraction],
    terms: Terms,
    form: Form = "markdown",
) -> str:
    """The text of the pattern for these sizes, which share its lines: one size, or all.

    `rounding`: to how many millimetres, and to how many inches, measures are rounded.
    """
    shown = [_listable(size) for size in graded]
    maps = _without_idle_markers([m for size in shown for m in size.maps])
    return rendered(document(spec, shown, Scene(maps, terms, *rounding)), form)


def _without_idle_markers(maps: Sequence[StitchMap]) -> tuple[StitchMap, ...]:
    """The maps; the marker of the thumb's outer side left out where nothing is worked there in any
    of them, so that nobody carries it up for nothing."""
    thumbs = [thumb for m in maps if (thumb := m.piece("thumb"))]
    if any(r.phase == "thumb sides" for thumb in thumbs for r in thumb.rounds):
        return tuple(maps)
    return tuple(
        replace(m, pieces=tuple(_unmarked(p) if p.piece == "thumb" else p for p in m.pieces))
        for m in maps
    )


def _unmarked(piece: Piece) -> Piece:
    return replace(piece, rounds=tuple(replace(r, markers=()) for r in piece.rounds))


def _listable(graded: GradedSize) -> GradedSize:
    """The size, its name without the signs that lists of sizes are made with. Names stay apart,
    since no two may differ in signs alone."""
    name = " ".join(re.sub(r"[()\[\],/;:]", " ", graded.size.name).split()) or graded.size.name
    if name == graded.size.name:
        return graded
    maps = tuple(replace(stitches, size=name) for stitches in graded.maps)
    return replace(graded, size=replace(graded.size, name=name), maps=maps)
