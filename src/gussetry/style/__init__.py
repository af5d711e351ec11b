"""How drawings look: a frozen `Style`, read from the sheets in `styles/`, and the lettering.

The sheet `default` names every property; another sheet may override, never invent.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from importlib.resources import files
from pathlib import Path
from typing import Any, Literal, get_args

from gussetry.diagnostics import Faults, Problem
from gussetry.misreadings import clipped
from gussetry.source import Document, parse, read_source
from gussetry.style import inks
from gussetry.units import text

Hand = Literal["right", "left", "both"]
"""Whose stitch charts are drawn: a right-handed maker's, a left-handed one's, or each."""

Yarns = Literal["colours", "hatches"]
"""How patches tell their yarn: by its colour, or by hatches in ink."""

PT = 25.4 / 72
"""Millimetres in a point: 1 pt = 1/72 in (W3C SVG 1.1 test coords-units-03-b)."""

_NUMBER = re.compile(r"[0-9]{1,6}(\.[0-9]{1,6})?", re.ASCII)

LIMITS: dict[str, tuple[Fraction, Fraction]] = {
    "column": (Fraction(60), Fraction(1500)),
    "stitch": (Fraction(2), Fraction(20)),
    "pens": (Fraction(5, 100), Fraction(2)),
    "text": (Fraction(4), Fraction(48)),
    "centimetres": (Fraction(1, 10), Fraction(5)),
    "inches": (Fraction(5, 100), Fraction(2)),
    "scale": (Fraction(1, 10), Fraction(2)),
    "dpi": (Fraction(36), Fraction(1200)),
}
"""From the smallest that print can show to the largest that a wall could want: common practice, no
source. Millimetres; `text` in points, `scale` a ratio, `dpi` dots an inch."""


@dataclass(frozen=True, slots=True)
class Style:
    """A look. Lengths and pens in mm, `text` sizes in points by label kind, colours `#rrggbb`;
    `paper` "" is transparent. `cm_step` in mm and `inch_step` in inches round printed measures;
    `scale` is that of schematic and strip; `stitch` the pitch of a chart's cells; `hand` whose
    stitch charts are drawn; `yarns` whether patches are coloured or hatched."""

    name: str
    width: float
    height: float
    paper: str
    ink: str
    quiet_ink: str
    emphasis: str
    stitch: float
    pens: tuple[tuple[str, float], ...]
    text: tuple[tuple[str, float], ...]
    cm_step: Fraction
    inch_step: Fraction
    scale: float
    dpi: int
    hand: Hand
    yarns: Yarns

    def pen(self, name: str) -> float:
        """The width of a pen, mm."""
        return dict(self.pens)[name]

    def size(self, kind: str) -> float:
        """The em size of a label kind, mm."""
        return dict(self.text)[kind] * PT


def _folder() -> Any:
    """Where the sheets are: in the package, or in the project's tree of an editable install."""
    shipped = files("gussetry") / "styles"
    if shipped.is_dir():
        return shipped
    return Path(__file__).parents[3] / "styles"


def names() -> tuple[str, ...]:
    """The sheets that come with gussetry."""
    found = (entry.name for entry in _folder().iterdir())
    return tuple(sorted(n.removesuffix(".yaml") for n in found if n.endswith(".yaml")))


def _sheet(name: str) -> Document:
    if name.endswith((".yaml", ".yml")):
        return read_source(Path(name))
    if name not in names():
        raise Faults(
            [Problem("unknown-style", f"there is no style {name!r}", ("style",),
                     f"choose one of {', '.join(names())}, or name a .yaml file")]
        )  # fmt: skip
    return parse((_folder() / f"{name}.yaml").read_bytes(), f"{name}.yaml")


def _merge(base: dict[str, Any], sheet: Document) -> dict[str, Any]:
    """The base with the sheet's properties; Faults for one that the base does not have."""
    problems: list[Problem] = []

    def over(known: dict[str, Any], new: Any, path: tuple[str, ...]) -> dict[str, Any]:
        merged = dict(known)
        for key, value in new.items():
            here = (*path, str(key))
            if key not in known:
                problems.append(
                    Problem("unknown-property", f"a style has no property {' '.join(here)!r}",
                            here, f"known here: {', '.join(known)}",
                            span=sheet.locate_key(here))
                )  # fmt: skip
            elif isinstance(known[key], dict) and not isinstance(value, dict):
                problems.append(
                    Problem("wrong-shape", f"{' '.join(here)} is a group of properties",
                            here, f"name those that change: {', '.join(known[key])}",
                            span=sheet.locate(here))
                )  # fmt: skip
            elif not isinstance(known[key], dict) and not isinstance(value, str):
                problems.append(
                    Problem("wrong-shape", f"{' '.join(here)} takes one value",
                            here, f"write it like {key}: {known[key]}", span=sheet.locate(here))
                )  # fmt: skip
            elif isinstance(value, dict):
                merged[key] = over(known[key], value, here)
            else:
                merged[key] = value
        return merged

    if not isinstance(sheet.data, dict):
        raise Faults([Problem("not-a-style", f"{sheet.name} holds no properties")])
    merged = over(base, sheet.data, ())
    if problems:
        raise Faults(problems)
    return merged


