"""Every stitch that gussetry knows, with every addition, as a map to draw a key of."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from gussetry.layout.key import in_order, key
from gussetry.layout.parts import Terms
from gussetry.stitchmap import POSTS, Fabric, Op, Piece, Round, StitchMap
from gussetry.style import Style

NAME = "All stitches"
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


def every() -> tuple[Op, ...]:
    """Every stitch, and each that takes additions with every one of them."""
    return (
        *(Op(do, (0,)) for do in (*_OWN, *POSTS)),
        *(added for op in _plain() for added in _additions(op)),
    )


def sampler(ops: Sequence[Op] = (), part: str = "") -> StitchMap:
    """One round with all the `ops` in it, or with every stitch; `part` says which of several it is.
    No mitten: the round obeys no law but that of being drawable."""
    work = tuple(ops) or every()
    round_ = Round(1, "A", "sampler", 1, work, sum(op.makes for op in work))
    fabric = Fabric("sc", Fraction(5), Fraction(9, 2))
    yarns = (("A", "any yarn", "#808080"),)
    piece = Piece("hand", "rounds", (round_,))
    return StitchMap(f"{NAME}{part}", "any", "both", fabric, None, yarns, Fraction(0), (piece,))


def samplers(style: Style, terms: Terms) -> tuple[StitchMap, ...]:
    """Samplers of as many parts as there must be so that each one's key fits the style's column."""
    ops = in_order(every())
    for count in range(1, len(ops)):
        size = -(-len(ops) // count)
        chunks = [ops[at : at + size] for at in range(0, len(ops), size)]
        whole = len(chunks) == 1
        parts = tuple(
            sampler(chunk, "" if whole else f" ({place} of {len(chunks)})")
            for place, chunk in enumerate(chunks, 1)
        )
        if all(key((part,), style, terms).height <= style.height for part in parts):
            break
    return parts
