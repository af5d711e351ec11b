"""A short notation for hand-typed stitch maps: `sc 0-4, join 5 >11, held sc 6-11`.

Operations are parted by commas. A range stands for one operation each; places with a plus
(`sc2tog 0+1`) belong to one. A letter names the place: r row end, c chain, u underside, t top of a
cuff worked round, h held, k crook, s seam. `>` comes before what is worked onto, `~` before a
stitch that is worked onto and not used up. Words before the kind: `held`, `loose` (does not count).
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

from gussetry.stitchmap import Fabric, Op, Piece, Place, Round, StitchMap

LETTERS = {
    "r": "row end",
    "c": "chain",
    "u": "underside",
    "t": "cuff",
    "h": "held",
    "k": "crook",
    "s": "seam",
}


def places(text: str) -> list[Place]:
    """The places of one range: `6-11`, `11-6` downwards, `h0-5`, `7`."""
    letter = text[0] if text[0] in LETTERS else ""
    numerals = text.removeprefix(letter)
    if numerals.startswith("-"):
        return [int(numerals)]
    first, _, last = numerals.partition("-")
    a, b = int(first), int(last or first)
    numbers = range(a, b + 1) if a <= b else range(a, b - 1, -1)
    return [(LETTERS[letter], i) if letter else i for i in numbers]


def ops(text: str) -> tuple[Op, ...]:
    """The operations that the notation says."""
    found: list[Op] = []
    for part in filter(None, map(str.strip, text.split(","))):
        words = part.split()
        held, loose = "held" in words, "loose" in words
        words = [word for word in words if word not in ("held", "loose")]
        op = Op(words[0], held=held, counts=not loose)
        each: list[Op] = []
        for word in words[1:]:
            if word[0] in ">~":
                onto = (int(word[1:]),)
                each = [replace(o, onto=onto, uses=word[0] == ">") for o in each or [op]]
            elif "+" in word:
                into = tuple(place for one in word.split("+") for place in places(one))
                each.append(replace(op, into=into))
            elif word[0] == "*":
                each = [op] * int(word[1:])
            else:
                each += [replace(op, into=(place,)) for place in places(word)]
        found += each or [op]
    return tuple(found)


def row(number: int, phase: str, step: int, text: str, **more: Any) -> Round:
    """A round; its count is taken from its work unless given, its yarn is A unless given.

    `work_finish` is the yarn that its last operation is finished with.
    """
    work = ops(text)
    if finish := more.pop("work_finish", None):
        work = (*work[:-1], replace(work[-1], finish=finish))
    lost = sum(op.makes for op in work if op.held) + sum(len(op.onto) for op in work if op.uses)
    count = sum(op.makes for op in work) - lost
    return replace(Round(number, "A", phase, step, work, count), **more)


def mitten(*pieces: Piece, size: str = "M") -> StitchMap:
    """A stitch map of sc with yarns A and B."""
    fabric = Fabric("sc", Fraction(7), Fraction(13, 2))
    yarns = (("A", "grey", "#777777"), ("B", "blue", "#0033aa"))
    return StitchMap("typed", size, "both", fabric, fabric, yarns, Fraction(0), pieces)


def changed(stitches: StitchMap, piece: str, number: int, /, **changes: Any) -> StitchMap:
    """The map with one round changed; `work` may be in the notation."""
    if isinstance(text := changes.get("work"), str):
        changes["work"] = ops(text)
    pieces = tuple(
        replace(
            p,
            rounds=tuple(
                replace(r, **changes) if p.piece == piece and r.number == number else r
                for r in p.rounds
            ),
        )
        for p in stitches.pieces
    )
    return replace(stitches, pieces=pieces)
