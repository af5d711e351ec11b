"""A drawing as SVG bytes. The only module that knows svgwrite."""

from __future__ import annotations

import re
from xml.etree import ElementTree

from svgwrite.base import BaseElement
from svgwrite.container import Group as GroupElement
from svgwrite.drawing import Drawing as Root
from svgwrite.path import Path as PathElement

from gussetry.drawing import Drawing, Group, Part, Path, Tags
from gussetry.units import text

# svgwrite writes characters that XML 1.0 does not allow as they stand (clause 2.2, Char).
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


_TELLING = ("data-kind", "data-size", "data-mitten", "data-hand", "data-sheet")
"""Tags of a root that no two drawings of a pattern share."""


def _clean(words: str) -> str:
    return _NOT_XML.sub("", words)


def _tag(element: BaseElement, tags: Tags) -> None:
    for name, value in tags:
        element[name] = _clean(value)


def _ink(element: BaseElement, item: Path | Group) -> None:
    if item.fill != "none":
        element["fill"] = item.fill
    if item.stroke != "none":
        element["stroke"] = item.stroke
    if item.pen:
        element["stroke-width"] = text(item.pen)


def _path(item: Path) -> BaseElement:
    element = PathElement(d=item.data, debug=False)
    _ink(element, item)
    if item.dash:
        element["stroke-dasharray"] = " ".join(text(length) for length in item.dash)
    _tag(element, item.tags)
    return element


def _group(group: Group) -> BaseElement:
    element = GroupElement(debug=False)
    _ink(element, group)
    _tag(element, group.tags)
    for item in group.items:
        element.add(_path(item))
    return element


def _part(part: Part, name: str) -> BaseElement:
    element = GroupElement(debug=False)
    element["role"] = "img"
    element["aria-labelledby"] = f"{name}-title"
    element["aria-describedby"] = f"{name}-description"
    _tag(element, part.tags)
    element.set_desc(_clean(part.title), _clean(part.description))
    for group in part.groups:
        element.add(_group(group))
    return element


def _body(drawing: Drawing, name: str) -> BaseElement:
    # Caps and joins stand once, here: CairoSVG draws children that set them again wrongly.
    ink = GroupElement(debug=False)
    ink["fill"] = "none"
    ink["stroke"] = "none"
    ink["stroke-linecap"] = ink["stroke-linejoin"] = "round"
    if drawing.paper:
        wide, high = text(drawing.width), text(drawing.height)
        ground = PathElement(d=f"M0 0H{wide}V{high}H0Z", debug=False)
        ground["fill"] = drawing.paper
        ground["data-role"] = "paper"
        ink.add(ground)
    for number, part in enumerate(drawing.parts, 1):
        ink.add(_part(part, f"{name}-{number}"))
    for group in drawing.groups:
        ink.add(_group(group))
    return ink


def _name(drawing: Drawing) -> str:
    """What the drawing's parts are called: another name for every drawing of a pattern, so that
    several may stand in one page."""
    said = " ".join(value for name, value in drawing.tags if name in _TELLING)
    return re.sub(r"[^\w.]+", "-", said, flags=re.ASCII).strip("-") or "drawing"


def svg_bytes(drawing: Drawing) -> bytes:
    """The drawing as a UTF-8 SVG 1.1 file, one element a line, the same bytes every time.

    One unit of the `viewBox` is a millimetre; the root carries the drawing's tags, its title and
    its description. No script, no reference to another file, no picture, no font.
    """
    wide, high = text(drawing.width), text(drawing.height)
    root = Root(size=(f"{wide}mm", f"{high}mm"), debug=False)
    root["viewBox"] = f"0 0 {wide} {high}"
    name = _name(drawing)
    # A reader in English reads the title, then the description, and the picture as one; of a page
    # each part so.
    root["xml:lang"] = "en"
    root["role"] = "group" if drawing.parts else "img"
    root["aria-labelledby"] = f"{name}-title"
    root["aria-describedby"] = f"{name}-description"
    root.elements.remove(root.defs)
    _tag(root, drawing.tags)
    root.add(_body(drawing, name))
    root.set_desc(_clean(drawing.title), _clean(drawing.description))
    tree = root.get_xml()
    tree[0].set("id", f"{name}-title")
    tree[1].set("id", f"{name}-description")
    for number, part in enumerate(tree.iterfind(".//g[@role='img']"), 1):
        part[0].set("id", f"{name}-{number}-title")
        part[1].set("id", f"{name}-{number}-description")
    ElementTree.indent(tree, " ")
    written: bytes = ElementTree.tostring(tree, encoding="utf-8")
    return b'<?xml version="1.0" encoding="utf-8"?>\n' + written + b"\n"
