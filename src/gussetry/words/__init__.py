"""The pattern text: every round in words, all sizes in one, from the stitch maps alone."""

from __future__ import annotations

from collections.abc import Sequence
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
    maps = tuple(m for size in graded for m in size.maps)
    return rendered(document(spec, graded, Scene(maps, terms, *rounding)), form)
