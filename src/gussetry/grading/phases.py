"""The crown's phases: how they can bring a hand's stitches down, and in how many rounds."""

from __future__ import annotations

from collections.abc import Iterator

from gussetry.spec import CrownPhase, Spec, pin


def decreases(phase: CrownPhase) -> int:
    """Stitches that one decrease round of the phase takes away."""
    return 2 if phase.kind == "sides" else phase.decreases


def _after(phase: CrownPhase, count: int, most: int) -> Iterator[tuple[int, int]]:
    """(rounds, the count they leave) for 0 to `most` rounds of the phase, while there are stitches
    enough for its decreases."""
    each = decreases(phase)
    for rounds in range(most + 1):
        yield rounds, count
        if count < 2 * each or (phase.kind == "sides" and count < 8):
            return
        count -= each


def crown_ways(
    spec: Spec, size: int, hand: int, tall: int
) -> Iterator[tuple[int, int, tuple[int, ...]]]:
    """How the phases can go on from `hand` stitches: (count they leave, their rounds in all, the
    decrease rounds of each), the smallest where several ways come to one count in as many rounds.

    A way taller than `tall` rounds is left out where a less tall one ends on the same count, since
    what follows adds the same rounds to both.
    """
    ways: dict[tuple[int, int], tuple[int, ...]] = {(hand, 0): ()}
    for phase in spec.crown.phases:
        pinned = pin(phase.rounds, size)
        most = hand if pinned is None else pinned
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
    for (count, rounds), way in ways.items():
        yield count, rounds, way
