"""What stands beside the rows of a stitch chart: numbers, counts, yarns."""

from __future__ import annotations

from gussetry.stitchmap import Round
from gussetry.verify.charts import Sheet
from gussetry.verify.findings import Disagreement
from gussetry.verify.hatching import is_hatched, paper
from gussetry.verify.labels import found_at
from gussetry.verify.sections import compare_sections
from gussetry.verify.standing import beside_row, row_gap
from gussetry.verify.svg import Page, Shape, colour
from gussetry.verify.words import count_text

_NEEDED = ("round", "count", "yarn")
_FOUNDATION = ("count", "yarn")
_SEAM = ("yarn",)


def compare_labels(sheet: Sheet) -> list[Disagreement]:
    """Every round number, count and yarn letter held against the row it stands in."""
    if not sheet.paired:
        return []
    rounds = {r.number: r for r in sheet.drawn}
    parted, findings = compare_sections(sheet)
    seen: set[tuple[str, int]] = set()
    summed: set[str] = set()
    for shape in sheet.page.shapes:
        role = shape.tag("role")
        if role not in _NEEDED:
            continue
        tag = shape.tag("round")
        if role == "yarn" and "-" in tag:
            findings += _beside_sum(sheet, shape)
            summed.add(tag)
            continue
        round_ = beside_row(sheet, shape, rounds)
        if round_ is None or tag != str(round_.number):
            at = f"round {round_.number}" if round_ else "no row"
            findings.append(
                found_at("place", f"the {role} label of round {tag} stands beside {at}", shape)
            )
            continue
        wanted = {
            "round": _number(sheet, round_),
            "count": str(round_.count) if round_.number in parted else count_text(round_),
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
    findings += [
        Disagreement("printed", f"rounds {tag} have no yarn printed beside them",
                     piece=sheet.piece.piece, round=said.first)
        for _, said in sheet.sums.whole
        if (tag := f"{said.first}-{said.last}") not in summed
    ]  # fmt: skip
    return findings


def _number(sheet: Sheet, round_: Round) -> str:
    """The number beside a round: in brackets where all that is drawn of it stands on a sheet
    before too, so that nobody works it again. A chart of several sizes has lists in brackets."""
    row = next((row for row, own in sheet.paired if own is round_), None)
    drawn = [s for s in row.items if s.tag("role") != "sum"] if row else []
    again = bool(drawn) and all(s.tag("repeat") for s in drawn) and len(sheet.asked.maps) == 1
    return f"({round_.number})" if again else str(round_.number)


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
        for role in _due(r)
        if (role, r.number) not in seen
    ]  # fmt: skip


def _due(round_: Round) -> tuple[str, ...]:
    """What stands beside a round that is drawn."""
    if round_.phase == "seam":
        return _SEAM
    if round_.count == 0:
        return ()
    return _NEEDED if round_.number else _FOUNDATION


def _beside_sum(sheet: Sheet, shape: Shape) -> list[Disagreement]:
    """What a yarn's letter or patch beside a sum of rounds has wrong."""
    tag = shape.tag("round")
    for label, said in sheet.sums.whole:
        if tag != f"{said.first}-{said.last}":
            continue
        findings = []
        if abs(label.box.centre.imag - shape.box.centre.imag) > row_gap(sheet) / 2:
            findings.append(found_at("place", f"what belongs to rounds {tag} stands beside others",
                                     shape))  # fmt: skip
        for yarn in _yarns(sheet, said.first, said.last):
            if shape.tag("role") == "colour":
                findings += wrong_colour(sheet.page, sheet.map.colour(yarn), yarn, shape)
            elif sheet.texts.get(shape.order, "") != yarn:
                findings.append(found_at("printed", f"the yarn of rounds {tag} is wrong", shape,
                                         yarn, sheet.texts.get(shape.order, "")))  # fmt: skip
        return findings
    return [found_at("place", f"there is no sum of rounds {tag}", shape)]


def _yarns(sheet: Sheet, first: int, last: int) -> list[str]:
    """The yarns of the rounds from first to last, each once."""
    return list(dict.fromkeys(r.yarn for r in sheet.piece.rounds if first <= r.number <= last))


def compare_colours(sheet: Sheet) -> list[Disagreement]:
    """Every patch of a row's colour: the yarn's own colour, beside the right row, one a round."""
    if not sheet.paired:
        return []
    rows = {str(r.number): r for _, r in sheet.paired}
    by_number = {r.number: r for r in sheet.drawn}
    findings: list[Disagreement] = []
    seen: set[str] = set()
    for shape in sheet.page.shapes:
        if shape.tag("role") != "colour":
            continue
        tag = shape.tag("round")
        seen.add(tag)
        if "-" in tag:
            findings += _beside_sum(sheet, shape)
            continue
        if tag not in rows:
            findings.append(found_at("colour", "a patch of colour names no round drawn", shape))
            continue
        round_ = rows[tag]
        findings += wrong_colour(sheet.page, sheet.map.colour(round_.yarn), round_.yarn, shape)
        if sheet.centre is None and beside_row(sheet, shape, by_number) is not round_:
            findings.append(found_at("place", "a patch of colour stands beside another row", shape))
    needed = {str(r.number): r.number for r in sheet.drawn if "yarn" in _due(r)}
    for _, said in sheet.sums.whole:
        needed[f"{said.first}-{said.last}"] = said.first
    return findings + [
        Disagreement("colour", f"round {tag} has no patch of its colour",
                     piece=sheet.piece.piece, round=number)
        for tag, number in needed.items()
        if tag not in seen
    ]  # fmt: skip


def compare_order(sheet: Sheet) -> list[Disagreement]:
    """Sums of whole rounds that do not stand above the rounds before them, below those after."""
    return [
        found_at("place", f"the sum of rounds {said.first} to {said.last} stands out of order",
                 label)
        for label, said in sheet.sums.whole
        if any(
            (row.level > label.box.centre.imag) != (round_.number < said.first)
            for row, round_ in sheet.paired
        )
    ]  # fmt: skip


def wrong_colour(page: Page, wanted: str, yarn: str, shape: Shape) -> list[Disagreement]:
    """What a patch has wrong: its paint, or the yarn it is tagged with. On a drawing that tells
    yarns by hatches every patch has the colour of the paper."""
    findings = []
    due = paper(page) if is_hatched(page) else colour(wanted)
    if due != shape.fill:
        what = "the paper's" if is_hatched(page) else f"yarn {yarn}'s"
        findings.append(found_at("colour", f"a patch has not {what} colour", shape,
                                 due, shape.fill))  # fmt: skip
    if shape.tag("yarn") != yarn:
        findings.append(
            found_at("tag", "a patch is tagged with another yarn", shape, yarn, shape.tag("yarn"))
        )
    return findings
