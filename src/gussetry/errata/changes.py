"""What differs between two runs of a pattern, size by size."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby
from typing import Literal

from gussetry.counts import PIECES, count_table
from gussetry.diagnostics import Faults, Problem
from gussetry.errata.folders import Cells, Listed, Output
from gussetry.grading import finished
from gussetry.stitchmap import Fabric, Op, Round, StitchMap
from gussetry.units import text

What = Literal[
    "pattern", "style", "gauge", "rib gauge", "above crease", "yarn", "size",
    "round", "count", "colour", "work", "measure", "drawing", "file", "count table",
]  # fmt: skip

Value = str | int | Fraction | None


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that differs: `old` is None where it is new, `new` where it is gone.

    `size` is empty where it concerns all sizes; `mitten` is `both`, `left` or `right`. `name` says
    which yarn, measure or file. A round is named by piece, phase and step, with its number before
    and after. Measures are in millimetres. Where a `work` differs, old and new are both the count.
    """

    what: What
    size: str = ""
    mitten: str = ""
    name: str = ""
    piece: str = ""
    phase: str = ""
    step: int = 0
    old_round: int | None = None
    new_round: int | None = None
    old: Value = None
    new: Value = None


def changes(old: Output, new: Output) -> tuple[Change, ...]:
    """Everything that differs, in order: of all sizes first, then size by size. Faults where a
    stitch map cannot be measured.

    Rounds are aligned by piece, phase and step, so that a round more below moves none above it.
    """
    if not old.maps or not new.maps:
        return tuple(_cells(old.cells, new.cells))
    found = [*_heads(old, new), *_sizes(old, new)]
    before = {(m.size, m.mitten): m for m in old.maps}
    shared = [(before[m.size, m.mitten], m) for m in new.maps if (m.size, m.mitten) in before]
    own = [list(_made(*pair)) for pair in shared]
    # What every size shares is a change of the pattern, told once.
    common = [c for c in _bare(own[0]) if all(c in _bare(each) for each in own)] if own else []
    found += common
    for (one, other), made in zip(shared, own, strict=True):
        found += [c for c in made if replace(c, size="", mitten="") not in common]
        found += _rounds(one, other)
        found += _measures(one, other)
    found += _files(old, new)
    found += _table(old, new)
    order = ["", *dict.fromkeys(m.size for m in (*new.maps, *old.maps))]
    found.sort(key=lambda c: order.index(c.size) if c.size in order else len(order))
    return tuple(_paired(found))


def _paired(found: list[Change]) -> Iterator[Change]:
    """What a left and a right mitten share, told once as of both."""
    known = set(found)
    for change in found:
        if change.mitten == "left" and replace(change, mitten="right") in known:
            yield replace(change, mitten="both")
        elif change.mitten != "right" or replace(change, mitten="left") not in known:
            yield change


def _bare(found: list[Change]) -> list[Change]:
    return [replace(change, size="", mitten="") for change in found]


def _heads(old: Output, new: Output) -> Iterator[Change]:
    if old.pattern != new.pattern:
        yield Change("pattern", old=old.pattern, new=new.pattern)
    if old.style != new.style:
        yield Change("style", old=old.style, new=new.style)


def _sizes(old: Output, new: Output) -> Iterator[Change]:
    """Sizes, or mittens of one, that only one of the two has."""
    before = [(m.size, m.mitten) for m in old.maps]
    after = [(m.size, m.mitten) for m in new.maps]
    for size, mitten in before:
        if (size, mitten) not in after:
            yield Change("size", size, mitten, old=size)
    for size, mitten in after:
        if (size, mitten) not in before:
            yield Change("size", size, mitten, new=size)


def _gauge(fabric: Fabric | None) -> str | None:
    """Stitches and rounds over 10 cm."""
    if fabric is None:
        return None
    across, up = (text(100 / length, 2) for length in (fabric.width, fabric.height))
    return f"{fabric.stitch}, {across} × {up} over 10 cm"


def _made(old: StitchMap, new: StitchMap) -> Iterator[Change]:
    """Changed gauges and yarns."""
    at = Change("gauge", new.size, new.mitten)
    if old.fabric != new.fabric:
        yield replace(at, old=_gauge(old.fabric), new=_gauge(new.fabric))
    if old.rib != new.rib:
        yield replace(at, what="rib gauge", old=_gauge(old.rib), new=_gauge(new.rib))
    if old.above_crease != new.above_crease:
        yield replace(at, what="above crease", old=old.above_crease, new=new.above_crease)
    before = {letter: f"{name} {colour}" for letter, name, colour in old.yarns}
    after = {letter: f"{name} {colour}" for letter, name, colour in new.yarns}
    for letter in sorted(before | after):
        if before.get(letter) != after.get(letter):
            yield replace(
                at, what="yarn", name=letter, old=before.get(letter), new=after.get(letter)
            )


