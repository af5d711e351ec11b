"""What the first row of a chart is worked into, said below it: numbered places, and stretches."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from gussetry.chart import Label, Line, Tags
from gussetry.layout import boxes
from gussetry.layout.parts import MARGIN, Sheet, heads_and_feet
from gussetry.layout.rows import NEAR, Standing
from gussetry.stitchmap import Place
from gussetry.style import lettering
from gussetry.style.symbols import LEG
from gussetry.units import Point

DROP = 0.42
"""From the feet of the row down to the numbers, over the pitch: room for a line from each foot."""
TICK = 0.16
"""Height of the ends of a bracket, over the pitch."""
OFF = 0.2
"""White between a foot and the line that leads from it, mm."""
UNDER = 0.3
"""White between the numbers and the words below them, mm."""
CLEAR = 0.6
"""White between words side by side, in ems."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Places side by side under a bracket, from the middle of the cell `first` to that of `last`,
    counted in the order of working; `words`, the longest that fits is written."""

    first: float
    last: float
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Footing:
    """The ground of a first row. `numbered`: places of the crook and the middles of their cells,
    each with its number below; `stretches` beside them, the rightmost first."""

    numbered: tuple[tuple[Place, float], ...] = ()
    stretches: tuple[Stretch, ...] = ()

    def draw(self, sheet: Sheet, tags: Tags, place: Standing, low: float) -> float:
        """Draws it under the row that `tags` name, below words that reach so far down from its
        middle, mm; returns the y below it."""
        yarn, words = sheet.style.size("yarn"), sheet.style.size("sum")
        high = yarn * lettering.CAP_HEIGHT
        top = place.y + max((LEG + DROP) * place.pitch, low)
        middle = top + high / 2
        base = top + high + yarn * lettering.DESCENT + UNDER + words * boxes.ASCENT
        if not self.numbered and all(s.first == s.last for s in self.stretches):
            # Nothing but words below: they stand near the row.
            base = place.y + max(LEG * place.pitch + NEAR, low) + words * boxes.ASCENT
        numbered = self._seen(place)
        for (_, cell), number in zip(numbered, _numbers(numbered), strict=True):
            at = Point(_across(place, cell), top + high)
            sheet.labels.append(
                Label("yarn", number, at, "middle", tags=(("data-role", "crook"), *tags))
            )
        _grown(sheet, place, dict(numbered), top + high - yarn * boxes.ASCENT - UNDER / 2)
        right = _crook(sheet, place, numbered, base)
        for stretch in self.stretches:
            seen = _clipped(stretch, place)
            if seen:
                right = _bracketed(sheet, place, seen, (middle, base, right))
        return base + words * lettering.DESCENT

    def _seen(self, place: Standing) -> tuple[tuple[Place, float], ...]:
        """The numbered places that the drawn part of the row is worked into."""
        row = place.row
        into = {p for i in row.drawn for p in row.round.work[i].into}
        return tuple((p, cell) for p, cell in self.numbered if p in into)


def _clipped(stretch: Stretch, place: Standing) -> Stretch | None:
    """The stretch as far as the stitches over it are drawn; None where none is."""
    row = place.row
    over = [row.middle(i) for i in row.drawn if row.round.work[i].counts]
    first, last = max(stretch.first, min(over, default=0)), min(stretch.last, max(over, default=-1))
    return replace(stretch, first=first, last=last) if first <= last else None


def _grown(sheet: Sheet, place: Standing, cells: dict[Place, float], low: float) -> None:
    """Lines from the feet of the decreases that take up numbered places to these."""
    for i, frame in place.frames.items():
        op = place.row.round.work[i]
        if len(op.into) < 2 or not any(p in cells for p in op.into):
            continue
        _, feet = heads_and_feet(frame, op, place.pitch)
        feet.sort(key=lambda foot: -foot.x)
        for foot, into in zip(feet, op.into, strict=False):
            if into in cells:
                number = Point(_across(place, cells[into]), low)
                sheet.growth(_after(sheet, foot, number), number)


def _crook(
    sheet: Sheet, place: Standing, numbered: tuple[tuple[Place, float], ...], base: float
) -> float:
    """The crook's name under its numbers; returns the x that words beside it keep clear of."""
    if not numbered:
        return float("inf")
    cells = [cell for _, cell in numbered]
    left, right = _across(place, max(cells) + 0.5), _across(place, min(cells) - 0.5)
    # Where it is longer than its places it reaches out to where rounds begin.
    half = sheet.width_of("sum", "crook") / 2
    middle = left + max((right - left) / 2, half)
    sheet.labels.append(
        Label("sum", "crook", Point(middle, base), "middle", tags=(("data-role", "place"),))
    )
    return middle - half - CLEAR * sheet.style.size("sum")


def _after(sheet: Sheet, foot: Point, head: Point) -> Point:
    """Where a line to `head` begins, clear of the foot that it comes from."""
    white = OFF + (sheet.style.pen("shaping") + sheet.style.pen("guide")) / 2
    away = math.dist(foot, head)
    return foot.plus(Point((head.x - foot.x) * white / away, (head.y - foot.y) * white / away))


def _numbers(numbered: tuple[tuple[Place, float], ...]) -> list[str]:
    return [str(p[1] + 1) for p, _ in numbered if isinstance(p, tuple)]


def _across(place: Standing, cell: float) -> float:
    """Across the page the place of a cell of the row, mm."""
    way = 1 if place.row.rightwards else -1
    return place.axis + way * (cell - place.row.centre) * place.pitch


def _bracketed(
    sheet: Sheet, place: Standing, stretch: Stretch, levels: tuple[float, float, float]
) -> float:
    """A bracket under a stretch and its words; `levels`: the bracket's y, the words' baseline, and
    the x that they stay to the left of. Returns the x that the next words stay to the left of."""
    middle, base, most = levels
    ends = _across(place, stretch.first), _across(place, stretch.last)
    left, right = min(ends), max(ends)
    up = middle - TICK * place.pitch
    if right - left > place.pitch / 2:
        points = (Point(right, up), Point(right, middle), Point(left, middle), Point(left, up))
        sheet.lines.append(Line("rule", points))
    for words in stretch.words:
        wide = sheet.width_of("sum", words)
        end = min((left + right + wide) / 2, most)
        if end - wide >= MARGIN:
            break
    sheet.labels.append(
        Label("sum", words, Point(end, base), "end", tags=(("data-role", "place"),))
    )
    return end - wide - CLEAR * sheet.style.size("sum")
