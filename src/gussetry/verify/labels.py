"""Labels: that each outline draws the text it claims, and that nothing shown is hidden."""

from __future__ import annotations

import re
from collections.abc import Iterable

from gussetry.verify.findings import Disagreement
from gussetry.verify.glyphs import contours_of, decode, shows
from gussetry.verify.svg import Grounds, Page, Shape


def number(text: str) -> int | None:
    """The whole number that a text is, None where it is no number."""
    return int(text) if text.isascii() and text.isdigit() else None


def first_number(tag: str) -> int | None:
    """The first number of a tag, which may be a span or a list: 14 of `14-22`, 5 of `5 6`."""
    found = re.match(r"\d{1,6}", tag, re.ASCII)
    return int(found[0]) if found else None


def found_at(
    kind: str, message: str, shape: Shape, expected: object = "", found: object = ""
) -> Disagreement:
    """A finding at a shape, with the piece, round and index that its tags name."""
    middle = shape.box.centre
    return Disagreement(
        kind,
        message,
        piece=shape.tag("piece"),
        round=first_number(shape.tag("round")),
        index=number(shape.tag("index")),
        at=(round(middle.real, 2), round(middle.imag, 2)),
        expected=str(expected),
        found=str(found),
    )


def read_labels(page: Page) -> tuple[dict[int, str], list[Disagreement]]:
    """The text that each label really draws, by the shape's order, and the labels that draw
    another text than they claim."""
    texts: dict[int, str] = {}
    findings: list[Disagreement] = []
    for shape in page.shapes:
        says = shape.marks.get("data-says")
        if says is None:
            continue
        contours = contours_of(shape.subs)
        if shows(contours, says):
            texts[shape.order] = says
            continue
        drawn = decode(contours)
        texts[shape.order] = drawn if drawn is not None else ""
        if drawn is None:
            message = "a label holds outlines that are no letters"
        elif drawn != says:
            message = "a label draws another text than it claims"
        else:
            continue
        findings.append(found_at("label", message, shape, says, drawn or "?"))
    return texts, findings


def unseen(shapes: Iterable[Shape], grounds: Grounds) -> list[Disagreement]:
    """Stitches, symbols, patches and labels that cannot be seen."""
    findings = []
    for shape in shapes:
        why = grounds.unseen(shape)
        if why:
            name = shape.tag("do") or shape.tag("says") or shape.tag("role") or "a shape"
            findings.append(found_at("hidden", f"{name} {why}", shape))
    return findings


def stray(page: Page) -> list[Disagreement]:
    """Paths that are neither stitch nor symbol and have no role: nobody can hold them against the
    map, and a reader may take them for stitches or numbers."""
    return [
        found_at("stray", "a path is no stitch, no symbol and has no role", shape,
                 found=shape.tag("says"))
        for shape in page.shapes
        if not shape.tag("role") and not {"stitch", "symbol"} & set(shape.classes)
    ]  # fmt: skip