def _keyed(stitches: StitchMap) -> dict[tuple[str, str, int, int], Round]:
    """Every round by piece, phase and step, and how often such a round stood before it."""
    found: dict[tuple[str, str, int, int], Round] = {}
    for piece in stitches.pieces:
        for round_ in piece.rounds:
            again = 0
            while (piece.piece, round_.phase, round_.step, again) in found:
                again += 1
            found[piece.piece, round_.phase, round_.step, again] = round_
    return found


def _rounds(old: StitchMap, new: StitchMap) -> Iterator[Change]:
    """Rounds gone and new, and those with another count, yarn or work; in order of working."""
    before, after = _keyed(old), _keyed(new)
    for piece in PIECES:
        own = [key for key in (*after, *(k for k in before if k not in after)) if key[0] == piece]
        for key in sorted(own, key=lambda key: (before.get(key) or after[key]).number):
            one, other = before.get(key), after.get(key)
            at = Change(
                "round", new.size, new.mitten, "", piece, key[1], key[2],
                one.number if one else None, other.number if other else None,
                one.count if one else None, other.count if other else None,
            )  # fmt: skip
            if one is None or other is None:
                yield at
                continue
            if one.count != other.count:
                yield replace(at, what="count")
            elif _work(one) != _work(other) and (one.count or len(_work(one)) == len(_work(other))):
                yield replace(at, what="work")
            if one.yarn != other.yarn:
                yield replace(at, what="colour", old=one.yarn, new=other.yarn)


def _work(round_: Round) -> tuple[tuple[Op, ...], tuple[tuple[str, int], ...]]:
    """What is worked, whatever the yarn it is finished with; a round that leaves nothing (a seam,
    a drawing shut) without its places, which follow from the counts."""
    work = tuple(replace(op, finish=None) for op in round_.work)
    if not round_.count:
        work = tuple(replace(op, into=()) for op in work)
    return work, round_.markers


def _measures(old: StitchMap, new: StitchMap) -> Iterator[Change]:
    before, after = _finished(old), _finished(new)
    for name in dict.fromkeys((*after, *before)):
        one, other = before.get(name), after.get(name)
        if one != other:
            yield Change("measure", new.size, new.mitten, name, old=one, new=other)


def _finished(stitches: StitchMap) -> dict[str, Fraction]:
    try:
        return finished(stitches)
    except (AssertionError, StopIteration, IndexError):
        message = f"the stitch map of size {stitches.size} lacks rounds, so it cannot be measured"
        raise Faults([Problem("broken-map", message, help="draw the pattern again")]) from None


def _files(old: Output, new: Output) -> Iterator[Change]:
    """Drawings and other files whose content differs, or that only one of the two has."""
    before = {file.name: file for file in old.files}
    after = {file.name: file for file in new.files}
    for name in dict.fromkeys((*after, *before)):
        one, other = before.get(name), after.get(name)
        known = other or one
        if known is None or (one and other and _same(one, other)):
            continue
        what: What = "drawing" if name.endswith(".svg") else "file"
        sized = known.size if "/" in name else ""
        yield Change(
            what, sized, known.mitten if sized else "", name,
            old=one.content if one else None, new=other.content if other else None,
        )  # fmt: skip


def _same(one: Listed, other: Listed) -> bool:
    pictures = one.png is None or other.png is None or one.png == other.png
    return one.content == other.content and pictures


def _mapped(output: Output) -> Cells:
    """The count table that the stitch maps make."""
    sizes = [list(maps) for _, maps in groupby(output.maps, key=lambda m: m.size)]
    table = count_table(sizes)
    return {
        (column, row.piece, row.round): None if count is None else count
        for row in table.rows
        for column, count in zip(table.sizes, row.counts, strict=True)
    }


def _table(old: Output, new: Output) -> Iterator[Change]:
    """Counts that differ in the count tables alone, and not so in the stitch maps."""
    before, after = _mapped(old), _mapped(new)
    for change in _cells(old.cells, new.cells):
        key = (change.size, change.piece, change.old_round or change.new_round or 0)
        if (change.old, change.new) != (before.get(key), after.get(key)):
            yield replace(change, what="count table")


def _cells(old: Cells, new: Cells) -> Iterator[Change]:
    """Counts and rounds that differ between two count tables, columns being sizes."""
    for key in dict.fromkeys((*new, *old)):
        one, other = old.get(key), new.get(key)
        if one == other:
            continue
        size, piece, number = key
        yield Change(
            "round" if one is None or other is None else "count", size, "", "", piece, "", 0,
            None if one is None else number, None if other is None else number, one, other,
        )  # fmt: skip
