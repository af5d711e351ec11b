"""How a schematic can be laid out, and the words and the list of measures that stand with it."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from gussetry.chart import Label, LabelKind
from gussetry.layout import boxes
from gussetry.layout.dimensions import Dimensions
from gussetry.layout.listing import list_width, measures_list
from gussetry.layout.paging import Content
from gussetry.layout.parts import MARGIN
from gussetry.stitchmap import StitchMap
from gussetry.style import Style
from gussetry.units import Point

_SLIM = 11
"""Words beside the drawing have so many ems of room at least."""
_SENTENCES = re.compile(r"(?<=\.) (?=\S)")
"""Between two sentences of a note."""


@dataclass(frozen=True, slots=True)
class Look:
    """How a schematic is laid out: its scale, its upper end `head` mm below the page's edge or
    lower, its measures `listed`; what stands `aside`, right of it, the list of measures or the
    words under it as far as there is room for them; all words under it, as wide as itself or
    `broad` as the column; at worst all sentences `run on`."""

    scale: float
    head: float = 0.0
    listed: bool = False
    aside: Literal["", "list", "words"] = ""
    broad: bool = True
    run_on: bool = False


def notes_of(
    maps: Sequence[StitchMap], scale: float, notes: Sequence[str], *, marked: bool
) -> list[tuple[str, str]]:
    """The lines under the drawing: (role, words)."""
    found = [
        ("scale", boxes.scale_text(scale)),
        ("note", f"Drawn flat: circumferences are the full round. {_from_the_crease(maps[0])}"
                 " measured from the wrist crease."),
    ]  # fmt: skip
    if maps[0].mitten != "both":
        found.append(("note", "Seen from the back of the hand."))
    if len(maps) > 1:
        names = ", ".join(m.size for m in maps)
        inside_out = "" if marked else f"Outlines from the inside out: {names}. "
        found.append(
            ("note", f"{inside_out}The dimension lines show size {maps[-1].size}, the heavier"
                     " outline.")
        )  # fmt: skip
    return found + [("note", words) for words in notes]


def run_on(notes: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
    """The notes with sentences that follow each other in one paragraph, which takes less room."""
    found: list[tuple[str, str]] = []
    for role, words in notes:
        before = found[-1][1] if found else ""
        if role == "note" and before.endswith(".") and words.endswith("."):
            found[-1] = (role, f"{before} {words}")
        else:
            found.append((role, words))
    return found


def _from_the_crease(stitches: StitchMap) -> str:
    return "Crook height and hand length are" if stitches.piece("thumb") else "The hand length is"


def _rows(role: str, words: str, at: Point, width: float, style: Style) -> list[Label]:
    """Words in lines from `at` downwards, `at` the top left."""
    kind: LabelKind = "note"
    size = style.size(kind)
    return [
        Label(kind, row, Point(at.x, at.y + boxes.ASCENT * size + i * 1.25 * size),
              tags=(("data-role", role),))
        for i, row in enumerate(boxes.wrapped(words, kind, width, style))
    ]  # fmt: skip


def set_words(
    content: Content,
    dims: Dimensions,
    name: str,
    notes: Sequence[tuple[str, str]],
    look: Look,
) -> float:
    """The list of measures and the notes, set under the drawing or beside it; returns how wide the
    drawing is with them."""
    style, box = content.style, content.box()
    room, size = style.width - 2 * MARGIN, style.size("note")
    asked = room if look.broad else min(boxes.words_width("title", name, style), room)
    width = max(box.right - box.left, asked)
    listed, y = look.listed, box.bottom + 1.2 * size
    aside = box.right + 1.5 * size
    rest = box.left + room - aside
    if look.aside == "list" and rest >= list_width(dims):
        labels, low = measures_list(dims, Point(aside, box.top), rest)
        # At the far side of the column, so that the notes under the drawing have room.
        wide = max(boxes.label_box(label, style).right for label in labels) - aside
        off = Point(rest - wide, 0.0)
        content.labels += [replace(label, at=label.at.plus(off)) for label in labels]
        foot, across = max(y, low), room - wide - 1.5 * size
        notes = _noted(content, notes, Point(box.left, y), across, foot)
        listed, y = False, foot
    elif look.aside == "words" and rest >= _SLIM * size:
        notes = _noted(content, notes, Point(aside, box.top), rest, y)
    if listed:
        labels, y = measures_list(dims, Point(box.left, y), width)
        content.labels += labels
    _noted(content, notes, Point(box.left, y), width)
    return width


def _noted(
    content: Content,
    notes: Sequence[tuple[str, str]],
    corner: Point,
    width: float,
    foot: float = math.inf,
) -> Sequence[tuple[str, str]]:
    """Sets notes from the top left corner down, as many sentences as end above the foot; returns
    the rest."""
    y, size = corner.y, content.style.size("note")
    for i, (role, words) in enumerate(notes):
        sentences = _SENTENCES.split(words)
        for many in range(len(sentences), 0, -1):
            said = " ".join(sentences[:many])
            rows = _rows(role, said, Point(corner.x, y), width, content.style)
            high = 1.25 * size * len(rows)
            if y + high <= foot:
                content.labels += rows
                break
        else:
            return notes[i:]
        if many < len(sentences):
            return (role, " ".join(sentences[many:])), *notes[i + 1 :]
        y += high + 0.3 * size
    return ()
