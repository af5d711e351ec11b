"""Pictures held against their drawings: size, resolution, and pixel by pixel what they show."""

from __future__ import annotations

import io
import struct
from typing import TYPE_CHECKING, Any

from gussetry.findings import Finding
from gussetry.verify import check_png
from gussetry.verify.reading import read

if TYPE_CHECKING:
    import numpy

SOFT = 24
"""Levels of 255 by which a pixel of a faithful picture may differ after a 3 × 3 blur: rasterisers
round edges otherwise (measured over all examples and styles, with a margin)."""
EDGES = 0.9
"""Share of the drawing's sharpness that a picture must have: what was scaled and scaled back is
softer (measured: a picture halved and doubled again has less than 0.7 of it)."""


MOST_BYTES = 60_000_000
"""Bytes of a picture's pixels that are decoded at most: A4 at 600 dots an inch, in greys."""
TOLERANCE = 0.01
"""Pixels by which a painted curve may be off: at cairo's own 0.1 the corner at which an outline
ends on its own beginning is painted square, not round."""
BAND = 500
"""Rows of a picture that are compared at once."""


class NoPainterError(Exception):
    """Raised where the library that paints drawings is missing."""


def painted(svg: bytes, dpi: int, paper: str, size: tuple[int, int]) -> Any:
    """The drawing painted so many pixels wide and high: blue, green, red and one byte more a pixel.
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

        def draw(self, node: object) -> None:
            self.context.set_tolerance(TOLERANCE)
            super().draw(node)

    tree = Tree(bytestring=svg)
    if not str(tree.get("width", "")).endswith("mm"):
        # Only a page in millimetres is painted at a resolution: one in pixels is made so.
        page = read(svg)
        in_pixels = (f"{side * 96 / 25.4:.6f}" for side in (page.width, page.height))
        tree.setdefault("viewBox", " ".join(("0 0", *in_pixels)))
        tree.update(width=f"{page.width:.6f}mm", height=f"{page.height:.6f}mm")
    surface = Surface(tree, None, dpi).cairo
    surface.flush()
    wide, high = size
    pixels = numpy.frombuffer(surface.get_data(), numpy.uint8)
    rows = pixels.reshape(high, surface.get_stride())[:, : wide * 4]
    # The surface ends here, and its pixels with it.
    return rows.reshape(high, wide, 4).copy()


def _opened(png: bytes, paper: str) -> Any:
    """The grey levels of a picture on its paper."""
    import numpy
    from PIL import Image

    with Image.open(io.BytesIO(png)) as image:
        if image.mode in ("RGBA", "LA") or "transparency" in image.info:
            shown = image.convert("RGBA")
            ground = Image.new("RGBA", shown.size, paper)
            ground.alpha_composite(shown)
            return numpy.asarray(ground.convert("L"))
        return numpy.asarray(image.convert("L"))


def _blurred(levels: Any) -> Any:
    import numpy

    padded = numpy.pad(levels, 1, mode="edge")
    rows = padded[:-2] + padded[1:-1] + padded[2:]
    return (rows[:, :-2] + rows[:, 1:-1] + rows[:, 2:]) / 9


def _extent(png: bytes) -> tuple[int, int]:
    """How many pixels a picture is wide, and how many bytes its pixels take, as its header says; 0
    where it has none."""
    if png[12:16] != b"IHDR" or len(png) < 26:
        return 0, 0
    wide, high, depth, kind = struct.unpack(">IIBB", png[16:26])
    return wide, wide * high * depth * (1, 1, 3, 1, 2, 1, 4)[min(kind, 6)] // 8


def compare_picture(
    png: bytes, svg: bytes, dpi: int, paper: str, file: str, size: str
) -> list[Finding]:
    """Where a picture shows something else than its drawing, the largest difference's place in mm.

    `NoPainterError` where drawings cannot be painted here.
    """
    wide, pixels = _extent(png)
    if pixels > MOST_BYTES:
        due = read(svg).width * dpi / 25.4
        if abs(wide - due) > 2:
            return [Finding("picture", "has another size than its drawing", file, size,
                            expected=f"{due:.0f} pixels wide", found=str(wide))]  # fmt: skip
        message = "has too many pixels to be compared with its drawing"
        return [Finding("picture", message, file, size, sure="note")]
    findings = [
        Finding("picture", wrong.message, file, size, expected=wrong.expected, found=wrong.found)
        for wrong in check_png(png, svg, dpi)
    ]
    if findings:
        # What the wrong size brings with it is no second fault.
        return findings[:1]
    paper = paper or "#ffffff"
    shown = _opened(png, paper)
    high, wide = shown.shape
    return _differences(painted(svg, dpi, paper, (wide, high)), shown, dpi, file, size)


def _differences(drawn: Any, shown: Any, dpi: int, file: str, size: str) -> list[Finding]:
    """The same, of pixels, a band of rows at a time so that little is held at once."""
    import numpy

    weights = numpy.array([0.114, 0.587, 0.299], numpy.float32)
    high = shown.shape[0]
    worst, place = 0.0, (0.0, 0.0)
    sharp = [0.0, 0.0]
    for top in range(0, high, BAND):
        rows = slice(max(top - 1, 0), min(top + BAND + 1, high))
        pair = drawn[rows, :, :3] @ weights, shown[rows].astype(numpy.float32)
        sharp = [so_far + _sharpness(levels) for so_far, levels in zip(sharp, pair, strict=True)]
        apart = numpy.abs(_blurred(pair[0]) - _blurred(pair[1]))
        if apart.max() > worst:
            y, x = numpy.unravel_index(int(apart.argmax()), apart.shape)
            worst = float(apart.max())
            place = float(x) * 25.4 / dpi, float(rows.start + y) * 25.4 / dpi
    if worst > SOFT:
        return [Finding("picture", "shows something else than its drawing", file, size,
                        at=(round(place[0], 1), round(place[1], 1)),
                        expected=f"at most {SOFT} of 255 apart", found=f"{worst:.0f}")]  # fmt: skip
    share = sharp[1] / max(sharp[0], 1e-6)
    if share < EDGES:
        return [Finding("picture", "is softer than its drawing: it was scaled", file, size,
                        expected="1.00 of its sharpness", found=f"{share:.2f}")]  # fmt: skip
    return []


def _sharpness(levels: numpy.ndarray[Any, Any]) -> float:
    import numpy

    return float((numpy.diff(levels, axis=0) ** 2).sum() + (numpy.diff(levels, axis=1) ** 2).sum())
