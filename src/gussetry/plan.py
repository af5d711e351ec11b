"""Which drawings a grading gets, what each must show, and what it has not and why."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from gussetry.fits.marks import origin_lines
from gussetry.grading import Grading
from gussetry.grading.cautions import CAUTIONS, cautioned
from gussetry.layout import HANDED, KINDS, Words, kinds
from gussetry.layout.lefthand import other_mitten
from gussetry.manifest import Absent
from gussetry.naming import slug
from gussetry.spec import Size, Spec
from gussetry.stitchmap import StitchMap
from gussetry.style import Style

if TYPE_CHECKING:
    from gussetry.verify import Asked


CAPTIONED = ("hand", "gusset", "crown", "thumb")
"""Drawings that a pattern's caption, on how it is worked, speaks of."""


@dataclass(frozen=True, slots=True)
class Job:
    """A drawing to make: `name` without suffix, as `M/gusset`, that of its first sheet; the maps it
    serves, smallest first; the designer's `words`."""

    name: str
    kind: str
    maps: tuple[StitchMap, ...]
    style: Style
    terms: Literal["US", "UK"]
    words: Words

    def asked(self) -> Asked:
        """What the recount must find."""
        from gussetry.verify import Asked, Limits

        style = self.style
        limits = Limits(style.least_text, style.least_stitch)
        return Asked(
            self.kind, self.maps, self.terms, style.cm_step, style.inch_step, style.hand, limits
        )

    def cost(self) -> int:
        """How long it takes, roughly, as a number of stitches."""
        piece = {"gusset": "hand", "crown": "hand"}.get(self.kind, self.kind)
        return sum(
            len(r.work) for m in self.maps for p in m.pieces if p.piece == piece for r in p.rounds
        )


def file_name(stitches: StitchMap, kind: str) -> str:
    """`M/gusset`, or `M/gusset-left` where left and right differ."""
    side = "" if stitches.mitten == "both" else f"-{stitches.mitten}"
    return f"{slug(stitches.size)}/{kind}{side}"


def _lefthand_name(stitches: StitchMap, kind: str) -> str:
    """`M/gusset-lefthand`, or `M/gusset-right-lefthand` where the map is a left mitten's, of which
    she makes a right one."""
    return f"{file_name(other_mitten(stitches), kind)}-lefthand"


def _hands(kind: str, style: Style) -> tuple[Literal["right", "left"], ...]:
    """Whose versions of a drawing the style wants."""
    if kind not in HANDED or style.hand == "right":
        return ("right",)
    return ("right", "left") if style.hand == "both" else ("left",)


def plan(spec: Spec, grading: Grading, style: Style) -> tuple[Job, ...]:
    """Every drawing of the pattern: size by size, then those that serve all sizes."""
    return tuple(_jobs(spec, grading, style))


def _jobs(spec: Spec, grading: Grading, style: Style) -> Iterator[Job]:
    credit = tuple(line for line in (spec.credit, spec.copyright) if line)
    captioned = (spec.caption, *credit) if spec.caption else credit
    for size in grading.sizes:
        own = (*origin_lines((size,)), *_cautions([size.size]))
        for stitches in size.maps:
            for kind in kinds(stitches):
                lines = captioned if kind in CAPTIONED else credit
                for hand in _hands(kind, style):
                    name = (_lefthand_name if hand == "left" else file_name)(stitches, kind)
                    look = replace(style, hand=hand)
                    yield Job(name, kind, (stitches,), look, spec.terms, Words(lines, own))
    # A left and a right have the same measures: one of the two stands for both.
    firsts = tuple(size.maps[0] for size in grading.sizes)
    every = (*origin_lines(grading.sizes), *_cautions(spec.sizes))
    look = replace(style, hand="right")
    yield Job("schematic", "schematic", firsts, look, spec.terms, Words(credit, every))
    yield Job("key", "key", grading.maps, look, spec.terms, Words(credit))


def _cautions(sizes: Sequence[Size]) -> tuple[str, ...]:
    """The cautions under a line that says for whom they are: which sizes, where not for all."""
    young = [size.name for size in sizes if cautioned(size)]
    if not young:
        return ()
    which = f" ({'size' if len(young) == 1 else 'sizes'} {', '.join(young)})"
    return (
        f"For children under three{which if len(young) < len(sizes) else ''}:",
        *(f"– {caution}" for caution in CAUTIONS),
    )


def absent(grading: Grading, style: Style) -> tuple[Absent, ...]:
    """What the output folder could hold, and does not."""
    handed = [
        Absent(f"{file_name(stitches, kind)}.svg", "the style draws for left-handed makers alone")
        for stitches in grading.maps
        for kind in kinds(stitches)
        if "right" not in _hands(kind, style)
    ]
    return (
        *(
            Absent(f"{file_name(stitches, kind)}.svg", why)
            for stitches in grading.maps
            for kind, why in _missing(stitches)
        ),
        *handed,
    )


def _missing(stitches: StitchMap) -> Iterator[tuple[str, str]]:
    """The usual drawings that a mitten has not, and why."""
    why = {
        "cuff": "the pattern has no cuff",
        "gusset": "the pattern has no thumb: the hand chart stands in its place",
        "crown": "the hand is open: the gusset chart goes on to its edging",
        "thumb": "the pattern has no thumb",
    }
    for kind in KINDS:
        if kind not in kinds(stitches):
            yield kind, why[kind]
