"""Findings of the technical editor's check, of drawings, tables and texts alike: where what is
printed and what is counted disagree."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import isfinite
from textwrap import wrap
from typing import Any, Literal

Sure = Literal["certain", "likely", "unclear", "note"]
"""How sure a finding is: proved by counting; probable, but another reading is possible; unclear,
since something could not be read or is left open; or no fault, only worth knowing."""

Courses = Literal["rounds", "rows"]


@dataclass(frozen=True, slots=True)
class Finding:
    """One disagreement, or one thing worth knowing.

    `kind` is a short name in plain words. `file` is relative to what was checked. `piece`, `round`,
    `stitch` (its place in the round's work, from 0) and `size` say which part of the pattern; `at`
    is the place on the drawing in mm, y downwards; `line` and `column` count from 1 in a text, of
    which `length` characters are meant. `worked`: whether `round` counts rounds or rows. `remedy`
    is what would mend it, where that is no matter of course.
    """

    kind: str
    message: str
    file: str = ""
    size: str = ""
    piece: str = ""
    round: int | None = None
    stitch: int | None = None
    at: tuple[float, float] | None = None
    line: int | None = None
    column: int | None = None
    expected: str = ""
    found: str = ""
    sure: Sure = "certain"
    length: int | None = None
    worked: Courses = "rounds"
    remedy: str = ""

    @property
    def fault(self) -> bool:
        """Whether it is a disagreement and no note."""
        return self.sure != "note"


WIDE = 100
"""Characters of a report's line."""
ALIKE = 5
"""Findings of a file that are alike but for their places, as far as they are told one by one."""
WORST = (
    "unreadable", "path", "missing", "unfinished", "link", "map", "law", "outlined", "rows",
    "count", "kind", "shape", "sum", "sheets", "page", "counts", "register", "foot", "used", "made",
    "fabric", "rounds", "foundation", "piece", "yarn", "numbering", "size-list", "sizes", "terms",
    "uneven", "past", "repeat", "until", "too-few", "together", "sections", "aside", "join",
    "table", "printed", "label", "measure", "amount", "outline", "dimension", "schematic", "strip",
    "landmark", "scale", "colour", "picture", "place", "parting", "marker", "direction", "start",
    "crook", "key", "tick", "title", "description", "root", "tag", "hidden", "stacked", "stray",
    "reference", "element", "text", "manifest", "stale",
)  # fmt: skip
"""Kinds from the worst on; others come after these."""

_SURE: tuple[Sure, ...] = ("certain", "likely", "unclear", "note")


def rank(finding: Finding) -> tuple[int, int]:
    """The place of a finding in a report: the surest first, then by kind."""
    kind = WORST.index(finding.kind) if finding.kind in WORST else len(WORST)
    return _SURE.index(finding.sure), kind


def as_entry(finding: Finding) -> dict[str, Any]:
    """A finding as an entry of the JSON report: what is not known is left out."""
    entry: dict[str, Any] = {"kind": finding.kind, "sure": finding.sure, "message": finding.message}
    for name in ("file", "size", "piece", "expected", "found", "remedy"):
        if value := getattr(finding, name):
            entry[name] = value
    for name in ("round", "stitch", "line", "column", "length"):
        if (number := getattr(finding, name)) is not None:
            entry[name] = number
    if finding.round is not None:
        entry["worked"] = finding.worked
    if finding.at is not None and all(map(isfinite, finding.at)):
        entry["at mm"] = list(finding.at)
    return entry


def as_json(head: Mapping[str, Any], findings: Iterable[Finding]) -> str:
    """A report for machines: its head, then the findings, one a line. What is no text in a name
    of a file is escaped."""
    first = {"format": "gussetry-check", "version": 1, **head}
    opening = json.dumps(first, ensure_ascii=False)[:-1]
    lines = ",\n".join("  " + json.dumps(as_entry(one), ensure_ascii=False) for one in findings)
    shown = f"\n{lines}" if lines else ""
    whole = f'{opening},\n "findings": [{shown}]}}'
    return whole.encode("utf-8", "backslashreplace").decode()


def course(finding: Finding) -> str:
    """The piece and round of a finding in words, `hand round 9`; blank where it has neither."""
    if finding.round is None:
        return finding.piece
    word = "row" if finding.worked == "rows" else "round"
    return f"{finding.piece} {word} {finding.round}".strip()


def where(finding: Finding) -> str:
    """The place of a finding in words: `line 12, column 5, thumb round 3, size M, step 4`."""
    parts = []
    if finding.line is not None:
        column = f", column {finding.column}" if finding.column is not None else ""
        parts.append(f"line {finding.line}{column}")
    if named := course(finding):
        parts.append(named)
    if finding.stitch is not None:
        parts.append(f"step {finding.stitch + 1}")
    if finding.size:
        parts.append(f"size {finding.size}")
    if finding.at is not None:
        parts.append(f"at {finding.at[0]:.1f}, {finding.at[1]:.1f} mm")
    return ", ".join(parts)


def told(finding: Finding) -> str:
    """A finding in one line, its file left out: `count: hand round 9: … (certain; expected 36,
    found 35)`."""
    pair = ", ".join(
        f"{name} {value}"
        for name, value in (("expected", finding.expected), ("found", finding.found))
        if value
    )
    said = ": ".join(part for part in (finding.kind, where(finding), finding.message) if part)
    return f"{said} ({'; '.join(part for part in (finding.sure, pair) if part)})"


def report(findings: Iterable[Finding]) -> str:
    """All findings by file, the file with the worst first; many lines without a last line end.

    A file's findings that are alike but for their places are told `ALIKE` times, then counted.
    """
    by_file: dict[str, list[Finding]] = {}
    for finding in sorted(findings, key=rank):
        by_file.setdefault(finding.file, []).append(finding)
    lines: list[str] = []
    for file, those in by_file.items():
        number = f"{len(those)} findings" if len(those) > 1 else ""
        lines += ["", f"{file or 'The folder as a whole'}{number and f': {number}'}"]
        lines += _of_file(those)
    return "\n".join(lines[1:])


def _of_file(findings: Sequence[Finding]) -> Iterator[str]:
    alike = Counter((one.sure, one.kind, one.message) for one in findings)
    seen: Counter[tuple[Sure, str, str]] = Counter()
    for one in findings:
        key = one.sure, one.kind, one.message
        seen[key] += 1
        if seen[key] <= ALIKE or alike[key] == ALIKE + 1:
            yield from wrap(told(one), WIDE, initial_indent="  ", subsequent_indent="      ",
                            break_long_words=False, break_on_hyphens=False)  # fmt: skip
        elif seen[key] == alike[key]:
            yield f"      and {alike[key] - ALIKE} more like this one: --json lists them all"
