"""A chart of several sizes without tags: taken apart into what the maker of each size reads, each
told as a chart of hers alone, and put together again."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from copy import deepcopy
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from gussetry.naming import slug
from gussetry.stitchmap import StitchMap
from gussetry.verify.charts import nearest_level, read_sheet
from gussetry.verify.findings import Asked
from gussetry.verify.levels import level
from gussetry.verify.several import NOTHING, own_text
from gussetry.verify.svg import Shape
from gussetry.verify.tagless_parts import Parts, interim
from gussetry.verify.words import operations, round_sum

_ACROSS = re.compile(r"(.+?): (?:round (.+) further up|from round (.+))")
_LIST = re.compile(r"\d+(?:–\d+)? \(([^()]*)\)")
_FIGURES = re.compile(r"[\d ·m=(),]*\d[\d ·m=(),]*|[\d (),]+ · [\d (),]*(?:join|ch) · [\d ·=(),]+")
_LINE = 0.6  # of a label's height: what stands on one line with it is no further off
_BESIDE = 0.48  # lines of a row reach so far towards the next, over the distance of the two
_CHIP = 12.0  # mm: a patch of a yarn's colour beside a row is no larger
_LEVEL = 0.4  # mm by which a line and its words may differ in height

Places = tuple[int, ...]
"""Sizes by their places among those that the chart serves."""


class Serving(NamedTuple):
    """The sizes that a shape serves, and how far below it the row lies to which its line belongs,
    mm: lines of single sizes stand about their row's middle."""

    sizes: Places
    down: float = 0.0


Infer = Callable[[Parts, Asked], None]
"""Tells the tags of a chart of one size, its stitches known."""


@dataclass(frozen=True, slots=True)
class _Course:
    """A row of stitches, or words that stand for rows: its height on the page, the sizes that work
    it, and the stitches in it."""

    level: float
    sizes: Places
    stitches: frozenset[int]


def infer_several(parts: Parts, asked: Asked, infer: Infer) -> None:
    """The tags of a chart of several sizes, its stitches known: `infer` tells those of one."""
    names = [stitches.size for stitches in asked.maps]
    words = _size_words(parts, names)
    _tag_partings(parts, asked, names)
    courses = _courses(parts, asked, words)
    serves = _served(parts, asked, courses, words)
    told: list[dict[int, dict[str, str]]] = []
    for place, own in enumerate(asked.maps):
        view = _view(parts, serves, place, set(words))
        infer(view, replace(asked, maps=(own,)))
        told.append(view.marks)
        parts.root |= {k: v for k, v in view.root.items() if k in ("yarns", "form")}
    for shape in parts.page.shapes:
        if shape.order not in words and parts.role(shape) not in _ACROSS_ROLES:
            _merge(parts, shape, told, (asked.maps, serves.get(shape.order)))
    _tag_words(parts, words, courses, asked)
    _tag_leading(parts, courses)


# --- which sizes ------------------------------------------------------------------------------


def _named(text: str, names: Sequence[str]) -> Places:
    """The sizes that a text lists, `S (M, L)`, in the chart's order; none where it lists none."""
    first = next((n for n in names if text == n or text.startswith(f"{n} (")), None)
    if first is None:
        return ()
    rest = text[len(first) :]
    listed = rest[2:-1].split(", ") if rest.endswith(")") else []
    if (rest and not listed) or not set(listed) <= set(names):
        return ()
    places = [names.index(name) for name in (first, *listed)]
    return tuple(places) if places == sorted(set(places)) else ()


def _size_words(parts: Parts, names: Sequence[str]) -> dict[int, Places]:
    """Labels that name sizes, by their order; a letter in a patch is a yarn's."""
    return {
        label.order: places
        for label in parts.labels
        if (places := _named(parts.text(label), names))
        and not any(patch.box.holds(label.box.centre) for patch in parts.patches)
    }


