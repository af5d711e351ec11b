"""The same mittens in other colours, as a drawing's look may want them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from gussetry.grading import Grading
from gussetry.grading.concerns_colours import CODE, colour_concerns
from gussetry.spec import Spec
from gussetry.stitchmap import StitchMap


def recoloured(spec: Spec, grading: Grading, colours: Mapping[str, str]) -> tuple[Spec, Grading]:
    """Specification and grading with those colours `#rrggbb` for the yarns of those letters, and
    what is to be warned of then; letters that the pattern has not are passed over."""
    if not any(yarn.letter in colours for yarn in spec.yarns):
        return spec, grading
    yarns = tuple(replace(y, colour=colours.get(y.letter, y.colour)) for y in spec.yarns)
    worn = replace(spec, yarns=yarns)

    def dyed(stitches: StitchMap) -> StitchMap:
        own = ((letter, name, colours.get(letter, c)) for letter, name, c in stitches.yarns)
        return replace(stitches, yarns=tuple(own))

    sizes = tuple(
        replace(size, maps=tuple(dyed(stitches) for stitches in size.maps))
        for size in grading.sizes
    )
    kept = tuple(warning for warning in grading.warnings if warning.code != CODE)
    return worn, Grading(sizes, (*kept, *colour_concerns(worn, sizes)))
