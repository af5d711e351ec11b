"""A manuscript read: sizes, terms, and what each of its instructions says."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import takewhile

from gussetry.findings import Finding, Sure
from gussetry.manuscripts.figures import Figure, figures_said
from gussetry.manuscripts.front import (
    begins_stripes,
    chosen_sizes,
    plain_name,
    sizes_declared,
    sizes_used,
    stripes_said,
    yarn_throughout,
)
from gussetry.manuscripts.labels import Label
from gussetry.manuscripts.parsing import SIZES, Unread
from gussetry.manuscripts.phrases import steps_said
from gussetry.manuscripts.reading import Reading
from gussetry.manuscripts.statements import Instruction, heading_of, instructions
from gussetry.manuscripts.terms import Terms, declared
from gussetry.manuscripts.text import Spot, Text, text_of
from gussetry.manuscripts.tree import Claim, Number, Step

_LAST_TOTAL = re.compile(
    rf"(?:^|[.(\[=:–—-])\s*(?P<number>{SIZES.pattern}|\d+)\s*(?:sts?|stitches|sc|hdc|dc|htr|tr)?\s*[.)\]]*\s*$",
    re.I,
)


@dataclass(frozen=True, slots=True)
class Statement:
    """One instruction and what its words say.

    `sizes`: the places of the sizes that it serves, in the order of its lists of numbers. `steps`
    is None where its words could not be read; `claim` is then the total at its end, if it has one.
    `rounds`: how many rounds the words ask for themselves.
    """

    instruction: Instruction
    sizes: tuple[int, ...]
    steps: tuple[Step, ...] | None
    claim: Number
    rounds: Number

    @property
    def label(self) -> Label | None:
        """Its label, None where it has none."""
        return self.instruction.label


@dataclass(frozen=True, slots=True)
class Stripes:
    """The yarn of each round of a piece as a stripe plan tells it; `sizes` empty for all. `spot`
    None: one yarn throughout."""

    piece: str
    sizes: tuple[int, ...]
    plan: tuple[tuple[int, str], ...]
    spot: Spot | None = None


@dataclass(frozen=True, slots=True)
class Manuscript:
    """A text of crochet as it was read.

    `terms` is None where neither the text nor the reader's caller says which they are. `figures`
    are those that stand before the rounds. `findings` are those of reading: words, terms, lists of
    sizes.
    """

    text: Text
    sizes: tuple[str, ...]
    terms: Terms | None
    statements: tuple[Statement, ...]
    stripes: tuple[Stripes, ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def read_manuscript(
    content: str | bytes,
    name: str,
    terms: Terms | None = None,
    sizes: tuple[str, ...] = (),
    only: str | None = None,
) -> Manuscript:
    """The manuscript read, with everything that could not be.

    `terms` overrules what the text says of itself; `sizes` are the names of the sizes, smallest
    first, where they are known from elsewhere; `only` is the one that a text of one size serves.
    Raises Undecoded where it is no text.
    """
    text = text_of(content, name)
    reader = _Reader(text, terms, sizes, only)
    cut, loose, left_off = instructions(text)
    reader.prepare(cut)
    if left_off is not None:
        message = "this is longer than any pattern: what follows is not read"
        reader.find("too-long", message, left_off, "check one pattern at a time")
    statements = tuple(reader.statement(one) for one in cut)
    reader.read = None
    for spot in loose:
        message = "stitches without a label: of which round they are cannot be told"
        reader.find(
            "unread", message, spot, "begin the line with the number of its round", "unclear"
        )
    plans = [*reader.plans(), *reader.throughout()]
    figures, found = tuple(figures_said(text)), tuple(reader.findings)
    return Manuscript(text, reader.sizes, reader.terms, statements, tuple(plans), figures, found)


class _Reader:
    """Reads instructions one by one, and gathers what it finds."""

    def __init__(
        self, text: Text, terms: Terms | None, sizes: tuple[str, ...], only: str | None
    ) -> None:
        self.text, self.only = text, only
        self.findings: list[Finding] = []
        self.terms = terms
        self.sizes = sizes
        self.undeclared = False
        self.read: Instruction | None = None

    def find(
        self, kind: str, message: str, spot: Spot, remedy: str = "", sure: Sure = "certain"
    ) -> None:
        """Notes a finding of the reading, in the round that is read."""
        line, column = self.text.place(spot)
        piece, label = (self.read.piece, self.read.label) if self.read else ("", None)
        self.findings.append(
            Finding(
                kind, message, "", "", piece, label.first if label else None, line=line,
                column=column, length=spot.length, sure=sure, remedy=remedy,
                worked="rows" if label and label.rows else "rounds",
            )
        )  # fmt: skip

    def prepare(self, cut: list[Instruction]) -> None:
        """Finds the sizes and the terms of the text."""
        said = declared(self.text.content)
        if self.terms is None and len(said) == 1:
            self.terms = next(iter(said))
        elif self.terms is None and len(said) > 1:
            spot = Spot(max(said.values()), 2)
            self.find(
                "terms", "the text says both that it is in US and that it is in UK terms", spot,
                "say which with --terms US or --terms UK",
            )  # fmt: skip
        names = sizes_declared(self.text)
        many = len(names) or sizes_used([one.words for one in cut])
        given = self.sizes
        if not given:
            self.sizes = names or tuple(str(n) for n in range(1, many + 1))
            return
        known = {plain_name(name): name for name in given}
        if names and all(plain_name(name) in known for name in names):
            self.sizes = tuple(known[plain_name(name)] for name in names)
        elif names:
            told = f"the text is for {_list(names)}, the specification for {_list(given)}"
            self.find("sizes", told, Spot(0), "name the same sizes in both, smallest first")
            self.sizes = given if many == len(given) else names
        elif many != len(given):
            self.sizes = (self.only or "",) if many == 1 else tuple(map(str, range(1, many + 1)))
            if many > 1:
                message = f"the lists are for {many} sizes, the specification has {len(given)}"
                self.find("sizes", message, Spot(0))

    def statement(self, one: Instruction) -> Statement:
        """What an instruction says."""
        label = one.label
        self.read = one
        served = tuple(range(len(self.sizes)))
        if label and label.sizes:
            chosen = chosen_sizes(label.sizes, self.sizes)
            if chosen is None:
                message = f"“{label.sizes}” names no sizes of this text"
                self.find("sizes", message, one.spot, f"the sizes are {_list(self.sizes)}")
            else:
                served = chosen
        if label:
            self._lists(one, label, len(served))
        if label and label.kind in ("seam", "shut"):
            return Statement(one, served, (), (), ())
        reading = Reading(one.base, one.words, len(served), self.terms)
        steps: tuple[Step, ...] | None = None
        try:
            steps = steps_said(reading)
            if all(isinstance(step, Claim) for step in steps):
                raise Unread("unread", "this looks like a round, and says nothing to do", one.spot)
        except Unread as unread:
            sure: Sure = "unclear" if unread.code == "unread" else "certain"
            self.find(
                unread.code, unread.message, unread.spot, _REMEDIES.get(unread.code, ""), sure
            )
            steps = None
        self._doubts(reading)
        claim = self._total(one, reading) if steps is None else ()
        if label and label.claim is not None:
            claim = (label.claim,)
        return Statement(one, served, steps, claim, reading.rounds)

    def _lists(self, one: Instruction, label: Label, served: int) -> None:
        """The label's lists have one entry, or one for each size that it serves."""
        yarns = re.findall(r"[A-Z]\w{0,2}\b|[–—]", label.yarn) or [""]
        yarn = 1 if label.yarn.casefold() == "stripes" else len(yarns)
        for many in (len(label.spans) or 1, yarn):
            if many not in (1, served):
                message = f"{many} entries stand here, for {served} sizes"
                self.find("size-list", message, one.spot, _REMEDIES["size-list"])

    def _total(self, one: Instruction, reading: Reading) -> Number:
        found = _LAST_TOTAL.search(one.words.rstrip()[-120:])
        if found is None:
            return ()
        try:
            return reading.numbers(found["number"], one.spot)
        except Unread:
            return ()

    def _doubts(self, reading: Reading) -> None:
        for spot, wrong in reading.doubts:
            if wrong.undeclared and not self.undeclared:
                self.undeclared = True
                message = (
                    f"“{wrong.name}” is one stitch in US and another in UK terms, and the text does"
                    " not say which it is in"
                )
                remedy = "write “US terms” or “UK terms” into the text, or use --terms"
                self.find("terms", message, spot, remedy)
            elif not wrong.undeclared:
                message = f"{self.terms} terms have no “{wrong.name}”"
                self.find("terms", message, spot, "use one set of terms throughout")

    def plans(self) -> list[Stripes]:
        """The stripe plans of the text, whose rounds must follow each other."""
        found = []
        lines = self.text.content.split("\n")
        for at, line in enumerate(lines):
            if not begins_stripes(line):
                continue
            # A list that is wrapped goes on in lines that are set in.
            below = takewhile(lambda next_: next_.startswith("  "), lines[at + 1 : at + 60])
            piece, chosen, plan = stripes_said(" ".join([line, *below]), self.sizes)
            if not piece or not plan:
                continue
            spot = Spot(self.text.starts[at], len(line))
            found.append(Stripes(piece, chosen, plan, spot))
            if [number for number, _ in plan] != [*range(1, len(plan) + 1)]:
                message = "the rounds of this stripe plan do not follow each other from the first"
                self.find("yarn", message, spot)
        return found

    def throughout(self) -> list[Stripes]:
        """Pieces that are worked in one yarn throughout."""
        found, piece = [], ""
        for line in self.text.content.split("\n"):
            heading = heading_of(line).casefold()
            piece = heading if heading in ("cuff", "hand", "thumb") else piece
            yarn = yarn_throughout(line)
            if yarn and piece:
                for size, letter in enumerate(yarns_of(yarn, len(self.sizes))):
                    plan = tuple((number, letter) for number in range(2000))
                    found.append(Stripes(piece, (size,), plan))
        return found


_REMEDIES = {
    "size-list": "give one number for all sizes, or one for each",
}


def yarns_of(words: str, sizes: int) -> tuple[str, ...]:
    """The yarn of each size out of “A” or “A (B, A)”; blank where there is none."""
    parts = re.findall(r"[A-Z]\w{0,2}|[–—-]", words)
    shown = ["" if part in "–—-" else part for part in parts]
    if len(shown) == 1:
        return tuple(shown * sizes)
    return tuple(shown) if len(shown) == sizes else ("",) * sizes


def _list(names: tuple[str, ...]) -> str:
    return ", ".join(names)
