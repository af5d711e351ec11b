"""Even spacing against the published rhythms, a brute-force search and its own promises."""

from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gussetry.grading.spacing import can_avoid, gaps, made_by, spread, spread_count

# Toussaint 2005, "The Euclidean Algorithm Generates Traditional Musical Rhythms", Bridges Banff,
# pp. 47-56: E(k,n) puts k onsets on n pulses. The distances from onset to onset, in order; a
# rhythm and its rotations (necklace) are one for us. The list of (k, n) is the paper's; the
# patterns were typed from memory of it and agree with an independent implementation.
RHYTHMS = {
    (2, 3): "2-1",
    (2, 5): "2-3",
    (3, 4): "2-1-1",
    (3, 5): "2-2-1",
    (3, 7): "2-2-3",
    (3, 8): "3-3-2",
    (4, 7): "2-2-2-1",
    (4, 9): "2-2-2-3",
    (4, 11): "3-3-3-2",
    (5, 6): "2-1-1-1-1",
    (5, 7): "2-1-2-1-1",
    (5, 8): "2-1-2-1-2",
    (5, 9): "2-2-2-2-1",
    (5, 11): "2-2-2-2-3",
    (5, 12): "3-2-3-2-2",
    (5, 16): "3-3-3-3-4",
    (7, 8): "2-1-1-1-1-1-1",
    (7, 12): "2-1-2-2-1-2-2",
    (7, 16): "3-2-2-3-2-2-2",
    (9, 16): "2-1-2-2-2-1-2-2-2",
    (11, 24): "3-2-2-2-2-3-2-2-2-2-2",
    (13, 24): "2-1-2-2-2-2-2-1-2-2-2-2-2",
}


def rotations(sequence: tuple[int, ...]) -> set[tuple[int, ...]]:
    return {sequence[i:] + sequence[:i] for i in range(len(sequence))}


def distances(places: tuple[int, ...], around: int) -> tuple[int, ...]:
    ends = [*places[1:], places[0] + around]
    return tuple(b - a for a, b in zip(places, ends, strict=True))


@pytest.mark.parametrize(("rhythm", "printed"), RHYTHMS.items())
def test_decreases_in_the_round_they_leave_are_the_published_rhythm(
    rhythm: tuple[int, int], printed: str
) -> None:
    onsets, pulses = rhythm
    # Of n stitches left, k are decreases: worked over n + k stitches.
    expected = tuple(map(int, printed.split("-")))
    left = made_by(spread(pulses + onsets, onsets))
    assert distances(left, pulses) in rotations(expected)
    assert tuple(plain + 1 for plain in gaps(pulses + onsets, onsets)) in rotations(expected)


# Computed with the Bresenham rule: S stitches and d decreases, distances in the round left.
@pytest.mark.parametrize(
    ("stitches", "decreases", "printed"),
    [
        (40, 6, "6-5-6-6-5-6"),
        (36, 5, "6-6-6-6-7"),
        (32, 7, "4-3-4-3-4-3-4"),
        (48, 8, "5-5-5-5-5-5-5-5"),
        (30, 4, "7-6-7-6"),
    ],
)
def test_gaps_of_whole_crowns(stitches: int, decreases: int, printed: str) -> None:
    found = tuple(plain + 1 for plain in gaps(stitches, decreases))
    assert found in rotations(tuple(map(int, printed.split("-"))))


def is_even(starts: tuple[int, ...], stitches: int) -> bool:
    """Evenness as defined: every window of j distances is the floor or ceiling of j S / d."""
    around = distances(starts, stitches)
    many = len(starts)
    for j in range(1, many + 1):
        for i in range(many):
            window = sum(around[(i + k) % many] for k in range(j))
            if not j * stitches // many <= window <= -(-j * stitches // many):
                return False
    return True


def every_way(stitches: int, decreases: int) -> set[tuple[int, ...]]:
    """Every even placing of the decreases without a straddle, found by trying all placings."""
    return {
        starts
        for starts in combinations(range(stitches - 1), decreases)
        if all(b - a >= 2 for a, b in pairwise(starts))
        and (decreases < 2 or is_even(starts, stitches))
    }


def nearness(starts: tuple[int, ...], below: set[int], stitches: int) -> tuple[int, int]:
    def away(start: int) -> int:
        return min(
            min((used - low) % stitches, (low - used) % stitches)
            for used in (start, start + 1)
            for low in below
        )

    return min(map(away, starts)), sum(map(away, starts))


