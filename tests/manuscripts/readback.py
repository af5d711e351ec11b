"""Words of a specification read back: the check must find nothing in either terms."""

from __future__ import annotations

from fractions import Fraction

from gussetry.diagnostics import Faults
from gussetry.grading import Grading, grade
from gussetry.grading.amounts import needs
from gussetry.manuscripts import Against, Checked, check_against
from gussetry.spec import Spec
from gussetry.telling.names import Terms
from gussetry.words import Form, pattern_text

ROUNDING = (Fraction(5), Fraction(1, 4))


def graded(spec: Spec) -> Grading | None:
    """The specification graded, None where it cannot be."""
    try:
        return grade(spec)
    except Faults:
        return None


def words_of(spec: Spec, grading: Grading, terms: Terms, form: Form = "markdown") -> str:
    """The pattern text of all sizes."""
    return pattern_text(spec, grading.sizes, ROUNDING, terms, form)


def read_back(text: str, spec: Spec, grading: Grading) -> Checked:
    """The text and its figures checked against the grading that it was written from."""
    wanted = {size.size.name: needs(spec, size) for size in grading.sizes}
    return check_against(text, "words", Against(grading.maps, ROUNDING, wanted))
