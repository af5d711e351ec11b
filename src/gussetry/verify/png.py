"""A finished PNG read back: its size, its resolution, its paper, and that it shows something."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator
from typing import NamedTuple

from gussetry.verify.findings import Disagreement, UnreadableError
from gussetry.verify.reading import paper, read

_SIGNATURE = b"\x89PNG\r\n\x1a\n"
_MOST_PIXELS = 200_000_000


def _chunks(png: bytes) -> Iterator[tuple[bytes, bytes]]:
    """The chunks of a PNG, each sum checked (PNG, third edition, clause 5.3)."""
    if not png.startswith(_SIGNATURE):
        raise UnreadableError("not a PNG")
    at = len(_SIGNATURE)
    while at < len(png):
        if at + 12 > len(png):
            raise UnreadableError("the PNG is cut short")
        (size,) = struct.unpack_from(">I", png, at)
        kind = png[at + 4 : at + 8]
        body = png[at + 8 : at + 8 + size]
        end = at + 8 + size
        if len(png) < end + 4:
            raise UnreadableError("the PNG is cut short")
        (check,) = struct.unpack_from(">I", png, end)
        if zlib.crc32(body, zlib.crc32(kind)) != check:
            raise UnreadableError(f"chunk {kind!r} of the PNG is damaged")
        yield kind, body
        at = end + 4


_CHANNELS = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}


class _Picture(NamedTuple):
    """Whether every pixel is the same, and the bytes of the one at the upper left."""

    blank: bool
    corner: bytes


def _picture(chunks: list[tuple[bytes, bytes]], header: bytes) -> _Picture:
    """What the pixels show. `UnreadableError` where they do not decode."""
    width, height, depth, kind, _, _, interlaced = struct.unpack(">IIBBBBB", header)
    if kind not in _CHANNELS or interlaced or width * height > _MOST_PIXELS:
        raise UnreadableError("the PNG is of a form that the recount does not read")
    row = (width * depth * _CHANNELS[kind] + 7) // 8
    want = (row + 1) * height
    inflate = zlib.decompressobj()
    data = b"".join(body for name, body in chunks if name == b"IDAT")
    try:
        pixels = inflate.decompress(data, want + 1)
    except zlib.error as fault:
        raise UnreadableError(f"the PNG does not decode: {fault}") from fault
    if len(pixels) != want or not inflate.eof:
        raise UnreadableError("the PNG has another number of pixels than it says")
    filters = pixels[:: row + 1]
    if max(filters) > 4:
        raise UnreadableError("the PNG has a row in no known form")
    first = pixels[1 : 1 + row]
    if filters[0] not in (0, 2):
        first = _unfiltered(first, max(1, depth * _CHANNELS[kind] // 8), filters[0])
    unit = max(1, depth * _CHANNELS[kind] // 8)
    blank = _alike(first, width, depth, unit) and _repeated(pixels, first, unit, filters)
    return _Picture(blank, first[:unit])


def _unfiltered(row: bytes, unit: int, form: int) -> bytes:
    """The first row of a picture with its filter undone (PNG, clause 9.2): above it lie zeros."""
    plain = bytearray(row)
    for i in range(unit, len(plain)):
        left = plain[i - unit]
        plain[i] = (plain[i] + (left // 2 if form == 3 else left)) & 255
    return bytes(plain)


def _alike(row: bytes, width: int, depth: int, unit: int) -> bool:
    """True where all pixels of a row are one colour."""
    if depth >= 8:
        return row == row[:unit] * width
    each = 8 // depth
    mask = (1 << depth) - 1
    first = row[0] >> (8 - depth)
    plain = sum(first << shift for shift in range(0, 8, depth))
    whole, rest = divmod(width, each)
    if row[:whole] != bytes([plain]) * whole:
        return False
    tail = range(8 - depth, 8 - depth * (rest + 1), -depth)
    return all((row[whole] >> shift) & mask == first for shift in tail)


def _repeated(pixels: bytes, first: bytes, unit: int, filters: bytes) -> bool:
    """True where every row is the first one again: what each filter makes of an equal row above
    is known, so that no filter need be undone."""
    size = len(first)
    known: dict[int, bytes] = {}
    for i, form in enumerate(filters[1:], 1):
        if form not in known:
            known[form] = _filtered(first, unit, form)
        at = i * (size + 1) + 1
        if pixels[at : at + size] != known[form]:
            return False
    return True


def _filtered(row: bytes, unit: int, form: int) -> bytes:
    """A row filtered below an equal one."""
    if form == 0:
        return row
    if form in (2, 4):
        # Paeth's estimate of a byte equal to the one above is that one wherever left and corner
        # agree, as they do below an equal row.
        return bytes(len(row))
    before = bytes(unit) + row[:-unit]
    if form == 1:
        return bytes((x - a) & 255 for x, a in zip(row, before, strict=True))
    return bytes((x - (a + x) // 2) & 255 for x, a in zip(row, before, strict=True))


def check_png(png: bytes, svg: bytes, dpi: int) -> tuple[Disagreement, ...]:
    """What is wrong with the PNG of an SVG: pixels for the SVG's millimetres at `dpi`, pHYs, that
    it decodes, that it is not blank, and that its paper is the SVG's."""
    try:
        page = read(svg)
        chunks = list(_chunks(png))
        if not chunks or chunks[0][0] != b"IHDR" or len(chunks[0][1]) != 13:
            raise UnreadableError("the PNG has no header")
        if chunks[-1][0] != b"IEND":
            raise UnreadableError("the PNG has no end")
        header = chunks[0][1]
        findings = _sizes(chunks, header, (page.width, page.height), dpi)
        picture = _picture(chunks, header)
        if picture.blank:
            findings.append(Disagreement("blank", "the PNG shows nothing"))
        findings += _ground(chunks, header, picture.corner, paper(page))
    except UnreadableError as fault:
        return (Disagreement("png", str(fault)),)
    return tuple(findings)


