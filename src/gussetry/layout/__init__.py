"""From stitch maps to charts: rows, gusset, crown, strip, schematic and key."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import NamedTuple

from gussetry.chart import Chart
from gussetry.layout.crown import crown
from gussetry.layout.cuff import cuff
from gussetry.layout.gusset import gusset
from gussetry.layout.hand import hand
from gussetry.layout.hatches import hatched
from gussetry.layout.key import key
from gussetry.layout.lefthand import left_handed, other_mitten
from gussetry.layout.parts import Terms
from gussetry.layout.register import BETWEEN, schematic, side_by_side, stripes
from gussetry.layout.register import strips as drawn_strips
from gussetry.layout.sharing import easy
from gussetry.layout.sheeting import OffPage, checked
from gussetry.layout.signature import signed
from gussetry.layout.telling import told
from gussetry.layout.thumb import thumb
from gussetry.stitchmap import StitchMap
from gussetry.style import Style

__all__ = [
    "BETWEEN", "HANDED", "KINDS", "OffPage", "Terms", "Words", "beside", "fit_one_sheet", "kinds",
    "sheets", "strips",
]  # fmt: skip

KINDS = ("cuff", "gusset", "crown", "thumb", "stripes", "schematic")
"""The drawings of a mitten with everything, in the order of a pattern."""
HANDED = ("cuff", "hand", "gusset", "crown", "thumb")
"""Drawings that show the way of working: a left-handed maker has her own."""

SCALED = ("stripes", "schematic")
"""Drawings to scale: they make room for what stands under them themselves."""


def kinds(stitches: StitchMap) -> tuple[str, ...]:
    """The drawings that a mitten has: no cuff chart without a cuff, no crown chart of an open hand.
    Without a thumb there is no gusset chart to show the hand below its crown: it has a `hand`."""
    hand, thumbless = stitches.piece("hand"), stitches.piece("thumb") is None
    missing = {
        "cuff": stitches.piece("cuff") is None,
        "crown": hand is None or hand.rounds[-1].phase != "draw shut",
        "thumb": thumbless,
    }
    found = tuple(kind for kind in KINDS if not missing.get(kind))
    return tuple("hand" if kind == "gusset" and thumbless else kind for kind in found)


class Words(NamedTuple):
    """The designer's own `lines` under every sheet; and `notes` under a schematic: what its
    measures rest on, and cautions where the sizes are for small children. A strip is given those of
    its schematic, with which it shares a scale."""

    lines: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


WORDLESS = Words()


def sheets(
    kind: str,
    maps: Sequence[StitchMap],
    style: Style,
    terms: Terms,
    words: Words = WORDLESS,
    *,
    alone: bool = False,
) -> tuple[Chart, ...]:
    """One drawing laid out on as many sheets as the style's column makes of it, one made of rows
    `alone` on one: a kind of `kinds` for one map, a `schematic` of several nested, or the `key` to
    all of them.

    For a left-handed maker the stitch charts are mirrored, and name the mitten that she makes. In a
    style without colours yarns are told by letters and hatches. KeyError for another kind; OffPage
    where the column is too small for any of it.
    """
    if kind not in HANDED:
        style = replace(style, hand="right")
    room = style
    while True:
        made = _laid_out((kind, alone), maps, room, terms, words)
        under = [signed(told(one, maps, terms, style), style, words.lines) for one in made]
        over = max(one.height for one in under) - style.height
        # What stands under a chart takes room from it; laid out anew, it may take more.
        if over <= 0 or kind in SCALED or room.height < 0.5 * style.height:
            break
        room = replace(room, height=room.height - over)
    return checked(_in_ink(under, maps[0], style), style)


def _in_ink(charts: Sequence[Chart], stitches: StitchMap, style: Style) -> list[Chart]:
    """The charts with hatches for yarns, where the style has no colours."""
    if style.yarns != "hatches":
        return list(charts)
    return [hatched(one, [letter for letter, _, _ in stitches.yarns]) for one in charts]


def beside(
    stitches: StitchMap, style: Style, terms: Terms, words: Words = WORDLESS
) -> tuple[Chart, ...]:
    """The schematic of a mitten and its strip, which stand `BETWEEN` apart side by side in the
    style's column, their upper ends at one height; () where the column is too small for that."""
    style = replace(style, hand="right")
    made = side_by_side(stitches, style, words.notes, words.lines)
    under = [signed(told(one, (stitches,), terms, style), style, words.lines) for one in made]
    return tuple(_in_ink(under, stitches, style))


def strips(
    maps: Sequence[StitchMap], style: Style, terms: Terms, words: Words = WORDLESS
) -> tuple[Chart, ...]:
    """The strips of several mittens on one scale, their upper ends at one height; () where the
    style's column is too small for that."""
    style = replace(style, hand="right")
    made = [
        signed(told(one, (stitches,), terms, style), style, words.lines)
        for stitches, one in zip(maps, drawn_strips(maps, style, words.lines), strict=False)
    ]
    return tuple(_in_ink(made, maps[0], style))


def fit_one_sheet(
    kind: str, maps: Sequence[StitchMap], style: Style, terms: Terms, words: Words
) -> bool:
    """Whether one sheet holds the stitch chart of the sizes, its rows easy to follow."""
    if not easy(kind, maps, style):
        return False
    try:
        sheets(kind, maps, style, terms, words, alone=True)
    except OffPage:
        return False
    return True


_Drawn = Callable[[Sequence[StitchMap], Style, Terms, bool], tuple[Chart, ...]]


def _laid_out(
    what: tuple[str, bool], maps: Sequence[StitchMap], style: Style, terms: Terms, words: Words
) -> tuple[Chart, ...]:
    """The drawing of a kind, one made of rows on one sheet alone or on as many as it takes."""
    kind, alone = what
    if kind == "key":
        return (key(maps, style, terms),)
    if kind == "schematic":
        return (schematic(maps, style, words.notes, words.lines),)
    if kind == "stripes":
        return (stripes(maps[0], style, words.notes, words.lines),)
    made_of = [other_mitten(m) if left_handed(style) else m for m in maps]
    if kind == "crown":
        return crown(made_of[0], style, terms)
    draw: dict[str, _Drawn] = {"cuff": cuff, "hand": hand, "gusset": gusset, "thumb": thumb}
    return draw[kind](made_of, style, terms, alone)
