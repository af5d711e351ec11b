"""Noun 2: the stitch map, every stitch of every round, and its file `stitches.json`.

Two numberings. *Made*: every stitch that a round makes, in working order, from 0. *Left*: those
that remain after what is held or used up, renumbered from 0. `Op.into` uses *left* of the round
before, `Op.onto` uses *made* of its own round, markers use *left* after the round.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal

Place = int | tuple[str, int]
"""A stitch of the round before (its *left* number), or a named place.

Named places: `("chain", i)` the foundation's chains; `("underside", i)` their free loops;
`("row end", i)` the edge of cuff row i + 1; `("seam", 0)`; `("cuff", i)` the top of a cuff worked
round; `("held", i)` in the order set aside; `("crook", i)`.
"""

PieceName = Literal["cuff", "hand", "thumb"]
Mitten = Literal["both", "left", "right"]

MAKES = {
    "ch": 1, "slst": 1, "sc": 1, "hdc": 1, "dc": 1, "inc": 2,
    "sc2tog": 1, "hdc2tog": 1, "dc2tog": 1,
    "fphdc": 1, "bphdc": 1, "fpdc": 1, "bpdc": 1,
    "join": 0, "hold": 0, "skip": 0, "turn": 0, "seam": 0, "close": 0,
}  # fmt: skip
"""Stitches that each kind of operation makes.

