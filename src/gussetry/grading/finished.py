"""What the whole stitches measure, and how near that is to the wishes."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from gussetry.grading.measures import Body, Measure, Origin, body, ratio_origin, weaker, wish
from gussetry.spec import Size, Spec
from gussetry.stitchmap import Piece, Round, StitchMap


@dataclass(frozen=True, slots=True)
class GradedSize:
    """A size with its map, or with a left and a right one, and its measures."""

    size: Size
    maps: tuple[StitchMap, ...]
    measures: tuple[Measure, ...]

    def finished(self, name: str) -> Fraction | None:
        """The finished measure of that name, mm; None where the mitten has no such."""
        return next((m.finished for m in self.measures if m.name == name), None)

    @property
    def edge(self) -> Fraction:
        """Round the relaxed cuff, or without one round the hand's first round, mm: what must let
        the hand pass."""
        cuff, hand = self.finished("cuff circumference"), self.maps[0].piece("hand")
        assert hand is not None
        return hand.counted[0].count * self.maps[0].fabric.width if cuff is None else cuff


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


_OF_BODY = {
    "cuff circumference": "wrist circumference",
    "hand circumference": "hand circumference",
    "thumb circumference": "thumb circumference",
    "crook height": "crook height",
    "hand length": "hand length",
    "thumb length": "thumb length",
}
"""The body's measure that a finished one stands over. An open end stops short of its own."""


def measures(spec: Spec, size: Size, stitches: StitchMap) -> tuple[Measure, ...]:
    """Every measure of a finished mitten of that size, beside its wish."""
    want, own = wish(spec, size), body(size)
    wishes = want._asdict()
    total = want.hand_length - spec.cuff.above_crease
    wishes["total_length"] = total + (want.cuff_depth if spec.cuff.style != "none" else 0)
    origins = _origins(spec, size, own)
    found = []
    for name, value in finished(stitches).items():
        of = _OF_BODY.get(name)
        beside, beside_origin = (own.measure(of), own.origin(of)) if of else (None, None)
        wished = wishes[name.replace(" ", "_")]
        found.append(Measure(name, beside, beside_origin, wished, origins[name], value))
    return tuple(found)


def _origins(spec: Spec, size: Size, own: Body) -> dict[str, Origin]:
    """What each wish rests on: its body's measure, and the ratios that come in between."""
    origins = {name: own.origin(of) for name, of in _OF_BODY.items()}
    # A share of the hand's length, where the cuff's depth is not asked for.
    origins["cuff depth"] = "weak" if spec.cuff.depth is None else "given"
    if spec.crown.style == "open" and spec.crown.reach is None:
        origins["hand length"] = weaker(ratio_origin(size), origins["hand length"])
    cuff = origins["cuff depth"] if spec.cuff.style != "none" else "given"
    origins["total length"] = weaker(origins["hand length"], cuff)
    return origins
