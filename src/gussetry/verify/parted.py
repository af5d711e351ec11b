"""A page cut into its parts: each a document by itself, on a page of its own."""

from __future__ import annotations

from collections.abc import Iterator
from copy import copy
from typing import NamedTuple
from xml.etree.ElementTree import Element, SubElement, tostring

from gussetry.verify.document import DEEPEST, SVG, parse
from gussetry.verify.findings import UnreadableError
from gussetry.verify.reading import paper, read
from gussetry.verify.svg import Page


class Cut(NamedTuple):
    """A part of a page: its number and name, its upper left corner on the page, and what it shows,
    in its own coordinates. mm."""

    number: int
    name: str
    at: tuple[float, float]
    page: Page

    @property
    def right(self) -> float:
        """Its right edge on the page."""
        return self.at[0] + self.page.width

    @property
    def foot(self) -> float:
        """Its lower edge on the page."""
        return self.at[1] + self.page.height


def cut(svg: bytes) -> tuple[Page, Page, tuple[Cut, ...]]:
    """The whole page, what stands on it beside its parts, and the parts in order.
    `UnreadableError` where a part does not say where it lies."""
    whole = read(svg)
    root = parse(svg)
    ground = paper(whole)
    parts = tuple(_part(chain, ground) for chain in list(_chains([root])))
    for chain in list(_chains([root])):
        chain[-2].remove(chain[-1])
    return whole, read(tostring(root)), parts


def _chains(above: list[Element]) -> Iterator[list[Element]]:
    """Every part, with all that it lies within, the root first."""
    if len(above) > DEEPEST:
        return
    for child in above[-1]:
        chain = [*above, child]
        if "data-part" in child.attrib:
            yield chain
        else:
            yield from _chains(chain)


def _numbers(part: Element, name: str) -> tuple[float, float]:
    try:
        first, second = map(float, part.get(name, "").split())
    except ValueError:
        raise UnreadableError(f"a part of the page has no {name[5:]}") from None
    if not (abs(first) < 1e4 and abs(second) < 1e4):
        raise UnreadableError(f"a part of the page has no {name[5:]}")
    return first, second


def _part(chain: list[Element], ground: str) -> Cut:
    """A part as a document of its own: what it lies within is kept, and nothing else in it."""
    part = chain[-1]
    at, extent = _numbers(part, "data-at"), _numbers(part, "data-extent")
    number = part.get("data-part", "")
    marks = {k: v for k, v in part.attrib.items() if k.startswith("data-")}
    frame = {
        "width": f"{extent[0]}mm",
        "height": f"{extent[1]}mm",
        "viewBox": f"{at[0]} {at[1]} {extent[0]} {extent[1]}",
    }
    root = Element(SVG + "svg", {**frame, **marks})
    for name in ("title", "desc"):
        found = part.find(SVG + name)
        if found is not None:
            root.append(found)
    if ground:
        edge = f"M{at[0]} {at[1]}h{extent[0]}v{extent[1]}h-{extent[0]}z"
        SubElement(root, SVG + "path", {"d": edge, "fill": ground, "data-role": "paper"})
    inner = root
    for outer in chain[1:-1]:
        inner = SubElement(inner, outer.tag, dict(outer.attrib))
    bare = copy(part)
    bare.attrib = {k: v for k, v in part.attrib.items() if not k.startswith("data-")}
    inner.append(bare)
    page = read(tostring(root))
    return Cut(int(number) if number.isascii() and number.isdigit() else 0,
               part.get("data-name", ""), at, page)  # fmt: skip
