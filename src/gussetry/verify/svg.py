"""A finished SVG read back into painted shapes, with nothing taken on trust."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any
from xml.etree.ElementTree import Element, ParseError

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import fromstring

from gussetry.colours import contrast
from gussetry.verify.findings import Disagreement, UnreadableError
from gussetry.verify.paths import Box, Subpath, box_of, flattened, subpaths

LARGEST_FILE = 32 * 1024 * 1024
DEEPEST = 64

_SVG = "{http://www.w3.org/2000/svg}"
_QUIET = {"title", "desc", "metadata"}
_DRAWN = {"svg", "g", "path"}
_PAINT = {"fill": "#000000", "stroke": "none", "stroke-width": "1"}
_OPACITIES = ("opacity", "fill-opacity", "stroke-opacity")
_FAINTEST_OPACITY = 0.3  # below this a path counts as hidden
_UNREAD = {"transform", "style", "clip-path", "mask", "filter", "pathLength"}
_LENGTH = re.compile(r"\s*([0-9]+(?:\.[0-9]+)?)mm\s*")
_COLOUR = re.compile(r"#([0-9a-fA-F]{6}|[0-9a-fA-F]{3})")
_NAMES = {"white": "#ffffff", "black": "#000000"}


@dataclass(frozen=True, slots=True)
class Shape:
    """One painted path. `order` is its place in painting, `marks` its class and data tags."""

    order: int
    data: str
    subs: tuple[Subpath, ...]
    box: Box
    fill: str
    stroke: str
    pen: float
    hidden: bool
    marks: dict[str, str] = field(hash=False)

    def tag(self, name: str) -> str:
        """The value of `data-name`, empty where it has none."""
        return self.marks.get("data-" + name, "")

    @property
    def classes(self) -> tuple[str, ...]:
        """Its classes."""
        return tuple(self.marks.get("class", "").split())

    @property
    def inks(self) -> tuple[str, ...]:
        """The colours `#rrggbb` that it really paints with."""
        if self.hidden:
            return ()
        fill = (self.fill,) if self.fill.startswith("#") else ()
        stroke = (self.stroke,) if self.stroke.startswith("#") and self.pen > 0 else ()
        return fill + stroke


@dataclass(frozen=True, slots=True)
class Page:
    """A drawing read back: its size in mm, the root's tags, its shapes in painting order, and the
    title and description that a screen reader gets, empty where it has none."""

    width: float
    height: float
    marks: dict[str, str]
    shapes: tuple[Shape, ...]
    findings: tuple[Disagreement, ...]
    title: str = ""
    description: str = ""

    def tag(self, name: str) -> str:
        """The root's `data-name`, empty where it has none."""
        return self.marks.get("data-" + name, "")


def colour(value: str) -> str:
    """The colour as `#rrggbb` in small letters, `none`, or the text where it is no such thing."""
    value = value.strip()
    found = _COLOUR.fullmatch(value)
    if not found:
        return _NAMES.get(value, value)
    digits = found[1].lower()
    return "#" + (digits if len(digits) == 6 else "".join(d * 2 for d in digits))


def parse(svg: bytes) -> Element:
    """The root of the document. `UnreadableError` for no SVG, one too large, or entities."""
    if len(svg) > LARGEST_FILE:
        raise UnreadableError("the file is larger than 32 MiB")
    try:
        root: Element = fromstring(
            svg, forbid_dtd=False, forbid_entities=True, forbid_external=True
        )
    except (ParseError, DefusedXmlException, ValueError, LookupError) as fault:
        raise UnreadableError(f"not readable as XML: {fault}") from fault
    if root.tag != _SVG + "svg":
        raise UnreadableError("the document's root is no svg element")
    return root


def page_size(root: Element) -> tuple[float, float]:
    """Width and height in mm. `UnreadableError` unless they are in mm and the viewBox agrees."""
    sides = [_LENGTH.fullmatch(root.get(name, "")) for name in ("width", "height")]
    if not sides[0] or not sides[1]:
        raise UnreadableError("width and height are not in millimetres")
    width, height = float(sides[0][1]), float(sides[1][1])
    view = root.get("viewBox", "").replace(",", " ").split()
    try:
        box = [float(part) for part in view]
    except ValueError:
        box = []
    if len(box) != 4 or any(
        not abs(a - b) < 1e-3 for a, b in zip(box, (0, 0, width, height), strict=True)
    ):
        raise UnreadableError("the viewBox does not make one unit a millimetre")
    if not (0 < width < 5000 and 0 < height < 5000):
        raise UnreadableError("the page has no usable size")
    return width, height


def paper_of(root: Element) -> str:
    """The colour of the drawing's paper, empty where it has none."""
    for path in root.iter(_SVG + "path"):
        if path.get("data-role") == "paper":
            fill = colour(path.get("fill", ""))
            return fill if _COLOUR.fullmatch(fill) else ""
    return ""


class _Walk:
    """The shapes and findings of a document while it is walked."""

    def __init__(self) -> None:
        self.shapes: list[Shape] = []
        self.findings: list[Disagreement] = []

    def note(self, kind: str, message: str, found: str = "") -> None:
        self.findings.append(Disagreement(kind, message, found=found[:80]))

    def look_at_attributes(self, name: str, element: Element) -> None:
        for key, value in element.attrib.items():
            bare = key.rpartition("}")[2]
            if bare.startswith("on") or bare == "href" or "url(" in value or "javascript:" in value:
                self.note("reference", f"a {name} has a script or a reference: {bare}", value)
            elif bare in _UNREAD:
                self.note(
                    "unread", f"a {name} has {bare}, which the recount does not follow", value
                )

    def path(self, element: Element, paint: dict[str, str], hidden: bool) -> None:
        data = element.get("d", "")
        try:
            subs = subpaths(data)
            box = box_of(subs)
            pen = float(paint["stroke-width"])
        except (UnreadableError, ValueError) as fault:
            self.note("path", f"a path cannot be read: {fault}", data)
            return
        marks = {k: v for k, v in element.attrib.items() if k == "class" or k.startswith("data-")}
        fill, stroke = colour(paint["fill"]), colour(paint["stroke"])
        for ink in (fill, stroke):
            if ink != "none" and not _COLOUR.fullmatch(ink):
                self.note("paint", "a path is painted with what is no plain colour", ink)
        self.shapes.append(
            Shape(len(self.shapes), data, subs, box, fill, stroke, pen, hidden, marks)
        )


