"""The thumb chart: from the crook to the drawing shut, or to the edging that ends it open."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from gussetry.chart import Chart
from gussetry.layout.courses import Course
from gussetry.layout.footing import Footing, Stretch
from gussetry.layout.grid import draw_courses
from gussetry.layout.gusset import edged
from gussetry.layout.parts import Sheet, Terms
from gussetry.layout.rows import Row, cropped
from gussetry.layout.sentences import Saying, joined_text, of_first, together
from gussetry.layout.several import laid_together, of_sizes, stepped
from gussetry.stitchmap import Op, Piece, Place, Round, StitchMap
from gussetry.style import Style
from gussetry.telling.names import named

KEPT = 2
"""Plain rounds drawn of a long run, besides its last."""
GAP = 1.25
"""Stitches of a row further apart than that, in cells, show a gap."""


def _of(places: Sequence[Place], kind: str) -> list[Place]:
    """The places of that kind, in their order."""
    return [p for p in places if isinstance(p, tuple) and p[0] == kind]


def _ground(first: Round) -> tuple[Place, ...]:
    """What the first round is worked into or misses, side by side in the order of working."""
    return tuple(dict.fromkeys(p for op in first.work for p in op.into))


def _columns(rounds: Sequence[Round]) -> dict[int, tuple[float, ...]]:
    """Over which cell each entry of a round is centred, by the round's number: over the middle of
    what it is worked into. Decreases that begin a round narrow it there, at the crook; others, and
    the closing ones, leave a gap to their sides, as a dart does."""
    below: dict[Place, float] = {p: k + 0.5 for k, p in enumerate(_ground(rounds[0]))}
    found = {}
    for r in rounds:
        over = filled(_narrowed(r, [over_middle(op, below) for op in r.work]))
        made = [x for op, x in zip(r.work, over, strict=True) for _ in range(op.makes)]
        below = dict(enumerate(made))
        found[r.number] = over
    return found


def over_middle(op: Op, below: dict[Place, float]) -> float | None:
    """The middle of what is worked into; None for what lifts the hook or joins the round."""
    at = [below[p] for p in op.into if p in below]
    return (min(at) + max(at)) / 2 if at else None


def _narrowed(round_: Round, over: list[float | None]) -> list[float | None]:
    """The cells with a decrease that begins the round moved up to the stitch after it."""
    placed = [i for i, x in enumerate(over) if x is not None]
    shaping = round_.phase.startswith("thumb")
    if shaping and len(placed) > 1 and len(round_.work[placed[0]].into) == 2:
        first, second = over[placed[0]], over[placed[1]]
        assert first is not None
        assert second is not None
        if first < second - 1 < first + 1:
            over[placed[0]] = second - 1
    return over


def filled(known: Sequence[float | None]) -> tuple[float, ...]:
    """The cells with what lifts the hook before the first stitch, what joins after the last."""
    placed = [(i, x) for i, x in enumerate(known) if x is not None]
    (first, start), (last, end) = placed[0], placed[-1]
    return tuple(
        x if x is not None else start - (first - i) if i < first else end + (i - last)
        for i, x in enumerate(known)
    )


def _footing(first: Round) -> Footing:
    """The crook's places by their numbers, and the held stitches under one bracket."""
    cells = {p: k + 0.5 for k, p in enumerate(_ground(first))}
    crook, held = _of(tuple(cells), "crook"), _of(tuple(cells), "held")
    told = (f"{len(held)} held stitches", f"{len(held)} held")
    stretches = (Stretch(cells[held[0]], cells[held[-1]], told),) if held else ()
    return Footing(tuple((p, cells[p]) for p in crook), stretches)


def _steps(first: Round, terms: Terms) -> list[str]:
    """What is worked at the crook, stitch by stitch: `sc2tog in crook 1 and 2`."""
    steps = []
    for op in first.work:
        at = [str(p[1] + 1) for p in op.into if isinstance(p, tuple) and p[0] == "crook"]
        if not at:
            continue
        over = " and ".join(at)
        also = " and the first held stitch" if len(at) < len(op.into) else ""
        missed = op.do == "skip"
        steps.append(
            f"miss crook {over}" if missed else f"{named(op.do, terms)} in crook {over}{also}"
        )
    return steps


