"""The product's own drawings: painted alike by a second engine, and nothing in them but paths."""

import io

import pytest
import resvg_py
from defusedxml import ElementTree
from layout.sheets import SAMPLE, chart, mittens
from PIL import Image, ImageChops, ImageFilter

from gussetry.engrave import engrave
from gussetry.export.png import png_bytes
from gussetry.export.svg import svg_bytes
from gussetry.layout import KINDS
from gussetry.style import load_style

STYLE = load_style()
DPI = 150
TOLD_APART = 48
"""Levels of 255 that a 3 × 3 blurred pixel may differ by: anti-aliasing of a 1 px line stays under
it, a stroke that is missing does not (measured on these drawings: at most 23)."""


@pytest.mark.parametrize("kind", [*KINDS, "key"])
def test_a_second_engine_paints_the_same(kind: str) -> None:
    drawing = engrave(chart(kind, mittens(SAMPLE), STYLE, "US"), STYLE)
    svg = svg_bytes(drawing)
    ours = Image.open(io.BytesIO(png_bytes(svg, drawing, DPI))).convert("RGB")
    other = bytes(resvg_py.svg_to_bytes(svg_string=svg.decode(), dpi=DPI))
    theirs = Image.open(io.BytesIO(other)).convert("RGB")
    assert theirs.size == ours.size
    blurred = [image.filter(ImageFilter.BoxBlur(1)) for image in (ours, theirs)]
    apart = ImageChops.difference(*blurred).getextrema()
    assert max(most for _, most in apart) < TOLD_APART
    # The measure can fail: a picture of something else is told apart.
    shifted = ImageChops.offset(blurred[1], 40, 23)
    wrong = ImageChops.difference(blurred[0], shifted).getextrema()
    assert max(most for _, most in wrong) > TOLD_APART


@pytest.mark.parametrize("kind", [*KINDS, "key"])
def test_a_drawing_holds_nothing_but_groups_and_paths(kind: str) -> None:
    drawing = engrave(chart(kind, mittens(SAMPLE), STYLE, "US"), STYLE)
    root = ElementTree.fromstring(svg_bytes(drawing), forbid_dtd=True)
    kinds = {element.tag.rpartition("}")[2] for element in root.iter()}
    assert kinds == {"svg", "title", "desc", "g", "path"}
    for element in root.iter():
        for name, value in element.attrib.items():
            assert not name.startswith("on")
            assert "href" not in name
            assert "url(" not in value
    ids = [e.attrib["id"] for e in root.iter() if "id" in e.attrib]
    assert ids == [root.get("aria-labelledby"), root.get("aria-describedby")]
