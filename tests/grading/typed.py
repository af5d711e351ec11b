"""Hand-typed mittens that obey the counting laws, and ways to spoil them."""

from collections.abc import Callable
from dataclasses import replace

from grading.notation import changed, mitten, row

from gussetry.stitchmap import Piece, StitchMap

GUSSET = ("first marker", "second marker")


def marked(first: int, second: int) -> tuple[tuple[str, int], ...]:
    return tuple(zip(GUSSET, (first, second), strict=True))


def ribbed_cuff() -> Piece:
    """Twelve turned rows of two stitches, seamed to the chain."""
    odd, even = "loose ch, sc c1-0", "loose ch, sc 1-0"
    return Piece(
        "cuff",
        "rows",
        (
            row(0, "foundation", 1, "ch *2"),
            *(row(i, "ribbing", i, odd if i == 1 else even) for i in range(1, 13)),
            row(13, "seam", 1, "seam 1+u1, seam 0+u0"),
        ),
    )


def hand() -> Piece:
    """Twelve picked up, gusset grown inside, six held, one pair joined, crown from ten to four."""
    side = (("thumb side", 5),)
    return Piece(
        "hand",
        "rounds",
        (
            row(1, "pick-up", 1, "sc r0-11"),
            row(2, "outer edge", 1, "inc 0, sc 1-11"),
            row(3, "lower hand", 1, "sc 0-11, sc 12", work_finish="B"),
            row(4, "gusset", 1, "sc 0-5, inc 6, sc 7-12", yarn="B"),
            row(5, "gusset", 2, "sc 0-5, inc 6-7, sc 8-13", yarn="B", markers=marked(6, 9)),
            row(
                6, "gusset", 3, "sc 0-5, inc 6, sc 7-8, inc 9, sc 10-15",
                yarn="B", markers=marked(6, 11), work_finish="A",
            ),
            row(7, "division", 1, "sc 0-5, held sc 6-11, join 12 >5, sc 13-17", markers=side),
            row(8, "hand", 1, "sc 0-9", markers=side),
            row(9, "crown sides", 1, "sc2tog 0+1, sc 2-4, sc2tog 5+6, sc 7-9"),
            row(10, "crown sides", 2, "sc 0-7"),
            row(11, "crown even", 1, "sc2tog 0+1, sc 2-3, sc2tog 4+5, sc 6-7"),
            row(12, "crown even", 2, "sc 0, sc2tog 1+2, sc 3, sc2tog 4+5"),
            row(13, "draw shut", 1, "close 0+1+2+3"),
        ),
    )  # fmt: skip


def thumb() -> Piece:
    """Six held and two from the crook, closed to four."""
    return Piece(
        "thumb",
        "rounds",
        (
            row(1, "thumb crook", 1, "sc2tog k0+k1, sc h0-5", markers=(("thumb outer side", 3),)),
            row(2, "thumb even", 1, "sc 0-6"),
            row(3, "close", 1, "sc2tog 0+1, sc2tog 2+3, sc2tog 4+5, sc 6"),
            row(4, "draw shut", 1, "close 0+1+2+3"),
        ),
    )


def joined_pair() -> StitchMap:
    return mitten(ribbed_cuff(), hand(), thumb())


def chained() -> StitchMap:
    """A cuff worked round, rounds joined, thumb stitches held unworked, the gap chained."""
    close_up = ", loose slst ~0"
    return mitten(
        Piece(
            "cuff",
            "rounds",
            (
                row(0, "foundation", 1, "ch *9, loose slst ~0"),
                row(1, "cuff", 1, "sc c0-8" + close_up),
                row(2, "cuff", 2, "sc 0-8" + close_up),
            ),
        ),
        Piece(
            "hand",
            "rounds",
            (
                row(1, "pick-up", 1, "loose ch, sc t0-8" + close_up),
                row(2, "gusset", 1, "loose ch, sc 0-3, inc 4, sc 5-8" + close_up),
                row(3, "gusset", 2, "sc 0-3, inc 4, inc 5, sc 6-9", markers=marked(4, 7)),
                row(4, "division", 1, "sc 0-3, hold 4-7, ch *2, sc 8-11"),
                row(5, "close", 1, "sc2tog 0+1, sc2tog 2+3, sc2tog 4+5, sc2tog 6+7, sc2tog 8+9"),
                row(6, "draw shut", 1, "close 0+1+2+3+4"),
            ),
        ),
        Piece(
            "thumb",
            "rounds",
            (
                row(1, "thumb crook", 1, "sc k0-1, sc h0-3"),
                row(2, "draw shut", 1, "close 0+1+2+3+4+5"),
            ),
        ),
    )


Breaking = Callable[[StitchMap], StitchMap]


def hand_round(number: int, /, **changes: object) -> Breaking:
    return lambda stitches: changed(stitches, "hand", number, **changes)


def thumb_round(number: int, /, **changes: object) -> Breaking:
    return lambda stitches: changed(stitches, "thumb", number, **changes)


def cuff_round(number: int, /, **changes: object) -> Breaking:
    return lambda stitches: changed(stitches, "cuff", number, **changes)


def without(piece: str, number: int | None = None) -> Breaking:
    def break_(stitches: StitchMap) -> StitchMap:
        pieces = []
        for p in stitches.pieces:
            if p.piece == piece and number is None:
                continue
            kept = tuple(r for r in p.rounds if p.piece != piece or r.number != number)
            pieces.append(replace(p, rounds=kept))
        return replace(stitches, pieces=tuple(pieces))

    return break_


def finishing(piece: str, number: int, at: int, yarn: str | None) -> Breaking:
    def break_(stitches: StitchMap) -> StitchMap:
        whole = next(p for p in stitches.pieces if p.piece == piece)
        work = list(next(r for r in whole.rounds if r.number == number).work)
        work[at] = replace(work[at], finish=yarn)
        return changed(stitches, piece, number, work=tuple(work))

    return break_
