"""What all charts of rows share. Rows up the page, each read from its start."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Literal, NamedTuple

from gussetry.chart import Chart, Label, LabelKind, Line
from gussetry.layout.breaks import broken
from gussetry.layout.courses import Beside, Course, Placed, Said, several_text, yarn_names
from gussetry.layout.footing import Footing
from gussetry.layout.guides import draw_guides
from gussetry.layout.parting import draw_parting, parting_height
from gussetry.layout.parts import MARGIN, UNROLLED, Sheet
from gussetry.layout.registers import draw_marks, mark_room
from gussetry.layout.rows import Standing, bridge_lift, room
from gussetry.layout.sheeting import Draw, Part, numbered, on_sheets
from gussetry.layout.sides import draw_sides
from gussetry.layout.spread import ARROW, NEAR, WORDS, Bounds, Columns, middle, spread
from gussetry.layout.tags import NOTHING, title
from gussetry.layout.ticks import draw_ticks
from gussetry.stitchmap import Piece
from gussetry.style import Style
from gussetry.units import Point

ROW = 1.16
"""Distance of rows over the pitch: room for a marker between two rows."""
LINE = 1.22
"""Distance of lines within a row, in ems of its numbers."""
APART = 0.5
"""White between rows of several lines, in ems of their numbers."""
SUMMED = 1.4
"""Distance of summing lines, in ems of their words."""
LED = 0.8
"""Room for a marker's line between a row and the words below the next, mm."""
CHIPS = 0.8
"""White between chips one above the other, mm."""


def _line(sheet: Sheet) -> float:
    """The distance of lines within a row, mm."""
    return LINE * sheet.style.size("number")


def _chip_step(sheet: Sheet) -> float:
    return sheet.chip_size() + CHIPS


def _half(sheet: Sheet, course: Course, side: Beside, step: float, low: float) -> float:
    """How far a row and what stands beside it reach up and down from its middle, mm, with white;
    `low`: the lowest of its words stand so far below it."""
    if course.lead.several:
        return max(SUMMED * sheet.style.size("sum"), len(side.yarns) * _chip_step(sheet)) / 2
    lines = side.lines * _line(sheet) + APART * sheet.style.size("number")
    lines = lines if side.lines > 1 else 0.0
    chips = len(side.yarns) * _chip_step(sheet)
    # Chips of one course are nearer to each other than to the next's.
    chips += CHIPS if len(side.yarns) > 1 else 0.0
    # Words below a row are nearer to it than to the next.
    return max(step, lines, chips, 2.3 * low) / 2


def _placed(
    sheet: Sheet, courses: Sequence[Course], sides: Sequence[Beside], columns: Columns
) -> tuple[list[Placed], float]:
    """The courses at their places, the first at the height 0, and the upper edge over the last."""
    marked = any(course.lead.round.markers for course in courses)
    step = row_step(sheet, columns.pitch, columns.words + (LED if marked and columns.low else 0.0))
    lift = bridge_lift(sheet.style, columns.pitch)
    found, y = [], 0.0
    halves = [_half(sheet, *pair, step, columns.lower) for pair in zip(courses, sides, strict=True)]
    above = [*halves[1:], step / 2]
    words = [0.0 if course.lead.several else columns.words for course in courses[1:]]
    over_it = zip(above, [*words, 0.0], strict=True)
    # A summing line keeps clear of what is said below the row above it.
    clear = columns.lower + WORDS / 2 * sheet.style.size("count") if columns.low else 0.0
    for course, side, half, (over, said) in zip(courses, sides, halves, over_it, strict=True):
        stands = Standing(course.lead, y, columns.axis, columns.pitch, lift, columns.start)
        found.append(Placed(course, side, stands, half))
        apart = room(course.lead, ROW * columns.pitch, columns.pitch, sheet.style) + said
        under = max(over, clear) if said else over
        y -= half + under if course.lead.several else max(half + over, apart)
        y -= parting_height(sheet, course)
    return found, y


def row_step(sheet: Sheet, pitch: float, words: float) -> float:
    """The distance of rows with a line each, mm; `words`: what stands below each adds to it."""
    return max(ROW * pitch + words, 1.2 * sheet.style.size("number"), 1.25 * sheet.chip_size())


class _Spot(NamedTuple):
    """Where words beside a course stand: what kind of label, in which role, at which x, how far
    below the row; sums `after` what is drawn of it."""

    kind: LabelKind
    role: str
    x: float
    anchor: Literal["start", "middle", "end"]
    low: float = 0.0
    after: bool = False


def _write(sheet: Sheet, piece: Piece, place: Placed, told: Sequence[Said], at: _Spot) -> None:
    """Words beside a course in their lines."""
    for said in told:
        y = place.standing.y + at.low - said.up * _line(sheet) + sheet.drop(at.kind)
        tags = place.course.tags(sheet, piece, said.members)
        if at.role == "sum":
            tags += (("data-index", _spans(place, said, at.after)),)
        tags = (("data-role", at.role), *tags)
        sheet.labels.append(Label(at.kind, said.words, Point(at.x, y), at.anchor, tags=tags))


