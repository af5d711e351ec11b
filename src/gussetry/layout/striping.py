"""Stripes laid into a schematic: the rounds of each yarn as areas of the outline."""

from __future__ import annotations

import itertools
import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from gussetry.chart import Label, Line, Patch
from gussetry.grading.concerns_colours import alike
from gussetry.layout import outlines
from gussetry.layout.boxes import Box
from gussetry.stitchmap import Piece, StitchMap
from gussetry.style import Style, lettering
from gussetry.units import Point

_CLEAR = 0.5
"""White between a letter and a groove, mm."""
_WHITE = 0.25
"""White between a letter and an outline, mm."""
_SHORT = 1.0
"""A piece of a groove is longer, mm."""
_PIECE = 0.05
"""A piece of a projection line is longer, mm."""
_SLIM = 0.5
"""An upright stripe of a cuff in turned rows is so wide at least, mm."""


class Run(NamedTuple):
    """Rounds or rows of a piece, from the first to the last of one yarn."""

    first: int
    last: int
    yarn: str


def runs(piece: Piece) -> list[Run]:
    """The counted rounds of a piece in runs of one yarn, in the order of working."""
    found = [list(run) for _, run in itertools.groupby(piece.counted, lambda r: r.yarn)]
    return [Run(run[0].number, run[-1].number, run[0].yarn) for run in found]


def are_upright(stitches: StitchMap, style: Style, row: float) -> bool:
    """Whether the stripes of a cuff in turned rows, `row` mm wide each, are drawn side by side:
    where there are several, and colours tell them, since letters and hatches have no room."""
    cuff = stitches.piece("cuff")
    if cuff is None or cuff.worked != "rows" or style.yarns == "hatches":
        return False
    found = runs(cuff)
    return (
        len(found) > 1
        and min(run.last - run.first + 1 for run in found) * row >= _SLIM
        and not _any_alike(stitches, {run.yarn for run in found})
    )


def _any_alike(stitches: StitchMap, yarns: Collection[str]) -> bool:
    """Whether any two of the yarns look alike to some eyes or in some print."""
    colours = [stitches.colour(yarn) for yarn in sorted(yarns)]
    return any(alike(a, b) for a, b in itertools.combinations(colours, 2))


class Stripe(NamedTuple):
    """Rounds of one yarn in a piece, and their area."""

    piece: str
    first: int
    last: int
    yarn: str
    points: tuple[Point, ...]
    beside: float = -math.inf
    """The x of the hand's edge beside a thumb."""
    under: tuple[Point, ...] = ()
    """The thumb that may lie over a hand."""

    @property
    def rounds(self) -> str:
        """The rounds as tagged: `4`, or `5-6`."""
        return str(self.first) if self.first == self.last else f"{self.first}-{self.last}"

    def patch(self, stitches: StitchMap) -> Patch:
        """The area in its yarn's colour."""
        tags = (
            ("data-role", "stripe"), ("data-piece", self.piece), ("data-round", self.rounds),
            ("data-yarn", self.yarn), ("data-size", stitches.size),
        )  # fmt: skip
        return Patch(self.points, self.yarn, stitches.colour(self.yarn), tags)


def stripes_of(stitches: StitchMap, style: Style, scale: float) -> Iterator[Stripe]:
    """The stripes of cuff, hand and thumb, each piece from its foot up. A cuff worked in rows is
    one area in its first row's yarn where its stripes are not upright."""
    thumb = outlines.thumb(stitches, scale).points if stitches.piece("thumb") else ()
    for piece in stitches.pieces:
        found = runs(piece)
        if piece.worked == "rows":
            yield from _of_rows(stitches, style, scale, piece)
            continue
        for first, last, yarn in found:
            own = piece.piece, first, last, yarn
            if piece.piece == "cuff":
                yield Stripe(*own, _of_cuff(stitches, scale, first, last))
            elif piece.piece == "hand":
                area = outlines.hand_sides(stitches, scale).between(first, last)
                yield Stripe(*own, area, under=thumb)
            else:
                area = outlines.thumb_sides(stitches, scale).between(first, last)
                yield Stripe(*own, area, beside=outlines.edge(stitches, scale).x)


def _of_cuff(stitches: StitchMap, scale: float, first: int, last: int) -> tuple[Point, ...]:
    cuff, piece = outlines.cuff(stitches, scale), stitches.piece("cuff")
    assert cuff is not None
    assert piece is not None
    (left, foot), _, (right, high), _ = cuff.points
    step = (high - foot) / len(piece.counted)
    low, top = foot + (first - 1) * step, foot + last * step
    return Point(left, low), Point(left, top), Point(right, top), Point(right, low)


def _of_rows(stitches: StitchMap, style: Style, scale: float, piece: Piece) -> Iterator[Stripe]:
    """The stripes of a cuff in turned rows, of which one half is seen: rounds begin at the outer
    edge and come back to it on the side that faces the reader, if the thumb is on the right, and
    begin on that side if it is on the left."""
    cuff = outlines.cuff(stitches, scale)
    assert cuff is not None
    (left, foot), (_, high), *_ = cuff.points
    many, row = len(piece.counted), float((stitches.rib or stitches.fabric).height) * scale
    found = runs(piece)
    if not are_upright(stitches, style, row):
        yield Stripe("cuff", found[0].first, found[-1].last, found[0].yarn, cuff.points)
        return
    # A right mitten is laid out as a left one, and mirrored afterwards.
    early = stitches.mitten == "right"
    begin, end = (0.0, many / 2) if early else (many / 2, float(many))
    for first, last, yarn in found:
        low, top = max(begin, first - 1), min(end, last)
        if low >= top:
            continue
        ends = (low - begin, top - begin) if early else (end - top, end - low)
        a, b = (left + rows * row for rows in ends)
        area = Point(a, foot), Point(a, high), Point(b, high), Point(b, foot)
        yield Stripe("cuff", math.floor(low) + 1, math.ceil(top), yarn, area)


