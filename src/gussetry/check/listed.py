"""What the manifest, and `assets.csv` as a table, say of each drawing for whoever places it, held
against the drawing itself and against each other."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from gussetry.check.evidence import Evidence
from gussetry.check.facts import Facts, page_facts
from gussetry.findings import Finding
from gussetry.folder import MANIFEST
from gussetry.verify.document import parse
from gussetry.verify.findings import UnreadableError

ASSETS = "assets.csv"

_EXACT = 0.01  # mm: lengths are written to 0.001, and a drawing program rounds them
_HALF = 0.52  # pixels: half of one, and what rounded lengths may add at 600 dots an inch
_ITSELF = ("kind", "size")
"""What says which drawing it is: where that differs the drawing itself is told as another."""
_SIDES = ("width", "height")


@dataclass(frozen=True, slots=True)
class _Listed:
    """A drawing or page that the manifest lists: what its bytes tell and what the entry says."""

    name: str
    facts: Facts
    said: Mapping[str, Any]

    @property
    def size(self) -> str:
        """Its sizes, as a finding names them."""
        return str(self.facts.get("size") or "")


def compare_listed(evidence: Evidence) -> Iterator[Finding]:
    """Everything that manifest and table say of the drawings that were read, and that is not so."""
    listed = list(_listed(evidence))
    for one in listed:
        if any(not _same(one.facts[k], one.said.get(k)) for k in _ITSELF if k in one.facts):
            continue
        for key, true in one.facts.items():
            # Manifests of earlier versions say less.
            if key in one.said and not _same(true, one.said[key]):
                yield Finding(
                    "manifest", f"says another {key} of {one.name} than the drawing", MANIFEST,
                    one.size, expected=_plain(true), found=_plain(one.said[key]),
                )  # fmt: skip
    if ASSETS in evidence.files:
        yield from _compare_table(evidence, listed)


def _listed(evidence: Evidence) -> Iterator[_Listed]:
    for entry in (evidence.head or {}).get("assets", ()):
        name = str(entry["file"])
        facts = (
            _of_page(evidence, name) if entry.get("kind") == "page" else evidence.facts.get(name)
        )
        if facts is None:
            continue
        own = facts | _dots(facts, entry.get("png"))
        if "kind" in facts:
            own["shown with"] = _companions(evidence, name, entry)
        yield _Listed(name, own, entry)


def _companions(evidence: Evidence, name: str, entry: Mapping[str, Any]) -> list[str]:
    """The files that a drawing must be shown with; those that are said and cannot be read among
    them."""
    said = entry.get("shown with")
    told = [str(other) for other in said] if isinstance(said, list) else []
    unread = [other for other in told if other in evidence.listed and other not in evidence.facts]
    mine = name, evidence.facts[name]
    known = evidence.facts.items()
    return [other[0] for other in known if other[0] != name and _belong(mine, other)] + unread


def _of_page(evidence: Evidence, name: str) -> Facts | None:
    """What a finished page tells of itself; None where it is not there or cannot be read."""
    content = evidence.content(name) if name in evidence.files else None
    try:
        return page_facts(parse(content)) if content is not None else None
    except UnreadableError:
        # That is told of the page itself.
        return None


def _dots(facts: Facts, picture: object) -> Facts:
    """How many pixels the picture must have at the dots an inch that are said of it."""
    own = picture if isinstance(picture, dict) else {}
    dpi, said = own.get("dpi"), own.get("pixels")
    if not isinstance(dpi, int) or not 0 < dpi < 10_000:
        return {}
    exact = [side * dpi / 25.4 for side in facts["millimetres"]]
    # Right at a half either number is right: lengths are rounded in the drawing.
    near = isinstance(said, list) and len(said) == 2 and all(
        isinstance(a, int) and abs(a - b) < _HALF for a, b in zip(said, exact, strict=True)
    )  # fmt: skip
    return {"png": {"pixels": said if near else [round(side) for side in exact]}}


def _belong(one: tuple[str, Facts], other: tuple[str, Facts]) -> bool:
    """Whether two drawings must be shown together: sheets of one, or a mitten's own strip and
    schematic."""
    if _first_sheet(*one) == _first_sheet(*other):
        return True
    (name, mine), (their, yours) = one, other
    same = all(mine.get(key) == yours.get(key) for key in ("size", "mitten"))
    kinds = {mine.get("kind"), yours.get("kind")}
    return same and kinds == {"stripes", "schematic"} and "/" in name and "/" in their


def _first_sheet(name: str, facts: Facts) -> str:
    sheet = facts.get("sheet") or 1
    stem = name.removesuffix(".svg")
    return stem.removesuffix(f"-{sheet}") if sheet > 1 else stem


def _same(true: object, said: object) -> bool:
    if isinstance(true, dict):
        return isinstance(said, dict) and all(_same(own, said.get(k)) for k, own in true.items())
    if isinstance(true, list):
        if not isinstance(said, list) or len(true) != len(said):
            return False
        if all(isinstance(one, str) for one in true):
            return sorted(true) == sorted(map(str, said))
        return all(_same(a, b) for a, b in zip(true, said, strict=True))
    if isinstance(true, float):
        return isinstance(said, int | float) and abs(true - said) < _EXACT
    return true == said


def _plain(value: object) -> str:
    """A value as a finding shows it."""
    if isinstance(value, dict):
        return _plain(value.get("pixels"))
    if isinstance(value, list):
        return ", ".join(map(_plain, value))
    if isinstance(value, float):
        return f"{value:.3f}".rstrip("0").rstrip(".")
    return "" if value is None else str(value)


# --- the table --------------------------------------------------------------------------------


def _compare_table(evidence: Evidence, listed: Sequence[_Listed]) -> Iterator[Finding]:
    """The table held against drawings and manifest, row by row."""
    content = evidence.content(ASSETS)
    if content is None:
        return
    try:
        reader = csv.reader(content.decode("utf-8-sig").splitlines(keepends=True), strict=True)
        rows = [(reader.line_num, row) for row in reader if row]
    except (UnicodeDecodeError, csv.Error) as fault:
        yield Finding("unreadable", f"not readable as CSV: {fault}", ASSETS)
        return
    heads = rows[0][1] if rows else []
    drawings = {one.name: one for one in listed if one.said.get("kind") != "page"}
    due = {name: _cells(one) for name, one in drawings.items()}
    lost = {"file"}.union(*due.values()) - set(heads)
    if lost:
        yield Finding("table", "the table lacks columns", ASSETS, expected=", ".join(sorted(lost)))
        return
    seen: set[str] = set()
    for line, row in rows[1:]:
        name = row[heads.index("file")] if len(row) == len(heads) else ""
        wrong = _misplaced(name, evidence.listed, seen)
        if wrong:
            yield Finding("table", wrong, ASSETS, line=line, found=name)
            continue
        seen.add(name)
        size = drawings[name].size if name in drawings else ""
        found = Finding("table", f"{name}: ", ASSETS, size, line=line)
        yield from _compare_row(found, dict(zip(heads, row, strict=True)), due.get(name, {}))
    for name in due.keys() - seen:
        size = drawings[name].size
        yield Finding("table", "the table lacks a drawing", ASSETS, size, expected=name)


def _misplaced(name: str, listed: Sequence[str], seen: set[str]) -> str:
    """Why a row is none of the table's, empty where it is one."""
    if not name:
        return "the row names no drawing, or has more or fewer cells than the heading"
    if name in seen:
        return "the drawing stands in the table twice"
    return "" if name in listed else "the manifest lists no such drawing"


