"""What differs between two runs of a pattern, size by size."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby
from typing import Literal, NamedTuple

from gussetry.counts import PIECES, count_table
from gussetry.diagnostics import Faults, Problem
from gussetry.errata.folders import Cells, Listed, Output
from gussetry.grading import finished
from gussetry.stitchmap import Fabric, Mitten, Op, PieceName, Round, StitchMap
from gussetry.units import text

What = Literal[
    "pattern", "style", "gauge", "rib gauge", "above crease", "yarn", "size", "mittens",
    "round", "count", "colour", "work", "markers", "measure", "drawing", "file", "count table",
]  # fmt: skip

Worked = Literal["rows", "rounds", ""]
Value = str | int | Fraction | None


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that differs: `old` is None where it is new, `new` where it is gone.

    `size` is empty where it concerns all sizes; `mitten` is `both`, `left` or `right`. `name` says
    which yarn, measure or file. A round is named by piece, phase and step, with its number before
    and after; `worked` is empty where it is not known whether it is a row. Measures are in
    millimetres. Where a `work` differs, old and new are both the count; where the same is worked
    and `markers` differ, the markers' names, which are alike where they stand elsewhere.
    """

    what: What
    size: str = ""
    mitten: str = ""
    name: str = ""
    piece: str = ""
    phase: str = ""
    step: int = 0
    worked: Worked = ""
    old_round: int | None = None
    new_round: int | None = None
    old: Value = None
    new: Value = None


class _Key(NamedTuple):
    """What names a round in every run and size: step `step` of its phase, the `again`th of these
    after the first."""

    piece: PieceName
    worked: Literal["rows", "rounds"]
    phase: str
    step: int
    again: int = 0


def changes(old: Output, new: Output) -> tuple[Change, ...]:
    """Everything that differs, in order: of all sizes first, then size by size. Faults where a
    stitch map cannot be measured.

    Rounds are aligned by piece, phase and step, so that a round more below moves none above it.
    """
    if not old.maps or not new.maps:
        return tuple(_cells(old.cells, new.cells))
    shared = _shared(old, new)
    found = [*_heads(old, new), *_sizes(old, new, shared)]
    own = [list(_made(*pair)) for pair in shared]
    # What every size shares is a change of the pattern, told once.
    common = [c for c in _bare(own[0]) if all(c in _bare(each) for each in own)] if own else []
    found += common
    for (one, other), made in zip(shared, own, strict=True):
        found += [c for c in made if replace(c, size="", mitten="") not in common]
        found += _rounds(one, other)
        found += _measures(one, other)
    found += _files(old, new, {other.size for one, other in shared if one.mitten != other.mitten})
    found += _table(old, new)
    order = ["", *dict.fromkeys(m.size for m in (*new.maps, *old.maps))]
    found.sort(key=lambda c: order.index(c.size) if c.size in order else len(order))
    return tuple(_paired(found))


def _shared(old: Output, new: Output) -> list[tuple[StitchMap, StitchMap]]:
    """What to compare: the same mitten of a size, or where only one of the two runs tells left and
    right apart, each of them with that which serves both."""
    before = {(m.size, m.mitten): m for m in old.maps}
    sides: tuple[Mitten, ...] = ("left", "right")
    found = []
    for other in new.maps:
        wanted = [other.mitten]
        if (other.size, other.mitten) not in before:
            wanted = list(sides) if other.mitten == "both" else ["both"]
        found += [(before[other.size, w], other) for w in wanted if (other.size, w) in before]
    return found


def _side(old: StitchMap, new: StitchMap) -> Mitten:
    """The mitten that the two are compared for."""
    return old.mitten if new.mitten == "both" else new.mitten


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


def _sizes(old: Output, new: Output, shared: list[tuple[StitchMap, StitchMap]]) -> Iterator[Change]:
    """Sizes, or mittens of one, that only one of the two has."""
    for stitches in old.maps:
        if not any(one is stitches for one, _ in shared):
            yield Change("size", stitches.size, stitches.mitten, old=stitches.size)
    for stitches in new.maps:
        if not any(other is stitches for _, other in shared):
            yield Change("size", stitches.size, stitches.mitten, new=stitches.size)


def _mittens(stitches: StitchMap) -> str:
    return "both alike" if stitches.mitten == "both" else "a left and a right"


def _gauge(fabric: Fabric | None) -> str | None:
    """Stitches and rounds over 10 cm."""
    if fabric is None:
        return None
    across, up = (text(100 / length, 2) for length in (fabric.width, fabric.height))
    return f"{fabric.stitch}, {across} × {up} over 10 cm"


def _made(old: StitchMap, new: StitchMap) -> Iterator[Change]:
    """Changed gauges and yarns, and left and right told apart or no longer."""
    at = Change("gauge", new.size, _side(old, new))
    if old.mitten != new.mitten:
        yield replace(at, what="mittens", old=_mittens(old), new=_mittens(new))
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


def _keyed(stitches: StitchMap) -> dict[_Key, Round]:
    """Every round by piece, phase and step, and how often such a round stood before it."""
    found: dict[_Key, Round] = {}
    for piece in stitches.pieces:
        for round_ in piece.rounds:
            key = _Key(piece.piece, piece.worked, round_.phase, round_.step)
            while key in found:
                key = key._replace(again=key.again + 1)
            found[key] = round_
    return found


