"""Guide lines of a chart of rows: what grows from what, markers, joins, and the bridge of a gap."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from gussetry.chart import Label, Line, Tags
from gussetry.layout.courses import Placed
from gussetry.layout.parting import parting_at
from gussetry.layout.parts import Sheet, heads_and_feet
from gussetry.layout.rows import (
    BOW,
    HELD,
    JOINED,
    NEAR,
    OFF_BRACKET,
    OVAL,
    UNDER_FOOT,
    Row,
    Standing,
    join_rise,
    lozenge,
    over_head,
)
from gussetry.stitchmap import Piece, Round, left_of_made
from gussetry.style import Style, lettering
from gussetry.units import Point

OFF = 0.2
"""White between a stitch and the end of a line that leads to another, mm."""
LEAST_LINE = 0.3
"""What is left of such a line at least, mm."""
STUB = 0.3
"""A marker's line that leads off the sheet, over the pitch."""
ROUND = 0.3
"""How far a line round the end of a bridge keeps off it, over the pitch."""
TIED = ("data-piece", "data-round", "data-index", "data-size")
"""What a mark over a stitch has of the stitch's tags."""
LEADING: Tags = (("data-role", "leading"),)
"""A marker's line that does not begin over its stitch."""
BEYOND = 0.85
"""How far beyond the middle of the outermost stitch lines go that lead to another sheet, over the
pitch: as far as any does round the end of a bridge."""
Ends = tuple[float, float]
"""From where to where across the page a sheet draws lines, mm."""
ASIDE = 0.48
"""White between a stitch's middle and a line that leads up to it from its side, over the pitch."""


def draw_guides(sheet: Sheet, piece: Piece, placed: Sequence[Placed]) -> None:
    """All guides of the courses, first lowest."""
    ends = _ends([place.standing for place in placed])
    for place in placed:
        if not place.course.lead.several:
            _joins(sheet, piece, place, ends)
            _signs(sheet, piece, place)
            _gap(sheet, place.standing, ends)
            _crook(sheet, place.standing, place.course.tags(sheet, piece), ends)
    if not placed[-1].course.lead.several:
        _leading_on(sheet, placed[-1].standing)
    for nth, (lower, upper) in enumerate(pairwise(placed)):
        if lower.course.parting and lower.course.parting.kind == "branch":
            _leading_in(sheet, placed[: nth + 1], upper)
        shared = [p for p in lower.course.places if p in upper.course.places]
        if shared and not lower.course.lead.several and not upper.course.lead.several:
            # What leads from row to row is numbered as in one size that has both.
            rows = lower.in_size(shared[-1]), upper.in_size(shared[-1])
            _growth(sheet, *rows)
            _markers(sheet, *rows, parting_at(sheet, lower))


def _ends(places: Sequence[Standing]) -> Ends:
    """From where to where stitches are drawn across the sheet."""
    xs = [
        frame.origin.x for p in places for i, frame in p.frames.items() if i >= p.row.head
    ] or [places[0].axis]  # fmt: skip
    beyond = BEYOND * places[0].pitch
    return min(xs) - beyond, max(xs) + beyond


def _clipped(points: Sequence[Point], ends: Ends) -> list[tuple[Point, ...]]:
    """What a line of level and upright pieces has between the ends of the sheet: what it leads to
    may stand on another."""
    found: list[list[Point]] = [[]]
    for a, b in pairwise(points):
        low, high = (min(max(x, ends[0]), ends[1]) for x in (a.x, b.x))
        if (a.x == b.x and low != a.x) or (a.x != b.x and low == high):
            found.append([])
            continue
        if not found[-1]:
            found[-1].append(Point(low, a.y))
        found[-1].append(Point(high, b.y))
        if high != b.x:
            found.append([])
    return [tuple(piece) for piece in found if piece]


