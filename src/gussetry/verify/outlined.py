"""Strokes that a drawing program has turned into outlines: stitches filled instead of drawn."""

from __future__ import annotations

from collections.abc import Iterable

from gussetry.verify.charts import symbol_in
from gussetry.verify.findings import Disagreement
from gussetry.verify.svg import Page, Shape
from gussetry.verify.tagless_parts import Parts, is_rectangle, is_stroked

_REMEDY = "strokes were turned into outlines: undo that in the drawing program"


def compare_outlined(pages: Iterable[tuple[int, Page]]) -> tuple[Disagreement, ...]:
    """One finding, at the first sheet whose strokes are outlines now; none where all are drawn."""
    for number, page in pages:
        if _turned(page):
            return (Disagreement("outlined", _REMEDY, sheet=number),)
    return ()


def outlined_odd(parts: Parts) -> bool:
    """Whether more is filled that is neither letter, patch nor arrowhead than is drawn with a pen:
    strokes turned into outlines, on a page without tags."""
    drawn = [shape for shape in (*parts.glyphs, *parts.lines) if is_stroked(shape)]
    return len(parts.odd) > 3 and len(parts.odd) > len(drawn)


def _turned(page: Page) -> bool:
    own = [s for s in page.shapes if {"stitch", "symbol"} & set(s.classes)]
    filled = [s for s in own if _is_filled(s) and symbol_in(s, -1j) is None]
    if own:
        return len(filled) > 3 and 2 * len(filled) > len(own)
    inked = [shape for shape in page.shapes if shape.inks]
    # Every drawing has some line.
    return len(inked) > 5 and not any(is_stroked(s) for s in inked) and not _all_plain(inked)


def _is_filled(shape: Shape) -> bool:
    return bool(shape.inks) and shape.fill != "none" and not is_stroked(shape)


def _all_plain(shapes: Iterable[Shape]) -> bool:
    """Whether all there is are labels and rectangles: its lines are gone, not turned."""
    return all("data-says" in shape.marks or is_rectangle(shape) for shape in shapes)
