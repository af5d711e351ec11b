"""Concerns about measures far from their wish: by a pin's doing, or though nothing is pinned."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction
from typing import NamedTuple

from gussetry.diagnostics import Faults, Problem
from gussetry.grading.concerns_told import Told, Words, cm, gathered
from gussetry.grading.finished import GradedSize
from gussetry.grading.pins import Pinned, pinned, places, repinned
from gussetry.spec import Spec
from gussetry.survey import HALF_STEP

MOST_OFF = 2
"""Stitches or rounds by which any other measure may miss its wish: common practice, no source."""

FITTING = ("hand circumference", "thumb circumference", "hand length", "thumb length")
"""Measures that decide whether a mitten fits; a cuff stretches, and a high crook has a concern of
its own."""

_MAKES = {
    "cuff circumference": ("cuff.rows", "lower_hand.pick_up"),
    "cuff depth": ("cuff.stitches", "cuff.rounds"),
    "hand circumference": ("division.hand", "lower_hand.pick_up", "gusset.between_markers"),
    "thumb circumference": ("thumb.stitches", "gusset.between_markers", "division.crook"),
    "crook height": ("division.round", "lower_hand.rounds", "gusset.between_markers"),
    "hand length": ("crown.plain_before", "crown.edging", "division.round"),
    "thumb length": ("thumb.rounds_to_length", "thumb.edging", "thumb.plain_after"),
}
"""The pins that make a measure, most directly first: what is named where no pin alone does it."""

Graded = tuple[GradedSize, ...]


class _Miss(NamedTuple):
    """A measure of a size: what it comes out as, its wish, and how far off may be borne, mm."""

    finished: Fraction
    wish: Fraction
    bound: Fraction

    @property
    def off(self) -> Fraction:
        return abs(self.finished - self.wish)

    @property
    def far(self) -> bool:
        return self.off > self.bound


_Misses = dict[tuple[int, str], _Miss]


def _bounds(one: GradedSize) -> dict[str, Fraction]:
    """How far each measure may be off, mm."""
    stitches = one.maps[0]
    fabric, cuff = stitches.fabric, stitches.piece("cuff")
    wide, tall = MOST_OFF * fabric.width, MOST_OFF * fabric.height
    bounds = {
        "hand circumference": HALF_STEP,
        "thumb circumference": wide,
        "crook height": tall,
        "hand length": tall,
        "thumb length": tall,
    }
    if cuff is not None:
        own = stitches.rib or fabric
        across, up = MOST_OFF * own.width, MOST_OFF * own.height
        round_first = (up, across) if cuff.worked == "rows" else (across, up)
        bounds |= dict(zip(("cuff circumference", "cuff depth"), round_first, strict=True))
    return bounds


def misses(graded: Graded) -> _Misses:
    """Every measure that could be far from its wish, by the size's place and the measure's name;
    not the total length, which is the sum of two others."""
    return {
        (i, measure.name): _Miss(measure.finished, measure.wish, bounds[measure.name])
        for i, one in enumerate(graded)
        for bounds in (_bounds(one),)
        for measure in one.measures
        if measure.name in bounds
    }


def _freed(spec: Spec, freed: Iterable[Pinned]) -> Spec:
    for place in freed:
        for size in range(len(spec.sizes)):
            spec = repinned(spec, place, size, None)
    return spec


def pin_concerns(
    spec: Spec, graded: Graded, regrade: Callable[[Spec], Graded]
) -> tuple[Problem, ...]:
    """Measures far from their wishes: more than half a European glove size round the hand, more
    than two stitches or rounds elsewhere.

    Where they would be nearer without the pins, by half of that or more, each is told of the pin
    whose freedom alone brings it nearest; of the others those that decide the fit.
    """
    far = {key: miss for key, miss in misses(graded).items() if miss.far}
    fixed = [
        place
        for place in places(spec)
        if any(pinned(spec, place, i) is not None for i in range(len(spec.sizes)))
    ]
    if not far:
        return ()
    free = _regraded(regrade, _freed(spec, fixed)) if fixed else {}
    costly = {
        key: miss
        for key, miss in far.items()
        if key in free and (not free[key].far or miss.off >= free[key].off + miss.bound / 2)
    }
    left = {key: miss for key, miss in far.items() if key not in costly and key[1] in FITTING}
    return (*_costs(spec, costly, fixed, regrade), *_far(spec, left))


def _costs(
    spec: Spec, costly: _Misses, fixed: list[Pinned], regrade: Callable[[Spec], Graded]
) -> tuple[Problem, ...]:
    if not costly:
        return ()
    alone = [(place, _regraded(regrade, _freed(spec, [place]))) for place in fixed]
    blamed: dict[Pinned, list[tuple[int, str]]] = {}
    for key in costly:
        blamed.setdefault(_to_blame(spec, key, costly[key], alone), []).append(key)
    return tuple(
        problem
        for place in fixed
        if place in blamed
        for problem in _problem(spec, place, {key: costly[key] for key in blamed[place]})
    )


def _far(spec: Spec, left: _Misses) -> tuple[Problem, ...]:
    """What the best counts leave far from the wish."""
    told = list(_told(spec, left))
    words = Words(
        "far-from-wish",
        "the best counts that the construction allows are far from the wish",
        ("sizes", told[0].size if told else ""),
        "change what holds them: the cuff, the bridge, how the gusset grows; or look at the ease",
    )
    return gathered(words, told)


def _to_blame(
    spec: Spec, key: tuple[int, str], miss: _Miss, alone: list[tuple[Pinned, _Misses]]
) -> Pinned:
    """The pin whose freedom alone brings the measure nearest, of equals the last in working; where
    none does, the one that makes it most directly."""
    helped = [(found[key].off, -n) for n, (_, found) in enumerate(alone) if key in found]
    nearest, n = min(helped, default=(miss.off, 0))
    if nearest < miss.off:
        return alone[-n][0]
    own = {f"{p.group}.{p.field}": p for p, _ in alone if pinned(spec, p, key[0]) is not None}
    return next((own[name] for name in _MAKES[key[1]] if name in own), alone[0][0])


def _regraded(regrade: Callable[[Spec], Graded], spec: Spec) -> _Misses:
    """The misses with other pins, none where those cannot be worked."""
    try:
        return misses(regrade(spec))
    except Faults:
        return {}


def _problem(spec: Spec, place: Pinned, blamed: _Misses) -> tuple[Problem, ...]:
    told = list(_told(spec, blamed))
    words = Words(
        "pin-costs-fit",
        f"the pin of {place.name} takes the mitten far from its wish",
        (*place.words, told[0].size),
        "free the pin, and those that hold it, or let it stand if the sample wears well",
    )
    return gathered(words, told)


def _told(spec: Spec, missed: _Misses) -> Iterator[Told]:
    for i, size in enumerate(spec.sizes):
        own = {name: miss for (at, name), miss in missed.items() if at == i}
        if own:
            figures = ", ".join(
                f"{name} {cm(miss.finished)} for {cm(miss.wish)}" for name, miss in own.items()
            )
            yield Told(size.name, figures, max(miss.off for miss in own.values()))
