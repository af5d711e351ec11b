"""A manuscript's check told: to read, and for machines."""

from __future__ import annotations

from collections.abc import Iterable

from gussetry.findings import Finding, course
from gussetry.findings import as_json as findings_json
from gussetry.manuscripts.checking import Checked
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
    head = {
        "manuscript": checked.name,
        "terms": manuscript.terms if manuscript else None,
        "sizes": list(manuscript.sizes) if manuscript else [],
        "rounds": checked.rounds,
        "uncounted": checked.uncounted,
        "clean": not checked.findings,
    }
    return findings_json(head, checked.findings)


def _gathered(findings: Iterable[Finding]) -> list[tuple[Finding, list[str]]]:
    """Findings that are alike but for their size, with the sizes."""
    groups: dict[tuple[object, ...], tuple[Finding, list[str]]] = {}
    for one in findings:
        key = (one.line, one.column, one.kind, one.message, course(one), one.expected, one.found)
        groups.setdefault(key, (one, []))[1].append(one.size)
    return list(groups.values())


def _told(checked: Checked, finding: Finding, sizes: list[str]) -> list[str]:
    named = [size for size in sizes if size]
    where = f"{'size' if len(named) == 1 else 'sizes'} {', '.join(named)}" if named else ""
    place = ", ".join(part for part in (course(finding), where) if part)
    head = ": ".join(part for part in (finding.kind, place, finding.message) if part)
    rows = [head, f" --> {checked.name}:{finding.line}:{finding.column} ({finding.sure})"]
    rows += _line(checked, finding)
    if finding.expected or finding.found:
        rows.append(f"   = expected {finding.expected or '–'}, found {finding.found or '–'}")
    if finding.remedy:
        rows.append(f"   = help: {finding.remedy}")
    return rows


def _line(checked: Checked, finding: Finding) -> list[str]:
    """The line of the text that a finding is in, and carets under the words that it means."""
    number, column = finding.line or 1, finding.column or 1
    line = checked.manuscript.text.line(number) if checked.manuscript else ""
    if not line:
        return []
    start = max(0, column - 1 - _WINDOW // 2) if len(line) > _WINDOW else 0
    shown = line[start : start + _WINDOW].replace("\t", " ")
    at = column - 1 - start
    gutter = " " * len(str(number))
    marks = "^" * max(1, min(finding.length or 1, len(shown) - at))
    return [f" {number} | {shown}", f" {gutter} | {' ' * at}{marks}"]


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
