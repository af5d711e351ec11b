"""The technical editor's check: a folder of drawings, retouched or not, counted again.

It shares no layout, engraving or export code with what draws, and trusts nothing that it can
recount.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from gussetry.check.documents import compare_documents
from gussetry.check.drawings import claimed, compare_drawing, missing
from gussetry.check.evidence import LARGEST, Evidence, gather
from gussetry.check.listed import compare_listed
from gussetry.check.pages import compare_pages
from gussetry.check.pictures import NoPainterError, compare_picture
from gussetry.check.tables import compare_table, read_table
from gussetry.check.telling import as_json, as_text, check_place, reason, write_marked
from gussetry.check.texts import compare_texts
from gussetry.findings import Finding, rank
from gussetry.grading.laws import check_map
from gussetry.manuscripts import Needs
from gussetry.stitchmap import StitchMap
from gussetry.verify.findings import UnreadableError
from gussetry.verify.reading import paper, read

__all__ = [
    "as_json",
    "as_text",
    "check_against_table",
    "check_folder",
    "check_place",
    "write_marked",
]

COUNTS = "counts.csv"

_AT = re.compile(r"size [^:]*?, (?P<piece>cuff|hand|thumb), (?:row|round) (?P<round>\d+): ")


def check_folder(
    folder: Path, fresh: Sequence[StitchMap] | None = None, needs: Needs | None = None
) -> list[Finding]:
    """Every disagreement within a folder, the worst first; with `fresh`, the maps of a grading made
    now, also where the folder is no longer its state; with `needs`, what a pair then takes of yarn.

    OSError where the folder itself cannot be listed.
    """
    evidence = gather(folder)
    findings: list[Finding] = []
    for name, stitches in evidence.maps:
        findings += [_law(problem.message, name, stitches.size) for problem in check_map(stitches)]
    drawings = claimed(evidence)
    findings += missing(evidence, drawings)
    for drawing in drawings:
        findings += compare_drawing(evidence, drawing)
        for file, picture in zip(drawing.files, drawing.pictures, strict=True):
            if picture and picture in evidence.files:
                findings += _picture(evidence, file, picture, drawing.dpi, drawing.size)
    findings += compare_pages(evidence)
    for page in (e for e in evidence.entries if e.kind == "page"):
        if page.png in evidence.files and page.file in evidence.files:
            findings += _picture(evidence, page.file, page.png, page.dpi, page.size)
    findings += compare_documents(evidence)
    findings += compare_listed(evidence)
    maps = [stitches for _, stitches in evidence.maps]
    if COUNTS in evidence.files:
        findings += _table(evidence, COUNTS, maps)
    findings += compare_texts(evidence, needs)
    if fresh is not None:
        findings += _stale(evidence, fresh)
    return _named([*evidence.findings, *findings], maps)


def _named(findings: Sequence[Finding], maps: Sequence[StitchMap]) -> list[Finding]:
    """The findings, the worst first, rows named as such."""
    rows = {piece.piece for m in maps for piece in m.pieces if piece.worked == "rows"}
    named = [replace(one, worked="rows") if one.piece in rows else one for one in findings]
    return sorted(named, key=rank)


def _law(message: str, name: str, size: str) -> Finding:
    """A counting law that a map breaks, at the piece and round that the message begins with."""
    found = _AT.match(message)
    if found is None:
        return Finding("law", message, name, size)
    return Finding("law", message[found.end() :], name, size, found["piece"], int(found["round"]))


def check_against_table(folder: Path, table: Path) -> list[Finding]:
    """Where a publisher's own count table and the folder's maps differ; that the table cannot be
    read is a finding too."""
    evidence = gather(folder)
    maps = [stitches for _, stitches in evidence.maps]
    name = str(table)
    try:
        with table.open("rb") as file:
            content = file.read(LARGEST[".csv"] + 1)
    except (OSError, ValueError) as error:
        return [Finding("unreadable", f"cannot be read: {reason(error)}", name)]
    if len(content) > LARGEST[".csv"]:
        return [Finding("unreadable", "is too large for a table of counts: not read", name)]
    return _named(compare_table(read_table(content, name), maps, name, whole=False), maps)


def _table(evidence: Evidence, name: str, maps: Sequence[StitchMap]) -> list[Finding]:
    content = evidence.content(name)
    return compare_table(read_table(content, name), maps, name, whole=True) if content else []


def _picture(evidence: Evidence, file: str, picture: str, dpi: int, size: str) -> list[Finding]:
    svg, png = evidence.content(file), evidence.content(picture)
    if svg is None or png is None:
        return []
    try:
        return compare_picture(png, svg, dpi, paper(read(svg)), picture, size)
    except UnreadableError:
        # The drawing is told as unreadable itself.
        return []
    except NoPainterError:
        message = "what pictures show is not compared: the library libcairo is missing"
        return [Finding("picture", message, picture, size, sure="note")]


def _stale(evidence: Evidence, fresh: Sequence[StitchMap]) -> list[Finding]:
    """Where the folder's maps are not those of the specification as it is now."""
    new = {(m.size, m.mitten): m for m in fresh}
    findings = []
    for name, old in evidence.maps:
        now = new.pop((old.size, old.mitten), None)
        if now is None:
            message = "the specification has no such size any more"
            findings.append(Finding("stale", message, name, old.size))
        elif now != old:
            findings += _differences(name, old, now)
    return findings + [
        Finding("stale", "the folder has nothing of this size of the specification", "", m.size)
        for m in new.values()
    ]


def _differences(name: str, old: StitchMap, now: StitchMap) -> list[Finding]:
    """The first round of each piece that is another now; the whole where no round is."""
    findings = []
    for piece in now.pieces:
        before = old.piece(piece.piece)
        if before == piece:
            continue
        if before is None:
            findings.append(Finding("stale", "the piece is new", name, now.size, piece.piece))
            continue
        apart = [
            (mine, yours)
            for mine, yours in zip(before.rounds, piece.rounds, strict=False)
            if mine != yours
        ]
        if len(before.rounds) != len(piece.rounds):
            findings.append(
                Finding("stale", "the piece has another number of rounds now", name, now.size,
                        piece.piece, expected=str(len(piece.rounds)),
                        found=str(len(before.rounds)))
            )  # fmt: skip
        if apart:
            mine, yours = apart[0]
            findings.append(
                Finding("stale", "the round is another now", name, now.size, piece.piece,
                        yours.number, expected=f"{yours.count} in {yours.yarn}",
                        found=f"{mine.count} in {mine.yarn}")
            )  # fmt: skip
    return findings or [Finding("stale", "gauge, yarns or names are others now", name, now.size)]
