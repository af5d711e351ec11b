"""The shapes of a drawing without tags sorted by what they are: labels, patches, arrowheads, lines,
outlines, and what may be a stitch or a symbol."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from gussetry.verify.charts import symbol_in
from gussetry.verify.findings import UnreadableError
from gussetry.verify.glyphs import contours_of, decode, shows
from gussetry.verify.paths import Subpath, flattened
from gussetry.verify.strokes import read_symbol
from gussetry.verify.svg import Page, Shape

MOST_LABELS = 1000
"""Labels of a drawing that are read at most without knowing what they should say."""
MOST_SHAPES = 6000
MOST_ARROWS = 300
"""Shapes and arrowheads of a drawing that are told at most without tags."""
MOST_CONTOURS = 5000
"""Contours of all those labels together."""
_NOTHING = 5e-4  # mm: half of what coordinates are rounded to
SIDES = (-1j, 1j, 1 + 0j, -1 + 0j)
"""The ways up that a symbol is looked at from."""


@dataclass(slots=True)
class Parts:
    """A page's shapes by what they are, in painting order.

    `texts` has what each label says; `glyphs` are what may be a stitch or a symbol, `lines` open
    strokes, `loops` closed ones, `odd` filled shapes that are nothing known. `marks` collects the
    tags that are found, by the shape's order; `root` those of the whole.
    """

    page: Page
    texts: dict[int, str] = field(default_factory=dict)
    labels: list[Shape] = field(default_factory=list)
    patches: list[Shape] = field(default_factory=list)
    arrows: list[Shape] = field(default_factory=list)
    lines: list[Shape] = field(default_factory=list)
    loops: list[Shape] = field(default_factory=list)
    glyphs: list[Shape] = field(default_factory=list)
    odd: list[Shape] = field(default_factory=list)
    marks: dict[int, dict[str, str]] = field(default_factory=dict)
    root: dict[str, str] = field(default_factory=dict)

    def tag(self, shape: Shape, **tags: str) -> None:
        """Notes tags of a shape; `class_` is its class, an underscore a hyphen."""
        own = self.marks.setdefault(shape.order, {})
        for name, value in tags.items():
            own["class" if name == "class_" else "data-" + name.replace("_", "-")] = value

    def role(self, shape: Shape) -> str:
        """The role that has been found for a shape, empty before."""
        return self.marks.get(shape.order, {}).get("data-role", "")

    def text(self, shape: Shape) -> str:
        """What a label says."""
        return self.texts.get(shape.order, "")


def interim(parts: Parts) -> Page:
    """The page with the tags found so far, its own before these."""
    shapes = []
    for shape in parts.page.shapes:
        own, found = shape.marks, parts.marks.get(shape.order, {})
        classes = f"{own.get('class', '')} {found.get('class', '')}".strip()
        marks = {**found, **own, **({"class": classes} if classes else {})}
        shapes.append(replace(shape, marks=marks))
    root = {f"data-{name}": value for name, value in parts.root.items() if value}
    return replace(parts.page, shapes=tuple(shapes), marks={**root, **parts.page.marks})


def corners(sub: Subpath) -> list[complex]:
    """The corners of a subpath, the first not once more at its end."""
    points = [sub.start, *sub.points]
    if len(points) > 1 and abs(points[-1] - points[0]) < 1e-6:
        points.pop()
    return points


def is_closed(sub: Subpath) -> bool:
    """Whether a subpath comes back to its start."""
    return sub.closed or (bool(sub.points) and abs(sub.points[-1] - sub.start) < 1e-6)


def is_rectangle(shape: Shape) -> bool:
    """Whether a shape is one upright rectangle."""
    if len(shape.subs) != 1 or not shape.subs[0].straight or not is_closed(shape.subs[0]):
        return False
    points, box = corners(shape.subs[0]), shape.box
    xs, ys = (box.left, box.right), (box.top, box.bottom)
    return len(points) == 4 and all(
        min(abs(p.real - x) for x in xs) < 0.002 and min(abs(p.imag - y) for y in ys) < 0.002
        for p in points
    )


def is_square(shape: Shape) -> bool:
    """Whether a rectangle is as wide as it is high."""
    wide, high = shape.box.right - shape.box.left, shape.box.bottom - shape.box.top
    return is_rectangle(shape) and abs(wide - high) < 0.02 * high


def _is_arrow(shape: Shape) -> bool:
    return all(sub.straight and len(corners(sub)) == 3 and is_closed(sub) for sub in shape.subs)


def _is_area(shape: Shape) -> bool:
    return len(shape.subs) == 1 and shape.subs[0].straight and is_closed(shape.subs[0])


def _is_lozenge(shape: Shape) -> bool:
    """Whether a filled shape has its four corners at the middles of its box's sides."""
    if len(shape.subs) != 1 or not shape.subs[0].straight or is_stroked(shape):
        return False
    points, middle = corners(shape.subs[0]), shape.box.centre
    return len(points) == 4 and all(
        min(abs((p - middle).real), abs((p - middle).imag)) < 0.01 for p in points
    )


