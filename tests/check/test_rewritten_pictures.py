"""A picture still shows its drawing when a drawing program has written that again."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache

import pytest
from layout.sheets import SAMPLE, mittens
from verify.rewriting import REWRITERS, everything, tags_lost

from gussetry.check.pictures import compare_picture
from gussetry.engrave import engrave
from gussetry.export.png import png_bytes
from gussetry.export.svg import svg_bytes
from gussetry.layout import sheets
from gussetry.style import load_style

DPI = 150


@cache
def _strip() -> tuple[bytes, bytes]:
    look = load_style("default")
    (sheet,) = sheets("stripes", mittens(SAMPLE)[:1], look, "US")
    drawing = engrave(sheet, look)
    svg = svg_bytes(drawing)
    return svg, png_bytes(svg, drawing, DPI)


@pytest.mark.parametrize(
    "rewrite", [*REWRITERS, everything, tags_lost], ids=lambda rewrite: rewrite.__name__
)
def test_the_picture_is_that_of_the_rewritten_drawing(rewrite: Callable[[bytes], bytes]) -> None:
    svg, png = _strip()
    assert compare_picture(png, rewrite(svg), DPI, "#ffffff", "stripes.png", "M") == []


def test_another_colour_in_a_page_of_pixels_is_found() -> None:
    svg, png = _strip()
    other = re.sub(rb'(data-role="stripe"[^>]*fill=")#[0-9a-f]{6}', rb"\1#ffffff", svg, count=4)
    assert other != svg
    found = compare_picture(png, everything(other), DPI, "#ffffff", "stripes.png", "M")
    assert [one.kind for one in found] == ["picture"]
