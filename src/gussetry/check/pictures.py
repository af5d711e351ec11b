"""Pictures held against their drawings: size, resolution, and pixel by pixel what they show."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

from gussetry.findings import Finding
from gussetry.verify import check_png

if TYPE_CHECKING:
    import numpy

SOFT = 24
"""Levels of 255 by which a pixel of a faithful picture may differ after a 3 × 3 blur: rasterisers
round edges otherwise (measured over all examples and styles, with a margin)."""
EDGES = 0.9
"""Share of the drawing's sharpness that a picture must have: what was scaled and scaled back is
softer (measured: a picture halved and doubled again has less than 0.7 of it)."""


class NoPainterError(Exception):
    """Raised where the library that paints drawings is missing."""


def painted(svg: bytes, dpi: int, paper: str, size: tuple[int, int]) -> Any:
    """The drawing painted so many pixels wide and high, as an array of grey levels.
    `NoPainterError` without libcairo."""
    import numpy

    try:
        import cairocffi
        from cairosvg.parser import Tree
        from cairosvg.surface import PNGSurface
    except OSError as error:
        raise NoPainterError from error

    class Surface(PNGSurface):  # type: ignore[misc]
        """Painted on a ground of its own: the last pixels of a page may be cut."""

        def _create_surface(self, width: float, height: float) -> tuple[object, int, int]:
            made = cairocffi.ImageSurface(cairocffi.FORMAT_ARGB32, *size)
            context = cairocffi.Context(made)
            context.set_source_rgb(*(int(paper[i : i + 2], 16) / 255 for i in (1, 3, 5)))
            context.paint()
            return made, *size

    surface = Surface(Tree(bytestring=svg), None, dpi).cairo
    surface.flush()
    wide, high = size
    pixels = numpy.frombuffer(bytes(surface.get_data()), numpy.uint8)
    rows = pixels.reshape(high, surface.get_stride())[:, : wide * 4]
    return _grey(rows.reshape(high, wide, 4)[:, :, 2::-1])


def _grey(pixels: Any) -> Any:
    import numpy

    return pixels.astype(numpy.float32) @ numpy.array([0.299, 0.587, 0.114], numpy.float32)


def _opened(png: bytes, paper: str) -> Any:
    import numpy
    from PIL import Image

    Image.MAX_IMAGE_PIXELS = 200_000_000
    with Image.open(io.BytesIO(png)) as image:
        shown = image.convert("RGBA")
        ground = Image.new("RGBA", shown.size, paper)
        flat = Image.alpha_composite(ground, shown).convert("RGB")
    return _grey(numpy.asarray(flat))


def _blurred(levels: Any) -> Any:
    import numpy

    padded = numpy.pad(levels, 1, mode="edge")
    rows = padded[:-2] + padded[1:-1] + padded[2:]
    return (rows[:, :-2] + rows[:, 1:-1] + rows[:, 2:]) / 9


def compare_picture(
    png: bytes, svg: bytes, dpi: int, paper: str, file: str, size: str
) -> list[Finding]:
    """Where a picture shows something else than its drawing, the largest difference's place in mm.

    `NoPainterError` where drawings cannot be painted here.
    """
    findings = [
        Finding("picture", wrong.message, file, size, expected=wrong.expected, found=wrong.found)
        for wrong in check_png(png, svg, dpi)
    ]
    if findings:
        return findings
    paper = paper or "#ffffff"
    shown = _opened(png, paper)
    high, wide = shown.shape
    drawn = painted(svg, dpi, paper, (wide, high))
    return _differences(drawn, shown, dpi, file, size)


def _differences(drawn: Any, shown: Any, dpi: int, file: str, size: str) -> list[Finding]:
    import numpy

    apart = numpy.abs(_blurred(drawn) - _blurred(shown))
    worst = float(apart.max())
    if worst > SOFT:
        y, x = numpy.unravel_index(int(apart.argmax()), apart.shape)
        place = (round(float(x) * 25.4 / dpi, 1), round(float(y) * 25.4 / dpi, 1))
        return [Finding("picture", "shows something else than its drawing", file, size, at=place,
                        expected=f"at most {SOFT} of 255 apart", found=f"{worst:.0f}")]  # fmt: skip
    sharp = _sharpness(shown) / max(_sharpness(drawn), 1e-6)
    if sharp < EDGES:
        return [Finding("picture", "is softer than its drawing: it was scaled", file, size,
                        expected="1.00 of its sharpness", found=f"{sharp:.2f}")]  # fmt: skip
    return []


def _sharpness(levels: numpy.ndarray[Any, Any]) -> float:
    import numpy

    return float(
        (numpy.diff(levels, axis=0) ** 2).mean() + (numpy.diff(levels, axis=1) ** 2).mean()
    )
