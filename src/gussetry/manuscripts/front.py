"""What a manuscript says of itself before its rounds: sizes, terms, yarns."""

from __future__ import annotations

import re
from collections import Counter

from gussetry.manuscripts.parsing import SIZES
from gussetry.manuscripts.text import Text

MOST_SIZES = 30
"""Most sizes that one text serves."""

_SIZES = re.compile(
    r"^[\W_]*(?:.{0,80}[.!?;]\s+)?sizes?\b(?:\s*:|\s+(?=[A-Z0-9])|[\W_]*$)[\W_]*(?P<rest>.*)$",
    re.IGNORECASE,
)
_CUT = re.compile(r"\s[–—-]\s|\bto fit\b|;|\.\s|\.$|\bfor\b|=", re.IGNORECASE)
_THROUGHOUT = re.compile(r"^[\W_]*yarn:?\s+(?P<yarn>.{1,200}?)\s+throughout\b", re.IGNORECASE)
_STRIPES = re.compile(
    r"^[\s*•-]*(?P<piece>cuff|hand|thumb)(?:,\s*sizes?\s+(?P<sizes>[^:]{1,120}))?:\s*"
    r"(?:rnds?|rounds?|rows?)\s+(?P<plan>.{1,4000})$",
    re.IGNORECASE,
)
_STRIPE = re.compile(r"(\d{1,4})(?:\s*[-–—]\s*(\d{1,4}))?\s+([A-Z]\w{0,2})\b")


def sizes_declared(text: Text) -> tuple[str, ...]:
    """The names of the sizes that a text says it serves, smallest first; empty if it does not."""
    lines = text.content.split("\n")
    for at, line in enumerate(lines):
        found = _SIZES.match(line) if len(line) <= 300 else None
        if found is None or " only" in line[:60]:
            continue
        rest = found["rest"].strip()
        if not rest:
            rest = next((below.strip() for below in lines[at + 1 : at + 4] if below.strip()), "")
        names = _names(rest)
        if names:
            return names
    return ()


def _names(text: str) -> tuple[str, ...]:
    shown = _CUT.split(text.strip(" *_`"))[0]
    parts = [part.strip(" *_`") for part in re.split(r"[()\[\],/]", shown)]
    names = tuple(part for part in parts if part)
    if not 0 < len(names) <= MOST_SIZES or len({*names}) != len(names):
        return ()
    if any(len(name) > 24 or len(name.split()) > 3 for name in names):
        return ()
    return names


def sizes_used(words: list[str]) -> int:
    """For how many sizes the rounds' lists of numbers are, where the text does not say: the usual
    length of those that do not stand at the end of a round, where a total may."""
    lengths: Counter[int] = Counter()
    for text in words:
        for found in SIZES.finditer(text):
            rest = text[found.end() :].strip(" .;)]")
            many = len(re.findall(r"\d+|(?<=[(,\s])[–—-]", found.group()))
            if rest or many > 2:
                lengths[many] += 1
    return max(lengths, key=lambda n: (lengths[n], n), default=1)


def plain_name(name: str) -> str:
    """A size's name as lists can have it: without signs that part names, in small letters."""
    return " ".join(re.sub(r"[()\[\],/;:]", " ", name).casefold().split())


def chosen_sizes(words: str, names: tuple[str, ...]) -> tuple[int, ...] | None:
    """The places of the sizes that words name, “L and XL”; None where one is not known. A name may
    have an “and” of its own."""
    known = {plain_name(name): at for at, name in enumerate(names)}
    parts = [" ".join(part.casefold().split()) for part in re.split(r"(,|&|\band\b)", words)]
    places: list[int] = []
    at = 0
    while at < len(parts):
        # The longest name that begins here, of every other part: those between are the commas.
        ends = range(min(len(parts), at + 7), at, -2) if parts[at] else ()
        found = next((e for e in ends if plain_name(" ".join(parts[at:e])) in known), None)
        if found is None and parts[at]:
            return None
        if found is not None:
            places.append(known[plain_name(" ".join(parts[at:found]))])
        at = (found or at + 1) + 1
    return tuple(places) or None


def yarn_throughout(line: str) -> str:
    """The yarn, or list of yarns, of a line “Yarn: A throughout.”; blank if it is none."""
    found = _THROUGHOUT.match(line) if len(line) <= 300 else None
    return found["yarn"] if found else ""


def begins_stripes(line: str) -> bool:
    """Whether a line begins the stripe plan of a piece."""
    return len(line) <= 5000 and _STRIPES.match(line) is not None


def stripes_said(
    line: str, names: tuple[str, ...]
) -> tuple[str, tuple[int, ...], tuple[tuple[int, str], ...]]:
    """Piece, sizes (empty for all) and the yarn of each round that a line of a stripe plan tells;
    a blank piece if it tells none. Rounds stand as the line has them, told twice or left out."""
    found = _STRIPES.match(line) if len(line) <= 5000 else None
    if found is None:
        return "", (), ()
    sizes = chosen_sizes(found["sizes"], names) if found["sizes"] else ()
    plan = [
        (number, yarn)
        for first, last, yarn in _STRIPE.findall(found["plan"])
        for number in range(int(first), min(int(last or first), 2000) + 1)
    ]
    return found["piece"].casefold(), sizes or (), tuple(plan)
