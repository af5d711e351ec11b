"""Yarns in the words: which round is in which, where they change, what becomes of the old."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from gussetry.grading.changes import Change, changes, fabric_of
from gussetry.stitchmap import Piece, PieceName, StitchMap
from gussetry.telling.lists import enumerated, listed, span
from gussetry.telling.rounds import capital
from gussetry.words.lines import Line


def throughout(pieces: Sequence[Piece]) -> str | None:
    """The one yarn of a piece in each size, `A` or `A (A, B)`; None where any size has several."""
    yarns = [{r.yarn for r in piece.rounds} for piece in pieces]
    if any(len(own) > 1 for own in yarns):
        return None
    return listed([next(iter(own)) for own in yarns])


def label(line: Line) -> str:
    """The yarns of a line's rounds, ` in A (A, B)`, or ` in stripes` where they change within."""
    own = [{one.round.yarn for one in run} for run in line.runs.values()]
    if any(len(yarns) > 1 for yarns in own):
        return " in stripes"
    return f" in {listed([next(iter(yarns)) for yarns in own])}"


def change(line: Line, sizes: Sequence[str], known: Sequence[Sequence[Change]]) -> str:
    """The sentence that a line ends with where a yarn changes after its last round, and what
    becomes of the old one; nothing where none does, or where the stripes change within it too."""
    if label(line) == " in stripes":
        return ""
    ways: dict[tuple[str, str, bool], list[str]] = {}
    for i, run in line.runs.items():
        for one in known[i]:
            if one.after == run[-1].round.number:
                ways.setdefault((one.new, one.old, one.carried), []).append(sizes[i])
    if len(ways) > 1:
        told = [_way(*way, names) for way, names in ways.items()]
        return f"Change yarn in the last st: {'; '.join(told)}."
    for (new, old, carried), names in ways.items():
        rest = f"carry {old} up inside" if carried else f"cut {old}"
        some = f" ({_sizes(names)})" if len(names) < len(line.runs) else ""
        return f"Change to {new} in the last st and {rest}{some}."
    return ""


def _way(new: str, old: str, carried: bool, names: Sequence[str]) -> str:
    rest = f"carrying {old} up inside" if carried else f"cutting {old}"
    return f"to {new}, {rest} ({_sizes(names)})"


def _sizes(names: Sequence[str]) -> str:
    return f"size{'s' if len(names) > 1 else ''} {enumerated(names)}"


def known_changes(maps: Sequence[StitchMap], name: PieceName, carry: int) -> list[list[Change]]:
    """The changes of yarn in that piece of every size."""
    found = []
    for stitches in maps:
        piece = stitches.piece(name)
        own = changes(piece, fabric_of(stitches, piece), carry) if piece else ()
        found.append(list(own))
    return found


def stripes(maps: Sequence[StitchMap], carry: int) -> Iterator[str]:
    """Which rounds are worked in which yarn, a line a piece and group of sizes; then what becomes
    of a yarn that rests."""
    striped = False
    for piece in maps[0].pieces:
        own = [found for m in maps if (found := m.piece(piece.piece))]
        if throughout(own) is None:
            striped = True
            yield from _plans(piece.piece, own, [m.size for m in maps])
    if striped:
        if len(maps) > 1:
            yield "A label that ends “in stripes”: its rnds or rows are in the yarns listed here."
        yield "Change yarn in the last st of the rnd or row before, as under Special stitches."
        yield from _resting(maps, carry)


def _plans(name: str, pieces: Sequence[Piece], sizes: Sequence[str]) -> Iterator[str]:
    """The yarns of one piece: one plan for all sizes where each goes on along the same."""
    plans = [tuple(r.yarn for r in piece.counted) for piece in pieces]
    longest = max(plans, key=len)
    title, kind = name.capitalize(), "rows" if pieces[0].worked == "rows" else "rnds"
    if all(longest[: len(plan)] == plan for plan in plans):
        yield f"{title}: {kind} {_ranges(longest)}."
        return
    groups: dict[tuple[str, ...], list[str]] = {}
    for size, plan in zip(sizes, plans, strict=True):
        groups.setdefault(plan, []).append(size)
    for plan, names in groups.items():
        noun = "size" if len(names) == 1 else "sizes"
        yield f"{title}, {noun} {enumerated(names)}: {kind} {_ranges(plan)}."


def _ranges(plan: Sequence[str]) -> str:
    shown, number = [], 1
    for yarn, run in groupby(plan):
        long = len(list(run))
        shown.append(f"{span(number, number + long - 1)} {yarn}")
        number += long
    return ", ".join(shown)


def _resting(maps: Sequence[StitchMap], carry: int) -> Iterator[str]:
    """What becomes of each yarn at its changes: always carried, always cut, or either; of a cuff
    in rows by itself, where a yarn hangs at one edge."""
    rows = {p.piece for p in maps[0].pieces if p.worked == "rows"}
    for sideways in (True, False):
        names = [p.piece for p in maps[0].pieces if (p.piece in rows) == sideways]
        found = [one for name in names for own in known_changes(maps, name, carry) for one in own]
        ways: dict[str, list[str]] = {}
        for letter in dict.fromkeys(one.old for one in found):
            own = [one for one in found if one.old == letter and one.back is not None]
            ways.setdefault(_becomes(own, sideways), []).append(letter)
        for way, letters in ways.items():
            words = _rest(way, letters)
            yield f"Cuff: {words}" if sideways else capital(words)


def _becomes(changes: Sequence[Change], sideways: bool) -> str:
    """What becomes of a yarn that comes back at each of the changes: `cut`, `carry`, or carried
    `after 2 rounds or fewer`."""
    rests = [one.back - one.round for one in changes if one.carried and one.back is not None]
    if not rests:
        return "cut"
    if all(one.carried for one in changes):
        return "carry"
    most = max(rests)
    if sideways:
        return f"after an even number of rows, {most} or fewer"
    return "after one round" if most == 1 else f"after {most} rounds or fewer"


def _rest(way: str, letters: Sequence[str]) -> str:
    one, yarns = len(letters) == 1, enumerated(letters)
    if way == "cut":
        return f"cut {yarns} at the end of each of {'its' if one else 'their'} stripes."
    if way == "carry":
        last = "its last stripe is done" if one else "their last stripes are done"
        return (
            f"carry {yarns} up inside wherever {'it rests' if one else 'they rest'}, until {last}."
        )
    comes, it = ("it comes", "it") if one else ("they come", "them")
    return f"carry {yarns} up inside where {comes} back {way}; else cut {it}."
