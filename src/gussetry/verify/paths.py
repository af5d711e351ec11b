"""Path data read back into subpaths: SVG 1.1, clause 8.3, arcs by its appendix F.6.5."""

from __future__ import annotations

import cmath
import math
import re
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

from gussetry.verify.findings import UnreadableError

LARGEST = 1e5
"""Coordinates past this many millimetres are refused."""

_ALLOWED = re.compile(r"[MmLlHhVvCcSsQqTtAaZz0-9eE+\-.,\s]*")
_STEP = re.compile(r"([MmLlHhVvCcSsQqTtAaZz])([^MmLlHhVvCcSsQqTtAaZz]*)")
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
# An arc's two flags are one digit each and may be glued to what follows.
_NUMBER_TEXT = r"([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)"
_ARC = re.compile(
    rf"{_NUMBER_TEXT}[\s,]*{_NUMBER_TEXT}[\s,]*{_NUMBER_TEXT}[\s,]*([01])[\s,]*([01])[\s,]*"
    rf"{_NUMBER_TEXT}[\s,]*{_NUMBER_TEXT}"
)
_ARGUMENTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7}


class Arc(NamedTuple):
    """Radii, the turn of the axes in degrees, and the two flags of an elliptical arc."""

    rx: float
    ry: float
    turn: float
    large: bool
    sweep: bool


@dataclass(frozen=True, slots=True)
class Subpath:
    """One stretch of pen: `steps` names its segments (L, Q, C, A), `points` holds every point
    after `start` (1, 2, 3 and 1 a segment), `arcs` the shape of each A. Complex numbers, x + yj.
    `shape` is the text of relative data, alike for all of one shape; empty for absolute data."""

    start: complex
    steps: str
    points: tuple[complex, ...]
    closed: bool
    arcs: tuple[Arc, ...] = ()
    shape: str = ""

    @property
    def straight(self) -> bool:
        """True where it has straight segments alone."""
        return "A" not in self.steps and "Q" not in self.steps and "C" not in self.steps


class _Reader:
    """The pen while path data are read."""

    __slots__ = ("arcs", "closed", "done", "here", "points", "start", "steps")

    def __init__(self) -> None:
        self.done: list[Subpath] = []
        self.here = self.start = 0j
        self.steps: list[str] = []
        self.points: list[complex] = []
        self.arcs: list[Arc] = []
        self.closed = False

    def end(self, closed: bool) -> None:
        if self.steps or closed:
            self.done.append(
                Subpath(
                    self.start, "".join(self.steps), tuple(self.points), closed, tuple(self.arcs)
                )
            )
        self.steps, self.points, self.arcs = [], [], []

    def smooth(self, step: str) -> complex:
        """The control point that S and T leave out."""
        if self.steps and self.steps[-1][-1] == step:
            return 2 * self.here - self.points[-2]
        return self.here


