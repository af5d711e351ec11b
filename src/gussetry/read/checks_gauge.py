"""What the keys of the swatches must have of each other, and of what follows them."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from gussetry.diagnostics import Problem
from gussetry.read import values
from gussetry.read.given import GaugeKeys
from gussetry.read.keys import fields
from gussetry.read.problems import contradiction, value_at
from gussetry.read.values import WrongError
from gussetry.source import Document
from gussetry.units import text

STITCH_WIDTHS = (1, 35)
STITCH_HEIGHTS = (1, 60)
"""Millimetres: from sewing thread to arm's thickness; common practice, no source. Printed gauges
run from 4 to 13 mm across, and from 4 to 20 mm up."""


def check_gauges(document: Document) -> Iterator[Problem]:
    """Swatches whose stitches would be finer than thread or broader than a thumb, or that shrink
    when they are pulled."""
    for gauge, across, up in (
        ("gauge", "stitches", "rounds"),
        ("rib gauge", "stitches", "rows"),
    ):
        swatch = value_at(document.data, (gauge,))
        for key, limits in ((across, STITCH_WIDTHS), (up, STITCH_HEIGHTS)):
            try:
                over = values.length(value_at(swatch, ("over",)), 20, 300) if swatch else None
                number = values.decimal(value_at(swatch, (key,)), Fraction(1), Fraction(300))
            except WrongError:
                continue
            if over is None or limits[0] <= over / number <= limits[1]:
                continue
            yield Problem(
                "absurd-gauge",
                f"{key} cannot be {text(number)} over {value_at(swatch, ('over',))}: one would "
                f"measure {text(over / number, 2)} mm",
                (gauge, key),
                f"expected {limits[0]} to {limits[1]} mm; count again, and look at `over`",
            )
        yield from _stretch(document, gauge)


def _stretch(document: Document, gauge: str) -> Iterator[Problem]:
    swatch = value_at(document.data, (gauge,))
    try:
        over = values.length(value_at(swatch, ("over",)), 20, 300) if swatch else None
        pulled = values.length(value_at(swatch, ("stretches to",)), 20, 900)
    except WrongError:
        return
    if over is not None and pulled < over:
        yield Problem(
            "absurd-gauge",
            f"a swatch of {value_at(swatch, ('over',))} cannot stretch to"
            f" {value_at(swatch, ('stretches to',))}, which is less",
            (gauge, "stretches to"),
            "write how wide the whole swatch is when it is pulled",
        )


def check_lean(document: Document) -> Iterator[Problem]:
    """Sides that follow a lean which is not given, or where there are none to follow it."""
    path = ("crown", "follow lean")
    try:
        follows = values.yes_no(value_at(document.data, path))
    except WrongError:
        return
    if not follows:
        return
    for none, what in (
        (value_at(document.data, ("crown", "style")) == "open", "a crown of style open"),
        (value_at(document.data, ("thumb", "style")) == "none", "a mitten without a thumb"),
        (_sideless(value_at(document.data, ("crown", "phases"))), "a crown without sides"),
    ):
        if none:
            yield contradiction(document, path, what)
            return
    gauge = value_at(document.data, ("gauge",))
    if isinstance(gauge, dict) and not any(map(_means_lean, gauge)):
        yield Problem(
            "nothing-to-follow",
            "the sides cannot follow the stitches' lean, since the gauge does not give it",
            path,
            "add it, such as `gauge: {lean: -1.5}`, or leave follow lean out",
        )


def _means_lean(key: str) -> bool:
    # A misspelt key is reported as such, and not as missing too.
    known = fields(GaugeKeys)
    return key == "lean" or (key not in known and values.nearest(key, known) == "lean")


def _sideless(phases: object) -> bool:
    shaped = phases if isinstance(phases, list) else []
    return bool(shaped) and all(isinstance(p, dict) and "evenly" in p for p in shaped)
