"""The check of a PNG: size, resolution, paper, sound pixels, something to see."""

from __future__ import annotations

import struct
import zlib
from io import BytesIO

import pytest
from PIL import Image

from gussetry.verify import check_png

DPI = 300
A_CM = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="12.7mm" viewBox="0 0 10 12.7"/>'
)
WIDE, HIGH = 118, 150  # 10 mm and half an inch at 300 dpi


def picture(mode: str = "L", *, blank: bool = False, dpi: int = DPI, **save: object) -> bytes:
    """A white picture, with a black speck in its lower half unless it is to be blank."""
    white = {"1": 1, "L": 255, "P": 0, "RGB": (255, 255, 255), "RGBA": (0, 0, 0, 0)}[mode]
    black = {"1": 0, "L": 0, "P": 1, "RGB": (0, 0, 0), "RGBA": (0, 0, 0, 255)}[mode]
    image = Image.new(mode, (WIDE, HIGH), white)
    if mode == "P":
        image.putpalette([255, 255, 255, 0, 0, 0])
    if not blank:
        image.putpixel((70, 99), black)
    file = BytesIO()
    image.save(file, "PNG", dpi=(dpi, dpi), **save)
    return file.getvalue()


@pytest.mark.parametrize("mode", ["1", "L", "P", "RGB", "RGBA"])
@pytest.mark.parametrize("level", [0, 3, 9])
def test_a_sound_png_has_no_finding(mode: str, level: int) -> None:
    assert check_png(picture(mode, compress_level=level), A_CM, DPI) == ()


@pytest.mark.parametrize("mode", ["1", "L", "P", "RGB", "RGBA"])
@pytest.mark.parametrize("level", [0, 3, 9])
def test_a_blank_png_is_found(mode: str, level: int) -> None:
    found = check_png(picture(mode, blank=True, compress_level=level), A_CM, DPI)
    assert [f.kind for f in found] == ["blank"]


def filtered(rows: list[tuple[int, bytes]], bits: int = 8) -> bytes:
    """A grey PNG of the given filtered rows, written chunk by chunk."""
    width = len(rows[0][1]) * 8 // bits

    def chunk(kind: bytes, body: bytes) -> bytes:
        return (
            struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        )

    data = b"".join(bytes([form]) + row for form, row in rows)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", struct.pack(">IIBBBBB", width, len(rows), bits, 0, 0, 0, 0))
        + chunk(b"pHYs", struct.pack(">IIB", 11811, 11811, 1))
        + chunk(b"IDAT", zlib.compress(data))
        + chunk(b"IEND", b"")
    )


SMALL = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="0.339mm" height="0.339mm"'
    b' viewBox="0 0 0.339 0.339"/>'
)  # 4 × 4 pixels

GREY = 255
PLAIN_TOP = {
    0: bytes([GREY] * 4),
    1: bytes([GREY, 0, 0, 0]),
    2: bytes([GREY] * 4),
    3: bytes([GREY, 128, 128, 128]),
    4: bytes([GREY, 0, 0, 0]),
}
PLAIN_BELOW = {
    0: bytes([GREY] * 4),
    1: bytes([GREY, 0, 0, 0]),
    2: bytes(4),
    3: bytes([128, 0, 0, 0]),
    4: bytes(4),
}


@pytest.mark.parametrize("top", range(5))
@pytest.mark.parametrize("below", range(5))
def test_blank_under_every_filter(top: int, below: int) -> None:
    rows = [(top, PLAIN_TOP[top]), *[(below, PLAIN_BELOW[below])] * 3]
    plain = filtered(rows)
    with Image.open(BytesIO(plain)) as image:
        assert image.getextrema() == (GREY, GREY)
    assert [f.kind for f in check_png(plain, SMALL, DPI)] == ["blank"]
    rows[2] = (below, bytes([*rows[2][1][:3], rows[2][1][3] ^ 1]))
    assert check_png(filtered(rows), SMALL, DPI) == ()


def test_another_size_is_found() -> None:
    larger = A_CM.replace(b"10", b"11")
    assert [f.kind for f in check_png(picture(), larger, DPI)] == ["pixels"]


def test_another_resolution_is_found() -> None:
    assert [f.kind for f in check_png(picture(dpi=72), A_CM, DPI)] == ["resolution"]


def test_300_dpi_is_11811_pixels_a_metre() -> None:
    sound = picture()
    at = sound.index(b"pHYs") + 4
    assert struct.unpack_from(">IIB", sound, at) == (11811, 11811, 1)


@pytest.mark.parametrize(
    "spoilt",
    [
        b"",
        b"GIF89a",
        picture()[: len(picture()) // 2],
        picture()[:-12],
        picture().replace(b"IDAT", b"IDAX"),
        picture()[:60] + bytes([picture()[60] ^ 1]) + picture()[61:],
        filtered([(5, bytes(4))] * 4),
        filtered([(0, bytes(4))] * 3 + [(0, bytes(3))]),
    ],
)
def test_what_is_no_sound_png_is_found(spoilt: bytes) -> None:
    assert [f.kind for f in check_png(spoilt, A_CM, DPI)][-1:] == ["png"]


def with_paper(colour: str) -> bytes:
    """The drawing with a paper of that colour."""
    sheet = f'><path data-role="paper" fill="{colour}" d="M0 0H10V12.7H0Z"/></svg>'
    return A_CM.replace(b"/>", sheet.encode())


@pytest.mark.parametrize("mode", ["1", "L", "P", "RGB"])
def test_the_paper_is_the_drawings(mode: str) -> None:
    assert check_png(picture(mode), with_paper("#ffffff"), DPI) == ()
    assert [f.kind for f in check_png(picture(mode), with_paper("#fdfcf7"), DPI)] == ["paper"]


def test_clear_paper_is_no_white_paper() -> None:
    assert check_png(picture("RGBA"), A_CM, DPI) == ()
    found = check_png(picture("RGBA"), with_paper("#ffffff"), DPI)
    assert [(f.kind, f.found) for f in found] == [("paper", "#000000, opacity 0")]
