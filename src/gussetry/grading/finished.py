"""What the whole stitches measure, and how near that is to the wishes."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from gussetry.grading.measures import Measure, body, wish
from gussetry.spec import Size, Spec
from gussetry.stitchmap import StitchMap


@dataclass(frozen=True, slots=True)
class GradedSize:
    """A size with its map, or with a left and a right one, and its measures."""

    size: Size
    maps: tuple[StitchMap, ...]
    measures: tuple[Measure, ...]


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


def measures(spec: Spec, size: Size, stitches: StitchMap) -> tuple[Measure, ...]:
    """Every measure of a finished mitten of that size, beside its wish."""
    want, own = wish(spec, size), body(size)
    wishes = want._asdict()
    total = want.hand_length - spec.cuff.above_crease
    wishes["total_length"] = total + (want.cuff_depth if spec.cuff.style != "none" else 0)
    derived = set(own.derived)
    found = []
    for name, value in finished(stitches).items():
        rests = _RESTS_ON.get(name, "")
        given = name == "cuff depth" and spec.cuff.depth is not None
        found.append(
            Measure(name, wishes[name.replace(" ", "_")], value, rests in derived and not given)
        )
    return tuple(found)
