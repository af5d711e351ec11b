"""Strip and schematic of one mitten on one scale and in register: laid side by side, the strip's
stripes meet the schematic's landmarks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from gussetry.chart import Chart
from gussetry.layout import boxes
from gussetry.layout.looks import Look
from gussetry.layout.paging import top_of
from gussetry.layout.schematic import schematic_at
from gussetry.layout.signature import signed
from gussetry.layout.strip import strip
from gussetry.stitchmap import StitchMap
from gussetry.style import Style

_LEAST = 1 / 3
"""The scale below which words rather run on than the drawing shrinks."""

_ELSEWHERE = "see the cautions on each size's own schematic."


def _looks(style: Style) -> Iterator[Look]:
    """How a schematic can be laid out, the best first: its measures on the dimension lines at the
    style's scale or the next rounder one, else in a list at the largest scale that fits."""
    scales = boxes.scales(style)
    for scale in scales[:2]:
        yield from (Look(scale, broad=broad) for broad in (False, True))
    for run_on in (False, True):
        for scale in scales:
            if run_on or scale >= _LEAST:
                yield from _listed(Look(scale, listed=True, run_on=run_on))


def _listed(look: Look) -> Iterator[Look]:
    """A look with its measures in a list, under the drawing or beside it."""
    yield from (replace(look, broad=broad) for broad in (False, True))
    yield replace(look, aside="words")
    yield replace(look, aside="list")


def _fits(chart: Chart, style: Style, lines: Sequence[str]) -> bool:
    whole = signed(chart, style, lines)
    return whole.width <= style.width and whole.height <= style.height


def pair(
    stitches: StitchMap, style: Style, notes: Sequence[str] = (), lines: Sequence[str] = ()
) -> tuple[Chart, Chart]:
    """The stripe strip and the schematic of one mitten, at the largest scale at which both fit the
    style's column with the designer's `lines` under them, their upper ends at one height.

    `notes` stand under the schematic. The smallest scale is kept even where it does not fit.
    """
    looks = list(_looks(style))
    for look in looks:
        drawn = schematic_at((stitches,), style, notes, look)
        last = look is looks[-1]
        if not last and not _fits(drawn, style, lines):
            continue
        beside, drawn = _levelled(stitches, (style, style), notes, look, drawn)
        if _fits(beside, style, lines) and _fits(drawn, style, lines):
            break
    return beside, drawn


def _levelled(
    stitches: StitchMap, styles: tuple[Style, Style], notes: Sequence[str], look: Look, drawn: Chart
) -> tuple[Chart, Chart]:
    """The strip, in the first of the styles, and the schematic drawn already in the second, both
    with their tip as far down as the lower of the two has it."""
    beside = strip(stitches, styles[0], look.scale)
    head = max(top_of(beside), top_of(drawn))
    if top_of(drawn) < head:
        drawn = schematic_at((stitches,), styles[1], notes, replace(look, head=head))
    if top_of(beside) < head:
        beside = strip(stitches, styles[0], look.scale, head)
    return beside, drawn


BETWEEN = 2.0
"""White between a schematic and the strip beside it, mm, besides what each has round itself."""


def side_by_side(
    stitches: StitchMap, style: Style, notes: Sequence[str] = (), lines: Sequence[str] = ()
) -> tuple[Chart, ...]:
    """The schematic of one mitten and its stripe strip, which has room beside it in the style's
    column, at the largest scale that allows that; () where none does."""
    for look in _looks(style):
        drawn = schematic_at((stitches,), style, notes, look)
        rest = replace(style, width=style.width - BETWEEN - drawn.width)
        if rest.width <= 0 or not _fits(drawn, style, lines):
            continue
        beside, drawn = _levelled(stitches, (rest, style), notes, look, drawn)
        if _fits(beside, rest, lines) and _fits(drawn, style, lines):
            return drawn, beside
    return ()


def strips(maps: Sequence[StitchMap], style: Style, lines: Sequence[str] = ()) -> tuple[Chart, ...]:
    """A stripe strip for each mitten, all on the largest scale at which each fits the style's
    column, and with their upper ends at one height; () where none does."""
    for scale in boxes.scales(style):
        made = [strip(stitches, style, scale) for stitches in maps]
        head = max(map(top_of, made))
        made = [
            one if top_of(one) == head else strip(stitches, style, scale, head)
            for stitches, one in zip(maps, made, strict=True)
        ]
        if all(_fits(one, style, lines) for one in made):
            return tuple(made)
    return ()


def stripes(
    stitches: StitchMap, style: Style, notes: Sequence[str] = (), lines: Sequence[str] = ()
) -> Chart:
    """The stripe strip of a mitten: every round's band to scale, from the cuff's edge to the tip,
    or to the edging of an open hand; on the scale of its schematic."""
    return pair(stitches, style, notes, lines)[0]


def schematic(
    maps: Sequence[StitchMap], style: Style, notes: Sequence[str] = (), lines: Sequence[str] = ()
) -> Chart:
    """The schematic of one mitten, on the scale of its strip, or of all sizes nested on the centre
    line and the wrist, on a scale of its own.

    `maps` stand smallest first, one a size. A right mitten is drawn with its thumb on the left, as
    seen from the back of the hand; every other with its thumb on the right.
    """
    if len(maps) == 1:
        return pair(maps[0], style, notes, lines)[1]
    for told in (notes, _pointing(notes)):
        for look in _looks(style):
            drawn = schematic_at(maps, style, told, look)
            if _fits(drawn, style, lines):
                return drawn
    return drawn


def _pointing(notes: Sequence[str]) -> list[str]:
    """The notes with what is listed in them left to the schematics of the sizes, for a sheet that
    has no room for it."""
    whole = [words for words in notes if not words.startswith("– ")]
    return [f"{words} {_ELSEWHERE}" if words.endswith(":") else words for words in whole]
