"""A finished SVG read back into painted shapes, however it was written: groups and transforms
nested, style sheets and style attributes, copies by `use`, basic shapes instead of paths."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple
from xml.etree.ElementTree import Element

from gussetry.verify.affine import SAME, Affine, affine, moved
from gussetry.verify.cascade import INHERITED, Sheet, painted
from gussetry.verify.document import DEEPEST, SVG, frame, parse
from gussetry.verify.findings import Disagreement, UnreadableError
from gussetry.verify.paths import box_of, subpaths
from gussetry.verify.primitives import SHAPES, length, outline
from gussetry.verify.svg import Page, Shape, colour

MOST_SHAPES = 100_000
"""Painted shapes of a drawing that are read at most, copies by `use` included."""
MOST_STEPS = 200_000
"""Elements of a drawing that are walked through at most, copies included."""
MOST_DATA = 8_000_000
"""Characters of path data that are read at most, copies included."""
FAINTEST = 0.3
"""An opacity below this counts as hidden."""

_HREF = "{http://www.w3.org/1999/xlink}href"
_QUIET = {"title", "desc", "metadata", "defs", "style", "symbol", "clipPath", "mask", "marker",
          "pattern", "linearGradient", "radialGradient", "filter", "view"}  # fmt: skip
_GROUPS = {"svg", "g", "a", "switch"}
_TEXT = {"text", "tspan", "textPath", "font"}
_COLOUR = re.compile(r"#[0-9a-f]{6}")


class _Here(NamedTuple):
    """What holds at a place of the tree: inherited paint, hidden or not, and the transform."""

    paint: dict[str, str]
    hidden: bool
    by: Affine
    depth: int
    marks: dict[str, str]


@dataclass(slots=True)
class _Walk:
    """A document while it is walked."""

    sheet: Sheet
    ids: dict[str, Element]
    shapes: list[Shape]
    findings: list[Disagreement]
    data: int = 0
    steps: int = 0

    def note(self, kind: str, message: str, found: str = "") -> None:
        self.findings.append(Disagreement(kind, message, found=found[:80]))

    def children(self, element: Element, here: _Here) -> None:
        for child in element:
            self.element(child, here)

    def element(self, element: Element, above: _Here) -> None:
        """Reads an element and what is in it."""
        self.steps += 1
        if self.steps > MOST_STEPS:
            raise _TooMuchError("the drawing has more copies than a drawing can have")
        if not isinstance(element.tag, str):
            return
        space, _, name = element.tag.rpartition("}")
        if space != SVG[:-1]:
            # Programs keep their own notes in other namespaces; they paint nothing.
            return
        self._references(name, element)
        if name in _QUIET:
            if name in ("title", "desc", "metadata") and any(
                isinstance(child.tag, str) and child.tag.startswith(SVG) for child in element
            ):
                self.note("element", f"<{name}> holds elements that would be painted")
            return
        if name not in _GROUPS and name not in SHAPES and name not in ("path", "use"):
            kind = "text" if name in _TEXT else "element"
            self.note(kind, f"a drawing has no place for a <{name}>")
            return
        here = self._inside(element, above)
        if name in _GROUPS:
            if name == "svg":
                self.note("element", "a drawing within the drawing")
            self.children(element, here)
        elif name == "use":
            self._use(element, here)
        else:
            self._shape(name, element, here)

    def _references(self, name: str, element: Element) -> None:
        if name in ("script", "foreignObject", "image"):
            return
        for key, value in element.attrib.items():
            bare = key.rpartition("}")[2]
            points_out = bare == "href" and not value.startswith("#")
            fetches = "url(" in value and not re.search(r"url\(\s*[\"']?#", value)
            if bare.startswith("on") or points_out or fetches or "javascript:" in value:
                self.note("reference", f"a {name} has a script or a reference: {bare}", value)

    def _inside(self, element: Element, above: _Here) -> _Here:
        """What holds within an element."""
        own = painted(element, self.sheet)
        paint = above.paint
        if own:
            paint = {
                **paint,
                **{k: v for k, v in own.items() if k in INHERITED and v != "inherit"},
            }
        by = above.by
        if own.get("transform", ""):
            by = by.after(affine(own["transform"]))
        for name in ("clip-path", "mask", "filter"):
            if own.get(name, "none") not in ("none", ""):
                self.note("unread", f"a {name} may hide what is drawn", own[name])
        hidden = above.hidden or own.get("display", "") == "none" or _share(own) < FAINTEST
        return _Here(paint, hidden, by, above.depth + 1, above.marks)

    def _use(self, element: Element, here: _Here) -> None:
        """A copy of another element of the document."""
        name = element.get("href") or element.get(_HREF) or ""
        target = self.ids.get(name[1:]) if name.startswith("#") else None
        if target is None:
            self.note("reference", "a use names nothing in the document", name)
            return
        if here.depth > DEEPEST:
            raise UnreadableError(f"copies are nested more than {DEEPEST} deep")
        at = Affine(e=length(element.get("x", "0")), f=length(element.get("y", "0")))
        inner = here._replace(by=here.by.after(at), marks={**here.marks, **_marks(element)})
        if target.tag == SVG + "symbol":
            if "viewBox" in target.attrib:
                self.note("unread", "a symbol has a frame of its own", name)
            self.children(target, self._inside(target, inner))
        else:
            self.element(target, inner)

    def _shape(self, name: str, element: Element, here: _Here) -> None:
        try:
            data = element.get("d", "") if name == "path" else outline(name, element.attrib)
            self.data += len(data)
            if self.data > MOST_DATA or len(self.shapes) >= MOST_SHAPES:
                raise _TooMuchError("the drawing has more shapes than a drawing can have")
            subs = subpaths(data) if here.by == SAME else moved(subpaths(data), here.by)
            if not subs and not data.strip():
                return
            box = box_of(subs)
            pen = length(here.paint["stroke-width"]) * here.by.scale
        except _TooMuchError:
            raise
        except (UnreadableError, ValueError) as fault:
            self.note("path", f"a path cannot be read: {fault}", element.get("d", ""))
            return
        fill, fill_share = self._ink(here, "fill")
        stroke, stroke_share = self._ink(here, "stroke")
        shares = [share for ink, share in ((fill, fill_share), (stroke, stroke_share))
                  if ink != "none"]  # fmt: skip
        hidden = (
            here.hidden
            or here.paint["visibility"] != "visible"
            or here.paint["stroke-dasharray"].replace(",", " ").split()[:1] == ["0"]
            or max(shares, default=1.0) < FAINTEST
        )
        # Of two inks one alone may be too faint: what it should draw is not there.
        fill, stroke = ("none" if faint < FAINTEST else ink
                        for ink, faint in ((fill, fill_share), (stroke, stroke_share)))  # fmt: skip
        marks = {**_marks(element), **here.marks}
        self.shapes.append(
            Shape(len(self.shapes), data, subs, box, fill, stroke, pen, hidden, marks)
        )

    def _ink(self, here: _Here, name: str) -> tuple[str, float]:
        """A paint as `#rrggbb` or `none`, and its opacity."""
        value = here.paint[name].strip()
        if value == "currentColor":
            value = here.paint["color"]
        found, share = plain(value)
        if found != "none" and not _COLOUR.fullmatch(found):
            self.note("paint", "a path is painted with what is no plain colour", value)
        return found, share * _number(here.paint[f"{name}-opacity"])


class _TooMuchError(UnreadableError):
    """Raised where a document is a bomb."""


def _marks(element: Element) -> dict[str, str]:
    return {k: v for k, v in element.attrib.items() if k == "class" or k.startswith("data-")}


def _number(text: str) -> float:
    """An opacity from 0 to 1; 0 for what cannot be read."""
    bare = text.strip()
    try:
        return float(bare.removesuffix("%")) / (100 if bare.endswith("%") else 1)
    except ValueError:
        return 0.0


def _share(own: dict[str, str]) -> float:
    return _number(own.get("opacity", "1"))


def plain(value: str) -> tuple[str, float]:
    """A paint of CSS as `#rrggbb` and its opacity; `none`, or the text where it is no colour."""
    found = colour(value)
    if found == "none" or _COLOUR.fullmatch(found):
        return found, 1.0
    import tinycss2.color3

    parsed = tinycss2.color3.parse_color(value)
    if parsed is None or isinstance(parsed, str):
        return value, 1.0
    if parsed.alpha <= 0:
        return "none", 1.0
    inks = "".join(f"{round(part * 255):02x}" for part in parsed[:3])
    return f"#{inks}", float(parsed.alpha)


@lru_cache(maxsize=4)
def read(svg: bytes) -> Page:
    """The drawing read back, all in mm. `UnreadableError` where there is nothing to compare.

    Several checks of one drawing read it once.
    """
    root = parse(svg)
    page = frame(root)
    styles = [e.text or "" for e in root.iter(SVG + "style")]
    ids = {e.attrib["id"]: e for e in root.iter() if "id" in e.attrib}
    walk = _Walk(Sheet(styles, root), ids, [], [])
    if b"<?xml-stylesheet" in svg:
        walk.note("reference", "the drawing asks for a style sheet")
    by = SAME if _even(page.to_mm) else page.to_mm
    top = _Here(dict(INHERITED), False, by, 1, {})
    walk._references("svg", root)
    walk.children(root, walk._inside(root, top))
    marks = {k: v for k, v in root.attrib.items() if k.startswith("data-")}
    title, description = (_said(root, name) for name in ("title", "desc"))
    return Page(
        page.width, page.height, marks, tuple(walk.shapes), tuple(walk.findings),
        title, description,
    )  # fmt: skip


def _said(root: Element, name: str) -> str:
    """The words of the root's own title or description, blanks in them single."""
    found = root.find(SVG + name)
    return " ".join((found.text or "").split()) if found is not None else ""


def paper(page: Page) -> str:
    """The colour of a drawing's paper, empty where it has none: what covers the whole page before
    anything else is painted."""
    for shape in page.shapes[:1]:
        corners = (shape.box.left, shape.box.top), (shape.box.right, shape.box.bottom)
        covers = all(
            abs(found - due) < 0.01 * due + 0.01
            for found, due in zip(
                (*corners[0], *corners[1]), (0, 0, page.width, page.height), strict=True
            )
        )
        if covers and shape.fill != "none" and not shape.hidden:
            return shape.fill
    return ""


def _even(by: Affine) -> bool:
    """Whether one unit is one millimetre, within what a page could show."""
    return all(abs(one - other) < 1e-6 for one, other in zip(by, SAME, strict=True))
