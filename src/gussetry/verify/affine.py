"""Transforms of SVG (SVG 1.1, clause 7.6) and what they do to subpaths, arcs and pens."""

from __future__ import annotations

import cmath
import math
import re
from dataclasses import replace
from typing import NamedTuple

from gussetry.verify.findings import UnreadableError
from gussetry.verify.paths import LARGEST, Arc, Subpath

_CALL = re.compile(r"\s*,?\s*([A-Za-z]+)\s*\(([^()]*)\)\s*")
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
_EVEN = 1e-9


class Affine(NamedTuple):
    """A transform: a point (x, y) goes to (a·x + c·y + e, b·x + d·y + f)."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def after(self, inner: Affine) -> Affine:
        """The transform that does `inner` first and this one then."""
        return Affine(
            self.a * inner.a + self.c * inner.b,
            self.b * inner.a + self.d * inner.b,
            self.a * inner.c + self.c * inner.d,
            self.b * inner.c + self.d * inner.d,
            self.a * inner.e + self.c * inner.f + self.e,
            self.b * inner.e + self.d * inner.f + self.f,
        )

    def __call__(self, point: complex) -> complex:
        """Where a point goes."""
        x, y = point.real, point.imag
        return complex(self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f)

    @property
    def scale(self) -> float:
        """By how much it makes a pen wider: the root of what it does to areas."""
        return math.sqrt(abs(self.a * self.d - self.b * self.c))


SAME = Affine()
"""The transform that moves nothing."""


def _one(name: str, numbers: list[float]) -> Affine | None:
    count = len(numbers)
    if name == "matrix" and count == 6:
        return Affine(*numbers)
    if name == "translate" and count in (1, 2):
        return Affine(e=numbers[0], f=numbers[1] if count == 2 else 0.0)
    if name == "scale" and count in (1, 2):
        return Affine(a=numbers[0], d=numbers[-1])
    if name == "rotate" and count in (1, 3):
        turn = math.radians(numbers[0])
        turned = Affine(math.cos(turn), math.sin(turn), -math.sin(turn), math.cos(turn))
        if count == 1:
            return turned
        x, y = numbers[1:]
        return Affine(e=x, f=y).after(turned).after(Affine(e=-x, f=-y))
    if name == "skewX" and count == 1:
        return Affine(c=math.tan(math.radians(numbers[0])))
    if name == "skewY" and count == 1:
        return Affine(b=math.tan(math.radians(numbers[0])))
    return None


def affine(text: str) -> Affine:
    """The transform that an attribute `transform` says. `UnreadableError` where malformed, or so
    that it makes nothing or something immense."""
    found, at = SAME, 0
    while at < len(text.rstrip()):
        call = _CALL.match(text, at)
        said = call and _one(call[1], [float(n) for n in _NUMBER.findall(call[2])])
        if call is None or said is None:
            raise UnreadableError(f"a transform cannot be read: {text[:60]!r}")
        found, at = found.after(said), call.end()
    if not all(abs(value) < LARGEST for value in found):
        raise UnreadableError(f"a transform goes far outside any page: {text[:60]!r}")
    return found


def _arc(arc: Arc, by: Affine) -> Arc:
    """An arc's shape after a transform: the axes of the ellipse that its own becomes."""
    axis = cmath.rect(1, math.radians(arc.turn))
    long, short = arc.rx * axis, arc.ry * axis * 1j
    # The linear part takes the circle to u·cos t + v·sin t; its axes are where |…| is extreme.
    u, v = by(long) - by(0j), by(short) - by(0j)
    tilt = 0.5 * math.atan2(2 * (u * v.conjugate()).real, abs(u) ** 2 - abs(v) ** 2)
    one = u * math.cos(tilt) + v * math.sin(tilt)
    other = v * math.cos(tilt) - u * math.sin(tilt)
    flips = by.a * by.d - by.b * by.c < 0
    turn = math.degrees(cmath.phase(one)) if abs(one) > _EVEN else 0.0
    return Arc(abs(one), abs(other), turn, arc.large, arc.sweep != flips)


def moved(subs: tuple[Subpath, ...], by: Affine) -> tuple[Subpath, ...]:
    """The subpaths after a transform. `UnreadableError` where they end far outside any page."""
    if by == SAME:
        return subs
    shift = complex(by.e, by.f)
    if by[:4] == SAME[:4]:
        found = tuple(
            replace(sub, start=sub.start + shift, points=tuple([p + shift for p in sub.points]))
            for sub in subs
        )
    else:
        found = tuple(
            replace(
                sub,
                start=by(sub.start),
                points=tuple([by(p) for p in sub.points]),
                arcs=tuple(_arc(arc, by) for arc in sub.arcs),
                shape="",
            )
            for sub in subs
        )
    for sub in found:
        for point in (sub.start, *sub.points):
            if not (abs(point.real) < LARGEST and abs(point.imag) < LARGEST):
                raise UnreadableError("a coordinate is far outside any page")
    return found
