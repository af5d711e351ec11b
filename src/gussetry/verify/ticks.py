"""Boxes to tick: one a round, beside it, in a style that has them, and none in another."""

from __future__ import annotations

import math
from collections import Counter

from gussetry.verify.charts import Sheet
from gussetry.verify.findings import Disagreement
from gussetry.verify.labels import found_at
from gussetry.verify.levels import in_lines
from gussetry.verify.standing import beside_row
from gussetry.verify.svg import Shape

_FIVE = 5  # boxes in a line at most
_CLEAR = 1.0  # mm between the middles of a box and of any row that is not its own
_LEVEL = 0.1  # mm in height by which boxes of a line may differ
_SQUARE = 0.1  # of a box's side


def compare_ticks(sheet: Sheet) -> list[Disagreement]:
    """What the boxes have wrong: too many or too few, not beside their rounds, no boxes at all."""
    boxes = [shape for shape in sheet.page.shapes if shape.tag("role") == "tick"]
    if not sheet.asked.tick_boxes:
        return [found_at("tick", "a box to tick in a style without", box) for box in boxes]
    findings = [finding for box in boxes for finding in _wrong(sheet, box)]
    if sheet.centre is None and any(len(line) > _FIVE for line in in_lines(boxes, _LEVEL)):
        findings.append(
            Disagreement("tick", "more than five boxes stand in a line", piece=sheet.piece.piece)
        )
    found = Counter(box.tag("round") for box in boxes)
    due = Counter(str(r.number) for r in sheet.drawn if r.number > 0 and r.count > 0)
    for _, said in sheet.sums.whole:
        due += Counter(str(number) for number in range(said.first, said.last + 1))
    if found != due:
        findings.append(
            Disagreement("tick", "there is not one box to tick a round", piece=sheet.piece.piece,
                         expected=_told(due - found), found=_told(found - due))
        )  # fmt: skip
    return findings


def _beside_sum(sheet: Sheet, height: float, own: float) -> bool:
    """Whether a height on the page belongs to the sum at its `own`: no row and no other sum stands
    between them."""
    heights = [row.level for row in sheet.rows]
    heights += [label.box.centre.imag for label, _ in sheet.sums.whole]
    low, high = min(own, height) - _CLEAR, max(own, height) + _CLEAR
    return not any(low < other < high for other in heights if other != own)


def _told(rounds: Counter[str]) -> str:
    return " ".join(sorted(rounds.elements())) or "none"


def _wrong(sheet: Sheet, box: Shape) -> list[Disagreement]:
    """What one box has wrong: its shape, or the place of its round."""
    wide, high = box.box.right - box.box.left, box.box.bottom - box.box.top
    if abs(wide - high) > _SQUARE * high or not box.inks or box.fill != "none":
        return [found_at("tick", "a box to tick is no empty square", box)]
    tag, middle = box.tag("round"), box.box.centre.imag
    first = int(tag.split("-")[0]) if tag.split("-")[0].isascii() and tag[:1].isdigit() else -1
    for label, said in sheet.sums.whole:
        if said.first <= first <= said.last:
            right = _beside_sum(sheet, middle, label.box.centre.imag)
            return [] if right else [found_at("tick", "a box stands beside another sum", box)]
    round_ = beside_row(sheet, box, {r.number: r for r in sheet.drawn})
    if round_ is None or str(round_.number) != tag:
        return [found_at("tick", "a box to tick stands beside another row", box)]
    if sheet.centre is not None and not _at_number(sheet, box):
        return [found_at("tick", "a box to tick does not stand at its round's number", box)]
    return []


def _at_number(sheet: Sheet, box: Shape) -> bool:
    """Whether a crown's box is nearer to its round's number than to its count."""
    away = {
        role: [
            abs(s.box.centre - box.box.centre)
            for s in sheet.page.shapes
            if s.tag("role") == role and s.tag("round") == box.tag("round")
        ]
        for role in ("round", "count")
    }
    return not away["round"] or min(away["round"]) < min(away["count"], default=math.inf)