def _absolute(data: str) -> tuple[Subpath, ...]:
    pen = _Reader()
    first = True
    for letter, rest in _STEP.findall(data):
        if first and letter not in "Mm":
            raise UnreadableError("path data do not begin with a move")
        first = False
        if letter in "LQC":
            # Absolute curves and lines: the bulk of every label.
            numbers = list(map(float, _NUMBER.findall(rest)))
            if not numbers or len(numbers) % _ARGUMENTS[letter]:
                raise UnreadableError(f"path command {letter} has {len(numbers)} numbers")
            pen.points += map(complex, numbers[::2], numbers[1::2])
            pen.here = pen.points[-1]
            pen.steps.append(letter * (len(numbers) // _ARGUMENTS[letter]))
        elif letter in "Zz":
            pen.end(True)
            pen.here = pen.start
        elif letter in "Aa":
            _arcs(pen, letter == "a", rest)
        else:
            numbers = list(map(float, _NUMBER.findall(rest)))
            _segments(pen, letter, numbers)
    if first and data.strip():
        raise UnreadableError("path data do not begin with a move")
    pen.end(False)
    return tuple(pen.done)


_MOVE = re.compile(rf"\s*([Mm])\s*{_NUMBER_TEXT}[\s,]*{_NUMBER_TEXT}\s*([^Mm]*)")
_RELATIVE = re.compile(r"[lhvcqa][lhvcqa0-9eE+\-.,\s]*[zZ]?\s*")


@lru_cache(maxsize=4096)
def _relative(rest: str) -> Subpath:
    """One subpath of relative data, begun at 0, 0. Letters recur, so that most are read once."""
    (sub,) = _absolute("M0 0" + rest)
    return replace(sub, shape=rest)


def subpaths(data: str) -> tuple[Subpath, ...]:
    """The subpaths of path data, in their order. `UnreadableError` where malformed."""
    if not _ALLOWED.fullmatch(data):
        raise UnreadableError("path data hold characters that path data cannot hold")
    moves = _MOVE.findall(data)
    if not moves or not all(_RELATIVE.fullmatch(rest) for _, _, _, rest in moves):
        return _absolute(data)
    found = []
    here = 0j
    for letter, x, y, rest in moves:
        start = complex(float(x), float(y)) + (here if letter == "m" else 0)
        model = _relative(rest)
        points = tuple([start + point for point in model.points])
        found.append(Subpath(start, model.steps, points, model.closed, model.arcs, rest))
        here = start if model.closed else points[-1]
    return tuple(found)


def _checked(point: complex) -> complex:
    if not (-LARGEST < point.real < LARGEST and -LARGEST < point.imag < LARGEST):
        raise UnreadableError("a coordinate is far outside any page")
    return point


def _segments(pen: _Reader, letter: str, numbers: list[float]) -> None:
    kind = letter.upper()
    each = _ARGUMENTS[kind]
    if not numbers or len(numbers) % each:
        raise UnreadableError(f"path command {letter} has {len(numbers)} numbers")
    relative = letter != kind
    if kind in "HV":
        for value in numbers:
            if kind == "H":
                here = complex(value + pen.here.real if relative else value, pen.here.imag)
            else:
                here = complex(pen.here.real, value + pen.here.imag if relative else value)
            pen.here = _checked(here)
            pen.steps.append("L")
            pen.points.append(pen.here)
        return
    for first in range(0, len(numbers), each):
        base = pen.here if relative else 0j
        part = [
            _checked(base + complex(numbers[i], numbers[i + 1]))
            for i in range(first, first + each, 2)
        ]
        if kind == "M" and first == 0:
            pen.end(False)
            pen.here = pen.start = part[0]
            continue
        if kind == "S":
            part.insert(0, pen.smooth("C"))
        elif kind == "T":
            part.insert(0, pen.smooth("Q"))
        pen.steps.append({"M": "L", "S": "C", "T": "Q"}.get(kind, kind))
        pen.points += part
        pen.here = part[-1]


def _arcs(pen: _Reader, relative: bool, rest: str) -> None:
    found = _ARC.findall(rest)
    if not found or _ARC.sub("", rest).strip(" ,\t\r\n"):
        raise UnreadableError("an arc of a path is not well formed")
    for rx, ry, turn, large, sweep, x, y in found:
        base = pen.here if relative else 0j
        end = _checked(base + complex(float(x), float(y)))
        pen.steps.append("A")
        pen.points.append(end)
        pen.arcs.append(
            Arc(abs(float(rx)), abs(float(ry)), float(turn), large == "1", sweep == "1")
        )
        pen.here = end


def arc_points(start: complex, arc: Arc, end: complex, parts: int = 8) -> list[complex]:
    """Points along an arc without its start, the end last."""
    if start == end:
        return [end]
    if not arc.rx or not arc.ry:
        return [end]
    axis = cmath.rect(1, math.radians(arc.turn))
    # In the frame of the axes, squeezed to a unit circle.
    half = (start - end) / 2 / axis
    u = complex(half.real / arc.rx, half.imag / arc.ry)
    size = abs(u)
    grow = max(1.0, size)
    rx, ry = arc.rx * grow, arc.ry * grow
    u /= grow
    rise = math.sqrt(max(0.0, 1 / abs(u) ** 2 - 1)) if abs(u) < 1 else 0.0
    # The centre lies on the middle's normal: to the left or right by the flags (F.6.5.2).
    centre = u * 1j * rise * (-1 if arc.large != arc.sweep else 1)
    a0, a1 = cmath.phase(u - centre), cmath.phase(-u - centre)
    turn = a1 - a0
    if arc.sweep and turn < 0:
        turn += 2 * math.pi
    elif not arc.sweep and turn > 0:
        turn -= 2 * math.pi
    middle = (start + end) / 2
    points = []
    for i in range(1, parts):
        at = centre + cmath.rect(1, a0 + turn * i / parts)
        points.append(middle + complex(at.real * rx, at.imag * ry) * axis)
    points.append(end)
    return points


def flattened(sub: Subpath, parts: int = 8) -> list[complex]:
    """The points of the subpath with every curve cut into `parts` straight pieces."""
    if sub.straight:
        return [sub.start, *sub.points]
    points = [sub.start]
    at = arc = 0
    here = sub.start
    for step in sub.steps:
        if step == "L":
            points.append(sub.points[at])
            at += 1
        elif step == "A":
            points += arc_points(here, sub.arcs[arc], sub.points[at], parts)
            at, arc = at + 1, arc + 1
        elif step == "Q":
            c, e = sub.points[at : at + 2]
            for i in range(1, parts + 1):
                t = i / parts
                points.append((1 - t) ** 2 * here + 2 * t * (1 - t) * c + t * t * e)
            at += 2
        else:
            c, d, e = sub.points[at : at + 3]
            for i in range(1, parts + 1):
                t = i / parts
                s = 1 - t
                points.append(s**3 * here + 3 * s * s * t * c + 3 * s * t * t * d + t**3 * e)
            at += 3
        here = points[-1]
    return points


class Box(NamedTuple):
    """An axis-parallel box, millimetres."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def centre(self) -> complex:
        """Its middle."""
        return complex((self.left + self.right) / 2, (self.top + self.bottom) / 2)

    @property
    def size(self) -> float:
        """The longer of its sides."""
        return max(self.right - self.left, self.bottom - self.top)

    def holds(self, point: complex, slack: float = 0.0) -> bool:
        """True where the point lies in it."""
        return (
            self.left - slack <= point.real <= self.right + slack
            and self.top - slack <= point.imag <= self.bottom + slack
        )


def box_of(subs: tuple[Subpath, ...]) -> Box:
    """The box of the geometry, without pen. `UnreadableError` for a path without any."""
    xs: list[float] = []
    ys: list[float] = []
    for sub in subs:
        # A letter's box may be that of its control points, which are near; an arc's may not, also
        # where a drawing program has made cubic curves of it.
        bent = "A" in sub.steps or "C" in sub.steps
        points = flattened(sub) if bent else (sub.start, *sub.points)
        xs += [p.real for p in points]
        ys += [p.imag for p in points]
    if not xs:
        raise UnreadableError("a path draws nothing")
    box = Box(min(xs), min(ys), max(xs), max(ys))
    if not all(-LARGEST < side < LARGEST for side in box):
        raise UnreadableError("a coordinate is far outside any page")
    return box
