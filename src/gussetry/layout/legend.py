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
    """Swatches and words from the top left `corner` down, in as many columns as the width has room
    for, names too long for one broken; and the y below them."""
    size = style.size("term")
    drop = size * lettering.CAP_HEIGHT / 2
    wide, high, top = 2.0 * size, 0.9 * size, corner.y + 0.2
    names = [f"{letter}  {name}" for letter, name, _ in stitches.yarns]
    across = wide + 2.6 * size + max(boxes.words_width("term", name, style) for name in names)
    columns = min(max(1, int((width + 2.0 * size) / across)), -(-len(names) // 4))
    deep = -(-len(names) // columns)
    patches: list[Patch] = []
    labels: list[Label] = []
    lowest = y = corner.y
    for i, (letter, _, colour) in enumerate(stitches.yarns):
        if i % deep == 0:
            left, y = corner.x + i // deep * across, corner.y
        down = y - corner.y
        corners = (
            Point(left, top + down), Point(left + wide, top + down),
            Point(left + wide, top + down + high), Point(left, top + down + high),
        )  # fmt: skip
        tags = (("data-role", "swatch"), ("data-yarn", letter))
        patches.append(Patch(corners, letter, colour, tags))
        for words in boxes.wrapped(names[i], "term", width - wide - size, style):
            at = Point(left + wide + 0.6 * size, y + 0.2 + high / 2 + drop)
            labels.append(Label("term", words, at, tags=(("data-role", "term"),)))
            y += 1.5 * size
        lowest = max(lowest, y)
    return patches, labels, lowest
