"""Chart + style → drawing: everything inked, every letter an outline."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from functools import cache
from itertools import pairwise

from gussetry.chart import Chart, Label, Line, Patch, PlacedStitch
from gussetry.drawing import Drawing, Group, Path, Tags
from gussetry.engrave.breaks import BROKEN, Obstacles, obstacles
from gussetry.style import Style, inks, lettering, step
from gussetry.style.symbols import Cup, Ring, Stroke, parts
from gussetry.units import Frame, Point, text

SHAPING = ("inc", "sc2tog", "hdc2tog", "dc2tog", "join")
"""Kinds that stand out: a heavier pen, and the emphasis colour where there is colour."""

AGAIN = ("data-repeat", "overlap")
"""What a stitch has that stands on a sheet before too."""

_PENS = {
    "growth": "guide", "marker": "marker", "start": "frame", "direction": "guide",
    "join": "frame", "frame": "frame", "rule": "guide", "outline": "outline", "rib": "guide",
    "dimension": "dimension", "projection": "dimension", "hatch": "guide",
    "register": "frame",
}  # fmt: skip
_DASHES = {"growth": (0.5, 0.7), "marker": (), "start": (1.6, 0.8)}
STOUTEST = {"stitch": 0.1, "shaping": 0.144}
"""Pens over the pitch at most: where stitches stand close, the style's pens would clog them."""
ARROW = 2.2
"""Length of an arrowhead, mm."""
NARROW = 12
"""Half its angle, degrees: between the narrow arrow of 15° in all (ISO 129:1985) and that of 30°
(ISO 129-1:2018, from memory)."""


def _xy(point: Point) -> str:
    return f"{text(point.x)} {text(point.y)}"


def _ring(frame: Frame, ring: Ring) -> str:
    right = frame.place(ring.centre.x + ring.rx, ring.centre.y)
    left = frame.place(ring.centre.x - ring.rx, ring.centre.y)
    turn = math.degrees(math.atan2(right.y - left.y, right.x - left.x))
    arc = f"A{text(ring.rx)} {text(ring.ry)} {text(turn, 2)} 0 1"
    return f"M{_xy(right)}{arc} {_xy(left)}{arc} {_xy(right)}Z"


def _part(frame: Frame, part: Stroke | Ring | Cup) -> str:
    if isinstance(part, Ring):
        return _ring(frame, part)
    if isinstance(part, Cup):
        ends = frame.place(*part.start), frame.place(*part.end)
        radius = text(part.radius)
        return f"M{_xy(ends[0])}A{radius} {radius} 0 0 {int(not part.open_up)} {_xy(ends[1])}"
    placed = [frame.place(*p) for p in part.points]
    return "M" + "L".join(_xy(p) for p in placed) + ("Z" if part.closed else "")


def _finer(pitch: float, style: Style) -> int:
    """How many steps of the series finer than the style's the pens of such cells are: all by the
    same, so that thick stays to thin as the style wants it."""
    return max(0, *(step(style.pen(name)) - step(most * pitch) for name, most in STOUTEST.items()))


def _pen_of(placed: PlacedStitch, style: Style) -> float:
    """The pen that a stitch is drawn with, mm; a disc alone has none."""
    if placed.op.do == "slst":
        return 0.0
    name = "shaping" if placed.op.do in SHAPING else "stitch"
    return style.pen(name, _finer(placed.pitch, style))


def _stitch(placed: PlacedStitch, style: Style) -> Path:
    found = parts(placed.op, placed.pitch, placed.reach)
    data = "".join(_part(placed.frame, part) for part in found)
    discs = [isinstance(part, Ring) and part.filled for part in found]
    # What is worked on another sheet stands back.
    again = inks.faint(style.quiet_ink, style.paper) if AGAIN in placed.tags else ""
    ink = again or style.ink
    if all(discs):
        return Path(data, fill=ink, stroke="none", tags=placed.tags)
    if placed.op.do in SHAPING:
        pen = style.pen("shaping", _finer(placed.pitch, style))
        return Path(data, stroke=again or style.emphasis, pen=pen, tags=placed.tags)
    pen = style.pen("stitch", _finer(placed.pitch, style))
    pen = pen if pen < style.pen("stitch") else 0.0
    # A line encloses nothing: the fill is a disc's alone.
    fill = ink if any(discs) else "none"
    return Path(data, fill=fill, stroke=again or "none", pen=pen, tags=placed.tags)


def _ink_on(ground: str, style: Style) -> str:
    """The style's ink, or where it cannot be read on the ground, black or white."""
    return inks.legible(style.ink, ground) if ground else style.ink


_FIRST = re.compile(r"\d+")
BOLD = ("title", "number")
"""Label kinds set in the bold weight."""


