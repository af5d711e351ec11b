"""An SVG document opened within bounds: nothing fetched, nothing expanded, nothing immense."""

from __future__ import annotations

import re
from typing import Any, NamedTuple
from xml.etree.ElementTree import Element, ParseError, TreeBuilder

from gussetry.verify.affine import Affine
from gussetry.verify.findings import UnreadableError

LARGEST_FILE = 25_000_000
"""Bytes of a file that is read at most."""
DEEPEST = 60
"""Elements within elements that are read at most."""
MOST_ELEMENTS = 200_000
"""Elements of a document that are read at most: a drawing of ours has some thousands."""
LARGEST_PAGE = 5000.0
"""Millimetres that a page is wide or high at most."""

SVG = "{http://www.w3.org/2000/svg}"
_LENGTH = re.compile(r"\s*([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)\s*(mm|cm|in|pt|pc|px|)\s*")
_UNITS = {"mm": 1.0, "cm": 10.0, "in": 25.4, "pt": 25.4 / 72, "pc": 25.4 / 6,
          "px": 25.4 / 96, "": 25.4 / 96}  # fmt: skip
_EVEN = 2e-3


class _Bounded(TreeBuilder):
    """A tree that stops growing where no drawing would go."""

    def __init__(self) -> None:
        super().__init__()
        self._depth = self._elements = 0

    def start(self, tag: Any, attrs: Any, /) -> Element:
        """Begins an element."""
        self._depth += 1
        self._elements += 1
        if self._depth > DEEPEST:
            raise UnreadableError(f"elements are nested more than {DEEPEST} deep")
        if self._elements > MOST_ELEMENTS:
            raise UnreadableError(f"the document has more than {MOST_ELEMENTS} elements")
        return super().start(tag, attrs)

    def end(self, tag: str, /) -> Element:
        """Ends an element."""
        self._depth -= 1
        return super().end(tag)


def parse(svg: bytes) -> Element:
    """The root of the document. `UnreadableError` for no SVG, one too large or too deep, entities,
    or a wrong encoding. A DOCTYPE without entities is let pass: drawing programs write it."""
    from defusedxml.common import DefusedXmlException
    from defusedxml.ElementTree import XMLParser

    if len(svg) > LARGEST_FILE:
        raise UnreadableError(f"the file is larger than {LARGEST_FILE // 1_000_000} MB")
    parser = XMLParser(
        target=_Bounded(), forbid_dtd=False, forbid_entities=True, forbid_external=True
    )
    try:
        parser.feed(svg)
        root: Element = parser.close()
    except DefusedXmlException as fault:
        message = "it declares entities or asks for outside parts, which are refused"
        raise UnreadableError(message) from fault
    except (ParseError, ValueError, LookupError) as fault:
        if isinstance(fault, UnreadableError):
            raise
        raise UnreadableError(f"not readable as XML: {fault}") from fault
    if root.tag != SVG + "svg":
        raise UnreadableError("the document's root is no svg element")
    return root


class Frame(NamedTuple):
    """A page in mm, and the transform from the drawing's own unit to mm."""

    width: float
    height: float
    to_mm: Affine


def frame(root: Element) -> Frame:
    """The page of a document. `UnreadableError` where it has no size of its own, or would be
    painted stretched or with white beside it."""
    sides = []
    for name in ("width", "height"):
        found = _LENGTH.fullmatch(root.get(name, ""))
        if not found:
            raise UnreadableError(f"the page has no {name} in a unit of length")
        sides.append(float(found[1]) * _UNITS[found[2]])
    width, height = sides
    if not (0 < width < LARGEST_PAGE and 0 < height < LARGEST_PAGE):
        raise UnreadableError("the page has no usable size")
    if "viewBox" not in root.attrib:
        pixel = _UNITS["px"]
        return Frame(width, height, Affine(a=pixel, d=pixel))
    try:
        box = [float(part) for part in root.attrib["viewBox"].replace(",", " ").split()]
    except ValueError:
        box = []
    if len(box) != 4 or not (0 < box[2] < 1e7 and 0 < box[3] < 1e7):
        raise UnreadableError("the viewBox cannot be read")
    across, down = width / box[2], height / box[3]
    if abs(across - down) > _EVEN * across:
        raise UnreadableError("the viewBox has another shape than the page")
    return Frame(width, height, Affine(across, 0, 0, down, -box[0] * across, -box[1] * down))
