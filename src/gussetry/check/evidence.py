"""A folder gathered for checking: what is there, what ought to be, and what cannot be read.

Nothing is trusted, nothing is written, and no broken file keeps the others from being looked at.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import islice
from pathlib import Path
from typing import Any

from gussetry.check.facts import Facts
from gussetry.findings import Finding, Sure
from gussetry.folder import MANIFEST, MANIFEST_FORMAT, MARK
from gussetry.mapfiles import NoMapError, read_map
from gussetry.stitchmap import StitchMap

LARGEST = {".svg": 25_000_000, ".png": 100_000_000, ".pdf": 60_000_000, ".json": 16_000_000,
           ".csv": 4_000_000, ".md": 4_000_000, ".yaml": 4_000_000}  # fmt: skip
"""Bytes of a file of each kind that are read at most."""
MOST_FILES = 5000
"""Files and folders that are looked at most."""
MOST_DOTS = 2400
"""Dots an inch that a picture is believed to have at most."""
DEEPEST = 3
"""Folders within the folder that are looked into."""

_MAP = re.compile(r"(?:[^/]+/)?stitches(?:-(?:left|right))?\.json")


@dataclass(frozen=True, slots=True)
class Entry:
    """A drawing that the manifest lists: its file, what it says of it, and its picture's file."""

    file: str
    kind: str
    size: str
    mitten: str
    hand: str
    dpi: int
    png: str
    sha256: str


@dataclass(slots=True)
class Evidence:
    """What a folder holds. `files` are relative names in order; `maps` the sound stitch maps with
    their files, smallest size first; `head` what the manifest says of the whole, None where it is
    missing or broken; `entries` the drawings that it lists; `absent` the files that it says are
    not there; `sums` the sha256 that files had when they were drawn; `facts` what drawings that
    have been read tell of themselves."""

    folder: Path
    files: tuple[str, ...] = ()
    maps: tuple[tuple[str, StitchMap], ...] = ()
    head: dict[str, Any] | None = None
    entries: tuple[Entry, ...] = ()
    listed: tuple[str, ...] = ()
    absent: tuple[str, ...] = ()
    sums: dict[str, str] = field(default_factory=dict)
    facts: dict[str, Facts] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)

    def note(
        self, kind: str, message: str, file: str = "", *, sure: Sure = "certain", found: str = ""
    ) -> None:
        """Adds a finding about a file."""
        finding = Finding(kind, message, file, sure=sure, found=found)
        # A drawing is opened for itself and for its picture: told once.
        if finding not in self.findings:
            self.findings.append(finding)

    def content(self, name: str) -> bytes | None:
        """A file's bytes; None, and a finding, where it cannot be read or is too large."""
        path = self.folder / name
        most = LARGEST.get(path.suffix, 1_000_000)
        try:
            if path.stat().st_size > most:
                self.note("unreadable", f"larger than {most // 1_000_000} MB: not read", name)
                return None
            return path.read_bytes()
        except OSError as error:
            reason = (error.strerror or str(error)).lower()
            self.note("unreadable", f"cannot be read: {reason}", name)
            return None


def gather(folder: Path) -> Evidence:
    """Everything in the folder, by what it is. OSError where the folder itself cannot be listed."""
    evidence = Evidence(folder)
    evidence.files = tuple(sorted(_walk(evidence, folder, "", 0)))
    if (folder / MARK).exists():
        evidence.note("unfinished", "a run was stopped while it wrote this folder: draw again")
    _read_manifest(evidence)
    _read_maps(evidence)
    _compare_lists(evidence)
    _compare_sums(evidence)
    return evidence


def _walk(evidence: Evidence, folder: Path, before: str, depth: int) -> Iterator[str]:
    left = MOST_FILES
    waiting = [(folder, before, depth)]
    while waiting:
        here, before, depth = waiting.pop()
        try:
            entries = list(islice(os.scandir(here), left + 1))
        except OSError as error:
            if not before:
                raise
            evidence.note("unreadable", f"cannot be listed: {error.strerror}", before)
            continue
        if len(entries) > left:
            evidence.note("unreadable", f"more than {MOST_FILES} files: the rest is not looked at")
        left = max(left - len(entries), 0)
        for entry in entries[:MOST_FILES]:
            name = f"{before}{entry.name}"
            if entry.name.startswith("."):
                continue
            if entry.is_symlink():
                evidence.note("link", "is a link, and not followed", name)
            elif entry.is_dir():
                if depth < DEEPEST and left:
                    waiting.append((Path(entry.path), f"{name}/", depth + 1))
            elif entry.is_file():
                yield name
            else:
                evidence.note("link", "is no plain file, and not opened", name)


