"""The sheets of one drawing held against each other: none is missing, each round and each stitch
stands on one of them, and what stands again on an overlap is the same and lies on itself."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from gussetry.verify.captions import compare_captions
from gussetry.verify.charts import PIECES, covered, unrolled
from gussetry.verify.claims import read_claim
from gussetry.verify.findings import Asked, Disagreement
from gussetry.verify.labels import found_at
from gussetry.verify.svg import Page, Shape

_NEAR = 0.05  # mm: what lies on itself when two sheets of paper are laid on each other
_MOST = 4

Key = tuple[str, str, str]
"""Size, round and entry of a stitch, as its tags have them."""


class _Sheet(NamedTuple):
    """A sheet: its number, the rounds it claims, its stitches that stand on it first and those that
    stand again, its register marks, and those of them that stand within its rows."""

    number: int
    spans: tuple[tuple[int, int], ...]
    first: dict[Key, Shape]
    again: dict[Key, Shape]
    marks: tuple[complex, ...]
    within: tuple[Shape, ...]


def compare_sheets(pages: Sequence[Page], asked: Asked) -> list[Disagreement]:
    """What the sheets of a drawing have wrong together, each by itself being right."""
    findings = [*_numbered(pages), *_once(pages)]
    if findings or len(pages) == 1:
        return findings
    if asked.kind not in PIECES:
        return [Disagreement("sheets", "the drawing goes on where it may not", sheet=2)]
    sheets = [_sheet(n, page) for n, page in enumerate(pages, 1)]
    bands = _bands(sheets)
    findings += _spans(bands, asked)
    if not findings:
        findings += _overlaps(bands)
    if not findings and (asked.kind != "crown" or unrolled(pages[0])):
        findings += _laid_on(bands)
    return findings or compare_captions(pages, asked)


def _numbered(pages: Sequence[Page]) -> list[Disagreement]:
    """Sheets that are missing, or in another order than they say."""
    findings = []
    for number, page in enumerate(pages, 1):
        claim = read_claim(page)
        alone = len(pages) == 1 and not any(page.tag(t) for t in ("sheet", "of", "rounds"))
        if alone:
            continue
        if (claim.sheet, claim.of) != (number, len(pages)):
            findings.append(
                Disagreement("sheets", "a sheet is missing, or another stands in its place",
                             expected=f"sheet {number} of {len(pages)}",
                             found=f"sheet {page.tag('sheet')} of {page.tag('of')}", sheet=number)
            )  # fmt: skip
        if claim.spans is None:
            findings.append(
                Disagreement("sheets", "a sheet does not say which rounds it shows",
                             found=page.tag("rounds"), sheet=number)
            )  # fmt: skip
    return findings


def _stitches(page: Page) -> list[tuple[Key, Shape]]:
    return [
        ((shape.tag("size"), shape.tag("round"), shape.tag("index")), shape)
        for shape in page.shapes
        if "stitch" in shape.classes
    ]


def _once(pages: Sequence[Page]) -> list[Disagreement]:
    """Stitches that stand on two sheets without being said to, or stand again where they never
    stood before."""
    findings = []
    seen: set[Key] = set()
    for number, page in enumerate(pages, 1):
        found = _stitches(page)
        for key, shape in found:
            again = shape.tag("repeat")
            if again not in ("", "overlap"):
                wrong = "a stitch stands again in an unknown way"
            elif not again and key in seen:
                wrong = "a stitch stands on two sheets"
            elif again and key not in seen:
                wrong = "a stitch of an overlap stands on no sheet before"
            else:
                continue
            findings.append(replace(found_at("sheets", wrong, shape), sheet=number))
        # A stitch that a sheet has twice is found by its row.
        seen |= {key for key, _ in found}
    return findings[:_MOST]


def _sheet(number: int, page: Page) -> _Sheet:
    first: dict[Key, Shape] = {}
    again: dict[Key, Shape] = {}
    for key, shape in _stitches(page):
        (again if shape.tag("repeat") else first)[key] = shape
    crosses = [s for s in page.shapes if s.tag("role") == "register" and s.inks]
    marks = tuple(s.box.centre for s in crosses)
    within = tuple(mark for mark in crosses if _within(mark, page))
    spans = read_claim(page).spans
    assert spans is not None
    return _Sheet(number, spans, first, again, marks, within)


def _within(mark: Shape, page: Page) -> bool:
    """Whether a register mark has stitches, words or chips of rows on both of its sides, and above
    and below it: outside them all is the margin."""
    shown = [
        s for s in page.shapes
        if "stitch" in s.classes or s.tag("role") in ("round", "count", "sum", "yarn", "colour")
    ]  # fmt: skip
    middle, boxes = mark.box.centre, [s.box for s in shown]
    beside = min(b.left for b in boxes) < middle.real < max(b.right for b in boxes)
    return beside and min(b.top for b in boxes) < middle.imag < max(b.bottom for b in boxes)


def _bands(sheets: Sequence[_Sheet]) -> list[list[_Sheet]]:
    """The sheets that show the same rounds, side by side."""
    bands: list[list[_Sheet]] = []
    for sheet in sheets:
        if bands and bands[-1][0].spans == sheet.spans:
            bands[-1].append(sheet)
        else:
            bands.append([sheet])
    return bands


def _spans(bands: Sequence[Sequence[_Sheet]], asked: Asked) -> list[Disagreement]:
    """Rounds that no sheet claims, or that two do beside the overlap."""
    findings = []
    for place, stitches in enumerate(asked.maps):
        piece = next((p for p in stitches.pieces if p.piece == PIECES[asked.kind]), None)
        due = [r.number for r in covered(piece, asked.kind)] if piece else []
        claims = [band[0].spans[place : place + 1] for band in bands]
        spans = [claim[0] for claim in claims if claim]
        if len(spans) < len(bands) or not due:
            findings.append(Disagreement("sheets", "the sheets do not say what they show of a size",
                                         expected=stitches.size))  # fmt: skip
            continue
        # A foundation may be left out.
        if spans[0][0] not in (due[0], 1 if due[0] == 0 else due[0]) or spans[-1][1] != due[-1]:
            findings.append(
                Disagreement("sheets", "the sheets do not show all rounds",
                             expected=f"{due[0]}-{due[-1]}",
                             found=f"{spans[0][0]}-{spans[-1][1]}", sheet=bands[-1][0].number)
            )  # fmt: skip
        findings += [
            Disagreement("sheets", "a sheet does not begin with the last round of the one before",
                         expected=str(before[1]), found=str(after[0]), sheet=band[0].number)
            for (before, after), band in zip(pairwise(spans), bands[1:], strict=True)
            if after[0] != before[1] or after[1] <= before[1]
        ]  # fmt: skip
    return findings


def _overlaps(bands: Sequence[Sequence[_Sheet]]) -> list[Disagreement]:
    """Overlaps that do not show what the sheet before them shows there."""
    findings = []
    for lower, upper in pairwise(bands):
        rounds = [str(first) for first, _ in upper[0].spans]
        shown = _of_rounds(lower, rounds)
        repeated = {k for s in upper for k in s.again if _in_rounds(k, rounds)}
        unsaid = {k for s in upper for k in s.first if _in_rounds(k, rounds)}
        if shown != repeated or unsaid or not shown:
            findings.append(
                Disagreement("sheets", "the overlap is another row than the one before it",
                             expected=f"{len(shown)} stitches", found=f"{len(repeated)} stitches",
                             sheet=upper[0].number)
            )  # fmt: skip
    for band in bands:
        findings += [
            Disagreement("sheets", "stitches are left out between two sheets", round=int(number),
                         sheet=band[0].number)
            for number in {key[1].split()[0] for sheet in band for key in sheet.first}
            if len(band) > 1 and _holes(_of_rounds(band, [number]))
        ]  # fmt: skip
    return findings


def _in_rounds(key: Key, rounds: Sequence[str]) -> bool:
    return any(number in rounds for number in key[1].split())


def _of_rounds(band: Sequence[_Sheet], rounds: Sequence[str]) -> set[Key]:
    """The stitches of the rounds that the band draws, on whichever of its sheets."""
    return {
        key for sheet in band for key in (*sheet.first, *sheet.again) if _in_rounds(key, rounds)
    }


def _holes(keys: set[Key]) -> bool:
    """Whether entries are missing between the first and the last."""
    found = {int(key[2].split()[0]) for key in keys if key[2].split()[0].isdigit()}
    return bool(found) and max(found) - min(found) + 1 != len(found)


def _pairs(bands: Sequence[Sequence[_Sheet]]) -> Iterator[tuple[_Sheet, _Sheet]]:
    """Sheets whose paper is laid on each other: beside each other, and above one another."""
    for band in bands:
        yield from pairwise(band)
    for lower, upper in pairwise(bands):
        yield from zip(lower, upper, strict=False)


def _laid_on(bands: Sequence[Sequence[_Sheet]]) -> list[Disagreement]:
    """Overlaps whose stitches or register marks do not lie on themselves when one sheet is laid on
    the other."""
    findings = []
    for one, other in _pairs(bands):
        before = {**one.first, **one.again}
        twins = [(before[key], shape) for key, shape in other.again.items() if key in before]
        if not twins:
            continue
        shift = twins[0][1].box.centre - twins[0][0].box.centre
        apart = [s for b, s in twins if abs(s.box.centre - b.box.centre - shift) > _NEAR]
        findings += [
            replace(found_at("sheets", "a stitch of an overlap stands elsewhere", shape),
                    sheet=other.number)
            for shape in apart[:_MOST]
        ]  # fmt: skip
        findings += [
            replace(found_at("sheets", "a register mark stands within the rows", mark),
                    sheet=sheet.number)
            for sheet in (one, other)
            for mark in sheet.within
        ]  # fmt: skip
        met = [m for m in one.marks if any(abs(n - m - shift) < _NEAR for n in other.marks)]
        if len(met) < 2:
            findings.append(
                Disagreement("sheets", "two sheets have not two register marks in common",
                             found=str(len(met)), sheet=other.number)
            )  # fmt: skip
    return findings
