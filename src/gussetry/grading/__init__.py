"""From `Spec` to stitch maps: every size fitted, built, coloured, and held to the laws."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from gussetry.diagnostics import Problem
from gussetry.grading import build, yarns
from gussetry.grading.cautions import cautioned
from gussetry.grading.counts import Counts
from gussetry.grading.fit import fit
from gussetry.grading.laws import check_map, check_sizes
from gussetry.grading.measures import CROOK_HEIGHT_P95, Measure, body, wish
from gussetry.spec import Gauge, Size, Spec
from gussetry.stitchmap import Fabric, Mitten, Piece, StitchMap

FLOAT_ROUNDS = 6
"""Rounds within which a colour that comes back is carried: common practice, no source."""


class LawBroken(Exception):
    """Our own map breaks a counting law: a fault of ours, never of the specification."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        self.problems = problems
        super().__init__("; ".join(p.message for p in problems))


@dataclass(frozen=True, slots=True)
class GradedSize:
    """A size with its map, or with a left and a right one, and its measures."""

    size: Size
    maps: tuple[StitchMap, ...]
    measures: tuple[Measure, ...]


@dataclass(frozen=True, slots=True)
class Grading:
    """All sizes, smallest first, and what a technical editor would warn of."""

    sizes: tuple[GradedSize, ...]
    warnings: tuple[Problem, ...]

    @property
    def maps(self) -> tuple[StitchMap, ...]:
        """Every stitch map, size by size."""
        return tuple(m for graded in self.sizes for m in graded.maps)


def _fabric(gauge: Gauge) -> Fabric:
    return Fabric(gauge.stitch, gauge.width, gauge.height)


def _cuff(spec: Spec, counts: Counts) -> Piece | None:
    if spec.cuff.style == "none":
        return None
    if spec.cuff.style == "ribbed":
        stitch = spec.cuff.gauge.stitch if spec.cuff.gauge else "sc"
        piece = build.ribbed_cuff(counts.base.cuff_rows, counts.cuff_across, stitch)
    else:
        piece = build.round_cuff(
            counts.base.pick_up, counts.cuff_across, spec.gauge.stitch, spec.lower_hand.joined
        )
    return yarns.colour_cuff(spec, piece)


def _map(spec: Spec, size: Size, counts: Counts, mitten: Mitten) -> StitchMap:
    """One mitten. Worked right to left from the outer edge, the right mitten's first half is its
    back, so its thumb moves to the palm by coming later."""
    shift = {"both": 0, "right": 1, "left": -1}[mitten] * spec.gusset.towards_palm
    hand = build.hand(spec, counts, shift)
    hand = yarns.colour_hand(spec, hand, counts.base.division)
    thumb = yarns.colour_thumb(spec, build.thumb(spec, counts), hand, counts.base.division)
    cuff = _cuff(spec, counts)
    rib = spec.cuff.gauge if spec.cuff.style == "ribbed" else None
    return StitchMap(
        pattern=spec.pattern,
        size=size.name,
        mitten=mitten,
        fabric=_fabric(spec.gauge),
        rib=_fabric(rib) if rib else None,
        yarns=tuple((y.letter, y.name, y.colour) for y in spec.yarns),
        above_crease=spec.cuff.above_crease,
        pieces=(cuff, hand, thumb) if cuff else (hand, thumb),
    )


def finished(stitches: StitchMap) -> dict[str, Fraction]:
    """The finished measures, mm, counted from the map's whole stitches."""
    fabric, rib = stitches.fabric, stitches.rib
    cuff, hand, thumb = (stitches.piece(name) for name in ("cuff", "hand", "thumb"))
    assert hand is not None
    assert thumb is not None
    rounds = len(hand.counted)
    division = next(r for r in hand.rounds if r.phase == "division")
    crook = [r for r in thumb.rounds if r.phase == "thumb crook"] or list(thumb.rounds[:1])
    found: dict[str, Fraction] = {}
    depth = Fraction(0)
    if cuff is not None:
        rows = len(cuff.counted)
        if rib is not None:
            around, depth = rows * rib.height, cuff.counted[0].count * rib.width
        else:
            around, depth = cuff.counted[0].count * fabric.width, rows * fabric.height
        found = {"cuff circumference": around, "cuff depth": depth}
    return found | {
        "hand circumference": division.count * fabric.width,
        "thumb circumference": crook[-1].count * fabric.width,
        "crook height": division.number * fabric.height + stitches.above_crease,
        "hand length": rounds * fabric.height + stitches.above_crease,
        "thumb length": len(thumb.counted) * fabric.height,
        "total length": depth + rounds * fabric.height,
    }


