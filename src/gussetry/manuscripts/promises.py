"""The figures of a text held against what is counted: measures from the stitches, amounts of yarn
from the grading."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import TypeAlias

from gussetry.findings import Finding
from gussetry.grading.amounts import Need
from gussetry.grading.finished import finished
from gussetry.manuscripts.figures import HANDS_END, Figure, value_said
from gussetry.manuscripts.manuscript import Manuscript
from gussetry.manuscripts.text import Spot
from gussetry.stitchmap import StitchMap
from gussetry.units import (
    METRES_IN_YARD,
    MM_PER_INCH,
    centimetres_text,
    inches_text,
    millimetres,
    text,
)

_USUAL = (Fraction(100), 4 * MM_PER_INCH)
_NONE = "–"
"""What there is of a measure or a yarn that a mitten has not."""

Needs: TypeAlias = Mapping[str, Sequence[Need]]
"""By size, what a pair takes of each yarn."""


@dataclass(frozen=True, slots=True)
class Against:
    """What a text is held against: the stitch maps of every size. `steps`: to how many millimetres
    and to how many inches printed measures are rounded, None where that is not known; `needs` as
    far as they are known."""

    maps: Sequence[StitchMap]
    steps: tuple[Fraction, Fraction] | None = None
    needs: Needs = field(default_factory=dict)


def broken_promises(
    manuscript: Manuscript, served: Mapping[int, StitchMap], against: Against
) -> Iterator[Finding]:
    """Figures that are not those of the maps; `served` has a map for each size of the text that is
    checked, by its place among them."""
    wanted = {at: _figures(stitches, against) for at, stitches in served.items()}
    for figure in manuscript.figures:
        if len(figure.said) not in (1, len(manuscript.sizes)):
            message = f"{len(figure.said)} figures stand here, for {len(manuscript.sizes)} sizes"
            yield placed(Finding("size-list", message), manuscript, figure.spots[0])
            continue
        for at, stitches in served.items():
            known = wanted[at] | _gauges(stitches, figure)
            own = known.get((figure.of, figure.unit))
            yarn = figure.of.startswith("yarn")
            told = against.needs.get(stitches.size) if yarn else against.steps
            if own is None and told and figure.of not in {of for of, _ in known}:
                own = (_NONE,)
            said, spot = figure.at(at)
            if own is None or value_said(said) in map(value_said, own):
                continue
            found = Finding(
                "amount" if yarn else "measure",
                f"a pair takes another amount of {figure.of}" if yarn
                else f"the charts come to another {figure.of}",
                size=stitches.size,
                expected=shown(own[0], figure.unit),
                found=shown(said, figure.unit),
            )  # fmt: skip
            yield placed(found, manuscript, spot)


def placed(found: Finding, manuscript: Manuscript, spot: Spot) -> Finding:
    """The finding at its place in the text."""
    line, column = manuscript.text.place(spot)
    return replace(found, line=line, column=column, length=spot.length)


def shown(said: str, unit: str) -> str:
    """A figure with its unit."""
    return said if said == _NONE else f"{said} {unit}"


Figures: TypeAlias = dict[tuple[str, str], tuple[str, ...]]
"""Figures by what they are of and their unit; where several are right, as they are usual."""


def _figures(stitches: StitchMap, against: Against) -> Figures:
    """Every figure of a size that can be known, as printed, but its gauges."""
    found: Figures = {}
    if against.steps is not None:
        cm_step, inch_step = against.steps
        for name, mm in (finished(stitches) | {HANDS_END: _end(stitches)}).items():
            found[name, "cm"] = (centimetres_text(mm, cm_step),)
            found[name, "in"] = (inches_text(mm, inch_step),)
    needs = against.needs.get(stitches.size)
    if needs is None:
        return found
    for letter in {need.yarn.letter for own in against.needs.values() for need in own}:
        need = next((need for need in needs if need.yarn.letter == letter), None)
        for unit, amount in _amounts(need).items():
            found[f"yarn {letter}", unit] = (amount,)
    return found


def _end(stitches: StitchMap) -> Fraction:
    """Millimetres from the wrist to the first round of crown or edging."""
    hand = stitches.piece("hand")
    rounds = hand.counted if hand else ()
    before = [r for r in rounds if r.phase in ("pick-up", "outer edge", "lower hand", "gusset")]
    before += [r for r in rounds if r.phase in ("division", "hand")]
    return len(before) * stitches.fabric.height + stitches.above_crease


def _gauges(stitches: StitchMap, figure: Figure) -> Figures:
    """A gauge over as much as the figure says; 10 cm and 4 in are taken for each other, as they
    are in the trade."""
    fabric = {"gauge": stitches.fabric, "gauge of the ribbing": stitches.rib}.get(figure.of)
    if fabric is None:
        return {}
    what, _, number, unit = figure.unit.split()
    own = millimetres(value_said(number) or Fraction(0), unit)
    spans = dict.fromkeys([own, *_USUAL]) if own in _USUAL else [own]
    one = fabric.width if what == "stitches" else fabric.height
    return {(figure.of, figure.unit): tuple(text(span / one, 1) for span in spans)}


def _amounts(need: Need | None) -> dict[str, str]:
    """What a pair takes of a yarn, with what to have over, in whole units that are enough."""
    if need is None:
        return dict.fromkeys(("m", "yd", "g", "balls"), _NONE)
    found: dict[str, str] = {}
    if need.metres_to_have is not None:
        found["m"] = str(math.ceil(need.metres_to_have))
        found["yd"] = str(math.ceil(need.metres_to_have / METRES_IN_YARD))
    if need.grams_to_have is not None:
        found["g"] = str(math.ceil(need.grams_to_have))
    balls = need.balls()
    if balls is not None:
        found["balls"] = str(balls)
    return found
