"""Guide lines of a chart of rows: what grows from what, markers, joins, and the bridge of a gap."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from gussetry.chart import Label, Line, Tags
from gussetry.layout.courses import Placed
from gussetry.layout.parts import Sheet, heads_and_feet
from gussetry.layout.rows import (
    BOW,
    HELD,
    JOINED,
    NEAR,
    OFF_BRACKET,
    OVAL,
    Row,
    Standing,
    join_rise,
)
from gussetry.stitchmap import Piece, Round, left_of_made
from gussetry.style import Style, lettering
from gussetry.units import Point

UNDER = 0.14
"""White between a marker's line and the foot of the stitch it leads to, over the pitch."""
OFF = 0.2
"""White between a stitch and the end of a line that leads to another, mm."""
LEAST_LINE = 0.3
"""What is left of such a line at least, mm."""
LOZENGE, LEAST_LOZENGE = 0.11, 0.42
"""Half of the lozenge over a marked stitch, over the pitch, and at least, mm."""
CAP = 0.05
"""What the cap of a slanting leg rises over its head, over the pitch."""
STUB = 0.3
"""A marker's line that leads off the sheet, over the pitch."""
ROUND = 0.3
"""How far a line round the end of a bridge keeps off it, over the pitch."""
TIED = ("data-piece", "data-round", "data-index", "data-size")
"""What a mark over a stitch has of the stitch's tags."""
ASIDE = 0.48
"""White between a stitch's middle and a line that leads up to it from its side, over the pitch."""


def draw_guides(sheet: Sheet, piece: Piece, placed: Sequence[Placed]) -> None:
    """All guides of the courses, first lowest."""
    for place in placed:
        if not place.course.lead.several:
            _joins(sheet, piece, place)
            _signs(sheet, piece, place)
            _gap(sheet, place.standing)
            _crook(sheet, place.standing, place.course.tags(sheet, piece))
    if not placed[-1].course.lead.several:
        _leading_on(sheet, placed[-1].standing)
    for nth, (lower, upper) in enumerate(pairwise(placed)):
        if lower.course.parting and lower.course.parting.kind == "branch":
            _leading_in(sheet, placed[: nth + 1], upper)
        shared = [p for p in lower.course.places if p in upper.course.places]
        if shared and not lower.course.lead.several and not upper.course.lead.several:
            # What leads from row to row is numbered as in one size that has both.
            ends = lower.in_size(shared[-1]), upper.in_size(shared[-1])
            _growth(sheet, *ends)
            _markers(sheet, *ends)


def _growth(sheet: Sheet, lower: Standing, upper: Standing) -> None:
    """Lines from the feet of increases and decreases to the heads of what they are worked into."""
    below = lower.heads()
    for number in _marked(lower):
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


def _marked(place: Standing) -> list[int]:
    """The stitches of the row that the gusset's markers mark, by number."""
    return [n for name, n in place.row.round.markers if name.endswith("marker")]


def _markers(sheet: Sheet, lower: Standing, upper: Standing) -> None:
    """A line from each marked stitch up to the one that is worked into it."""
    heads, p = lower.heads(), lower.pitch
    feet = upper.feet()
    for number in _marked(lower):
        if number in heads and number in feet:
            high = feet[number].plus(Point(0, UNDER * p))
            sheet.lines.append(Line("marker", (_over(sheet, heads[number], p), high)))


def _signs(sheet: Sheet, piece: Piece, place: Placed) -> None:
    """A small lozenge over each marked stitch, at the leg that is marked where an increase has
    two."""
    stands = place.standing
    heads, p = stands.heads(), stands.pitch
    entries = _entries_left(stands.row.round)
    for number in _marked(stands):
        if number not in heads:
            continue
        at, half = _over(sheet, heads[number], p), _lozenge(p)
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
    white = OFF + sheet.style.pen("shaping") / 2
    if sheet.stitches_of.fabric.stitch != "sc":
        white += CAP * pitch
    return head.plus(Point(0, -white - _lozenge(pitch)))


def _lozenge(pitch: float) -> float:
    """Half of a lozenge, mm."""
    return max(LOZENGE * pitch, LEAST_LOZENGE)


def _leading_on(sheet: Sheet, place: Standing) -> None:
    """A short line over each marked stitch of the highest row: it goes on on another sheet."""
    heads, p = place.heads(), place.pitch
    for number in _marked(place):
        if number in heads:
            low = _over(sheet, heads[number], p)
            sheet.lines.append(Line("marker", (low, low.plus(Point(0, -STUB * p)))))


def _bracket(place: Standing, xs: tuple[float, float], rise: float) -> tuple[Point, ...]:
    """A line over the row from one place to another, its legs down to the stitches there."""
    legs, over = place.y - 0.37 * place.pitch, place.y - rise
    return Point(xs[0], legs), Point(xs[0], over), Point(xs[1], over), Point(xs[1], legs)


