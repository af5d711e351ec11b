"""Which row of a stitch chart something stands beside."""

from __future__ import annotations

from itertools import pairwise

from gussetry.stitchmap import Round
from gussetry.verify.charts import Sheet, nearest_level
from gussetry.verify.svg import Shape


def beside_row(sheet: Sheet, shape: Shape, rounds: dict[int, Round]) -> Round | None:
    """The round of the row that a label or patch stands beside.

    On a crown the rings crowd the labels: there the label's own round counts if the label lies no
    more than one ring from it.
    """
    point = shape.box.centre
    gap = row_gap(sheet)
    if sheet.centre is None:
        levels = {row.level: round_ for row, round_ in sheet.paired}
        if not levels:
            return None
        level, near = nearest_level(list(levels), point.imag)
        return levels[level] if abs(level - point.imag) <= max(gap, near) / 2 + 0.01 else None
    tag = shape.tag("round")
    own = rounds.get(int(tag)) if tag.isascii() and tag.isdigit() else None
    for row, round_ in sheet.paired:
        if round_ is own and abs(abs(point - sheet.centre) - row.level) <= 1.2 * gap:
            return own
    return None


def row_gap(sheet: Sheet) -> float:
    """The usual distance of two rows, mm."""
    gaps = sorted(abs(below.level - above.level) for below, above in pairwise(sheet.rows))
    return gaps[len(gaps) // 2] if gaps else 5.0