def _growth(sheet: Sheet, lower: Standing, upper: Standing) -> None:
    """Lines from the feet of increases and decreases to the heads of what they are worked into."""
    below = lower.heads()
    for number in lower.row.marked:
        # A marker's line leads from there.
        below.pop(number, None)
    for i, frame in upper.frames.items():
        op = upper.row.round.work[i]
        if op.do != "inc" and not op.do.endswith("2tog"):
            continue
        _, feet = heads_and_feet(frame, op, upper.pitch)
        heads = [below[p] for p in op.into if isinstance(p, int) and p in below]
        if len(heads) == 2 and (heads[0].x < heads[1].x) != (feet[0].x < feet[-1].x):
            heads.reverse()
        if len(heads) == 1:
            # The other is not drawn.
            feet.sort(key=lambda foot: math.dist(foot, heads[0]))
        for foot, head in zip(feet, heads, strict=False):
            line = between(foot, head, sheet.style)
            if line:
                sheet.growth(*line)


def between(foot: Point, head: Point, style: Style) -> tuple[Point, Point] | None:
    """The line from one stitch's foot to another's head, with white at both of its ends; None where
    they stand too near. It keeps as far above the head as it may: a head may have a cap."""
    white = OFF + (style.pen("shaping") + style.pen("guide")) / 2
    away, rise = math.dist(foot, head), abs(head.y - foot.y)
    begin, end = white / max(away, white), 1 - white / max(rise, white)
    if (end - begin) * away < LEAST_LINE:
        return None
    x, y = head.x - foot.x, head.y - foot.y
    return foot.plus(Point(begin * x, begin * y)), foot.plus(Point(end * x, end * y))


def _markers(sheet: Sheet, lower: Standing, upper: Standing, rule: float | None) -> None:
    """A line from each marked stitch up to the one that is worked into it; it ends and begins
    again at the `rule` where sizes part, and leads off the sheet to what stands on another."""
    heads, feet, p = lower.heads(), upper.feet(), lower.pitch
    for number in lower.row.marked:
        low = _over(sheet, heads[number], p) if number in heads else None
        high = _under(sheet, feet[number]) if number in feet else None
        if low and high and rule is None:
            sheet.lines.append(Line("marker", (low, high)))
        elif low and high and rule is not None:
            share = (low.y - rule) / (low.y - high.y)
            x, white = low.x + (high.x - low.x) * share, ROUND * p
            sheet.lines.append(Line("marker", (low, Point(x, rule + white))))
            sheet.lines.append(Line("marker", (Point(x, rule - white), high), tags=LEADING))
        elif low:
            sheet.lines.append(Line("marker", (low, low.plus(Point(0, -STUB * p)))))
        elif high:
            sheet.lines.append(Line("marker", (high.plus(Point(0, STUB * p)), high), tags=LEADING))


def _under(sheet: Sheet, foot: Point) -> Point:
    """Where a marker's line ends under the foot of the stitch that it leads to."""
    return foot.plus(Point(0, UNDER_FOOT + sheet.style.pen("shaping") / 2))


def _signs(sheet: Sheet, piece: Piece, place: Placed) -> None:
    """A small lozenge over each marked stitch, at the leg that is marked where an increase has
    two."""
    stands = place.standing
    heads, p = stands.heads(), stands.pitch
    entries = _entries_left(stands.row.round)
    for number in stands.row.marked:
        if number not in heads:
            continue
        at, half = _over(sheet, heads[number], p), lozenge(p)
        turns = ((0.0, -half), (half, 0.0), (0.0, half), (-half, 0.0))
        tags = place.course.stitch_tags(sheet, piece, entries[number])
        tied = (("data-role", "marked"), *(tag for tag in tags if tag[0] in TIED))
        points = tuple(at.plus(Point(x, y)) for x, y in turns)
        sheet.lines.append(Line("marked", points, closed=True, tags=tied))


def _entries_left(round_: Round) -> list[int]:
    """The entry of the work that makes each stitch that is left, by its number."""
    made = [i for i, op in enumerate(round_.work) for _ in range(op.makes)]
    return [i for i, n in zip(made, left_of_made(round_), strict=True) if n is not None]


