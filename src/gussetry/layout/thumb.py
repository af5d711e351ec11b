"""The thumb chart: from the crook to the drawing shut, or to the edging that ends it open."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from gussetry.chart import Chart
from gussetry.layout.footing import Footing, Stretch
from gussetry.layout.grid import cropped, draw_rows
from gussetry.layout.gusset import edging_text
from gussetry.layout.parts import Sheet, Terms
from gussetry.layout.rows import Row
from gussetry.layout.sentences import joined_text
from gussetry.stitchmap import Op, Place, Round, StitchMap
from gussetry.style import Style
from gussetry.telling.names import named

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
        over = _filled(_narrowed(r, [_over(op, below) for op in r.work]))
        made = [x for op, x in zip(r.work, over, strict=True) for _ in range(op.makes)]
        below = dict(enumerate(made))
        found[r.number] = over
    return found


def _over(op: Op, below: dict[Place, float]) -> float | None:
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


def _filled(known: Sequence[float | None]) -> tuple[float, ...]:
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


def _shaped(rounds: Sequence[Round], columns: dict[int, tuple[float, ...]]) -> str:
    """Where the thumb is decreased, and what a gap is."""
    words = ""
    if any(r.phase == "thumb sides" for r in rounds):
        words = (
            " Decreases that begin a round lie over the crook, those half-way round on the thumb's"
            " outer side."
        )
    if any(b - a > GAP for over in columns.values() for a, b in pairwise(over)):
        words += " Gaps are on the chart alone: go straight on over them."
    return words


def thumb(stitches: StitchMap, style: Style, terms: Terms) -> tuple[Chart, ...]:
    """The thumb chart, all rounds to the drawing shut or the edging, long plain parts summed."""
    piece = stitches.piece("thumb")
    assert piece is not None
    first = piece.rounds[0]
    columns = _columns(piece.rounds)
    centre = len(_ground(first)) / 2

    def row(round_: Round) -> Row:
        return Row(round_, 0, len(round_.work), centre, middles=columns[round_.number])

    sheet = Sheet(stitches, style, terms)
    how = (
        "Right side facing: read every round from right to left, from its number to its count."
        f" {_rejoined(first, stitches, terms)}{_shaped(piece.rounds, columns)}"
        f"{joined_text(piece.rounds)}{edging_text(piece.rounds)}"
    )
    rows = cropped(piece.rounds, 2, row)
    heading = ("thumb", "thumb", how)
    return draw_rows(sheet, piece, rows, heading, _footing(first))
