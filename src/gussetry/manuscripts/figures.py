"""The figures that a text names beside its rounds: finished measures, what a pair takes of each
yarn, gauges, and the heights at which to try on."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import takewhile

from gussetry.manuscripts.statements import heading_of
from gussetry.manuscripts.text import Spot, Text

MOST_LINE = 5000
"""Longest line that is searched for figures, in characters."""

MEASURES = (
    "cuff circumference", "cuff depth", "hand circumference", "thumb circumference",
    "crook height", "hand length", "thumb length", "total length",
)  # fmt: skip
"""Measures of a finished mitten that are known by name."""

HANDS_END = "height of the hand's end"
"""From the wrist to where the crown or the edging begins."""

_GLYPHS = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_PART = rf"(?:[{''.join(_GLYPHS)}]|\d/\d)"
_NUMBER = rf"(?:\d{{1,6}}(?:\.\d{{1,3}})?(?![\d./])(?:[ ]?{_PART})?|{_PART})"
_ENTRY = rf"(?:{_NUMBER}|[–—-])"
_UNITS = {
    "cm": r"cms?\b|centimet(?:re|er)s?\b", "in": r"in(?:s|ch|ches)?\b|[\"″”]",
    "m": r"m\b|met(?:re|er)s?\b", "yd": r"y(?:ar)?ds?\b", "g": r"g(?:rams?)?\b",
    "balls": r"[×x]\s*\d{1,4}\s*g\b|(?:balls?|skeins?|hanks?)\b",
}  # fmt: skip
_LIST = re.compile(
    rf"(?<![\w.])(?P<list>{_ENTRY}(?:\s*[(\[]\s*{_ENTRY}(?:\s*[,;:]\s*{_ENTRY}){{0,29}}\s*[)\]])?)"
    rf"\s*(?:{'|'.join(f'(?P<{name}>{sign})' for name, sign in _UNITS.items())})",
    re.IGNORECASE,
)
_MEASURE = re.compile(
    rf"^[\W_]*(?:finished\s+)?(?P<name>{'|'.join(MEASURES).replace(' ', '[ ]')})[*_]*\s*:",
    re.IGNORECASE,
)
_YARN = re.compile(r"^[\W_]*(?i:yarn|colou?r)\s+(?P<letter>[A-Z]\w{0,2})(?:[,\s(][^:]{0,150})?\s*:")
_HEIGHT = re.compile(
    r"\b(?P<of>crook\s+of\s+the\s+thumb|tip\s+of\s+the\s+little\s+finger|edging\s+begins)\b"
    r"(?P<lists>[^;:!?]{1,600}?)above\s+the\s+wrist\b",
    re.IGNORECASE,
)
_GAUGE = re.compile(
    rf"(?<![\w.])(?P<across>{_NUMBER})\s+(?:sts?|stitches|sc|hdc|dc|htr|tr)\s+(?:and|by|[x×,&])\s+"
    rf"(?P<up>{_NUMBER})\s+(?:rnds?|rounds?|rows?)\s+(?:over|in|to|make|=)\s+"
    rf"(?P<over>{_NUMBER})\s*(?P<unit>cm|in)\b(?P<of>[^.;\n]{{0,60}})",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure, or one a size: `of` is a measure's name, `yarn A`, `gauge` or `gauge of the
    ribbing`, `unit` cm, in, m, yd, g or balls; of a gauge `stitches over 10 cm` or `rounds over 4
    in`; `said` as each is written, a dash where a size has none; `spots` where each stands."""

    of: str
    unit: str
    said: tuple[str, ...]
    spots: tuple[Spot, ...]

    def at(self, size: int) -> tuple[str, Spot]:
        """The figure that serves a size, counted from 0, and where it stands."""
        place = size if len(self.said) > 1 else 0
        return self.said[place], self.spots[place]


def figures_said(text: Text) -> Iterator[Figure]:
    """Every figure of a text that can be told."""
    yield from _listed(text)
    for found in _HEIGHT.finditer(text.content):
        of = "crook height" if found["of"].casefold().startswith("crook") else HANDS_END
        for entry in _LIST.finditer(found["lists"]):
            yield _figure(of, entry, found.start("lists"))
    for found in _GAUGE.finditer(text.content):
        of = "gauge of the ribbing" if "rib" in found["of"].casefold() else "gauge"
        over = f"over {found['over']} {found['unit'].casefold()}"
        for name, unit in (("across", "stitches"), ("up", "rounds")):
            spot = Spot(found.start(name), len(found[name]))
            yield Figure(of, f"{unit} {over}", (found[name],), (spot,))


def _listed(text: Text) -> Iterator[Figure]:
    """Finished measures and amounts of yarn, each in a line of its own. A measure is one of the
    finished mitten where its heading, or the line itself, says so."""
    lines = text.content.split("\n")
    finished = False
    for at, line in enumerate(lines):
        if len(line) > MOST_LINE:
            continue
        heading = heading_of(line)
        finished = "finished" in heading.casefold() if heading else finished
        measure, yarn = _MEASURE.match(line), _YARN.match(line)
        if not yarn and not (measure and (finished or "finished" in line.casefold())):
            continue
        # A list that is wrapped goes on in lines that are set in.
        below = takewhile(lambda next_: next_.startswith("  "), lines[at + 1 : at + 20])
        whole = "\n".join([line, *below])[:MOST_LINE]
        if yarn:
            named, start = f"yarn {yarn['letter']}", yarn.end()
        elif measure:
            named, start = measure["name"].casefold(), measure.end()
        for found in _LIST.finditer(whole, start):
            yield _figure(named, found, text.starts[at])


def _figure(of: str, found: re.Match[str], start: int) -> Figure:
    entries = list(re.finditer(_ENTRY, found["list"]))
    base = start + found.start("list")
    return Figure(
        of,
        next(unit for unit in _UNITS if found[unit]),
        tuple(entry.group() for entry in entries),
        tuple(Spot(base + entry.start(), len(entry.group())) for entry in entries),
    )


def value_said(said: str) -> Fraction | None:
    """The number that figures and fractions say: `5½`, `5 1/2`, `5.5`; None for a dash."""
    if said in "–—-":
        return None
    for glyph, plain in _GLYPHS.items():
        said = said.replace(glyph, f" {plain}")
    return sum((Fraction(part) for part in said.split()), Fraction(0))
