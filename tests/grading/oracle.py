"""The best counts found the slow way: every set of counts is listed and every run of sizes tried.

Written from the laws and the objective as they are stated, in fractions, without the search's
tables and short cuts. It shares with the search what is given: the wishes, the weights, and how far
to both sides of a wish is looked.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import floor
from operator import le

from gussetry.grading import asked as weights
from gussetry.grading.measures import wish
from gussetry.spec import Spec, pin

REACH = 1
INCREASES = range(7)
GAPS = (1, 2, 3)


@dataclass(frozen=True)
class Set:
    """One size's counts: what they miss, what may not shrink, all of them."""

    miss: Fraction
    ordered: tuple[int, ...]
    counts: tuple[int, ...]


def near(wished: Fraction, step: Fraction, low: int) -> list[int]:
    """Whole numbers within reach of a wish, or upwards from the least that is possible."""
    middle = max(low, floor(wished / step + Fraction(1, 2)))
    return [n for n in range(middle - REACH, middle + REACH + 1) if n >= low]


def halved(count: int, last: int | None) -> list[int] | None:
    """The counts while everything is drawn together in pairs."""
    found: list[int] = []
    while count > (6 if last is None else last):
        half = -(-count // 2)
        count = half if last is None or half > last else last
        found.append(count)
    fits = 4 <= count <= 6 if last is None else count == last
    return found if fits else None


def crowns(spec: Spec, size: int, hand: int) -> Iterator[tuple[tuple[int, ...], int, int]]:
    """Every crown: the rounds of its phases, its rounds in all, the count at its closing."""
    ranges: list[list[int]] = []
    for phase in spec.crown.phases:
        fixed = pin(phase.rounds, size)
        ranges.append(list(range(hand // 2 + 1)) if fixed is None else [fixed])
    found: dict[tuple[int, int], tuple[int, ...]] = {}
    for times in product(*ranges):
        count, rounds, possible = hand, 0, True
        for phase, n in zip(spec.crown.phases, times, strict=True):
            each = 2 if phase.kind == "sides" else phase.decreases
            for _ in range(n):
                # A decrease takes two stitches; two sides need room between them.
                possible &= count >= max(2 * each, 8 if phase.kind == "sides" else 0)
                count -= each
            rounds += n * (1 + phase.plain_after)
        if possible:
            known = found.get((count, rounds))
            found[count, rounds] = times if known is None else min(known, times)
    for (count, rounds), times in found.items():
        closing = halved(count, pin(spec.crown.last, size)) if count >= 4 else None
        if closing is not None:
            yield times, rounds + len(closing), count


def sets(spec: Spec, size: int, gap: int) -> Iterator[Set]:
    """Every set of counts of one size within reach of its wishes that can be worked."""
    want, w, h = wish(spec, spec.sizes[size]), spec.gauge.width, spec.gauge.height
    inside = spec.gusset.growth == "inside"
    joined = gap if spec.division.bridge == "join" else 0
    chained = gap if spec.division.bridge == "chain" else 0
    crook = 2 if joined else chained
    lost = min(crook, 2)
    picked = pin(spec.lower_hand.pick_up, size)
    middle = floor(want.thumb_circumference / w)
    grown = []
    for steps in range(60):
        between = 3 + 2 * steps if inside else 2 + steps
        thumb = between + (2 if spec.division.with_marked else 0) + crook
        grown.append((steps, between, thumb, thumb - lost))
    workable = [g for g in grown if g[3] >= 4 and thumb_end(spec, size, g[3]) is not None]
    close = [g for g in workable if middle - REACH <= g[3] <= max(middle, 4) + REACH + 1]
    tops: dict[tuple[int, int], list[Top]] = {}
    for steps, between, thumb, width in (
        close or [g for g in workable if g[3] >= middle - REACH][:1]
    ):
        # The pair takes one from the second half when all grows inside.
        outside = -2 if inside else steps - 1
        change = outside + (0 if spec.division.with_marked else 2) - 2 * joined + chained
        closing = thumb_end(spec, size, width)
        assert closing is not None
        plain, length = pin(spec.thumb.plain_after, size), pin(spec.thumb.rounds_to_length, size)
        worked = lost + (plain or 0) + (length or 0)
        fixed = plain is not None and length is not None
        if fixed and not worked:
            continue
        fewest = max(1, worked) + closing
        lengths = [
            (n, weights.WEIGHT_THUMB_LENGTH * (n * h - want.thumb_length) ** 2)
            for n in ([fewest] if fixed else near(want.thumb_length, h, fewest))
        ]
        if picked is None:
            hands = near(want.hand_circumference, w, 8)
        else:
            hands = [picked + change + more for more in INCREASES]
        for hand, more in product(hands, INCREASES):
            foot = hand - change - more
            if foot < 6 or (picked is not None and picked != foot) or hand < 8:
                continue
            if not roomy(spec, hand, foot + more, steps, joined, chained):
                continue
            first = 1 + more + 2 + steps * spec.gusset.every + 1
            divisions = near(want.crook_height - spec.cuff.above_crease, h, first)
            fixed_round = pin(spec.division.round, size)
            if fixed_round is not None:
                divisions = [fixed_round] if fixed_round >= first else []
            for (rows, cuff), division in product(cuffs(spec, size, foot), divisions):
                if (hand, division) not in tops:
                    tops[hand, division] = list(above(spec, size, hand, division))
                widths = (
                    weights.WEIGHT_HAND * (hand * w - want.hand_circumference) ** 2
                    + weights.WEIGHT_THUMB * (width * w - want.thumb_circumference) ** 2
                    + weights.WEIGHT_CUFF * (cuff - want.cuff_circumference) ** 2
                )
                for (times, rounds, miss), (long, thumb_miss) in product(
                    tops[hand, division], lengths
                ):
                    yield Set(
                        widths + miss + thumb_miss,
                        (foot, between, hand, thumb, width, rows, division, rounds, long),
                        (rows, foot, between, hand, thumb, division, *times, rounds, long),
                    )


Top = tuple[tuple[int, ...], int, Fraction]
"""Rounds of the crown's phases, rounds of the hand, what crook, crown and hand miss in height."""


def above(spec: Spec, size: int, hand: int, division: int) -> Iterator[Top]:
    """Every way to the tip from a division in that round."""
    want, h, crease = wish(spec, spec.sizes[size]), spec.gauge.height, spec.cuff.above_crease
    crook = weights.WEIGHT_CROOK * (division * h + crease - want.crook_height) ** 2
    for times, tall, count in crowns(spec, size, hand):
        waist = (count - Fraction(hand, 2)) * spec.gauge.width / 2
        crown = weights.WEIGHT_CROWN * ((tall * h - want.crown_height) ** 2 + waist**2)
        plain = pin(spec.crown.plain_before, size)
        low = division + tall
        for rounds in near(want.hand_length - crease, h, low) if plain is None else [low + plain]:
            long = weights.WEIGHT_HAND_LENGTH * (rounds * h + crease - want.hand_length) ** 2
            yield times, rounds, crook + crown + long


def thumb_end(spec: Spec, size: int, width: int) -> int | None:
    """The rounds that close a thumb of so many stitches, which does not taper."""
    closing = halved(width, pin(spec.thumb.last, size))
    return None if closing is None else len(closing)


def cuffs(spec: Spec, size: int, foot: int) -> Iterator[tuple[int, Fraction]]:
    """(rows, circumference) of the cuffs that so many stitches can be picked up from."""
    if spec.cuff.style != "ribbed":
        yield 0, foot * spec.gauge.width
        return
    assert spec.cuff.gauge is not None
    tall, seam = spec.cuff.gauge.height, int(spec.cuff.seam_counts)
    rows = [foot - seam]
    if pin(spec.lower_hand.pick_up, size) is not None or spec.cuff.gauge.stitch != "sc":
        rows = near(wish(spec, spec.sizes[size]).cuff_circumference, tall, 4)
    for n in rows:
        fits = {"even": n % 2 == 0, "odd": n % 2 == 1, "any": True}[spec.cuff.parity]
        if n > 0 and fits and n + seam <= 2 * foot and foot <= 2 * (n + seam):
            yield n, n * tall


def roomy(spec: Spec, hand: int, opened: int, steps: int, joined: int, chained: int) -> bool:
    """Whether there are stitches enough beside the gusset, and the crown's sides have room."""
    half = (hand - chained) // 2
    if spec.gusset.growth in ("first", "second"):
        half -= (steps + 1) // 2 + 1
    return opened - opened // 2 >= 3 and (opened - 1) // 2 > joined and half >= 2


Rank = tuple[Fraction, int, int]


def best(spec: Spec) -> Rank | None:
    """The rank of the best run of sizes: its miss in mm², its roughness, its sum of counts; None
    where no run keeps every count from shrinking. Without the cuff's depth."""
    found: Rank | None = None
    for gap in GAPS if spec.division.bridge != "none" else (0,):
        lists = [sorted(sets(spec, i, gap), key=lambda s: s.miss) for i in range(len(spec.sizes))]
        lists = _followable(lists)
        if not all(lists):
            continue
        # Runs that miss by little are tried first, since the others are so many.
        least, most = (sum(own[i].miss for own in lists) for i in (0, -1))
        more = Fraction(1)
        while True:
            limit = least + more if found is None else min(least + more, found[0])
            run = _tried(lists, [], (limit, HUGE, HUGE))
            if run[1] < HUGE:
                found = run if found is None else min(found, run)
                break
            if limit >= most or (found is not None and limit == found[0]):
                break
            more *= 4
    return found


HUGE = 10**9


def _followable(lists: list[list[Set]]) -> list[list[Set]]:
    """The sets that some set of the next size can follow, from the largest size down."""
    kept = [lists[-1]]
    for own in reversed(lists[:-1]):
        next_ones = {one.ordered for one in kept[0]}
        starts = {
            mine
            for mine in {one.ordered for one in own}
            if any(all(map(le, mine, other)) for other in next_ones)
        }
        kept.insert(0, [one for one in own if one.ordered in starts])
    return kept


def _tried(lists: list[list[Set]], run: list[Set], known: Rank) -> Rank:
    """The best rank of all runs that go on so, or the known one where none is better."""
    if len(run) == len(lists):
        return min(known, (sum((s.miss for s in run), Fraction(0)), roughness(run), total(run)))
    least = sum((own[0].miss for own in lists[len(run) + 1 :]), Fraction(0))
    so_far = sum((s.miss for s in run), Fraction(0))
    for one in lists[len(run)]:
        if so_far + one.miss + least > known[0]:
            break
        if not run or all(map(le, run[-1].ordered, one.ordered)):
            known = _tried(lists, [*run, one], known)
    return known


def roughness(run: list[Set]) -> int:
    """The sum of the squared second differences of every count."""
    return sum(
        (c - 2 * b + a) ** 2
        for i in range(len(run) - 2)
        for a, b, c in zip(*(s.counts for s in run[i : i + 3]), strict=True)
    )


def total(run: list[Set]) -> int:
    """The sum of all counts."""
    return sum(n for s in run for n in s.counts)