def _corner_colour(
    chunks: list[tuple[bytes, bytes]], header: bytes, corner: bytes
) -> tuple[int, int, int, int]:
    """Red, green, blue and opacity of the pixel at the upper left, 0 to 255."""
    depth, kind = header[8], header[9]
    parts = dict(chunks)
    if kind in (0, 3) and depth < 8:
        corner = bytes([corner[0] >> (8 - depth)])
    step = depth // 8 if depth >= 8 else 1
    values = list(corner[::step])
    clear = parts.get(b"tRNS", b"")
    if kind == 3:
        at = values[0]
        colours = parts.get(b"PLTE", b"")
        if len(colours) < 3 * at + 3:
            raise UnreadableError("the PNG's palette lacks a colour that it uses")
        red, green, blue = colours[3 * at : 3 * at + 3]
        return red, green, blue, clear[at] if at < len(clear) else 255
    if kind in (0, 4):
        grey = values[0] * 255 // ((1 << depth) - 1) if depth < 8 else values[0]
        return grey, grey, grey, values[1] if kind == 4 else 255
    return values[0], values[1], values[2], values[3] if kind == 6 else 255


def _ground(
    chunks: list[tuple[bytes, bytes]], header: bytes, corner: bytes, paper: str
) -> list[Disagreement]:
    """A paper of another colour than the drawing's; without paper, neither clear nor white."""
    *found, opacity = _corner_colour(chunks, header, corner)
    if not paper and opacity == 0:
        return []
    wanted = [int((paper or "#ffffff")[i : i + 2], 16) for i in (1, 3, 5)]
    if opacity == 255 and max(abs(a - b) for a, b in zip(found, wanted, strict=True)) <= 1:
        return []
    shown = "#" + bytes(found).hex() + ("" if opacity == 255 else f", opacity {opacity}")
    return [Disagreement("paper", "the PNG's paper is of another colour",
                         expected=paper or "clear or #ffffff", found=shown)]  # fmt: skip


def _sizes(
    chunks: list[tuple[bytes, bytes]], header: bytes, page: tuple[float, float], dpi: int
) -> list[Disagreement]:
    findings = []
    found = struct.unpack_from(">II", header)
    exact = [side * dpi / 25.4 for side in page]
    # The SVG's millimetres are rounded themselves: at half a pixel either neighbour is right.
    if any(abs(f - e) > 0.52 for f, e in zip(found, exact, strict=True)):
        wanted = [int(side + 0.5) for side in exact]
        findings.append(
            Disagreement("pixels", "the PNG has another size than the drawing",
                         expected=f"{wanted[0]} × {wanted[1]}", found=f"{found[0]} × {found[1]}")
        )  # fmt: skip
    metre = round(dpi / 0.0254)
    marks = [body for kind, body in chunks if kind == b"pHYs"]
    if marks != [struct.pack(">IIB", metre, metre, 1)]:
        findings.append(
            Disagreement("resolution", "the PNG's pHYs is not its resolution",
                         expected=f"{metre} px/m", found=marks[0].hex() if marks else "none")
        )  # fmt: skip
    return findings
