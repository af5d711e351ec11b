"""How far from a size the hands are that it still serves: of adults half a glove step, of children
and infants a step of the surveyed children."""

from __future__ import annotations

from fractions import Fraction

from gussetry.grading.measures import wearer
from gussetry.spec import Size
from gussetry.survey import HALF_STEP, HANDS

CHILD_STEPS = ("0 months", "6 months", "12 months", *(f"age {years}" for years in range(2, 14)))
"""The steps of children's sizes: half a year up to the first birthday, a year from then on.

Children's sizes often skip every other year (common practice, no source): then nobody in the run is
further than a step from the nearest. A glove step would span three years and more.
"""
_CHILDREN = tuple(HANDS[name].measures["hand circumference"] for name in CHILD_STEPS)


def of_children(size: Size) -> bool:
    """Whether a size is for children or infants, by its word or by the guess of its wearer."""
    return wearer(size) in ("children", "infants")


def smallest_served(size: Size) -> Fraction:
    """The smallest hand that the size serves, mm round."""
    girth = size.hand_circumference
    return _steps_on(girth, -1) if of_children(size) else girth - HALF_STEP


def largest_served(size: Size) -> Fraction:
    """The largest hand that the size serves, mm round."""
    girth = size.hand_circumference
    return _steps_on(girth, 1) if of_children(size) else girth + HALF_STEP


def children_between(low: Fraction, high: Fraction) -> tuple[str, ...]:
    """The children of the table whose mean hand, mm round, lies between the two."""
    known = zip(CHILD_STEPS, _CHILDREN, strict=True)
    return tuple(name for name, girth in known if low < girth < high)


def _steps_on(girth: Fraction, steps: int) -> Fraction:
    """The hand so many steps of the table larger, mm round. Between two hands of the table the
    steps are shared out evenly; beyond its ends the last step goes on."""
    place = next((i for i, known in enumerate(_CHILDREN[1:-1]) if girth < known), _LAST)
    apart = (girth - _CHILDREN[place]) / (_CHILDREN[place + 1] - _CHILDREN[place])
    return _at(place + apart + steps)


_LAST = len(_CHILDREN) - 2


def _at(steps: Fraction) -> Fraction:
    """The hand at a number of steps of the table, mm round."""
    place = min(max(0, steps.__floor__()), _LAST)
    return _CHILDREN[place] + (steps - place) * (_CHILDREN[place + 1] - _CHILDREN[place])
