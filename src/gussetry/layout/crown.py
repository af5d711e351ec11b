"""The crown chart, seen from the tip: the first round outermost, running clockwise inwards.

Clockwise, because rounds of the hand are worked with the right side facing: on the side turned to
her a right-handed maker goes from right to left. Whoever looks down on the tip, that side towards
her, sees her go from right to left along the lower edge of the rings, as a clock's hand does.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from gussetry.chart import Chart, Label, Line
from gussetry.layout.boxes import Box, label_box
from gussetry.layout.part import Numbered, numbered
from gussetry.layout.parts import MARGIN, Sheet, Terms, heads_and_feet
from gussetry.layout.rays import draw_ray, names
from gussetry.layout.rings import Rings
from gussetry.layout.sentences import joined_text
from gussetry.layout.sheeting import EVEN, OffPage
from gussetry.layout.tags import round_tags, stitch_tags, title
from gussetry.layout.ticks import draw_tick
from gussetry.layout.unrolled import unrolled
from gussetry.stitchmap import Piece, Round, StitchMap, left_of_made
from gussetry.style import Style
from gussetry.style.symbols import LEG, family
from gussetry.units import Frame, Point

START, BESIDE, AROUND = 2.9, 0.8, 1.35
"""Room outside the first ring over the pitch: above it for the start ray and the arrow, elsewhere
for its own stitches, and where it has decreases for what these are worked into."""
ARROW = 2.1
"""How far outside the first ring the arrow runs at least, over the pitch."""
NEAR = 0.6
"""White between a ray's name and the arrow or the word at the start, over the size of the name's
letters."""
RISE = 0.25
"""By so much the arrow is set further out until it is clear of the names, mm."""
TICK = 0.2
"""Half the mark of a stitch of the round below, over the pitch."""
CLEAR = 0.2
"""White between a line of growth and the stitches that it joins, mm."""
SHORTEST = 0.4
"""The least line of growth, mm."""
MOST = 4
"""Sheets of rings at most."""
SMALLER = 0.96
"""From one pitch that is tried to the next."""


@dataclass(frozen=True, slots=True)
class _Part:
    """What one sheet shows: rounds from the outermost ring on; `below` the round that the first is
    worked into; `shut` the drawing shut, on the last sheet."""

    rounds: tuple[Round, ...]
    below: Round
    shut: Round | None
    number: Numbered


class _Crown:
    """A sheet of a crown chart while it is laid out."""

    def __init__(self, sheet: Sheet, piece: Piece, part: _Part, pitch: float) -> None:
        self.sheet, self.piece, self.part, self.pitch = sheet, piece, part, pitch
        self.rings = (
            Rings(sheet, part.rounds, pitch, part.shut is not None, part.number.sheet > 1)
            if part.rounds
            else None
        )
        radius, room = 1.2 * pitch, 0.0
        if self.rings:
            radius, room = self.rings.outermost, (AROUND if self._eaten() else BESIDE) * pitch
        self.outermost = radius + room
        """How far the drawing reaches from its centre, but for the names of its rays."""
        said = names(sheet, self.rings, self.outermost) if self.rings else []
        self.left = max([self.outermost, *(-box.left for box in said)])
        self.right = max([self.outermost, *(box.right for box in said)])
        under = 0.1 * sheet.style.size("note")
        self.down = max([self.outermost, *(box.bottom + under for box in said)])
        """How far it reaches to its sides, and down."""
        self.arrow = self._clear_of(radius + ARROW * pitch, said)
        """How far from its centre the arrow runs."""
        self.above = self.arrow + (START - ARROW) * pitch if self.rings else radius
        """How far it reaches up."""

    def _clear_of(self, radius: float, said: Sequence[Box]) -> float:
        """The least radius from that one on at which neither the arrow nor the word at the start
        comes near a name."""
        off = NEAR * self.sheet.style.size("note")
        kept = [Box(b.left - off, b.top - off, b.right + off, b.bottom + off) for b in said]
        while True:
            word = label_box(self._word(radius), self.sheet.style)
            points = (
                *_arrow(radius),
                Point(word.left, word.bottom),
                Point(word.right, word.bottom),
            )
            if not any(
                box.left < x < box.right and box.top < y < box.bottom
                for box in kept
                for x, y in points
            ):
                return radius
            radius += RISE

    def _word(self, radius: float) -> Label:
        """The word at the start beside the end of its ray, seen from the centre, over an arrow of
        that radius."""
        y = -radius - (START - 0.1 - ARROW) * self.pitch + self.sheet.drop("note")
        return Label("note", "start", Point(-1.2, y), "end", tags=(("data-role", "place"),))

    def chart(self) -> Chart:
        """The finished sheet."""
        sheet, part = self.sheet, self.part
        worked = [op for r in part.rounds for op in r.work]
        worked += part.shut.work if part.shut else ()
        name = part.number.title(title(sheet.stitches_of, "crown"))
        how = self._how()
        wide = self.left + self.right + 2 * MARGIN
        width = max(wide, sheet.title_width(name), sheet.key_width(worked))
        top = sheet.heading(name, how, width)
        # Half of the word at the start stands above the ray: it stands off from the heading.
        apart = sheet.drop("note") + 0.2 * sheet.style.size("note")
        across = (width - wide) / 2 + MARGIN + self.left
        centre = Point(across, top + self.above + apart)
        if self.rings:
            self.rings.centre = centre
            self._draw(self.rings)
        if self.rings and not part.shut:
            inwards = f"inwards: sheet {part.number.sheet + 1}"
            if sheet.width_of("note", inwards) / 2 + self.pitch < self.rings.radii[-1]:
                at = Point(centre.x, centre.y + sheet.drop("note"))
                sheet.words("note", inwards, at, "middle", role="place")
        if part.shut:
            tags = stitch_tags(sheet.stitches_of, self.piece, part.shut, 0)
            sheet.stitch(part.shut.work[0], Frame(centre, Point(0, -1)), self.pitch, tags)
        bottom = sheet.key(centre.y + self.down, width, self.pitch)
        made = sheet.chart("crown", name, f"{name}. {how}", (width, bottom + MARGIN))
        last = part.shut.number if part.shut else part.rounds[-1].number
        first = part.rounds[0].number if part.rounds else last
        return numbered(made, part.number, f"{first}-{last}")

    def _how(self) -> str:
        rounds, number = self.part.rounds, self.part.number
        how = (
            "Seen from the tip, worked from the outer ring inwards: read every round clockwise from"
            " the start, from its number to its count. Heads point to the centre."
        )
        marked = dict.fromkeys(name for r in rounds for name, _ in r.markers)
        if marked:
            rays = "Rays mark" if len(marked) > 1 else "A ray marks"
            how += f" {rays} the {' and the '.join(marked)}."
        how += joined_text(rounds)
        bars = ""
        if rounds and self._eaten():
            bars = f"; short bars are stitches of round {self.part.below.number} worked together"
        if number.sheet > 1:
            how += f" Begins with round {rounds[0].number}, its number in brackets, which is worked"
            how += f" on sheet {number.sheet - 1}: do not work it again{bars}."
        elif rounds:
            below = self.part.below
            bars = "; short bars are those worked together" if bars else ""
            how += f" Begins on the {below.count} stitches of round {below.number}{bars}."
        if number.sheet < number.of:
            how += f" Goes on inwards on sheet {number.sheet + 1}."
        return how

    def _eaten(self) -> list[int]:
        """The stitches of the round below that decreases of the first round are worked into."""
        first = self.part.rounds[0]
        return [
            p for op in first.work if op.do.endswith("2tog") for p in op.into if isinstance(p, int)
        ]

    def _draw(self, rings: Rings) -> None:
        for ring, round_ in enumerate(rings.rounds):
            self._ring(rings, ring, round_)
            if ring:
                self._between(rings, ring)
        self._growth(rings, 0, self._outside(rings))
        for ring in range(1, len(rings.rounds)):
            self._growth(rings, ring, _heads(rings, ring - 1))
        for name in dict.fromkeys(name for r in rings.rounds for name, _ in r.markers):
            draw_ray(self.sheet, rings, name, self.outermost)
        self._start(rings)

    def _ring(self, rings: Rings, ring: int, round_: Round) -> None:
        sheet, repeated = self.sheet, self.part.number.sheet > 1 and not ring
        for i, frame in rings.frames(ring).items():
            tags = stitch_tags(sheet.stitches_of, self.piece, round_, i)
            if repeated:
                tags = (*tags, ("data-repeat", "overlap"))
            sheet.stitch(round_.work[i], frame, rings.pitch, tags)
        y = rings.centre.y - rings.radii[ring]
        own = round_tags(sheet.stitches_of, self.piece, round_)
        # A ring that is worked on another sheet is not counted here.
        said = f"({round_.number})" if repeated else str(round_.number)
        sheet.number(Point(rings.centre.x + rings.number_at, y), said, own)
        sheet.chip(Point(rings.centre.x + rings.chip_at, y), round_.yarn, own)
        below = Point(rings.centre.x + rings.count_at, y + sheet.drop("count"))
        draw_tick(sheet, rings.centre.x + rings.tick_at, y, own)
        tags = (("data-role", "count"), *own)
        sheet.labels.append(Label("count", str(round_.count), below, "middle", tags=tags))

    def _outside(self, rings: Rings) -> dict[int, Point]:
        """The heads of the stitches of the round below that the first round takes together, each
        set out as a small tick: its own ring is not drawn."""
        radius = rings.outermost + rings.room - LEG * rings.pitch
        edges = rings.edges(radius, self.part.below.work)
        heads = _middles(edges, self.part.below)
        found = {}
        for number in self._eaten():
            half = TICK * rings.pitch / radius
            ends = [rings.at(radius, heads[number] + d) for d in (-half, half)]
            self.sheet.lines.append(Line("rule", tuple(ends)))
            found[number] = rings.at(radius, heads[number])
        return found

    def _growth(self, rings: Rings, ring: int, below: dict[int, Point]) -> None:
        """Lines from each decrease of a ring to the heads that it is worked into."""
        work, style = rings.rounds[ring].work, self.sheet.style
        clear = CLEAR + (style.pen("shaping") + style.pen("guide")) / 2
        bare = CLEAR + (style.pen("stitch") + style.pen("guide")) / 2
        capped = not ring or any(family(op) in ("hdc", "dc") for op in rings.rounds[ring - 1].work)
        for i, frame in rings.frames(ring).items():
            if not work[i].do.endswith("2tog"):
                continue
            _, feet = heads_and_feet(frame, work[i], rings.pitch)
            heads = [below[p] for p in work[i].into if isinstance(p, int)]
            straight = math.dist(feet[0], heads[0]) + math.dist(feet[1], heads[1])
            crossed = math.dist(feet[0], heads[1]) + math.dist(feet[1], heads[0])
            if crossed < straight:
                feet.reverse()
            for foot, head in zip(feet, heads, strict=True):
                far = math.dist(foot, head)
                up = math.dist(head, rings.centre) - math.dist(foot, rings.centre)
                # A line that leaves a head aslant keeps off the cap that the head may wear.
                off = clear / max(up / far, 0.4) if capped else bare
                if far > clear + off + SHORTEST:
                    self.sheet.growth(
                        _towards(foot, head, clear / far), _towards(head, foot, off / far)
                    )

    def _between(self, rings: Rings, ring: int) -> None:
        """A thin arc between a ring and the one outside it, so that the eye keeps to its ring."""
        radius = (rings.radii[ring - 1] + rings.radii[ring]) / 2
        share = rings.beside(radius)
        steps = [share + (math.tau - 2 * share) * i / 90 for i in range(91)]
        self.sheet.lines.append(Line("rule", tuple(rings.at(radius, a) for a in steps)))

    def _start(self, rings: Rings) -> None:
        """The start ray over the gap, and an arrow in the direction of work."""
        top = rings.outermost + 0.9 * rings.pitch
        end = self.arrow + (START - 0.1 - ARROW) * rings.pitch
        self.sheet.lines.append(Line("start", (rings.at(top, 0), rings.at(end, 0))))
        word = self._word(self.arrow)
        self.sheet.labels.append(replace(word, at=word.at.plus(rings.centre)))
        points = tuple(point.plus(rings.centre) for point in _arrow(self.arrow))
        self.sheet.lines.append(Line("direction", points, arrows="end"))


def _arrow(radius: float) -> list[Point]:
    """The arrow in the direction of work from the start on, seen from the centre."""
    angles = [0.03 + 0.42 * i / 24 for i in range(25)]
    return [Point(radius * math.sin(a), -radius * math.cos(a)) for a in angles]


def _towards(start: Point, end: Point, share: float) -> Point:
    return Point(start.x + (end.x - start.x) * share, start.y + (end.y - start.y) * share)


def _middles(edges: Sequence[float], round_: Round) -> dict[int, float]:
    """The angle of each stitch that a round leaves, by its number."""
    numbers, found, made = left_of_made(round_), {}, 0
    for i, op in enumerate(round_.work):
        for k in range(op.makes):
            number = numbers[made]
            if number is not None:
                found[number] = edges[i] + (edges[i + 1] - edges[i]) * (2 * k + 1) / (2 * op.makes)
            made += 1
    return found


def _heads(rings: Rings, ring: int) -> dict[int, Point]:
    """Where the head of each stitch stands that a ring leaves, by its number."""
    radius, round_ = rings.radii[ring], rings.rounds[ring]
    angles = _middles(rings.edges(radius, round_.work), round_)
    return {n: rings.at(radius - LEG * rings.pitch, angle) for n, angle in angles.items()}


def _cuts(many: int, sheets: int) -> Iterator[tuple[int, ...]]:
    """The ways to cut so many rings for so many sheets: the first ring of each sheet, which is the
    last of the one before, and the last ring of all."""
    if sheets == 1:
        yield (0, many - 1)
        return
    for last in range(sheets - 1, many - 1):
        for cuts in _cuts(last + 1, sheets - 1):
            yield (*cuts, many - 1)


def _parts(piece: Piece, rounds: Sequence[Round], cuts: Sequence[int]) -> list[_Part]:
    """What each sheet shows where the crown is cut so."""
    parts = []
    for sheet in range(1, len(cuts)):
        first, last = cuts[sheet - 1], cuts[sheet]
        below = piece.rounds[piece.rounds.index(rounds[first]) - 1]
        shut = piece.rounds[-1] if sheet == len(cuts) - 1 else None
        parts.append(
            _Part(tuple(rounds[first : last + 1]), below, shut, Numbered(sheet, len(cuts) - 1))
        )
    return parts


def _drawn(
    stitches: StitchMap, look: tuple[Style, Terms], parts: Sequence[_Part], pitch: float
) -> tuple[Chart, ...]:
    piece = stitches.piece("hand")
    assert piece is not None
    return tuple(_Crown(Sheet(stitches, *look), piece, part, pitch).chart() for part in parts)


def _widest(sheet: Sheet, parts: Sequence[_Part], pitch: float) -> float:
    """The radius of the largest ring on any of the sheets, mm."""
    return max(Rings(sheet, p.rounds, pitch, p.shut is not None).outermost for p in parts)


def _too_large(charts: Sequence[Chart], style: Style) -> OffPage | None:
    """By which side the largest sheet is off the page, None where all fit."""
    wide, high = max(c.width for c in charts), max(c.height for c in charts)
    if wide > style.width + EVEN:
        return OffPage("width", wide)
    return OffPage("height", high) if high > style.height + EVEN else None


def crown(stitches: StitchMap, style: Style, terms: Terms) -> tuple[Chart, ...]:
    """The crown chart, from the first decreases to the drawing shut: on one sheet at the largest
    pitch that fits the column, else the outer rings on one and the inner on the next, the ring
    between on both; unrolled where not even two rings fit. Raises OffPage where that does not."""
    piece = stitches.piece("hand")
    assert piece is not None
    rounds = [r for r in piece.counted if r.phase.startswith(("crown", "close"))]
    look = style, terms
    if not rounds:
        shut = piece.rounds[-1]
        return _drawn(stitches, look, [_Part((), shut, shut, Numbered(1, 1))], style.stitch)
    measure = Sheet(stitches, style, terms)
    most = min(max(2, len(rounds)), MOST + 1)
    if len(rounds) > 1:
        pair = _parts(piece, rounds, range(len(rounds)))[:1]
        if _too_large(_drawn(stitches, look, pair, style.least_stitch), style):
            return unrolled(stitches, style, terms)
    for sheets in range(1, most):
        every = [_parts(piece, rounds, cuts) for cuts in _cuts(len(rounds), sheets)]
        parts = min(every, key=lambda parts: _widest(measure, parts, style.least_stitch))
        made = _drawn(stitches, look, parts, style.least_stitch)
        if _too_large(made, style) is None:
            pitch = style.stitch
            while pitch > style.least_stitch:
                larger = _drawn(stitches, look, parts, pitch)
                if _too_large(larger, style) is None:
                    return larger
                pitch *= SMALLER
            return made
    return unrolled(stitches, style, terms)
