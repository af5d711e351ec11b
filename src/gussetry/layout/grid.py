"""What all charts of rows share. Rows up the page, each read from its start."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from gussetry.chart import Chart, Label, Line
from gussetry.layout.footing import Footing
from gussetry.layout.guides import draw_guides
from gussetry.layout.parts import (
    MARGIN,
    Sheet,
    Terms,
    count_text,
    round_tags,
    stitch_tags,
    sum_text,
    title,
)
from gussetry.layout.rows import Row, Standing, bridge_lift, heights, summed
from gussetry.stitchmap import Piece, Round
from gussetry.units import Point

ROW = 1.16
"""Distance of rows over the pitch: room for a marker between two rows."""
ARROW = 1.3
"""Room for the arrow of a turned row between its number and its stitches, over the pitch."""
GAP = 0.9
"""White between the columns of a chart, in ems of its counts: no two numbers run together."""


@dataclass(slots=True)
class _Columns:
    """Where the columns of a chart stand, mm from its left edge."""

    pitch: float
    axis: float
    count: float
    sum_left: float
    sum_right: float
    chip: float
    number: float
    width: float


def _sides(row: Row, terms: Terms) -> tuple[str, str]:
    """What is not drawn before and after the shown part, in words."""
    work = row.round.work
    return sum_text(work[: row.first], terms), sum_text(work[row.end :], terms)


def _several_text(piece: Piece, row: Row, terms: Terms) -> str:
    """What a summing line says: `rounds 6–10: 13 sc`."""
    assert row.several is not None
    first, last = row.several
    word = "rows" if piece.worked == "rows" else "rounds"
    span = f"{first}–{last}" if first != last else str(first)
    word = word if first != last else word.removesuffix("s")
    return f"{word} {span}: {sum_text(row.round.work, terms)}"


def _columns(sheet: Sheet, piece: Piece, rows: Sequence[Row]) -> _Columns:
    """The columns that the rows need; a lower pitch where the style's column is too narrow."""
    style = sheet.style
    gap = GAP * style.size("count")
    drawn = [row for row in rows if not row.several]
    counts = max(sheet.width_of("count", count_text(r.round)) for r in drawn)
    sides = [_sides(row, sheet.terms) for row in drawn]
    before = max(sheet.width_of("sum", text) for text, _ in sides)
    after = max(sheet.width_of("sum", text) for _, text in sides)
    turned = any(row.rightwards for row in rows)
    number = max(sheet.width_of("number", str(r.round.number)) for r in drawn) + gap
    reach = [row.extent() for row in drawn]
    right = max(before_ for before_, _ in reach)
    left = max(after_ for _, after_ in reach)
    if turned:
        right = left = max(right, left) + ARROW
        counts = number = max(counts + gap, number)
    gaps = sum(gap for text in (before, after) if text) + 2 * gap
    fixed = counts + before + after + number + sheet.chip_size() + gaps + 2 * MARGIN + gap
    # A chart that would clog is drawn wider than its column instead.
    pitch = max(style.least_stitch, min(style.stitch, (style.width - fixed) / (left + right)))
    x = MARGIN + counts + gap
    sum_left = x + after
    x = sum_left + (gap if after else 0)
    axis = x + left * pitch
    x = axis + right * pitch + gap
    sum_right = x
    x += before + (gap if before else 0)
    number_x = x + number / 2
    x = x + number + gap / 2
    for row in rows:
        if row.several:
            # A summing line may be longer than the rows are: it ends before the chips all the same.
            half = sheet.width_of("sum", _several_text(piece, row, sheet.terms)) / 2
            x = max(x, _middle(axis, half) + half + gap / 2)
    chip = x + sheet.chip_size() / 2
    width = chip + sheet.chip_size() / 2 + MARGIN
    return _Columns(pitch, axis, MARGIN + counts, sum_left, sum_right, chip, number_x, width)


def _middle(axis: float, half: float) -> float:
    """Where a summing line is centred: on the axis, if half of it has room on the left."""
    return max(axis, MARGIN + half)


def _draw_row(sheet: Sheet, piece: Piece, place: Standing, columns: _Columns) -> None:
    row, y = place.row, place.y
    stitches, round_ = sheet.stitches_of, row.round
    for i, frame in place.frames.items():
        tags = stitch_tags(stitches, piece, round_, i)
        sheet.stitch(round_.work[i], frame, columns.pitch, tags)
    tags = round_tags(stitches, piece, round_)
    if round_.count:
        number, count = columns.number, columns.count
        if row.rightwards:
            number, count = columns.count - sheet.width_of("number", str(round_.number)) / 2, number
        if round_.number:
            sheet.number(Point(number, y), piece, round_)
        base = Point(count, y + sheet.drop("count"))
        sheet.labels.append(
            Label("count", count_text(round_), base,
                  "middle" if row.rightwards else "end",
                  tags=(("data-role", "count"), *tags))
        )  # fmt: skip
        sheet.chip(Point(columns.chip, y), piece, round_)
    before, after = _sides(row, sheet.terms)
    last = len(round_.work) - 1
    for text, x, anchored, span in (
        (before, columns.sum_right, "start", f"0-{row.first - 1}"),
        (after, columns.sum_left, "end", f"{row.end}-{last}"),
    ):
        if text:
            sheet.labels.append(
                Label("sum", text, Point(x, y + sheet.drop("sum")),
                      "start" if anchored == "start" else "end",
                      tags=(("data-role", "sum"), *tags, ("data-index", span)))
            )  # fmt: skip


