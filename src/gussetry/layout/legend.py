"""The yarns of a strip or a striped schematic, each with its swatch, letter and name."""

from __future__ import annotations

from gussetry.chart import Label, Patch
from gussetry.layout import boxes
from gussetry.stitchmap import StitchMap
from gussetry.style import Style, lettering
from gussetry.units import Point


def yarn_legend(
    stitches: StitchMap, style: Style, corner: Point, width: float
) -> tuple[list[Patch], list[Label], float]:
    """Swatches and words from the top left `corner` down, the names broken to the width; and the y
    below them."""
    size = style.size("term")
    drop = size * lettering.CAP_HEIGHT / 2
    wide, high, y = 2.0 * size, 0.9 * size, corner.y
    left, top = corner.x, 0.2
    patches: list[Patch] = []
    labels: list[Label] = []
    for letter, name, colour in stitches.yarns:
        corners = (
            Point(left, y + top), Point(left + wide, y + top),
            Point(left + wide, y + top + high), Point(left, y + top + high),
        )  # fmt: skip
        tags = (("data-role", "swatch"), ("data-yarn", letter))
        patches.append(Patch(corners, letter, colour, tags))
        for words in boxes.wrapped(f"{letter}  {name}", "term", width - wide - size, style):
            at = Point(left + wide + 0.6 * size, y + top + high / 2 + drop)
            labels.append(Label("term", words, at, tags=(("data-role", "term"),)))
            y += 1.5 * size
    return patches, labels, y
