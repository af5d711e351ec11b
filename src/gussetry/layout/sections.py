"""The parts of a count whose sums stand below their row: each under its own stitches, between the
lines that lead up to the row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Literal, NamedTuple

from gussetry.chart import Label
from gussetry.layout.courses import Beside, Course, Placed
from gussetry.layout.parts import Sheet
from gussetry.layout.rows import Standing
from gussetry.layout.tags import parts_of_count
from gussetry.stitchmap import Piece, sections
from gussetry.units import Point

OFF = 1.1
"""White between a line and the number beside it, mm."""

Reach = tuple[float, float]
"""How far something reaches from the axis: so many mm, and so many cells."""


class Flank(NamedTuple):
    """How much room is needed beyond the lines that lead up to a row, where the round begins and
    where it ends."""

    before: Reach
    after: Reach


def flanked(sheet: Sheet, courses: Sequence[Course], sides: Sequence[Beside]) -> Iterator[Flank]:
    """The room for the parts of every count outside its lines, and for sums that stand in one line
    with them."""
    gap = sheet.style.size("count")
    below = [None, *courses]
    for lower, upper, side in zip(below, courses, sides, strict=False):
        texts = parts_of_count(upper.lead.round)
        if not texts or upper.lead.several:
            continue
        lines = _lines(_at_once(lower), _at_once(upper))
        widths = [OFF + sheet.width_of("count", words) for words in (texts[0], texts[-1])]
        for nth, told in enumerate((side.before, side.after)):
            if told and not side.under.over:
                widths[nth] += gap + max(sheet.width_of("sum", said.words) for said in told)
        right, left = (max(lines[0], default=0.0), min(lines[1], default=0.0))
        yield Flank((widths[0], right), (widths[1], -left))


def _at_once(course: Course | None) -> Standing | None:
    """A course with its axis at 0 and cells of 1."""
    if course is None or course.lead.several:
        return None
    return Standing(course.lead, 0.0, 0.0, 1.0, 1.0)


def _lines(lower: Standing | None, upper: Standing | None) -> tuple[list[float], list[float]]:
    """From where to where across the page the lines run that lead up to a row, or where they would
    where none does: the one in the order of working first, then the other."""
    assert upper is not None
    work, frames = upper.row.round.work, upper.frames
    heads = lower.heads() if lower else {}
    marks = [n for name, n in lower.row.round.markers if name.endswith("marker")] if lower else []
    ends = [[i for i, op in enumerate(work) if op.into[:1] == (n,)] for n in marks]
    if len(ends) != 2:
        ends = [[i] for i in _marked(upper)]
    found: tuple[list[float], list[float]] = ([], [])
    for own, xs in zip(ends, found, strict=True):
        for i in own:
            if i in frames:
                xs.append(frames[i].origin.x)
                xs += [heads[p].x for p in work[i].into if isinstance(p, int) and p in heads]
    return found


def _marked(place: Standing) -> tuple[int, int]:
    """The entries that part a count: the two marked, or the first and last that is set aside."""
    round_ = place.row.round
    work = round_.work
    if sections(round_) is None:
        aside = [i for i, op in enumerate(work) if op.held or op.do == "hold"]
        return aside[0], aside[-1]
    made = [i for i, op in enumerate(work) for _ in range(op.makes)]
    first, second = (n for name, n in round_.markers if name.endswith("marker"))
    return made[first], made[second]


def _drawn(place: Standing) -> tuple[list[float], list[float], list[float]]:
    """Where across the page the stitches of each part stand that are drawn."""
    found: tuple[list[float], list[float], list[float]] = ([], [], [])
    first, last = _marked(place)
    for i, frame in place.frames.items():
        bridge = i in place.row.raised or place.row.round.work[i].do == "join"
        if i not in (first, last) and not bridge:
            found[0 if i < first else 1 if i < last else 2].append(frame.origin.x)
    return found


def draw_sections(sheet: Sheet, piece: Piece, placed: Sequence[Placed], low: float) -> None:
    """The parts of every count so far below their rows, mm, each between the lines and near to
    them."""
    before: list[Placed | None] = [None, *placed]
    for lower, upper in pairwise([*before]):
        if upper is None or upper.course.lead.several:
            continue
        texts = parts_of_count(upper.course.lead.round)
        if not texts:
            continue
        stands = lower.standing if lower and not lower.course.lead.several else None
        lines, drawn = _lines(stands, upper.standing), _drawn(upper.standing)
        tags = (("data-role", "section"), *upper.course.tags(sheet, piece))
        y = upper.standing.y + low + sheet.drop("count")
        for nth, (words, xs) in enumerate(zip(texts, drawn, strict=True)):
            if words and xs:
                x, anchor = _spot(nth, lines, xs)
                sheet.labels.append(Label("count", words, Point(x, y), anchor, tags=tags))


def _spot(
    part: int, lines: tuple[list[float], list[float]], xs: Sequence[float]
) -> tuple[float, Literal["start", "middle", "end"]]:
    """Where a part of a count stands: beside its line, between two in their middle, else under the
    stitches `xs` that it counts."""
    if part == 0 and lines[0]:
        return max(lines[0]) + OFF, "start"
    if part == 2 and lines[1]:
        return min(lines[1]) - OFF, "end"
    right = min(lines[0], default=max(xs)) if part == 1 else max(xs)
    left = max(lines[1], default=min(xs)) if part == 1 else min(xs)
    return (left + right) / 2, "middle"
