"""The parts of a count that stand below its row, each under the stitches that it counts."""

from __future__ import annotations

import math
from collections.abc import Sequence

from gussetry.stitchmap import Round, left_of_made, sections
from gussetry.verify.charts import Sheet
from gussetry.verify.findings import Disagreement
from gussetry.verify.labels import found_at
from gussetry.verify.rows import Row
from gussetry.verify.standing import beside_row
from gussetry.verify.svg import Shape
from gussetry.verify.words import parts_of_count


def compare_sections(sheet: Sheet) -> tuple[set[int], list[Disagreement]]:
    """The rounds whose counts are told in parts, and what these have wrong: a part that is missing
    though stitches of it are drawn, another number, one that stands under the stitches of
    another."""
    rounds = {r.number: r for r in sheet.drawn}
    found: dict[int, list[Shape]] = {}
    findings: list[Disagreement] = []
    for shape in sheet.page.shapes:
        if shape.tag("role") != "section":
            continue
        round_ = beside_row(sheet, shape, rounds)
        if round_ is None or str(round_.number) != shape.tag("round"):
            findings.append(found_at("place", "a part of a count stands beside another row", shape))
            continue
        if not parts_of_count(round_):
            findings.append(found_at("printed", "a count that has no parts is told in parts", shape,
                                     found=sheet.texts.get(shape.order, "")))  # fmt: skip
            continue
        found.setdefault(round_.number, []).append(shape)
    for row, round_ in sheet.paired:
        if round_.number in found:
            findings += _wrong(sheet, row, round_, found[round_.number])
    parted = set(found)
    if found:
        # Of a gap that is parted over sheets one may draw but what is set aside.
        parted |= {
            round_.number
            for row, round_ in sheet.paired
            if parts_of_count(round_) and not any(_drawn(row, round_).values())
        }
    return parted, findings


def _wrong(sheet: Sheet, row: Row, round_: Round, labels: Sequence[Shape]) -> list[Disagreement]:
    """What the parts of one count have wrong."""
    way = 1 if sheet.left else -1
    labels = sorted(labels, key=lambda shape: way * shape.box.centre.real)
    said = [sheet.texts.get(shape.order, "") for shape in labels]
    drawn = _drawn(row, round_)
    parts = zip(parts_of_count(round_), _bounds(sheet, row, round_), drawn.values(), strict=True)
    due = [(part, bound) for part, bound, shown in parts if shown]
    if said != [part for part, _ in due]:
        return [found_at("printed", f"the parts of the count of round {round_.number} are wrong",
                         labels[0], " ".join(part for part, _ in due), " ".join(said))]  # fmt: skip
    return [
        found_at("place", "a part of a count stands under other stitches", label)
        for label, (_, (low, high)) in zip(labels, due, strict=True)
        if not low <= way * label.box.centre.real <= high or label.box.centre.imag < row.level
    ]


def _bounds(sheet: Sheet, row: Row, round_: Round) -> list[tuple[float, float]]:
    """From where to where across the page each part may stand, in the way of the work: up to the
    stitches that part them where these are drawn."""
    way = 1 if sheet.left else -1
    first, last, _ = _edges(round_)
    places = {
        shape.tag("index"): way * shape.box.centre.real
        for shape in row.items
        if shape.tag("role") != "sum"
    }
    begin, end = places.get(str(first), -math.inf), places.get(str(last), math.inf)
    return [(-math.inf, begin if begin > -math.inf else math.inf), (begin, end),
            (end if end < math.inf else -math.inf, math.inf)]  # fmt: skip


def _drawn(row: Row, round_: Round) -> dict[str, bool]:
    """Whether stitches of a part are drawn, by which part it is: those that part it, and a bridge,
    are of none."""
    first, last, gap = _edges(round_)
    entries = [
        int(shape.tag("index"))
        for shape in row.items
        if shape.tag("role") != "sum" and shape.tag("index").isascii()
        and shape.tag("index").isdigit()
    ]  # fmt: skip
    beyond = [i for i in entries if i > last]
    if gap:
        beyond = [i for i in beyond if i >= len(round_.work) or not _bridges(round_, i)]
    return {
        "before": any(i < first for i in entries),
        "between": not gap and any(first < i < last for i in entries),
        "after": bool(beyond),
    }


def _bridges(round_: Round, entry: int) -> bool:
    op = round_.work[entry]
    return op.do == "join" or (op.do == "ch" and op.counts)


def _edges(round_: Round) -> tuple[int, int, bool]:
    """The entries between which the middle part lies, and whether they are those of a gap."""
    if sections(round_) is None:
        aside = [i for i, op in enumerate(round_.work) if op.held or op.do == "hold"]
        return aside[0], aside[-1], True
    numbers = left_of_made(round_)
    made = [i for i, op in enumerate(round_.work) for _ in range(op.makes)]
    marks = (round_.marker("first marker"), round_.marker("second marker"))
    first, second = (made[numbers.index(mark)] for mark in marks)
    return first, second, False
