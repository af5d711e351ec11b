"""What a description tells of a chart's rounds, read sentence by sentence and held against the map.

From the drawing contract: after `Round by round.` (`Row by row.`) each run of rounds that are alike
has one sentence, `Rounds 15 to 18, yarn A, each: 38 sc; 38 stitches.`; on a chart of several sizes
those of each follow `Size S.`
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from gussetry.stitchmap import Piece, Round, StitchMap, sections
from gussetry.verify.charts import PIECES, covered, fabric_stitch
from gussetry.verify.claims import claimed
from gussetry.verify.findings import Asked, Disagreement
from gussetry.verify.strokes import Symbol, symbol_of
from gussetry.verify.svg import Page
from gussetry.verify.words import kinds_by_term, shown_work

_BEGINS = re.compile(r"(?:Round by round|Row by row)\. ")
_SENTENCE = re.compile(
    r"(?:(?P<foundation>Foundation)|(?:Round|Row)s? (?P<first>\d{1,4})(?: to (?P<last>\d{1,4}))?)"
    r"(?:, yarn (?P<yarn>[^\s,:]+))?(?:, each)?"
    r": (?P<work>[^.;:]+)"
    r"(?:; (?P<count>\d{1,4}) stitch(?:es)?"
    r"(?: \((?P<before>\d{1,4}), marked, (?P<between>\d{1,4}), marked, (?P<after>\d{1,4})\))?)?"
    r"\.(?: |$)"
)
_SHUT = re.compile(r"Then draw shut\.(?: |$)")
_PART = re.compile(r"\((?P<body>[^()]+)\) (?P<times>\d{1,4}) times|(?P<item>[^(),]+)")
_ITEM = re.compile(
    r"(?:(?P<many>\d{1,4}) )?(?P<name>(?:sl st)|[A-Za-z0-9]+)(?P<pick> picked up)?"
    r"(?: in the (?P<loop>back|front) loop)?(?P<held> set aside)?"
)
_MOST = 10_000


class Telling(NamedTuple):
    """One round as it is told: its yarn's letter, "" where none is, its stitches, its count and
    sections; `symbols` is None where the words cannot be read."""

    yarn: str
    symbols: tuple[Symbol, ...] | None
    stitches: int
    parts: tuple[int, int, int] | None


def compare_told(page: Page, asked: Asked, stitches: StitchMap) -> list[Disagreement]:
    """The rounds of one size that the description tells wrongly, twice, not at all, or for nothing.
    Without any words on rounds there is one finding."""
    piece = next((p for p in stitches.pieces if p.piece == PIECES[asked.kind]), None)
    text = _own_part(page.description, asked, stitches)
    if piece is None:
        return []
    if text is None:
        return [Disagreement("description", "the description does not tell the rounds",
                             piece=piece.piece)]  # fmt: skip
    due = {
        r.number: r for r in claimed(page, covered(piece, asked.kind), asked.maps.index(stitches))
    }
    told: dict[int, Telling] = {}
    findings: list[Disagreement] = []
    stitch = fabric_stitch(stitches, piece)
    for number, telling in _tellings(text, asked.terms, stitch, _shut(piece)):
        wrong = ""
        if number in told:
            wrong = "the description tells a round twice"
        elif number not in due:
            wrong = "the description tells a round that is not shown"
        else:
            wrong = _differs(telling, due[number], stitch, len(stitches.yarns) > 1)
        told[number] = telling
        if wrong:
            findings.append(Disagreement("description", wrong, piece=piece.piece, round=number))
    findings += [
        Disagreement("description", "the description leaves a round out", piece=piece.piece,
                     round=number)
        for number, round_ in due.items()
        # A hand begun on a chain may be drawn, and told, from its first round on.
        if number not in told and round_.phase != "foundation"
    ]  # fmt: skip
    return findings


def rounds_told(page: Page, asked: Asked, stitches: StitchMap) -> set[int]:
    """The numbers of the rounds that the description tells of one size."""
    piece = next((p for p in stitches.pieces if p.piece == PIECES[asked.kind]), None)
    text = _own_part(page.description, asked, stitches)
    if piece is None or text is None:
        return set()
    stitch = fabric_stitch(stitches, piece)
    return {number for number, _ in _tellings(text, asked.terms, stitch, _shut(piece))}


def _own_part(description: str, asked: Asked, stitches: StitchMap) -> str | None:
    """What the description tells of the rounds of one size; None where it tells none."""
    *_, begun = _BEGINS.finditer(description) if _BEGINS.search(description) else [None]
    if begun is None:
        return None
    text = description[begun.end() :]
    if len(asked.maps) == 1:
        return text
    head = f"Size {stitches.size}. "
    return text.partition(head)[2] if head in text else None


def _shut(piece: Piece) -> Round | None:
    """The drawing shut that ends a piece, None where it has none."""
    last = piece.rounds[-1]
    return last if last.phase == "draw shut" else None


def _tellings(
    text: str, terms: str, stitch: str, shut: Round | None
) -> Iterator[tuple[int, Telling]]:
    """Each round that the sentences tell, in their order, up to the first that is of no round; of
    the drawing shut, which has no number there, as the piece's last."""
    at = 0
    while True:
        if closed := _SHUT.match(text, at):
            at = closed.end()
            if shut is not None:
                yield shut.number, Telling(shut.yarn, (Symbol("close"),), 0, None)
            continue
        found = _SENTENCE.match(text, at)
        if not found:
            return
        at = found.end()
        first = 0 if found["foundation"] else int(found["first"])
        last = int(found["last"] or first)
        parts = None
        if found["before"]:
            parts = int(found["before"]), int(found["between"]), int(found["after"])
        symbols = _symbols(found["work"], terms, stitch)
        telling = Telling(found["yarn"] or "", symbols, int(found["count"] or 0), parts)
        for number in range(first, last + 1):
            yield number, telling