def _over(sheet: Sheet, head: Point, pitch: float) -> Point:
    """The middle of the lozenge over a marked stitch."""
    return head.plus(Point(0, -over_head(sheet.style, pitch)))


def _leading_on(sheet: Sheet, place: Standing) -> None:
    """A short line over each marked stitch of the highest row: it goes on on another sheet."""
    heads, p = place.heads(), place.pitch
    for number in place.row.marked:
        if number in heads:
            low = _over(sheet, heads[number], p)
            sheet.lines.append(Line("marker", (low, low.plus(Point(0, -STUB * p)))))


def _bracket(place: Standing, xs: tuple[float, float], rise: float) -> tuple[Point, ...]:
    """A line over the row from one place to another, its legs down to the stitches there."""
    legs, over = place.y - 0.37 * place.pitch, place.y - rise
    return Point(xs[0], legs), Point(xs[0], over), Point(xs[1], over), Point(xs[1], legs)


def _joins(sheet: Sheet, piece: Piece, place: Placed, ends: Ends) -> None:
    """Brackets over the row that tie each joined stitch to the far one of its pair, which has a
    small bow tie over it: it is used up, though it is worked."""
    stands = place.standing
    frames, work, p = stands.frames, stands.row.round.work, stands.pitch
    made = [i for i, op in enumerate(work) for _ in range(op.makes)]
    joins = [i for i, op in enumerate(work) if op.do == "join"]
    for nth, i in enumerate(joins, 1):
        entry = made[work[i].onto[0]]
        far = frames.get(entry)
        if far is not None:
            tags = place.course.stitch_tags(sheet, piece, entry)
            tied = (("data-role", "joined"), *(tag for tag in tags if tag[0] in TIED))
            sheet.lines.append(Line("joined", _bow(far.origin, p), closed=True, tags=tied))
        if stands.row.drawn:
            over = stands.y - join_rise(nth, p, sheet.style)
            xs = stands.across(i), stands.across(entry)
            low = stands.y - 0.37 * p, stands.y - (JOINED + BOW) * p - OFF_BRACKET
            points = [Point(xs[0], low[0]), Point(xs[0], over), Point(xs[1], over)]
            if low[1] - over > LEAST_LINE:
                points.append(Point(xs[1], low[1]))
            sheet.lines += [Line("join", piece) for piece in _clipped(points, ends)]


def _leading_in(sheet: Sheet, below: Sequence[Placed], upper: Placed) -> None:
    """Short lines under the stitches of a row to which markers lead from further down the page, of
    the size that goes on there."""
    place = upper.course.places[-1]
    last = next((p for p in reversed(below) if place in p.course.places), None)
    if last is None or upper.course.lead.several:
        return
    stands = upper.in_size(place)
    feet, p = stands.feet(), stands.pitch
    for number in last.in_size(place).row.marked:
        if number in feet:
            high = _under(sheet, feet[number])
            sheet.lines.append(Line("marker", (high.plus(Point(0, STUB * p)), high), tags=LEADING))


def _bow(stitch: Point, pitch: float) -> tuple[Point, ...]:
    """The corners of a small bow tie over a stitch, in the order of its outline."""
    x, y, high = stitch.x, stitch.y - JOINED * pitch, BOW * pitch
    wide = 1.6 * high
    left = Point(x - wide, y + high), Point(x - wide, y - high)
    right = Point(x + wide, y - high), Point(x + wide, y + high)
    return (*left, Point(x, y), *right, Point(x, y))


def _aside(row: Row) -> list[int]:
    """Entries that are set aside."""
    return [i for i, op in enumerate(row.round.work) if op.held or op.do == "hold"]