def _read_manifest(evidence: Evidence) -> None:
    if MANIFEST not in evidence.files:
        evidence.note("missing", "the folder has no manifest", MANIFEST)
        return
    content = evidence.content(MANIFEST)
    if content is None:
        return
    try:
        data = json.loads(content)
        if data["format"] != MANIFEST_FORMAT:
            raise ValueError
        entries = [entry for entry in data["assets"] if isinstance(entry["file"], str)]
        evidence.absent = tuple(str(entry["file"]) for entry in data.get("absent", ()))
        evidence.entries = tuple(_entry(e) for e in entries if e["file"].endswith(".svg"))
        pictures = [entry.png for entry in evidence.entries if entry.png]
        evidence.listed = (*(str(entry["file"]) for entry in entries), *pictures)
        drawn = [*entries, *(entry["png"] for entry in entries if entry.get("png"))]
        evidence.sums = {str(e["file"]): str(e["sha256"]) for e in drawn if e.get("sha256")}
    except (ArithmeticError, ValueError, TypeError, KeyError, AttributeError, RecursionError):
        evidence.note("unreadable", "was not written by gussetry, or is broken", MANIFEST)
        evidence.entries = evidence.listed = evidence.absent = ()
        return
    evidence.head = data


def _entry(entry: dict[str, Any]) -> Entry:
    png = entry.get("png") or {}
    return Entry(
        entry["file"],
        str(entry["kind"]),
        str(entry.get("size") or ""),
        str(entry.get("mitten") or "both"),
        str(entry.get("hand") or "right"),
        min(max(int(png.get("dpi", 300)), 1), MOST_DOTS),
        str(png.get("file", "")),
        str(entry.get("sha256", "")),
    )


def _read_maps(evidence: Evidence) -> None:
    found: list[tuple[str, StitchMap]] = []
    for name in evidence.files:
        if not _MAP.fullmatch(name):
            continue
        content = evidence.content(name)
        if content is None:
            continue
        try:
            found.append((name, read_map(content)))
        except NoMapError as fault:
            evidence.note("unreadable", str(fault), name)
    known = {(m.size, m.mitten): name for name, m in reversed(found)}
    for name, stitches in found:
        if known[stitches.size, stitches.mitten] != name:
            evidence.note("map", f"is a map of size {stitches.size} too, like another", name,
                          found=known[stitches.size, stitches.mitten])  # fmt: skip
    if not found:
        evidence.note("missing", "the folder has no stitch map that can be read")
    evidence.maps = tuple(sorted(found, key=lambda pair: _breadth(pair[1])))


def _breadth(stitches: StitchMap) -> tuple[int, int]:
    """What sizes are ordered by: the widest round of the hand, then its rounds."""
    hand = stitches.piece("hand")
    rounds = hand.counted if hand else ()
    return max((r.count for r in rounds), default=0), len(rounds)


def _compare_lists(evidence: Evidence) -> None:
    """What the manifest lists and is not there; what is there and it does not list."""
    if evidence.head is None:
        return
    told = {found.file for found in evidence.findings if found.kind == "link"}
    for name in evidence.listed:
        if name not in evidence.files and name not in told:
            evidence.note("missing", "the manifest lists it, and it is not there", name)
    for name in evidence.files:
        if name not in evidence.listed and name != MANIFEST:
            evidence.note("manifest", "the manifest does not list it", name, sure="note")


def _compare_sums(evidence: Evidence) -> None:
    """Files that are not as they were drawn: a note, never more, for what is right is found in them
    by counting."""
    for name, wanted in evidence.sums.items():
        path = evidence.folder / name
        # What is too large to be read is told where it is needed.
        if name not in evidence.files or path.stat().st_size > LARGEST.get(path.suffix, 0):
            continue
        with suppress(OSError), path.open("rb") as file:
            if hashlib.file_digest(file, "sha256").hexdigest() != wanted:
                evidence.note("changed", "is not as it was drawn", name, sure="note")
