"""What no sheet may ask for: what print loses, and what cannot be read."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from gussetry.diagnostics import Problem
from gussetry.source import Document
from gussetry.style import inks
from gussetry.style.look import SERIES, Style, step
from gussetry.units import text

STEPS_APART = 2
"""Steps of the series between the widest and the finest pen at least: 2:1 (ISO 128-2, 6.1)."""


def misfits(style: Style, sheet: Document) -> list[Problem]:
    """What does not go together in a style whose properties are each right by themselves."""
    return [*_faint(style, sheet), *_small(style, sheet), *_even(style, sheet)]


def _faint(style: Style, sheet: Document) -> list[Problem]:
    """Inks that cannot be read on the style's paper, transparent taken for white."""
    ground = style.paper or "#ffffff"
    return [
        Problem("faint-ink", f"{key} {ink} on paper {ground} has a contrast of"
                f" {text(inks.ratio(ink, ground), 2)}, and {use} need {text(least)}", (key,),
                "choose a darker ink, or on dark paper a lighter one", span=sheet.locate((key,)))
        for key, ink, least, use in (
            ("ink", style.ink, inks.TEXT, "letters"),
            ("quiet ink", style.quiet_ink, inks.GRAPHICS, "lines"),
            ("emphasis", style.emphasis, inks.GRAPHICS, "symbols"),
        )
        if inks.ratio(ink, ground) < least
    ]  # fmt: skip


def _small(style: Style, sheet: Document) -> list[Problem]:
    """Letters and stitches under the least that the style itself allows; pointed at where the
    sheet says the one or the other."""
    least = text(style.least_text)
    found = [
        Problem("small-text", f"text {kind} is {text(points)} points, and least text {least}",
                ("text", kind), f"write {least} or more, or lower least text",
                span=_said(sheet, ("text", kind), ("least text",)))
        for kind, points in style.text
        if points < style.least_text
    ]  # fmt: skip
    if style.stitch < style.least_stitch:
        least = text(style.least_stitch)
        found.append(
            Problem("small-stitch", f"stitch is {text(style.stitch)} mm, and least stitch {least}",
                    ("stitch",), f"write {least} or more, or lower least stitch",
                    span=_said(sheet, ("stitch",), ("least stitch",)))
        )  # fmt: skip
    return found


def _even(style: Style, sheet: Document) -> list[Problem]:
    """Pens that do not tell thick from thin, and shaping that is drawn no heavier than the rest."""
    pens = dict(style.pens)
    found = []
    wide, fine = max(pens.values()), min(pens.values())
    if step(wide) - step(fine) < STEPS_APART:
        at = SERIES[min(step(fine) + STEPS_APART, len(SERIES) - 1)]
        found.append(
            Problem("even-pens", f"the widest pen is {text(wide)} mm and the finest {text(fine)}:"
                    " thick and thin are less than two steps of the series apart", ("pens",),
                    f"make the widest {at} or more, or the finest finer",
                    span=sheet.locate(("pens",)))
        )  # fmt: skip
    if pens["shaping"] <= pens["stitch"]:
        found.append(
            Problem("even-pens", f"pens shaping is {text(pens['shaping'])} mm and pens stitch"
                    f" {text(pens['stitch'])}: increases and decreases would not stand out",
                    ("pens", "shaping"), "give shaping a wider pen than stitch",
                    span=_said(sheet, ("pens", "shaping"), ("pens", "stitch")))
        )  # fmt: skip
    return found


def _said(sheet: Document, *paths: tuple[str, ...]) -> Any:
    """Where the sheet says the first of these that it says at all."""
    for path in paths:
        if path in sheet.spans:
            return sheet.spans[path]
    return sheet.locate(paths[0])


def pen(written: str) -> bool:
    """Whether a number as written is a width of the series."""
    return Fraction(written) in [Fraction(known) for known in SERIES]