def _in_line(
    told: Sequence[Said], at: _Spot, columns: Columns, first: int
) -> list[tuple[Sequence[Said], _Spot]]:
    """Words in lines below a row, one under the other, from the line `first` on; those beside a row
    all at once."""
    if columns.lines < 2:
        return [(told, at)]
    line = columns.words / columns.lines
    return [((said,), at._replace(low=at.low + (first + k) * line)) for k, said in enumerate(told)]


def _spans(place: Placed, said: Said, after: bool) -> str:
    """The entries that a sum stands for in each of its rows: `0-11 0-12`."""
    rows = [place.course.rows[m] for m in said.members]
    if said.span is not None:
        return f"{said.span[0]}-{said.span[-1]}"
    spans = [row.after if after else row.before for row in rows]
    return " ".join(f"{span[0]}-{span[-1]}" if span else NOTHING for span in spans)


def _draw_course(
    sheet: Sheet, piece: Piece, place: Placed, columns: Columns, again: Sequence[int]
) -> None:
    """A course at its place; `again`: its entries that stand on a sheet before too."""
    course, side, low = place.course, place.beside, columns.low
    if course.lead.several:
        _draw_several(sheet, piece, place, columns)
    for i, frame in place.standing.frames.items():
        tags = course.stitch_tags(sheet, piece, i)
        tags += (("data-repeat", "overlap"),) if i in again else ()
        sheet.stitch(course.lead.round.work[i], frame, columns.pitch, tags)
    if again and len(again) == len(course.lead.shown) and not sheet.others:
        # A row that is worked on another sheet is not counted here.
        side = replace(side, numbers=tuple(replace(s, words=f"({s.words})") for s in side.numbers))
    outer: Literal["start", "end"] = "start" if low else "end"
    inner: Literal["start", "end"] = "end" if low else "start"
    if not course.lead.shown:
        # Its words stand for its stitches.
        low = 0.0
    spots = [
        *_in_line(side.before, _Spot("sum", "sum", columns.sum_right, inner, low), columns, 0),
        *_in_line(
            side.after,
            _Spot("sum", "sum", columns.sum_left, outer, low, after=True),
            columns,
            max(1, len(side.before)),
        ),
        (side.names, _Spot("number", "size", columns.names, "start")),
    ]
    if course.lead.rightwards:
        spots[:2] = [
            (side.before, _Spot("sum", "sum", columns.sum_left, "end")),
            (side.after, _Spot("sum", "sum", columns.sum_right, "start", after=True)),
        ]
    if side.lines > 1:
        spots.append((side.names, _Spot("number", "size", columns.names_left, "start")))
    if course.lead.rightwards:
        for said in side.numbers:
            x = columns.count - sheet.width_of("number", said.words) / 2
            spots.append(((said,), _Spot("number", "round", x, "middle")))
        spots.append((side.counts, _Spot("count", "count", columns.number, "middle")))
    else:
        spots.append((side.numbers, _Spot("number", "round", columns.number, "middle")))
        spots.append((side.counts, _Spot("count", "count", columns.count, outer, low)))
    for told, spot in spots:
        _write(sheet, piece, place, told, spot)
    _ticks(sheet, piece, place, columns)
    _chips(sheet, piece, place, columns)


def _ticks(sheet: Sheet, piece: Piece, place: Placed, columns: Columns) -> None:
    """The boxes to tick of a course, between what is said of it and its chip."""
    left = columns.tick
    if place.course.lead.several and not place.beside.names:
        half = sheet.width_of("sum", several_text(sheet, piece, place.course)) / 2
        left = middle(columns.axis, half) + half + sheet.style.size("number")
    draw_ticks(sheet, piece, place, columns.tick, left)


def _chips(sheet: Sheet, piece: Piece, place: Placed, columns: Columns) -> None:
    """The yarn of a course, or each of its yarns above the other with the sizes' names beside."""
    y, step = place.standing.y, _chip_step(sheet)
    names = {said: words for said, words in yarn_names(sheet, place.course)}
    for said in place.beside.yarns:
        at = Point(columns.chip, y - said.up * step)
        tags = place.course.tags(sheet, piece, said.members)
        sheet.chip(at, said.words, tags)
        if said in names:
            beside = Point(at.x + sheet.chip_size() / 2 + NEAR, at.y + sheet.drop("yarn"))
            role = (("data-role", "size"), *tags)
            sheet.labels.append(Label("yarn", names[said], beside, tags=role))