def _compare_row(
    finding: Finding, row: Mapping[str, str], due: Mapping[str, object]
) -> Iterator[Finding]:
    for column, (name, said) in enumerate(row.items(), 1):
        true = due.get(name, said)
        if _same(true, _read(said, true)):
            continue
        message = f"{finding.message}another {name} than the drawing or the manifest says"
        yield replace(finding, message=message, column=column, expected=_plain(true), found=said)


def _read(text: str, like: object) -> object:
    """A cell as what it ought to be: a length, files parted by blanks, or words."""
    if isinstance(like, list):
        return text.split()
    return _number(text) if isinstance(like, float) else text


def _number(text: str) -> object:
    try:
        return float(text)
    except ValueError:
        return text


def _cells(one: _Listed) -> dict[str, object]:
    """What the table's row must say: the drawing's own word before the manifest's."""
    said = {**one.said, **one.facts}
    picture = one.said.get("png")
    png = picture if isinstance(picture, dict) else {}
    cells: dict[str, object] = {
        name: _plain(said[name])
        for name in ("kind", "size", "mitten", "hand", "sheet", "of", "piece", "first round",
                     "last round", "columns", "caption", "alternative text")
        if name in said
    }  # fmt: skip
    if isinstance(said.get("shown with"), list):
        cells["shown with"] = [str(name) for name in said["shown with"]]
    cells |= {"png": _plain(png.get("file")), "dpi": _plain(png.get("dpi"))}
    cells |= {f"{side} mm": mm for side, mm in zip(_SIDES, said["millimetres"], strict=True)}
    dots = one.facts.get("png", {}).get("pixels", ("", ""))
    return cells | {f"{side} px": str(n) for side, n in zip(_SIDES, dots, strict=True)}
