"""Specifications to warn of, and the warnings that a grading gives."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

from gussetry.diagnostics import Problem
from gussetry.grading import grade
from gussetry.spec import Cuff, Gauge, Size, Spec, Stripe, Stripes, Yarn

GRAIN = Fraction(1, 10**6)
"""How far beyond a bound is beyond it."""


def told(spec: Spec, code: str) -> list[Problem]:
    """The warnings of that code."""
    return [p for p in grade(spec).warnings if p.code == code]


def message(spec: Spec, code: str) -> str:
    """The one warning of that code."""
    (problem,) = told(spec, code)
    return problem.message


def of_size(base: Spec, **measures: Any) -> Spec:
    """The specification with those measures in its first size."""
    first = replace(base.sizes[0], **measures)
    return replace(base, sizes=(first, *base.sizes[1:]))


def free(*girths: int, gauge: Gauge | None = None) -> Spec:
    """A specification without pins, sizes by their hand's circumference, without a cuff."""
    return Spec(
        pattern="Free",
        gauge=gauge or Gauge("sc", Fraction(5), Fraction(9, 2)),
        yarns=(Yarn("A", "grey", "#777777"), Yarn("B", "blue", "#0033aa")),
        sizes=tuple(Size(f"S{girth}", Fraction(girth), "women") for girth in girths),
        stripes=Stripes((Stripe("A", 1),)),
        cuff=Cuff(style="none"),
    )
