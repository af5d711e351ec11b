"""A manuscript cut into instructions: which lines are rounds, and the words of each."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import NamedTuple

from gussetry.manuscripts.labels import Label, label_of
from gussetry.manuscripts.text import Spot, Text

MOST_LINE = 10_000
"""Longest line that is read, in characters; a round of thirty sizes has some two thousand."""

MOST_TOLD = 1000
"""Most instructions that are read of one manuscript."""

MOST_SAID = 100_000
"""Longest text of all instructions together, in characters."""

_MARKUP = re.compile(r"^[\s>]*(?:[-+•]\s+|\*\s+(?=\**\s*(?:rnd|round|row|r\d|size|next)))?", re.I)
_BOLD = re.compile(r"\*\*(?=\S)([^*\n]+?)(?<=\S)\*\*")
_HEADING = re.compile(r"^\s{0,3}(?:#{1,6}\s+(?P<marked>.*?)|(?P<plain>[^\d:]{2,40}?):?)[\s#]*$")
_PIECES = (
    ("thumb", re.compile(r"\bthumb\b(?!.*\b(?:gusset|hole|opening|side)\b)", re.I)),
    ("cuff", re.compile(r"\b(?:cuff|rib|ribbing|wristband)\b", re.I)),
    ("hand", re.compile(r"\b(?:hand|body|mitten|mitt|main|palm)\b", re.I)),
)
_ASIDE = re.compile(
    r"\b(?:abbreviations?|special\s+stitch\w*|stitch\s+guide|notes?|materials?|gauge|tension"
    r"|measure\w*|finishing|sizes?|stripes|yarns?|for\s+small\s+children)\b",
    re.I,
)
_SIDE = re.compile(r"^(left|right)(?:\s+(?:mitten|hand|mitt))?$", re.I)
STITCH_NAMES = (
    r"(?:[fb]p)?(?:sc|hdc|dc|htr|tr)s?(?:\s?\d\s?-?tog)?|single\s+crochets?|(?:half\s+)?double"
    r"\s+crochets?|(?:half\s+)?trebles?|inv(?:isible)?\.?\s*dec|incs?|decs?|increases?|decreases?"
    r"|sl\s*-?sts?|ss|slip\s+stitch(?:es)?"
)
_CRAFT = re.compile(
    rf"\b(?:{STITCH_NAMES}|ch|chains?|skip|miss|sk|sts?|stitch(?:es)?|turn|rep|repeat|marker|pm"
    r"|markers|even|evenly|together|aside|pairs?)\b|\d|·",
    re.I,
)
_STARTS = re.compile(
    rf"\s*(?:[*\[(\d]|(?:{STITCH_NAMES}|ch|chain|then|work|rep|repeat|with|using|as|make|in|blo|flo"
    r"|working|skip|miss|join|change|place|move|set|turn|purl|slip|cluster|fpdc|bpdc|beg|beginning)\b)",
    re.I,
)
_UNLABELLED = re.compile(
    r"\(?(?:rep(?:eat)?\.?\s+(?:rnds?|rounds?|rows?|last|the\s+last)\b|work\s+(?:even|straight)\b"
    r"|work\s+\w+\s+(?:rnds?|rounds?|rows?)\s+(?:even|straight))",
    re.I,
)
_BASE = re.compile(
    r"(?:(?:with|using)\s+[^,.]{1,40},\s*)?(?:ch(?:ain)?\s+\d|(?:make|start\s+with)\s+a\s+magic)",
    re.I,
)
_LATER_BASE = re.compile(r"[a-z][.!]\s+(?P<base>ch(?:ain)?\s+\d)", re.I)
_STITCHED = re.compile(
    rf"(?:[*\[(]\s*)?(?:(?:\d+\s+)?(?:{STITCH_NAMES})\s+(?:in|into|around|across|to|\d)\b)", re.I
)
_COUNTED = re.compile(r"[(\[=.–—-]\s*\d+\s?(?:sts?|stitches)?[)\]]?\.?$", re.I)
_LAST = re.compile(r"\b(?:fasten\s+off|level|:)", re.I)
_PROSE = re.compile(
    r"\s*(?:fasten\s+off|weave|cut|try|note|carry|leave\s+a|sew|stuff|begin\s+here|finish|repeat\s+for"
    r"|change\s+(?:to|colou?r|yarn)|continue\s+in|switch)\b",
    re.I,
)
_CLAUSE = re.compile(
    r"\s*(?:(?:with|using|rejoin|attach|change\s+to|join\s+(?=yarn|colou?r|new|[A-Z]\b|MC\b|CC\b)"
    r"|working\s+in\s+(?:the\s+)?rounds?|beginning|starting|with\s+rs|rs\s+facing)\b[^,.;]*?"
    r"(?:,|(?=\.)))",
    re.I,
)


@dataclass(frozen=True, slots=True)
class Instruction:
    """One instruction as written. `words` has the text's own length from `base` on, prose blanked
    out. `piece` and `side` are what the headings above it say.
    """

    label: Label | None
    words: str
    base: int
    spot: Spot
    piece: str
    side: str


def plain_line(line: str) -> str:
    """The line with marks of lists and of bold type blanked out, its length kept."""
    found = _MARKUP.match(line)
    start = found.end() if found else 0
    shown = " " * start + line[start:]
    if "**" in shown:
        shown = _BOLD.sub(lambda bold: f"  {bold[1]}  ", shown)
    return shown.replace("\\*", " *").replace("\t", " ").replace("\u00a0", " ").replace("`", " ")


def heading_of(line: str) -> str:
    """The words of a heading, blank if the line is none."""
    if len(line) > 200:
        return ""
    found = _HEADING.match(line.replace("*", "").replace("_", ""))
    if found is None:
        return ""
    if found["marked"] is not None:
        return found["marked"].strip(" :")
    words = found["plain"].strip()
    known = any(pattern.search(words) for _, pattern in _PIECES) or _ASIDE.search(words)
    short = len(words.split()) <= 4 and not words.endswith((".", ",", ";"))
    side = _SIDE.match(words)
    return words if short and (known or side or line.strip().endswith(":")) else ""


class Cut(NamedTuple):
    """A manuscript's instructions in their order; lines of stitches that belong to none; and where
    it was left off, if it has more than are read."""

    found: list[Instruction]
    loose: list[Spot]
    left_off: Spot | None


def instructions(text: Text) -> Cut:
    """Every instruction of a manuscript."""
    cutter = _Cutter(text)
    for number, line in enumerate(text.content.split("\n")):
        if len(line) > MOST_LINE or len(cutter.found) >= MOST_TOLD or cutter.said > MOST_SAID:
            return Cut(cutter.found, cutter.loose, Spot(text.starts[number]))
        cutter.line(line, text.starts[number])
    cutter.finish()
    return Cut(cutter.found, cutter.loose, None)


class _Cutter:
    """Goes down the lines; what it holds back is the instruction that may go on."""

    def __init__(self, text: Text) -> None:
        self.text = text
        self.found: list[Instruction] = []
        self.piece = self.side = ""
        self.aside = False
        self.said = 0
        self.loose: list[Spot] = []
        self.held: tuple[Label | None, int, int, int] | None = None

    def line(self, line: str, start: int) -> None:
        """Takes one more line, which begins at `start` in the text."""
        shown = plain_line(line)
        if not shown.strip() or shown.lstrip().startswith("|"):
            self.finish()
            return
        first = len(shown) - len(shown.lstrip())
        try:
            label = label_of(shown, first)
        except ValueError:
            # Numbers that are no rounds: told as words that cannot be read.
            self.finish()
            self.held = (None, start + first, start + first, start + len(line))
            return
        if label and not label.closed and not _STARTS.match(shown, label.ends):
            self.finish()
            return
        if label:
            self.finish()
            self.held = (label, start + first, start + label.ends, start + len(line))
            return
        heading = heading_of(line)
        if heading:
            self.finish()
            self._head(heading)
        elif self._unlabelled(shown, first, start):
            self.finish()
            self.held = (None, start + first, start + first, start + len(line))
        elif not self.held and not self.aside and (base := _LATER_BASE.search(shown[:200])):
            at = start + base.start("base")
            self.held = (None, at, at, start + len(line))
        elif self.held and self._goes_on(shown, first, start):
            self.held = (*self.held[:3], start + len(line))
        else:
            self.finish()

    def _goes_on(self, shown: str, first: int, start: int) -> bool:
        """Whether a line goes on with the instruction that is held back.

        It does not where it begins as a note does (“Try on:”), nor where it begins anew, with a
        capital and no word of the craft, and the line before ended.
        """
        if re.match(r"[A-Z][\w’' ]{1,30}:\s", shown[first:]):
            return False
        said = plain_line(self.text.content[:start].rstrip()[-60:])
        ended = said.endswith((".", ")", "]")) or _COUNTED.search(said)
        if not ended or not shown[first].isupper() or _STARTS.match(shown, first):
            return True
        if re.search(_STITCHED, shown):
            self.loose.append(Spot(start + first, len(shown.strip())))
        return False

    def _head(self, heading: str) -> None:
        self.aside = bool(_ASIDE.search(heading))
        side = _SIDE.match(heading)
        if side:
            self.side = side[1].casefold()
            return
        self.piece = next((name for name, found in _PIECES if found.search(heading)), self.piece)

    def _unlabelled(self, shown: str, first: int, start: int) -> bool:
        if self.aside:
            return False
        if _UNLABELLED.match(shown, first) or _BASE.match(shown, first):
            return True
        if not self.found or self.held or not _STITCHED.match(shown, first):
            return False
        # A total at its end makes a line of stitches a round; without one it may be anything.
        counted = _COUNTED.search(shown.rstrip()[-60:])
        if not counted and not _LAST.search(shown):
            self.loose.append(Spot(start + first, len(shown.strip())))
        return bool(counted)

    def finish(self) -> None:
        """Closes the instruction that is held back."""
        if self.held is None:
            return
        label, start, base, end = self.held
        self.said += end - base
        self.held = None
        raw = "\n".join(plain_line(part) for part in self.text.content[base:end].split("\n"))
        words = without_prose(raw)
        spot = Spot(start, max(1, base - start) if label else 1)
        self.found.append(Instruction(label, words, base, spot, self.piece, self.side))


def without_prose(words: str) -> str:
    """The words with sentences and remarks that are no instructions blanked out."""
    shown = words
    for start, end in _sentences(words):
        sentence = words[start:end]
        clause = _CLAUSE.match(sentence)
        if _is_prose(sentence):
            shown = shown[:start] + " " * (end - start) + shown[end:]
        elif clause:
            stop = start + clause.end()
            shown = shown[:start] + " " * (stop - start) + shown[stop:]
    return _without_remarks(shown)


def _is_prose(sentence: str) -> bool:
    """Whether a sentence tells nothing to be worked: no word of the craft is in it, it stands in
    brackets as a remark does, or it begins as a note does and no stitches follow in it."""
    if not _CRAFT.search(sentence):
        return True
    plain = sentence.strip()
    if plain.startswith("(") and re.search(r"[a-z][.!]\)$", plain):
        return not _STITCHED.match(plain, 1)
    note = _PROSE.match(sentence)
    parts = re.split(r"[,;:]\s*|\band\s+", plain)[1:] if note else []
    return bool(note) and not any(_STITCHED.match(part) for part in parts)


def _sentences(words: str) -> list[tuple[int, int]]:
    """Where each sentence begins and ends: at a full stop before a capital, outside brackets."""
    spans, start, deep = [], 0, 0
    for at, letter in enumerate(words):
        deep += (letter in "([{") - (letter in ")]}")
        if (
            letter in ".!"
            and deep <= 0
            and re.match(r"\s+[A-Z(\[*\d]|\s*$", words[at + 1 : at + 40])
        ):
            spans.append((start, at + 1))
            start = at + 1
    if words[start:].strip():
        spans.append((start, len(words)))
    return spans


def _without_remarks(words: str) -> str:
    """Brackets without any stitch or number in them are remarks: “(RS)”, “(right side)”."""

    def blank(found: re.Match[str]) -> str:
        inner = found.group()
        keep = _CRAFT.search(inner) or re.search(r"count|even|around", inner, re.I)
        return inner if keep else " " * len(inner)

    return re.sub(r"[(\[][^()\[\]]*[)\]]", blank, words)