def _gap(sheet: Sheet, place: Standing, ends: Ends) -> None:
    """Where to go on over a gap: along the bridge of the division, else straight across."""
    row, frames, p = place.row, place.frames, place.pitch
    if not row.middles or not row.drawn:
        return
    aside = _aside(row)
    if not aside:
        for i, j in pairwise(range(row.head, len(row.round.work))):
            if (i in frames or j in frames) and not {"inc", "turn"} & {
                row.round.work[k].do for k in (i, j)
            }:
                _across(sheet, place, (i, j), ends)
        return
    if any(op.do == "join" for op in row.round.work):
        return
    sides = aside[0] - 1, aside[-1] + 1 + len(row.raised)
    if sides[0] < 0 or sides[1] >= len(row.round.work):
        return
    xs = place.across(sides[0]), place.across(sides[1])
    chains = sorted(row.raised)
    if not chains:
        bracket = _bracket(place, xs, join_rise(1, p, sheet.style))
        sheet.lines += [Line("rule", piece) for piece in _clipped(bracket, ends)]
        return
    over = place.across(chains[0]), place.across(chains[-1])
    long = abs(over[0] - over[1]) > abs(xs[0] - xs[1]) - 2 * ASIDE * p
    height = place.y - place.lift
    for x, chain, way in ((xs[0], over[0], 1), (xs[1], over[1], -1)):
        way *= 1 if xs[0] > xs[1] else -1
        legs = Point(x, place.y - 0.37 * p)
        near = Point(chain + way * ASIDE * p, height)
        if long:
            # So many chains reach out over what stands beside the gap: the line goes round them.
            low, out = place.y - HELD * p, near.x + way * ROUND * p
            turns = [Point(x, low), Point(out, low), Point(out, height)]
        else:
            turns = [Point(x, height)]
        sheet.lines += [Line("rule", piece) for piece in _clipped((legs, *turns, near), ends)]
    for one in pairwise(chains):
        _across(sheet, place, one, ends)


def _across(sheet: Sheet, place: Standing, pair: tuple[int, int], ends: Ends) -> None:
    """A line between two stitches of a row that stand apart."""
    one, other = (place.across(entry) for entry in pair)
    height = place.y - (place.lift if pair[0] in place.row.raised else 0.0)
    if abs(other - one) > 1.51 * place.pitch:
        way = math.copysign(ASIDE * place.pitch, other - one)
        line = Point(one + way, height), Point(other - way, height)
        sheet.lines += [Line("rule", piece) for piece in _clipped(line, ends)]


def _crook(sheet: Sheet, place: Standing, tags: Tags, ends: Ends) -> None:
    """The numbers of what the thumb finds at the bridge, as its text and map have them: from the
    bridge's end, at its left, back to its beginning; of a gap that is parted those on the sheet."""
    row, p = place.row, place.pitch
    aside = _aside(row)
    if not row.crook or not aside or not row.drawn:
        return
    high = sheet.style.size("yarn") * lettering.CAP_HEIGHT
    chains = sorted(row.raised, reverse=True)
    seen = ends[0] + (BEYOND - 0.5) * p, ends[1] - (BEYOND - 0.5) * p
    if chains:
        y = place.y - place.lift + OVAL * p + NEAR + high
        places = [Point(place.across(i), y) for i in chains]
    else:
        sides = aside[0] - 1, aside[-1] + 1
        if sides[0] < 0 or sides[1] >= len(row.round.work):
            return
        first, last = place.across(sides[1]), place.across(sides[0])
        # In the line of the bracket that stands next to the gap, which is broken around them.
        y = place.y - join_rise(1, p, sheet.style) + high / 2
        steps = max(row.crook - 1, 1)
        offset = (last - first) / 2 if row.crook == 1 else 0.0
        xs = (first + offset + (last - first) * k / steps for k in range(row.crook))
        places = [Point(x, y) for x in xs]
    for number, at in enumerate(places, 1):
        if seen[0] < at.x < seen[1]:
            sheet.labels.append(
                Label("yarn", str(number), at, "middle", tags=(("data-role", "crook"), *tags))
            )