def _joins(sheet: Sheet, piece: Piece, place: Placed) -> None:
    """Brackets over the row that tie each joined stitch to the far one of its pair, which has a
    small bow tie over it: it is used up, though it is worked."""
    stands = place.standing
    frames, work, p = stands.frames, stands.row.round.work, stands.pitch
    made = [i for i, op in enumerate(work) for _ in range(op.makes)]
    joins = [i for i, op in enumerate(work) if op.do == "join"]
    for nth, i in enumerate(joins, 1):
        entry = made[work[i].onto[0]]
        near, far = frames.get(i), frames.get(entry)
        if far is not None:
            tags = place.course.stitch_tags(sheet, piece, entry)
            tied = (("data-role", "joined"), *(tag for tag in tags if tag[0] in TIED))
            sheet.lines.append(Line("joined", _bow(far.origin, p), closed=True, tags=tied))
        if near is not None and far is not None:
            over = stands.y - join_rise(nth, p, sheet.style)
            ends = stands.y - 0.37 * p, stands.y - (JOINED + BOW) * p - OFF_BRACKET
            points = [Point(near.origin.x, ends[0]), Point(near.origin.x, over)]
            points.append(Point(far.origin.x, over))
            if ends[1] - over > LEAST_LINE:
                points.append(Point(far.origin.x, ends[1]))
            sheet.lines.append(Line("join", tuple(points)))


def _leading_in(sheet: Sheet, below: Sequence[Placed], upper: Placed) -> None:
    """Short lines under the stitches of a row to which markers lead from further down the page, of
    the size that goes on there."""
    place = upper.course.places[-1]
    last = next((p for p in reversed(below) if place in p.course.places), None)
    if last is None or upper.course.lead.several:
        return
    stands = upper.in_size(place)
    feet, p = stands.feet(), stands.pitch
    for number in _marked(last.in_size(place)):
        if number in feet:
            high = feet[number].plus(Point(0, UNDER * p))
            ends = high.plus(Point(0, STUB * p)), high
            sheet.lines.append(Line("marker", ends, tags=(("data-role", "leading"),)))


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


def _gap(sheet: Sheet, place: Standing) -> None:
    """Where to go on over a gap: along the bridge of the division, else straight across."""
    row, frames, p = place.row, place.frames, place.pitch
    if not row.middles:
        return
    aside = _aside(row)
    if not aside:
        for i, j in pairwise(i for i in sorted(frames) if i >= row.head):
            if not any(row.round.work[k].do == "inc" for k in (i, j)):
                _across(sheet, frames[i].origin, frames[j].origin, p)
        return
    if any(op.do == "join" for op in row.round.work):
        return
    edges = frames.get(aside[0] - 1), frames.get(aside[-1] + 1 + len(row.raised))
    if edges[0] is None or edges[1] is None:
        return
    xs = edges[0].origin.x, edges[1].origin.x
    chains = [frames[i].origin for i in sorted(row.raised)]
    if not chains:
        sheet.lines.append(Line("rule", _bracket(place, xs, join_rise(1, p, sheet.style))))
        return
    long = abs(chains[0].x - chains[-1].x) > abs(xs[0] - xs[1]) - 2 * ASIDE * p
    for x, chain, way in ((xs[0], chains[0], 1), (xs[1], chains[-1], -1)):
        way *= 1 if xs[0] > xs[1] else -1
        legs = Point(x, place.y - 0.37 * p)
        near = Point(chain.x + way * ASIDE * p, chain.y)
        if long:
            # So many chains reach out over what stands beside the gap: the line goes round them.
            low, out = place.y - HELD * p, near.x + way * ROUND * p
            turns = [Point(x, low), Point(out, low), Point(out, chain.y)]
        else:
            turns = [Point(x, chain.y)]
        sheet.lines.append(Line("rule", (legs, *turns, near)))
    for one, other in pairwise(chains):
        _across(sheet, one, other, p)


def _across(sheet: Sheet, one: Point, other: Point, pitch: float) -> None:
    """A line between two stitches of a row that stand apart."""
    way = math.copysign(ASIDE * pitch, other.x - one.x)
    if abs(other.x - one.x) > 1.51 * pitch:
        ends = Point(one.x + way, one.y), Point(other.x - way, other.y)
        sheet.lines.append(Line("rule", ends))


def _crook(sheet: Sheet, place: Standing, tags: Tags) -> None:
    """The numbers of what the thumb finds at the bridge, as its text and map have them: from the
    bridge's end, at its left, back to its beginning."""
    row, frames, p = place.row, place.frames, place.pitch
    aside = _aside(row)
    if not row.crook or not aside:
        return
    high = sheet.style.size("yarn") * lettering.CAP_HEIGHT
    chains = [frames[i].origin for i in sorted(row.raised, reverse=True) if i in frames]
    if chains:
        places = [Point(c.x, c.y + OVAL * p + NEAR + high) for c in chains]
    else:
        edges = frames.get(aside[0] - 1), frames.get(aside[-1] + 1)
        if edges[0] is None or edges[1] is None:
            return
        last, first = edges[0].origin.x, edges[1].origin.x
        pairs = sum(op.do == "join" for op in row.round.work)
        # In the bracket's own line, which is broken around them.
        y = place.y - join_rise(pairs, p, sheet.style) + high / 2
        steps = max(row.crook - 1, 1)
        offset = (last - first) / 2 if row.crook == 1 else 0.0
        places = [Point(first + offset + (last - first) * k / steps, y) for k in range(row.crook)]
    for number, at in enumerate(places[: row.crook] if not chains else places, 1):
        sheet.labels.append(
            Label("yarn", str(number), at, "middle", tags=(("data-role", "crook"), *tags))
        )