def _symbols(work: str, terms: str, stitch: str) -> tuple[Symbol, ...] | None:
    """The stitches of a round in words, None where they cannot be read."""
    found: list[Symbol] = []
    at = 0
    while part := _PART.match(work, at):
        at = part.end()
        body = part["body"] or part["item"]
        once: list[Symbol] = []
        for words in body.split(", ") if part["body"] else [body.strip()]:
            items = _item(words, terms, stitch)
            if items is None:
                return None
            once += items
        found += once * int(part["times"] or 1)
        if len(found) > _MOST:
            return None
        if work[at : at + 2] != ", ":
            break
        at += 2
    return tuple(found) if at == len(work) else None


def _item(words: str, terms: str, stitch: str) -> list[Symbol] | None:
    known = kinds_by_term(terms)
    found = _ITEM.fullmatch(words)
    if not found or found["name"] not in known:
        return None
    do = known[found["name"]]
    if do == "close":
        # A mark of ours that no reader works: the drawing shut has a sentence of its own.
        return None
    of = stitch if do == "inc" else ""
    symbol = Symbol(do, of, found["loop"] or "both", bool(found["pick"]), bool(found["held"]))
    return [symbol] * int(found["many"] or 1)


def _differs(telling: Telling, round_: Round, stitch: str, yarns: bool) -> str:
    """In what a round is told wrongly, "" where it is told as it is."""
    wanted = tuple(symbol_of(op, stitch) for _, op in shown_work(round_))
    if telling.symbols != wanted:
        return "the description tells other stitches of a round"
    if telling.stitches != round_.count:
        return "the description tells another count"
    if telling.parts != sections(round_):
        return "the description tells other sections of a round"
    shut = telling.symbols == (Symbol("close"),)
    if not shut and telling.yarn != (round_.yarn if yarns else ""):
        return "the description tells another yarn of a round"
    return ""
