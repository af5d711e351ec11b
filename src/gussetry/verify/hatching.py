"""Hatches: what a reader without colours must find on the stripes and swatches of each yarn.

A hatch is read from where its strokes cross the middle of an area, not from what they are tagged.
"""

from __future__ import annotations

import cmath
import math
from collections import defaultdict
from collections.abc import Sequence
from itertools import pairwise

from gussetry.colours import contrast
from gussetry.stitchmap import StitchMap
from gussetry.verify.findings import Disagreement
from gussetry.verify.labels import found_at
from gussetry.verify.outlines import ends_at, segments
from gussetry.verify.paths import Box, flattened
from gussetry.verify.svg import LEAST_SYMBOL, Page, Shape

_HATCHES = (
    ("", 0.0), ("/", 1.8), ("/\\", 1.8), ("|", 1.8), ("\\", 1.8),
    ("/", 0.9), ("/\\", 0.9), ("|", 0.9), ("\\", 0.9), ("/|", 1.8), ("|\\", 1.8), ("/|\\", 1.8),
)  # fmt: skip
"""The directions of a yarn's strokes by its place among the yarns, and how far apart they are, mm:
DEVELOPERS.md."""
UPRIGHT = 90
_TURN = {"/": 45, "|": UPRIGHT, "\\": 135}
TURNS = tuple(_TURN.values())
"""The directions that a hatch's strokes have, degrees anticlockwise from level."""
_SLANT = 2.0  # degrees: ends are rounded to 0.001 mm, the shortest strokes are some 0.5 mm long
_SLACK = 0.06  # mm

Hatch = dict[int, float]
"""Directions in degrees from level, anticlockwise, and how far apart their strokes are, mm."""


def hatch_of(place: int) -> Hatch:
    """The hatch of a yarn by its place in the list of yarns, from 0."""
    signs, apart = _HATCHES[place]
    return {_TURN[sign]: apart for sign in signs}


def is_hatched(page: Page) -> bool:
    """Whether the drawing tells yarns by hatches."""
    return page.tag("yarns") == "hatches"


def paper(page: Page) -> str:
    """The colour of the page, white where it has none of its own."""
    return next((s.fill for s in page.shapes if s.tag("role") == "paper"), "#ffffff")


def strokes(page: Page) -> list[tuple[complex, complex]]:
    """Both ends of every hatch stroke that can be seen."""
    ground = paper(page)
    return [
        ends
        for shape in page.shapes
        if shape.tag("role") == "hatch"
        and any(contrast(ink, ground) >= LEAST_SYMBOL for ink in shape.inks)
        for sub in shape.subs
        for ends in pairwise(flattened(sub))
    ]


def over_it(shape: Shape, areas: Sequence[Shape]) -> list[Shape]:
    """The areas that may lie over one: over the hand the thumb's."""
    pieces = ("hand", "thumb")
    return [area for area in areas if (shape.tag("piece"), area.tag("piece")) == pieces]


def seen(shape: Shape, over: Sequence[Shape]) -> tuple[float, float] | None:
    """Where the middle of an area begins and ends that others `over` it leave to be seen; None
    where they leave nothing."""
    level = shape.box.centre.imag
    cut = ends_at(segments([shape]), level)
    for other in over:
        covered = ends_at(segments([other]), level)
        if cut is None or covered is None:
            continue
        if covered[0] < cut[1] <= covered[1]:
            cut = cut[0], covered[0]
        elif covered[0] <= cut[0] < covered[1]:
            cut = covered[1], cut[1]
        cut = cut if cut[0] < cut[1] else None
    return cut


def compare_hatch(
    stitches: StitchMap,
    yarn: str,
    shape: Shape,
    drawn: Sequence[tuple[complex, complex]],
    over: Sequence[Shape] = (),
) -> list[Disagreement]:
    """What the hatch of an area has wrong for its yarn, as far as it is seen beside what lies
    `over` it: a direction, its distances, its reach."""
    place = [letter for letter, _, _ in stitches.yarns].index(yarn)
    wanted = hatch_of(place)
    cut = seen(shape, over)
    if cut is None:
        return []
    found = crossed(shape.box._replace(left=cut[0], right=cut[1]), drawn)
    steps = {way: apart / math.sin(math.radians(way)) for way, apart in wanted.items()}
    # An area that is narrower than a step may have no stroke.
    missing = [t for t in wanted if t not in found and steps[t] + _SLACK < cut[1] - cut[0]]
    if missing or set(found) - set(wanted):
        return [found_at("colour", f"an area has not yarn {yarn}'s hatch", shape,
                         _told(wanted), _told(found))]  # fmt: skip
    findings = []
    for turned, step in steps.items():
        # Nothing may be missing at the sides either: half of what a gap is more than a step.
        ends = [cut[0], *sorted(found.get(turned, ())), cut[1]]
        gaps = [b - a for a, b in pairwise(ends)]
        even = all(abs(gap - step) <= _SLACK for gap in gaps[1:-1])
        if not even or max(gaps[0], gaps[-1]) > step + _SLACK:
            findings.append(
                found_at("colour", f"the hatch of yarn {yarn} has other gaps", shape,
                         f"{step:.2f} mm", f"{max(gaps):.2f} mm at most")
            )  # fmt: skip
    return findings


def crossed(box: Box, drawn: Sequence[tuple[complex, complex]]) -> dict[int, list[float]]:
    """Where strokes cross the middle of a box, by their directions."""
    level = box.centre.imag
    found: dict[int, list[float]] = defaultdict(list)
    for a, b in drawn:
        if not min(a.imag, b.imag) <= level <= max(a.imag, b.imag):
            continue
        x = a.real + (level - a.imag) * (b.real - a.real) / ((b.imag - a.imag) or 1.0)
        if box.left - _SLACK <= x <= box.right + _SLACK:
            found[turn(b - a)].append(x)
    return dict(found)


def turn(way: complex) -> int:
    """The direction of a stroke, degrees anticlockwise from level, at one of the three if near."""
    turned = math.degrees(cmath.phase(way.conjugate())) % 180
    return next((t for t in TURNS if abs(turned - t) <= _SLANT), round(turned))


def _told(hatch: Hatch | dict[int, list[float]]) -> str:
    return ", ".join(f"{turn}°" for turn in sorted(hatch)) or "none"


def strays(areas: Sequence[Shape], drawn: Sequence[tuple[complex, complex]]) -> list[Disagreement]:
    """Hatch strokes that reach beyond every stripe and swatch."""
    out = [
        end
        for ends in drawn
        for end in ends
        if not any(
            area.box.left - _SLACK <= end.real <= area.box.right + _SLACK
            and area.box.top - _SLACK <= end.imag <= area.box.bottom + _SLACK
            for area in areas
        )
    ]
    return [Disagreement("stray", "a hatch stroke lies outside the stripes",
                         at=(round(end.real, 2), round(end.imag, 2)))
            for end in out[:1]]  # fmt: skip