`fphdc`, `bphdc`, `fpdc`, `bpdc`: hdc and dc round the post of the stitch that `into` names, the
hook passed behind it from the front, or before it from the back; its top is left alone.
"""

POSTS = {"fphdc": "hdc", "bphdc": "hdc", "fpdc": "dc", "bpdc": "dc"}
"""The stitch of each kind that is worked round a post."""


@dataclass(frozen=True, slots=True)
class Op:
    """One operation of the maker's hook.

    `into`: what it is worked into. `onto`: stitches of its own round, used up unless `uses` is
    False (a joining slip stitch). `held`: worked in this round and set aside. `loop`: `both`,
    `back` or `front`. `of`: the stitch of an increase. `counts`: False for a turning or joining
    chain or slip stitch. `finish`: the yarn with which it is completed, if another.
    """

    do: str
    into: tuple[Place, ...] = ()
    onto: tuple[int, ...] = ()
    uses: bool = True
    held: bool = False
    loop: Literal["both", "back", "front"] = "both"
    of: str | None = None
    counts: bool = True
    finish: str | None = None

    @property
    def makes(self) -> int:
        """How many stitches of the round it makes."""
        return MAKES[self.do] if self.counts else 0


@dataclass(frozen=True, slots=True)
class Round:
    """One round or row. `number` counts from 1 in its piece (0: a foundation), `count` is what the
    next round finds, `markers` are (name, *left* number after the round), `phase` and `step` say
    which part of the making it is, alike in every size."""

    number: int
    yarn: str
    phase: str
    step: int
    work: tuple[Op, ...]
    count: int
    markers: tuple[tuple[str, int], ...] = ()

    @property
    def made(self) -> int:
        """Stitches made, before any is held or used up."""
        return sum(op.makes for op in self.work)

    def marker(self, name: str) -> int | None:
        """The *left* number of the marked stitch, None where there is no such marker."""
        return dict(self.markers).get(name)


@dataclass(frozen=True, slots=True)
class Piece:
    """A cuff, a hand or a thumb."""

    piece: PieceName
    worked: Literal["rows", "rounds"]
    rounds: tuple[Round, ...]

    @property
    def counted(self) -> tuple[Round, ...]:
        """The rounds that a maker counts: no foundation, no seam, no drawing shut."""
        return tuple(r for r in self.rounds if r.number > 0 and r.count > 0)


@dataclass(frozen=True, slots=True)
class Fabric:
    """The size of one stitch of a piece, millimetres."""

    stitch: str
    width: Fraction
    height: Fraction


@dataclass(frozen=True, slots=True)
class StitchMap:
    """One size (and one mitten of it, where left and right differ), stitch by stitch.

    `fabric` is the hand's and the thumb's, `rib` that of a cuff ribbed sideways or round. `yarns`
    are (letter, name, colour). `above_crease`: the pick-up round's height above the wrist crease,
    mm.
    """

    pattern: str
    size: str
    mitten: Mitten
    fabric: Fabric
    rib: Fabric | None
    yarns: tuple[tuple[str, str, str], ...]
    above_crease: Fraction
    pieces: tuple[Piece, ...]

    def piece(self, name: PieceName) -> Piece | None:
        """The piece of that name, None where the mitten has none."""
        return next((p for p in self.pieces if p.piece == name), None)

    def colour(self, letter: str) -> str:
        """The colour `#rrggbb` of a yarn letter."""
        return next(colour for known, _, colour in self.yarns if known == letter)


def left_of_made(round_: Round) -> tuple[int | None, ...]:
    """For each stitch made its *left* number, None for one that is held or used up."""
    used = {i for op in round_.work if op.uses for i in op.onto}
    numbers: list[int | None] = []
    made = left = 0
    for op in round_.work:
        for _ in range(op.makes):
            if op.held or made in used:
                numbers.append(None)
            else:
                numbers.append(left)
                left += 1
            made += 1
    return tuple(numbers)


def sections(round_: Round) -> tuple[int, int, int] | None:
    """Stitches before, between and after the two gusset markers, the marked ones in none of them;
    None where the round has no two markers."""
    first, second = round_.marker("first marker"), round_.marker("second marker")
    if first is None or second is None:
        return None
    return first, second - first - 1, round_.count - second - 1


def bridged(round_: Round) -> tuple[int, str, int, int] | None:
    """What a round over a gap leaves before it, what bridges the gap, `join` or `ch`, how many of
    these, and what is left after it; None for a round that bridges none."""
    aside = [i for i, op in enumerate(round_.work) if op.held or op.do == "hold"]
    beyond = round_.work[aside[-1] + 1 :] if aside else ()
    bridge = [op for op in beyond if op.do == "join" or (op.do == "ch" and op.counts)]
    if not bridge:
        return None
    after = sum(op.makes for op in beyond if op not in bridge)
    chains = sum(op.makes for op in bridge)
    return round_.count - chains - after, bridge[0].do, len(bridge), after


# --- the file -------------------------------------------------------------------------------


def _op_json(op: Op) -> dict[str, Any]:
    entry: dict[str, Any] = {"do": op.do}
    if op.into:
        entry["into"] = [list(p) if isinstance(p, tuple) else p for p in op.into]
    if op.onto:
        entry["onto"] = list(op.onto)
        if not op.uses:
            entry["uses"] = False
    if op.held:
        entry["held"] = True
    if op.loop != "both":
        entry["loop"] = op.loop
    if op.of:
        entry["of"] = op.of
    if not op.counts:
        entry["counts"] = False
    if op.finish:
        entry["finish"] = op.finish
    return entry


def _fabric_json(fabric: Fabric | None) -> dict[str, Any] | None:
    if fabric is None:
        return None
    return {
        "stitch": fabric.stitch,
        "width mm": str(fabric.width),
        "height mm": str(fabric.height),
    }


def to_json(stitches: StitchMap) -> str:
    """The text of `stitches.json`: one line a round, lengths as exact fractions of a millimetre."""
    head = {
        "format": "gussetry-stitches",
        "version": 1,
        "pattern": stitches.pattern,
        "size": stitches.size,
        "mitten": stitches.mitten,
        "fabric": _fabric_json(stitches.fabric),
        "rib": _fabric_json(stitches.rib),
        "yarns": [{"yarn": a, "name": b, "colour": c} for a, b, c in stitches.yarns],
        "above crease mm": str(stitches.above_crease),
    }

    def pieces() -> Iterator[str]:
        for piece in stitches.pieces:
            rounds = ",\n    ".join(
                json.dumps(
                    {
                        "round": r.number,
                        "yarn": r.yarn,
                        "phase": r.phase,
                        "step": r.step,
                        "count": r.count,
                        "markers": dict(r.markers),
                        "work": [_op_json(op) for op in r.work],
                    },
                    ensure_ascii=False,
                )
                for r in piece.rounds
            )
            yield (
                f'  {{"piece": "{piece.piece}", "worked": "{piece.worked}", "rounds": [\n'
                f"    {rounds}]}}"
            )

    body = ",\n".join(pieces())
    opening = json.dumps(head, ensure_ascii=False, indent=1)
    return f'{opening[:-2]},\n "pieces": [\n{body}]}}\n'


def _op(entry: dict[str, Any]) -> Op:
    return Op(
        do=entry["do"],
        into=tuple((p[0], p[1]) if isinstance(p, list) else p for p in entry.get("into", ())),
        onto=tuple(entry.get("onto", ())),
        uses=entry.get("uses", True),
        held=entry.get("held", False),
        loop=entry.get("loop", "both"),
        of=entry.get("of"),
        counts=entry.get("counts", True),
        finish=entry.get("finish"),
    )


def _fabric(entry: dict[str, Any]) -> Fabric:
    return Fabric(entry["stitch"], Fraction(entry["width mm"]), Fraction(entry["height mm"]))


def from_json(text: str) -> StitchMap:
    """The stitch map that `to_json` wrote. ValueError, KeyError or TypeError if it is not one."""
    data = json.loads(text)
    if data["format"] != "gussetry-stitches" or data["version"] != 1:
        raise ValueError("not a gussetry stitch map of version 1")
    return StitchMap(
        pattern=data["pattern"],
        size=data["size"],
        mitten=data["mitten"],
        fabric=_fabric(data["fabric"]),
        rib=_fabric(data["rib"]) if data["rib"] else None,
        yarns=tuple((y["yarn"], y["name"], y["colour"]) for y in data["yarns"]),
        above_crease=Fraction(data["above crease mm"]),
        pieces=tuple(
            Piece(
                p["piece"],
                p["worked"],
                tuple(
                    Round(
                        number=r["round"],
                        yarn=r["yarn"],
                        phase=r["phase"],
                        step=r["step"],
                        work=tuple(_op(entry) for entry in r["work"]),
                        count=r["count"],
                        markers=tuple(r["markers"].items()),
                    )
                    for r in p["rounds"]
                ),
            )
            for p in data["pieces"]
        ),
    )
