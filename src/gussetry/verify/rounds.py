"""Every row of a stitch chart held against its round: kinds, order, number, tags."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from gussetry.stitchmap import Op, Round
from gussetry.verify.aligned import aligned
from gussetry.verify.charts import Entry, Sheet, entries_of, fabric_stitch
from gussetry.verify.findings import Disagreement
from gussetry.verify.labels import found_at
from gussetry.verify.rows import Row
from gussetry.verify.strokes import symbol_of
from gussetry.verify.svg import Shape
from gussetry.verify.words import shown_work

_MOST = 4  # findings of one kind told of one row
_OTHER = 11  # what an operation of another kind costs, over 10 for one without partner


def compare_rows(sheet: Sheet) -> list[Disagreement]:
    """Every row held against its round."""
    if len(sheet.rows) != len(sheet.drawn):
        return _unpaired(sheet)
    findings: list[Disagreement] = []
    for row, round_ in sheet.paired:
        found: list[Disagreement] = []
        entries = entries_of(sheet, row, round_, found)
        found += _compare(sheet, round_, entries)
        # Where a stitch stands says whose it is, whatever its tags say.
        findings += [replace(one, piece=sheet.piece.piece, round=round_.number) for one in found]
    return findings


# --- rows that are no round, rounds that have no row ------------------------------------------


def _unpaired(sheet: Sheet) -> list[Disagreement]:
    """Rounds without a row and rows without a round, by what stands in them."""
    numbers = f"{len(sheet.drawn)} rows", f"{len(sheet.rows)}"
    piece = sheet.piece.piece

    def cost(row: Row, round_: Round) -> int:
        entries = entries_of(sheet, row, round_, [])
        work = shown_work(round_)
        had, due = Counter(e.do for e in entries), Counter(op.do for _, op in work)
        apart = ((had - due) + (due - had)).total()
        tagged = _usual(row, "round") == str(round_.number)
        return min(15, 12 * apart // max(len(work), 1)) + (0 if tagged else 4)

    findings = []
    for i, j in aligned(sheet.rows, sheet.drawn, cost):
        if i is None and j is not None:
            number = sheet.drawn[j].number
            message = f"round {number} has no row of its own"
            findings.append(Disagreement("rows", message, piece, number, None, None, *numbers))
        elif i is not None and j is None:
            row = sheet.rows[i]
            extra = found_at("rows", "a row is none of the rounds to show", row.items[0], *numbers)
            findings.append(replace(extra, piece=piece))
    return findings[: 2 * _MOST]


def _usual(row: Row, tag: str) -> str:
    """What most of a row's stitches say they are of."""
    said = Counter(shape.tag(tag) for shape in row.items if shape.tag("role") != "sum")
    return said.most_common(1)[0][0] if said else ""


# --- a row against its round ------------------------------------------------------------------

Work = Sequence[tuple[int, Op]]


def _compare(sheet: Sheet, round_: Round, entries: Sequence[Entry]) -> list[Disagreement]:
    work = shown_work(round_)
    findings: list[Disagreement] = []
    stitch = fabric_stitch(sheet.map, sheet.piece)
    pairs = list(zip(entries, work, strict=False))
    if len(entries) != len(work):
        findings, pairs = _uncounted(sheet, round_, entries, work)
    kinds: list[Disagreement] = []
    tags: list[Disagreement] = []
    spans: dict[int, list[int]] = {}
    for entry, (index, op) in pairs:
        wanted = symbol_of(op, stitch)
        if entry.do != op.do if entry.summed else entry.symbol != wanted:
            message = f"round {round_.number}, place {index} in its work"
            found = found_at("kind", message, entry.shape, wanted, entry.symbol or entry.do)
            kinds.append(replace(found, index=index))
        if entry.summed:
            spans.setdefault(entry.shape.order, []).append(index)
        elif wrong := _wrong_tag(sheet, entry.shape, round_, index, op):
            found = found_at("tag", "a stitch is tagged as another", entry.shape, *wrong)
            tags.append(replace(found, index=index))
    sums = {entry.shape.order: entry.shape for entry in entries if entry.summed}
    findings += kinds[:_MOST] + tags[:_MOST]
    for order, places in spans.items():
        findings += _wrong_span(sheet, sums[order], round_, places)
    return findings


def _uncounted(
    sheet: Sheet, round_: Round, entries: Sequence[Entry], work: Work
) -> tuple[list[Disagreement], list[tuple[Entry, tuple[int, Op]]]]:
    """What is missing or too much in a row of another number of stitches, in one finding, and the
    entries with the work that they stand for."""
    stitch = fabric_stitch(sheet.map, sheet.piece)

    def cost(entry: Entry, due: tuple[int, Op]) -> int:
        index, op = due
        if entry.summed:
            return 0 if entry.do == op.do else _OTHER
        same = entry.symbol == symbol_of(op, stitch)
        return (0 if same else _OTHER) + (0 if entry.shape.tag("index") == str(index) else 4)

    steps = aligned(entries, work, cost)
    pairs = [(entries[i], work[j]) for i, j in steps if i is not None and j is not None]
    lone = next((i for i, j in steps if i is not None and j is None), None)
    gone = next((j for i, j in steps if i is None and j is not None), None)
    # What is missing has no place of its own: its neighbour's is shown.
    both = [(i, j) for i, j in steps if i is not None and j is not None]
    near = min(both, key=lambda pair: abs(pair[1] - (gone or 0)), default=(0, 0))[0]
    shape = entries[near if lone is None else lone].shape if entries else sheet.stitches[0]
    message = f"round {round_.number} has another number of symbols, those summed counted in"
    found = found_at("count", message, shape, len(work), len(entries))
    place = work[gone][0] if gone is not None else found.index
    return [replace(found, index=place)], pairs


def _wrong_tag(
    sheet: Sheet, shape: Shape, round_: Round, index: int, op: Op
) -> tuple[str, str] | None:
    """The first tag that differs from what the place wants: wanted, found."""
    for name, wanted in (
        ("piece", sheet.piece.piece),
        ("round", str(round_.number)),
        ("index", str(index)),
        ("do", op.do),
    ):
        if shape.tag(name) != wanted:
            return f"{name} {wanted}", f"{name} {shape.tag(name)}"
    if sheet.map.size not in shape.tag("size").split(" / "):
        return f"size {sheet.map.size}", f"size {shape.tag('size')}"
    return None


def _wrong_span(
    sheet: Sheet, shape: Shape, round_: Round, places: Sequence[int]
) -> list[Disagreement]:
    span = f"{places[0]}-{places[-1]}"
    plain = {span, str(places[0])} if len(places) == 1 else {span}
    wanted = (
        ("index", plain),
        ("round", {str(round_.number)}),
        ("piece", {sheet.piece.piece}),
    )
    return [
        found_at("tag", f"a sum's {name} differs", shape, min(values), shape.tag(name))
        for name, values in wanted
        if shape.tag(name) not in values
    ]
