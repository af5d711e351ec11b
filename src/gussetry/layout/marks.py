"""Which outline is which size, told in the drawing: names within the smallest hand, each with a
leader to its outline."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from gussetry.chart import Label, Line
from gussetry.layout import boxes
from gussetry.layout.outlines import Outline, edges, leftmost, top_at
from gussetry.style import Style, lettering
from gussetry.units import Point

_STEP = 1.2
"""From one leader to the next, mm."""
_AIR = 0.6
_ASIDE, _TRIED = 2.0, 8
"""How far names are moved aside where they have no room, mm, and how often that is tried."""
_HEAD = 2.6
"""From an outline to the next below it, where an arrowhead at it has room, mm."""


def size_marks(
    found: Sequence[Outline], style: Style, crook: float
) -> tuple[list[Line], list[Label]]:
    """The names of all sizes, one below the other, the smallest highest, and from each a leader up
    to the crown of its hand, with heads where all have room; nothing where the smallest hand has no
    room for them clear of the line at the y `crook`."""
    hands = [outline for outline in found if outline.piece == "hand"]
    size = style.size("term")
    row = 1.15 * size
    wide = max(boxes.words_width("term", hand.size, style) for hand in hands)
    reach = (len(hands) - 1) * _STEP
    whole = reach + 2 * _AIR + wide
    # Leaders about the centre line go up to the flat of their tips; a slim hand has no room for it,
    # nor one over which thumbs lie.
    for left in (-reach / 2, -whole / 2, *(-whole / 2 - k * _ASIDE for k in range(1, _TRIED))):
        top = _room(found, boxes.Box(left, 0.0, left + whole, len(hands) * row), row, crook)
        if top is not None:
            break
    else:
        return [], []
    lines, labels = [], []
    places = [left + reach - i * _STEP for i in range(len(hands))]
    pointed = all(
        top_at(below.points, x) - top_at(hand.points, x) >= _HEAD
        for x, (below, hand) in zip(places[1:], pairwise(hands), strict=True)
    )
    for x, (i, hand) in zip(places, enumerate(hands), strict=True):
        middle = top + (i + 0.5) * row
        words = Point(left + reach + 2 * _AIR, middle)
        crown = top_at(hand.points, x)
        tags = (("data-role", "rule"), ("data-size", hand.size))
        points = (Point(x, crown), Point(x, middle), Point(words.x - _AIR, middle))
        lines.append(Line("rule", points, "start" if pointed else "none", tags=tags))
        at = Point(words.x, middle + size * lettering.CAP_HEIGHT / 2)
        labels.append(
            Label("term", hand.size, at, tags=(("data-role", "term"), ("data-size", hand.size)))
        )
    return lines, labels


def _room(found: Sequence[Outline], block: boxes.Box, gap: float, crook: float) -> float | None:
    """The highest y at which a block stands in every hand, a gap below the lowest tip and clear of
    a level line and of thumbs over the hands; None if there is none above the hands' lowest
    quarter."""
    hands = [outline for outline in found if outline.piece == "hand"]
    thumbs = [outline for outline in found if outline.piece == "thumb"]
    high = max(min(p.y for p in hand.points) for hand in hands)
    low = max(p.y for p in hands[0].points)
    y = high + gap + 2.0
    while y + block.bottom < low - (low - high) / 4:
        cuts = [
            edges(hand.points, level) for hand in hands for level in (y - gap / 2, y + block.bottom)
        ]
        clear = not y - gap / 2 < crook < y + block.bottom + gap / 2 and all(
            block.right + 1.0 < leftmost(thumb.points, y - gap / 2, y + block.bottom)
            for thumb in thumbs
        )
        if clear and all(
            cut and cut[0] + 1.0 < block.left and block.right < cut[1] - 1.0 for cut in cuts
        ):
            return y
        y += 0.5
    return None
