"""What stands beside the rows of a stitch chart: numbers, counts, yarns."""

from __future__ import annotations

from itertools import pairwise

from gussetry.stitchmap import Round
from gussetry.verify.charts import Sheet
from gussetry.verify.findings import Disagreement
from gussetry.verify.labels import found_at
from gussetry.verify.svg import Shape, colour
from gussetry.verify.words import count_text

_NEEDED = ("round", "count", "yarn")


def compare_labels(sheet: Sheet) -> list[Disagreement]:
    """Every round number, count and yarn letter held against the row it stands in."""
    if not sheet.paired:
        return []
    rounds = {r.number: r for r in sheet.drawn}
    findings: list[Disagreement] = []
    seen: set[tuple[str, int]] = set()
    for shape in sheet.page.shapes:
        role = shape.tag("role")
        if role not in _NEEDED:
            continue
        round_ = _round_beside(sheet, shape, rounds)
        tag = shape.tag("round")
        if round_ is None or tag != str(round_.number):
            at = f"round {round_.number}" if round_ else "no row"
            findings.append(
                found_at("place", f"the {role} label of round {tag} stands beside {at}", shape)
            )
            continue
        wanted = {
            "round": str(round_.number),
            "count": count_text(round_),
            "yarn": round_.yarn,
        }[role]
        text = sheet.texts.get(shape.order, "")
        if text != wanted:
            findings.append(
                found_at("printed", f"the {role} printed beside round {round_.number} is wrong",
                         shape, wanted, text)
            )  # fmt: skip
        findings += _wrong_owner(sheet, shape)
        if (role, round_.number) in seen:
            findings.append(found_at("printed", f"round {tag} has its {role} twice", shape))
        seen.add((role, round_.number))
    findings += _missing(sheet, seen)
    return findings


def _wrong_owner(sheet: Sheet, shape: Shape) -> list[Disagreement]:
    if shape.tag("piece") != sheet.piece.piece:
        return [found_at("tag", "a label is tagged with another piece", shape,
                         sheet.piece.piece, shape.tag("piece"))]  # fmt: skip
    if sheet.map.size not in shape.tag("size").split(" / "):
        return [found_at("tag", "a label is tagged with another size", shape,
                         sheet.map.size, shape.tag("size"))]  # fmt: skip
    return []


def _missing(sheet: Sheet, seen: set[tuple[str, int]]) -> list[Disagreement]:
    return [
        Disagreement("printed", f"round {r.number} has no {role} printed beside it",
                     piece=sheet.piece.piece, round=r.number)
        for r in sheet.drawn
        if r.number > 0 and r.count > 0
        for role in ("round", "count")
        if (role, r.number) not in seen
    ]  # fmt: skip


def _round_beside(sheet: Sheet, shape: Shape, rounds: dict[int, Round]) -> Round | None:
    """The round of the row that a label or patch stands beside.

    On a crown the rings crowd the labels: there the label's own round counts if the label lies no
    more than one ring from it.
    """
    point = shape.box.centre
    levels = [row.level for row, _ in sheet.paired]
    gaps = sorted(abs(a - b) for a, b in pairwise(levels))
    gap = gaps[len(gaps) // 2] if gaps else 5.0
    if sheet.centre is None:
        row, round_ = min(sheet.paired, key=lambda pair: abs(pair[0].level - point.imag))
        return round_ if abs(row.level - point.imag) <= gap / 2 + 0.01 else None
    tag = shape.tag("round")
    own = rounds.get(int(tag)) if tag.isascii() and tag.isdigit() else None
    for row, round_ in sheet.paired:
        if round_ is own and abs(abs(point - sheet.centre) - row.level) <= 1.2 * gap:
            return own
    return None


def compare_colours(sheet: Sheet) -> list[Disagreement]:
    """Every patch of a row's colour: the yarn's own colour, beside the right row, one a round."""
    if not sheet.paired:
        return []
    by_number = {r.number: r for r in sheet.piece.rounds}
    levels = {r.number: row.level for row, r in sheet.paired}
    findings: list[Disagreement] = []
    seen: set[int] = set()
    for shape in sheet.page.shapes:
        if shape.tag("role") != "colour":
            continue
        first = shape.tag("round").partition("-")[0]
        round_ = by_number.get(int(first)) if first.isascii() and first.isdigit() else None
        if round_ is None:
            findings.append(found_at("colour", "a patch of colour names no round", shape))
            continue
        findings += wrong_colour(sheet.map.colour(round_.yarn), round_.yarn, shape)
        if sheet.centre is None and round_.number in levels:
            level = levels[round_.number]
            if not shape.box.top - 0.01 <= level <= shape.box.bottom + 0.01:
                findings.append(
                    found_at("place", "a patch of colour stands beside another row", shape)
                )
        seen.add(round_.number)
    if sheet.asked.kind != "cuff" or seen:
        findings += [
            Disagreement("colour", f"round {r.number} has no patch of its colour",
                         piece=sheet.piece.piece, round=r.number)
            for r in sheet.drawn
            if r.number > 0 and r.count > 0 and r.number not in seen
        ]  # fmt: skip
    return findings


def wrong_colour(wanted: str, yarn: str, shape: Shape) -> list[Disagreement]:
    """What a patch has wrong: its paint, or the yarn it is tagged with."""
    findings = []
    if colour(wanted) != shape.fill:
        findings.append(found_at("colour", f"a patch has not yarn {yarn}'s colour", shape,
                                 colour(wanted), shape.fill))  # fmt: skip
    if shape.tag("yarn") != yarn:
        findings.append(
            found_at("tag", "a patch is tagged with another yarn", shape, yarn, shape.tag("yarn"))
        )
    return findings
