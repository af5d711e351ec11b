"""Concerns about hand and mitten: what does not fit whom it is for."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from gussetry.diagnostics import Problem
from gussetry.grading.cautions import cautioned
from gussetry.grading.changes import all_changes
from gussetry.grading.concerns_told import Told, Words, cm, gathered
from gussetry.grading.finished import GradedSize
from gussetry.grading.measures import (
    CROOK_HEIGHT_P95,
    CUFF_STRETCH,
    TUCKED_TO_HAND,
    body,
    cuff_stretch,
    tucked_girth,
    wearer,
)
from gussetry.spec import Size, Spec
from gussetry.units import text

INFANT_MONTHS = 24
"""Up to this age a hand is an infant's, as in the survey of infants (UM-HSRI-BI-75-5)."""


def _of_hand(size: Size, name: str) -> str:
    """A hand's measure in words, and where it comes from if it was not measured."""
    own = body(size)
    origin = own.origin(name)
    return cm(own.measure(name)) + ("" if origin == "given" else f" ({origin})")


def _narrowest_thumb(one: GradedSize) -> Fraction | None:
    """The thumb where it is measured, or narrower where it goes on evenly to its length."""
    wide, stitches = one.finished("thumb circumference"), one.maps[0]
    thumb = stitches.piece("thumb")
    if wide is None or thumb is None:
        return None
    even = [r.count * stitches.fabric.width for r in thumb.rounds if r.phase == "thumb even"]
    return min([wide, *even])


def thumb_concerns(spec: Spec, graded: Sequence[GradedSize]) -> tuple[Problem, ...]:
    """Finished thumbs narrower than the thumb that goes in, given or surveyed.

    That a thumb needs ease at all is common practice, no source.
    """
    told = []
    for one in graded:
        inside = body(one.size).thumb_circumference
        wide = _narrowest_thumb(one)
        if wide is not None and wide < inside:
            figures = f"{cm(wide)} for {_of_hand(one.size, 'thumb circumference')}"
            told.append(Told(one.size.name, figures, inside - wide))
    words = Words(
        "narrow-thumb",
        "the finished thumb is narrower than the thumb that goes in",
        ("sizes", told[0].size if told else "", "thumb circumference"),
        "give the thumb more ease, or its pins more stitches",
    )
    return gathered(words, told)


def cuff_concerns(spec: Spec, graded: Sequence[GradedSize]) -> tuple[Problem, ...]:
    """Cuffs, or lower edges without one, that are narrower than the hand with its thumb laid in,
    stretched as far as they go.

    Both figures are weak where they were not measured (common practice, no source).
    """
    stretch, stretch_weak = cuff_stretch(spec)
    told, girth_weak = [], False
    for one in graded:
        girth, weak = tucked_girth(one.size)
        around = one.edge
        if girth <= stretch * around:
            continue
        girth_weak = girth_weak or weak
        figures = f"{cm(around)} opens to {cm(stretch * around)}, for {cm(girth)}"
        told.append(Told(one.size.name, figures, girth / around))
    reasons = []
    if stretch_weak:
        reasons.append(f"{text(CUFF_STRETCH)} times its width, since no swatch was pulled")
    if girth_weak:
        share = text(TUCKED_TO_HAND)
        reasons.append(f"{share} times the hand, since the tucked girth was not measured")
    edge = "cuff" if spec.cuff.style != "none" else "lower edge"
    words = Words(
        "tight-cuff",
        f"the {edge} {'may not' if reasons else 'cannot'} pass the hand with its thumb laid in",
        ("sizes", told[0].size if told else "", "tucked girth"),
        _cuff_remedy(spec, stretch_weak, girth_weak),
        f"weak figures: {'; '.join(reasons)}" if reasons else "",
    )
    return gathered(words, told)


def _cuff_remedy(spec: Spec, stretch_weak: bool, girth_weak: bool) -> str:
    ribbed = spec.cuff.style in ("ribbed", "post")
    measures = []
    if stretch_weak:
        measures.append(f"give `stretches to` under {'rib gauge' if ribbed else 'gauge'}")
    if girth_weak:
        measures.append("give `tucked girth`")
    return ", or ".join([*measures, "make it wider with `ease: {cuff: …}`"])


