"""Even spacing: where decreases stand in a round, and which places a pinned pick-up uses.

The even arrangement of k things on n places round a circle is one pattern and its rotations, the
Euclidean rhythm (Toussaint 2005, "The Euclidean Algorithm Generates Traditional Musical Rhythms",
Bridges Banff, pp. 47-56); Bresenham's line draws it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from math import gcd


def gaps(stitches: int, decreases: int) -> tuple[int, ...]:
    """The plain stitches between one decrease and the next, all round, as even as can be.

    As many numbers as decreases; their sum is the stitches that none of them uses. ValueError
    where the round has too few stitches.
    """
    _demand_room(stitches, decreases)
    plain = stitches - 2 * decreases
    return tuple((i + 1) * plain // decreases - i * plain // decreases for i in range(decreases))


def spread(stitches: int, decreases: int, below: Collection[int] = ()) -> tuple[int, ...]:
    """The first of the two stitches that each decrease uses, evenly spaced, ascending from 0.

    No decrease straddles the round's start. `below` are the stitches of this round that are
    decreases themselves: of all rotations that one is taken whose decreases lie farthest from
    them (first the nearest pair, then all together, then the smallest numbers), so that none is
    used where there is any other way. A round of at least four stitches a decrease also leaves
    the next round such a way. ValueError where the round has too few stitches.
    """
    _demand_room(stitches, decreases)
    if decreases == 0:
        return ()
    ways = sorted(set(_rotations(stitches, decreases)))
    if below:
        nearest = _nearest_below(stitches, below)
        # The sort is stable: the smallest numbers stay first among equals.
        ways.sort(key=lambda starts: _nearness(starts, nearest))
        if any(nearest[i] == 0 or nearest[i + 1] == 0 for i in ways[0]):
            return ways[0]
        ways = [way for way in ways if all(nearest[i] and nearest[i + 1] for i in way)]
    if 4 * decreases <= stitches < 5 * decreases:
        # Only so narrow a round can leave the next one no way between its decreases.
        for way in ways:
            if can_avoid(stitches - decreases, decreases, made_by(way)):
                return way
    return ways[0]


def can_avoid(stitches: int, decreases: int, below: Collection[int]) -> bool:
    """Whether so many decreases can be spread evenly and use no stitch of `below`.

    ValueError where the round has too few stitches.
    """
    _demand_room(stitches, decreases)
    taken = set(below)
    return any(
        all(i not in taken and i + 1 not in taken for i in way)
        for way in _rotations(stitches, decreases)
    )


def made_by(starts: Collection[int]) -> tuple[int, ...]:
    """The stitches of the next round that the decreases at `starts` (ascending) become."""
    return tuple(start - before for before, start in enumerate(starts))


def spread_count(places: int, count: int) -> tuple[int, ...]:
    """The place that each of `count` stitches is worked into, ascending, spread evenly.

    With fewer stitches than places some are missed, with more some are used twice. ValueError for
    a negative number and for more than two stitches a place.
    """
    if places < 0 or not 0 <= count <= 2 * places:
        raise ValueError(f"{count} stitches cannot be spread over {places} places")
    return tuple((2 * i + 1) * places // (2 * count) for i in range(count))


def _demand_room(stitches: int, decreases: int) -> None:
    if decreases < 0 or 2 * decreases > stitches:
        raise ValueError(f"{stitches} stitches have no room for {decreases} decreases")


def _rotations(stitches: int, decreases: int) -> Iterator[tuple[int, ...]]:
    """Every even arrangement in which no decrease straddles the start, each once.

    The last gap is cut by the round's start, at every stitch of it in turn.
    """
    if decreases == 0:
        yield ()
        return
    between = gaps(stitches, decreases)
    period = decreases // gcd(decreases, stitches)
    for turn in range(period):
        turned = between[turn:] + between[:turn]
        for before in range(turned[-1] + 1):
            starts, at = [], before
            for gap in turned:
                starts.append(at)
                at += 2 + gap
            yield tuple(starts)


def _nearest_below(stitches: int, below: Collection[int]) -> list[int]:
    """For each stitch the way round to the nearest one of `below`."""
    far = [stitches] * stitches
    for i in below:
        far[i] = 0
    for _ in range(2):  # twice round, so that the start is no wall
        for i in range(stitches):
            far[i] = min(far[i], far[i - 1] + 1)
        for i in reversed(range(stitches)):
            far[i] = min(far[i], far[(i + 1) % stitches] + 1)
    return far


def _nearness(starts: tuple[int, ...], nearest: list[int]) -> tuple[int, int]:
    """Less the farther the decreases lie from those below."""
    away = [min(nearest[i], nearest[i + 1]) for i in starts]
    return -min(away), -sum(away)
