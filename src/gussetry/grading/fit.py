"""The counts of all sizes: the widths together, then the heights, each the nearest by itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import NamedTuple

from gussetry.diagnostics import Faults, Problem
from gussetry.grading.counts import Base, Counts, closing
from gussetry.grading.measures import Wish, wish
from gussetry.grading.widths import fit_bases
from gussetry.spec import CrownPhase, Spec, pin


@dataclass(frozen=True, slots=True)
class _Crown:
    phases: tuple[int, ...]
    closing: tuple[int, ...]

    def rounds(self, spec: Spec) -> int:
        """Rounds from the first decrease to the last, the drawing shut not counted."""
        shaped = zip(self.phases, spec.crown.phases, strict=True)
        return sum(n * (1 + p.plain_after) for n, p in shaped) + len(self.closing)


def _decreases(phase: CrownPhase) -> int:
    return 2 if phase.kind == "sides" else phase.decreases


def _after(phase: CrownPhase, count: int, most: int) -> Iterator[tuple[int, int]]:
    """(rounds, the count they leave) for 0 to `most` rounds of the phase, while there are stitches
    enough for its decreases."""
    each = _decreases(phase)
    for rounds in range(most + 1):
        yield rounds, count
        if count < 2 * each or (phase.kind == "sides" and count < 8):
            return
        count -= each


def _ways(
    spec: Spec, size: int, hand: int, tall: Fraction
) -> dict[tuple[int, int], tuple[int, ...]]:
    """How the phases can go on from `hand` stitches: to each pair of a count and a number of
    rounds the rounds of every phase, the smallest where several ways lead there.

    A way taller than `tall` rounds is left out where a less tall one ends on the same count, since
    what follows adds the same rounds to both.
    """
    ways: dict[tuple[int, int], tuple[int, ...]] = {(hand, 0): ()}
    for phase in spec.crown.phases:
        pinned = pin(phase.rounds, size)
        most = pinned if pinned is not None else hand // (2 * _decreases(phase))
        grown: dict[tuple[int, int], tuple[int, ...]] = {}
        least: dict[int, int] = {}
        for (count, rounds), way in ways.items():
            for times, left in _after(phase, count, most):
                if pinned is not None and times != pinned:
                    continue
                total = rounds + times * (1 + phase.plain_after)
                if total > tall:
                    if total > least.get(left, total):
                        continue
                    least[left] = total
                known = grown.get((left, total))
                if known is None or (*way, times) < known:
                    grown[left, total] = (*way, times)
        ways = {
            (count, rounds): way
            for (count, rounds), way in grown.items()
            if rounds <= tall or rounds == least[count]
        }
    return ways


def _crown(spec: Spec, size: int, base: Base, want: Wish) -> _Crown | Problem:
    """The crown nearest to its height whose closing begins near half of the hand's stitches."""
    last = pin(spec.crown.last, size)
    best: tuple[tuple[Fraction, tuple[int, ...]], _Crown] | None = None
    tall = want.crown_height / spec.gauge.height
    for (count, _), rounds in _ways(spec, size, base.hand, tall).items():
        ending = closing(count, last)
        if ending is None:
            continue
        crown = _Crown(rounds, ending)
        height = crown.rounds(spec) * spec.gauge.height - want.crown_height
        waist = (count - Fraction(base.hand, 2)) * spec.gauge.width / 2
        key = height**2 + waist**2, rounds
        if best is None or key < best[0]:
            best = key, crown
    if best:
        return best[1]
    pinned = [pin(phase.rounds, size) for phase in spec.crown.phases]
    return _crown_problem(spec, size, base.hand, pinned, last)


def _crown_problem(
    spec: Spec, size: int, hand: int, pinned: list[int | None], last: int | None
) -> Problem:
    name = spec.sizes[size].name
    sum_text, count = f"{hand}", hand
    for i, (phase, times) in enumerate(zip(spec.crown.phases, pinned, strict=True)):
        if not times:
            continue
        sum_text += f" − {times}×{_decreases(phase)}"
        count -= times * _decreases(phase)
        if count < 4:
            return Problem(
                "crown-uses-too-many",
                f"size {name}: the crown's phases leave fewer than four stitches:"
                f" {sum_text} = {str(count).replace('-', '−')}",
                ("crown", "phases", i, "sides" if phase.kind == "sides" else "evenly", name),
                f"work fewer than {times} such rounds, or fewer decreases in each",
            )
    ending = f", and {last} cannot be drawn shut from there" if last is not None else ""
    return Problem(
        "crown-cannot-be-closed",
        f"size {name}: the crown cannot be worked: {sum_text} = {count}{ending}",
        ("crown", "last" if last is not None else "phases", name),
        "free the rounds of one phase, so that they can be fitted",
    )


class _ThumbFit(NamedTuple):
    plain: int
    sides: int
    to_length: int
    closing: tuple[int, ...]


