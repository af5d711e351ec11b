"""A tiny reader of pattern texts, by regular expressions alone: rounds, sizes, counts, arithmetic.

It knows the words that texts are written in, and nothing of how they are written.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

ENTRY = r"(?:[\d–]+|[A-Z])"
"""Of a list: a number, a range, a yarn's letter, or a dash."""
STITCH = r"(?:BLO )?(?:FP|BP)?(?:sc|hdc|dc|htr|tr)"


class Told(NamedTuple):
    """A round that a line tells of: what it says of itself, for one size."""

    number: int
    yarn: str
    count: int | None
    sections: tuple[int, ...]
    aside: int
    work: str


@dataclass
class Text:
    """What was read: sizes, and by mitten, size and piece the rounds in the order told."""

    sizes: tuple[str, ...]
    rounds: dict[tuple[str, str, str], list[Told]]
    once: dict[tuple[str, str], str]
    """By size and piece the yarn that is used throughout."""


def for_size(words: str, at: int, many: int) -> str:
    """The words for one size: of each list the entry at that place."""

    def chosen(match: re.Match[str]) -> str:
        entries = [match[1], *match[2].split(", ")]
        assert len(entries) == many, f"{match[0]!r} is no list of {many}"
        return entries[at]

    return re.sub(rf"(?<![\w–])({ENTRY}) \(({ENTRY}(?:, {ENTRY})*)\)", chosen, words)


def read(text: str) -> Text:
    """The rounds of a text, Markdown or plain."""
    lines = [re.sub(r"\*\*", "", line.replace("\\", "")) for line in text.splitlines()]
    heads = [re.sub(r"^#+ ", "", line).capitalize() for line in lines]
    start = next(i for i, head in enumerate(heads) if head in ("Sizes", "Size"))
    named = next(line for line in lines[start + 1 :] if line)
    single = re.fullmatch(r"(.+?) \((.+)\)", named)
    sizes = (single[1], *single[2].split(", ")) if single else (named,)
    found = Text(sizes, {}, {})
    piece = ""
    for line, head in zip(lines, heads, strict=True):
        if head in ("Cuff", "Hand", "Thumb", "Finishing") and " " not in line.strip("# "):
            piece = head.lower()
        elif piece and (match := re.fullmatch(r"Yarn: (.+) throughout\.", line)):
            for at, size in enumerate(sizes):
                found.once[size, piece] = for_size(match[1], at, len(sizes))
        elif piece:
            _line(found, piece, line)
    return found


LABEL = re.compile(
    r"(?:(Left|Right) mitten: )?(?:Sizes? (.+?) only: )?"
    r"((?:Rnd|Row)s? [^:]*|Foundation|Seam|Draw shut): (.*)"
)


def _line(found: Text, piece: str, line: str) -> None:
    match = LABEL.fullmatch(line)
    if match is None:
        return
    side, only, label, words = match.groups()
    names = re.split(r", | and ", only) if only else list(found.sizes)
    for at, size in enumerate(names):
        assert size in found.sizes, line
        own = for_size(label, at, len(names))
        for mitten in [side] if side else ["Left", "Right"]:
            told = found.rounds.setdefault((mitten, size, piece), [])
            told += _rounds(own, for_size(words, at, len(names)))


def _rounds(label: str, words: str) -> Iterator[Told]:
    span = re.fullmatch(r"(?:Rnd|Row)s? (\d+)(?:–(\d+))?(?: in (\w+))?", label)
    count = re.search(
        r"\. (\d+) sts?(?:: (\d+) · m · (\d+) · m · (\d+))?(?:, and (\d+) set aside)?\.", words
    )
    work = words[: count.start()] if count else words
    total = int(count[1]) if count else None
    sections = tuple(int(n) for n in count.groups()[1:4] if n) if count else ()
    aside = int(count[5] or 0) if count else 0
    if span is None:
        yield Told(0 if label == "Foundation" else -1, "", total, sections, aside, words)
        return
    assert count is not None, words
    for number in range(int(span[1]), int(span[2] or span[1]) + 1):
        yield Told(number, span[3] or "", total, sections, aside, work)


