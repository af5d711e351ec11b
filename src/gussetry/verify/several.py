"""Charts of several sizes: what each size reads in its lists, and where it is sent up the page."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from gussetry.naming import slug
from gussetry.stitchmap import StitchMap
from gussetry.verify.charts import Sheet
from gussetry.verify.findings import Disagreement
from gussetry.verify.labels import found_at
from gussetry.verify.levels import in_lines
from gussetry.verify.rows import grid_rows, pitch_of
from gussetry.verify.svg import Page, Shape

NOTHING = "–"
_LIST = re.compile(r"(\d+(?:–\d+)?) \((\d+(?:–\d+)?(?:, \d+(?:–\d+)?)*)\)")
_STOP = re.compile(r"(.+): round (.+) further up")
_BRANCH = re.compile(r"(.+): from round (.+)")
_NAMED = ("round", "count", "sum")
_LEVEL = 0.4  # mm by which two labels of a line may differ in height


def own_text(text: str, place: int, sizes: int) -> str:
    """What the size at a place reads in words for so many: of each list its own number, of texts
    side by side its own. A question mark stands where a list has another length."""
    if " / " in text:
        parts = text.split(" / ")
        return parts[place] if len(parts) == sizes else "?"

    def own(found: re.Match[str]) -> str:
        numbers = [found[1], *found[2].split(", ")]
        return numbers[place] if len(numbers) == sizes else "?"

    return _LIST.sub(own, text)


def _sizes(shape: Shape) -> list[str]:
    return shape.tag("size").split(" ") if shape.tag("size") else []


def in_size(page: Page, texts: dict[int, str], stitches: StitchMap) -> tuple[Page, dict[int, str]]:
    """The page as the maker of one size reads it: what serves her size, its own numbers in its
    tags and words, and what has no size at all."""
    name = slug(stitches.size)
    shapes: list[Shape] = []
    own_texts = dict(texts)
    for shape in page.shapes:
        sizes = _sizes(shape)
        if not sizes:
            shapes.append(shape)
            continue
        if name not in sizes or shape.tag("role") in ("size", "stop", "branch", "parting"):
            continue
        place = sizes.index(name)
        marks = {**shape.marks, "data-size": stitches.size}
        for tag in ("data-round", "data-index"):
            parts = marks.get(tag, "").split(" ")
            if tag in marks and len(parts) == len(sizes):
                marks[tag] = parts[place]
        if marks.get("data-index") == NOTHING:
            continue
        if shape.order in texts:
            own_texts[shape.order] = own_text(texts[shape.order], place, len(sizes))
        shapes.append(replace(shape, marks=marks))
    return replace(page, shapes=tuple(shapes)), own_texts


def compare_lists(page: Page, maps: Sequence[StitchMap]) -> list[Disagreement]:
    """Tags whose lists are not parallel, or name sizes that the chart does not serve, out of order
    or twice."""
    known = [slug(stitches.size) for stitches in maps]
    findings = []
    for shape in page.shapes:
        sizes = _sizes(shape)
        if not sizes:
            if "stitch" in shape.classes or shape.tag("role") in (
                *_NAMED, "yarn", "colour", "crook",
            ):  # fmt: skip
                findings.append(found_at("tag", "a mark serves no size", shape))
            continue
        if [name for name in known if name in sizes] != sizes:
            findings.append(
                found_at("tag", "a mark's sizes are not the chart's in their order", shape,
                         " ".join(known), " ".join(sizes))
            )  # fmt: skip
        for tag in ("round", "index"):
            said = shape.tag(tag)
            if said and len(said.split(" ")) != len(sizes):
                findings.append(
                    found_at("tag", f"a mark's {tag} list is not as long as that of its sizes",
                             shape, len(sizes), said)
                )  # fmt: skip
    return findings


def listed(names: Sequence[str]) -> str:
    """The names as the chart lists them: `S (M, L)`."""
    return f"{names[0]} ({', '.join(names[1:])})" if names[1:] else "".join(names)


def compare_names(
    page: Page, texts: dict[int, str], maps: Sequence[StitchMap]
) -> list[Disagreement]:
    """Names of sizes that are wrong, and what serves some of the sizes and does not say which: such
    a label has on its line the names of its sizes, or about it, nearer than any other size's."""
    names = {slug(stitches.size): stitches.size for stitches in maps}
    labels = [shape for shape in page.shapes if shape.tag("role") == "size"]
    findings = []
    for label in labels:
        wanted = listed([names.get(size, "?") for size in _sizes(label)])
        if texts.get(label.order, "") != wanted:
            findings.append(
                found_at("printed", "the names of sizes beside a row are wrong", label, wanted,
                         texts.get(label.order, ""))
            )  # fmt: skip
    for shape in page.shapes:
        own = set(_sizes(shape))
        if shape.tag("role") not in _NAMED or len(own) == len(maps) or not own:
            continue
        if not _is_named(shape, own, labels):
            findings.append(
                found_at("printed", f"a {shape.tag('role')} does not say for which sizes it is",
                         shape, " ".join(_sizes(shape)))
            )  # fmt: skip
    return findings


