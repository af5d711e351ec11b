"""Sizes: pens, letters, stitches, and the edge of the page."""

from __future__ import annotations

import math
from collections.abc import Iterator

from gussetry.verify.findings import Disagreement
from gussetry.verify.glyphs import contours_of, em_of
from gussetry.verify.legibility_shapes import Scene, finding, half, named
from gussetry.verify.rows import pitch_of
from gussetry.verify.svg import Shape

POINT = 25.4 / 72
"""Millimetres in a point (SVG 1.1)."""
SERIES = (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0)
"""The widths of lines of ISO 128-2, mm: from memory."""
LEAST_PEN = 0.25 * POINT
"""A hairline that presses still hold: a quarter of a point, common practice, no source."""
STEPS = 2
"""Steps of the series from thin lines to thick ones at least; two of them double the width (ISO
128-2, from memory), 0.18 to 0.35 as well as 0.25 to 0.5."""
MARGIN = 2.0
"""Millimetres that text keeps off the edge of the page at least, for a cut that goes astray: common
practice, no source."""
_SAME_PEN = 0.002  # mm
_ROUNDED = 0.99  # coordinates are rounded to 0.001 mm: a letter measures up to 1 % too small
_MEASURED = 0.95  # so much of the true pitch is found from the middles of boxes at least


def off_page(seen: Scene) -> Iterator[Disagreement]:
    """What leaves the page, its pen included, and text that stands too near its edge."""
    width, height = seen.page.width, seen.page.height
    for order, shape in seen.shapes.items():
        sort = seen.sorts[order]
        keep = MARGIN if sort == "text" else half(shape)
        box = shape.box
        if min(box.left, box.top, width - box.right, height - box.bottom) >= keep - 1e-6:
            continue
        left, top, right, bottom = seen.drawn(order).bounds
        room = min(left, top, width - right, height - bottom)
        if room < (0 if sort == "text" else keep) - 1e-6:
            yield finding("off-page", f"{named(shape)} leaves the page", shape)
        elif room < keep - 1e-6:
            message = f"{named(shape)} stands {room:.1f} mm from the page's edge"
            yield finding("text-at-margin", message, shape)


def pens(seen: Scene) -> Iterator[Disagreement]:
    """Pens that are none of the series, too thin, or too much alike."""
    by_width: dict[float, list[Shape]] = {}
    for shape in seen.shapes.values():
        if half(shape) > 0:
            by_width.setdefault(shape.pen, []).append(shape)
    for width, shapes in sorted(by_width.items()):
        told = f"{named(shapes[0])} has a pen of {width:g} mm"
        if width < LEAST_PEN - _SAME_PEN:
            yield finding("pen-thin", f"{told}, thinner than a quarter of a point", shapes[0])
        elif _step(width) is None:
            yield finding("pen-unknown", f"{told}, no width of ISO 128", shapes[0])
    thick = [w for w, found in by_width.items() if any(_is_thick(seen, s) for s in found)]
    thin = [w for w, found in by_width.items() if not all(_is_thick(seen, s) for s in found)]
    if thick and thin and not _doubled(min(by_width), max(by_width)):
        message = (
            f"the widest pen is {max(by_width):g} mm, the narrowest {min(by_width):g} mm:"
            " thick lines and thin ones are not told apart"
        )
        yield finding("pens-alike", message, by_width[max(by_width)][0])


def _is_thick(seen: Scene, shape: Shape) -> bool:
    """Whether a shape is of what is read first: symbols, and the outline of a schematic."""
    return seen.sorts[shape.order] == "glyph" or shape.tag("role") == "outline"


def _step(width: float) -> int | None:
    near = [i for i, known in enumerate(SERIES) if abs(width - known) <= _SAME_PEN]
    return near[0] if near else None


def _doubled(narrow: float, wide: float) -> bool:
    low, high = _step(narrow), _step(wide)
    if low is None or high is None:
        return wide / narrow >= math.sqrt(2) ** STEPS - 0.06
    return high - low >= STEPS


def small_text(seen: Scene, least: float) -> Iterator[Disagreement]:
    """Text whose letters, as they are drawn, are smaller than `least` points."""
    for shape in seen.of("text"):
        em = em_of(contours_of(shape.subs), shape.tag("says"))
        if em is not None and em < least * POINT * _ROUNDED:
            message = f"{named(shape)} is set in {em / POINT:.1f} points, {least:g} are the least"
            yield finding("text-small", message, shape)


def small_stitches(seen: Scene, least: float) -> Iterator[Disagreement]:
    """A chart whose stitches stand closer than `least` mm."""
    stitches = [shape for shape in seen.of("glyph") if "stitch" in shape.classes]
    pitch = pitch_of([shape.box.centre for shape in stitches])
    if stitches and 0 < pitch < least * _MEASURED:
        message = f"stitches stand {pitch:.2f} mm apart, {least:g} are the least"
        yield finding("stitch-small", message, stitches[0])
