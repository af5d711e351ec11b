"""The properties of a merged sheet, each read and checked by itself."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, TypeVar, get_args

from gussetry.diagnostics import Faults, Problem
from gussetry.misreadings import clipped
from gussetry.source import Document
from gussetry.style import checks
from gussetry.style.look import SERIES, Hand, Numerals, Schematic, Sizes, Style, Yarns
from gussetry.units import text

_NUMBER = re.compile(r"[0-9]{1,6}(\.[0-9]{1,6})?", re.ASCII)

_LETTER = re.compile("[A-Z]", re.ASCII)

LIMITS: dict[str, tuple[Fraction, Fraction]] = {
    "column": (Fraction(60), Fraction(1500)),
    "stitch": (Fraction(22, 10), Fraction(20)),
    "least stitch": (Fraction(22, 10), Fraction(20)),
    "text": (Fraction(6), Fraction(48)),
    "least text": (Fraction(6), Fraction(48)),
    "centimetres": (Fraction(1, 10), Fraction(5)),
    "inches": (Fraction(5, 100), Fraction(2)),
    "scale": (Fraction(1, 10), Fraction(2)),
    "dpi": (Fraction(36), Fraction(1200)),
    "bleed": (Fraction(0), Fraction(20)),
}
"""From the smallest that print can show to the largest that a wall could want: common practice, no
source. Millimetres; `text` in points, `scale` a ratio, `dpi` dots an inch."""

_Word = TypeVar("_Word", bound=str)


@dataclass(slots=True)
class Reading:
    """Properties while they are read: what is wrong with any is gathered in `problems`."""

    data: dict[str, Any]
    sheet: Document
    problems: list[Problem] = field(default_factory=list)

    def wrong(self, code: str, message: str, path: tuple[str, ...], remedy: str) -> None:
        """One more thing wrong, at its place in the sheet."""
        self.problems.append(Problem(code, message, path, remedy, span=self.sheet.locate(path)))

    def _at(self, path: tuple[str, ...]) -> str:
        value: Any = self.data
        for key in path:
            value = value[key]
        return str(value)

    def number(self, *path: str) -> Fraction:
        """A number within its limits."""
        low, high = next(LIMITS[key] for key in path if key in LIMITS)
        written = self._at(path)
        found = Fraction(written) if _NUMBER.fullmatch(written) else low - 1
        kind = "whole number" if path == ("dpi",) else "number"
        if not low <= found <= high or (path == ("dpi",) and found.denominator > 1):
            self.wrong(
                "not-a-size", f"{' '.join(path)} cannot be {clipped(written)}", path,
                f"write a {kind} from {text(low)} to {text(high)}, in plain digits",
            )  # fmt: skip
        return found

    def pen(self, name: str) -> float:
        """A pen's width, mm, of the ISO series."""
        written = self._at(("pens", name))
        if _NUMBER.fullmatch(written) and checks.pen(written):
            return float(written)
        self.wrong(
            "not-a-pen", f"pens {name} cannot be {clipped(written)} mm wide", ("pens", name),
            f"choose a width of ISO 128: {', '.join(SERIES)}",
        )  # fmt: skip
        return 1.0

    def colour(self, *path: str, also: str = "") -> str:
        """A colour `#rrggbb`; "" where it is the word `also`."""
        value = self._at(path)
        digits = value.removeprefix("#")
        if value == also:
            return ""
        if len(digits) != 6 or any(c not in "0123456789abcdefABCDEF" for c in digits):
            self.wrong(
                "not-a-colour", f"{' '.join(path)} is {clipped(value)}, no colour", path,
                'write six hexadecimal digits in quotes, as "#1f1d1a"',
            )  # fmt: skip
        return f"#{digits.lower()}"

    def palette(self) -> tuple[tuple[str, str], ...]:
        """Colours by the letters of yarns."""
        found = []
        for letter in self.data["palette"]:
            path = ("palette", str(letter))
            if not _LETTER.fullmatch(str(letter)):
                self.wrong(
                    "not-a-letter", f"palette {clipped(str(letter))} is no letter of a yarn", path,
                    "write a capital letter, as the pattern does under yarns",
                )  # fmt: skip
            found.append((str(letter), self.colour(*path)))
        return tuple(found)

    def word(self, key: str, code: str, known: tuple[_Word, ...]) -> _Word:
        """One of the known words."""
        found = [word for word in known if word == self.data[key]]
        if not found:
            self.wrong(
                code, f"{key} cannot be {clipped(str(self.data[key]))}", (key,),
                f"write one of {', '.join(known)}",
            )  # fmt: skip
        return found[0] if found else known[0]


def read_style(name: str, data: dict[str, Any], sheet: Document) -> Style:
    """The style that the merged properties make. Faults, at their lines in the sheet, if any is
    wrong or some do not go together."""
    given = Reading(data, sheet)
    hands: tuple[Hand, ...] = get_args(Hand)
    numerals: tuple[Numerals, ...] = get_args(Numerals)
    yarns: tuple[Yarns, ...] = get_args(Yarns)
    schematics: tuple[Schematic, ...] = get_args(Schematic)
    sizes: tuple[Sizes, ...] = get_args(Sizes)
    style = Style(
        name=name,
        width=float(given.number("column", "width")),
        height=float(given.number("column", "height")),
        paper=given.colour("paper", also="transparent"),
        ink=given.colour("ink"),
        quiet_ink=given.colour("quiet ink"),
        emphasis=given.colour("emphasis"),
        stitch=float(given.number("stitch")),
        least_stitch=float(given.number("least stitch")),
        pens=tuple((str(k), given.pen(k)) for k in data["pens"]),
        text=tuple((str(k), float(given.number("text", k))) for k in data["text"]),
        least_text=float(given.number("least text")),
        cm_step=given.number("measures", "centimetres") * 10,
        inch_step=given.number("measures", "inches"),
        scale=float(given.number("scale")),
        dpi=int(given.number("dpi")),
        hand=given.word("hand", "not-a-hand", hands),
        numerals=given.word("numerals", "not-a-look", numerals),
        palette=given.palette(),
        yarns=given.word("yarns", "not-a-look", yarns),
        schematic=given.word("schematic", "not-a-look", schematics),
        sizes=given.word("sizes", "not-a-look", sizes),
        tick_boxes=given.word("tick boxes", "not-a-look", ("no", "yes")) == "yes",
        bleed=float(given.number("bleed")),
        crop_marks=given.word("crop marks", "not-a-look", ("no", "yes")) == "yes",
    )
    problems = given.problems or checks.misfits(style, sheet)
    if problems:
        raise Faults(problems)
    return style
