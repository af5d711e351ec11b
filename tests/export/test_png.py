"""PNG: true to its size, true to its colours, and no larger than it must be."""

from __future__ import annotations

import io
import struct

import pytest
import resvg_py
from hypothesis import example, given, settings
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageStat

from gussetry.drawing import Drawing, Group, Path
from gussetry.export.png import TooLarge, flat_colours, png_bytes, png_size, reduced
from gussetry.export.svg import svg_bytes
from gussetry.units import pixels

YARNS = ("#c03a2b", "#e8e0d0", "#2f4858")


def drawing(
    width: float = 60, height: float = 40, paper: str = "#ffffff", yarns: tuple[str, ...] = ()
) -> Drawing:
    patches = tuple(
        Path(f"M{5 + 12 * i} 5h10v30h-10z", fill=yarn, stroke="#000000", pen=0.25)
        for i, yarn in enumerate(yarns)
    )
    crosses = tuple(Path(f"M{x} 10l3 4M{x} 14l3 -4M{x} 20a2 2 0 0 1 3 3") for x in range(3, 57, 4))
    groups = (Group(patches), Group(crosses, stroke="#1a1a1a", pen=0.35))
    return Drawing(width, height, "t", "d", groups, paper)


def png(made: Drawing, dpi: int = 300) -> Image.Image:
    return Image.open(io.BytesIO(png_bytes(svg_bytes(made), made, dpi)))


def colour_at(image: Image.Image, place: tuple[int, int]) -> str:
    pixel = image.getpixel(place)
    assert isinstance(pixel, tuple)
    return "#" + bytes(map(int, pixel)).hex()


def chunk(data: bytes, name: bytes) -> bytes:
    at = data.index(name)
    (length,) = struct.unpack(">I", data[at - 4 : at])
    return data[at + 4 : at + 4 + length]


@pytest.mark.parametrize(
    ("width", "height", "size"),
    [
        # A4 and A5 (ISO 216) and Letter at 300 dpi, as printers tabulate them.
        (210, 297, (2480, 3508)),
        (148, 210, (1748, 2480)),
        (215.9, 279.4, (2550, 3300)),
    ],
)
def test_pages_have_the_printers_pixels(width: float, height: float, size: tuple[int, int]) -> None:
    assert png_size(drawing(width, height), 300) == size
    assert png(drawing(width, height)).size == size


def test_both_sides_are_rounded_as_everywhere_else() -> None:
    for width in (33.301, 40.005, 127.127, 61.913):
        made = drawing(width, 20.02)
        assert png(made).size == (pixels(width, 300), pixels(20.02, 300))


@pytest.mark.parametrize("paper", ["#ffffff", "#fdfcf8"])
def test_the_paper_reaches_every_edge(paper: str) -> None:
    # 60.04 mm are 709.13 pixels: the drawing ends inside the last one.
    shown = png(drawing(60.04, 40.04, paper)).convert("RGB")
    right, bottom = shown.size[0] - 1, shown.size[1] - 1
    for place in ((0, 0), (right, 0), (0, bottom), (right, bottom)):
        assert colour_at(shown, place) == paper


# PNG (third edition), 11.3.4.3: pixels per unit, x and y, and unit 1, the metre.
@pytest.mark.parametrize(("dpi", "per_metre"), [(96, 3780), (150, 5906), (300, 11811)])
def test_the_physical_size_is_written(dpi: int, per_metre: int) -> None:
    made = drawing()
    data = png_bytes(svg_bytes(made), made, dpi)
    assert struct.unpack(">IIB", chunk(data, b"pHYs")) == (per_metre, per_metre, 1)


def test_a_grey_drawing_takes_sixteen_greys_in_four_bits() -> None:
    made = drawing()
    data = png_bytes(svg_bytes(made), made, 300)
    _, _, depth, kind = struct.unpack(">IIBB", chunk(data, b"IHDR")[:10])
    assert (depth, kind) == (4, 3)
    assert len(chunk(data, b"PLTE")) == 3 * 16


