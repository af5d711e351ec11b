"""A doll's mitten, with every kind of stitch in it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from grading.notation import ops

from gussetry.stitchmap import Fabric, Op, Piece, Round, StitchMap


def _round(number: int, yarn: str, phase: str, work: str, count: int, **markers: int) -> Round:
    marks = tuple((name.replace("_", " "), at) for name, at in markers.items())
    return Round(number, yarn, phase, 1, ops(work), count, marks)


def _back(work: str) -> tuple[Op, ...]:
    return tuple(Op(op.do, op.into, loop="back") if op.do == "sc" else op for op in ops(work))


GUSSET = {"first_marker": 6, "second_marker": 10}

CUFF = Piece(
    "cuff",
    "rows",
    (
        _round(0, "A", "foundation", "ch *3", 3),
        Round(1, "A", "ribbing", 1, _back("sc c2-0, turn"), 3),
        *(Round(n, "A", "ribbing", n, _back("sc 2-0, turn"), 3) for n in (2, 3, 4, 5)),
        Round(6, "A", "ribbing", 6, _back("loose ch, sc 2-0"), 3),
        _round(7, "A", "seam", "seam 2+u2, seam 1+u1, seam 0+u0", 0),
    ),
)
HAND = Piece(
    "hand",
    "rounds",
    (
        _round(1, "A", "pick-up", "inc r0-4, sc r5, skip s0, ch, hold *1", 12),
        _round(2, "B", "gusset", "sc 0-5, inc 6, sc 7-11", 13),
        _round(3, "A", "gusset", "sc 0-5, inc 6, sc 7, inc 8, sc 9-12", 15, **GUSSET),
        _round(4, "B", "gusset", "sc 0-14", 15, **GUSSET),
        _round(5, "A", "division", "sc 0-5, held sc 6-10, join 11 >5, sc 12-14", 8),
        _round(6, "B", "hand", "sc 0-7", 8),
        _round(7, "B", "hand", "sc 0-7", 8),
        _round(8, "A", "crown sides", "sc2tog 0+1, sc 2-3, sc2tog 4+5, sc 6-7", 6),
        _round(9, "B", "crown sides", "sc 0-5", 6),
        _round(10, "A", "close", "sc2tog 0+1, sc 2, sc2tog 3+4, sc 5, loose slst ~0", 4),
        _round(11, "A", "draw shut", "close 0+1+2+3", 0),
    ),
)
THUMB = Piece(
    "thumb",
    "rounds",
    (
        _round(1, "B", "thumb crook", "sc2tog k0+k1, sc h0-4", 6),
        _round(2, "A", "thumb even", "dc 0-5", 6),
        _round(3, "A", "thumb even", "hdc 0-5", 6),
        _round(4, "A", "close", "hdc2tog 0+1, sc 2, dc2tog 3+4, sc 5", 4),
        _round(5, "A", "draw shut", "close 0+1+2+3", 0),
    ),
)


def small(size: str = "M", wide: Fraction = Fraction(6)) -> StitchMap:
    """A mitten for a doll, with every kind of stitch in it."""
    return StitchMap(
        "Doll",
        size,
        "both",
        Fabric("sc", wide, Fraction(11, 2)),
        Fabric("sc", Fraction(5), Fraction(4)),
        (("A", "red", "#aa3311"), ("B", "cream", "#eeddbb")),
        Fraction(4),
        (CUFF, HAND, THUMB),
    )


def _joined(number: int, phase: str, step: int, work: str) -> Round:
    whole = f"loose ch, loose ch, loose ch, {work}, loose slst ~0"
    return Round(number, "A", phase, step, ops(whole), 6)


POST_CUFF = Piece(
    "cuff",
    "rounds",
    (
        _round(0, "A", "foundation", "ch *6, loose slst ~0", 6),
        _joined(1, "cuff", 1, "dc c0-5"),
        *(
            _joined(n, "ribbing", n - 1, "fpdc 0, bpdc 1, fpdc 2, bpdc 3, fpdc 4, bpdc 5")
            for n in (2, 3, 4, 5)
        ),
    ),
)


def small_in_posts() -> StitchMap:
    """The doll's mitten, its cuff ribbed round in post stitches."""
    doll = small()
    rib = Fabric("dc", Fraction(5), Fraction(9))
    return replace(doll, rib=rib, pieces=(POST_CUFF, *doll.pieces[1:]))