def crook_concerns(spec: Spec, graded: Sequence[GradedSize]) -> tuple[Problem, ...]:
    """Crooks higher than on 95 of 100 hands of that length (Snyder 1977, ages 2 to 20), and higher
    than the hand's own where that was measured."""
    told = []
    for one in graded:
        own = body(one.size)
        bound = max(CROOK_HEIGHT_P95 * own.hand_length, one.size.crook_height or Fraction(0))
        crook = one.finished("crook height")
        if crook is not None and crook > bound:
            told.append(Told(one.size.name, f"{cm(crook)}, beyond {cm(bound)}", crook - bound))
    words = Words(
        "high-crook",
        "the thumb's crook lies higher above the wrist than on 95 of 100 hands of that length"
        " (Snyder 1977)",
        ("sizes", told[0].size if told else ""),
        "grow the gusset faster, or begin it earlier; or measure the hand's crook height",
    )
    return gathered(words, told)


def float_concerns(spec: Spec, graded: Sequence[GradedSize]) -> tuple[Problem, ...]:
    """Yarns carried inside in sizes whose range starts under three years (thread from mittens has
    strangled fingers: Barton, Sloan & Nichter, Pediatrics 1988;82(6):925–928)."""
    told, pieces = [], set()
    for one in graded:
        if not cautioned(one.size):
            continue
        floats = [c for c in all_changes(one.maps[0], spec.stripes.carry) if c.carried]
        if floats:
            pieces |= {change.piece for change in floats}
            longest = max(change.length for change in floats)
            figures = f"has {len(floats)}, up to {cm(longest)}"
            told.append(Told(one.size.name, figures, longest))
    words = Words(
        "floats-for-small-children",
        "yarns are carried inside a mitten for a child under three; a loose strand can catch a"
        " finger",
        ("cuff", "stripes") if pieces == {"cuff"} else ("stripes", "plan"),
        "cut and weave in every yarn, with `stripes: {carry: 0}`, or use one yarn for these sizes",
    )
    return gathered(words, told)


def thumbless_concerns(spec: Spec, graded: Sequence[GradedSize]) -> tuple[Problem, ...]:
    """Sizes without a thumb for hands that want one: common practice, no source."""
    if spec.has_thumb:
        return ()
    told = [
        Told(one.size.name, f"for {wearer(one.size)}", one.size.hand_circumference)
        for one in graded
        if not _infant(one.size)
    ]
    words = Words(
        "no-thumb",
        "a mitten without a thumb is for infants",
        ("thumb", "style"),
        "write `for: infants` or an age under two years, or give the mitten its thumb",
    )
    return gathered(words, told)


def _infant(size: Size) -> bool:
    if size.age_from_months is not None:
        return size.age_from_months < INFANT_MONTHS
    return wearer(size) == "infants"


_MEASURES = ("wrist circumference", "hand length", "thumb circumference", "thumb length",
             "crook height")  # fmt: skip


def shrinking_concerns(spec: Spec) -> tuple[Problem, ...]:
    """Measures of a hand that are smaller than the next smaller size's.

    Given measures are read in order; derived ones may shrink where the survey changes with the
    wearer, or between a given and a derived one.
    """
    return tuple(
        problem for smaller, larger in pairwise(spec.sizes) for problem in _shrunk(smaller, larger)
    )


def _shrunk(smaller: Size, larger: Size) -> tuple[Problem, ...]:
    before, now = body(smaller), body(larger)
    less = [
        f"{name} {_of_hand(larger, name)} after {_of_hand(smaller, name)}"
        for name in _MEASURES
        if now.measure(name) < before.measure(name)
    ]
    girths = tucked_girth(smaller), tucked_girth(larger)
    if girths[1][0] < girths[0][0]:
        shown = [cm(girth) + (" (weak)" if weak else "") for girth, weak in girths]
        less.append(f"tucked girth {shown[1]} after {shown[0]}")
    if not less:
        return ()
    message = (
        f"size {larger.name} is wished smaller than size {smaller.name} before it:"
        f" {', '.join(less)}"
    )
    remedy = "measure these in both sizes, or let both be of the same wearers (`for`)"
    return (Problem("shrinking-wish", message, ("sizes", larger.name), remedy, "warning"),)