# --- the arithmetic of one round ------------------------------------------------------------

_FORMS: tuple[tuple[str, int, int], ...] = (
    # words; stitches used and made for each that the number counts
    (rf"(?:{STITCH}) in (?:next|first|last|the)(?: held| crook)? (?:st|seam|row end)", 1, 1),
    (rf"(?:{STITCH}) in next (\d+) (?:held |crook )?(?:sts?|row ends?)", 1, 1),
    (rf"(?:{STITCH}) in each of the (\d+) held sts?", 1, 1),
    (rf"2 (?:{STITCH}) in (?:first|next|marked|the) (?:st|seam|row end).*", 1, 2),
    (rf"2 (?:{STITCH}) in each of next (\d+) (?:sts|row ends)", 1, 2),
    (r"\w+2tog(?: over (?:next 2|next crook st and next) .*)?", 2, 1),
    (r"\w+2tog(?: over next 2 (?:held|crook) sts)? (\d+) times", 2, 1),
    (rf"(?:{STITCH}) in next (?:(\d+) sts|st) and set (?:them|it) aside for the thumb", 1, 0),
    (r"set next (?:(\d+) sts|st) aside for the thumb without working (?:them|it)", 1, 0),
    (r"(?:skip|miss) (?:next|the last) (?:(\d+) )?(?:row ends?|crook sts?)", 1, 0),
    (r"(?:skip|miss) the seam", 1, 0),
    (r"ch (\d+) over the gap", 0, 1),
    # The far stitch of a pair was made in this round, and is used up.
    (r"join (\d+) pairs? at the crook", 1, -1),
)


def used_and_made(work: str, before: int, between: int | None) -> tuple[int, int]:
    """Stitches that the work of a round uses and makes, `before` it and `between` the markers."""
    words = work[0].lower() + work[1:] if work[0] != "[" else "[" + work[1].lower() + work[2:]
    words = re.sub(r"^ch \d, ", "", words).removesuffix(".")
    words = re.sub(r", (?:turn|join with (?:sl st|ss) in first st)$", "", words)
    whole = re.fullmatch(
        rf"(?i:{STITCH}) in each (?:st|ch|row end|held st|st of the cuff) \w+", words
    )
    if whole:
        return before, before
    if re.fullmatch(r"\w+2tog around", words):
        return before, before // 2
    if re.fullmatch(r"\[[^\]]*\] around", words):
        used, made = _parts(words[1 : words.index("]")], 0, between)
        return before, before * made // used
    return _parts(words, before, between)


def _parts(words: str, before: int, between: int | None) -> tuple[int, int]:
    used = made = 0
    for part in re.findall(r"\[[^\]]*\] (?:twice|\d+ times)|[^,\[\]]+", words):
        part = part.strip()
        if not part:
            continue
        if group := re.fullmatch(r"\[([^\]]*)\] (?:(twice)|(\d+) times)", part):
            times = 2 if group[2] else int(group[3])
            each = _parts(group[1], 0, between)
            used, made = used + times * each[0], made + times * each[1]
            continue
        part = re.sub(r" twice$", " 2 times", part)
        if re.fullmatch(rf"(?i:{STITCH}) to end", part):
            used, made = before, made + before - used
        elif re.fullmatch(rf"(?i:{STITCH}) to next marker", part):
            assert between is not None, words
            used, made = used + between, made + between
        else:
            each = _one(part)
            used, made = used + each[0], made + each[1]
    return used, made


def _one(part: str) -> tuple[int, int]:
    for form, uses, makes in _FORMS:
        if match := re.fullmatch(f"(?i:{form})", part):
            number = int(match[1]) if match.groups() and match[1] else 1
            return number * uses, number * makes
    raise AssertionError(f"{part!r} is no form of the words")
