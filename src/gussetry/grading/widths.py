"""The widths of all sizes: what the pins fix, the rest as near to the wishes as the laws allow.

The objective is the weighted squared miss in mm² over cuff, hand and thumb circumference and crook
height, summed over the sizes, under the law that no named count shrinks from one size to the next.
All sums are exact, so ties break alike everywhere: the smaller counts win.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from gussetry.diagnostics import Faults, Problem
from gussetry.grading.counts import (
    Base,
    between_markers,
    gusset_rounds,
    hand_change,
    held,
)
from gussetry.grading.measures import Wish, wish
from gussetry.spec import Spec, pin

WEIGHT_HAND = 4
"""The hand's circumference is what a size is bought by: it weighs most."""
WEIGHT_THUMB = 3
"""A thumb too tight makes the mitten useless; one stitch is a large share of it."""
WEIGHT_CUFF = 1
"""Ribbing stretches."""
WEIGHT_CROOK = 1
"""A crook a few mm low or high is taken up by the fabric's give."""
MOST_INCREASES = 6
"""Outer-edge increases that are tried; more would flare the hand like a bell."""
KEPT = 90
"""Candidates of a size that the choice over all sizes looks at, the nearest first."""

GAPS = (1, 2, 3)
"""Joined pairs or chains that are tried where no pin says how many: common practice."""

Pins = dict[str, int]
Ranked = tuple[Fraction, Base]
Way = tuple[Fraction, tuple[Base, ...]]

PIN_PATHS: dict[str, tuple[str, str]] = {
    "cuff rows": ("cuff", "rows"),
    "pick up": ("lower hand", "pick up"),
    "increases": ("lower hand", "increases"),
    "lower": ("lower hand", "rounds"),
    "between": ("gusset", "between markers"),
    "pairs": ("division", "pairs"),
    "chains": ("division", "chains"),
    "crook": ("division", "crook stitches"),
    "division": ("division", "round"),
    "hand": ("division", "hand stitches"),
    "crook decreases": ("thumb", "crook decreases"),
}
_FIELDS: dict[str, str] = {
    "cuff rows": "cuff_rows", "pick up": "pick_up", "crook decreases": "crook_decreases",
}  # fmt: skip


def _pins(spec: Spec, size: int) -> Pins:
    """The size's pins of the widths, those that are set."""
    cuff, lower, division = spec.cuff, spec.lower_hand, spec.division
    found = {
        "cuff rows": pin(cuff.rows, size) if cuff.style == "ribbed" else None,
        "pick up": pin(lower.pick_up, size),
        "increases": pin(lower.increases, size),
        "lower": pin(lower.rounds, size),
        "between": pin(spec.gusset.between_markers, size),
        "pairs": pin(division.pairs, size),
        "chains": pin(division.chains, size),
        "crook": pin(division.crook, size),
        "division": pin(division.round, size),
        "hand": pin(division.hand, size),
        "crook decreases": pin(spec.thumb.crook_decreases, size),
    }
    return {name: value for name, value in found.items() if value is not None}


def value_of(base: Base, name: str) -> int:
    """The count of `base` that the pin of that name fixes."""
    return int(getattr(base, _FIELDS.get(name, name)))


class _Bridge(NamedTuple):
    pairs: int
    chains: int
    crook: int
    decreases: int


def _bridge(spec: Spec, pins: Pins, gap: int) -> _Bridge:
    """How the gap is bridged, with `gap` pairs or chains where no pin says how many.

    Two crook stitches from a joined pair: common practice, no source.
    """
    kind = spec.division.bridge
    pairs = pins.get("pairs", gap) if kind == "join" else 0
    chains = pins.get("chains", gap) if kind == "chain" else 0
    given = {"join": 2 if pairs else 0, "chain": chains, "none": 0}[kind]
    crook = pins.get("crook", given)
    return _Bridge(pairs, chains, crook, pins.get("crook decreases", min(crook, 2)))


def _near(target: Fraction, reach: int, least: int) -> range:
    middle = round(target)
    return range(max(least, middle - reach), max(least, middle + reach) + 1)


def _steps(spec: Spec, pins: Pins, want: Wish, bridge: _Bridge) -> list[int]:
    """Increase rounds of the gusset worth trying."""
    if "between" in pins:
        return [s for s in range(200) if between_markers(spec, s) == pins["between"]]
    target = want.thumb_circumference / spec.gauge.width - bridge.crook + bridge.decreases
    fitting = [s for s in range(120) if abs(held(spec, between_markers(spec, s)) - target) <= 3]
    return fitting or [0]