def _ways(sheet: Sheet, placed: Sequence[Standing], columns: _Columns, foot: float) -> None:
    """Arrows the way of the work: one below rounds, one at the beginning of each turned row."""
    if any(place.row.rightwards for place in placed):
        for place in placed:
            if not place.row.several:
                _arrow(sheet, place)
        return
    right = columns.axis + placed[0].row.extent()[0] * columns.pitch
    left = min(right - 4 * columns.pitch, columns.axis)
    # A foundation is only there to be worked into: the arrow shows how the first round goes.
    sheet.lines.append(Line("direction", (Point(right, foot), Point(left, foot)), arrows="end"))


def _arrow(sheet: Sheet, place: Standing) -> None:
    """The arrow of a turned row, from its beginning towards its stitches."""
    row = place.row
    way = 1 if row.rightwards else -1
    tail, head = (
        Point(place.axis - way * (row.extent()[0] + cells) * place.pitch, place.y)
        for cells in (ARROW, 0.3)
    )
    sheet.lines.append(Line("direction", (tail, head), arrows="end"))


def _draw_several(sheet: Sheet, piece: Piece, row: Row, columns: _Columns, y: float) -> None:
    assert row.several is not None
    first, last = row.several
    text = _several_text(piece, row, sheet.terms)
    half = sheet.width_of("sum", text) / 2
    tags = round_tags(sheet.stitches_of, piece, f"{first}-{last}")
    sheet.chip(Point(columns.chip, y), piece, row.round, f"{first}-{last}")
    sheet.labels.append(
        Label("sum", text, Point(_middle(columns.axis, half), y + sheet.drop("sum")), "middle",
              tags=(("data-role", "sum"), *tags))
    )  # fmt: skip


def draw_rows(
    sheet: Sheet,
    piece: Piece,
    rows: Sequence[Row],
    heading: tuple[str, str, str],
    footing: Footing | None = None,
) -> Chart:
    """The chart of rows, first lowest, on its footing. `heading`: chart kind, what it shows, how it
    is read."""
    kind, what, how = heading
    style = sheet.style
    columns = _columns(sheet, piece, rows)
    name = title(sheet.stitches_of, what)
    shown = [op for row in rows for op in row.round.work[row.first : row.end] if op.do != "turn"]
    told = [op for row in rows for op in row.summed]
    width = max(columns.width, sheet.title_width(name), sheet.key_width(shown, told))
    top = sheet.heading(name, how, width)
    step = max(ROW * columns.pitch, 1.2 * style.size("number"), 1.25 * sheet.chip_size())
    lift = bridge_lift(style, columns.pitch)
    *ys, high = heights(rows, step, columns.pitch, style)
    floor = top + high - 0.5 * step + 0.3 * columns.pitch
    placed = [
        Standing(row, floor - y, columns.axis, columns.pitch, lift)
        for row, y in zip(rows, ys, strict=True)
    ]
    for place in placed:
        if place.row.several:
            _draw_several(sheet, piece, place.row, columns, place.y)
        else:
            _draw_row(sheet, piece, place, columns)
    draw_guides(sheet, piece, placed)
    foot = floor + 0.75 * step
    if footing:
        foot = max(foot, footing.draw(sheet, piece, placed[0]) + 0.25 * step)
    _ways(sheet, placed, columns, foot)
    bottom = sheet.key(foot + 2.5, width, style.stitch, told)
    description = f"{name}. {how}"
    return sheet.chart(kind, name, description, (width, bottom + MARGIN))


def runs(rounds: Sequence[Round]) -> list[list[Round]]:
    """Rounds grouped where they are plain repeats of the one before."""
    runs: list[list[Round]] = []
    for r in rounds:
        same = runs and _like(runs[-1][-1]) == _like(r) and r.count
        if same:
            runs[-1].append(r)
        else:
            runs.append([r])
    return runs


def _like(round_: Round) -> tuple[object, ...]:
    work = tuple((op.do, op.loop, op.held, op.counts, op.of) for op in round_.work)
    return round_.phase, tuple(w for w in work if w[0] != "turn"), round_.count, round_.yarn


def cropped(rounds: Sequence[Round], keep: int, row: Callable[[Round], Row]) -> list[Row]:
    """Rows of the rounds, of a long run of equal ones the first `keep` and the last, the rest
    summed."""
    rows: list[Row] = []
    for run in runs(rounds):
        if len(run) <= keep + 3:
            rows += [row(r) for r in run]
        else:
            rows += [row(r) for r in run[:keep]]
            rows += [summed(run[keep], run[-2]), row(run[-1])]
    return rows
