"""What a page of a PDF paints and says, from its content stream (ISO 32000-1, 8 and 9): shapes in
order with their inks, in the page's points, and lines of words."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

NEAR = 0.05
"""Points by which a place may differ: a fiftieth of a millimetre."""
SHADE = 0.004
"""How far inks may differ, of 1: the steps of 255."""
DEEPEST = 200

Affine = tuple[float, float, float, float, float, float]
Points = tuple[tuple[float, float], ...]
States = Mapping[str, Mapping[str, str]]
"""Graphics states: what each sets, by its name."""
_Through = tuple[int, tuple[tuple[str, str], ...]]
"""All clips, and what graphics states have set."""


class Painted(NamedTuple):
    """A painted shape: how (`f`, `f*`, `S`), or what else it is, as `picture`; its steps (`m`, `l`,
    `c`, `h`); its corners, points; its ink and its pen: width, cap, join, dashes; the clips and
    states that it is painted through."""

    how: str
    steps: str
    points: Points
    ink: tuple[object, ...] = ()
    pen: tuple[float, ...] = ()
    through: _Through = (0, ())

    def like(self, other: Painted) -> bool:
        """Whether both show the same."""
        return (
            (self.how, self.steps, self.through) == (other.how, other.steps, other.through)
            and _close(self.ink, other.ink, SHADE)
            and _close(self.pen, other.pen, NEAR)
            and all(
                abs(a[0] - b[0]) <= NEAR and abs(a[1] - b[1]) <= NEAR
                for a, b in zip(self.points, other.points, strict=True)
            )
        )


class Shown(NamedTuple):
    """What a page paints, and the lines of words that it says unseen, in order."""

    painted: tuple[Painted, ...]
    said: tuple[str, ...]


def _close(one: Sequence[object], other: Sequence[object], near: float) -> bool:
    return len(one) == len(other) and all(
        abs(a - b) <= near if isinstance(a, float) and isinstance(b, float) else a == b
        for a, b in zip(one, other, strict=True)
    )


@dataclass(frozen=True, slots=True)
class _State:
    """How the next shape is painted."""

    place: Affine = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    fill: tuple[object, ...] = (0.0, 0.0, 0.0)
    stroke: tuple[object, ...] = (0.0, 0.0, 0.0)
    pen: tuple[float, float, float, float] = (1.0, 0.0, 0.0, 10.0)
    dashes: tuple[float, ...] = ()
    through: _Through = (0, ())
    font: str = ""
    unseen: bool = False

    @property
    def scale(self) -> float:
        """How much larger a length is on the page."""
        a, b, c, d, _, _ = self.place
        return math.sqrt(abs(a * d - b * c))


def _placed(inner: Affine, outer: Affine) -> Affine:
    a, b, c, d, e, f = inner
    p, q, r, s, t, u = outer
    return (
        a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s,
        e * p + f * r + t, e * q + f * s + u,
    )  # fmt: skip


_TOKEN = re.compile(
    rb"%[^\r\n]*"
    rb"|(?P<number>[-+]?(?:\d+\.?\d*|\.\d+)(?=[\s\[\]<>()/%]|$))"
    rb"|/(?P<name>[^\s\[\]<>()/%{}]*)"
    rb"|<(?P<hex>[0-9A-Fa-f\s]*)>"
    rb"|(?P<text>\()"
    rb"|(?P<word>[A-Za-z'\"][A-Za-z0-9*'\"]*)"
    rb"|<<|>>|\[|\]"
)
_ESCAPED = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f"}


def _text(content: bytes, at: int) -> tuple[bytes, int]:
    """A string in brackets that begins at a place, and where it ends."""
    made, depth = bytearray(), 1
    while at < len(content):
        one = content[at : at + 1]
        at += 1
        if one == b"\\":
            if octal := re.compile(rb"[0-7]{1,3}").match(content, at):
                made.append(int(octal[0], 8) & 255)
                at = octal.end()
            else:
                made += _ESCAPED.get(content[at : at + 1], content[at : at + 1])
                at += 1
            continue
        depth += (one == b"(") - (one == b")")
        if not depth:
            break
        made += one
    return bytes(made), at


def _operations(content: bytes) -> Iterator[tuple[str, list[object]]]:
    """Every operator with what stands before it: numbers, names as text, strings as bytes."""
    at, waiting = 0, list[object]()
    while found := _TOKEN.search(content, at):
        at = found.end()
        if found["number"]:
            waiting.append(float(found["number"]))
        elif found["word"]:
            yield found["word"].decode("latin-1"), waiting
            waiting = []
        elif found["name"] is not None:
            waiting.append(found["name"].decode("latin-1"))
        elif found["hex"] is not None:
            digits = b"".join(found["hex"].split())
            waiting.append(bytes.fromhex((digits + b"0" * (len(digits) % 2)).decode("ascii")))
        elif found["text"]:
            said, at = _text(content, at)
            waiting.append(said)


@dataclass(slots=True)
class _Painter:
    """A page while its stream is followed."""

    states: States
    fonts: Mapping[str, Callable[[bytes], str]]
    state: _State = field(default_factory=_State)
    below: list[_State] = field(default_factory=list)
    steps: str = ""
    points: list[tuple[float, float]] = field(default_factory=list)
    clip: str = ""
    painted: list[Painted] = field(default_factory=list)
    said: list[str] = field(default_factory=list)

    def step(self, step: str, numbers: Sequence[float]) -> None:
        """Adds a step of the path, its corners where they lie on the page."""
        a, b, c, d, e, f = self.state.place
        pairs = zip(numbers[::2], numbers[1::2], strict=False)
        self.points += [(a * x + c * y + e, b * x + d * y + f) for x, y in pairs]
        self.steps += step

    def paint(self, how: str) -> None:
        """Ends the path: it is painted, and is what later shapes are painted through where that
        was asked."""
        steps, points, state = self.steps, tuple(self.points), self.state
        if how[:1] in "fFbB" and how:
            way = "f*" if how.endswith("*") else "f"
            self.painted.append(Painted(way, steps, points, state.fill, (), state.through))
        if how[:1] in "SsbB" and how:
            width, cap, join, miter = state.pen
            pen = (width * state.scale, cap, join, miter, *(x * state.scale for x in state.dashes))
            self.painted.append(Painted("S", steps, points, state.stroke, pen, state.through))
        if self.clip:
            rounded = tuple((round(x, 1), round(y, 1)) for x, y in points)
            self.state = replace(state, through=(
                hash((state.through[0], self.clip, steps, rounded)), state.through[1]
            ))  # fmt: skip
        self.steps, self.points, self.clip = "", [], ""

    def other(self, what: str, name: str = "") -> None:
        """Something is painted that is no shape."""
        e, f = self.state.place[4:]
        self.painted.append(Painted(what, name, ((e, f),)))

    def say(self, words: bytes) -> None:
        """Words are shown, in letters or unseen."""
        decode = self.fonts.get(self.state.font)
        said = decode(words) if decode else ""
        if self.state.unseen:
            self.said.append(said)
        else:
            self.other("letters", said)


_PATH = {"m": 2, "l": 2, "c": 6}
_PAINTS = ("f", "F", "f*", "S", "s", "B", "B*", "b", "b*", "n")
_PENS = {"w": 0, "J": 1, "j": 2, "M": 3}
_OTHERS = {"Do": "picture", "sh": "shading", "BI": "picture", "d1": "letters"}


def _follow(on: _Painter, operator: str, given: list[object]) -> None:
    numbers = [value for value in given if isinstance(value, float)]
    if operator in _PATH:
        on.step(operator, numbers[: _PATH[operator]])
    elif operator in ("v", "y"):
        _curve(on, operator, numbers)
    elif operator == "h":
        on.step("h", ())
    elif operator == "re" and len(numbers) == 4:
        x, y, w, h = numbers
        on.step("m", (x, y))
        on.step("lll", (x + w, y, x + w, y + h, x, y + h))
        on.step("h", ())
    elif operator in _PAINTS:
        if operator in ("s", "b", "b*"):
            on.step("h", ())
        on.paint(operator if operator != "n" else "")
    elif operator in ("W", "W*"):
        on.clip = operator
    elif operator in _OTHERS:
        on.other(_OTHERS[operator], str(given[-1]) if given else "")
    elif operator in ("Tj", "TJ", "'", '"'):
        on.say(b"".join(value for value in given if isinstance(value, bytes)))
    elif operator == "q" and len(on.below) < DEEPEST:
        on.below.append(on.state)
    elif operator == "Q" and on.below:
        on.state = on.below.pop()
    else:
        on.state = _set(on, operator, given, numbers)


def _curve(on: _Painter, operator: str, numbers: list[float]) -> None:
    """A curve of which one control point is one of its ends."""
    if operator == "y":
        on.step("c", (*numbers[:4], *numbers[2:4]))
        return
    ends = on.points[-1:]
    on.step("c", numbers[:4])
    # The end so far lies on the page already.
    on.points[-2:-2] = ends


def _set(on: _Painter, operator: str, given: list[object], numbers: list[float]) -> _State:
    """The state after an operator that paints nothing."""
    state = on.state
    if operator == "cm" and len(numbers) == 6:
        a, b, c, d, e, f = numbers
        return replace(state, place=_placed((a, b, c, d, e, f), state.place))
    if operator in ("g", "rg", "k", "sc", "scn"):
        return replace(state, fill=_ink(operator, given, numbers))
    if operator in ("G", "RG", "K", "SC", "SCN"):
        return replace(state, stroke=_ink(operator.lower(), given, numbers))
    if operator in _PENS and numbers:
        pen = list(state.pen)
        pen[_PENS[operator]] = numbers[0]
        return replace(state, pen=(pen[0], pen[1], pen[2], pen[3]))
    if operator == "d":
        return replace(state, dashes=tuple(numbers) if numbers[1:] else ())
    if operator == "gs":
        # The name is the file's own affair: what it stands for counts.
        values = on.states.get(str(given[-1]), {"unknown": ""}) if given else {}
        return replace(state, through=(state.through[0], _merged(state.through[1], values)))
    if operator == "BDC" and given[:1] == ["OC"]:
        layer = _merged(state.through[1], {"layer": str(given[-1])})
        return replace(state, through=(state.through[0], layer))
    if operator == "Tf" and given:
        return replace(state, font=str(given[0]))
    if operator == "Tr":
        return replace(state, unseen=numbers[:1] == [3.0])
    return state


def _merged(
    known: tuple[tuple[str, str], ...], values: Mapping[str, str]
) -> tuple[tuple[str, str], ...]:
    return tuple(sorted((dict(known) | dict(values)).items()))


def _ink(operator: str, given: list[object], numbers: list[float]) -> tuple[object, ...]:
    if operator == "g" and numbers:
        return (numbers[0],) * 3
    return tuple(numbers) if operator == "rg" else (operator, *given)


def shown(content: bytes, fonts: Mapping[str, str], states: States) -> Shown:
    """What a stream paints and says; `fonts`: each one's table of meanings; `states`: what each
    graphics state sets."""
    painter = _Painter(states, {name: _meanings(table) for name, table in fonts.items()})
    for operator, given in _operations(content):
        _follow(painter, operator, given)
        if operator == "BI":
            # Its bytes may look like anything: what follows it is not followed.
            break
    return Shown(tuple(painter.painted), tuple(painter.said))


_RANGE = re.compile(r"begincodespacerange\s*<([0-9A-Fa-f]+)>")
_BLOCKS = re.compile(r"beginbf(char|range)(.*?)endbf", re.DOTALL)
_HEX = re.compile(r"<([0-9A-Fa-f]*)>")


def _meanings(table: str) -> Callable[[bytes], str]:
    """What turns a font's codes into text, by its table (ISO 32000-1, 9.10.3)."""
    found = _RANGE.search(table)
    length = max(len(found[1]) // 2, 1) if found else 1
    letters: dict[int, str] = {}
    for kind, block in _BLOCKS.findall(table):
        values = _HEX.findall(block)
        step = 2 if kind == "char" else 3
        for n in range(0, len(values) - step + 1, step):
            first, last = int(values[n] or "0", 16), int(values[n + step - 2] or "0", 16)
            text = bytes.fromhex(values[n + step - 1].zfill(4)).decode("utf-16-be", "replace")
            for code in range(first, min(last, first + 255) + 1):
                letters[code] = text[:-1] + chr(min(ord(text[-1]) + code - first, 0x10FFFF))

    def decode(words: bytes) -> str:
        codes = (words[n : n + length] for n in range(0, len(words), length))
        return "".join(letters.get(int.from_bytes(code, "big"), "\ufffd") for code in codes)

    return decode
