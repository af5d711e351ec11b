"""Drawings whose tags a program has thrown away: told anew from shapes alone, so that they can be
recounted all the same."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from gussetry.verify.charts import PIECES
from gussetry.verify.findings import Asked, Disagreement
from gussetry.verify.outlined import outlined_odd
from gussetry.verify.svg import Page
from gussetry.verify.tagless_chart import Key, infer_chart
from gussetry.verify.tagless_key import infer_key
from gussetry.verify.tagless_labels import tag_notes, tag_title
from gussetry.verify.tagless_parts import interim, sorted_parts
from gussetry.verify.tagless_schematic import infer_schematic
from gussetry.verify.tagless_strip import infer_strip

_MITTENS = {"left": "right", "right": "left", "both": "both"}
_NEEDED = {
    "stripes": ("role", "says", "round", "piece", "yarn", "landmark"),
    "schematic": ("role", "says", "measure", "piece"),
    "key": ("role", "says", "do"),
}
_CHART = ("role", "says", "do", "round", "index", "piece", "size")
"""Tags that every drawing of a kind has somewhere."""
_UNREAD = "the drawing's tags are gone"


class Told(NamedTuple):
    """Pages with the tags that their shapes tell, by their numbers, and what is to be said of
    it."""

    pages: dict[int, Page]
    findings: tuple[Disagreement, ...]


def root_tags(asked: Asked) -> dict[str, str]:
    """What the root of the drawing that is asked for says of it, without `data-`."""
    left = asked.hand == "left"
    # Worked with the other hand, the stitches of a left mitten make a right one.
    mittens = [_MITTENS[m.mitten] if left else m.mitten for m in asked.maps]
    return {
        "kind": asked.kind,
        "size": " / ".join(dict.fromkeys(stitches.size for stitches in asked.maps)),
        "mitten": " / ".join(dict.fromkeys(mittens)),
        "hand": "left" if left else "",
    }


def lost(page: Page, kind: str) -> tuple[str, ...]:
    """The tags that a drawing of the kind has and that stand nowhere on this page."""
    gone = [] if page.tag("kind") else ["root"]
    classes = {name for shape in page.shapes for name in shape.classes}
    if (kind in PIECES or kind == "key") and not {"stitch", "symbol"} & classes:
        gone.append("class")
    known = {name for shape in page.shapes for name in shape.marks}
    needed = _NEEDED.get(kind, _CHART)
    return (*gone, *(name for name in needed if f"data-{name}" not in known))


def with_tags(pages: Mapping[int, Page], asked: Asked) -> Told:
    """The pages as they come where their tags are there; else with those that their shapes tell,
    and one note. `UnreadableError` where there is more to tell than any drawing has."""
    gone = {number: lost(page, asked.kind) for number, page in pages.items()}
    if not any(gone.values()):
        return Told(dict(pages), ())
    found: dict[int, Page] = {}
    before: set[Key] = set()
    first = next(number for number, names in gone.items() if names)
    for number, page in pages.items():
        told = _tagged(page, asked, before)
        if isinstance(told, Disagreement):
            return Told({}, (told,))
        found[number] = told
    names = ", ".join(dict.fromkeys(name for own in gone.values() for name in own))
    bare = not all(page.description for page in found.values())
    unchecked = "; it has no description to compare" if bare else ""
    message = f"{_UNREAD}: checked from its shapes alone{unchecked}"
    note = Disagreement("tags", message, found=f"without {names}", sheet=first)
    return Told(found, (note,))


def _tagged(page: Page, asked: Asked, before: set[Key]) -> Page | Disagreement:
    """A page with the tags that its shapes tell; a finding where there are outlines instead of
    strokes."""
    parts = sorted_parts(page)
    if outlined_odd(parts):
        return Disagreement("outlined", "strokes were turned into outlines: undo that in the"
                            " drawing program")  # fmt: skip
    parts.root |= root_tags(asked)
    tag_title(parts)
    if asked.kind in PIECES:
        infer_chart(parts, asked, before)
    elif asked.kind == "key":
        infer_key(parts)
    elif asked.kind == "stripes":
        infer_strip(parts, asked.maps[0])
    else:
        infer_schematic(parts, asked.maps)
    tag_notes(parts)
    return interim(parts)