def letter(
    stripe: Stripe, stitches: StitchMap, style: Style, line: float | None = None
) -> Label | None:
    """The letter of a stripe's yarn in the middle of it; None where the stripe is too low or too
    narrow for it and white about it, or where in a thumb a level `line` passes too near."""
    size = style.size("yarn")
    # White above and below, and half an outline on either side.
    clear = size * lettering.CAP_HEIGHT + max(0.3 * size, style.pen("outline") + 2 * _WHITE)
    top = min(p.y for p in stripe.points)
    low = max(p.y for p in stripe.points)
    middle = (top + low) / 2
    cuts = [outlines.edges(stripe.points, middle + d * clear / 2) for d in (-1, 1)]
    if low - top < clear or any(cut is None for cut in cuts):
        return None
    if line is not None and stripe.piece == "thumb" and abs(line - middle) < clear / 2 + _CLEAR:
        return None
    left = max(cut[0] for cut in cuts if cut)
    if stripe.piece == "thumb":
        # Beside the hand's edge, which goes through a thumb that lies over the hand.
        left = max(left, stripe.beside)
    right = min(cut[1] for cut in cuts if cut)
    right = min(right, outlines.leftmost(stripe.under, middle - clear / 2, middle + clear / 2))
    if right - left < lettering.advance(stripe.yarn, size) + 0.8 * size:
        return None
    at = Point((left + right) / 2, middle + size * lettering.CAP_HEIGHT / 2)
    tags = (
        ("data-role", "yarn"), ("data-piece", stripe.piece), ("data-round", stripe.rounds),
        ("data-size", stitches.size),
    )  # fmt: skip
    ground = stitches.colour(stripe.yarn)
    return Label("yarn", stripe.yarn, at, "middle", ground=ground, tags=tags)


def can_be_told(stitches: StitchMap, style: Style, scale: float, line: float | None) -> bool:
    """Whether stripes laid in at that scale can be told apart: by hatches, by their letters, or
    all by their colours, to every eye and in every print."""
    if style.yarns == "hatches":
        return True
    stripes = list(stripes_of(stitches, style, scale))
    if line is not None and any(
        abs(edge(p.y for p in stripe.points) - line) < _CLEAR and stripe.piece == "thumb"
        for stripe in stripes
        for edge in (min, max)
    ):
        # No ink shows on two colours at once.
        return False
    if all(letter(stripe, stitches, style, line) for stripe in stripes):
        return True
    return not _any_alike(stitches, {stripe.yarn for stripe in stripes})


def over(stripes: Sequence[Stripe], line: Line, stitches: StitchMap) -> Iterator[Line]:
    """The line with the colour behind its middle, if it runs over a stripe; a projection line in
    pieces, each with what is behind it."""
    if line.closed or len(line.points) != 2:
        yield line
        return
    a, b = line.points
    shares = [0.0, 1.0]
    if line.kind == "projection":
        for stripe in stripes:
            shares += outlines.crossings(stripe.points, a, b)
    found: list[Line] = []
    for low, high in itertools.pairwise(sorted(shares)):
        if (high - low) * math.dist(a, b) > _PIECE:
            ends = tuple(a.plus(Point(b.x - a.x, b.y - a.y).times(at)) for at in (low, high))
            piece = _grounded(stripes, replace(line, points=ends), stitches)
            if found and found[-1].ground == piece.ground:
                piece = replace(piece, points=(found.pop().points[0], ends[1]))
            found.append(piece)
    yield from found


def _grounded(stripes: Sequence[Stripe], line: Line, stitches: StitchMap) -> Line:
    """The line with the colour behind its middle."""
    middle = line.points[0].plus(line.points[1]).times(0.5)
    # The thumb's lie over the hand's.
    for stripe in reversed(stripes):
        cut = outlines.edges(stripe.points, middle.y)
        if cut and cut[0] < middle.x < cut[1]:
            return replace(line, ground=stitches.colour(stripe.yarn))
    return line


def grooved(
    line: Line, stripes: Sequence[Stripe], letters: Sequence[Box], stitches: StitchMap
) -> Iterator[Line]:
    """A groove of the cuff in parts, each shown on its stripe and clear of letters."""
    x = line.points[0].x
    near = [box for box in letters if box.left - _CLEAR < x < box.right + _CLEAR]
    for stripe in stripes:
        if stripe.piece != "cuff":
            continue
        top, foot = (end(p.y for p in stripe.points) for end in (min, max))
        within = [box for box in near if top < (box.top + box.bottom) / 2 < foot]
        ends = [foot, *(y for box in within for y in (box.bottom + _CLEAR, box.top - _CLEAR)), top]
        for low, high in zip(ends[::2], ends[1::2], strict=True):
            if low - high > _SHORT:
                points = (Point(x, low), Point(x, high))
                yield replace(line, points=points, ground=stitches.colour(stripe.yarn))
