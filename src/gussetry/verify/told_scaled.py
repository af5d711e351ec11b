"""What descriptions tell of drawings to scale and of keys, held against the map and what is drawn.

From the drawing contract: a strip's description tells after `From the bottom up.` every stripe,
`Hand, rounds 5 to 6: lichen (B).`; a schematic's after `Finished measures.` every measure as it is
printed, `Cuff depth: 6.5 cm (2½ in).`, of several sizes inches after a comma; a key's all words.
"""

from __future__ import annotations

import re
from itertools import groupby

from gussetry.stitchmap import StitchMap
from gussetry.verify.findings import Disagreement
from gussetry.verify.labels import found_at
from gussetry.verify.svg import Page, Shape

_SIZES = re.compile(r" cm (?:· )?(?=[\d¼½¾])")  # inches of several sizes follow, in a row or below


def compare_stripes_told(page: Page, stitches: StitchMap) -> list[Disagreement]:
    """Whether the description of a strip tells the stripes that the map has, and no others."""
    names = {letter: name for letter, name, _ in stitches.yarns}
    rounds: list[tuple[str, str, int]] = []
    for piece in stitches.pieces:
        if piece.piece != "thumb":
            rounds += [(piece.piece, r.yarn, r.number) for r in piece.counted]
    wanted = "From the bottom up."
    for (name, yarn), run in groupby(rounds, lambda one: one[:2]):
        numbers = [number for _, _, number in run]
        unit = "row" if any(p.piece == name and p.worked == "rows" for p in stitches.pieces) else ""
        unit = unit or "round"
        span = f"{unit} {numbers[0]}"
        if numbers[1:]:
            span = f"{unit}s {numbers[0]} to {numbers[-1]}"
        wanted += f" {name.capitalize()}, {span}: {' '.join(names[yarn].split())} ({yarn})."
    wanted += " Landmarks."
    if wanted in page.description:
        return []
    return [Disagreement("description", "the description tells other stripes", expected=wanted,
                         found=_from(page.description, "From the bottom up."))]  # fmt: skip


def compare_measures_told(page: Page, texts: dict[int, str]) -> list[Disagreement]:
    """Measures that a schematic's description tells otherwise than they are printed."""
    told = _from(page.description, "Finished measures.")
    rows: dict[str, list[Shape]] = {}
    for shape in sorted(page.shapes, key=lambda s: s.box.centre.imag):
        if shape.tag("role") == "measure":
            rows.setdefault(shape.tag("measure"), []).append(shape)
    findings = []
    for name, own in rows.items():
        says = _SIZES.sub(" cm, ", " ".join(texts.get(shape.order, "") for shape in own))
        wanted = f" {name.capitalize()}: {says}."
        if wanted not in told:
            findings.append(
                found_at("description", "the description tells a measure otherwise", own[0],
                         wanted.strip(), told[:120])
            )  # fmt: skip
    return findings


def compare_words_told(page: Page, texts: dict[int, str]) -> list[Disagreement]:
    """Words of a key that its description leaves out."""
    told = page.description.casefold()
    return [
        found_at("description", "the description leaves words of the key out", shape,
                 texts.get(shape.order, ""))
        for shape in page.shapes
        if shape.tag("role") == "term" and texts.get(shape.order, "").casefold() not in told
    ]  # fmt: skip


def _from(text: str, begins: str) -> str:
    """The text from those words on, empty where they are not in it."""
    _, found, rest = text.partition(begins)
    return found + rest