@cache
def _letter(character: str, size: float, bold: bool, turned: float) -> tuple[Point, str]:
    """(first point, path data after it) of a letter about its origin.

    The data are relative, each step between points that are rounded first, so nothing drifts and
    the same letter has the same text wherever it stands.
    """
    cos, sin = math.cos(math.radians(turned)), math.sin(math.radians(turned))

    def placed(point: tuple[float, float]) -> tuple[int, int]:
        x, y = point[0] * size, point[1] * size
        return round((x * cos - y * sin) * 1000), round((-x * sin - y * cos) * 1000)

    first: tuple[int, int] | None = None
    here = start = (0, 0)
    data = ""
    for verb, points in lettering.glyph(character, bold)[1]:
        if verb == "closePath":
            data += "z"
            here = start
            continue
        at = [placed(p) for p in points]
        steps = " ".join(f"{text((x - here[0]) / 1000)} {text((y - here[1]) / 1000)}"
                         for x, y in at)  # fmt: skip
        here = at[-1]
        if verb == "moveTo":
            start = here
            if first is None:
                first = here
                continue
        data += {"moveTo": "m", "lineTo": "l", "qCurveTo": "q"}[verb] + steps
    own = first or (0, 0)
    return Point(own[0] / 1000, own[1] / 1000), data


def _label(label: Label, style: Style) -> Path:
    size = style.size(label.kind)
    bold = label.kind in BOLD
    words = lettering.drawable(label.text)
    wide = lettering.advance(words, size, bold)
    x = {"start": 0.0, "middle": -wide / 2, "end": -wide}[label.anchor]
    turned = math.radians(label.turned)
    cos, sin = math.cos(turned), math.sin(turned)
    data: list[str] = []
    drawn = words.replace("0", lettering.PLAIN_ZERO) if style.numerals == "plain" else words
    for character in drawn:
        first, rest = _letter(character, size, bold, label.turned)
        if rest:
            # The origin is rounded by itself, so that the letter keeps its shape to the digit.
            left = round(label.at.x + x * cos, 3) + first.x
            top = round(label.at.y - x * sin, 3) + first.y
            data.append(f"M{text(left)} {text(top)}{rest}")
        x += lettering.glyph(character, bold)[0] * size
    says = (("data-says", words),) if words else ()
    # What is not drawn but summed stands back from counts beside it, where all can read it so.
    quiet = label.kind == "sum" and not label.ground
    paper = style.paper or "#ffffff"
    if quiet and inks.ratio(style.quiet_ink, paper) >= inks.TEXT:
        ink = style.quiet_ink
    else:
        ink = _ink_on(label.ground, style)
    return Path("".join(data), fill=ink, tags=(*label.tags, *says))


def _head(tip: Point, away: Point) -> str:
    """A solid arrowhead at `tip`, pointing away from `away`."""
    angle = math.atan2(away.y - tip.y, away.x - tip.x)
    sides = [
        Point(tip.x + ARROW * math.cos(angle + d), tip.y + ARROW * math.sin(angle + d))
        for d in (math.radians(NARROW), -math.radians(NARROW))
    ]
    return f"M{_xy(tip)}L{_xy(sides[0])}L{_xy(sides[1])}Z"


def _unbroken(line: Line, obstacles: Obstacles | None, pen: float) -> str:
    """The path data of a line, broken around what it passes where its kind allows that."""
    pieces: Sequence[Sequence[Point]] = [line.points]
    if obstacles is not None and line.kind in BROKEN:
        closing = (line.points[0],) if line.closed else ()
        pieces = obstacles.broken((*line.points, *closing), pen)
    elif line.closed:
        return "M" + "L".join(_xy(p) for p in line.points) + "Z"
    return "".join("M" + "L".join(_xy(p) for p in piece) for piece in pieces)


def _fitted(dash: tuple[float, ...], long: float) -> tuple[float, ...]:
    """Dashes that let a line so long, mm, end in one: it reaches what it leads to."""
    drawn, white = dash
    gaps = max(1, round((long - drawn) / (drawn + white)))
    fitted = (long - (gaps + 1) * drawn) / gaps
    return (drawn, round(fitted, 3)) if fitted > white / 2 else dash


