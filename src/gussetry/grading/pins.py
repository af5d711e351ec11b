"""The pins of a specification: every count that a designer may fix, by its place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, NamedTuple

from gussetry.grading.counts import Counts
from gussetry.grading.phases import decreases
from gussetry.spec import PerSize, Spec, pin


class Pinned(NamedTuple):
    """A place for pins: its words in the specification, and where `Spec` keeps it."""

    words: tuple[str | int, ...]
    group: str
    field: str
    phase: int | None = None

    @property
    def name(self) -> str:
        """How a message names it: `pick up`, `crown evenly` …"""
        named = [str(word) for word in self.words if isinstance(word, str) and word != "phases"]
        plain = named[0] in ("cuff", "crown", "thumb") or named[1] in ("round", "rounds")
        return " ".join(named if plain else named[1:])


_PLACES = (
    Pinned(("cuff", "rows"), "cuff", "rows"),
    Pinned(("cuff", "stitches"), "cuff", "stitches"),
    Pinned(("cuff", "rounds"), "cuff", "rounds"),
    Pinned(("lower hand", "pick up"), "lower_hand", "pick_up"),
    Pinned(("lower hand", "increases"), "lower_hand", "increases"),
    Pinned(("lower hand", "rounds"), "lower_hand", "rounds"),
    Pinned(("gusset", "between markers"), "gusset", "between_markers"),
    Pinned(("division", "pairs"), "division", "pairs"),
    Pinned(("division", "chains"), "division", "chains"),
    Pinned(("division", "crook stitches"), "division", "crook"),
    Pinned(("division", "round"), "division", "round"),
    Pinned(("division", "hand stitches"), "division", "hand"),
    Pinned(("crown", "plain before"), "crown", "plain_before"),
    Pinned(("crown", "before closing"), "crown", "before_closing"),
    Pinned(("crown", "last"), "crown", "last"),
    Pinned(("crown", "edging"), "crown", "edging"),
    Pinned(("thumb", "stitches"), "thumb", "stitches"),
    Pinned(("thumb", "crook decreases"), "thumb", "crook_decreases"),
    Pinned(("thumb", "plain after"), "thumb", "plain_after"),
    Pinned(("thumb", "side decreases"), "thumb", "side_decreases"),
    Pinned(("thumb", "rounds to length"), "thumb", "rounds_to_length"),
    Pinned(("thumb", "before closing"), "thumb", "before_closing"),
    Pinned(("thumb", "last"), "thumb", "last"),
    Pinned(("thumb", "edging"), "thumb", "edging"),
)


def places(spec: Spec) -> tuple[Pinned, ...]:
    """Every place where this specification could pin a count, in the order of working."""
    phases = tuple(
        Pinned(("crown", "phases", i, phase.kind), "crown", "rounds", i)
        for i, phase in enumerate(spec.crown.phases)
    )
    return (*_PLACES, *phases)


def _holder(spec: Spec, place: Pinned) -> Any:
    group = getattr(spec, place.group)
    return group if place.phase is None else group.phases[place.phase]


def pinned(spec: Spec, place: Pinned, size: int) -> int | None:
    """What is pinned at the place in that size, None where it is free."""
    pins: PerSize = getattr(_holder(spec, place), place.field)
    return pin(pins, size)


def _with(spec: Spec, place: Pinned, pins: PerSize) -> Spec:
    holder = replace(_holder(spec, place), **{place.field: pins})
    group = getattr(spec, place.group)
    if place.phase is not None:
        phases = list(group.phases)
        phases[place.phase] = holder
        holder = replace(group, phases=tuple(phases))
    changes: dict[str, Any] = {place.group: holder}
    return replace(spec, **changes)


def repinned(spec: Spec, place: Pinned, size: int, count: int | None) -> Spec:
    """The specification with that pin set to `count`, or freed."""
    pins = list(getattr(_holder(spec, place), place.field) or (None,) * len(spec.sizes))
    pins[size] = count
    return _with(spec, place, tuple(pins))


def only(spec: Spec, sizes: Sequence[int]) -> Spec:
    """The specification of those sizes alone, by their places in `Spec.sizes`."""
    for place in places(spec):
        pins: PerSize = getattr(_holder(spec, place), place.field)
        if pins:
            spec = _with(spec, place, tuple(pins[i] for i in sizes))
    own = spec.stripes.plans
    stripes = replace(spec.stripes, plans=tuple(own[i] for i in sizes)) if own else spec.stripes
    return replace(spec, sizes=tuple(spec.sizes[i] for i in sizes), stripes=stripes)


def worked(spec: Spec, place: Pinned, counts: Counts) -> int:
    """What the counts have at that place."""
    base = counts.base
    if place.phase is not None:
        return counts.phases[place.phase]
    left = base.hand - sum(
        n * decreases(phase) for n, phase in zip(counts.phases, spec.crown.phases, strict=False)
    )
    tube = base.thumb - base.crook_decreases - 2 * counts.thumb_sides
    found = {
        "cuff.rows": base.cuff_rows,
        "cuff.stitches": counts.cuff_across,
        "cuff.rounds": counts.cuff_across,
        "lower_hand.pick_up": base.pick_up,
        "lower_hand.increases": base.increases,
        "lower_hand.rounds": base.lower,
        "gusset.between_markers": base.between,
        "division.pairs": base.pairs,
        "division.chains": base.chains,
        "division.crook": base.crook,
        "division.round": base.division,
        "division.hand": base.hand,
        "crown.plain_before": counts.plain_before,
        "crown.before_closing": left,
        "crown.last": counts.closing[-1] if counts.closing else left,
        "crown.edging": counts.edging,
        "thumb.stitches": base.thumb,
        "thumb.crook_decreases": base.crook_decreases,
        "thumb.plain_after": counts.thumb_plain,
        "thumb.side_decreases": counts.thumb_sides,
        "thumb.rounds_to_length": counts.thumb_to_length,
        "thumb.before_closing": tube,
        "thumb.last": counts.thumb_closing[-1] if counts.thumb_closing else tube,
        "thumb.edging": counts.thumb_edging,
    }
    return found[f"{place.group}.{place.field}"]
