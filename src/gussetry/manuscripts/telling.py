"""A manuscript's check told: to read, and for machines."""

from __future__ import annotations

import json
from collections.abc import Iterable

from gussetry.manuscripts.checking import Checked
from gussetry.manuscripts.findings import Finding
from gussetry.misreadings import safe

_WINDOW = 100


def as_text(checked: Checked) -> str:
    """The findings to read, each with its line, equal ones of several sizes in one; many lines
    without a last line end."""
    rows: list[str] = []
    for finding, sizes in _gathered(checked.findings):
        rows += _told(checked, finding, sizes)
        rows.append("")
    rows.append(_summary(checked))
    return "\n".join(safe(row) for row in rows)


def as_json(checked: Checked) -> str:
    """The findings for machines, one a line: each of its own size."""
    manuscript = checked.manuscript
    head = json.dumps(
        {
            "format": "gussetry-check",
            "version": 1,
            "manuscript": checked.name,
            "terms": manuscript.terms if manuscript else None,
            "sizes": list(manuscript.sizes) if manuscript else [],
            "rounds": checked.rounds,
            "uncounted": checked.uncounted,
            "clean": not checked.findings,
        },
        ensure_ascii=False,
    )
    lines = ",\n".join(
        "  " + json.dumps(_entry(one), ensure_ascii=False) for one in checked.findings
    )
    shown = f"\n{lines}" if lines else ""
    return f'{head[:-1]},\n "findings": [{shown}]}}'


def _entry(finding: Finding) -> dict[str, object]:
    return {
        "code": finding.code,
        "line": finding.line,
        "column": finding.column,
        "length": finding.length,
        "round": finding.round or None,
        "size": finding.size or None,
        "message": finding.message,
        "expected": finding.expected or None,
        "found": finding.found or None,
        "sure": finding.sure,
    }


def _gathered(findings: Iterable[Finding]) -> list[tuple[Finding, list[str]]]:
    """Findings that are alike but for their size, with the sizes."""
    groups: dict[tuple[object, ...], tuple[Finding, list[str]]] = {}
    for one in findings:
        key = (one.line, one.column, one.code, one.message, one.round, one.expected, one.found)
        groups.setdefault(key, (one, []))[1].append(one.size)
    return list(groups.values())


def _told(checked: Checked, finding: Finding, sizes: list[str]) -> list[str]:
    named = [size for size in sizes if size]
    where = f"{'size' if len(named) == 1 else 'sizes'} {', '.join(named)}" if named else ""
    place = ", ".join(part for part in (finding.round, where) if part)
    head = (
        f"{finding.code}: {place}: {finding.message}"
        if place
        else f"{finding.code}: {finding.message}"
    )
    rows = [head, f" --> {checked.name}:{finding.line}:{finding.column} ({finding.sure})"]
    line = checked.manuscript.text.line(finding.line) if checked.manuscript else ""
    if line:
        start = max(0, finding.column - 1 - _WINDOW // 2) if len(line) > _WINDOW else 0
        shown = line[start : start + _WINDOW].replace("\t", " ")
        at = finding.column - 1 - start
        gutter = " " * len(str(finding.line))
        marks = "^" * max(1, min(finding.length, len(shown) - at))
        rows += [f" {finding.line} | {shown}", f" {gutter} | {' ' * at}{marks}"]
    if finding.expected or finding.found:
        rows.append(f"   = expected {finding.expected or '–'}, found {finding.found or '–'}")
    if finding.remedy:
        rows.append(f"   = help: {finding.remedy}")
    return rows


def _summary(checked: Checked) -> str:
    manuscript = checked.manuscript
    if manuscript is None:
        return f"{checked.name}: not read"
    sizes = len({size.size for size in checked.sizes})
    found = len(_gathered(checked.findings))
    told = "nothing disagrees" if not found else f"{found} finding{'' if found == 1 else 's'}"
    many = f"{checked.rounds} round{'' if checked.rounds == 1 else 's'}"
    in_sizes = f" in {sizes} sizes" if sizes > 1 else ""
    terms = f", {manuscript.terms} terms" if manuscript.terms else ""
    unknown = f", {checked.uncounted} not counted" if checked.uncounted else ""
    return f"{checked.name}: {many}{in_sizes}{terms}{unknown}: {told}"
