"""A crown's rays: the start of its rounds, and its marked sides, unrolled as well."""

from __future__ import annotations

import cmath
from collections.abc import Iterator, Sequence
from itertools import pairwise

from gussetry.stitchmap import Round, left_of_made
from gussetry.verify.charts import Sheet, unrolled
from gussetry.verify.findings import Disagreement
from gussetry.verify.paths import flattened
from gussetry.verify.rows import Row
from gussetry.verify.svg import Shape

BESIDE = 0.35  # pitches by which a ray may miss the place between two stitches


def with_role(sheet: Sheet, role: str) -> list[Shape]:
    """The chart's lines of a role, as far as they can be seen."""
    return [shape for shape in sheet.page.shapes if shape.tag("role") == role and shape.inks]


def ends_of(shape: Shape) -> tuple[complex, complex]:
    """The first and the last point of a line."""
    points = [point for sub in shape.subs for point in flattened(sub)]
    return points[0], points[-1]


def compare_rays(sheet: Sheet) -> list[Disagreement]:
    """What a crown's rays have wrong, or its lines where it is unrolled; nothing of a chart that is
    no crown."""
    if sheet.centre is not None:
        return [*_start(sheet), *_sides(sheet)]
    return _lines(sheet) if unrolled(sheet.page) else []


def _lines(sheet: Sheet) -> list[Disagreement]:
    """The marked sides of an unrolled crown: a line through each row that draws the marked stitch,
    half a cell before it, and no other."""
    lines = with_role(sheet, "marker")
    findings = []
    for row, round_ in sheet.paired:
        through = [x for line in lines for x in _passing(line, row.level)]
        made = [i for i, op in enumerate(round_.work) for _ in range(op.makes)]
        numbers = left_of_made(round_)
        due = 0
        for name, left in round_.markers:
            index = str(made[numbers.index(left)]) if left in numbers else ""
            shape = next((s for s in row.items if s.tag("index") == index), None)
            if shape is None or shape.tag("role") == "sum":
                continue
            due += 1
            place = shape.box.centre.real + (-1 if sheet.left else 1) * sheet.pitch / 2
            if not any(abs(x - place) < BESIDE * sheet.pitch for x in through):
                findings.append(
                    Disagreement("marker", f"the {name} of round {round_.number} is not shown",
                                 piece=sheet.piece.piece, round=round_.number)
                )  # fmt: skip
        if len(through) > due:
            findings.append(_too_many(sheet, round_))
    return findings


def _passing(line: Shape, height: float) -> Iterator[float]:
    """Where a line passes a height on the page."""
    for sub in line.subs:
        for a, b in pairwise(flattened(sub)):
            if (a.imag - height) * (b.imag - height) < 0:
                yield a.real + (b.real - a.real) * (a.imag - height) / (a.imag - b.imag)


def _too_many(sheet: Sheet, round_: Round) -> Disagreement:
    return Disagreement(
        "marker", f"round {round_.number} has more marks than sides",
        piece=sheet.piece.piece, round=round_.number,
    )  # fmt: skip


def _start(sheet: Sheet) -> list[Disagreement]:
    """The crown's start ray: straight up from the rings' centre."""
    assert sheet.centre is not None
    for line in with_role(sheet, "start"):
        a, b = ends_of(line)
        if (
            max(abs(a.real - sheet.centre.real), abs(b.real - sheet.centre.real))
            < 0.25 * sheet.pitch
            and max(a.imag, b.imag) < sheet.centre.imag
        ):
            return []
    return [Disagreement("start", "the crown's start is not marked", piece=sheet.piece.piece)]


def _sides(sheet: Sheet) -> list[Disagreement]:
    """The crown's marked sides: a ray that passes each ring just before the marked stitch, and no
    other."""
    rays = with_role(sheet, "marker")
    findings = []
    for row, round_ in sheet.paired:
        through = [place for ray in rays for place in crossings(sheet, ray, row.level)]
        for name, left in round_.markers:
            place = before_stitch(sheet, row, round_, left)
            if place is None or not any(abs(m - place) < BESIDE * sheet.pitch for m in through):
                findings.append(
                    Disagreement("marker", f"the {name} of round {round_.number} is not shown",
                                 piece=sheet.piece.piece, round=round_.number)
                )  # fmt: skip
        if len(through) > len(round_.markers):
            findings.append(_too_many(sheet, round_))
    return findings


def crossings(sheet: Sheet, ray: Shape, radius: float) -> Iterator[complex]:
    """Where a ray passes a ring, seen from the centre."""
    assert sheet.centre is not None
    for sub in ray.subs:
        points = [point - sheet.centre for point in flattened(sub)]
        for a, b in pairwise(points):
            if (abs(a) - radius) * (abs(b) - radius) < 0:
                # As good as straight to the centre: nearer than a tenth of a cell.
                yield a + (b - a) * (abs(a) - radius) / (abs(a) - abs(b))


def before_stitch(sheet: Sheet, row: Row, round_: Round, left: int) -> complex | None:
    """On a ring the place half a cell before a stitch by its *left* number, seen from the centre;
    None where the ring lacks it."""
    numbers = left_of_made(round_)
    made_by: Sequence[int] = [
        index for index, op in enumerate(round_.work) for _ in range(op.makes)
    ]
    if left not in numbers or len(row.items) != len(round_.work) or len(row.items) < 2:
        return None
    assert sheet.centre is not None
    index = made_by[numbers.index(left)]
    here, beside = (
        row.items[i].box.centre - sheet.centre for i in (index, index - 1 if index else 1)
    )
    # From the round's first stitch back over its other side: its neighbour there is its last.
    half = cmath.sqrt(here / beside) if index else cmath.sqrt(beside / here)
    return row.level * here / abs(here) / (half / abs(half))