_RESTS_ON = {
    "cuff circumference": "wrist circumference",
    "cuff depth": "hand length",
    "thumb circumference": "thumb circumference",
    "crook height": "crook height",
    "hand length": "hand length",
    "thumb length": "thumb length",
    "total length": "hand length",
}


def _measures(spec: Spec, size: Size, stitches: StitchMap) -> tuple[Measure, ...]:
    want, own = wish(spec, size), body(size)
    wishes = want._asdict()
    total = want.hand_length - spec.cuff.above_crease
    wishes["total_length"] = total + (want.cuff_depth if spec.cuff.style != "none" else 0)
    derived = set(own.derived)
    measures = []
    for name, value in finished(stitches).items():
        rests = _RESTS_ON.get(name, "")
        given = name == "cuff depth" and spec.cuff.depth is not None
        measures.append(
            Measure(name, wishes[name.replace(" ", "_")], value, rests in derived and not given)
        )
    return tuple(measures)


def _warnings(spec: Spec, graded: tuple[GradedSize, ...]) -> tuple[Problem, ...]:
    found: list[Problem] = []
    for one in graded:
        length = body(one.size).hand_length
        crook = next(m.finished for m in one.measures if m.name == "crook height")
        if crook > CROOK_HEIGHT_P95 * length:
            found.append(
                Problem(
                    "high-crook",
                    f"size {one.size.name}: the thumb's crook lies {float(crook) / 10:.1f} cm above"
                    f" the wrist, higher than on 95 of 100 hands of that length"
                    f" ({float(CROOK_HEIGHT_P95 * length) / 10:.1f} cm; Snyder 1977)",
                    ("sizes", one.size.name),
                    "grow the gusset faster, or begin it earlier, unless the sample wears well",
                    "warning",
                )
            )
        if cautioned(one.size) and _floats(one.maps[0]):
            found.append(
                Problem(
                    "floats-for-small-children",
                    f"size {one.size.name}: colours are carried inside a mitten for a child under"
                    " three; a loose strand can catch a finger",
                    ("stripes", "plan"),
                    "cut and weave in every colour, or use one yarn for this size",
                    "warning",
                )
            )
    return tuple(found)


def _floats(stitches: StitchMap) -> bool:
    """Whether a colour comes back so soon that it would be carried up the inside."""
    hand = stitches.piece("hand")
    assert hand is not None
    last: dict[str, int] = {}
    for r in hand.counted:
        if 1 < r.number - last.get(r.yarn, r.number) <= FLOAT_ROUNDS:
            return True
        last[r.yarn] = r.number
    return False


def grade(spec: Spec) -> Grading:
    """Every size's stitch map, measured. Faults where the specification cannot be worked,
    LawBroken where our own map breaks a law."""
    graded: list[GradedSize] = []
    for size, counts in zip(spec.sizes, fit(spec), strict=True):
        mittens: tuple[Mitten, ...] = ("left", "right") if spec.gusset.towards_palm else ("both",)
        maps = tuple(_map(spec, size, counts, mitten) for mitten in mittens)
        graded.append(GradedSize(size, maps, _measures(spec, size, maps[0])))
    growth, palm = spec.gusset.growth, spec.gusset.towards_palm
    broken = [p for one in graded for m in one.maps for p in check_map(m, growth, palm)]
    broken += check_sizes([one.maps[0] for one in graded])
    if broken:
        raise LawBroken(tuple(broken))
    return Grading(tuple(graded), _warnings(spec, tuple(graded)))
