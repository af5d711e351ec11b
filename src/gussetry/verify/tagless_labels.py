"""Labels and patches beside a chart's rows without tags: numbers, counts, yarns, the crook."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import chain
from statistics import median

from gussetry.stitchmap import Round
from gussetry.verify.charts import Sheet
from gussetry.verify.glyphs import contours_of, em_of
from gussetry.verify.levels import in_lines, level
from gussetry.verify.rows import Row
from gussetry.verify.standing import beside_row
from gussetry.verify.svg import Shape
from gussetry.verify.tagless_parts import Parts

_FIGURES = re.compile(r"[\d ·m=]*\d[\d ·m=]*|\d+ · (?:\d+ )?(?:join|ch) · \d+ = \d+|\(\d+\)")
_LARGER = 1.15  # of the usual letters: those of a title
_LINE = 0.9  # mm in height by which what stands beside one ring may differ
_CHIP = 12.0  # mm: a patch of a yarn's colour beside a row is no larger


def infer_labels(parts: Parts, sheet: Sheet) -> None:
    """Roles and rounds of what stands beside the rows; all that is left is a title or a note."""
    figures = [
        label
        for label in parts.labels
        if not parts.role(label) and _FIGURES.fullmatch(parts.text(label))
    ]
    chips = [patch for patch in parts.patches if patch.box.size < _CHIP]
    letters = [label for label in parts.labels if _is_letter(parts, sheet, label, chips)]
    if sheet.centre is None:
        _tag_grid(parts, sheet, figures)
        for mark in (*chips, *letters):
            _tag_yarn(parts, sheet, mark, _owner(sheet, mark), mark in chips)
    else:
        _tag_rings(parts, sheet, figures, chips, letters)
    _tag_ticks(parts, sheet)
    for said, text in sheet.sums.whole:
        span = f"{text.first}-{text.last}"
        parts.tag(said, piece=sheet.piece.piece, size=sheet.map.size, round=span)


def tag_title(parts: Parts) -> None:
    """The title: what stands highest, in larger letters than usual, in one line or more."""
    labels = sorted(parts.labels, key=level)
    ems = [_em(parts, label) for label in labels]
    if not ems or ems[0] < _LARGER * median(ems):
        return
    for label, em in zip(labels, ems, strict=True):
        if abs(em - ems[0]) > 0.03 * ems[0]:
            break
        parts.tag(label, role="title")


def tag_notes(parts: Parts) -> None:
    """Labels that are nothing else."""
    for label in parts.labels:
        if not parts.role(label):
            parts.tag(label, role="note")


def _em(parts: Parts, label: Shape) -> float:
    return em_of(contours_of(label.subs), parts.text(label)) or 0.0


def _is_letter(parts: Parts, sheet: Sheet, label: Shape, chips: Sequence[Shape]) -> bool:
    """Whether a label is the letter of a yarn: it stands in a patch, or says no more than one."""
    if parts.role(label) or len(parts.text(label)) > 3:
        return False
    if any(chip.box.holds(label.box.centre) for chip in chips):
        return True
    return parts.text(label) in {letter for letter, _, _ in sheet.map.yarns}


def _owner(sheet: Sheet, shape: Shape) -> str:
    """The round or the sum of rounds that a patch or a letter stands nearest to."""
    height = level(shape)
    near = [(abs(row.level - height), str(round_.number)) for row, round_ in sheet.paired]
    near += [
        (abs(level(label) - height), f"{said.first}-{said.last}")
        for label, said in sheet.sums.whole
    ]
    return min(near)[1] if near else ""


def _tag_yarn(parts: Parts, sheet: Sheet, shape: Shape, owner: str, is_chip: bool) -> None:
    parts.tag(shape, role="colour" if is_chip else "yarn", piece=sheet.piece.piece, round=owner,
              size=sheet.map.size)  # fmt: skip
    first = owner.partition("-")[0]
    yarns = [r.yarn for r in sheet.piece.rounds if str(r.number) == first]
    if is_chip and yarns:
        parts.tag(shape, yarn=yarns[0])


def _tag_figure(parts: Parts, sheet: Sheet, label: Shape, role: str, round_: Round | None) -> None:
    parts.tag(label, role=role, piece=sheet.piece.piece, size=sheet.map.size)
    if round_ is not None:
        parts.tag(label, round=str(round_.number))


# --- rows of a grid ---------------------------------------------------------------------------


def _tag_grid(parts: Parts, sheet: Sheet, figures: Sequence[Shape]) -> None:
    rounds = {r.number: r for r in sheet.drawn}
    rows = {round_.number: row for row, round_ in sheet.paired}
    own: dict[int, list[Shape]] = {}
    for label in figures:
        round_ = beside_row(sheet, label, rounds) if rows else None
        if round_ is not None:
            own.setdefault(round_.number, []).append(label)
        elif sheet.asked.kind == "thumb" and _is_ground(sheet, label):
            _tag_figure(parts, sheet, label, "crook", sheet.paired[0][1])
    for number, labels in own.items():
        _tag_beside(parts, sheet, rows[number], rounds[number], labels)


def _is_ground(sheet: Sheet, label: Shape) -> bool:
    """Whether a label stands below the lowest row, where a thumb's first round is worked into."""
    if not sheet.paired:
        return False
    low = sheet.paired[0][0].level
    return 0 < level(label) - low < 4 * sheet.pitch


