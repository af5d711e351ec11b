"""Pictures of a picture: what a photocopy shows of it, and eyes that lack one kind of cone."""

from __future__ import annotations

import io
from functools import cache
from typing import Literal

from gussetry.colours import Sight, grey, seen
from gussetry.export.png import LEVEL


@cache
def _as_seen(colour: tuple[int, ...], sight: Sight | Literal["grey"]) -> tuple[int, ...]:
    """A colour as the sight has it, red, green and blue."""
    written = "#" + "".join(f"{part:02x}" for part in colour)
    return tuple(bytes.fromhex((grey(written) if sight == "grey" else seen(written, sight))[1:]))


def as_seen(png: bytes, sight: Sight | Literal["grey"], dpi: int) -> bytes:
    """The PNG as a photocopy shows it (`grey`: greys of the same luminance) or an eye of that
    sight; what is transparent stands on white."""
    import numpy
    from PIL import Image

    with Image.open(io.BytesIO(png)) as image:
        if image.mode == "P":
            flat = image.getpalette() or []
            triples = zip(*[iter(flat)] * 3, strict=True)
            changed = [part for colour in triples for part in _as_seen(tuple(colour), sight)]
            shown = image.copy()
            shown.putpalette(changed)
        else:
            ground = Image.new("RGBA", image.size, "#ffffff")
            whole = Image.alpha_composite(ground, image.convert("RGBA")).convert("RGB")
            pixels = numpy.asarray(whole, numpy.uint32)
            packed = (pixels[..., 0] << 16) | (pixels[..., 1] << 8) | pixels[..., 2]
            known, places = numpy.unique(packed, return_inverse=True)
            table = numpy.array(
                [_as_seen(tuple(int(c).to_bytes(3, "big")), sight) for c in known], numpy.uint8
            )
            shown = Image.fromarray(table[places.reshape(packed.shape)])
        with io.BytesIO() as file:
            shown.save(file, "PNG", dpi=(dpi, dpi), compress_level=LEVEL)
            return file.getvalue()