def _covers(page: Page, shape: Shape) -> bool:
    box = shape.box
    return (
        max(abs(box.left), abs(box.top)) < 0.1
        and abs(box.right - page.width) < 0.1
        and abs(box.bottom - page.height) < 0.1
    )


def is_stroked(shape: Shape) -> bool:
    """Whether a shape is drawn with a pen."""
    return shape.stroke != "none" and shape.pen > 0


def is_symbol(shape: Shape) -> bool:
    """Whether a shape's strokes are a symbol from some side, whatever they are painted with."""
    return any(read_symbol(shape.subs, up, filled=False, stroked=True) for up in SIDES)


def sorted_parts(page: Page) -> Parts:
    """The page's shapes by what they are. `UnreadableError` where there is more text than any
    drawing has."""
    parts = Parts(page)
    contours = 0
    if len(page.shapes) > MOST_SHAPES:
        raise UnreadableError("more shapes without tags than any drawing has")
    for shape in page.shapes:
        if shape.fill != "none" and _covers(page, shape) and shape.order == 0:
            parts.tag(shape, role="paper")
        elif shape.fill == "none" and not is_stroked(shape):
            (parts.glyphs if is_symbol(shape) else parts.odd).append(shape)
        elif shape.fill == "none" and shape.box.size < _NOTHING:
            # A stroke that is cut to no length shows nothing.
            parts.tag(shape, role="rule")
        elif shape.fill == "none":
            _sort_stroked(parts, shape)
        elif is_rectangle(shape) or (is_stroked(shape) and _is_area(shape)):
            parts.patches.append(shape)
        elif _is_arrow(shape) and not is_stroked(shape) and len(parts.arrows) < MOST_ARROWS:
            if len(shape.subs) == 2 and is_symbol(shape):
                parts.tag(shape, role="joined")
                continue
            parts.arrows.append(shape)
            parts.tag(shape, role="arrow")
        elif _is_lozenge(shape):
            parts.tag(shape, role="marked")
        elif symbol_in(shape, -1j) is not None:
            parts.glyphs.append(shape)
        else:
            contours += len(shape.subs)
            if len(parts.labels) >= MOST_LABELS or contours > MOST_CONTOURS:
                raise UnreadableError("more text without tags than any drawing has")
            _read(parts, shape)
    return parts


def _read(parts: Parts, shape: Shape) -> None:
    contours = contours_of(shape.subs)
    says = shape.marks.get("data-says")
    text = says if says and shows(contours, says) else decode(contours)
    if text is None and says is None:
        parts.odd.append(shape)
        return
    parts.labels.append(shape)
    parts.texts[shape.order] = text or ""
    parts.tag(shape, says=text or "")


def _sort_stroked(parts: Parts, shape: Shape) -> None:
    """A shape without a fill: a line, an outline, or what may be a stitch."""
    if len(shape.subs) == 1 and not is_closed(shape.subs[0]):
        parts.lines.append(shape)
    elif len(shape.subs) == 1 and len(corners(shape.subs[0])) != 4 and shape.subs[0].straight:
        bow = symbol_in(shape, -1j) is not None
        (parts.glyphs if bow else parts.loops).append(shape)
    else:
        parts.glyphs.append(shape)


def ends(shape: Shape) -> list[complex]:
    """Both ends of every stroke of a shape."""
    found = [flattened(sub) for sub in shape.subs]
    return [end for points in found for end in (points[0], points[-1])]


def length(shape: Shape) -> float:
    """The length of a shape's strokes, mm."""
    points = [flattened(sub) for sub in shape.subs]
    return sum(abs(b - a) for way in points for a, b in pairwise(way))


def touches_arrow(line: Shape, arrows: Iterable[Shape], slack: float = 0.3) -> bool:
    """Whether one of a line's ends lies on an arrowhead."""
    return any(arrow.box.holds(end, slack) for arrow in arrows for end in ends(line))


def usual(shapes: Sequence[Shape]) -> set[tuple[str, float]]:
    """The inks and pens with which shapes are drawn."""
    return {(shape.stroke, round(shape.pen, 3)) for shape in shapes}
