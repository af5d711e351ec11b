"""Legibility: whether a finished drawing can be read, measured from the SVG alone.

Exact shapes are held against each other, never boxes: strokes with their pens, letters as the areas
they fill. What a guide line leads to, what a chip means and how a chart is laid out is not known
here; only what is painted counts.
"""

from __future__ import annotations

from gussetry.verify.findings import Disagreement, Limits, UnreadableError
from gussetry.verify.legibility_grounds import covered, faint
from gussetry.verify.legibility_measures import off_their_line
from gussetry.verify.legibility_shapes import Scene
from gussetry.verify.legibility_sizes import off_page, pens, small_stitches, small_text
from gussetry.verify.legibility_stripes import alike_stripes, lost
from gussetry.verify.legibility_touch import astray, clogged, touching
from gussetry.verify.reading import read
from gussetry.verify.svg import Page

__all__ = ["KINDS", "Limits", "legibility"]

KINDS = (
    "glyph-on-glyph", "text-on-text", "text-on-glyph", "line-on-glyph", "line-on-text",
    "text-on-edge", "letter-off-chip", "off-page", "text-at-margin", "pen-unknown", "pen-thin",
    "pens-alike", "text-small", "stitch-small", "text-faint", "glyph-faint", "line-faint",
    "covered", "stripes-alike", "hatches-alike", "patch-lost", "glyph-clogged", "measure-astray",
)  # fmt: skip
"""Every kind of finding, in plain words."""


def legibility(drawing: Page | bytes, limits: Limits | None = None) -> tuple[Disagreement, ...]:
    """Everything in a drawing that cannot be read, each with its place in mm."""
    limits = limits or Limits()
    try:
        page = read(drawing) if isinstance(drawing, bytes) else drawing
    except UnreadableError as fault:
        return (Disagreement("unreadable", str(fault)),)
    return tuple(_found(Scene(page), limits))


def _found(seen: Scene, limits: Limits) -> list[Disagreement]:
    return [
        *touching(seen),
        *clogged(seen),
        *astray(seen),
        *off_their_line(seen),
        *off_page(seen),
        *pens(seen),
        *small_text(seen, limits.text),
        *small_stitches(seen, limits.stitch),
        *covered(seen),
        *faint(seen),
        *alike_stripes(seen),
        *lost(seen),
    ]
