"""What the first row of a chart stands on, and the ways of turned rows, read from the drawing."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median

from gussetry.stitchmap import Op, Round
from gussetry.verify.charts import Sheet
from gussetry.verify.findings import Disagreement
from gussetry.verify.labels import found_at
from gussetry.verify.paths import flattened
from gussetry.verify.rows import Row
from gussetry.verify.svg import Shape

_NEAR = 0.35  # pitches by which a number may stand beside its stitch
_EDGES = ["arm edge", "hand edge"]


def compare_ground(sheet: Sheet) -> list[Disagreement]:
    """What a thumb's round 1 is said to be worked into, and how a cuff in turned rows is said to
    run."""
    if not sheet.paired:
        return []
    # On a chart of several sheets or sizes the ground is that of the lowest row of all.
    row, first = sheet.paired[0]
    lowest = max(_level(s) for s in sheet.page.shapes if "stitch" in s.classes)
    grounded = first == sheet.piece.rounds[0] and lowest - row.level < _NEAR * sheet.pitch
    if sheet.asked.kind == "thumb" and grounded:
        return [*_crook(sheet), *_held(sheet)]
    if sheet.asked.kind == "cuff" and sheet.piece.worked == "rows":
        return [*_ways(sheet), *(_edges(sheet) if grounded else ())]
    return []


def _labels(sheet: Sheet, role: str) -> list[Shape]:
    """The labels of a role, in the order of working of a round."""
    found = [shape for shape in sheet.page.shapes if shape.tag("role") == role]
    return sorted(found, key=lambda s: s.box.centre.real * (1 if sheet.left else -1))


def _shown(row: Row, first: Round) -> list[tuple[Shape, Op]]:
    """The stitches of the row that are drawn, not summed, with their operations."""
    stitches = [shape for shape in row.items if shape.tag("role") != "sum"]
    work = dict((str(index), op) for index, op in enumerate(first.work))
    return [(s, work[s.tag("index")]) for s in stitches if s.tag("index") in work]


def _places(work: Sequence[Op], kind: str) -> list[int]:
    """The numbers of the places of a kind, in the order of working."""
    named = [p for op in work for p in op.into]
    return list(dict.fromkeys(p[1] for p in named if isinstance(p, tuple) and p[0] == kind))


def _crook(sheet: Sheet) -> list[Disagreement]:
    """The crook's numbers below round 1: each once, in the order of working, under its stitch."""
    row, first = sheet.paired[0]
    shown = _shown(row, first)
    labels = _labels(sheet, "crook")
    drawn = _places([op for _, op in shown], "crook")
    wanted = [str(n + 1) for n in _places(first.work, "crook") if n in drawn]
    said = [sheet.texts.get(label.order, "") for label in labels]
    if said != wanted:
        return [Disagreement("crook", "the crook is numbered otherwise", piece=sheet.piece.piece,
                             round=first.number, expected=" ".join(wanted),
                             found=" ".join(said))]  # fmt: skip
    under = {text: label for text, label in zip(said, labels, strict=True)}
    findings = []
    for shape, op in shown:
        for number in _places([op], "crook"):
            label = under[str(number + 1)]
            beside = abs(label.box.centre.real - shape.box.centre.real)
            if label.box.top < row.level or (len(op.into) == 1 and beside > _NEAR * sheet.pitch):
                findings.append(found_at("crook", "a number of the crook stands elsewhere", label))
    return findings


def _held(sheet: Sheet) -> list[Disagreement]:
    """The words below round 1: the crook's name, and how many held stitches there are."""
    row, first = sheet.paired[0]
    drawn = [op for _, op in _shown(row, first)]
    held = len(_places(first.work, "held"))
    wanted = {"crook"} if _places(drawn, "crook") else set()
    told = {f"{held} held stitches", f"{held} held"} if _places(drawn, "held") else set()
    said = [sheet.texts.get(label.order, "") for label in _labels(sheet, "place")]
    right = set(said) - told == wanted and len(said) == len(wanted) + bool(told)
    if right:
        return []
    return [Disagreement("place", "what round 1 is worked into is named otherwise",
                         piece=sheet.piece.piece, round=first.number,
                         expected=f"{held} held", found=", ".join(said))]  # fmt: skip


def _rightwards(sheet: Sheet, round_: Round) -> bool:
    """Whether a turned row runs to the right on the page."""
    return (round_.number % 2 == 0) != sheet.left


def _level(shape: Shape) -> float:
    return shape.box.centre.imag


def _ways(sheet: Sheet) -> list[Disagreement]:
    """Each row's arrow: one at its height, before its first stitch, pointing at it."""
    lines = [s for s in sheet.page.shapes if s.tag("role") == "direction" and s.inks]
    heads = [s for s in sheet.page.shapes if s.tag("role") == "arrow"]
    findings = []
    for row, round_ in sheet.paired:
        at = [s for s in lines if abs(_level(s) - row.level) < _NEAR * sheet.pitch]
        tips = [s for s in heads if abs(_level(s) - row.level) < _NEAR * sheet.pitch]
        if len(at) != 1 or len(tips) != 1:
            findings.append(
                Disagreement("direction", f"row {round_.number} has not one arrow",
                             piece=sheet.piece.piece, round=round_.number)
            )  # fmt: skip
        elif not _leads(sheet, row, round_, (at[0], tips[0])):
            findings.append(found_at("direction", "the arrow points the wrong way", at[0]))
    return findings


def _leads(sheet: Sheet, row: Row, round_: Round, arrow: tuple[Shape, Shape]) -> bool:
    """Whether an arrow, its line and its head, leads into the row where it begins."""
    line, head = arrow
    xs = [point.real for sub in line.subs for point in flattened(sub)]
    tip = head.box.centre.real
    stitches = [s.box.centre.real for s in row.items if s.tag("role") != "sum"]
    if _rightwards(sheet, round_):
        return max(xs) < min(stitches) and tip > median(xs)
    return min(xs) > max(stitches) and tip < median(xs)


def _edges(sheet: Sheet) -> list[Disagreement]:
    """The names of a sideways cuff's edges: the hand's on the side where the seam ends."""
    labels = _labels(sheet, "place")
    said = [sheet.texts.get(label.order, "") for label in labels]
    # In the order of working of an odd row, which ends where a seam after an even row does.
    wanted = _EDGES if sheet.piece.rounds[-1].number % 2 else _EDGES[::-1]
    # The foundation is made towards the right edge: of its part that is drawn.
    row, first = sheet.paired[0]
    tags = {s.tag("index") for s in row.items}
    ends = (str(len(first.work) - 1) in tags, "0" in tags)
    wanted = [name for name, drawn in zip(wanted, ends, strict=True) if drawn]
    low = max(row.level for row in sheet.rows)
    if said == wanted and all(_level(label) > low for label in labels):
        return []
    return [Disagreement("place", "the cuff's edges are named otherwise",
                         piece=sheet.piece.piece, expected=", ".join(wanted),
                         found=", ".join(said))]  # fmt: skip
