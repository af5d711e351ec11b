"""The guides of a stitch chart: the way to go, a round's start, the marked stitches."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from statistics import median

from gussetry.stitchmap import Round, left_of_made, sections
from gussetry.verify.charts import Sheet
from gussetry.verify.crown_words import compare_outside
from gussetry.verify.findings import Disagreement
from gussetry.verify.joined import compare_joined
from gussetry.verify.labels import found_at
from gussetry.verify.paths import flattened
from gussetry.verify.rays import compare_rays, ends_of, with_role
from gussetry.verify.rows import Row
from gussetry.verify.svg import Shape


def compare_guides(sheet: Sheet) -> list[Disagreement]:
    """What the guides have wrong: a missing or a turned arrow, a missing start, lost markers."""
    if not any(round_.count for round_ in sheet.drawn):
        # A crown that is drawn shut at once has no way to go.
        return []
    return [
        *_direction(sheet), *_markers(sheet), *compare_rays(sheet), *_crook(sheet),
        *compare_joined(sheet), *_signs(sheet), *compare_outside(sheet),
    ]  # fmt: skip


def _direction(sheet: Sheet) -> list[Disagreement]:
    """Lines of direction: there is one, it has a head, and the head is at the right end."""
    lines = with_role(sheet, "direction")
    heads = [head.box.centre for head in with_role(sheet, "arrow")]
    if not lines or not heads:
        return [Disagreement("direction", "the chart does not show the direction of work",
                             piece=sheet.piece.piece)]  # fmt: skip
    findings = []
    for line in lines:
        tail, head = ends_of(line)
        if min(abs(tail - h) for h in heads) < min(abs(head - h) for h in heads):
            tail, head = head, tail
        if sheet.centre is not None:
            out, way = tail - sheet.centre, head - tail
            # On a page whose y runs down, a positive turn is clockwise.
            forward = out.real * way.imag - out.imag * way.real > 0
        elif sheet.piece.worked == "rows":
            continue
        else:
            forward = head.real < tail.real
        if forward == sheet.left:
            findings.append(found_at("direction", "the arrow points the wrong way", line))
    return findings


def _markers(sheet: Sheet) -> list[Disagreement]:
    """The gusset's markers on a grid: two over each marked row, each over its stitch."""
    if sheet.centre is not None or not sheet.paired:
        return []
    levels = [row.level for row in sheet.rows]
    gap = median([a - b for a, b in pairwise(levels)] or [sheet.pitch])
    marks = [_lowest(shape) for shape in with_role(sheet, "marker")]
    findings = []
    for row, round_ in sheet.paired:
        if sections(round_) is None:
            continue
        high = min([gap, *(row.level - level for level in levels if level < row.level)])
        over = [m for m in marks if row.level - 0.95 * high < m.imag < row.level + 0.05 * high]
        for name in ("first marker", "second marker"):
            place = _marked_place(sheet, row, round_, round_.marker(name))
            if place is None:
                continue
            if not any(abs(m.real - place[0]) < 0.35 * place[1] for m in over):
                findings.append(
                    Disagreement("marker", f"the {name} of round {round_.number} is not shown",
                                 piece=sheet.piece.piece, round=round_.number,
                                 at=(round(place[0], 2), round(row.level, 2)))
                )  # fmt: skip
        if len(over) > 2:
            findings.append(
                Disagreement("marker", f"round {round_.number} has more than two markers",
                             piece=sheet.piece.piece, round=round_.number)
            )  # fmt: skip
    return findings


def _signs(sheet: Sheet) -> list[Disagreement]:
    """The lozenges of marked stitches: one over each that is drawn, over no other, at the leg that
    is marked."""
    if sheet.centre is not None or not sheet.paired:
        return []
    signs = with_role(sheet, "marked")
    findings = []
    for row, round_ in sheet.paired:
        for name in ("first marker", "second marker"):
            place = _marked_place(sheet, row, round_, round_.marker(name))
            if sections(round_) is None or place is None:
                continue
            own = [s for s in signs if _stands_over(s, complex(place[0], row.level), place[1])]
            if len(own) != 1:
                findings.append(
                    Disagreement("marker", f"the stitch of round {round_.number} that has the"
                                 f" {name} is not marked by one lozenge", piece=sheet.piece.piece,
                                 round=round_.number, expected="1", found=str(len(own)),
                                 at=(round(place[0], 2), round(row.level, 2)))
                )  # fmt: skip
            signs = [sign for sign in signs if sign not in own]
    findings += [found_at("marker", "a lozenge stands over no marked stitch", s) for s in signs]
    return findings


def _stands_over(sign: Shape, stitch: complex, cell: float) -> bool:
    off = sign.box.centre - stitch
    return abs(off.real) < 0.25 * cell and 0.3 * cell < -off.imag < 0.9 * cell