def _rounds(old: StitchMap, new: StitchMap) -> Iterator[Change]:
    """Rounds gone and new, and those with another count, yarn or work; in order of working."""
    before, after = _keyed(old), _keyed(new)
    for piece in PIECES:
        own = [
            key for key in (*after, *(k for k in before if k not in after)) if key.piece == piece
        ]
        for key in sorted(own, key=lambda key: (before.get(key) or after[key]).number):
            one, other = before.get(key), after.get(key)
            at = Change(
                "round", new.size, _side(old, new), "", piece, key.phase, key.step, key.worked,
                one.number if one else None, other.number if other else None,
                one.count if one else None, other.count if other else None,
            )  # fmt: skip
            if one is None or other is None:
                yield at
            else:
                yield from _of_round(one, other, at)


def _of_round(old: Round, new: Round, at: Change) -> Iterator[Change]:
    """What differs in a round that both have."""
    one, other = _work(old), _work(new)
    if old.count != new.count:
        yield replace(at, what="count")
    elif one != other:
        # How many ends a seam joins, or a drawing shut, follows from the counts.
        if old.count or len(one) == len(other):
            yield replace(at, what="work")
    elif dict(old.markers) != dict(new.markers):
        names = [", ".join(sorted(dict(r.markers))) for r in (old, new)]
        yield replace(at, what="markers", old=names[0], new=names[1])
    if old.yarn != new.yarn:
        yield replace(at, what="colour", old=old.yarn, new=new.yarn)


def _work(round_: Round) -> tuple[Op, ...]:
    """What is worked, whatever the yarn it is finished with; a round that leaves nothing (a seam,
    a drawing shut) without its places, which follow from the counts."""
    work = tuple(replace(op, finish=None) for op in round_.work)
    return work if round_.count else tuple(replace(op, into=()) for op in work)


def _measures(old: StitchMap, new: StitchMap) -> Iterator[Change]:
    before, after = _finished(old), _finished(new)
    for name in dict.fromkeys((*after, *before)):
        one, other = before.get(name), after.get(name)
        if one != other:
            yield Change("measure", new.size, _side(old, new), name, old=one, new=other)


def _finished(stitches: StitchMap) -> dict[str, Fraction]:
    try:
        return finished(stitches)
    except (AssertionError, StopIteration, IndexError):
        message = f"the stitch map of size {stitches.size} lacks rounds, so it cannot be measured"
        raise Faults([Problem("broken-map", message, help="draw the pattern again")]) from None


def _files(old: Output, new: Output, resided: set[str]) -> Iterator[Change]:
    """Drawings and other files whose content differs, or that only one of the two has. Those of
    sizes `resided` are all others where left and right are told apart, or no longer."""
    alike = {_kind(f) for f in old.files} & {_kind(f) for f in new.files}
    alike = {(size, kind) for size, kind in alike if size in resided}
    before = {file.name: file for file in old.files if _kind(file) not in alike}
    after = {file.name: file for file in new.files if _kind(file) not in alike}
    for name in dict.fromkeys((*after, *before)):
        one, other = before.get(name), after.get(name)
        known = other or one
        if known is None or (one and other and _same(one, other)):
            continue
        what: What = "drawing" if name.endswith(".svg") else "file"
        sized = _kind(known)[0]
        yield Change(
            what, sized, known.mitten if sized else "", name,
            old=one.content if one else None, new=other.content if other else None,
        )  # fmt: skip


def _kind(file: Listed) -> tuple[str, str]:
    """The size that a file shows, empty where it shows no one size, and what it is."""
    return file.size if "/" in file.name else "", file.kind


def _same(one: Listed, other: Listed) -> bool:
    pictures = one.png is None or other.png is None or one.png == other.png
    return one.content == other.content and pictures


def _mapped(output: Output) -> Cells:
    """The count table that the stitch maps make."""
    sizes = [list(maps) for _, maps in groupby(output.maps, key=lambda m: m.size)]
    table = count_table(sizes)
    return {
        (column, row.piece, row.round): count
        for row in table.rows
        for column, count in zip(table.sizes, row.counts, strict=True)
    }


def _table(old: Output, new: Output) -> Iterator[Change]:
    """Counts that differ in the count tables alone, and not so in the stitch maps."""
    before, after = _mapped(old), _mapped(new)
    worked: dict[str, Worked] = {
        p.piece: p.worked for m in (*new.maps, *old.maps) for p in m.pieces
    }
    for change in _cells(old.cells, new.cells):
        key = (change.size, change.piece, change.old_round or change.new_round or 0)
        if (change.old, change.new) != (before.get(key), after.get(key)):
            yield replace(change, what="count table", worked=worked.get(change.piece, ""))


def _cells(old: Cells, new: Cells) -> Iterator[Change]:
    """Counts and rounds that differ between two count tables, columns being sizes."""
    for key in dict.fromkeys((*new, *old)):
        one, other = old.get(key), new.get(key)
        if one == other:
            continue
        size, piece, number = key
        yield Change(
            "round" if one is None or other is None else "count", size, "", "", piece, "", 0, "",
            None if one is None else number, None if other is None else number, one, other,
        )  # fmt: skip