def _inherited(element: Element, paint: dict[str, str]) -> dict[str, str]:
    own = {k: element.attrib[k] for k in _PAINT if k in element.attrib}
    return {**paint, **own} if own else paint


def _hides(element: Element) -> bool:
    """True where an element's own attributes make it vanish."""
    get = element.attrib.get
    if get("visibility", "visible").strip() != "visible" or get("display", "").strip() == "none":
        return True
    # A dash of no length paints nothing.
    if get("stroke-dasharray", "none").replace(",", " ").split()[:1] == ["0"]:
        return True
    return any(_share(get(name, "1")) < _FAINTEST_OPACITY for name in _OPACITIES)


def _share(value: str) -> float:
    """An opacity from 0 to 1; 0 for what cannot be read."""
    plain = value.strip()
    try:
        return float(plain.removesuffix("%")) / (100 if plain.endswith("%") else 1)
    except ValueError:
        return 0.0


def read(svg: bytes) -> Page:
    """The drawing read back. `UnreadableError` where there is nothing to compare at all."""
    root = parse(svg)
    width, height = page_size(root)
    walk = _Walk()
    if b"<?xml-stylesheet" in svg:
        walk.note("reference", "the drawing asks for a style sheet")
    stack: list[tuple[Any, dict[str, str], bool, int]] = [(root, dict(_PAINT), False, 1)]
    while stack:
        element, paint, hidden, depth = stack.pop()
        if depth > DEEPEST:
            raise UnreadableError(f"elements are nested more than {DEEPEST} deep")
        if not isinstance(element.tag, str):
            continue
        space, _, name = element.tag.rpartition("}")
        if space != _SVG[:-1] or name not in _DRAWN | _QUIET or (name == "svg" and depth > 1):
            self_kind = "text" if name in ("text", "tspan", "textPath") else "element"
            walk.note(self_kind, f"a drawing has no place for a <{name}>")
            continue
        if name in _QUIET:
            if len(element):
                walk.note("element", f"<{name}> holds elements")
            continue
        walk.look_at_attributes(name, element)
        paint = _inherited(element, paint)
        hidden = hidden or _hides(element)
        if name == "path":
            walk.path(element, paint, hidden)
        stack += [(child, paint, hidden, depth + 1) for child in reversed(element)]
    marks = {k: v for k, v in root.attrib.items() if k.startswith("data-")}
    title, description = (_said(root, name) for name in ("title", "desc"))
    return Page(width, height, marks, tuple(walk.shapes), tuple(walk.findings), title, description)


def _said(root: Element, name: str) -> str:
    """The words of the root's own title or description, blanks in them single."""
    found = root.find(_SVG + name)
    return " ".join((found.text or "").split()) if found is not None else ""


# --- what can be seen -------------------------------------------------------------------------


def inside(point: complex, outline: list[complex]) -> bool:
    """True where the point lies within the closed outline (even-odd)."""
    odd = False
    last = outline[-1]
    for here in outline:
        if (here.imag > point.imag) != (last.imag > point.imag):
            at = here.real + (point.imag - here.imag) * (last.real - here.real) / (
                last.imag - here.imag
            )
            odd ^= point.real < at
        last = here
    return odd


LEAST_TEXT, LEAST_SYMBOL = 4.5, 3.0
"""Contrast with its ground under which a label, and a stitch or symbol, cannot be seen (WCAG 2.2,
1.4.3 and 1.4.11)."""


class Grounds:
    """The filled areas of a page: what lies behind a shape, and what covers it."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.areas = [
            (shape, [flattened(sub) for sub in shape.subs])
            for shape in page.shapes
            if shape.fill.startswith("#")
            and not shape.hidden
            and not shape.tag("says")
            and "stitch" not in shape.classes
            and "symbol" not in shape.classes
        ]
        self.ratios: dict[tuple[str, str], float] = {}

    def at(self, shape: Shape) -> tuple[str, bool]:
        """The colour behind the shape's middle, and whether something covers it."""
        ground = "#ffffff"
        point = shape.box.centre
        for area, outlines in self.areas:
            if not area.box.holds(point):
                continue
            if not sum(inside(point, outline) for outline in outlines) % 2:
                continue
            if area.order > shape.order:
                return ground, True
            ground = area.fill
        return ground, False

    def unseen(self, shape: Shape) -> str:
        """Why the shape cannot be seen, empty where it can."""
        page, box = self.page, shape.box
        if not shape.inks:
            return "has no paint"
        if box.left < 0 or box.top < 0 or box.right > page.width or box.bottom > page.height:
            return "lies off the page"
        if box.size < 0.05:
            return "has no size"
        ground, covered = self.at(shape)
        if covered:
            return "lies under something else"
        least = LEAST_TEXT if "data-says" in shape.marks else LEAST_SYMBOL
        for ink in shape.inks:
            key = (ink, ground)
            if key not in self.ratios:
                self.ratios[key] = contrast(ink, ground)
            if self.ratios[key] >= least:
                return ""
        return f"is painted {shape.inks[0]} on {ground}"
