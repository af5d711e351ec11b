"""Ways to spoil a drawing. Each takes the root of a sound one and spoils it in place; it returns
False where the drawing has nothing of the kind to spoil."""

from __future__ import annotations

import copy
import re
from collections.abc import Callable, Iterator
from itertools import pairwise
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from verify.pen import symbol

from gussetry.stitchmap import Op

Spoiler = Callable[[Element, int], bool]
SVG = "{http://www.w3.org/2000/svg}"
_STEP = re.compile(r"([MLQCAHVZmlqcahvz])([^MLQCAHVZmlqcahvz]*)")
_NUMBER = re.compile(r"-?(?:\d+\.?\d*|\.\d+)")
_EACH = {"M": 2, "L": 2, "Q": 4, "C": 6, "A": 7, "H": 1, "V": 1}


def _absolute(data: str) -> Iterator[tuple[str, list[float]]]:
    """The steps of path data one by one, absolute."""
    here = start = 0j
    for letter, rest in _STEP.findall(data):
        kind = letter.upper()
        if kind == "Z":
            here = start
            yield "Z", []
            continue
        numbers = [float(n) for n in _NUMBER.findall(rest)]
        for i in range(0, len(numbers), _EACH[kind]):
            v = numbers[i : i + _EACH[kind]]
            base = here if letter.islower() else 0j
            if kind in "HV":
                at = v[0] + (base.real if kind == "H" else base.imag)
                here = complex(at, here.imag) if kind == "H" else complex(here.real, at)
                yield "L", [here.real, here.imag]
                continue
            first = 5 if kind == "A" else 0
            for j in range(first, len(v), 2):
                v[j], v[j + 1] = v[j] + base.real, v[j + 1] + base.imag
            here = complex(v[-2], v[-1])
            if kind == "M" and i == 0:
                start = here
            yield ("L" if kind == "M" and i else kind), v


def tree(svg: bytes) -> Element:
    """The root element of a drawing."""
    return ElementTree.fromstring(svg)


def bytes_of(root: Element) -> bytes:
    """The file again."""
    return ElementTree.tostring(root, encoding="utf-8")


def mapped(data: str, dx: float, dy: float, sx: float = 1, sy: float = 1) -> str:
    """Path data stretched about the page's corner and moved."""
    out = []
    for letter, v in _absolute(data):
        head = ""
        if letter == "A":
            head = f"{v[0] * sx:.4f} {v[1] * sy:.4f} {v[2]:.3f} {v[3]:g} {v[4]:g} "
            v = v[5:]
        pairs = [(v[i] * sx + dx, v[i + 1] * sy + dy) for i in range(0, len(v), 2)]
        out.append(letter + head + " ".join(f"{x:.4f} {y:.4f}" for x, y in pairs))
    return "".join(out)


def move(path: Element, dx: float, dy: float) -> None:
    """Moves a path."""
    path.set("d", mapped(path.get("d", ""), dx, dy))


def points(path: Element) -> list[complex]:
    """The points of a path, those of the controls too."""
    return [
        complex(v[i], v[i + 1])
        for letter, v in _absolute(path.get("d", ""))
        for i in range(5 if letter == "A" else 0, len(v), 2)
    ]


