"""Basic shapes of SVG as the path data that they stand for (SVG 1.1, clause 9)."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping

from gussetry.verify.findings import UnreadableError

_LENGTH = re.compile(r"\s*([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)(px)?\s*")
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")


def length(text: str) -> float:
    """A length in the drawing's own unit. `UnreadableError` for another unit or none at all."""
    found = _LENGTH.fullmatch(text)
    if not found or not math.isfinite(value := float(found[1])):
        raise UnreadableError(f"a length cannot be read: {text[:40]!r}")
    return value


def _rect(get: Callable[..., float]) -> str:
    x, y, wide, high = get("x"), get("y"), get("width"), get("height")
    rx, ry = get("rx", -1), get("ry", -1)
    rx, ry = (ry if rx < 0 else rx), (rx if ry < 0 else ry)
    rx, ry = min(max(rx, 0), wide / 2), min(max(ry, 0), high / 2)
    if wide <= 0 or high <= 0:
        return ""
    if not rx or not ry:
        return f"M{x} {y}L{x + wide} {y}L{x + wide} {y + high}L{x} {y + high}Z"
    right, foot, bend = x + wide, y + high, f"A{rx} {ry} 0 0 1"
    return (
        f"M{x + rx} {y}L{right - rx} {y}{bend} {right} {y + ry}L{right} {foot - ry}"
        f"{bend} {right - rx} {foot}L{x + rx} {foot}{bend} {x} {foot - ry}"
        f"L{x} {y + ry}{bend} {x + rx} {y}Z"
    )


def _oval(x: float, y: float, rx: float, ry: float) -> str:
    if rx <= 0 or ry <= 0:
        return ""
    half = f"A{rx} {ry} 0 1 1"
    return f"M{x - rx} {y}{half} {x + rx} {y}{half} {x - rx} {y}Z"


def _points(text: str, closed: bool) -> str:
    numbers = [float(n) for n in _NUMBER.findall(text)]
    if len(numbers) % 2 or len(numbers) < 2:
        raise UnreadableError("points of a shape cannot be read")
    pairs = zip(numbers[::2], numbers[1::2], strict=True)
    return "M" + "L".join(f"{x} {y}" for x, y in pairs) + ("Z" if closed else "")


SHAPES = ("rect", "circle", "ellipse", "line", "polyline", "polygon")
"""The elements that `outline` knows."""


def outline(name: str, attributes: Mapping[str, str]) -> str:
    """The path data of a basic shape, empty where it draws nothing. `UnreadableError` where a
    length is malformed."""

    def get(key: str, default: float = 0.0) -> float:
        return length(attributes[key]) if key in attributes else default

    if name == "rect":
        return _rect(get)
    if name == "circle":
        return _oval(get("cx"), get("cy"), get("r"), get("r"))
    if name == "ellipse":
        return _oval(get("cx"), get("cy"), get("rx"), get("ry"))
    if name == "line":
        return f"M{get('x1')} {get('y1')}L{get('x2')} {get('y2')}"
    return _points(attributes.get("points", ""), name == "polygon")