def _lowest(shape: Shape) -> complex:
    """Where a line stands: the middle of its lowest points."""
    points = [point for sub in shape.subs for point in flattened(sub)]
    floor = max(point.imag for point in points)
    foot = [point.real for point in points if floor - point.imag < 0.01]
    return complex((min(foot) + max(foot)) / 2, floor)


def _crook(sheet: Sheet) -> list[Disagreement]:
    """The numbers of the crook over a division: each once, from its end back to its beginning, each
    below its own chain where the gap is bridged so."""
    if sheet.asked.kind != "gusset":
        return []
    labels = [shape for shape in sheet.page.shapes if shape.tag("role") == "crook"]
    labels.sort(key=lambda shape: shape.box.centre.real, reverse=sheet.left)
    division = next((r for r in sheet.drawn if r.phase == "division"), None)
    wanted = [str(number) for number in range(1, _crook_of(sheet) + 1)] if division else []
    said = [sheet.texts.get(shape.order, "") for shape in labels]
    if division and not _gap_drawn(sheet, division):
        # Of a gap that is parted a sheet has the numbers of what stands on it, one after the other.
        wanted = _of_part(sheet, division, wanted, said)
    if said != wanted:
        return [Disagreement("crook", "the crook is numbered otherwise", piece=sheet.piece.piece,
                             round=division.number if division else None,
                             expected=" ".join(wanted), found=" ".join(said))]  # fmt: skip
    findings = []
    for row, round_ in sheet.paired:
        if round_.phase != "division":
            continue
        chains = row.bridge[::-1] if sheet.left else row.bridge
        # Without chains all that is asked is that they stand over the gap.
        for label, chain in zip(labels, chains or labels, strict=False):
            near, at = chain.box.centre, label.box.centre
            beside = abs(near.real - at.real) > 0.35 * sheet.pitch
            if beside or not row.level > at.imag >= near.imag:
                findings.append(found_at("crook", "a number of the crook stands elsewhere", label))
    return findings


def _gap_drawn(sheet: Sheet, division: Round) -> bool:
    """Whether the sheet shows the whole of what the division sets aside: it may be parted."""
    drawn = {s.tag("index") for s in sheet.stitches if s.tag("round") == str(division.number)}
    aside = [i for i, op in enumerate(division.work) if op.held or op.do == "hold"]
    return all(str(i) in drawn for i in (aside[0] - 1, *aside, aside[-1] + 1))


def _crook_of(sheet: Sheet) -> int:
    """How many places at the crook the thumb's first round names."""
    thumb = sheet.map.piece("thumb")
    named = [place for op in thumb.rounds[0].work for place in op.into] if thumb else []
    return len({place for place in named if isinstance(place, tuple) and place[0] == "crook"})


def _of_part(sheet: Sheet, division: Round, every: Sequence[str], said: Sequence[str]) -> list[str]:
    """Which of a crook's numbers a sheet must have that draws a part of the gap: with the gap's end
    the first of them, with its beginning the last; below chains those of the chains, else as many
    as it has, in their order."""
    drawn = {s.tag("index") for s in sheet.stitches if s.tag("round") == str(division.number)}
    work = division.work
    aside = [i for i, op in enumerate(work) if op.held or op.do == "hold"]
    chains = [i for i in range(aside[-1] + 1, len(work)) if work[i].do == "ch" and work[i].counts]
    if not every:
        return []
    if chains:
        numbers = zip(reversed(chains), every, strict=False)
        return [number for i, number in numbers if str(i) in drawn]
    first = str(aside[-1] + 1) in drawn
    last = str(aside[0] - 1) in drawn
    begin = 0 if first or not said or said[0] not in every else every.index(said[0])
    end = begin + len(said)
    found = list(every[begin:end]) if not last else list(every[max(0, len(every) - len(said)) :])
    ends = ([every[0]] if first else []) + ([every[-1]] if last else [])
    return found if set(ends) <= set(found) else ends


def _marked_place(
    sheet: Sheet, row: Row, round_: Round, left: int | None
) -> tuple[float, float] | None:
    """Across the page the place of a stitch by its *left* number, and a cell's width; None where
    it is not drawn."""
    if left is None:
        return None
    made = left_of_made(round_).index(left)
    first = 0
    stitches = [shape for shape in row.items if shape.tag("role") != "sum"]
    gaps = [b.box.centre.real - a.box.centre.real for a, b in pairwise(stitches)]
    cell = min(gaps, default=sheet.pitch)
    back = -1 if not sheet.left else 1
    for index, op in enumerate(round_.work):
        if made < first + op.makes:
            shape = next((s for s in stitches if s.tag("index") == str(index)), None)
            if shape is None:
                return None
            within = made - first - (op.makes - 1) / 2
            return shape.box.centre.real + back * within * cell, cell
        first += op.makes
    return None
