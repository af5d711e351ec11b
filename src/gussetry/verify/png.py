"""A finished PNG read back: its size, its resolution, and that it shows something."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator

from gussetry.verify.findings import Disagreement, UnreadableError
from gussetry.verify.svg import page_size, parse

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


def _blank(chunks: list[tuple[bytes, bytes]], header: bytes) -> bool:
    """True where every pixel is the same. `UnreadableError` where the pixels do not decode."""
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
    return _uniform(pixels, row, max(1, depth * _CHANNELS[kind] // 8), filters, depth)


def _uniform(pixels: bytes, row: int, unit: int, filters: bytes, depth: int) -> bool:
    """True where all pixels are one colour, told without undoing the rows' filters.

    A plain area filters to zeros but for its first pixel and row, so that rows are compared with
    the one row that a plain picture would have under their filter.
    """
    first = pixels[1 : 1 + row]
    start = first[:unit]
    plain = start * (row // unit + 1)
    zero = bytes(row)
    # None; Sub; Up, Average, Paeth of a row below an equal one; the same at the top.
    half = bytes((value - value // 2) & 255 for value in start)
    below = {
        0: plain[:row],
        1: start + zero[unit:],
        2: zero,
        3: half + zero[unit:],
        4: zero,
    }
    top = {
        0: plain[:row],
        1: start + zero[unit:],
        2: plain[:row],
        3: start + bytes((v - v // 2) & 255 for v in plain[: row - unit]),
        4: start + zero[unit:],
    }
    if pixels[1 : 1 + row] != top[filters[0]] or (depth < 8 and not _one_value(start[0], depth)):
        return False
    at = 0
    for form in filters:
        at += 1
        if at > 1 and pixels[at : at + row] != below[form]:
            return False
        at += row
    return True


def _one_value(byte: int, depth: int) -> bool:
    """True where the pixels packed into a byte are all alike."""
    mask = (1 << depth) - 1
    return len({(byte >> shift) & mask for shift in range(0, 8, depth)}) == 1


def check_png(png: bytes, svg: bytes, dpi: int) -> tuple[Disagreement, ...]:
    """What is wrong with the PNG of an SVG: pixels for the SVG's millimetres at `dpi`, pHYs, that
    it decodes, and that it is not blank."""
    try:
        wide, high = page_size(parse(svg))
        chunks = list(_chunks(png))
        if not chunks or chunks[0][0] != b"IHDR" or len(chunks[0][1]) != 13:
            raise UnreadableError("the PNG has no header")
        if chunks[-1][0] != b"IEND":
            raise UnreadableError("the PNG has no end")
        header = chunks[0][1]
        findings = _sizes(chunks, header, (wide, high), dpi)
        if _blank(chunks, header):
            findings.append(Disagreement("blank", "the PNG shows nothing"))
    except UnreadableError as fault:
        return (Disagreement("png", str(fault)),)
    return tuple(findings)


def _sizes(
    chunks: list[tuple[bytes, bytes]], header: bytes, page: tuple[float, float], dpi: int
) -> list[Disagreement]:
    findings = []
    found = struct.unpack_from(">II", header)
    wanted = tuple(int(side * dpi / 25.4 + 0.5) for side in page)
    if found != wanted:
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