def _courses(parts: Parts, asked: Asked, words: dict[int, Places]) -> list[_Course]:
    """The rows, and sums that stand for rows, with the sizes that are named beside them: all where
    none is."""
    rows = _rows(parts, asked)
    levels = [at for at, _ in rows]
    gaps = sorted(abs(a - b) for a, b in pairwise(levels))
    half = gaps[len(gaps) // 2] / 2 if gaps else 10.0
    for label in parts.labels:
        text, height = _first_text(parts, label), level(label)
        if round_sum(text, asked.terms) is not None:
            rows.append((height, frozenset()))
        elif operations(text, asked.terms) is not None and levels:
            nearest, gap = nearest_level(levels, height)
            if abs(nearest - height) > max(half, _BESIDE * gap):
                rows.append((height, frozenset()))
    named: dict[float, set[int]] = {}
    for label in parts.labels:
        if label.order in words and rows:
            nearest = min((at for at, _ in rows), key=lambda at: abs(at - level(label)))
            named.setdefault(nearest, set()).update(words[label.order])
    every = tuple(range(len(asked.maps)))
    return [_Course(at, tuple(sorted(named.get(at, every))), own) for at, own in rows]


def _rows(parts: Parts, asked: Asked) -> list[tuple[float, frozenset[int]]]:
    """The rows of stitches by their heights, each with its stitches, those of a bridge among
    them."""
    sheet, _ = read_sheet(interim(parts), asked, asked.maps[0], parts.texts)
    if sheet is None:
        return []
    return [
        (row.level, frozenset(shape.order for shape in (*row.items, *row.bridge)))
        for row in sheet.rows
    ]


def _length(text: str) -> int:
    """For how many sizes a text speaks; 1 where it is alike for all of them."""
    if " / " in text:
        return text.count(" / ") + 1
    found = _LIST.search(text)
    return found[1].count(", ") + 2 if found else 1


def _served(
    parts: Parts, asked: Asked, courses: Sequence[_Course], words: dict[int, Places]
) -> dict[int, Serving]:
    """Which sizes stitches, labels and patches of rows serve, by the shapes' order."""
    serves = {order: Serving(course.sizes) for course in courses for order in course.stitches}
    if not courses:
        return serves
    chips = [patch for patch in parts.patches if patch.box.size < _CHIP]
    of_rows: dict[float, list[Shape]] = {}
    for chip in sorted(chips, key=lambda chip: chip.box.left):
        of_rows.setdefault(_nearest(courses, level(chip)).level, []).append(chip)
    for course in courses:
        # Side by side they are the sizes' own, in their order from the left.
        own = of_rows.get(course.level, [])
        for nth, chip in enumerate(own):
            alike = len(own) != len(course.sizes) or len(own) == 1
            serves[chip.order] = Serving(course.sizes if alike else (course.sizes[nth],))
    beside: dict[float, list[Shape]] = {}
    for label in parts.labels:
        around = next((c for c in chips if c.box.holds(label.box.centre)), None)
        if around is not None:
            serves[label.order] = serves[around.order]
        elif label.order not in words and _is_of_row(_first_text(parts, label), asked):
            beside.setdefault(_nearest(courses, level(label)).level, []).append(label)
    for course in courses:
        for label in beside.get(course.level, ()):
            serves[label.order] = _by_line(parts, label, (course, beside[course.level]), words)
    for shape in parts.page.shapes:
        if parts.role(shape) in ("marked", "joined"):
            under = [c for c in courses if c.stitches and c.level > level(shape)]
            if under:
                own_row = min(under, key=lambda course: course.level)
                serves[shape.order] = Serving(own_row.sizes)
    return serves


def _by_line(
    parts: Parts, label: Shape, row: tuple[_Course, Sequence[Shape]], words: dict[int, Places]
) -> Serving:
    """Which sizes words beside a row serve: those named on their line, or all of the row where
    nothing else stands over or under them."""
    course, beside = row
    box, own = label.box, _on_line(parts, label, words)
    column = [o for o in beside if o.box.left < box.right and o.box.right > box.left]
    named, length = _union(own, words), _length(parts.text(label))
    if not named or length not in (1, len(named)) or (
        len(column) == 1 and length in (1, len(course.sizes))
    ):  # fmt: skip
        return Serving(course.sizes, course.level - level(label) if own else 0.0)
    return Serving(named, course.level - level(own[0]))


def _first_text(parts: Parts, label: Shape) -> str:
    """What the first of its sizes reads in a label."""
    text = parts.text(label)
    return own_text(text, 0, _length(text))


def _on_line(parts: Parts, shape: Shape, words: dict[int, Places]) -> list[Shape]:
    """The names of sizes on one line with a shape."""
    reach = max(_LEVEL, _LINE * (shape.box.bottom - shape.box.top))
    return [
        label
        for label in parts.labels
        if label.order in words and abs(level(label) - level(shape)) < reach
    ]


def _union(labels: Sequence[Shape], words: dict[int, Places]) -> Places:
    return tuple(sorted({place for label in labels for place in words[label.order]}))


def _nearest(courses: Sequence[_Course], height: float) -> _Course:
    return min(courses, key=lambda course: abs(course.level - height))


def _is_of_row(text: str, asked: Asked) -> bool:
    """Whether words are such as stand beside rows: figures or sums."""
    return (
        _FIGURES.fullmatch(text) is not None
        or round_sum(text, asked.terms) is not None
        or operations(text, asked.terms) is not None
    )


# --- apart and together -----------------------------------------------------------------------


def _view(parts: Parts, serves: dict[int, Serving], place: int, words: set[int]) -> Parts:
    """What the maker of the size at a place reads, in her own numbers; each line at its row."""
    hidden = {order for order, own in serves.items() if place not in own.sizes} | words
    hidden |= {o for o, marks in parts.marks.items() if marks.get("data-role") in _ACROSS_ROLES}

    def seen(shapes: Sequence[Shape]) -> list[Shape]:
        return [_at_row(s, serves.get(s.order)) for s in shapes if s.order not in hidden]

    texts = dict(parts.texts)
    for order, own in serves.items():
        if order in texts and order not in hidden and _length(texts[order]) > 1:
            texts[order] = own_text(texts[order], own.sizes.index(place), len(own.sizes))
    page = replace(parts.page, shapes=tuple(seen(parts.page.shapes)))
    return Parts(
        page, texts, seen(parts.labels), seen(parts.patches), seen(parts.arrows),
        seen(parts.lines), seen(parts.loops), seen(parts.glyphs), seen(parts.odd),
        deepcopy(parts.marks), dict(parts.root),
    )  # fmt: skip


def _at_row(shape: Shape, serving: Serving | None) -> Shape:
    if serving is None or not serving.down:
        return shape
    box = shape.box
    return replace(
        shape, box=box._replace(top=box.top + serving.down, bottom=box.bottom + serving.down)
    )


_ACROSS_ROLES = ("parting", "stop", "branch")


def _merge(
    parts: Parts,
    shape: Shape,
    told: Sequence[dict[int, dict[str, str]]],
    serving: tuple[Sequence[StitchMap], Serving | None],
) -> None:
    """The tags that a shape has for every size together, its numbers as lists."""
    maps, serves = serving
    places = range(len(maps)) if serves is None else serves.sizes
    found = [(place, told[place].get(shape.order, {})) for place in places]
    named = [(place, marks) for place, marks in found if "data-size" in marks]
    tags = dict((named or found)[0][1]) if found else {}
    if named:
        for tag in ("data-round", "data-index"):
            if any(tag in marks for _, marks in named):
                # What is too much in a size's row has a tag, and no place.
                tags[tag] = " ".join(marks.get(tag, NOTHING) or "?" for _, marks in named)
    if named or (serves is not None and tags.get("data-role") in ("marked", "joined")):
        own = [place for place, _ in named or found]
        tags["data-size"] = " ".join(slug(maps[place].size) for place in own)
    parts.marks[shape.order] = {**parts.marks.get(shape.order, {}), **tags}


# --- names of sizes, and where they part ------------------------------------------------------


def _tag_partings(parts: Parts, asked: Asked, names: Sequence[str]) -> None:
    """Words that send sizes further up the page, and the lines across on which they stand."""
    for label in parts.labels:
        found = _ACROSS.fullmatch(parts.text(label))
        sizes = _named(found[1], names) if found else ()
        if found is None or not sizes:
            continue
        said = [own_text(found[2] or found[3], k, len(sizes)) for k in range(len(sizes))]
        stop = found[2] is not None
        numbers = [str(int(n) - stop) if n.isascii() and n.isdigit() else "?" for n in said]
        own = {
            "piece": "thumb" if asked.kind == "thumb" else "hand",
            "size": " ".join(slug(names[place]) for place in sizes),
            "round": " ".join(numbers),
        }
        parts.tag(label, role="stop" if stop else "branch", **own)
        for line in parts.lines:
            if max(line.box.bottom - line.box.top, abs(level(line) - level(label))) < 2 * _LEVEL:
                parts.tag(line, role="parting", **own)


def _tag_words(
    parts: Parts, words: dict[int, Places], courses: Sequence[_Course], asked: Asked
) -> None:
    """The names of sizes beside rows."""
    for label in parts.labels:
        if label.order in words and courses:
            parts.tag(label, role="size", piece="", size=" ".join(
                slug(asked.maps[place].size) for place in words[label.order]))  # fmt: skip


def _tag_leading(parts: Parts, courses: Sequence[_Course]) -> None:
    """Lines that come up to stitches from a line across, over which their sizes go on."""
    branches = [level(s) for s in parts.labels if parts.role(s) in ("branch", "stop")]
    for line in (one for one in parts.lines if parts.role(one) != "parting"):
        for across in branches:
            above = [course.level for course in courses if course.level < across]
            if above and max(above) < line.box.top and line.box.bottom < across:
                parts.tag(line, role="leading")
