"""A second, plain way to draw by the drawing contract, so that the recount is tried on drawings
that the product's own drawer never touched. Strokes, places and letters are this file's own."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache
from typing import Any
from xml.sax.saxutils import quoteattr

from fontpkg_atkinson_hyperlegible import ROOT
from fontTools.misc.transform import Transform
from fontTools.pens.svgPathPen import SVGPathPen
from fontTools.pens.transformPen import TransformPen
from fontTools.ttLib import TTFont

from gussetry.stitchmap import Op, Piece, Round, sections

P = 6.0  # the pitch, mm
INK = "#111111"


# --- letters ----------------------------------------------------------------------------------


@cache
def _face(weight: str) -> tuple[Any, Any, float]:
    font = TTFont(ROOT / "files" / f"AtkinsonHyperlegible-{weight}.ttf")
    return font.getGlyphSet(), font.getBestCmap(), font["head"].unitsPerEm


def outline(
    text: str, x: float, y: float, em: float = 3.0, *, weight: str = "Regular", turned: float = 0
) -> str:
    """Path data of a text whose baseline begins at (x, y)."""
    glyphs, names, units = _face(weight)
    pen = SVGPathPen(glyphs, ntos=lambda v: f"{v:.3f}")
    place = Transform(1, 0, 0, 1, x, y).rotate(math.radians(-turned)).scale(em / units, -em / units)
    for letter in text:
        name = names[ord(letter)]
        glyphs[name].draw(TransformPen(pen, place))
        place = place.translate(glyphs[name].width, 0)
    return str(pen.getCommands())


# --- symbols ----------------------------------------------------------------------------------


class Cell:
    """Local coordinates of a cell: x to the right, y from foot to head, as large as `scale`."""

    def __init__(self, at: complex, up: complex = -1j, scale: float = 1) -> None:
        self.at, self.up, self.scale = at, up, scale

    def __call__(self, x: float, y: float) -> str:
        place = self.at + (self.up * 1j * x + self.up * y) * self.scale
        return f"{place.real:.3f} {place.imag:.3f}"

    def line(self, *points: tuple[float, float], shut: bool = False) -> str:
        data = "M" + "L".join(self(x, y) for x, y in points)
        return data + ("Z" if shut else "")

    def oval(self, rx: float, ry: float) -> str:
        turn = math.degrees(math.atan2(self.up.real, -self.up.imag))
        arc = f"A{rx * self.scale:g} {ry * self.scale:g} {turn:.3f} 0 1"
        return f"M{self(-rx, 0)}{arc} {self(rx, 0)}{arc} {self(-rx, 0)}Z"

    def hook(self, tip: float) -> str:
        """A hook from the foot to its tip at the right, or at the left."""
        r = abs(tip) / 2 * self.scale
        return f"M{self(0, -H)}A{r:g} {r:g} 0 0 {int(tip < 0)} {self(tip, -H)}"

    def arc(self, y: float, dip: float) -> str:
        """A loop arc at y whose middle lies `dip` lower than its ends (higher: negative)."""
        r, sweep = 0.9 * self.scale, 0 if dip > 0 else 1
        return f"M{self(-0.7, y)}A{r:g} {r:g} 0 0 {sweep} {self(0.7, y)}"


OWN_WORDS = {
    "slst": "slip stitch (sl st)", "ch": "chain (ch)", "hold": "set aside unworked",
    "skip": "miss this place", "join": "join: no stitch", "seam": "seam: slip stitches",
    "close": "draw shut: the front loops",
}  # fmt: skip
"""What a key says of kinds that are no stitch of legs."""
DISCS: dict[str, dict[str, object]] = {
    "slst": {"fill": INK, "stroke": "none"},
    "seam": {"fill": INK},
}
"""How a symbol with a disc in it is painted."""
H = 2.2
PITCH = 6.6
"""The pitch, mm, for which symbols of scale 1 are drawn."""
POSTS = {"fphdc": "FPhdc", "bphdc": "BPhdc", "fpdc": "FPdc", "bpdc": "BPdc"}


def _bar(cell: Cell, foot: complex, head: complex, *, at: float, half: float, tilt: float) -> str:
    """A bar over a leg: `at` its share of the way up, `tilt` its angle from a right angle."""
    way = (head - foot) / abs(head - foot)
    middle = foot + (head - foot) * at
    side = way * 1j * complex(math.cos(tilt), math.sin(tilt)) * half
    a, b = middle - side, middle + side
    return cell.line((a.real, a.imag), (b.real, b.imag))


def _leg(cell: Cell, base: str, foot: complex, head: complex, *, cap: bool = True) -> str:
    data = cell.line((foot.real, foot.imag), (head.real, head.imag))
    if base == "sc":
        return data + _bar(cell, foot, head, at=0.5, half=0.6, tilt=0)
    if cap:
        data += _bar(cell, foot, head, at=1, half=0.7, tilt=0)
    return data + (_bar(cell, foot, head, at=0.5, half=0.5, tilt=0.6) if base == "dc" else "")


_OTHERS = {
    "ch": lambda c: c.oval(1.8, 1.0),
    "slst": lambda c: c.oval(0.7, 0.7),
    "hold": lambda c: c.line((-1, -1), (1, -1), (1, 1), (-1, 1), shut=True),
    "skip": lambda c: c.line((-1, 0), (1, 0)),
    "join": lambda c: c.line((-1.5, -1), (1.5, 1), (1.5, -1), (-1.5, 1), shut=True),
    "seam": lambda c: (
        c.line((-1.4, 1), (1.4, 1)) + c.oval(0.4, 0.4) + c.line((1.4, -1), (-1.4, -1))
    ),
    "close": lambda c: c.oval(0.8, 0.8) + c.oval(1.5, 1.5),
}


def symbol(op: Op, at: complex, up: complex = -1j, spread: float = 1.6, *, scale: float = 1) -> str:
    """Path data of an operation's symbol in a fabric of sc."""
    cell = Cell(at, up, scale)
    if op.do in _OTHERS:
        return str(_OTHERS[op.do](cell))
    foot, head = complex(0, -H), complex(0, H)
    if op.do == "inc":
        base = op.of or "sc"
        data = "".join(_leg(cell, base, foot, head + side) for side in (-spread, spread))
    elif op.do.endswith("2tog"):
        base = op.do.removesuffix("2tog")
        data = "".join(_leg(cell, base, foot + side, head, cap=False) for side in (-spread, spread))
        data += cell.line((-0.7, H), (0.7, H)) if base != "sc" else ""
    elif op.do[:2] in ("fp", "bp"):
        tip = 1.5 if op.do[0] == "f" else -1.5
        data = _leg(cell, op.do[2:], foot, head)
        return data + cell.hook(tip)
    else:
        data = _leg(cell, op.do, foot, head)
    if op.loop != "both":
        data += cell.arc(-H - 0.5, 0.3 if op.loop == "back" else -0.3)
    if any(isinstance(p, tuple) and p[0] in ("row end", "seam") for p in op.into):
        data += cell.line((-0.7, -H), (0.7, -H))
    return data + (cell.line((-0.7, H + 0.4), (0.7, H + 0.4)) if op.held else "")