def centre(path: Element) -> complex:
    """The middle of a path's box."""
    xs, ys = [p.real for p in points(path)], [p.imag for p in points(path)]
    return complex((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)


def paths(root: Element, **marks: str) -> list[Element]:
    """The paths with the given attributes, in their order; an empty value: any."""
    wanted = {k.rstrip("_").replace("_", "-"): v for k, v in marks.items()}
    return [
        p
        for p in root.iter(SVG + "path")
        if all(k in p.attrib and (not v or p.get(k) == v) for k, v in wanted.items())
    ]


def parent(root: Element, child: Element) -> Element:
    """The element that holds another."""
    return next(e for e in root.iter() if child in list(e))


def pick(found: list[Element], n: int) -> Element | None:
    return found[n % len(found)] if found else None


# --- stitches ---------------------------------------------------------------------------------


def _stitch(root: Element, n: int) -> Element | None:
    return pick(paths(root, class_="stitch"), n)


def drop(root: Element, n: int) -> bool:
    one = _stitch(root, n)
    if one is not None:
        parent(root, one).remove(one)
    return one is not None


def double(root: Element, n: int) -> bool:
    one = _stitch(root, n)
    if one is not None:
        parent(root, one).append(copy.deepcopy(one))
    return one is not None


def _retag(name: str, value: Callable[[str], str]) -> Spoiler:
    def spoil(root: Element, n: int) -> bool:
        one = _stitch(root, n)
        if one is not None:
            one.set(name, value(one.get(name, "")))
        return one is not None

    spoil.__name__ = f"retag {name}"
    return spoil


def reshape(root: Element, n: int) -> bool:
    """Another kind's strokes at the stitch's place, with all of its tags."""
    one = _stitch(root, n)
    if one is None:
        return False
    other = "dc" if one.get("data-do") in ("hdc", "sc", "hold") else "hold"
    one.set("d", symbol(Op(other), centre(one)))
    return True


def to_next_row(root: Element, n: int) -> bool:
    """A stitch moves on to the row above or the ring within, between two places there."""
    one = _stitch(root, n)
    if one is None:
        return False
    here = centre(one)
    if root.get("data-kind") == "crown":
        middle = centre(paths(root, data_do="close")[0])
        away = middle - here
        if abs(away) > 1:
            move(one, away.real * 6.6 / abs(away), away.imag * 6.6 / abs(away))
        return abs(away) > 1
    others = [centre(p) for p in paths(root, class_="stitch") if p is not one]
    heights = {round(p.imag - here.imag, 2) for p in others if abs(p.imag - here.imag) > 3}
    if heights:
        move(one, 0.9, min(heights, key=abs))
    return bool(heights)


def _neighbours(root: Element) -> Iterator[tuple[Element, Element]]:
    stitches = paths(root, class_="stitch")
    for one, other in pairwise(stitches):
        if one.get("data-round") == other.get("data-round"):
            yield one, other


def swap(root: Element, n: int) -> bool:
    """Two unlike neighbours change places, tags and all."""
    pairs = [(a, b) for a, b in _neighbours(root) if a.get("data-do") != b.get("data-do")]
    if not pairs:
        return False
    one, other = pairs[n % len(pairs)]
    way = centre(other) - centre(one)
    move(one, way.real, way.imag)
    move(other, -way.real, -way.imag)
    return True


def swap_strokes(root: Element, n: int) -> bool:
    """Two unlike neighbours change strokes, and nothing else."""
    pairs = [(a, b) for a, b in _neighbours(root) if a.get("data-do") != b.get("data-do")]
    if not pairs:
        return False
    one, other = pairs[n % len(pairs)]
    way = centre(other) - centre(one)
    a, b = one.get("d", ""), other.get("d", "")
    one.set("d", mapped(b, -way.real, -way.imag))
    other.set("d", mapped(a, way.real, way.imag))
    return True


def swap_tags(root: Element, n: int) -> bool:
    """Two neighbours change places in their rounds by their tags alone."""
    pairs = list(_neighbours(root))
    if not pairs:
        return False
    one, other = pairs[n % len(pairs)]
    a, b = one.get("data-index", ""), other.get("data-index", "")
    one.set("data-index", b)
    other.set("data-index", a)
    return True


def stack(root: Element, n: int) -> bool:
    """A stitch is laid on its neighbour."""
    pairs = list(_neighbours(root))
    if not pairs:
        return False
    one, other = pairs[n % len(pairs)]
    way = centre(other) - centre(one)
    move(one, way.real * 0.97, way.imag * 0.97)
    return True


def _attribute(name: str, value: str) -> Spoiler:
    def spoil(root: Element, n: int) -> bool:
        one = _stitch(root, n)
        if one is not None:
            one.set(name, value)
        return one is not None

    spoil.__name__ = f"{name} {value}"
    return spoil


def white(root: Element, n: int) -> bool:
    one = _stitch(root, n)
    if one is not None:
        one.set("stroke", "#ffffff")
        one.set("fill", "#ffffff" if one.get("data-do") == "slst" else "none")
    return one is not None


def inkless(root: Element, n: int) -> bool:
    one = _stitch(root, n)
    if one is not None:
        one.set("stroke", "none")
        one.set("fill", "none")
    return one is not None


def off_page(root: Element, n: int) -> bool:
    one = _stitch(root, n)
    if one is not None:
        move(one, 1000, 0)
    return one is not None


def shrink(root: Element, n: int) -> bool:
    one = _stitch(root, n)
    if one is None:
        return False
    here = centre(one)
    one.set("d", mapped(one.get("d", ""), here.real * 0.999, here.imag * 0.999, 0.001, 0.001))
    return True


def add_untagged(root: Element, n: int) -> bool:
    """Another stitch's strokes without any tag."""
    one = _stitch(root, n)
    if one is not None:
        at = centre(one) + 2
        ink = {"d": symbol(Op("sc"), at), "stroke": "#000000", "fill": "none"}
        root.append(Element(SVG + "path", ink))
    return one is not None


def cover(root: Element, n: int) -> bool:
    one = _stitch(root, n)
    if one is None:
        return False
    at = centre(one)
    data = f"M{at.real - 3} {at.imag - 3}H{at.real + 3}V{at.imag + 3}H{at.real - 3}Z"
    root.append(Element(SVG + "path", {"d": data, "fill": "#ffffff"}))
    return True


def drop_row(root: Element, n: int) -> bool:
    rounds = sorted({p.get("data-round", "") for p in paths(root, class_="stitch")})
    if not rounds:
        return False
    for one in paths(root, class_="stitch", data_round=rounds[n % len(rounds)]):
        parent(root, one).remove(one)
    return True


STITCHES: tuple[Spoiler, ...] = (
    drop, double, reshape, to_next_row, swap, swap_strokes, swap_tags, stack, white, inkless,
    off_page, shrink, cover, drop_row,
    _retag("data-do", lambda v: "hdc" if v != "hdc" else "sc"),
    _retag("data-index", lambda v: str(int(v) + 1)),
    _retag("data-round", lambda v: str(int(v) + 1)),
    _retag("data-piece", lambda v: "thumb" if v != "thumb" else "hand"),
    _retag("data-size", lambda _: "XXL"),
    _attribute("opacity", "0"), _attribute("stroke-opacity", "0"), _attribute("display", "none"),
    _attribute("visibility", "hidden"), _attribute("transform", "translate(0 40)"),
    _attribute("style", "stroke:none"), _attribute("stroke-width", "0"),
    _attribute("stroke-dasharray", "0 9"), _attribute("opacity", "5%"), add_untagged,
)  # fmt: skip