def _tag_beside(
    parts: Parts, sheet: Sheet, row: Row, round_: Round, labels: Sequence[Shape]
) -> None:
    """The number where the round begins, the count where it ends, the crook's numbers between."""
    turned = sheet.piece.worked == "rows" and round_.number % 2 == 0
    way = 1 if turned != sheet.left else -1
    stitches = [s for s in row.items if s.tag("role") != "sum"] or list(row.items)
    begin = min(s.box.centre.real * way for s in stitches)
    size = max(s.box.size for s in stitches)
    left = []
    for label in sorted(labels, key=lambda label: label.box.centre.real * way):
        ahead = label.box.centre.real * way < begin
        if ahead and abs(level(label) - row.level) < 0.5 * size and round_.number:
            _tag_figure(parts, sheet, label, "round", round_)
        else:
            left.append(label)
    # The count stands at the row's height, or where there is no room below its end.
    beside = [s for s in left if abs(level(s) - row.level) < 0.3 * size]
    low, high = _crook_zone(sheet)
    if not beside and row.level < low:
        beside = left[-1:]
    for label in left:
        crook = low > level(label) > high and label not in beside
        role = "crook" if crook else "count" if label in beside else "section"
        _tag_figure(parts, sheet, label, role, round_)


def _crook_zone(sheet: Sheet) -> tuple[float, float]:
    """Between which heights on the page the crook's numbers stand: on a gusset over the division
    and under the next row, on a thumb below its first round."""
    levels = [row.level for row, _ in sheet.paired]
    for place, (_, round_) in enumerate(sheet.paired):
        if sheet.asked.kind == "gusset" and round_.phase == "division":
            return levels[place], min([*levels[place + 1 :], 0.0][:1])
        if sheet.asked.kind == "thumb" and round_.number == 1:
            return levels[place] + 4 * sheet.pitch, levels[place]
    return 0.0, 0.0


# --- rings of a crown -------------------------------------------------------------------------


def _tag_rings(
    parts: Parts,
    sheet: Sheet,
    figures: Sequence[Shape],
    chips: Sequence[Shape],
    letters: Sequence[Shape],
) -> None:
    """What stands along the start ray, line by line from the outermost ring in."""
    assert sheet.centre is not None
    of_chips = {chip.order for chip in chips}
    of_letters = {letter.order for letter in letters}
    lines = in_lines([*figures, *chips, *letters], _LINE)
    counted = [(row, r) for row, r in sheet.paired if r.count > 0]
    rounds = {str(r.number): r for _, r in counted}
    for place, line in enumerate(lines):
        numbers = [parts.text(s).strip("()") for s in line]
        said = [rounds[number] for number in numbers if number in rounds]
        if len(lines) == len(counted):
            round_: Round | None = counted[place][1]
        elif len(said) == 1:
            round_ = said[0]
        else:
            up = sheet.centre.imag - level(line[0])
            nearest = min(counted, key=lambda pair: abs(pair[0].level - up), default=None)
            round_ = nearest[1] if nearest else None
        for shape in line:
            if shape.order in of_chips or shape.order in of_letters:
                owner = str(round_.number) if round_ else ""
                _tag_yarn(parts, sheet, shape, owner, shape.order in of_chips)
            else:
                ahead = (shape.box.centre.real > sheet.centre.real) != sheet.left
                _tag_figure(parts, sheet, shape, "round" if ahead else "count", round_)


# --- boxes to tick ----------------------------------------------------------------------------


def _tag_ticks(parts: Parts, sheet: Sheet) -> None:
    """Each box to tick gets the round that it stands nearest to; several beside one sum get its
    rounds, one each."""
    boxes: dict[str, list[Shape]] = {}
    for shape in parts.page.shapes:
        if parts.role(shape) == "tick":
            boxes.setdefault(_owner(sheet, shape), []).append(shape)
    for owner, own in boxes.items():
        first, _, last = owner.partition("-")
        each = range(int(first), int(last) + 1) if last else ()
        for place, shape in enumerate(chain.from_iterable(in_lines(own, _LINE))):
            number = str(each[place]) if len(own) > 1 and place < len(each) else owner
            parts.tag(shape, piece=sheet.piece.piece, round=number, size=sheet.map.size)
