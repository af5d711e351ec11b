"""What the keys of yarns, swatch and stripes must have of each other."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from gussetry.diagnostics import Problem
from gussetry.misreadings import clipped
from gussetry.read import values
from gussetry.read.given import YarnKeys
from gussetry.read.keys import fields
from gussetry.read.problems import value_at
from gussetry.read.values import WrongError
from gussetry.source import Document
from gussetry.units import text

STRAND_WIDTHS = (3, 40)
"""How many times its own width of yarn a stitch can take: common practice, no source. The
published swatches' sc took about 9 times, a dc is twice as tall."""


def check_yarn(document: Document) -> Iterator[Problem]:
    """Labels that say half, a swatch whose yarn cannot be, stripes of a thumb that is not there."""
    yield from _labels(document)
    yield from _swatch(document)
    yield from _thumbless(document)


def _labels(document: Document) -> Iterator[Problem]:
    yarns = value_at(document.data, ("yarns",))
    known = fields(YarnKeys)
    for letter, yarn in yarns.items() if isinstance(yarns, dict) else ():
        if not isinstance(yarn, dict):
            continue
        meant = {values.nearest(key, known) for key in yarn if key not in known} | set(yarn)
        for said, wanted in (("grams", "metres"), ("metres", "grams")):
            if said in yarn and wanted not in meant:
                amount = "50" if wanted == "grams" else "95"
                yield Problem(
                    "half-a-label",
                    f"yarn {letter} gives the {said} of a ball and not its {wanted}",
                    ("yarns", letter, said),
                    f"add what the label says, such as `{wanted}: {amount}`, or leave {said} out",
                    span=document.locate_key(("yarns", letter, said)),
                )


def _swatch(document: Document) -> Iterator[Problem]:
    data = document.data
    try:
        amount, unit = values.amount(value_at(data, ("swatch", "used")))
        number = values.count(value_at(data, ("swatch", "stitches")), 4, 400)
        number *= values.count(value_at(data, ("swatch", "rounds")), 2, 400)
        over = values.length(value_at(data, ("gauge", "over")), 20, 300)
        across = values.decimal(value_at(data, ("gauge", "stitches")), Fraction(1), Fraction(300))
    except WrongError:
        return
    if unit != "metres":
        return
    each, width = 1000 * amount / number, over / across
    low, high = (width * times for times in STRAND_WIDTHS)
    if low <= each <= high:
        return
    yield Problem(
        "absurd-swatch",
        f"{number} stitches cannot use {value_at(data, ('swatch', 'used'))}: "
        f"{text(each, 1)} mm each, at {text(width, 1)} mm width",
        ("swatch", "used"),
        f"expected {text(low * number / 1000, 1)} to {text(high * number / 1000, 1)} m; "
        "measure again, and look at the unit",
    )


def _thumbless(document: Document) -> Iterator[Problem]:
    if value_at(document.data, ("thumb", "style")) != "none":
        return
    if value_at(document.data, ("stripes", "anchor")) == "crook":
        yield Problem(
            "no-crook",
            "a mitten without a thumb has no crook to begin the stripes at",
            ("stripes", "anchor"),
            "write `anchor: cuff` or `anchor: tip`",
        )
    thumb = value_at(document.data, ("stripes", "thumb"))
    if thumb is not None and thumb != "match":
        yield Problem(
            "contradiction",
            f"there is no thumb that yarn {clipped(str(thumb))} could be for",
            ("stripes", "thumb"),
            "leave thumb out",
            span=document.locate_key(("stripes", "thumb")),
        )
