"""Drawings written again as other programs write them: the same picture, other text."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from xml.etree import ElementTree as ET

from gussetry.verify.paths import Arc, Subpath, arc_points, flattened, subpaths

SVG = "http://www.w3.org/2000/svg"
XLINK = "http://www.w3.org/1999/xlink"
ET.register_namespace("", SVG)
ET.register_namespace("xlink", XLINK)

PAINT = ("fill", "stroke", "stroke-width", "stroke-dasharray", "stroke-linecap", "stroke-linejoin")
_NUMBER = re.compile(r"[-+]?\d*\.?\d+")


def _root(svg: bytes) -> ET.Element:
    return ET.fromstring(svg)


def _bytes(root: ET.Element) -> bytes:
    return ET.tostring(root, encoding="utf-8", xml_declaration=True)


def _paths(root: ET.Element) -> list[ET.Element]:
    return list(root.iter(f"{{{SVG}}}path"))


def attributes_reordered(svg: bytes) -> bytes:
    """Every attribute in another order."""
    root = _root(svg)
    for element in root.iter():
        items = sorted(element.attrib.items(), reverse=True)
        element.attrib.clear()
        element.attrib.update(items)
    return _bytes(root)


def rounded(svg: bytes) -> bytes:
    """Every number of path data to three decimals."""
    root = _root(svg)
    for path in _paths(root):
        path.set("d", _NUMBER.sub(lambda n: f"{round(float(n[0]), 3):g}", path.get("d", "")))
    return _bytes(root)


def grouped(svg: bytes) -> bytes:
    """Every path in a group of its own, and these in two more."""
    root = _root(svg)
    for group in list(root.iter(f"{{{SVG}}}g")):
        for at, child in enumerate(list(group)):
            if child.tag == f"{{{SVG}}}path":
                outer = ET.Element(f"{{{SVG}}}g", {"id": f"layer{at}"})
                inner = ET.SubElement(outer, f"{{{SVG}}}g")
                group.remove(child)
                inner.append(child)
                group.insert(at, outer)
    return _bytes(root)


def moved_by_groups(svg: bytes) -> bytes:
    """The whole in nested transforms that undo each other."""
    root = _root(svg)
    body = [child for child in root if child.tag in (f"{{{SVG}}}g", f"{{{SVG}}}path")]
    outer = ET.Element(f"{{{SVG}}}g", {"transform": "translate(30 -12) scale(2)"})
    inner = ET.SubElement(outer, f"{{{SVG}}}g", {"transform": "matrix(.5 0 0 .5 -15 6)"})
    for child in body:
        root.remove(child)
        inner.append(child)
    root.append(outer)
    return _bytes(root)


def in_pixels(svg: bytes) -> bytes:
    """The page in CSS pixels, everything scaled in one group."""
    root = _root(svg)
    scale = 96 / 25.4
    for name in ("width", "height"):
        root.set(name, f"{float(root.get(name, '').removesuffix('mm')) * scale:.6f}")
    root.set("viewBox", f"0 0 {root.get('width')} {root.get('height')}")
    group = ET.Element(f"{{{SVG}}}g", {"transform": f"scale({scale})"})
    for child in list(root):
        if child.tag in (f"{{{SVG}}}g", f"{{{SVG}}}path"):
            root.remove(child)
            group.append(child)
    root.append(group)
    return _bytes(root)


def with_style_attributes(svg: bytes) -> bytes:
    """Paint in style attributes instead of attributes of its own."""
    root = _root(svg)
    for element in root.iter():
        said = [f"{name}:{element.attrib.pop(name)}" for name in PAINT if name in element.attrib]
        if said:
            element.set("style", ";".join(said))
    return _bytes(root)


def with_classes(svg: bytes) -> bytes:
    """Paint in a style sheet, by classes added to those that are there."""
    root = _root(svg)
    classes: dict[str, str] = {}
    for element in root.iter():
        said = ";".join(
            f"{name}:{element.attrib.pop(name)}" for name in PAINT if name in element.attrib
        )
        if said:
            name = classes.setdefault(said, f"cls-{len(classes) + 1}")
            element.set("class", f"{element.get('class', '')} {name}".strip())
    sheet = ET.Element(f"{{{SVG}}}style")
    sheet.text = "\n".join(f".{name} {{ {said} }}" for said, name in classes.items())
    root.insert(0, sheet)
    return _bytes(root)


def with_copies(svg: bytes) -> bytes:
    """Every path's shape in the definitions, a copy of it in its place."""
    root = _root(svg)
    defs = ET.Element(f"{{{SVG}}}defs")
    for at, path in enumerate(_paths(root)):
        ET.SubElement(defs, f"{{{SVG}}}path", {"id": f"s{at}", "d": path.attrib.pop("d")})
        path.tag = f"{{{SVG}}}use"
        path.set(f"{{{XLINK}}}href", f"#s{at}")
    root.insert(0, defs)
    return _bytes(root)


def arcs_as_curves(svg: bytes) -> bytes:
    """Every arc of path data as cubic curves of a quarter turn at most."""
    root = _root(svg)
    for path in _paths(root):
        data = path.get("d", "")
        if "A" in data or "a" in data:
            path.set("d", "".join(_as_curves(sub) for sub in subpaths(data)))
    return _bytes(root)