@pytest.mark.parametrize("stitches", range(2, 14))
def test_spread_is_the_best_of_all_placings(stitches: int) -> None:
    for decreases in range(1, stitches // 2 + 1):
        ways = every_way(stitches, decreases)
        assert spread(stitches, decreases) in ways
        for low in every_way(stitches + decreases, decreases):
            below = set(made_by(low))
            chosen = spread(stitches, decreases, below)
            free = {way for way in ways if nearness(way, below, stitches)[0] > 0}
            assert can_avoid(stitches, decreases, below) == bool(free)
            candidates = free or ways
            if 4 * decreases <= stitches and free:
                # A roomy round must leave the next one a way past it.
                candidates = {
                    way
                    for way in free
                    if any(
                        not {i for s in after for i in (s, s + 1)} & set(made_by(way))
                        for after in every_way(stitches - decreases, decreases)
                    )
                }
            best = max(nearness(way, below, stitches) for way in candidates)
            assert chosen == min(
                way for way in candidates if nearness(way, below, stitches) == best
            )


rounds = st.integers(1, 40).flatmap(
    lambda decreases: st.tuples(st.integers(2 * decreases, 400), st.just(decreases))
)


@settings(derandomize=True, max_examples=150, deadline=None)
@given(rounds)
def test_every_placing_is_even_and_keeps_off_the_start(round_: tuple[int, int]) -> None:
    stitches, decreases = round_
    starts = spread(stitches, decreases)
    assert len(starts) == decreases
    assert starts[0] >= 0
    assert starts[-1] + 1 < stitches
    assert all(b - a >= 2 for a, b in pairwise(starts))
    assert is_even(starts, stitches)
    assert sum(gaps(stitches, decreases)) == stitches - 2 * decreases


@settings(derandomize=True, max_examples=100, deadline=None)
@given(rounds)
def test_a_crown_never_stacks_while_there_is_room(round_: tuple[int, int]) -> None:
    stitches, decreases = round_
    below: tuple[int, ...] = ()
    while stitches >= 2 * decreases:
        starts = spread(stitches, decreases, below)
        if below and stitches + decreases >= 4 * decreases:
            used = {i for start in starts for i in (start, start + 1)}
            assert not used & set(below)
        below, stitches = made_by(starts), stitches - decreases


def test_a_narrow_round_leaves_the_next_one_a_way() -> None:
    # 16 over 4: begun on the second stitch, the round of 12 above could not avoid both the
    # decreases and the start.
    assert not can_avoid(12, 4, made_by((1, 5, 9, 13)))
    low = made_by((0, 5, 10, 15))  # 20 over 4
    starts = spread(16, 4, low)
    assert can_avoid(12, 4, made_by(starts))


def test_no_decrease_is_no_start() -> None:
    assert spread(7, 0) == ()
    assert gaps(7, 0) == ()


def test_all_round_over_an_odd_count_leaves_the_last_stitch_plain() -> None:
    assert spread(9, 4) == (0, 2, 4, 6)
    assert gaps(9, 4) == (0, 0, 0, 1)


@pytest.mark.parametrize(("stitches", "decreases"), [(5, 3), (0, 1), (6, -1), (1, 1)])
def test_a_round_without_room_is_refused(stitches: int, decreases: int) -> None:
    for function in (gaps, spread):
        with pytest.raises(ValueError, match="no room"):
            function(stitches, decreases)


@settings(derandomize=True, max_examples=150, deadline=None)
@given(st.integers(1, 200).flatmap(lambda n: st.tuples(st.just(n), st.integers(1, 2 * n))))
def test_a_pinned_pick_up_misses_or_doubles_evenly(pick: tuple[int, int]) -> None:
    places, count = pick
    chosen = spread_count(places, count)
    assert len(chosen) == count
    assert list(chosen) == sorted(chosen)
    assert chosen[0] >= 0
    assert chosen[-1] < places
    uses = [chosen.count(i) for i in range(places)]
    assert max(uses) - min(uses) <= 1
    if count <= places:
        assert max(distances(chosen, places)) - min(distances(chosen, places)) <= 1


def test_a_pick_up_of_more_than_two_a_place_is_refused() -> None:
    assert spread_count(0, 0) == ()
    assert spread_count(4, 3) == (0, 2, 3)
    assert spread_count(2, 4) == (0, 0, 1, 1)
    with pytest.raises(ValueError, match="cannot be spread"):
        spread_count(4, 9)
