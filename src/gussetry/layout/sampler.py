"""Every stitch that gussetry knows, with every addition, as a map to draw a key of."""

from __future__ import annotations

from fractions import Fraction

from gussetry.stitchmap import POSTS, Fabric, Op, Piece, Round, StitchMap

_OWN = ("ch", "slst", "hold", "join", "skip", "seam", "close")
_FABRICS = ("sc", "hdc", "dc")


def _plain() -> tuple[Op, ...]:
    """Each stitch that may take an addition."""
    increases = tuple(Op("inc", (0,), of=stitch) for stitch in _FABRICS)
    decreases = tuple(Op(f"{stitch}2tog", (0, 1)) for stitch in _FABRICS)
    return (*(Op(stitch, (0,)) for stitch in _FABRICS), *increases, *decreases)


def _additions(op: Op) -> tuple[Op, ...]:
    """A stitch as it is, in the back or the front loop, picked up, and set aside."""
    row_ends = tuple(("row end", i) for i in range(len(op.into)))
    return (
        op,
        Op(op.do, op.into, loop="back", of=op.of),
        Op(op.do, op.into, loop="front", of=op.of),
        Op(op.do, row_ends, of=op.of),
        Op(op.do, op.into, held=True, of=op.of),
    )


def sampler() -> StitchMap:
    """One round with every stitch and every addition in it. No mitten: the round obeys no law but
    that of being drawable."""
    work = (
        *(Op(do, (0,)) for do in (*_OWN, *POSTS)),
        *(added for op in _plain() for added in _additions(op)),
    )
    round_ = Round(1, "A", "sampler", 1, work, sum(op.makes for op in work))
    fabric = Fabric("sc", Fraction(5), Fraction(9, 2))
    yarns = (("A", "any yarn", "#808080"),)
    piece = Piece("hand", "rounds", (round_,))
    return StitchMap("All stitches", "any", "both", fabric, None, yarns, Fraction(0), (piece,))