def compare_chips(page: Page, maps: Sequence[StitchMap]) -> list[Disagreement]:
    """Chips side by side that do not stand in the order of their sizes, from the left for either
    hand, or serve two of them where others have their own."""
    order = [slug(stitches.size) for stitches in maps]
    findings = []
    for role in ("colour", "yarn"):
        shapes = [s for s in page.shapes if s.tag("role") == role and _sizes(s)]
        beside = (pair for line in in_lines(shapes, _LEVEL) for pair in pairwise(line))
        for one, other in beside:
            names = _sizes(one), _sizes(other)
            alone = len(names[0]) == len(names[1]) == 1
            known = set(names[0] + names[1]) <= set(order)
            if not alone or not known or order.index(names[0][0]) >= order.index(names[1][0]):
                findings.append(
                    found_at("place", "yarns side by side are not in the order of their sizes",
                             other)
                )  # fmt: skip
    return findings


def _is_named(shape: Shape, own: set[str], labels: Sequence[Shape]) -> bool:
    height = shape.box.centre.imag
    about = sorted((abs(label.box.centre.imag - height), label.order, label) for label in labels)
    told: set[str] = set()
    for away, _, label in about:
        sizes = set(_sizes(label))
        if not sizes <= own:
            return False
        told |= sizes
        if told == own and (
            away <= max(_LEVEL, 0.5 * (label.box.bottom - label.box.top)) or sizes != own
        ):
            return True
    return False


# --- where sizes part -------------------------------------------------------------------------


def compare_partings(
    page: Page, texts: dict[int, str], sheets: Sequence[Sheet]
) -> list[Disagreement]:
    """Lines across a chart: each where the sizes that it names leave the others or go on, and one
    of each kind for every size whose division does not stand right over its gusset."""
    maps = [sheet.map for sheet in sheets]
    stitches = [shape for shape in page.shapes if "stitch" in shape.classes]
    levels = [row.level for row in grid_rows(stitches, pitch_of([s.box.centre for s in stitches]))]
    levels += [sum_.box.centre.imag for sheet in sheets for sum_, _ in sheet.sums.whole]
    findings: list[Disagreement] = []
    seen: list[tuple[str, str]] = []
    for shape in page.shapes:
        kind = shape.tag("role")
        if kind not in ("stop", "branch"):
            continue
        findings += _unruled(page, shape)
        if kind == "stop":
            findings += _led_on(shape, sheets)
        wanted = []
        for place, name in enumerate(_sizes(shape)):
            seen.append((kind, name))
            sheet = next((s for s in sheets if slug(s.map.size) == name), None)
            number = _next(shape, place)
            wanted.append(str(number))
            if sheet is not None and kind == "branch":
                findings += _led_in(sheet, number)
            if sheet is None or not _stands(sheet, shape, number, levels):
                findings.append(
                    found_at("parting", f"the line for size {name} stands elsewhere", shape)
                )
        findings += _misworded(shape, texts.get(shape.order, ""), maps, wanted)
    findings += _crossing(page)
    due = [(kind, slug(s.map.size)) for s in sheets for kind in _due(s, levels)]
    if sorted(seen) != sorted(due):
        findings.append(
            Disagreement("parting", "the sizes that part are not those that must",
                         expected=_told(due), found=_told(seen))
        )  # fmt: skip
    return findings


def _crossing(page: Page) -> list[Disagreement]:
    """Markers that go on over a line across: they end there, and begin again for each size."""
    lines = [shape for shape in page.shapes if shape.tag("role") == "parting"]
    return [
        found_at("parting", "a marker goes on over a line across", shape)
        for shape in page.shapes
        if shape.tag("role") in ("marker", "leading")
        and any(shape.box.top < line.box.centre.imag < shape.box.bottom for line in lines)
    ]