def _thumb(spec: Spec, size: int, base: Base, want: Wish) -> _ThumbFit | Problem:
    """The thumb's rounds: tapered once where it has ten stitches or more, then even to length."""
    pins, name = spec.thumb, spec.sizes[size].name
    width = base.thumb - base.crook_decreases
    sides = pin(pins.side_decreases, size)
    if sides is None:
        sides = 1 if width >= 10 else 0
    plain = pin(pins.plain_after, size)
    last = pin(pins.last, size)
    narrow = width - 2 * sides
    ending = closing(narrow, last) if narrow >= 4 else None
    if ending is None:
        key = "last" if narrow >= 4 else "side decreases"
        return Problem(
            "thumb-cannot-be-closed",
            f"size {name}: the thumb has {width} stitches after the crook's decreases;"
            f" {width} − {sides}×2 = {narrow}"
            + (f" cannot be drawn shut at {last}" if narrow >= 4 else " is fewer than four"),
            ("thumb", key, name),
            "work fewer side decreases, or draw shut 4 to 6 stitches",
        )
    wanted = round(want.thumb_length / spec.gauge.height)
    rest = max(0, wanted - base.crook_decreases - 2 * sides - len(ending))
    if plain is None:
        plain = min(2, rest) if base.crook_decreases or rest else 1
    length = pin(pins.rounds_to_length, size)
    if length is None:
        length = max(0, rest - plain)
    if not base.crook_decreases + plain + sides + length:
        plain = 1
    return _ThumbFit(plain, sides, length, ending)


def _cuff_across(spec: Spec, size: int, want: Wish) -> int:
    """Stitches across a ribbed cuff, or rounds of one worked round."""
    if spec.cuff.style == "none":
        return 0
    if spec.cuff.style == "round":
        pinned = pin(spec.cuff.rounds, size)
        return max(1, round(want.cuff_depth / spec.gauge.height)) if pinned is None else pinned
    pinned = pin(spec.cuff.stitches, size)
    rib = spec.cuff.gauge or spec.gauge
    return max(2, round(want.cuff_depth / rib.width)) if pinned is None else pinned


def _hand_rounds(spec: Spec, counts: Counts) -> int:
    crown = _Crown(counts.phases, counts.closing)
    return counts.base.division + counts.plain_before + crown.rounds(spec)


def _thumb_rounds(counts: Counts) -> int:
    shaped = counts.base.crook_decreases + 2 * counts.thumb_sides
    return shaped + counts.thumb_plain + counts.thumb_to_length + len(counts.thumb_closing)


def _no_shorter(spec: Spec, size: int, counts: Counts, smaller: Counts) -> Counts:
    """The counts with plain rounds added where they would end below the next smaller size."""
    plain, length, across = counts.plain_before, counts.thumb_to_length, counts.cuff_across
    if pin(spec.crown.plain_before, size) is None:
        plain += max(0, _hand_rounds(spec, smaller) - _hand_rounds(spec, counts))
    if pin(spec.thumb.rounds_to_length, size) is None:
        length += max(0, _thumb_rounds(smaller) - _thumb_rounds(counts))
    pinned = spec.cuff.stitches if spec.cuff.style == "ribbed" else spec.cuff.rounds
    if pin(pinned, size) is None:
        across = max(across, smaller.cuff_across)
    return replace(counts, plain_before=plain, thumb_to_length=length, cuff_across=across)


def _shorter(spec: Spec, size: int, counts: Counts, smaller: Counts) -> Iterator[Problem]:
    """Pins that would make a part of this size shorter than of the next smaller one."""
    ribbed = spec.cuff.style == "ribbed"
    for what, key, now, before in (
        ("cuff", ("cuff", "stitches" if ribbed else "rounds"),
         counts.cuff_across, smaller.cuff_across),
        ("hand", ("crown", "plain before"),
         _hand_rounds(spec, counts), _hand_rounds(spec, smaller)),
        ("thumb", ("thumb", "rounds to length"),
         _thumb_rounds(counts), _thumb_rounds(smaller)),
    ):  # fmt: skip
        if now < before:
            name = spec.sizes[size].name
            yield Problem(
                "size-shrinks",
                f"size {name}: the {what} would be shorter ({now}) than in the next smaller"
                f" size ({before})",
                (*key, name),
                f"raise or free what is pinned of {name}'s {what}",
            )


def _split_phases(spec: Spec) -> Iterator[Problem]:
    """Phases of one kind with another between them: sizes could not be told apart in one text."""
    kinds = [phase.kind for phase in spec.crown.phases]
    for i, kind in enumerate(kinds):
        if kind in kinds[: max(0, i - 1)] and kinds[i - 1] != kind:
            yield Problem(
                "phases-split",
                "the crown comes back to a kind of phase that it has left",
                ("crown", "phases", i),
                "put the phases with decreases at the sides together, and those spread evenly",
            )


def fit(spec: Spec) -> tuple[Counts, ...]:
    """The counts of every size in the order of `spec.sizes`. Faults with every problem found."""
    problems: list[Problem] = list(_split_phases(spec))
    fitted: list[Counts] = []
    for i, base in enumerate(fit_bases(spec)):
        want = wish(spec, spec.sizes[i])
        crown = _crown(spec, i, base, want)
        thumb = _thumb(spec, i, base, want)
        problems += [part for part in (crown, thumb) if isinstance(part, Problem)]
        if isinstance(crown, Problem) or isinstance(thumb, Problem):
            continue
        rounds = round((want.hand_length - spec.cuff.above_crease) / spec.gauge.height)
        plain = pin(spec.crown.plain_before, i)
        if plain is None:
            plain = max(0, rounds - base.division - crown.rounds(spec))
        counts = Counts(
            base, _cuff_across(spec, i, want), plain, crown.phases, crown.closing,
            thumb.plain, thumb.sides, thumb.to_length, thumb.closing,
        )  # fmt: skip
        if fitted:
            counts = _no_shorter(spec, i, counts, fitted[-1])
            problems += _shorter(spec, i, counts, fitted[-1])
        fitted.append(counts)
    if problems:
        raise Faults(problems)
    return tuple(fitted)
