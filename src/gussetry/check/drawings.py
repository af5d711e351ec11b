"""Which drawing is which, and each held against the stitch maps."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from gussetry.check.evidence import Entry, Evidence
from gussetry.check.facts import facts_of
from gussetry.findings import Finding
from gussetry.naming import slug
from gussetry.stitchmap import Mitten, StitchMap
from gussetry.verify import Asked, Disagreement, Limits, read_sheets, recount_pages

KINDS = ("cuff", "hand", "gusset", "crown", "thumb", "stripes", "schematic", "key")
HANDED = ("cuff", "hand", "gusset", "crown", "thumb")
"""Drawings of a way of working: a left-handed maker has her own."""
MOST = 60
"""Findings of one drawing that are told at most."""

_NAME = re.compile(
    r"(?:(?P<folder>[^/]+)/)?(?P<kind>[a-z]+)(?P<sizes>-[^/.]*?)??(?:-(?P<mitten>left|right))?"
    r"(?P<hand>-lefthand)?(?:-(?P<sheet>\d+))?\.svg"
)
_OTHER: dict[str, Mitten] = {"left": "right", "right": "left", "both": "both"}


@dataclass(frozen=True, slots=True)
class Claimed:
    """A drawing as the folder claims it: its files, sheet by sheet, its kind, the maps that it
    serves, whose hand it is for, and the dots an inch and files of its pictures."""

    files: tuple[str, ...]
    kind: str
    maps: tuple[StitchMap, ...]
    hand: str
    dpi: int
    pictures: tuple[str, ...]

    @property
    def size(self) -> str:
        """Its sizes, as a finding names them."""
        return " / ".join(dict.fromkeys(stitches.size for stitches in self.maps))


def claimed(evidence: Evidence) -> list[Claimed]:
    """Every drawing of the folder. What the manifest lists is what it says; what it does not list
    goes by its name. A drawing that cannot be told from either is a finding."""
    known = {entry.file: entry for entry in evidence.entries}
    groups: dict[str, list[tuple[int, Entry]]] = {}
    for name in evidence.files:
        if not name.endswith(".svg"):
            continue
        entry = known.get(name) or _by_name(evidence, name)
        if entry is not None and entry.kind == "page":
            continue
        if entry is None:
            evidence.note("manifest", "cannot be told which drawing this is", name, sure="note")
            continue
        base, sheet = _sheet_of(name)
        groups.setdefault(base, []).append((sheet, entry))
    return [
        found for _, entries in sorted(groups.items())
        if (found := _claim(evidence, [e for _, e in sorted(entries, key=lambda one: one[0])]))
    ]  # fmt: skip


def claim_by_name(evidence: Evidence, name: str) -> Claimed | None:
    """The drawing of a name, whether the folder has a file of that name or not; None where it has
    no stitch map for it."""
    known = {entry.file: entry for entry in evidence.entries}
    entry = known.get(name) or _by_name(evidence, name)
    return _claim(evidence, [entry]) if entry else None


def _sheet_of(name: str) -> tuple[str, int]:
    """A drawing's name without the number of its sheet, and that number."""
    found = re.fullmatch(r"(.+?)-(\d{1,3})\.svg", name)
    return (f"{found[1]}.svg", int(found[2])) if found else (name, 1)


def _by_name(evidence: Evidence, name: str) -> Entry | None:
    found = _NAME.fullmatch(name)
    if not found or found["kind"] not in KINDS:
        return None
    kind, folder = found["kind"], found["folder"]
    maps = [m for _, m in evidence.maps]
    if folder == "shared":
        part = found["sizes"] or ""
        names = part.removeprefix("-").split("+") if part else []
        maps = [m for m in maps if not names or slug(m.size) in names]
    elif folder is not None:
        maps = [m for m in maps if slug(m.size) == folder]
    elif kind not in ("schematic", "key"):
        return None
    if not maps:
        return None
    mitten = found["mitten"] or "both"
    hand = "left" if found["hand"] else "right"
    sizes = " / ".join(dict.fromkeys(m.size for m in maps))
    return Entry(name, kind, sizes, mitten, hand, 300, f"{name[:-4]}.png", "")