def _draw_several(sheet: Sheet, piece: Piece, place: Placed, columns: Columns) -> None:
    text = several_text(sheet, piece, place.course)
    half = sheet.width_of("sum", text) / 2
    tags = (("data-role", "sum"), *place.course.tags(sheet, piece))
    at = Point(middle(columns.axis, half), place.standing.y + sheet.drop("sum"))
    sheet.labels.append(Label("sum", text, at, "middle", tags=tags))


def _ways(sheet: Sheet, placed: Sequence[Placed], columns: Columns, foot: float) -> None:
    """Arrows the way of the work: one below rounds, one at the beginning of each turned row."""
    rows = [place.standing for place in placed]
    if any(place.row.rightwards for place in rows):
        for place in rows:
            if not place.row.several:
                _arrow(sheet, place)
        return
    right = columns.axis + rows[0].row.extent()[0] * columns.pitch
    left = max(MARGIN, min(right - 4 * columns.pitch, columns.axis))
    right = max(right, left + 4 * columns.pitch)
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


def draw_courses(
    sheet: Sheet,
    piece: Piece,
    courses: Sequence[Course],
    heading: tuple[str, str, str],
    footing: Footing | None = None,
) -> tuple[Chart, ...]:
    """The chart of courses, first lowest, on its footing, on as many sheets as it takes. `heading`:
    chart kind, what it shows, how it is read. Raises OffPage where no sheet holds any of it."""

    def draw(style: Style, part: Part) -> Chart:
        own = Sheet(sheet.stitches_of, style, sheet.terms, sheet.others)
        return _draw_part(own, piece, part, heading, footing)

    def lines(style: Style, part: Part) -> int:
        own = Sheet(sheet.stitches_of, style, sheet.terms, sheet.others)
        return spread(own, piece, part.courses, _bounds(part, footing))[0].lines

    columns, _ = spread(sheet, piece, courses, Bounds(footing is not None))
    if columns.low or columns.width > sheet.style.width:
        # What is cut or set closer has no room at its rounds' beginnings, on none of its sheets.
        courses = [course.headless() for course in courses]
    return on_sheets(courses, sheet.style, Draw(draw, lines))


def _bounds(part: Part, footing: Footing | None) -> Bounds:
    """What the columns of a part keep to."""
    window = part.window
    half = (window.high - window.low) / 2 if window and part.number.of > 1 else 0.0
    return Bounds(footing is not None, part.lines, half)


def _draw_part(
    sheet: Sheet,
    piece: Piece,
    part: Part,
    heading: tuple[str, str, str],
    footing: Footing | None,
) -> Chart:
    """One sheet of a chart."""
    kind, what, how = heading
    style, courses = sheet.style, part.courses
    columns, sides = spread(sheet, piece, courses, _bounds(part, footing))
    name = part.number.title(title(sheet.stitches_of, what, *sheet.others))
    unit = "rows" if piece.worked == "rows" else "rounds"
    how = part.told(how, f"{piece.piece.capitalize()} {unit}")
    rows = [row for course in courses for row in course.rows]
    shown = [row.round.work[i] for row in rows for i in row.shown]
    told = [op for row in rows for op in row.summed]
    width = max(columns.width, sheet.title_width(name), sheet.key_width(shown, told))
    if part.number.of > 1:
        # Sheets of one chart are alike in width.
        width = max(width, style.width)
    placed, high = _placed(sheet, courses, sides, columns)
    step = row_step(sheet, columns.pitch, columns.words)
    # The room over a crook ends right over its numbers, whatever else makes steps tall.
    over = min(step, ROW * columns.pitch) if courses[-1].lead.crook else step
    floor = sheet.heading(name, how, width) - high - 0.5 * over + 0.3 * columns.pitch
    floor += mark_room(part)
    placed = [place.moved(floor) for place in placed]
    for nth, place in enumerate(placed):
        again = [i for i in place.course.lead.shown if part.repeats(nth, i)]
        _draw_course(sheet, piece, place, columns, again)
    draw_guides(sheet, piece, placed)
    if kind == UNROLLED:
        draw_sides(sheet, placed)
    for lower, upper in pairwise(placed):
        draw_parting(sheet, piece, lower, upper, (MARGIN, columns.width - MARGIN))
    foot = floor + placed[0].half + 0.25 * step
    if footing and not part.before:
        tags = courses[0].tags(sheet, piece)
        foot = max(foot, footing.draw(sheet, tags, placed[0].standing) + 0.25 * step)
    if columns.low:
        foot += columns.words
        said = [label for label in sheet.labels if label.kind in ("sum", "count")]
        sheet.lines = broken(sheet.lines, said, style)
    foot = draw_marks(sheet, part, placed, foot)
    _ways(sheet, placed, columns, foot)
    bottom = sheet.key(foot + 2.5, width, columns.pitch, told)
    chart = sheet.chart(kind, name, f"{name}. {how}", (width, bottom + MARGIN))
    return numbered(chart, part.number, part.rounds)
