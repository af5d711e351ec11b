"""Concerns about the yarns' colours: neighbouring stripes that look alike, to some eyes or in some
print."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from gussetry.colours import SIGHTS, difference, grey, seen
from gussetry.diagnostics import Problem
from gussetry.grading.finished import GradedSize
from gussetry.spec import Spec, Yarn
from gussetry.stitchmap import StitchMap
from gussetry.units import text

CODE = "alike-stripes"
LEAST_APART = 10.0
"""CIEDE2000 under which two stripes run together. The formula is scaled so that about 1 can just be
told when two large fields touch; chips and low stripes are small, lie apart, and are printed and
copied, so ten times as much is asked: common practice, no source."""


def neighbours(stitches: StitchMap) -> Iterator[tuple[str, str]]:
    """The yarns of every two rounds or rows of which one follows the other in a piece, and of the
    cuff and the hand where they meet."""
    for piece in stitches.pieces:
        yield from pairwise(round_.yarn for round_ in piece.counted)
    cuff, hand = stitches.piece("cuff"), stitches.piece("hand")
    if cuff is not None and hand is not None:
        # A cuff of rows touches the hand with all of them; a strip shows its first row's yarn.
        touching = cuff.counted if cuff.worked == "rows" else cuff.counted[-1:]
        yield from ((round_.yarn, hand.counted[0].yarn) for round_ in touching)


def alike(one: str, other: str) -> tuple[str, ...]:
    """In words, where two colours `#rrggbb` look alike: in full colour, in greyscale, to each kind
    of colour vision that lacks a cone."""
    views = [("in full colour", one, other), ("in greyscale", grey(one), grey(other))]
    views += [(f"to {sight} colour vision", seen(one, sight), seen(other, sight))
              for sight in SIGHTS]  # fmt: skip
    apart = ((where, difference(first, second)) for where, first, second in views)
    return tuple(f"{where} ({text(far, 1)})" for where, far in apart if far < LEAST_APART)


def colour_concerns(spec: Spec, graded: Sequence[GradedSize]) -> tuple[Problem, ...]:
    """Yarns of neighbouring stripes that cannot be told apart in full colour, in greyscale, or
    under protan, deutan or tritan colour vision (Machado 2009, severity 1.0)."""
    order = {yarn.letter: place for place, yarn in enumerate(spec.yarns)}
    pairs = {
        (min(pair, key=order.__getitem__), max(pair, key=order.__getitem__))
        for one in graded
        for stitches in one.maps
        for pair in neighbours(stitches)
        if pair[0] != pair[1]
    }
    yarns = {yarn.letter: yarn for yarn in spec.yarns}
    return tuple(
        _told(yarns[first], yarns[second], views)
        for first, second in sorted(pairs, key=lambda pair: (order[pair[0]], order[pair[1]]))
        if (views := alike(yarns[first].colour, yarns[second].colour))
    )


def _told(first: Yarn, second: Yarn, views: Sequence[str]) -> Problem:
    return Problem(
        CODE,
        f"neighbouring stripes of yarn {first.letter} ({first.name}) and {second.letter}"
        f" ({second.name}) look alike {', '.join(views)}; a CIEDE2000 difference of"
        f" {text(LEAST_APART)} tells them apart",
        ("yarns", second.letter, "colour"),
        "choose a colour further off in lightness, or rely on the letters beside the stripes",
        "warning",
    )