def _told(partings: Sequence[tuple[str, str]]) -> str:
    return ", ".join(f"{kind} {name}" for kind, name in sorted(partings))


def _next(shape: Shape, place: int) -> int:
    """The round with which the size at a place goes on: a stop is tagged with the one before."""
    parts = shape.tag("round").split(" ")
    number = parts[place] if place < len(parts) else ""
    if not (number.isascii() and number.isdigit()):
        return -1
    return int(number) + (shape.tag("role") == "stop")


def _misworded(
    shape: Shape, text: str, maps: Sequence[StitchMap], numbers: Sequence[str]
) -> list[Disagreement]:
    sizes = _sizes(shape)
    names = {slug(stitches.size): stitches.size for stitches in maps}
    found = (_STOP if shape.tag("role") == "stop" else _BRANCH).fullmatch(text)
    right = (
        found is not None
        and found[1] == listed([names.get(size, "?") for size in sizes])
        and [own_text(found[2], k, len(sizes)) for k in range(len(sizes))] == list(numbers)
    )
    if right:
        return []
    return [found_at("printed", "the words of a line across are wrong", shape, found=text)]


def _level_of(sheet: Sheet, number: int) -> float | None:
    return next((row.level for row, r in sheet.paired if r.number == number), None)


def _stands(sheet: Sheet, shape: Shape, number: int, levels: Sequence[float]) -> bool:
    """Whether a line stands right over a size's last round before it divides, or right under its
    division, as the rows of all sizes lie."""
    division = next((r for r in sheet.piece.rounds if r.phase == "division"), None)
    if division is None or division.number != number:
        return False
    over = shape.tag("role") == "stop"
    level = _level_of(sheet, number - 1 if over else number)
    if level is None:
        return False
    y = shape.box.centre.imag
    low, high = (y, level) if over else (level, y)
    return low < high and not any(low < other < high for other in levels)


def _due(sheet: Sheet, levels: Sequence[float]) -> Iterator[str]:
    """The lines that a size must have: both, where rows of others lie between its gusset and its
    division; on a sheet that shows but one of these, the one that is there."""
    division = next((r for r in sheet.piece.rounds if r.phase == "division"), None)
    if division is None:
        return
    above, below = _level_of(sheet, division.number), _level_of(sheet, division.number - 1)
    if above is None or below is None:
        return
    if any(above + 0.01 < level < below - 0.01 for level in levels):
        yield from ("stop", "branch")


def _led_on(stop: Shape, sheets: Sequence[Sheet]) -> Iterator[Disagreement]:
    """Stitches right over a line across to which markers lead from under it, without a line that
    comes up to them, in the sizes that go on there."""
    for sheet in sheets:
        if slug(sheet.map.size) in _sizes(stop):
            continue
        above = [(row.level, r) for row, r in sheet.paired if row.level < stop.box.centre.imag]
        if above:
            yield from _led_in(sheet, max(above, key=lambda pair: pair[0])[1].number)


def _led_in(sheet: Sheet, number: int) -> Iterator[Disagreement]:
    """Stitches of a division to which markers lead from further down the page, without a line
    that comes up to them."""
    rows = {round_.number: (row, round_) for row, round_ in sheet.paired}
    if number not in rows or number - 1 not in rows:
        return
    row, round_ = rows[number]
    marked = {n for name, n in rows[number - 1][1].markers if name.endswith("marker")}
    entries = {str(i) for i, op in enumerate(round_.work) if set(op.into[:1]) & marked}
    lines = [s for s in sheet.page.shapes if s.tag("role") == "leading" and s.inks]
    for stitch in row.items:
        middle = stitch.box.centre
        if stitch.tag("role") != "sum" and stitch.tag("index") in entries and not any(
            abs(line.box.centre.real - middle.real) < 0.3 * sheet.pitch
            and 0 < line.box.top - middle.imag < 0.9 * sheet.pitch
            for line in lines
        ):  # fmt: skip
            yield found_at("parting", "no line leads up to a stitch over a marked one", stitch)


def _unruled(page: Page, label: Shape) -> list[Disagreement]:
    """A parting without its line."""
    own = (label.tag("size"), label.tag("round"))
    ruled = any(
        shape.tag("role") == "parting"
        and (shape.tag("size"), shape.tag("round")) == own
        and abs(shape.box.centre.imag - label.box.centre.imag) < 2 * _LEVEL
        and shape.inks
        for shape in page.shapes
    )
    if ruled:
        return []
    return [found_at("parting", "the words of a parting stand on no line", label)]