def _claim(evidence: Evidence, entries: Sequence[Entry]) -> Claimed | None:
    first = entries[0]
    sizes = first.size.split(" / ")
    maps = [m for _, m in evidence.maps if m.size in sizes]
    if first.kind == "schematic" and len(sizes) > 1:
        maps = list({m.size: m for m in reversed(maps)}.values())[::-1]
    elif first.kind != "key":
        mitten = _OTHER.get(first.mitten) if first.hand == "left" else first.mitten
        maps = [m for m in maps if m.mitten == mitten]
    if first.kind not in KINDS or not maps:
        message = f"the folder has no stitch map for it: {first.kind} of size {first.size}"
        evidence.note("missing", message, first.file)
        return None
    files = tuple(entry.file for entry in entries)
    pictures = tuple(entry.png for entry in entries)
    return Claimed(files, first.kind, tuple(maps), first.hand, first.dpi, pictures)


def asked_of(drawing: Claimed, head: dict[str, Any] | None) -> Asked:
    """What a drawing must show, with what the manifest says that all drawings keep to."""
    head = head or {}
    return Asked(
        drawing.kind,
        drawing.maps,
        "UK" if head.get("terms") == "UK" else "US",
        _fraction(head.get("centimetres"), Fraction(1, 2)) * 10,
        _fraction(head.get("inches"), Fraction(1, 4)),
        drawing.hand if drawing.kind in HANDED else "right",
        Limits(_number(head.get("least text"), 6.0), _number(head.get("least stitch"), 2.2)),
    )


def _fraction(value: Any, default: Fraction) -> Fraction:
    try:
        found = Fraction(str(value))
    except (ValueError, ZeroDivisionError):
        return default
    return found if 0 < found < 100 else default


def _number(value: Any, default: float) -> float:
    return float(value) if isinstance(value, int | float) and 0 < value < 100 else default


def compare_drawing(evidence: Evidence, drawing: Claimed) -> list[Finding]:
    """Everything in which a drawing differs from its maps, one finding a place."""
    contents = []
    for name in drawing.files:
        content = evidence.content(name)
        if content is None:
            return []
        contents.append(content)
    pages, unread = read_sheets(contents)
    evidence.facts |= {drawing.files[n - 1]: facts_of(page) for n, page in pages.items()}
    wrong = recount_pages(pages, asked_of(drawing, evidence.head), whole=not unread)
    found = [_finding(drawing, one) for one in (*unread, *wrong)]
    if len(found) <= MOST:
        return found
    rest = len(found) - MOST
    more = Finding("more", f"and {rest} more of this drawing", drawing.files[0], drawing.size)
    return [*found[:MOST], more]


def _finding(drawing: Claimed, wrong: Disagreement) -> Finding:
    file = drawing.files[min(wrong.sheet, len(drawing.files)) - 1]
    return Finding(
        wrong.kind, wrong.message, file, drawing.size, wrong.piece, wrong.round, wrong.index,
        wrong.at, expected=wrong.expected, found=wrong.found,
        # What stands without tags is checked all the same: no fault.
        sure="note" if wrong.kind == "tags" else "certain",
    )  # fmt: skip


def due(stitches: StitchMap) -> tuple[str, ...]:
    """The drawings that a mitten must have."""
    hand, thumb = stitches.piece("hand"), stitches.piece("thumb")
    found = ["cuff"] if stitches.piece("cuff") else []
    found.append("gusset" if thumb else "hand")
    if hand is not None and hand.rounds[-1].phase == "draw shut":
        found.append("crown")
    return (*found, *(["thumb"] if thumb else []), "stripes", "schematic")


def missing(evidence: Evidence, drawings: Sequence[Claimed]) -> Iterator[Finding]:
    """Drawings that a size must have, that are not there, and that nobody says are absent."""
    have = {(d.kind, m.size, m.mitten) for d in drawings for m in d.maps}
    # What the manifest lists and is not there is told already.
    absent = {name.removesuffix(".svg") for name in (*evidence.absent, *evidence.listed)}
    for _, stitches in evidence.maps:
        side = "" if stitches.mitten == "both" else f"-{stitches.mitten}"
        for kind in due(stitches):
            name = f"{slug(stitches.size)}/{kind}{side}"
            if (kind, stitches.size, stitches.mitten) not in have and name not in absent:
                message = f"the size has no {kind} drawing"
                yield Finding("missing", message, f"{name}.svg", stitches.size)
