"""A drawing's SVG as a PNG with its physical size. The only module that knows CairoSVG and Pillow.

Cairo paints in memory and Pillow encodes: cairo's own encoder is several times slower and writes
no pHYs chunk. The colours of a drawing are known before it is painted, so its palette is made of
them and of the blends that anti-aliasing makes of two of them; nothing is searched for.
"""

from __future__ import annotations

import io
from functools import cache
from itertools import combinations, pairwise
from typing import TYPE_CHECKING

from gussetry.drawing import Drawing
from gussetry.units import pixels

if TYPE_CHECKING:
    from PIL.Image import Image

Colour = tuple[int, int, int]

LEVEL = 3
"""Compression: higher levels take several times as long for a few percent."""

MAX_SIDE = 32_767
"""Longest side of a cairo image surface, pixels."""

MAX_PIXELS = 150_000_000
"""Most pixels of a picture, A4 at 1200 dots an inch: four bytes each while it is painted."""

TOLERANCE = 0.01
"""Pixels by which a curve may be off where it is painted as straight stretches. cairo 1.16 holds it
against half a pen's width in mm, not pixels, where an outline ends on its own beginning, and paints
that corner square, not round, under a pen that is not several times as thick."""

_GREYS = 16
_PALETTE = 256
# Pillow gives every colour of a cell of four levels the entry nearest to the cell's corner. A flat
# colour is at most 3 levels a channel from its corner, so an entry that takes its place is nearer
# than 3√3 to that corner, and at most 8 levels from the flat colour.
_NEAR = 8
_STEPS = (8, 10, 12, 16, 20, 24, 32)


class TooLarge(ValueError):
    """A picture has more pixels than can be painted."""


def cairo_available() -> bool:
    """Whether the system's libcairo can be loaded."""
    try:
        import cairocffi
    except OSError:
        return False
    return bool(cairocffi.cairo_version())


def png_size(drawing: Drawing, dpi: int) -> tuple[int, int]:
    """Width and height in pixels."""
    return pixels(drawing.width, dpi), pixels(drawing.height, dpi)


def png_bytes(svg: bytes, drawing: Drawing, dpi: int) -> bytes:
    """The PNG of `svg`, which is that drawing's: opaque, or transparent where it has no paper.

    Its pHYs chunk holds `dpi` (300: 11811 pixels a metre). Raises TooLarge for more pixels
    than can be painted, OSError without libcairo.
    """
    size = png_size(drawing, dpi)
    if max(size) > MAX_SIDE or size[0] * size[1] > MAX_PIXELS:
        raise TooLarge(f"a drawing of {size[0]} × {size[1]} pixels is too large to paint")
    image = _painted(svg, size, dpi, drawing.paper)
    if drawing.paper:
        image = reduced(image, flat_colours(drawing))
    with io.BytesIO() as file:
        image.save(file, "PNG", dpi=(dpi, dpi), compress_level=LEVEL)
        return file.getvalue()


def _painted(svg: bytes, size: tuple[int, int], dpi: int, paper: str) -> Image:
    import cairocffi
    from cairosvg.parser import Tree
    from cairosvg.surface import PNGSurface
    from PIL import Image

    class Surface(PNGSurface):  # type: ignore[misc]
        """Painted in memory, its size rounded as everywhere else."""

        def _create_surface(self, width: float, height: float) -> tuple[object, int, int]:
            made = cairocffi.ImageSurface(cairocffi.FORMAT_ARGB32, *size)
            if paper:
                # CairoSVG's own ground ends inside the last pixels, as the drawing does.
                context = cairocffi.Context(made)
                context.set_source_rgb(*(part / 255 for part in _rgb(paper)))
                context.paint()
            return made, *size

        def draw(self, node: object) -> None:
            self.context.set_tolerance(TOLERANCE)
            super().draw(node)

    surface = Surface(Tree(bytestring=svg), None, dpi).cairo
    surface.flush()
    stride = surface.get_stride()
    if paper:
        return Image.frombuffer("RGB", size, surface.get_data(), "raw", "BGRX", stride, 1)
    premultiplied = Image.frombuffer("RGBa", size, surface.get_data(), "raw", "BGRa", stride, 1)
    return premultiplied.convert("RGBA")


def flat_colours(drawing: Drawing) -> tuple[Colour, ...]:
    """Every colour that the drawing is inked with, its paper among them, darkest first."""
    shown = {drawing.paper}
    for group in drawing.inked:
        shown |= {group.fill, group.stroke}
        for item in group.items:
            shown |= {item.fill, item.stroke}
    return tuple(sorted(_rgb(colour) for colour in shown - {"none", ""}))


def _rgb(colour: str) -> Colour:
    red, green, blue = bytes.fromhex(colour.removeprefix("#"))
    return red, green, blue


def reduced(image: Image, flat: tuple[Colour, ...]) -> Image:
    """The picture in the fewest colours that show it faithfully: flat colours stay as they are."""
    if all(red == green == blue for red, green, blue in flat):
        return _grey(image.getchannel(0), tuple(red for red, _, _ in flat))
    palette = _blended(flat)
    if not palette:
        return image
    from PIL import Image

    chosen = Image.new("P", (1, 1))
    chosen.putpalette([part for colour in palette for part in colour])
    return image.quantize(palette=chosen, dither=Image.Dither.NONE)


def _grey(image: Image, flat: tuple[int, ...]) -> Image:
    """The grey picture in at most 16 greys: the flat ones, and even steps between them."""
    if len(flat) > _GREYS:
        return image
    parts = [1] * (len(flat) - 1)
    for _ in range(_GREYS - len(flat) if parts else 0):
        widest = max(range(len(parts)), key=lambda i: (flat[i + 1] - flat[i]) / parts[i])
        parts[widest] += 1
    levels = [
        low + (high - low) * part // count
        for (low, high), count in zip(pairwise(flat), parts, strict=True)
        for part in range(count)
    ]
    levels.append(flat[-1])
    nearest = [min(range(len(levels)), key=lambda i: abs(levels[i] - v)) for v in range(256)]
    indexed = image.point(nearest)
    indexed.putpalette([level for level in levels for _ in range(3)])
    return indexed


# The drawings of a pattern share their colours, and the blends take a tenth of a drawing's time.
@cache
def _blended(flat: tuple[Colour, ...]) -> tuple[Colour, ...]:
    """The flat colours and blends of every two, as fine as fits; () where that is too coarse."""
    if any(_apart(one, other) <= _NEAR for one, other in combinations(flat, 2)):
        return ()
    for step in _STEPS:
        palette = dict.fromkeys(flat)
        for one, other in combinations(flat, 2):
            parts = _apart(one, other) // step
            for part in range(1, parts):
                red, green, blue = (
                    a + round((b - a) * part / parts) for a, b in zip(one, other, strict=True)
                )
                if all(_apart((red, green, blue), kept) > _NEAR for kept in flat):
                    palette[red, green, blue] = None
        if len(palette) <= _PALETTE:
            return tuple(palette)
    return ()


def _apart(one: Colour, other: Colour) -> int:
    return max(abs(a - b) for a, b in zip(one, other, strict=True))
