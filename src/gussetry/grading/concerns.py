"""What a technical editor would warn of. Warnings never stop a run by themselves.

Each is told once, with every size that it is true of. DEVELOPERS.md lists them with their sources.
"""

from __future__ import annotations

from collections.abc import Callable

from gussetry.diagnostics import Problem
from gussetry.grading.concerns_body import (
    crook_concerns,
    cuff_concerns,
    float_concerns,
    shrinking_concerns,
    thumb_concerns,
    thumbless_concerns,
)
from gussetry.grading.concerns_colours import colour_concerns
from gussetry.grading.concerns_gauge import shape_concerns, weight_concerns
from gussetry.grading.concerns_pins import pin_concerns
from gussetry.grading.concerns_work import crown_concerns, halves_concerns, lean_concerns
from gussetry.grading.finished import GradedSize
from gussetry.spec import Spec

Graded = tuple[GradedSize, ...]


def concerns(spec: Spec, graded: Graded, regrade: Callable[[Spec], Graded]) -> tuple[Problem, ...]:
    """Everything that deserves a warning. `regrade` grades the specification with other pins."""
    found = [*weight_concerns(spec), *shape_concerns(spec), *shrinking_concerns(spec)]
    for check in (
        thumb_concerns,
        cuff_concerns,
        halves_concerns,
        crown_concerns,
        lean_concerns,
        float_concerns,
        crook_concerns,
        thumbless_concerns,
        colour_concerns,
    ):
        found += check(spec, graded)
    return (*found, *pin_concerns(spec, graded, regrade))