def _told(op: Op) -> str:
    """A stitch in words, in US terms."""
    words = {"slst": "sl st", **POSTS}.get(op.do, op.do)
    if op.do not in ("sc", "hdc", "dc", "inc") and not op.do.endswith("2tog"):
        return words
    if any(isinstance(p, tuple) and p[0] in ("row end", "seam") for p in op.into):
        words += " picked up"
    if op.loop != "both":
        words += f" in the {op.loop} loop"
    return f"{words} set aside" if op.held else words


# --- a file -----------------------------------------------------------------------------------


class Sheet:
    """A drawing while it is written."""

    def __init__(self, kind: str, size: str = "M", **tags: str) -> None:
        self.root = {"data-kind": kind, "data-size": size, "data-mitten": "both", **tags}
        self.width, self.height, self.size = 210.0, 297.0, size
        self.patches: list[str] = []
        self.inked: list[str] = []
        self.labels: list[str] = []
        self.description = "d"

    @staticmethod
    def _path(data: str, **tags: object) -> str:
        shown = "".join(
            f" {k.rstrip('_').replace('_', '-')}={quoteattr(str(v))}" for k, v in tags.items()
        )
        return f'<path d="{data}"{shown}/>'

    def stitch(self, op: Op, at: complex, up: complex = -1j, **tags: object) -> None:
        """A stitch with its tags."""
        extra = DISCS.get(op.do, {})
        self.inked.append(self._path(symbol(op, at, up), class_="stitch", data_do=op.do,
                                     data_size=self.size, **tags, **extra))  # fmt: skip

    def label(self, role: str, text: str, at: complex, turned: float = 0, **tags: object) -> None:
        """A label, centred on its place."""
        width = 1.45 * len(text)
        x, y = (at.real - width / 2, at.imag + 1) if not turned else (at.real, at.imag)
        self.labels.append(
            self._path(outline(text, x, y, turned=turned), data_role=role, data_says=text,
                       data_size=self.size, **tags)
        )  # fmt: skip

    def box(self, x: float, y: float, w: float, h: float, **tags: object) -> None:
        """A filled patch, (x, y) its upper left corner."""
        self.patches.append(
            self._path(f"M{x:.3f} {y:.3f}H{x + w:.3f}V{y + h:.3f}H{x:.3f}Z",
                       data_size=self.size, **tags)
        )  # fmt: skip

    def line(self, *points: complex, **tags: object) -> None:
        """An open line."""
        data = "M" + "L".join(f"{p.real:.3f} {p.imag:.3f}" for p in points)
        self.patches.append(
            self._path(data, fill="none", stroke=INK, stroke_width=0.3,
                       data_size=self.size, **tags)
        )  # fmt: skip

    def area(self, *points: complex, **tags: object) -> None:
        """A filled shape without a line."""
        data = "M" + "L".join(f"{p.real:.3f} {p.imag:.3f}" for p in points) + "Z"
        self.patches.append(self._path(data, fill=INK, data_size=self.size, **tags))

    def tell(self, piece: Piece, rounds: Sequence[Round]) -> None:
        """The description tells the rounds, every stitch by itself."""
        unit = "Row" if piece.worked == "rows" else "Round"
        self.description = f"What is shown. {unit} by {unit.lower()}."
        for round_ in rounds:
            if any(op.do == "close" for op in round_.work):
                self.description += " Then draw shut."
                continue
            head = f"{unit} {round_.number}" if round_.number else "Foundation"
            work = ", ".join(_told(op) for op in round_.work if op.do != "turn")
            count = f"; {round_.count} stitches" if round_.count else ""
            parts = sections(round_)
            if parts:
                count += " ({}, marked, {}, marked, {})".format(*parts)
            self.description += f" {head}, yarn {round_.yarn}: {work}{count}."

    def landmark(self, name: str, text: str, y: float) -> None:
        """A landmark's words right of the strip, with a leader from its height."""
        self.line(complex(100, y), complex(108, y), data_role="rule")
        at = complex(108.5 + 0.725 * len(text), y)
        self.label("landmark", text, at, data_landmark=name)

    def dimension(self, name: str, start: complex, end: complex) -> None:
        """A dimension line with both heads."""
        self.line(start, end, data_role="dimension", data_measure=name)
        self._head(start, end)
        self._head(end, start)

    def arrow(self, *points: complex) -> None:
        """A line of direction with its head."""
        self.line(*points, data_role="direction")
        self._head(points[-1], points[-2])

    def _head(self, tip: complex, behind: complex) -> None:
        way = (tip - behind) / abs(tip - behind)
        side = way * 1j
        head = [tip, tip - 2 * way + side * 0.5, tip - 2 * way - side * 0.5]
        data = "M" + "L".join(f"{p.real:.3f} {p.imag:.3f}" for p in head) + "Z"
        self.patches.append(self._path(data, data_role="arrow", fill=INK))

    def key(self, used: list[Op], y: float, *, scales: tuple[float, ...] = ()) -> None:
        """A key of the symbols used, in rows of two from y down; with `scales` in one column, each
        symbol at every scale under the pitch that it has then, mm."""
        known: set[tuple[object, ...]] = set()
        for op in used:
            legged = op.do in ("sc", "hdc", "dc", "inc") or op.do.endswith("2tog")
            picked = legged and any(
                isinstance(p, tuple) and p[0] in ("row end", "seam") for p in op.into
            )
            of = (op.of or "sc") if op.do == "inc" else ""
            mark = (op.do, of, op.loop if legged else "both", picked, op.held)
            if mark in known:
                continue
            known.add(mark)
            tags: dict[str, object] = {"data_do": op.do}
            if of:
                tags["data_of"] = of
            if legged and op.loop != "both":
                tags["data_loop"] = op.loop
            if picked:
                tags["data_pick_up"] = "yes"
            if op.held:
                tags["data_held"] = "yes"
            tags |= DISCS.get(op.do, {})
            place = complex(12 + 80 * (len(known) % 2), y + 8 * (len(known) // 2))
            if scales:
                place = complex(30, y + 8 * len(known))
            for i, scale in enumerate(scales or (1,)):
                at = place - 10 * (len(scales) - 1 - i) if scales else place
                data = symbol(op, at, scale=scale)
                self.inked.append(self._path(data, class_="symbol", **tags))
            base = tags.get("data_of", op.do)
            words = OWN_WORDS.get(op.do, f"{base}")
            if op.do == "inc":
                words = f"2 {base} in one stitch"
            if op.do in POSTS:
                side = "front" if op.do[0] == "f" else "back"
                words = f"{POSTS[op.do]}, round the post from the {side}"
            words += f", {op.loop} loop only" if "data_loop" in tags else ""
            words += ", picked up" if picked else ""
            words += ", set aside" if op.held else ""
            self.label("term", words, place + 5 + 0.725 * len(words))
            self.description += f" {words}."
        for i, scale in enumerate(scales):
            head = f"{PITCH * scale:g} mm"
            self.label("pitch", head, complex(30 - 10 * (len(scales) - 1 - i), y))

    def svg(self) -> bytes:
        """The file."""
        root = "".join(f" {k.replace('_', '-')}={quoteattr(v)}" for k, v in self.root.items())
        lines = [
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{self.width:g}mm"'
            f' height="{self.height:g}mm" viewBox="0 0 {self.width:g} {self.height:g}"{root}>',
            f"<title>t</title><desc>{self.description}</desc><g>",
            f'<path data-role="paper" fill="#ffffff" d="M0 0H{self.width:g}V{self.height:g}H0Z"/>',
            *self.patches,
            f'</g><g fill="none" stroke="{INK}" stroke-width="0.35">',
            *self.inked,
            f'</g><g fill="{INK}" stroke="none">',
            *self.labels,
            "</g></svg>",
        ]
        return "\n".join(lines).encode()