def _rejoined(first: Round, stitches: StitchMap, terms: Terms) -> str:
    """Where the thumb is rejoined, and what its first round is worked into."""
    steps = _steps(first, terms)
    held = len(_of(_ground(first), "held"))
    if not steps:
        return f"Rejoin at the first of the {held} held stitches{_since(stitches)}."
    return (
        f"Rejoin at the crook, numbered as on the gusset chart. Round 1: {', '.join(steps)}, then"
        f" on over the {held} held stitches{_since(stitches)}."
    )


def _since(stitches: StitchMap) -> str:
    """Where the held stitches were set aside: ` (of hand round 21)`."""
    hand = stitches.piece("hand")
    rounds = hand.rounds if hand else ()
    aside = [r.number for r in rounds if r.phase == "division"]
    return f" (set aside in hand round {aside[0]})" if aside else ""


def _narrows(rounds: Sequence[Round]) -> Saying:
    """Where the thumb is decreased at its sides."""
    words = (
        "Decreases that begin a round lie over the crook, those half-way round on the thumb's outer"
        " side."
    )
    sides = any(r.phase == "thumb sides" for r in rounds)
    return Saying(words if sides else "", lambda row: row.round.phase == "thumb sides")


def gaps_told(columns: dict[int, tuple[float, ...]]) -> Saying:
    """What a gap between stitches is, said of the rows over whose columns there is one."""

    def gaped(over: Sequence[float]) -> bool:
        return any(b - a > GAP for a, b in pairwise(over))

    words = "Gaps are on the chart alone: go straight on over them."
    some = any(map(gaped, columns.values()))
    return Saying(words if some else "", lambda row: gaped(columns.get(row.round.number, ())))


def _rows(piece: Piece) -> Callable[[Round], Row]:
    """How the rounds of a thumb are shown: whole, about the middle of what it stands on."""
    columns, centre = _columns(piece.rounds), len(_ground(piece.rounds[0])) / 2
    return lambda r: Row(r, 0, len(r.work), centre, middles=columns[r.number])


def thumb_courses(maps: Sequence[StitchMap]) -> list[Course] | None:
    """The courses of the thumb chart of one size or of several, long plain parts summed; None where
    their thumbs are unlike."""
    pieces = [piece for stitches in maps if (piece := stitches.piece("thumb"))]
    if len(pieces) < len(maps):
        return None
    rows = [_rows(piece) for piece in pieces]
    sizes = [cropped(piece.rounds, KEPT, row) for piece, row in zip(pieces, rows, strict=True)]
    together = laid_together(range(len(maps)), sizes)
    return together or stepped([piece.rounds for piece in pieces], rows, KEPT)


def _told(stitches: StitchMap, piece: Piece, terms: Terms) -> tuple[Saying, ...]:
    """How the chart of a size is read."""
    return (
        Saying("Right side facing: read every round from right to left, from its number to its"
               " count."),
        Saying(_rejoined(piece.rounds[0], stitches, terms), of_first),
        _narrows(piece.rounds),
        gaps_told(_columns(piece.rounds)),
        Saying(joined_text(piece.rounds)),
        edged(piece.rounds),
    )  # fmt: skip


def thumb(
    maps: Sequence[StitchMap], style: Style, terms: Terms, alone: bool = False
) -> tuple[Chart, ...]:
    """The thumb chart, all rounds to the drawing shut or the edging. ValueError for sizes that no
    chart can serve."""
    pieces = [piece for stitches in maps if (piece := stitches.piece("thumb"))]
    courses = thumb_courses(maps)
    if courses is None:
        raise ValueError("the thumbs of these sizes are unlike")
    sheet = Sheet(maps[0], style, terms, tuple(maps[1:]))
    told = [_told(m, piece, terms) for m, piece in zip(maps, pieces, strict=True)]
    how = together(told) + of_sizes(maps, courses)
    footing = _footing(pieces[0].rounds[0])
    return draw_courses(sheet, pieces[0], courses, ("thumb", "thumb", how), footing, alone=alone)