def _as_curves(sub: Subpath) -> str:
    out = [f"M{sub.start.real:.4f} {sub.start.imag:.4f}"]
    here, at, arc = sub.start, 0, 0
    for step in sub.steps:
        count = {"L": 1, "Q": 2, "C": 3, "A": 1}[step]
        points = sub.points[at : at + count]
        at += count
        if step == "A":
            out += _curves(here, sub.arcs[arc], points[0])
            arc += 1
        else:
            out.append(step + " ".join(f"{p.real:.4f} {p.imag:.4f}" for p in points))
        here = points[-1]
    return "".join(out) + ("Z" if sub.closed else "")


def _curves(start: complex, arc: Arc, end: complex) -> list[str]:
    """Two cubic curves through an arc's ends and middle, their tangents the arc's own."""
    way = [start, *arc_points(start, arc, end, 256)]
    out = []
    for first in (0, 128):
        a, m, b = way[first], way[first + 64], way[first + 128]
        along, back = way[first + 1] - a, b - way[first + 127]
        along, back = along / abs(along), back / abs(back)
        # The curve's middle is (a + 3 c + 3 d + b) / 8, the controls alike far from the ends.
        turn = along - back
        far = abs(8 * m - 4 * a - 4 * b) / abs(3 * turn) if abs(turn) > 1e-6 else abs(b - a) / 3
        points = (a + far * along, b - far * back, b)
        out.append("C" + " ".join(f"{p.real:.4f} {p.imag:.4f}" for p in points))
    return out


def strokes_outlined(svg: bytes) -> bytes:
    """Every stroke as a filled outline, piece by piece as wide as its pen was."""
    root = _root(svg)
    _outline_below(root, {"stroke": "none", "stroke-width": "1"})
    return _bytes(root)


def _outline_below(element: ET.Element, above: dict[str, str]) -> None:
    here = {**above, **{k: v for k, v in element.attrib.items() if k in above}}
    if element.tag == f"{{{SVG}}}path" and here["stroke"] != "none":
        half = float(here["stroke-width"]) / 2
        data = [
            _bar(a, b, half)
            for sub in subpaths(element.get("d", ""))
            for a, b in pairwise([*flattened(sub), *([sub.start] if sub.closed else [])])
            if abs(b - a) > 1e-6
        ]
        element.set("d", "".join(data))
        element.set("fill", here["stroke"])
    if "stroke" in element.attrib:
        element.set("stroke", "none")
    for child in element:
        _outline_below(child, here)


def _bar(a: complex, b: complex, half: float) -> str:
    aside = (b - a) / abs(b - a) * 1j * half
    corners = (a + aside, b + aside, b - aside, a - aside)
    return "M" + "L".join(f"{p.real:.3f} {p.imag:.3f}" for p in corners) + "Z"


def ids_renamed(svg: bytes) -> bytes:
    """Every element with an id of its own, and the doctype that drawing programs write."""
    root = _root(svg)
    names: dict[str, str] = {}
    for at, element in enumerate(root.iter()):
        names[f"#{element.get('id')}"] = f"#path{1000 + at}"
        element.set("id", f"path{1000 + at}")
    for element in root.iter():
        for key, value in element.attrib.items():
            if key.endswith("href"):
                element.set(key, names[value])
    doctype = (
        b'<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN"'
        b' "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">\n'
    )
    text = ET.tostring(root, encoding="utf-8")
    return b'<?xml version="1.0" encoding="UTF-8"?>\n' + doctype + text


def _tags_dropped(svg: bytes, gone: Callable[[str], bool]) -> bytes:
    root = _root(svg)
    for element in root.iter():
        for name in [name for name in element.attrib if gone(name)]:
            del element.attrib[name]
    return _bytes(root)


def data_lost(svg: bytes) -> bytes:
    """Without any data-* attribute."""
    return _tags_dropped(svg, lambda name: name.startswith("data-"))


def classes_lost(svg: bytes) -> bytes:
    """Without classes."""
    return _tags_dropped(svg, lambda name: name == "class")


def root_lost(svg: bytes) -> bytes:
    """Without the tags of the root."""
    root = _root(svg)
    for name in [name for name in root.attrib if name.startswith("data-")]:
        del root.attrib[name]
    return _bytes(root)


def roles_lost(svg: bytes) -> bytes:
    """Without roles."""
    return _tags_dropped(svg, lambda name: name == "data-role")


def words_lost(svg: bytes) -> bytes:
    """Without what the labels say."""
    return _tags_dropped(svg, lambda name: name == "data-says")


def tags_lost(svg: bytes) -> bytes:
    """Without any tag or class."""
    return data_lost(classes_lost(svg))


def everything_lost(svg: bytes) -> bytes:
    """Without any tag, written again in every way, and without the words of a screen reader."""
    root = _root(tags_lost(svg))
    for child in list(root):
        if child.tag in (f"{{{SVG}}}title", f"{{{SVG}}}desc"):
            root.remove(child)
    return everything(_bytes(root))


LOSERS: tuple[Callable[[bytes], bytes], ...] = (
    data_lost, classes_lost, root_lost, roles_lost, words_lost, tags_lost, everything_lost,
)  # fmt: skip
"""What drawing programs do that leaves the picture and loses what it says."""


REWRITERS: tuple[Callable[[bytes], bytes], ...] = (
    attributes_reordered, rounded, grouped, moved_by_groups, in_pixels,
    with_style_attributes, with_classes, with_copies, ids_renamed,
)  # fmt: skip
"""What drawing programs and optimisers do to a file without changing its picture."""


def everything(svg: bytes) -> bytes:
    """All of it at once."""
    for rewrite in (with_copies, with_classes, grouped, moved_by_groups, in_pixels, ids_renamed):
        svg = rewrite(svg)
    return svg
