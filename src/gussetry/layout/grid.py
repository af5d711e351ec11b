"""What all charts of rows share. Rows up the page, each read from its start."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal, NamedTuple

from gussetry.chart import Chart, Label, LabelKind, Line
from gussetry.layout.breaks import broken
from gussetry.layout.courses import Beside, Course, Placed, Said, several_text
from gussetry.layout.footing import Footing
from gussetry.layout.guides import draw_guides
from gussetry.layout.lefthand import left_handed
from gussetry.layout.part import Part, numbered
from gussetry.layout.parting import draw_parting, parting_height
from gussetry.layout.parts import MARGIN, UNROLLED, Sheet
from gussetry.layout.registers import draw_marks, mark_room
from gussetry.layout.rows import Standing, bridge_lift, marked_room, room
from gussetry.layout.sections import draw_sections
from gussetry.layout.sentences import Saying
from gussetry.layout.sheeting import Draw, Ways, headless, on_sheets
from gussetry.layout.sides import draw_sides
from gussetry.layout.spread import ARROW, CHIPS, Bounds, Columns, middle, spread
from gussetry.layout.tags import NOTHING, title
from gussetry.layout.ticks import draw_ticks, summed_height
from gussetry.stitchmap import Piece
from gussetry.style import Style
from gussetry.units import Point

ROW = 1.16
"""Distance of rows over the pitch: room for a marker between two rows."""
LINE = 1.22
"""Distance of lines within a row, in ems of its numbers."""
APART = 0.5
"""White between rows of several lines, in ems of their numbers."""
APART_CHIPS = 0.8
"""White between chips one above the other, mm."""
NEARER = 2.3
"""Distance of a row from the next below over that of its lowest words."""
SUMMED = 1.4
"""Distance of summing lines, in ems of their words."""


def _line(sheet: Sheet) -> float:
    """The distance of lines within a row, mm."""
    return LINE * sheet.style.size("number")


def _half(sheet: Sheet, course: Course, side: Beside, step: float) -> float:
    """How far a row and what stands beside it reach up and down from its middle, mm, with white;
    without its words below."""
    if course.lead.several:
        chip = sheet.chip_size() + APART_CHIPS
        return max(SUMMED * sheet.style.size("sum"), chip, summed_height(sheet, course)) / 2
    lines = side.lines * _line(sheet) + APART * sheet.style.size("number")
    lines = lines if side.lines > 1 else 0.0
    return max(step, lines) / 2


def _placed(
    sheet: Sheet,
    courses: Sequence[Course],
    sides: Sequence[Beside],
    columns: Columns,
    step: float,
) -> tuple[list[Placed], float]:
    """The courses at their places, the first at the height 0, and the upper edge over the last;
    rows with a line each and no words below a `step` apart, mm."""
    lift = bridge_lift(sheet.style, columns.pitch)
    found, y = [], 0.0
    halves = [_half(sheet, *pair, step) for pair in zip(courses, sides, strict=True)]
    for nth, (course, side, half) in enumerate(zip(courses, sides, halves, strict=True)):
        stands = Standing(course.lead, y, columns.axis, columns.pitch, lift, columns.start)
        found.append(Placed(course, side, stands, half))
        over, lines, lowest, lower = step / 2, 0, 0.0, 0.0
        if nth + 1 < len(courses):
            over, above = halves[nth + 1], sides[nth + 1]
            lines, lowest, lower = above.under.lines, columns.lowest(above), columns.lower(above)
        if course.lead.several:
            # A summing line keeps clear of what is said below the row above it.
            y -= half + max(over, lower)
        else:
            apart = room(course.lead, ROW * columns.pitch, columns.pitch, sheet.style)
            # Words below a row are nearer to it than to the next.
            y -= max(max(half + over, apart) + lines * columns.line, NEARER * lowest)
        y -= parting_height(sheet, course)
    return found, y


def row_step(sheet: Sheet, courses: Sequence[Course], columns: Columns) -> float:
    """The distance of rows with a line each and no words below, mm."""
    # Even, though markers lead from but some of them to the next.
    marked = any(course.lead.marked for course in courses)
    led = marked_room(sheet.style, columns.pitch) if marked else 0.0
    step = max(ROW * columns.pitch, led)
    return max(step, 1.2 * sheet.style.size("number"), 1.25 * sheet.chip_size())


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


def _in_lines(
    told: Sequence[Said], at: _Spot, line: float, first: int
) -> list[tuple[Sequence[Said], _Spot]]:
    """Words below a row a `line` apart, one under the other, from the line `first` on."""
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
    course, side = place.course, place.beside
    low = columns.low if side.under.lines else 0.0
    if course.lead.several:
        _draw_several(sheet, piece, place, columns)
    for i, frame in place.standing.frames.items():
        tags = course.stitch_tags(sheet, piece, i)
        tags += (("data-repeat", "overlap"),) if i in again else ()
        sheet.stitch(course.lead.round.work[i], frame, columns.pitch, tags)
    if again and len(again) == len(course.lead.shown) and not sheet.others:
        # A row that is worked on another sheet is not counted here.
        side = replace(side, numbers=tuple(replace(s, words=f"({s.words})") for s in side.numbers))
    if not course.lead.shown:
        # Its words stand for its stitches.
        low = 0.0
    outer: Literal["start", "end"] = "start" if columns.low else "end"
    inner: Literal["start", "end"] = "end" if columns.low else "start"
    ends = [
        _Spot("sum", "sum", columns.sum_right, inner, low),
        _Spot("sum", "sum", columns.sum_left, outer, low),
    ]
    if course.lead.rightwards:
        ends.reverse()
    spots: list[tuple[Sequence[Said], _Spot]] = [
        (side.before, ends[0]),
        (side.after, ends[1]._replace(after=True)),
    ]
    if side.under.lines:
        first = side.under.over
        spots = _in_lines(*spots[0], columns.line, first) + _in_lines(
            *spots[1], columns.line, first + side.under.apart * len(side.before)
        )
    spots.append((side.names, _Spot("number", "size", columns.names, "start")))
    if side.lines > 1:
        spots.append((side.names, _Spot("number", "size", columns.names_left, "start")))
    if course.lead.rightwards:
        for said in side.numbers:
            x = columns.count - sheet.width_of("number", said.words) / 2
            spots.append(((said,), _Spot("number", "round", x, "middle")))
        spots.append((side.counts, _Spot("count", "count", columns.number, "middle")))
    else:
        spots.append((side.numbers, _Spot("number", "round", columns.number, "middle")))
        spots.append((side.counts, _Spot("count", "count", columns.count, "end")))
    for told, spot in spots:
        _write(sheet, piece, place, told, spot)
    beyond = course.lead.several and side.names
    # Boxes of a summing line stand before the names of its sizes.
    tick = columns.names - APART * sheet.style.size("number") if beyond else columns.tick
    draw_ticks(sheet, piece, place, tick)
    _chips(sheet, piece, place, columns)


def _chips(sheet: Sheet, piece: Piece, place: Placed, columns: Columns) -> None:
    """The yarn of a course, or each of its sizes' own side by side in their order, from the left
    for either hand."""
    yarns = place.beside.yarns
    if left_handed(sheet.style):
        yarns = yarns[::-1]
    for nth, said in enumerate(yarns):
        x = columns.chip + nth * (sheet.chip_size() + CHIPS)
        tags = place.course.tags(sheet, piece, said.members)
        sheet.chip(Point(x, place.standing.y), said.words, tags)


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
    before, after = rows[0].row.extent()
    right = columns.axis + before * columns.pitch
    left = max(MARGIN, min(right - 4 * columns.pitch, columns.axis))
    if before + after:
        # Under the first stitches, however few.
        left = max(left, columns.axis - after * columns.pitch)
    right = max(right, left + columns.pitch)
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


Spaced = tuple[Columns, tuple[Beside, ...]]
"""The columns of a chart, and what is said beside its courses."""


def draw_courses(
    sheet: Sheet,
    piece: Piece,
    courses: Sequence[Course] | Ways,
    heading: tuple[str, str, Sequence[Saying]],
    footing: Footing | None = None,
    alone: bool = False,
) -> tuple[Chart, ...]:
    """The chart of courses, first lowest, on its footing, on as many sheets as it takes, `alone` on
    one. `heading`: chart kind, what it shows, how it is read. Raises OffPage where these do not
    hold it."""
    ways = courses if isinstance(courses, Ways) else Ways(courses, lambda: courses)

    subject = _Subject(piece, *heading, footing)
    known: dict[tuple[Style, int, Bounds], tuple[Sequence[Course], Spaced]] = {}

    def spaced(own: Sheet, part: Part) -> Spaced:
        key = own.style, id(part.whole), _bounds(part)
        if key not in known:
            # The courses are kept too, so that no others get their id.
            known[key] = part.whole, spread(own, piece, part.whole, key[2])
        return known[key][1]

    def draw(style: Style, part: Part) -> Chart:
        own = Sheet(sheet.stitches_of, style, sheet.terms, sheet.others)
        return _draw_part(own, subject, part, spaced(own, part))

    def lines(style: Style, part: Part) -> tuple[int, ...]:
        own = Sheet(sheet.stitches_of, style, sheet.terms, sheet.others)
        return tuple(side.under.lines for side in spaced(own, part)[1])

    columns, _ = spread(sheet, piece, ways.courses)
    if columns.low or columns.width > sheet.style.width:
        # What is cut or set closer has no room at its rounds' beginnings, on none of its sheets.
        ways = Ways(headless(ways.courses), ways.parted)
    return on_sheets(ways, sheet.style, Draw(draw, lines), alone)


def _bounds(part: Part) -> Bounds:
    """What the columns of a part keep to."""
    window = part.window
    half = (window.high - window.low) / 2 if window and part.number.of > 1 else 0.0
    return Bounds(part.lines, half)


class _Subject(NamedTuple):
    """What a chart shows: rounds of a piece; its kind, what it is in words, what is said of how it
    is read, and the footing of its first row."""

    piece: Piece
    kind: str
    what: str
    sayings: Sequence[Saying]
    footing: Footing | None


def _draw_part(sheet: Sheet, subject: _Subject, part: Part, spaced: Spaced) -> Chart:
    """One sheet of a chart, in the columns of all sheets above one another."""
    piece, kind, what, sayings, footing = subject
    style, courses = sheet.style, part.courses
    columns, sides = spaced[0], spaced[1][part.first : part.last + 1]
    name = part.number.title(title(sheet.stitches_of, what, *sheet.others))
    unit = "rows" if piece.worked == "rows" else "rounds"
    how = part.told(sayings, f"{piece.piece.capitalize()} {unit}")
    rows = [row for course in courses for row in course.rows]
    shown = [row.round.work[i] for row in rows for i in row.shown]
    told = [op for row in rows for op in row.summed]
    width = max(columns.width, sheet.title_width(name), sheet.key_width(shown, told))
    if part.number.of > 1:
        # Sheets of one chart are alike in width.
        width = max(width, style.width)
    step = row_step(sheet, part.whole, columns)
    placed, high = _placed(sheet, courses, sides, columns, step)
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
    for place in placed:
        draw_parting(sheet, piece, place, (MARGIN, columns.width - MARGIN))
    foot = floor + placed[0].half + 0.25 * step + sides[0].under.lines * columns.line
    if footing and not part.before:
        tags = courses[0].tags(sheet, piece)
        low = columns.lower(sides[0])
        foot = max(foot, footing.draw(sheet, tags, placed[0].standing, low) + 0.25 * step)
    if columns.low:
        draw_sections(sheet, piece, placed, columns.low)
        said = [label for label in sheet.labels if label.kind in ("sum", "count")]
        sheet.lines = broken(sheet.lines, said, style)
    foot = draw_marks(sheet, part, placed, foot, columns.width)
    _ways(sheet, placed, columns, foot)
    bottom = sheet.key(foot + 2.5, width, columns.pitch, told)
    chart = sheet.chart(kind, name, f"{name}. {how}", (width, bottom + MARGIN))
    return numbered(chart, part.number, part.rounds)
