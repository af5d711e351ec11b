"""Guide lines broken around the words that stand in their way."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from gussetry.chart import Label, Line
from gussetry.layout.boxes import Box, label_box
from gussetry.style import Style
from gussetry.units import Point

WHITE = 0.45
"""White between words and what is left of a line, half its pen included, mm."""
DEEP = frozenset("gjpqy,()")
"""What reaches below the line."""
LEAST = 0.2
"""The least piece of a line that is left, mm."""
BROKEN = ("growth", "marker", "rule", "join")


def broken(lines: Iterable[Line], words: Sequence[Label], style: Style) -> list[Line]:
    """The lines, guides among them in pieces where they would meet the words. Of a marker's line
    the lowest piece stays the marker; the others are tagged as leading on from it."""
    loose, tight = ([_around(label, style, deep) for label in words] for deep in (True, False))
    found: list[Line] = []
    for line in lines:
        if line.kind not in BROKEN or len(line.points) != 2:
            found.append(line)
            continue
        pieces = _pieces(line.points, loose)
        foot = max(line.points, key=lambda point: point.y)
        if line.kind == "marker" and not any(foot in piece for piece in pieces):
            # A marker stands over its stitch, however near the words are.
            pieces = _pieces(line.points, tight)
        if len(pieces) == 1 and pieces[0] == line.points:
            found.append(line)
            continue
        pieces.sort(key=lambda piece: -max(p.y for p in piece))
        for nth, piece in enumerate(pieces):
            leads = line.kind == "marker" and nth
            tags = (("data-role", "leading"),) if leads else line.tags
            found.append(Line(line.kind, piece, tags=tags))
    return found


def _around(label: Label, style: Style, deep: bool) -> Box:
    """What lines keep off: the words and the white about them, as deep as any letter reaches, or
    as these do."""
    box = label_box(label, style)
    low = box.bottom if deep or DEEP & set(label.text) else label.at.y
    return Box(box.left - WHITE, box.top - WHITE, box.right + WHITE, low + WHITE)


def _pieces(points: Sequence[Point], boxes: Sequence[Box]) -> list[tuple[Point, ...]]:
    """What is left of a straight line outside all boxes."""
    a, b = points
    hidden = sorted(span for box in boxes if (span := _within(a, b, box)))
    if not hidden:
        return [(a, b)]
    far = ((b.x - a.x) ** 2 + (b.y - a.y) ** 2) ** 0.5
    found: list[tuple[Point, ...]] = []
    at = 0.0
    for low, high in [*hidden, (1.0, 1.0)]:
        if (low - at) * far > LEAST:
            found.append((_on(a, b, at), _on(a, b, low)))
        at = max(at, high)
    return found


def _on(a: Point, b: Point, share: float) -> Point:
    return Point(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share)


def _within(a: Point, b: Point, box: Box) -> tuple[float, float] | None:
    """From where to where along a line it passes through a box (Liang and Barsky's clipping)."""
    low, high = 0.0, 1.0
    for start, way, least, most in (
        (a.x, b.x - a.x, box.left, box.right),
        (a.y, b.y - a.y, box.top, box.bottom),
    ):
        if way == 0:
            if not least < start < most:
                return None
            continue
        enters, leaves = sorted(((least - start) / way, (most - start) / way))
        low, high = max(low, enters), min(high, leaves)
    return (low, high) if low < high else None
