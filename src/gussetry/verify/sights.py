"""Whether two colours can be told apart: by every kind of colour vision and in every print."""

from __future__ import annotations

from gussetry.colours import SIGHTS, difference, grey, seen

LEAST_APART = 10.0
"""CIEDE2000 under which two patches run together: about 1 can just be told when two large fields
touch; chips and low stripes are small, and printed and copied. Common practice, no source."""


def alike(one: str, other: str) -> str:
    """In words, the first view in which two colours `#rrggbb` look alike; empty where in none."""
    views = [("in full colour", one, other), ("in greyscale", grey(one), grey(other))]
    views += [(f"to {sight} sight", seen(one, sight), seen(other, sight)) for sight in SIGHTS]
    return next((told for told, a, b in views if difference(a, b) < LEAST_APART), "")