def test_a_drawing_of_a_few_colours_takes_a_palette() -> None:
    assert png(drawing(yarns=YARNS)).mode == "P"


def test_a_drawing_of_too_many_colours_keeps_them_all() -> None:
    many = tuple(
        f"#{(37 * i) % 256:02x}{(91 * i) % 256:02x}{(53 * i) % 256:02x}" for i in range(60)
    )
    made = drawing(paper="#fdfcf8", yarns=many)
    assert len(flat_colours(made)) > 60
    assert png(made).mode == "RGB"


@pytest.mark.parametrize("yarns", [(), YARNS, ("#c03a2b", "#c13b2c"), ("#808080", "#fafafa")])
@pytest.mark.parametrize("paper", ["#ffffff", "#fdfcf8"])
def test_few_colours_show_the_picture_faithfully(yarns: tuple[str, ...], paper: str) -> None:
    made = drawing(yarns=yarns, paper=paper)
    shown = png(made).convert("RGB")
    # A second engine, which shares no code with the first, paints the same file.
    other = Image.open(
        io.BytesIO(bytes(resvg_py.svg_to_bytes(svg_string=svg_bytes(made).decode(), dpi=300)))
    )
    assert other.size == shown.size
    apart = ImageChops.difference(shown, other.convert("RGB"))
    assert max(ImageStat.Stat(apart).mean) < 0.6
    for i, yarn in enumerate(yarns):
        inside = (pixels(7 + 12 * i, 300), pixels(33, 300))
        assert colour_at(shown, inside) == yarn
    assert colour_at(shown, (3, 3)) == paper


COLOURS = st.tuples(*[st.integers(0, 255)] * 3)


@given(st.lists(COLOURS, min_size=1, max_size=8), st.integers(-12, 12))
@example([(253, 252, 247)], 2)
@settings(max_examples=150, deadline=None, derandomize=True)
def test_flat_colours_stay_exactly_as_they_are(colours: list[tuple[int, ...]], apart: int) -> None:
    near = tuple(min(255, max(0, part + apart)) for part in colours[0])
    flat = tuple(sorted({(255, 255, 255), near, *colours}))
    image = Image.new("RGB", (len(flat), 1))
    image.putdata(flat)
    shown = reduced(image, flat).convert("RGB")
    assert [shown.getpixel((i, 0)) for i in range(len(flat))] == list(flat)


@pytest.mark.parametrize("pen", [0.13, 0.25, 0.5, 0.7])
@pytest.mark.parametrize("dpi", [96, 300])
def test_an_outline_looks_the_same_wherever_it_begins(pen: float, dpi: int) -> None:
    def painted(d: str) -> Image.Image:
        group = Group((Path(d),), stroke="#000000", pen=pen)
        return png(Drawing(40, 40, "t", "d", (group,), "#ffffff"), dpi).convert("L")

    one, other = painted("M10 30v-20h20v20z"), painted("M30 10v20h-20v-20z")
    _, most = ImageChops.difference(one, other).getextrema()
    assert most <= 255 / 15, "more than a step of sixteen greys"


def test_a_drawing_without_paper_is_transparent() -> None:
    shown = png(drawing(paper="", yarns=("#c03a2b",)))
    assert shown.mode == "RGBA"
    assert shown.getpixel((2, 2)) == (0, 0, 0, 0)
    assert shown.getpixel((pixels(8, 300), pixels(30, 300))) == (0xC0, 0x3A, 0x2B, 255)


@pytest.mark.parametrize(("width", "height", "dpi"), [(3000, 10, 300), (400, 500, 1200)])
def test_a_picture_too_large_to_paint_is_refused(width: float, height: float, dpi: int) -> None:
    made = drawing(width, height)
    with pytest.raises(TooLarge, match="too large to paint"):
        png_bytes(svg_bytes(made), made, dpi)
