"""The pattern text: every round in words, all sizes in one, from the stitch maps alone."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from gussetry.grading import GradedSize
from gussetry.spec import Spec
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
    maps = tuple(m for size in shown for m in size.maps)
    return rendered(document(spec, shown, Scene(maps, terms, *rounding)), form)


def _listable(graded: GradedSize) -> GradedSize:
    """The size, its name without the signs that lists of sizes are made with. Names stay apart,
    since no two may differ in signs alone."""
    name = " ".join(re.sub(r"[()\[\],/;:]", " ", graded.size.name).split()) or graded.size.name
    if name == graded.size.name:
        return graded
    maps = tuple(replace(stitches, size=name) for stitches in graded.maps)
    return replace(graded, size=replace(graded.size, name=name), maps=maps)
