"""What the whole stitches measure, and how near that is to the wishes."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from gussetry.grading.measures import Measure, body, wish
from gussetry.spec import Size, Spec
from gussetry.stitchmap import Piece, Round, StitchMap


@dataclass(frozen=True, slots=True)
class GradedSize:
    """A size with its map, or with a left and a right one, and its measures."""

    size: Size
    maps: tuple[StitchMap, ...]
    measures: tuple[Measure, ...]


def finished(stitches: StitchMap) -> dict[str, Fraction]:
    """The finished measures, mm, counted from the map's whole stitches; without a thumb, none of
    it and no crook."""
    fabric = stitches.fabric
    hand, thumb = stitches.piece("hand"), stitches.piece("thumb")
    assert hand is not None
    rounds = len(hand.counted)
    cuff = _cuff(stitches)
    found = cuff | {"hand circumference": _even_hand(hand).count * fabric.width}
    if thumb is not None:
        division = next(r for r in hand.rounds if r.phase == "division")
        crook = [r for r in thumb.rounds if r.phase == "thumb crook"] or list(thumb.rounds[:1])
        found |= {
            "thumb circumference": crook[-1].count * fabric.width,
            "crook height": division.number * fabric.height + stitches.above_crease,
        }
    found["hand length"] = rounds * fabric.height + stitches.above_crease
    if thumb is not None:
        found["thumb length"] = len(thumb.counted) * fabric.height
    depth = cuff.get("cuff depth", Fraction(0))
    return found | {"total length": depth + rounds * fabric.height}


def _cuff(stitches: StitchMap) -> dict[str, Fraction]:
    """The cuff's measures: rows lie sideways, rounds of a rib have the rib's own gauge."""
    cuff = stitches.piece("cuff")
    if cuff is None:
        return {}
    fabric = stitches.rib or stitches.fabric
    long, many = cuff.counted[0].count * fabric.width, len(cuff.counted) * fabric.height
    around, depth = (many, long) if cuff.worked == "rows" else (long, many)
    return {"cuff circumference": around, "cuff depth": depth}


_BEFORE_THE_END = ("pick-up", "outer edge", "lower hand", "hand")


def _even_hand(hand: Piece) -> Round:
    """The round in which the hand has its width: the division, or without one the last before the
    crown or the edging."""
    for one in hand.counted:
        if one.phase == "division":
            return one
    return next(r for r in reversed(hand.counted) if r.phase in _BEFORE_THE_END)


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
