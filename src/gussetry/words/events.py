"""What a maker is told between the rounds: where to join and cut, to try on, to add length.

Common practice, no source; the figures come from the stitch maps.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from gussetry.grading import finished
from gussetry.stitchmap import Piece, StitchMap
from gussetry.telling.lists import counted, enumerated, listed
from gussetry.telling.names import Terms, named
from gussetry.telling.rounds import capital
from gussetry.units import centimetres_text, inches_text
from gussetry.words.lines import Line

HEADS = {
    "pick-up": "Lower hand", "gusset": "Thumb gusset", "division": "Division", "hand": "Upper hand",
    "crown sides": "Crown", "crown even": "Crown", "close": "Crown", "edging": "Edging",
}  # fmt: skip
"""Headings of the hand's parts, by the phase that begins each."""
_FROM_BELOW = (
    "Worked in the round from the lower edge up, RS facing. Join the chain into a ring untwisted."
)
TAIL = "20 cm (8 in)"
"""A tail long enough to close a gap with: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Scene:
    """What the events of a text depend on: the maps that it serves, one a size and mitten, its
    terms, and the rounding of lengths (`cm_step` in mm, `inch_step` in inches)."""

    maps: tuple[StitchMap, ...]
    terms: Terms
    cm_step: Fraction
    inch_step: Fraction

    @property
    def firsts(self) -> tuple[StitchMap, ...]:
        """One map a size: a left and a right have the same rounds."""
        return tuple(m for m in self.maps if m.mitten != "right")

    @property
    def joined(self) -> bool:
        """Whether each round is joined, not worked in a spiral."""
        hand = self.maps[0].piece("hand")
        assert hand is not None
        return any(op.do == "slst" for op in hand.rounds[0].work)

    def length(self, values: Sequence[Fraction]) -> str:
        """A length in each size, centimetres and inches."""
        cm = listed([centimetres_text(value, self.cm_step) for value in values])
        inch = listed([inches_text(value, self.inch_step) for value in values])
        return f"{cm} cm, {inch} in"


def _pieces(scene: Scene, name: str) -> list[Piece]:
    return [piece for m in scene.firsts for piece in m.pieces if piece.piece == name]


def opening(scene: Scene, name: str) -> Iterator[str]:
    """What stands above the first line of a piece."""
    pieces = _pieces(scene, name)
    if name == "cuff" and pieces[0].worked == "rows":
        lift = sum(not op.counts for op in pieces[0].rounds[1].work)
        yield (
            "Worked sideways in turned rows; the rows stand upright round the wrist. The"
            f" ch {lift} that begins a row is no st."
        )
    elif name == "cuff":
        yield _FROM_BELOW
        yield from _spiral(scene)
    elif name == "hand":
        yield from _picking_up(scene, pieces)
    else:
        yield from _rejoining(scene, pieces)


def _picking_up(scene: Scene, hands: Sequence[Piece]) -> Iterator[str]:
    cuffs = _pieces(scene, "cuff")
    if not cuffs:
        yield _FROM_BELOW
    elif cuffs[0].worked == "rows":
        yield (
            "Turn the cuff so that its RS is outside. The seam is the outer edge of the hand, where"
            " every rnd begins: start right after it and work along one edge, RS facing."
        )
    if cuffs:
        yield from _going_on(
            scene,
            [(a.rounds[-1].yarn, b.rounds[0].yarn) for a, b in zip(cuffs, hands, strict=True)],
        )
    if not cuffs or cuffs[0].worked == "rows":
        yield from _spiral(scene)


def _spiral(scene: Scene) -> Iterator[str]:
    if not scene.joined:
        yield (
            "Work in a spiral: do not join the rnds. Mark the first st of each rnd, and move that"
            " marker up every time you come to it."
        )


def _going_on(scene: Scene, yarns: Sequence[tuple[str, str]]) -> Iterator[str]:
    """How each size goes on from its cuff's last yarn to its hand's first."""
    groups: dict[str, list[str]] = {}
    for stitches, (old, new) in zip(scene.firsts, yarns, strict=True):
        words = f"go on with {new}, uncut" if old == new else f"cut {old} and join {new}"
        groups.setdefault(words, []).append(stitches.size)
    for words, sizes in groups.items():
        if len(groups) == 1:
            yield capital(f"{words}.")
        else:
            yield f"Size{'s' if len(sizes) > 1 else ''} {enumerated(sizes)}: {words}."


def _rejoining(scene: Scene, thumbs: Sequence[Piece]) -> Iterator[str]:
    held = [
        sum(isinstance(p, tuple) and p[0] == "held" for op in one.rounds[0].work for p in op.into)
        for one in thumbs
    ]
    crook = any(
        isinstance(p, tuple) and p[0] == "crook"
        for one in thumbs
        for op in one.rounds[0].work
        for p in op.into
    )
    where = "the first crook st" if crook else "the first held st"
    yarns = listed([one.rounds[0].yarn for one in thumbs])
    yield (
        f"Take the {counted(held, 'held st')} off the waste yarn. RS facing, join {yarns} at"
        f" {where}, leaving a tail of {TAIL}."
    )
    if not scene.joined:
        yield "Work in a spiral, as the hand, and mark the first st of each rnd."


def before(scene: Scene, name: str, phase: str, former: str) -> Iterator[str]:
    """What stands above the first line of a phase, which comes after `former`."""
    if phase == "seam":
        yield "Fold the cuff so that the last row lies along the foundation ch."
    elif name == "hand" and phase == "gusset":
        yield (
            "Use two markers that you can tell from the one at the start of the rnd. In the counts"
            " m is a marked st."
        )
    elif phase == "division":
        crook = [finished(m)["crook height"] for m in scene.firsts]
        yield (
            "Try on: with the next rnd the work should reach the crook of the thumb, here"
            f" {scene.length(crook)} above the wrist. Add or leave out plain rnds before it, as"
            " many in both mittens."
        )
        if not _bridged(scene):
            yield (
                "In the next rnd set the sts of the thumb aside and go straight on into the next st"
                " after them; nothing bridges the gap."
            )
    elif name == "hand" and phase in _CROWN and former not in _CROWN:
        yield (
            "Try on: the work should reach the tip of the little finger,"
            f" here {scene.length(_heights(scene))} above the wrist. Add or leave out plain rnds"
            " before it, as many in both mittens."
        )
    elif name == "hand" and phase == "edging":
        yield (
            f"Try on: the edging begins {scene.length(_heights(scene))} above the wrist. Add or"
            " leave out plain rnds before it, as many in both mittens."
        )
    elif name == "thumb" and phase in ("close", "edging") and former != phase:
        reach = "the work should reach nearly to the tip of the thumb"
        if phase == "edging":
            reach = "with the edging, which comes next, the thumb should be as long as you want it"
        yield f"Try on: {reach}. Add or leave out plain rnds before it, as many in both mittens."


def _bridged(scene: Scene) -> bool:
    """Whether pairs are joined or chains made over the gap."""
    division = [r for p in _pieces(scene, "hand") for r in p.rounds if r.phase == "division"]
    return any(op.do in ("join", "ch") and op.counts for r in division for op in r.work)


_CROWN = ("crown sides", "crown even", "close")
_LATE = ("crown sides", "crown even", "close", "draw shut", "edging")
"""Phases that end a hand."""


def _heights(scene: Scene) -> list[Fraction]:
    """Millimetres from the wrist to the lower edge of the first round of the hand's end."""
    found = []
    for stitches in scene.firsts:
        hand = stitches.piece("hand")
        assert hand is not None
        first = next(r.number for r in hand.rounds if r.phase in _LATE)
        found.append((first - 1) * stitches.fabric.height + stitches.above_crease)
    return found


