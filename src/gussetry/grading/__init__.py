"""From `Spec` to stitch maps: every size fitted, built, coloured, and held to the laws."""

from __future__ import annotations

from dataclasses import dataclass

from gussetry.diagnostics import Problem
from gussetry.grading import build, yarns
from gussetry.grading.concerns import concerns
from gussetry.grading.counts import Counts
from gussetry.grading.cuffs import post_cuff, ribbed_cuff, round_cuff
from gussetry.grading.finished import GradedSize, finished, measures
from gussetry.grading.fit import fit
from gussetry.grading.laws import check_map, check_sizes
from gussetry.grading.measures import Measure
from gussetry.spec import Gauge, Size, Spec
from gussetry.stitchmap import Fabric, Mitten, Piece, StitchMap

__all__ = ["GradedSize", "Grading", "LawBroken", "Measure", "finished", "grade", "graded_sizes"]


class LawBroken(Exception):
    """Our own map breaks a counting law: a fault of ours, never of the specification."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        self.problems = problems
        super().__init__("; ".join(p.message for p in problems))


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


def _cuff(spec: Spec, size: Size, counts: Counts) -> Piece | None:
    if spec.cuff.style == "none":
        return None
    base, joined = counts.base, spec.lower_hand.joined
    rib = (spec.cuff.gauge or spec.gauge).stitch
    if spec.cuff.style == "ribbed":
        piece = ribbed_cuff(base.cuff_rows, counts.cuff_across, rib)
    elif spec.cuff.style == "post":
        piece = post_cuff(base.pick_up, counts.cuff_across, rib, joined)
    else:
        piece = round_cuff(base.pick_up, counts.cuff_across, spec.gauge.stitch, joined)
    return yarns.colour_cuff(spec, size, piece)


def _map(spec: Spec, size: Size, counts: Counts, mitten: Mitten) -> StitchMap:
    """One mitten. Worked right to left from the outer edge, the right mitten's first half is its
    back, so its thumb moves to the palm by coming later."""
    shift = {"both": 0, "right": 1, "left": -1}[mitten] * spec.gusset.towards_palm
    hand = yarns.colour_hand(spec, size, build.hand(spec, counts, shift))
    thumb = build.thumb(spec, counts)
    if thumb:
        thumb = yarns.colour_thumb(spec, thumb, hand)
    pieces = tuple(piece for piece in (_cuff(spec, size, counts), hand, thumb) if piece)
    rib = spec.cuff.gauge if spec.cuff.style in ("ribbed", "post") else None
    return StitchMap(
        pattern=spec.pattern,
        size=size.name,
        mitten=mitten,
        fabric=_fabric(spec.gauge),
        rib=_fabric(rib) if rib else None,
        yarns=yarns.worked_in(spec, pieces),
        above_crease=spec.cuff.above_crease,
        pieces=pieces,
    )


def _sizes(spec: Spec) -> tuple[GradedSize, ...]:
    mittens: tuple[Mitten, ...] = ("left", "right") if spec.gusset.towards_palm else ("both",)
    graded = []
    for size, counts in zip(spec.sizes, fit(spec), strict=True):
        maps = tuple(_map(spec, size, counts, mitten) for mitten in mittens)
        graded.append(GradedSize(size, maps, measures(spec, size, maps[0])))
    return tuple(graded)


def graded_sizes(spec: Spec) -> tuple[GradedSize, ...]:
    """Every size's stitch map, measured and held to the laws, and nothing warned of. Faults where
    the specification cannot be worked, LawBroken where our own map breaks a law."""
    graded = _sizes(spec)
    growth, palm = spec.gusset.growth, spec.gusset.towards_palm
    broken = [p for one in graded for m in one.maps for p in check_map(m, growth, palm)]
    broken += check_sizes([one.maps[0] for one in graded])
    if broken:
        raise LawBroken(tuple(broken))
    return graded


def grade(spec: Spec) -> Grading:
    """Every size's stitch map, measured. Faults where the specification cannot be worked,
    LawBroken where our own map breaks a law."""
    graded = graded_sizes(spec)
    return Grading(graded, concerns(spec, graded, _sizes))
