"""What sheets say of each other: the rounds that each shows, what stands on two of them, and which
of these is worked where."""

from __future__ import annotations

from collections.abc import Sequence

from gussetry.stitchmap import Piece
from gussetry.verify.charts import PIECES, unrolled
from gussetry.verify.claims import read_claim
from gussetry.verify.findings import Asked, Disagreement
from gussetry.verify.svg import Page

Spans = tuple[tuple[int, int], ...]
"""The first and last round of a sheet, for each size."""


def compare_captions(pages: Sequence[Page], asked: Asked) -> list[Disagreement]:
    """Sheets whose words name other rounds or sheets than those they show and go on from; the
    printed words and the description alike."""
    pieces = [p for m in asked.maps for p in m.pieces if p.piece == PIECES[asked.kind]]
    claims = [read_claim(page).spans for page in pages]
    findings = []
    for number, (page, spans) in enumerate(zip(pages, claims, strict=True), 1):
        if not spans:
            continue
        below = [n for n, other in enumerate(claims, 1) if other and _ends(other) == _begins(spans)]
        above = [n for n, other in enumerate(claims, 1) if other and _begins(other) == _ends(spans)]
        beside = [n for n, other in enumerate(claims, 1) if other == spans]
        place = beside.index(number)
        rings = asked.kind == "crown" and not unrolled(page)
        wanted = _ringed(spans, below, above) if rings else _rowed(
            pieces, spans, below[place : place + 1], above[place : place + 1]
        )  # fmt: skip
        if place and not rings:
            wanted.append(f"The first columns are drawn on sheet {number - 1} too; work them once.")
        notes = [s for s in page.shapes if s.tag("role") == "note"]
        notes.sort(key=lambda shape: shape.box.centre.imag)
        printed = " ".join(shape.tag("says") for shape in notes)
        for words in wanted:
            for where, text in (("printed", printed), ("description", page.description)):
                if text and words not in text:
                    findings.append(
                        Disagreement("sheets", f"the {where} words of a sheet tell otherwise how it"
                                     " goes on", expected=words, sheet=number)
                    )  # fmt: skip
    return findings


def _begins(spans: Spans) -> list[int]:
    return [first for first, _ in spans]


def _ends(spans: Spans) -> list[int]:
    return [last for _, last in spans]


def _rowed(
    pieces: Sequence[Piece], spans: Spans, below: Sequence[int], above: Sequence[int]
) -> list[str]:
    """What a sheet of rows must say, `below` and `above` the sheets that it goes on from and to;
    it names no foundation, seam or drawing shut as a round."""
    unit = "row" if pieces[0].worked == "rows" else "round"
    numbers = [[r.number for r in piece.counted] for piece in pieces]
    shown = _listed([
        f"{max(first, own[0])}–{min(last, own[-1])}"
        for (first, last), own in zip(spans, numbers, strict=False)
    ])  # fmt: skip
    words = [f"{pieces[0].piece.capitalize()} {unit}s {shown}. "]
    first, last = (_listed(list(map(str, of(spans)))) for of in (_begins, _ends))
    words += [
        f"{unit.capitalize()} {first}, its number in brackets, is worked on sheet {sheet}: do not"
        " work it again."
        for sheet in below
    ]
    words += [
        f"{unit.capitalize()} {last} is drawn on sheet {sheet} too; work it once."
        for sheet in above
    ]
    return words


def _ringed(spans: Spans, below: Sequence[int], above: Sequence[int]) -> list[str]:
    words = [
        f"Begins with round {spans[0][0]}, its number in brackets, which is worked on sheet"
        f" {sheet}: do not work it again"
        for sheet in below
    ]
    return words + [f"Goes on inwards on sheet {sheet}." for sheet in above]


def _listed(texts: list[str]) -> str:
    """What is alike once, else as a list: `8 (9, 9)`."""
    first, *others = texts
    return first if len(set(texts)) == 1 else f"{first} ({', '.join(others)})"