def _line(line: Line, style: Style, finer: int, obstacles: Obstacles | None) -> list[Path]:
    colour = (
        style.ink if line.kind in ("outline", "marker", "start", "register") else style.quiet_ink
    )
    if line.ground and inks.ratio(colour, line.ground) < inks.GRAPHICS:
        # A line over a stripe may reach beyond it: its ink shows on the paper too, if one does.
        colour = inks.edge((colour, style.ink), line.ground, style.paper or "#ffffff")
        if inks.ratio(colour, line.ground) < inks.GRAPHICS:
            colour = inks.legible(style.ink, line.ground)
    tags: Tags = line.tags
    if not any(name == "data-role" for name, _ in tags):
        tags = (("data-role", line.kind), *tags)
    if line.kind == "joined":
        # Two triangles, each an outline of its own: their common corner is no crossing.
        halves = line.points[:3], line.points[3:]
        data = "".join("M" + "L".join(_xy(p) for p in half) + "Z" for half in halves)
        return [Path(data, fill=style.emphasis, tags=tags)]
    if line.kind == "marked":
        data = "M" + "L".join(_xy(p) for p in line.points) + "Z"
        return [Path(data, fill=style.ink, tags=tags)]
    dash = _DASHES.get(line.kind, ())
    pen = style.pen(_PENS[line.kind], finer)
    data = _unbroken(line, obstacles, pen)
    if dash and len(line.points) == 2 and data.count("M") == 1:
        dash = _fitted(dash, math.dist(*line.points))
    made = [Path(data, stroke=colour, pen=pen, dash=dash, tags=tags)] if data else []
    heads = ""
    if line.arrows in ("start", "both"):
        heads += _head(line.points[0], line.points[1])
    if line.arrows in ("end", "both"):
        heads += _head(line.points[-1], line.points[-2])
    if heads:
        made.append(Path(heads, fill=colour, tags=(("data-role", "arrow"),)))
    return made


_STRIPE = ("data-role", "stripe")


def _fill(patch: Patch, style: Style) -> str:
    return patch.colour if patch.yarn else (style.paper or "#ffffff")


def _patch(patch: Patch, before: Patch, style: Style, finer: int) -> Path:
    data = "M" + "L".join(_xy(p) for p in patch.points) + "Z"
    fill = _fill(patch, style)
    if patch.outlined:
        edge = style.quiet_ink
        if _STRIPE in patch.tags:
            # The edges of a strip's rounds are its rules: they must show on a dark yarn too, and
            # part it from the one before.
            beside = _fill(before if _STRIPE in before.tags else patch, style)
            edge = inks.edge((style.quiet_ink, style.ink), fill, beside)
        return Path(data, fill, edge, style.pen("guide", finer), tags=patch.tags)
    return Path(data, fill, tags=patch.tags)


def _group(role: str, items: Iterable[Path]) -> Group:
    return Group(tuple(items), tags=(("data-role", role),))


def _in_order(labels: Iterable[Label]) -> tuple[Label, ...]:
    """The labels as they are read: what stands above the rounds, what belongs to rounds from the
    first on, what stands below."""
    above: list[Label] = []
    rounds: list[tuple[int, int, Label]] = []
    below: list[Label] = []
    for place, label in enumerate(labels):
        number = _FIRST.match(dict(label.tags).get("data-round", ""))
        if number:
            rounds.append((int(number[0]), place, label))
        else:
            (below if rounds else above).append(label)
    in_order = [label for _, _, label in sorted(rounds, key=lambda r: r[:2])]
    return (*above, *in_order, *below)


def engrave(chart: Chart, style: Style) -> Drawing:
    """The drawing of a chart: concrete colours, pens and outlines."""
    inked = [(_stitch(s, style), s.op.do == "slst") for s in chart.stitches]
    # Discs stand in a group without a stroke, for a path cannot take back its group's.
    stroked = tuple(path for path, disc in inked if not disc)
    discs = tuple(path for path, disc in inked if disc)
    tags = (("data-role", "stitches"),)
    finer = max((_finer(s.pitch, style) for s in chart.stitches), default=0)
    around = None
    if any(line.kind in BROKEN for line in chart.lines):
        pens = [(placed, _pen_of(placed, style)) for placed in chart.stitches]
        around = obstacles(pens, [(one, one.kind in BOLD) for one in chart.labels], style)
    labels = _in_order(chart.labels) if chart.stitches else chart.labels
    stitches = Group(stroked, stroke=style.ink, pen=style.pen("stitch"), tags=tags)
    groups = [
        _group(
            "colours",
            (
                _patch(patch, before, style, finer)
                for before, patch in pairwise((*chart.patches[:1], *chart.patches))
            ),
        ),
        _group(
            "lines",
            (path for line in chart.lines for path in _line(line, style, finer, around)),
        ),
        stitches,
        Group(discs, tags=tags),
        _group("labels", (_label(label, style) for label in labels)),
    ]
    return Drawing(
        chart.width, chart.height, chart.title, chart.description,
        tuple(g for g in groups if g.items), style.paper, chart.tags,
    )  # fmt: skip
