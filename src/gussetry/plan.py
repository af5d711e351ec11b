"""Which drawings a grading gets, what each must show, and what it has not and why."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from gussetry.fits.marks import origin_lines
from gussetry.grading import Grading
from gussetry.grading.cautions import CAUTIONS, cautioned
from gussetry.layout import HANDED, KINDS, Words, fit_one_sheet, kinds
from gussetry.layout.lefthand import other_mitten
from gussetry.layout.sharing import sharing
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
            self.kind, self.maps, self.terms, style.cm_step, style.inch_step, style.hand, limits,
            style.tick_boxes,
        )  # fmt: skip

    def cost(self) -> int:
        """How long it takes, roughly, as a number of stitches."""
        piece = {"gusset": "hand", "crown": "hand"}.get(self.kind, self.kind)
        return sum(
            len(r.work) for m in self.maps for p in m.pieces if p.piece == piece for r in p.rounds
        )


@dataclass(frozen=True, slots=True)
class Shared:
    """Sizes that share a chart of a kind, or one that shares it with none; `every`: all that have
    such a chart."""

    kind: str
    maps: tuple[StitchMap, ...]
    every: bool

    @property
    def serves(self) -> bool:
        """Whether it serves more sizes than one."""
        return len(self.maps) > 1

    def name(self, hand: Literal["right", "left"]) -> str:
        """`shared/gusset`, or `shared/gusset-S+M` where further sizes have another."""
        sizes = "" if self.every else "-" + "+".join(slug(m.size) for m in self.maps)
        mitten = (other_mitten(self.maps[0]) if hand == "left" else self.maps[0]).mitten
        side = "" if mitten == "both" else f"-{mitten}"
        return f"shared/{self.kind}{sizes}{side}{'-lefthand' if hand == 'left' else ''}"


@dataclass(frozen=True, slots=True)
class Plan:
    """The drawings to make, and what the folder has not and why."""

    jobs: tuple[Job, ...]
    absent: tuple[Absent, ...]


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


def wished(spec: Spec, style: Style) -> Style:
    """The style with what the specification says itself of its charts."""
    charts = spec.charts
    return replace(style, sizes=charts.sizes or style.sizes, hand=charts.hand or style.hand)


def plan(spec: Spec, grading: Grading, style: Style) -> Plan:
    """Every drawing of the pattern: size by size, then those that serve several sizes."""
    shared = tuple(_shared(spec, grading, style)) if style.sizes != "apart" else ()
    return Plan(tuple(_jobs(spec, grading, style, shared)), absent(grading, style, shared))


def _captioned(spec: Spec, kind: str) -> tuple[str, ...]:
    """The designer's lines under a stitch chart."""
    caption = (spec.caption,) if spec.caption and kind in CAPTIONED else ()
    return (*caption, *spec.lines)


def _shared(spec: Spec, grading: Grading, style: Style) -> Iterator[Shared]:
    """The sizes of every kind of chart as they share it, each mitten's by themselves."""
    look = replace(style, hand="right")
    for mitten in dict.fromkeys(stitches.mitten for stitches in grading.maps):
        for kind in HANDED:
            maps = [m for m in grading.maps if m.mitten == mitten and kind in kinds(m)]
            words = Words(_captioned(spec, kind))

            def fits(part: Sequence[StitchMap], kind: str = kind, words: Words = words) -> bool:
                return fit_one_sheet(kind, part, look, spec.terms, words)

            groups = sharing(kind, maps, fits)
            for group in groups:
                yield Shared(kind, tuple(group), len(group) == len(maps))


def _jobs(spec: Spec, grading: Grading, style: Style, shared: Sequence[Shared]) -> Iterator[Job]:
    apart = {(one.kind, m.size, m.mitten) for one in shared if one.serves for m in one.maps}
    for size in grading.sizes:
        own = (*origin_lines((size,)), *_cautions([size.size]))
        for stitches in size.maps:
            for kind in kinds(stitches):
                if style.sizes == "together" and (kind, stitches.size, stitches.mitten) in apart:
                    continue
                words = Words(_captioned(spec, kind), own)
                for hand in _hands(kind, style):
                    name = (_lefthand_name if hand == "left" else file_name)(stitches, kind)
                    look = replace(style, hand=hand)
                    yield Job(name, kind, (stitches,), look, spec.terms, words)
    for one in shared:
        for hand in _hands(one.kind, style) if one.serves else ():
            look, words = replace(style, hand=hand), Words(_captioned(spec, one.kind))
            yield Job(one.name(hand), one.kind, one.maps, look, spec.terms, words)
    credit = spec.lines
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


def absent(grading: Grading, style: Style, shared: Sequence[Shared] = ()) -> tuple[Absent, ...]:
    """What the output folder could hold, and does not."""
    handed = [
        Absent(f"{file_name(stitches, kind)}.svg", "stitch charts are for left-handed makers alone")
        for stitches in grading.maps
        for kind in kinds(stitches)
        if "right" not in _hands(kind, style)
    ]
    return (
        *_not_shared(style, shared),
        *(
            Absent(f"{file_name(stitches, kind)}.svg", why)
            for stitches in grading.maps
            for kind, why in _missing(stitches)
        ),
        *handed,
    )


def _not_shared(style: Style, shared: Sequence[Shared]) -> Iterator[Absent]:
    """The charts of several sizes that are not drawn, and those of a size that several share."""
    lone: dict[str, list[str]] = {}
    for one in shared:
        if one.serves and style.sizes == "together":
            for stitches in one.maps:
                yield Absent(
                    f"{file_name(stitches, one.kind)}.svg", f"{one.name('right')}.svg serves it"
                )
        elif not one.serves:
            lone.setdefault(one.kind, []).extend(m.size for m in one.maps)
    for kind, sizes in lone.items():
        names = ", ".join(dict.fromkeys(sizes))
        yield Absent(f"shared/{kind}.svg", f"not for {names}: {_UNSHARED[kind]}")


_UNSHARED = {
    "cuff": "sizes share a cuff chart where their rows are drawn alike and one sheet holds it",
    "hand": "sizes share a hand chart where their rounds are drawn alike and one sheet holds it",
    "gusset": "sizes share a gusset chart where their wedges are alike and one sheet holds it",
    "crown": "a crown chart is drawn whole, for one size",
    "thumb": "sizes share a thumb chart where their rounds are drawn alike and one sheet holds it",
}


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
