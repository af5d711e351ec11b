"""Over which column each stitch of a gusset chart stands: over the one that it is worked into."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from gussetry.layout.rows import whole
from gussetry.stitchmap import Op, Round, left_of_made


@dataclass(frozen=True, slots=True)
class Columns:
    """A round over its columns, counted in cells in the order of working, 0 in the middle of what
    the gusset opens in. `middles`: where each entry of the work is centred; `left`: where each
    stitch stands that is left, by its number."""

    middles: tuple[float, ...]
    left: tuple[float, ...]


def under_gusset(rounds: Sequence[Round]) -> dict[int, int]:
    """For each round below the opening the number of the stitch that lies under the gusset."""
    opening = opens(rounds)
    into = rounds[opening].work[_increase(rounds[opening])].into[0]
    assert isinstance(into, int)
    found, number = {}, into
    for r in reversed(rounds[:opening]):
        found[r.number] = number
        made = [op for op in r.work for _ in range(op.makes)]
        place = made[number].into[0] if made[number].into else 0
        number = place if isinstance(place, int) else place[1]
    return found


def opens(rounds: Sequence[Round]) -> int:
    """The place of the round that opens the gusset."""
    return next(i for i, r in enumerate(rounds) if r.phase == "gusset")


def _increase(round_: Round) -> int:
    return next(i for i, op in enumerate(round_.work) if op.do == "inc")


def columns(rounds: Sequence[Round], at_end: bool = False) -> dict[int, Columns]:
    """The columns of every round up to the last whose stitches stand over those of the round
    below, by its number: the wedge grows to both sides of its innermost stitches, and over the
    division a gap stays open. `at_end`: the chains that bridge it stand close at its end."""
    under, opening = under_gusset(rounds), opens(rounds)
    found: dict[int, Columns] = {}
    below: Columns | None = None
    for place, r in enumerate(rounds):
        if r.number in under:
            below = side_by_side(r, -_cell(r, under[r.number]))
        elif place == opening:
            starts = whole(r).starts
            below = side_by_side(r, -float(starts[_increase(r)] + 1))
        elif below is not None and any(op.do == "inc" for op in r.work):
            below = side_by_side(r, _shift(r, below))
        elif below is not None:
            below = _over(r, below, at_end)
        assert below is not None
        found[r.number] = below
    return found


def side_by_side(round_: Round, shift: float) -> Columns:
    """A round whose stitches stand one beside the other, its first cell at `shift`."""
    starts = whole(round_).starts
    middles = [(a + b) / 2 + shift for a, b in pairwise(starts)]
    cells = [
        start + k + 0.5 + shift
        for op, start in zip(round_.work, starts, strict=False)
        for k in range(op.makes)
    ]
    return Columns(tuple(middles), _left(round_, cells))


def _left(round_: Round, made: Sequence[float]) -> tuple[float, ...]:
    """The columns of the stitches that are left, of those of all made."""
    numbers = left_of_made(round_)
    return tuple(x for x, n in zip(made, numbers, strict=True) if n is not None)


def _cell(round_: Round, number: int) -> float:
    """The middle of the cell of the stitch with that number, from the round's first cell."""
    return side_by_side(round_, 0.0).left[number]


def _shift(round_: Round, below: Columns) -> float:
    """The shift with which the stitches between two increases stand over those below."""
    grown = [i for i, op in enumerate(round_.work) if op.do == "inc"]
    middle = (grown[0] + grown[-1]) // 2
    into = round_.work[middle].into[0]
    assert isinstance(into, int)
    return below.left[into] - side_by_side(round_, 0.0).middles[middle]


def _over(round_: Round, below: Columns, at_end: bool) -> Columns:
    """A round without increases, each stitch over the one that it is worked into; the chains of a
    bridge spread over what they span, or close at its end."""
    work = round_.work
    known: list[float | None] = [_into(op, below) for op in work]
    aside = [i for i, op in enumerate(work) if op.held or op.do == "hold"]
    if aside:
        _bridge(work, known, aside, at_end)
    at = _filled(known)
    if not aside:
        at = _apart(at)
    made = [x for op, x in zip(work, at, strict=True) for _ in range(op.makes)]
    return Columns(tuple(at), _left(round_, made))


def _into(op: Op, below: Columns) -> float | None:
    place = op.into[0] if op.into else None
    return below.left[place] if isinstance(place, int) and op.counts else None


def bridge(round_: Round) -> tuple[int, ...]:
    """The entries of the chains that bridge the gap of a division."""
    return tuple(i for i, op in enumerate(round_.work) if op.do == "ch" and op.counts)


def _bridge(
    work: Sequence[Op], known: list[float | None], aside: Sequence[int], at_end: bool
) -> None:
    chains = [i for i, op in enumerate(work) if op.do == "ch" and op.counts]
    first, last = known[aside[0]], known[aside[-1]]
    assert first is not None
    assert last is not None
    spare = len(aside) - len(chains)
    apart = 1.0 if at_end else max(1.0, len(aside) / max(len(chains), 1))
    middle = (first + last) / 2 + (max(spare, 0) / 2 if at_end else 0.0)
    for k, i in enumerate(chains):
        known[i] = middle + (k - (len(chains) - 1) / 2) * apart


def _filled(known: Sequence[float | None]) -> list[float]:
    """The columns with what lifts the hook or joins the round beside what stands next to it."""
    placed = [i for i, x in enumerate(known) if x is not None]
    found = []
    for i, x in enumerate(known):
        nearest = min(placed, key=lambda j: abs(j - i))
        beside = known[nearest]
        assert beside is not None
        found.append(beside + i - nearest if x is None else x)
    return found


def _apart(at: list[float]) -> list[float]:
    """The columns at least a cell apart: a bridge of more chains than it spans stitches pushes what
    is beside it outwards, the half to each side."""
    middle = len(at) // 2
    for i in range(middle + 1, len(at)):
        at[i] = max(at[i], at[i - 1] + 1)
    for i in range(middle - 1, -1, -1):
        at[i] = min(at[i], at[i + 1] - 1)
    return at
