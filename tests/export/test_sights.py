"""Pictures of what a photocopy and other eyes show."""

from __future__ import annotations

import io
from typing import Literal

import pytest
from PIL import Image

from gussetry.colours import SIGHTS, Sight, grey, seen
from gussetry.export.sights import as_seen

COLOURS = ("#475569", "#b3261e", "#f1f5f9", "#d4be5f")


def strip(mode: str) -> bytes:
    """A picture of a pixel of each colour."""
    image = Image.new("RGB", (len(COLOURS), 1))
    for x, colour in enumerate(COLOURS):
        image.putpixel((x, 0), tuple(bytes.fromhex(colour[1:])))
    if mode == "P":
        image = image.convert("P", palette=Image.Palette.ADAPTIVE, colors=len(COLOURS))
    with io.BytesIO() as file:
        image.convert(mode).save(file, "PNG")
        return file.getvalue()


@pytest.mark.parametrize("mode", ["P", "RGB", "RGBA"])
@pytest.mark.parametrize("sight", ["grey", *SIGHTS])
def test_every_colour_is_as_it_is_seen(mode: str, sight: Sight | Literal["grey"]) -> None:
    with Image.open(io.BytesIO(as_seen(strip(mode), sight, 300))) as image:
        assert image.info["dpi"] == pytest.approx((300, 300), abs=0.01)
        shown = image.convert("RGB")
    for x, colour in enumerate(COLOURS):
        red, green, blue = shown.getpixel((x, 0))  # type: ignore[misc]
        wanted = grey(colour) if sight == "grey" else seen(colour, sight)
        assert f"#{red:02x}{green:02x}{blue:02x}" == wanted


def test_what_is_transparent_stands_on_white() -> None:
    with io.BytesIO() as file:
        Image.new("RGBA", (2, 2), (0, 0, 0, 0)).save(file, "PNG")
        made = as_seen(file.getvalue(), "grey", 96)
    with Image.open(io.BytesIO(made)) as image:
        assert image.convert("RGB").getpixel((1, 1)) == (255, 255, 255)
