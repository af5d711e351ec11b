"""The cuff, stitch by stitch, still without yarns."""

from __future__ import annotations

from gussetry.grading.rounds import TURNING, Rounds
from gussetry.stitchmap import Op, Piece, Place, Round


def ribbed_cuff(rows: int, across: int, stitch: str) -> Piece:
    """A sideways cuff: a foundation chain, turned rows in the back loop, a seam."""
    chain = tuple(Op("ch") for _ in range(across))
    made = [Round(0, "", "foundation", 1, chain, across)]
    lift = (Op("ch", counts=False),) * TURNING[stitch]
    for row in range(1, rows + 1):
        # In turned rows the first stitch stands over the last one of the row before.
        places: list[Place] = [("chain", i) if row == 1 else i for i in reversed(range(across))]
        ops = [*lift, *(Op(stitch, (place,), loop="back") for place in places)]
        if row < rows:
            ops.append(Op("turn"))
        made.append(Round(row, "", "ribbing", row, tuple(ops), across))
    free = range(across) if rows % 2 == 0 else range(across - 1, -1, -1)
    seam = tuple(Op("seam", (i, ("underside", free[i]))) for i in reversed(range(across)))
    made.append(Round(rows + 1, "", "seam", 1, seam, 0))
    return Piece("cuff", "rows", tuple(made))


def post_cuff(count: int, height: int, stitch: str, joined: bool) -> Piece:
    """A cuff ribbed round on a chain joined into a ring: a round of stitches for posts to begin
    on, then front and back post stitches by turns, each round the post of its like."""
    rounds = Rounds(stitch, joined)
    foundation(rounds, count)
    rounds.add("cuff", (Op(stitch, (("chain", i),)) for i in range(count)))
    turns = (f"fp{stitch}", f"bp{stitch}")
    for _ in range(height - 1):
        rounds.add("ribbing", (Op(turns[i % 2], (i,)) for i in range(count)))
    return rounds.piece("cuff")


def foundation(rounds: Rounds, count: int) -> None:
    """A chain joined into a ring, for rounds to stand on."""
    rounds.number = 0
    ring = Op("slst", onto=(0,), uses=False, counts=False)
    rounds.add("foundation", (*(Op("ch") for _ in range(count)), ring), joinable=False)


def round_cuff(count: int, height: int, stitch: str, joined: bool) -> Piece:
    """A cuff of plain rounds on a chain joined into a ring."""
    rounds = Rounds(stitch, joined)
    foundation(rounds, count)
    for number in range(height):
        places: list[Place] = [("chain", i) if number == 0 else i for i in range(count)]
        rounds.add("cuff", (Op(stitch, (place,)) for place in places))
    return rounds.piece("cuff")
