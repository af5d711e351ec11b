"""The shapes that a size's thumb and crown could have, each with its cost."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from gussetry.grading.asked import WEIGHT_CROWN, WEIGHT_THUMB, Asked, Bridge, or_usual
from gussetry.grading.counts import between_markers, closing, held
from gussetry.grading.phases import crown_ways


class ThumbShape(NamedTuple):
    """A thumb: its gusset's steps and stitches, its taper, its cost, and its fewest rounds.

    `free`: plain rounds may be added to the fewest.
    """

    cost: int
    steps: int
    between: int
    stitches: int
    width: int
    sides: int
    closing: tuple[int, ...]
    edging: int
    fewest: int
    free: bool


NO_THUMB = ThumbShape(0, 0, 0, 0, 0, 0, (), 0, 0, False)


def thumbs(asked: Asked, gap: Bridge) -> list[ThumbShape]:
    """Every thumb near its wish that can be grown, worked and ended."""
    spec, unit = asked.spec, asked.unit
    if not spec.has_thumb:
        return [NO_THUMB]
    wish = asked.wish("thumb_circumference")
    middle = wish // unit.width
    pins = asked.pin(spec.gusset.between_markers), asked.pin(spec.thumb.stitches)
    found: list[ThumbShape] = []
    for steps in range(200):
        between = between_markers(spec, steps)
        stitches = held(spec, between) + gap.crook
        width = stitches - gap.decreases
        if pins == (None, None) and width > max(middle, 4) + asked.reach.thumb + 1 and found:
            break
        if pins == (None, None) and width < middle - asked.reach.thumb:
            continue
        if or_usual(pins[0], between) != between or or_usual(pins[1], stitches) != stitches:
            continue
        if width >= 4 and stitches >= gap.crook:
            cost = WEIGHT_THUMB * (width * unit.width - wish) ** 2
            found += _ended(asked, ThumbShape(cost, steps, between, stitches, width, *NO_THUMB[5:]))
    return found


def _ended(asked: Asked, shape: ThumbShape) -> Iterator[ThumbShape]:
    """The thumb with its taper and its end, where it can be ended so.

    Without a pin it is not tapered at its sides: the tube above them would be narrower than its
    wish nearly all the way up.
    """
    pins = asked.spec.thumb
    opened = pins.style == "open"
    sides = or_usual(asked.pin(pins.side_decreases), 0)
    narrow = shape.width - 2 * sides
    ending = () if opened else closing(narrow, asked.pin(pins.last))
    if narrow < 4 or ending is None:
        return
    if or_usual(asked.pin(pins.before_closing), narrow) != narrow:
        return
    plain, length = asked.pin(pins.plain_after), asked.pin(pins.rounds_to_length)
    edging = or_usual(asked.pin(pins.edging), 1) if opened else 0
    before = shape.stitches - shape.width + 2 * sides + (plain or 0) + (length or 0)
    free = plain is None or length is None
    if before or free:
        fewest = max(before, 1) + len(ending) + edging
        yield shape._replace(sides=sides, closing=ending, edging=edging, fewest=fewest, free=free)


class CrownShape(NamedTuple):
    """A crown: its cost, the rounds of its phases, its closing rounds' counts, its rounds in all;
    of an open hand the edging."""

    cost: int
    phases: tuple[int, ...]
    closing: tuple[int, ...]
    rounds: int


def crowns(asked: Asked, hand: int) -> list[CrownShape]:
    """Every crown for so many stitches, the cheapest first."""
    spec, unit = asked.spec, asked.unit
    if spec.crown.style == "open":
        return [CrownShape(0, (), (), or_usual(asked.pin(spec.crown.edging), 1))]
    last, left = asked.pin(spec.crown.last), asked.pin(spec.crown.before_closing)
    wish = asked.wish("crown_height")
    found = []
    for count, rounds, phases in crown_ways(spec, asked.size, hand, wish // unit.height):
        ending = closing(count, last)
        if ending is None or or_usual(left, count) != count:
            continue
        tall = (rounds + len(ending)) * unit.height - wish
        # Half the hand's stitches, flat: where the closing should begin: common
        # practice, no source.
        wide = (2 * count - hand) * unit.width // 4
        cost = WEIGHT_CROWN * (tall * tall + wide * wide)
        found.append(CrownShape(cost, phases, ending, rounds + len(ending)))
    return sorted(found)