def _faint(style: Style, sheet: Document) -> list[Problem]:
    """Inks that cannot be read on the style's paper, transparent taken for white."""
    ground = style.paper or "#ffffff"
    return [
        Problem("faint-ink", f"{key} {ink} on paper {ground} has a contrast of"
                f" {text(inks.ratio(ink, ground), 2)}, and {use} need {text(least)}", (key,),
                "choose a darker ink, or on dark paper a lighter one", span=sheet.locate((key,)))
        for key, ink, least, use in (
            ("ink", style.ink, inks.TEXT, "letters"),
            ("quiet ink", style.quiet_ink, inks.GRAPHICS, "lines"),
            ("emphasis", style.emphasis, inks.GRAPHICS, "symbols"),
        )
        if inks.ratio(ink, ground) < least
    ]  # fmt: skip


def load_style(name: str = "default") -> Style:
    """The style of that name, or of a `.yaml` file, laid over `default`. Faults if it is wrong."""
    base = _sheet("default")
    sheet = base if name == "default" else _sheet(name)
    assert isinstance(base.data, dict)
    data = _merge(dict(base.data), sheet)
    problems: list[Problem] = []

    def number(*path: str) -> Fraction:
        value: Any = data
        for key in path:
            value = value[key]
        low, high = next(LIMITS[key] for key in path if key in LIMITS)
        written = str(value)
        found = Fraction(written) if _NUMBER.fullmatch(written) else low - 1
        kind = "whole number" if path == ("dpi",) else "number"
        if not low <= found <= high or (path == ("dpi",) and found.denominator > 1):
            problems.append(
                Problem("not-a-size", f"{' '.join(path)} cannot be {clipped(written)}", path,
                        f"write a {kind} from {text(low)} to {text(high)}, in plain digits",
                        span=sheet.locate(path))
            )  # fmt: skip
        return found

    def colour(key: str, also: str = "") -> str:
        value = str(data[key])
        digits = value.removeprefix("#")
        if value == also:
            return ""
        if len(digits) != 6 or any(c not in "0123456789abcdefABCDEF" for c in digits):
            problems.append(
                Problem("not-a-colour", f"{key} is {clipped(value)}, no colour", (key,),
                        'write six hexadecimal digits in quotes, as "#1f1d1a"',
                        span=sheet.locate((key,)))
            )  # fmt: skip
        return value.lower()

    def hand() -> Hand:
        found = [known for known in get_args(Hand) if known == data["hand"]]
        if not found:
            problems.append(
                Problem("not-a-hand", f"hand cannot be {clipped(str(data['hand']))}", ("hand",),
                        f"write one of {', '.join(get_args(Hand))}", span=sheet.locate(("hand",)))
            )  # fmt: skip
        return found[0] if found else "right"

    def yarns() -> Yarns:
        found = [known for known in get_args(Yarns) if known == data["yarns"]]
        if not found:
            problems.append(
                Problem("not-a-look", f"yarns cannot be {clipped(str(data['yarns']))}",
                        ("yarns",), f"write one of {', '.join(get_args(Yarns))}",
                        span=sheet.locate(("yarns",)))
            )  # fmt: skip
        return found[0] if found else "colours"

    style = Style(
        name=name,
        width=float(number("column", "width")),
        height=float(number("column", "height")),
        paper=colour("paper", "transparent"),
        ink=colour("ink"),
        quiet_ink=colour("quiet ink"),
        emphasis=colour("emphasis"),
        stitch=float(number("stitch")),
        pens=tuple((str(k), float(number("pens", k))) for k in data["pens"]),
        text=tuple((str(k), float(number("text", k))) for k in data["text"]),
        cm_step=number("measures", "centimetres") * 10,
        inch_step=number("measures", "inches"),
        scale=float(number("scale")),
        dpi=int(number("dpi")),
        hand=hand(),
        yarns=yarns(),
    )
    problems += _faint(style, sheet) if not problems else ()
    if problems:
        raise Faults(problems)
    return style