def after(scene: Scene, name: str, line: Line, last: bool) -> Iterator[str]:
    """What stands below a line; `last`: it is the last one of its phase."""
    if name == "thumb" and any(run[0].round.number == 1 for run in line.runs.values()):
        yield "With the tail, close any hole at the crook with a stitch or two on the inside."
    if not last:
        return
    if line.phase == "division":
        yield _recounted(scene)
    elif line.phase == "draw shut":
        yield "Fasten off; weave the end in three directions on the inside, and trim it."
    elif line.phase == "edging":
        yield _levelled(scene, name)


def _recounted(scene: Scene) -> str:
    """What to do where the count after the division is off by one to three."""
    name = named(scene.maps[0].fabric.stitch, scene.terms)
    return (
        "Count now. One to three sts too many or too few are put right over the next rnds, one a"
        f" rnd, at the thumb-side marker: {name}2tog there for each st too many, 2 {name} in one st"
        " for each too few. Then go on as written."
    )


def _levelled(scene: Scene, name: str) -> str:
    """How an edging ends: the spiral's step levelled, the yarn fastened off, markers taken out."""
    marked = any(piece.rounds[-1].markers for piece in _pieces(scene, name))
    if scene.joined:
        return "Fasten off. Remove the marker." if marked else "Fasten off."
    slip = capital(named("slst", scene.terms))
    markers = "markers" if marked else "marker"
    return (
        f"{slip} in the next st to level the end of the spiral, fasten off, and remove the"
        f" {markers}."
    )
