"""The finished pages of a folder, cut into their drawings and counted again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from gussetry.check.drawings import MOST, Claimed, asked_of, claim_by_name, due
from gussetry.check.evidence import Evidence
from gussetry.findings import Finding
from gussetry.stitchmap import StitchMap
from gussetry.verify.findings import UnreadableError
from gussetry.verify.pages import AskedPages, recount_set
from gussetry.verify.parted import cut
from gussetry.verify.tables import columns_of


class PageSet(NamedTuple):
    """A set of pages as the manifest lists it: its entries in order, and its sizes."""

    entries: tuple[dict[str, Any], ...]
    sizes: tuple[str, ...]

    @property
    def label(self) -> str:
        """`size M`, `sizes S, M`."""
        return f"{'size' if len(self.sizes) == 1 else 'sizes'} {', '.join(self.sizes)}"


def page_sets(evidence: Evidence, paper: str = "") -> Iterator[PageSet]:
    """The sets that the manifest lists, of one paper or of all, as far as it can be read."""
    found: dict[tuple[str, str], list[dict[str, Any]]] = {}
    for entry in (evidence.head or {}).get("assets", ()):
        if entry.get("kind") == "page" and isinstance(entry.get("page"), int):
            if paper not in ("", entry.get("paper")):
                continue
            key = str(entry.get("paper")), str(entry.get("size"))
            found.setdefault(key, []).append(entry)
    for (_, size), entries in found.items():
        entries.sort(key=lambda entry: int(entry["page"]))
        yield PageSet(tuple(entries), tuple(size.split(" / ")))


def compare_pages(evidence: Evidence) -> Iterator[Finding]:
    """Everything in which finished pages differ from the folder's maps, one finding a place."""
    for one in page_sets(evidence):
        found = list(_compare(evidence, one))
        yield from found[:MOST]
        if len(found) > MOST:
            message = f"and {len(found) - MOST} more on these pages"
            yield Finding("more", message, str(one.entries[0]["file"]), " / ".join(one.sizes))


def _compare(evidence: Evidence, one: PageSet) -> Iterator[Finding]:
    names = [str(entry["file"]) for entry in one.entries]
    contents = [evidence.content(name) for name in names if name in evidence.files]
    svgs = [content for content in contents if content is not None]
    if len(svgs) < len(names):
        # A page that is not there is told of by the list of files.
        return
    drawings = _drawings(evidence, svgs, one.sizes)
    size = " / ".join(one.sizes)
    yield from _missing(evidence, one, drawings, names[0])
    for wrong in recount_set(svgs, _asked(evidence, one, drawings)):
        file = names[min(max(wrong.sheet, 1), len(names)) - 1]
        yield Finding(
            wrong.kind, wrong.message, file, size, wrong.piece, wrong.round, wrong.index,
            wrong.at, expected=wrong.expected, found=wrong.found,
        )  # fmt: skip


def _drawings(
    evidence: Evidence, svgs: Sequence[bytes], sizes: Sequence[str]
) -> dict[str, Claimed]:
    """The drawings that the pages say they show, as far as they are of the set's sizes and the
    folder's maps know them."""
    found: dict[str, Claimed] = {}
    for svg in svgs:
        try:
            parts = cut(svg)[2]
        except UnreadableError:
            continue
        for part in parts:
            if part.name not in found and part.page.tag("kind") not in ("head", "counts"):
                claim = claim_by_name(evidence, f"{part.name}.svg")
                if claim is not None and {m.size for m in claim.maps} <= set(sizes):
                    found[part.name] = claim
    return found


def _missing(
    evidence: Evidence, one: PageSet, drawings: dict[str, Claimed], file: str
) -> Iterator[Finding]:
    """Drawings that a size must have and no page shows."""
    shown = {(d.kind, m.size) for d in drawings.values() for m in d.maps}
    for stitches in _own(evidence, one):
        for kind in due(stitches):
            if (kind, stitches.size) not in shown:
                yield Finding("missing", f"no page shows the {kind} drawing", file, stitches.size)


def _own(evidence: Evidence, one: PageSet) -> list[StitchMap]:
    return [stitches for _, stitches in evidence.maps if stitches.size in one.sizes]


def _asked(evidence: Evidence, one: PageSet, drawings: dict[str, Claimed]) -> AskedPages:
    head = evidence.head or {}
    maps = tuple(stitches for _, stitches in evidence.maps)
    asked = tuple((name, asked_of(claim, head)) for name, claim in drawings.items())
    columns = columns_of(maps)
    alone = len(one.sizes) == 1 and len(columns) > 1
    own = tuple(name for name, m in columns if alone and m.size in one.sizes)
    pattern = str(head.get("pattern", ""))
    captions = tuple(str(line) for line in head.get("captions") or ())
    label = one.label
    width, height = one.entries[0].get("millimetres", (0.0, 0.0))
    return AskedPages(
        float(width), float(height), f"{pattern} · {label}",
        tuple(str(line) for line in head.get("lines") or ()), asked, maps, own,
        (pattern, label[:1].upper() + label[1:], *captions),
        asked[0][1].limits if asked else None,
    )  # fmt: skip
