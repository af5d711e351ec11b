"""Labels of rounds: “Rnd 7:”, “Rows 2–29 (2–31):”, “Sizes L and XL only: Rnd 8 in B:”."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from gussetry.manuscripts.reading import WORDS

Kind = Literal["rounds", "next", "foundation", "seam", "shut"]

MOST_ROUNDS = 2000
"""Greatest number of a round that is read."""

_SPAN = r"\d{1,6}(?:\s*(?:[-–—]|to|through|thru)\s*\d{1,6})?"
_ENTRY = rf"(?:{_SPAN}|[–—-])"
_LIST = rf"\s*[(\[]\s*{_ENTRY}(?:\s*[,;:]\s*{_ENTRY})*\s*[)\]]"
_WORD = r"(?:rnds?|rounds?|rows?)\b\.?"
_PREFIX = re.compile(
    r"(?P<mitten>left|right)(?:\s+(?:mitten|hand))?\s*:\s*"
    r"|(?:for\s+)?sizes?\s+(?P<sizes>[^:\n]{1,600}?)(?:\s+only)?\s*:\s*",
    re.IGNORECASE,
)
_LABEL = re.compile(
    rf"(?P<word>rnds?\b\.?|rounds?\b|rows?\b|r(?=\s?\d))\s*(?P<first>{_SPAN})"
    rf"(?P<more>(?:\s*(?:,|and|&)\s*{_SPAN})*)(?P<list>{_LIST})?"
    rf"|(?P<nth>\d{{1,4}}(?:st|nd|rd|th)(?:\s*(?:,|and|&|[-–—]|to)\s*\d{{1,4}}(?:st|nd|rd|th))*)"
    rf"\s+(?P<nthword>{_WORD})"
    r"|(?P<next>(?:next|following|plain|dec(?:rease)?|inc(?:rease)?|set-?up|joining|division"
    rf"|pick-?up|final|last)\s+(?:(?P<many>\d{{1,4}}|[a-z]{{3,6}})\s+)?(?P<nextword>{_WORD}))"
    r"|(?P<foundation>foundation(?:\s+(?:chain|ch|rnd|round|row))?\b)"
    r"|(?P<seam>seam\b(?=\s*:))|(?P<shut>draw\s+shut\b(?=\s*:))",
    re.IGNORECASE,
)
# “Rnd 1 – 24 sc in ring”: the dash ends the label, and 24 is no round.
_DASHED = re.compile(
    r"(?P<label>(?:(?:rnd|round|row|r)\b\.?\s*\d{1,6}|(?:rnds|rounds|rows)\s*\d{1,6}"
    r"(?:\s*(?:,|and|&)\s*\d{1,6})+))\s+[–—-]\s+\d+[\d\s(),/:–—\[\]-]*"
    r"(?:(?:sc|hdc|dc|htr|tr)(?:\s?\dtog)?|inc|dec|ch|sts?|single|double|half|treble)\b",
    re.IGNORECASE,
)
_REMARK = re.compile(r"\s*\((?P<remark>[^()\d]{0,60})\)")
_CLAIM = re.compile(r"\s*[(\[](?P<claim>\d+)\s*(?:sts?|stitches|sc|dc)[)\]]", re.IGNORECASE)
_YARN = re.compile(r"\s+in\s+(?P<yarn>stripes\b|[A-Z]\w{0,2}(?:\s*\([^)]{1,80}\))?)(?=\s*[:.–—(-])")
_END = re.compile(r"\s*(?P<end>[:.]|[-–—](?=\s))?\s*")


@dataclass(frozen=True, slots=True)
class Label:
    """The label of a round or of several.

    `spans`: the round numbers, one tuple for all sizes or one a size (None: a size has none).
    `open_spans`: a list of single numbers after a range, which may be the ranges' ends. `many`: how
    many next rounds. `ends` is where the label ends in the line; `closed` says that a colon, a
    full stop or a dash ends it.
    """

    kind: Kind
    spans: tuple[tuple[int, ...] | None, ...]
    open_spans: bool
    many: int
    rows: bool
    mitten: str
    sizes: str
    yarn: str
    claim: int | None
    start: int
    ends: int
    closed: bool

    @property
    def first(self) -> int | None:
        """The first of its round numbers in the first size that has it, None where it has none."""
        return next((span[0] for span in self.spans if span), None)


def _span(text: str) -> tuple[int, ...] | None:
    numbers = [int(n) for n in re.findall(r"\d+", text)]
    if not numbers:
        return None
    first, last = numbers[0], numbers[-1]
    if last > MOST_ROUNDS or last < first:
        raise ValueError(text)
    return tuple(range(first, last + 1))


def _spans(found: re.Match[str]) -> tuple[tuple[tuple[int, ...] | None, ...], bool]:
    first = _span(found["first"])
    if found["more"]:
        listed = [*(first or ())]
        for part in re.findall(_SPAN, found["more"]):
            listed += _span(part) or ()
        return (tuple(listed),), False
    if not found["list"]:
        return (first,), False
    parts = [part for part in re.split(r"[,;:()\[\]]", found["list"]) if part.strip()]
    spans = tuple(_span(part) for part in parts)
    ranged = len(first or ()) > 1
    return (first, *spans), ranged and all(span is None or len(span) == 1 for span in spans)


def label_of(line: str, start: int = 0) -> Label | None:
    """The label with which a line begins at `start`, None where it begins with none.

    Raises ValueError where its numbers are no rounds.
    """
    at, mitten, sizes = start, "", ""
    while found := _PREFIX.match(line, at):
        mitten, sizes, at = found["mitten"] or mitten, found["sizes"] or sizes, found.end()
    dashed = _DASHED.match(line, at)
    head = _LABEL.match(line, at, dashed.end("label")) if dashed else _LABEL.match(line, at)
    if head is None:
        return None
    kind, spans, open_spans, many = _kind(head)
    ends, claim, yarn = head.end(), None, ""
    for pattern in (_CLAIM, _REMARK, _YARN, _REMARK):
        part = pattern.match(line, ends)
        if part is None:
            continue
        ends = part.end()
        groups = part.groupdict()
        claim = int(groups["claim"][:6]) if groups.get("claim") else claim
        yarn = groups.get("yarn") or yarn
    close = _END.match(line, ends)
    closed = close is not None and close["end"] is not None
    ends = close.end() if close else ends
    word = head["word"] or head["nthword"] or head["nextword"] or head["foundation"] or ""
    rows = "row" in word.casefold()
    return Label(
        kind, spans, open_spans, many, rows, (mitten or "").casefold(), sizes, yarn, claim,
        start, ends, closed,
    )  # fmt: skip


def _kind(
    head: re.Match[str],
) -> tuple[Kind, tuple[tuple[int, ...] | None, ...], bool, int]:
    if head["foundation"]:
        return "foundation", ((0,),), False, 1
    if head["seam"]:
        return "seam", (), False, 1
    if head["shut"]:
        return "shut", (), False, 1
    if head["next"]:
        many = (head["many"] or "1").casefold()
        number = int(many) if many.isdigit() else WORDS.get(many, 0)
        if not 0 < number <= MOST_ROUNDS:
            raise ValueError(many)
        return "next", (), False, number
    if head["nth"]:
        text = head["nth"]
        numbers = [int(n) for n in re.findall(r"\d+", text)]
        if re.search(r"[-–—]|\bto\b", text):
            return "rounds", (_span(f"{numbers[0]}-{numbers[-1]}"),), False, 1
        return "rounds", (tuple(numbers),), False, 1
    spans, open_spans = _spans(head)
    return "rounds", spans, open_spans, 1