def _cuffs(spec: Spec, pins: Pins, want: Wish, picked: int) -> list[int]:
    """Cuff rows that can carry so many picked-up stitches; [0] for a cuff that has no rows."""
    cuff = spec.cuff
    if cuff.style != "ribbed":
        return [0]
    seam = int(cuff.seam_counts)

    def fits(rows: int) -> bool:
        return cuff.parity == "any" or rows % 2 == (0 if cuff.parity == "even" else 1)

    if "cuff rows" in pins:
        places = pins["cuff rows"] + seam
        free = "pick up" in pins and (picked + 1) // 2 <= places
        return [pins["cuff rows"]] if fits(pins["cuff rows"]) and (free or places == picked) else []
    if "pick up" in pins and cuff.gauge:
        near = _near(want.cuff_circumference / cuff.gauge.height, 2, 4)
        return [r for r in near if fits(r) and (picked + 1) // 2 <= r + seam <= 2 * picked]
    return [picked - seam] if fits(picked - seam) else []


def _bases(spec: Spec, pins: Pins, want: Wish, gap: int) -> Iterator[Base]:
    """Every set of counts near the wishes that obeys the pins and can be worked."""
    bridge = _bridge(spec, pins, gap)
    if spec.division.bridge == "chain" and bridge.crook > bridge.chains:
        return
    hands = [pins["hand"]] if "hand" in pins else None
    for steps in _steps(spec, pins, want, bridge):
        between = between_markers(spec, steps)
        change = hand_change(spec, steps, bridge.pairs, bridge.chains)
        for hand in hands or _hands(spec, pins, want, change):
            for increases in _increases(pins, hand - change):
                picked = hand - change - increases
                if picked < 6 or pins.get("pick up", picked) != picked:
                    continue
                rounds = _rounds(spec, pins, want, steps, increases)
                if rounds is None:
                    continue
                for rows in _cuffs(spec, pins, want, picked):
                    yield Base(
                        rows, picked, increases, rounds[0], steps, between, rounds[1],
                        bridge.pairs, bridge.chains, bridge.crook, hand,
                        held(spec, between) + bridge.crook, bridge.decreases,
                    )  # fmt: skip


def _hands(spec: Spec, pins: Pins, want: Wish, change: int) -> list[int]:
    """Hand counts worth trying: those the pins below force, else those near the wish."""
    if "pick up" in pins:
        foot = pins["pick up"] + change
        most = pins.get("increases", MOST_INCREASES)
        return [foot + more for more in range(pins.get("increases", 0), most + 1)]
    return list(_near(want.hand_circumference / spec.gauge.width, 3, 8))


def _increases(pins: Pins, before_gusset: int) -> list[int]:
    if "increases" in pins:
        return [pins["increases"]]
    if "pick up" in pins:
        more = before_gusset - pins["pick up"]
        return [more] if 0 <= more <= MOST_INCREASES else []
    return list(range(MOST_INCREASES + 1))


def _rounds(
    spec: Spec, pins: Pins, want: Wish, steps: int, increases: int
) -> tuple[int, int] | None:
    """(rounds before the opening, the division's round), the nearest to the crook's height."""
    least = 1 + increases
    grown = gusset_rounds(spec, steps)
    lower = pins.get("lower")
    if lower is not None and lower < least:
        return None
    start = lower if lower is not None else least
    target = round((want.crook_height - spec.cuff.above_crease) / spec.gauge.height)
    division = pins.get("division", max(target, start + grown + 1))
    if division < start + grown + 1:
        return None
    return (lower if lower is not None else division - grown - 1), division


def miss(spec: Spec, want: Wish, base: Base) -> Fraction:
    """The weighted squared miss of the widths and the crook's height, mm²."""
    width, height = spec.gauge.width, spec.gauge.height
    rib = spec.cuff.gauge
    if spec.cuff.style == "ribbed" and rib:
        cuff = base.cuff_rows * rib.height - want.cuff_circumference
    else:
        cuff = base.pick_up * width - want.cuff_circumference
    hand = base.hand * width - want.hand_circumference
    thumb = (base.thumb - base.crook_decreases) * width - want.thumb_circumference
    crook = base.division * height + spec.cuff.above_crease - want.crook_height
    return (
        WEIGHT_CUFF * cuff**2
        + WEIGHT_HAND * hand**2
        + WEIGHT_THUMB * thumb**2
        + WEIGHT_CROOK * crook**2
    )


def _workable(spec: Spec, base: Base) -> bool:
    """Whether the stitches on both sides of the gusset suffice for its bridge and the crown, and
    the thumb for its crook."""
    shift = abs(spec.gusset.towards_palm)
    opened = base.pick_up + base.increases
    if opened // 2 + shift + 3 > opened or (opened - 1) // 2 - shift < base.pairs + 1:
        return False
    half = (base.hand - base.chains) // 2 - shift
    if spec.gusset.growth in ("first", "second"):
        half -= (base.steps + 1) // 2 + 1
    return half >= 2 and base.thumb - base.crook_decreases >= 4 and base.thumb >= base.crook


def _candidates(spec: Spec, pins: Pins, want: Wish, gap: int) -> list[Ranked]:
    bases = {base for base in _bases(spec, pins, want, gap) if _workable(spec, base)}
    ranked = [(miss(spec, want, base), base) for base in bases]
    ranked.sort(key=lambda pair: (pair[0], *_order(pair[1])))
    return ranked


def _order(base: Base) -> tuple[int, ...]:
    return base.hand, base.thumb, base.pick_up, base.cuff_rows, base.increases, base.lower


def _why_not(spec: Spec, size: int, pins: Pins, want: Wish) -> Problem:
    """Which pin stands in the way, and the nearest counts that would work."""
    name = spec.sizes[size].name
    for key in sorted(pins, key=list(PIN_PATHS).index, reverse=True):
        freed = {k: v for k, v in pins.items() if k != key}
        works = sorted(
            {value_of(b, key) for gap in GAPS for _, b in _candidates(spec, freed, want, gap)}
        )
        if not works:
            continue
        nearest = sorted(works, key=lambda v: (abs(v - pins[key]), v))[:2]
        shown = " or ".join(str(v) for v in sorted(nearest))
        words = " ".join(PIN_PATHS[key])
        return Problem(
            "pin-does-not-fit",
            f"size {name}: {words} {pins[key]} cannot be worked with the other counts"
            + (f" ({_gusset_needs(spec, pins)})" if key == "division" else ""),
            (*PIN_PATHS[key], name),
            f"the nearest that works is {shown}; or free another pin",
        )
    return Problem(
        "counts-do-not-fit",
        f"size {name}: no counts can be worked"
        + (" with the pins " + ", ".join(" ".join(PIN_PATHS[k]) for k in pins) if pins else ""),
        ("sizes", name),
        "free some pins, or look at the gauge and the measures of this size",
    )


def _gusset_needs(spec: Spec, pins: Pins) -> str:
    between = pins.get("between")
    grown = f" to {between} stitches between the markers" if between is not None else ""
    return f"growing the gusset{grown} takes more rounds"


def _wide_enough(smaller: Base, larger: Base) -> bool:
    """Whether no named count shrinks from one size to the next."""
    return (
        smaller.pick_up <= larger.pick_up
        and smaller.between <= larger.between
        and smaller.hand <= larger.hand
        and smaller.thumb <= larger.thumb
        and smaller.cuff_rows <= larger.cuff_rows
        and smaller.division <= larger.division
    )


def _chain(ranked: list[list[Ranked]]) -> Way | None:
    """The candidates, one a size, that together miss least and never shrink, and their miss."""
    ways: list[Way] = [(Fraction(0), ())]
    for candidates in ranked:
        grown: list[Way] = []
        for cost, base in candidates[:KEPT]:
            best: Way | None = None
            for so_far, bases in ways:
                fits = not bases or _wide_enough(bases[-1], base)
                if fits and (best is None or so_far < best[0]):
                    best = so_far, bases
            if best is not None:
                grown.append((best[0] + cost, (*best[1], base)))
        ways = grown
    return min(ways, key=lambda way: way[0]) if ways else None


def fit_bases(spec: Spec) -> tuple[Base, ...]:
    """The widths of every size, together, the gap bridged alike in all where no pin says
    otherwise. Faults where a size cannot be worked."""
    asked = [(wish(spec, size), _pins(spec, i)) for i, size in enumerate(spec.sizes)]
    tried = [[_candidates(spec, pins, want, gap) for want, pins in asked] for gap in GAPS]
    ways = [way for ranked in tried if (way := _chain(ranked)) is not None]
    if ways:
        return min(ways, key=lambda way: way[0])[1]
    problems = [
        _why_not(spec, i, pins, want)
        for i, (want, pins) in enumerate(asked)
        if not any(ranked[i] for ranked in tried)
    ]
    raise Faults(problems or [_shrinking(spec, tried)])


def _shrinking(spec: Spec, tried: list[list[list[Ranked]]]) -> Problem:
    """Names the first two sizes between which every choice would make a count smaller."""
    reach = max(
        max(n for n in range(len(spec.sizes)) if not n or _chain(ranked[:n])) for ranked in tried
    )
    before, after = spec.sizes[reach - 1].name, spec.sizes[reach].name
    return Problem(
        "size-shrinks",
        f"size {after} would have fewer stitches somewhere than size {before}",
        ("sizes", after),
        f"free or raise the pins of {after}, or lower those of {before}",
    )
