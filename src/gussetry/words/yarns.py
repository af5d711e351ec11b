"""Yarns in the words: which round is in which, where they change, what becomes of the old."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from gussetry.grading.changes import Change, changes, fabric_of
from gussetry.stitchmap import Piece, PieceName, StitchMap
from gussetry.telling.lists import ABSENT, enumerated, listed, span
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
    """The sentence that a line ends with where a yarn changes after its last round; nothing where
    none does, or where the stripes change within it too."""
    if label(line) == " in stripes":
        return ""
    here = {
        i: next((c for c in known[i] if c.after == run[-1].round.number), None)
        for i, run in line.runs.items()
    }
    found = [one for one in here.values() if one]
    if not found:
        return ""
    if len({one.new for one in found}) > 1:
        new = listed([one.new if one else ABSENT for one in here.values()])
        return f"Change to {new} in the last st."
    words = f"Change to {found[0].new} in the last st"
    olds = {(one.old, one.carried) for one in found}
    if len(olds) == 1:
        ((old, carried),) = olds
        words += f" and carry {old} up inside" if carried else f" and cut {old}"
    if len(found) < len(here):
        names = [sizes[i] for i, one in here.items() if one]
        words += f" (size{'s' if len(names) > 1 else ''} {enumerated(names)})"
    return f"{words}."


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
    """What becomes of each yarn at its changes: always carried, always cut, or either."""
    found = [
        one
        for piece in maps[0].pieces
        for own in known_changes(maps, piece.piece, carry)
        for one in own
    ]
    for letter in dict.fromkeys(one.old for one in found):
        own = [one for one in found if one.old == letter and one.back is not None]
        rests = [one.back - one.round for one in own if one.carried and one.back is not None]
        if not rests:
            yield f"Cut {letter} at the end of each of its stripes."
        elif all(one.carried for one in own):
            yield f"Carry {letter} up inside wherever it rests, until its last stripe is done."
        else:
            yield (
                f"Carry {letter} up inside where it comes back after {max(rests)} rounds or fewer;"
                " else cut it."
            )
