"""What is printed with sizes for small children.

Thread from mittens is a reported cause of finger strangulation: Barton, Sloan & Nichter,
Pediatrics 1988;82(6):925–928. The wording is our own; local rules come first.
"""

from __future__ import annotations

from gussetry.spec import Size, Spec

UNDER_THREE = 36
"""Months."""

CAUTIONS = (
    "No ties, cords or elastic at the wrist.",
    "Weave in and trim all ends and floats inside.",
    "Turn inside out and look for loose threads before every wear: thread from mittens can"
    " strangle a finger (Barton, Sloan & Nichter, Pediatrics 1988;82(6):925–928).",
    "Not for unattended sleep.",
    "No buttons, beads or other small parts.",
    "Follow the product-safety rules of the place of sale.",
)


def cautioned(size: Size) -> bool:
    """Whether the size's range starts under three years."""
    if size.age_from_months is not None:
        return size.age_from_months < UNDER_THREE
    return size.wearer == "infants"


def cautions(spec: Spec) -> tuple[str, ...]:
    """The cautions to print, none where no size is for children under three."""
    return CAUTIONS if any(cautioned(size) for size in spec.sizes) else ()
