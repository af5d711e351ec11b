"""Pages as one PDF: vectors kept, boxes exact, the same bytes every time. The only module that
knows pypdf."""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from pypdf import PdfWriter

POINTS = 72 / 25.4
"""Points in a millimetre (ISO 32000-1, 8.3.2.3: a unit of user space is 1/72 in)."""


class Words(NamedTuple):
    """A line of words on a page, mm from its upper left corner: where its baseline begins, how wide
    it runs, how high its letters are, and by how many degrees it is turned anticlockwise."""

    text: str
    x: float
    y: float
    width: float
    size: float
    turned: float = 0.0


class Boxes(NamedTuple):
    """A page's size, how far its cut and its bleed lie within, all mm."""

    width: float
    height: float
    trim: float
    bleed: float


class Bookmark(NamedTuple):
    """An entry of the outline: its words, its page from 0, how far down it stands on it, mm, and
    the place of the entry that it stands under, None at the top."""

    title: str
    page: int
    down: float
    under: int | None = None


class About(NamedTuple):
    """What the document says of itself."""

    title: str
    author: str
    language: str
    producer: str


def page_pdf(svg: bytes, height: float, words: Sequence[Words]) -> bytes:
    """A page's SVG as a PDF of one page, `height` mm high, its letters outlines; over them the
    `words` unseen, to be searched, copied and read aloud. OSError without libcairo."""
    import cairosvg
    from pypdf import PdfReader, PdfWriter

    with io.BytesIO(cairosvg.svg2pdf(bytestring=svg)) as file:
        writer = PdfWriter()
        page = writer.add_page(PdfReader(file).pages[0])
    if words:
        _say(writer, page, height, words)
    with io.BytesIO() as file:
        writer.write(file)
        return file.getvalue()


_WIDE = 500
"""How wide every letter of the unseen font is, thousandths of its height; each line is stretched to
the width that its outlines have."""


def _say(writer: PdfWriter, page: Any, height: float, words: Sequence[Words]) -> None:
    """Puts words on a page in a font whose letters are all empty, at most 255 different ones."""
    from pypdf.generic import DecodedStreamObject, DictionaryObject, NameObject

    letters = sorted({letter for line in words for letter in line.text})[:255]
    codes = {letter: code for code, letter in enumerate(letters, 1)}
    shown = ["BT 3 Tr"]
    for line in words:
        turn = math.radians(line.turned)
        cos, sin = f"{math.cos(turn):.4f}", f"{math.sin(turn):.4f}"
        minus = f"{-math.sin(turn):.4f}"
        at = f"{line.x * POINTS:.3f} {(height - line.y) * POINTS:.3f}"
        size = line.size * POINTS
        stretch = 100 * line.width / (line.size * _WIDE / 1000 * len(line.text))
        data = bytes(codes[letter] for letter in line.text if letter in codes).hex()
        shown.append(f"/Unseen {size:.3f} Tf {stretch:.2f} Tz")
        shown.append(f"{cos} {sin} {minus} {cos} {at} Tm <{data}> Tj")
    stream = DecodedStreamObject()
    stream.set_data("\n".join(["q", *shown, "ET", "Q", ""]).encode("ascii"))
    # The painted page may leave its own coordinates behind: they are put back before the words.
    before, after = DecodedStreamObject(), DecodedStreamObject()
    before.set_data(b"q\n")
    after.set_data(b"\nQ\n")
    painted = page[NameObject("/Contents")]
    parts = [before, *(painted if isinstance(painted, list) else [painted]), after, stream]
    _contents(writer, page, parts)
    fonts = DictionaryObject({NameObject("/Unseen"): writer._add_object(_font(writer, letters))})
    page[NameObject("/Resources")][NameObject("/Font")] = fonts


def _contents(writer: PdfWriter, page: Any, parts: Sequence[Any]) -> None:
    """Makes the parts, in order, what the page paints, as one packed stream."""
    from pypdf.generic import DecodedStreamObject, NameObject

    whole = DecodedStreamObject()
    whole.set_data(b"".join(part.get_object().get_data() for part in parts))
    page[NameObject("/Contents")] = writer._add_object(whole.flate_encode())


def _font(writer: PdfWriter, letters: Sequence[str]) -> Any:
    """A font of empty letters (ISO 32000-1, 9.6.5, Type 3), with what each of them means."""
    from pypdf.generic import (
        ArrayObject,
        DecodedStreamObject,
        DictionaryObject,
        FloatObject,
        NameObject,
        NumberObject,
    )

    def named(entries: dict[str, Any]) -> DictionaryObject:
        return DictionaryObject({NameObject(f"/{k}"): v for k, v in entries.items()})

    def numbers(*values: float) -> ArrayObject:
        return ArrayObject([FloatObject(value) for value in values])

    empty = DecodedStreamObject()
    empty.set_data(f"{_WIDE} 0 d0".encode("ascii"))
    drawn = writer._add_object(empty)
    names = [NameObject(f"/c{code}") for code in range(1, len(letters) + 1)]
    encoding = named({"Type": NameObject("/Encoding"),
                      "Differences": ArrayObject([NumberObject(1), *names])})  # fmt: skip
    meaning = DecodedStreamObject()
    meaning.set_data(_meaning(letters))
    return named(
        {
            "Type": NameObject("/Font"),
            "Subtype": NameObject("/Type3"),
            "FontBBox": numbers(0, 0, 0, 0),
            "FontMatrix": numbers(0.001, 0, 0, 0.001, 0, 0),
            "CharProcs": DictionaryObject(dict.fromkeys(names, drawn)),
            "Encoding": encoding,
            "FirstChar": NumberObject(1),
            "LastChar": NumberObject(len(letters)),
            "Widths": numbers(*[_WIDE] * len(letters)),
            "Resources": DictionaryObject(),
            "ToUnicode": writer._add_object(meaning.flate_encode()),
        }
    )


def _meaning(letters: Sequence[str]) -> bytes:
    """The table that gives each code its letter (ISO 32000-1, 9.10.3)."""
    told = [
        f"<{code:02x}> <{letter.encode('utf-16-be').hex()}>"
        for code, letter in enumerate(letters, 1)
    ]
    # At most a hundred entries a block.
    blocks = [told[at : at + 100] for at in range(0, len(told), 100)]
    lines = [
        "/CIDInit /ProcSet findresource begin", "12 dict begin", "begincmap",
        "/CMapName /Unseen def", "/CMapType 2 def",
        "1 begincodespacerange", "<00> <ff>", "endcodespacerange",
    ]  # fmt: skip
    for block in blocks:
        lines += [f"{len(block)} beginbfchar", *block, "endbfchar"]
    lines += ["endcmap", "CMapName currentdict /CMap defineresource pop", "end", "end"]
    return "\n".join(lines).encode("ascii")


def joined(
    pages: Sequence[tuple[bytes, Boxes]], bookmarks: Sequence[Bookmark], about: About
) -> bytes:
    """The pages, each the PDF of one page, as one document."""
    from pypdf import PdfReader, PdfWriter
    from pypdf.generic import BooleanObject, DictionaryObject, NameObject, TextStringObject

    writer = PdfWriter()
    for content, boxes in pages:
        page = writer.add_page(PdfReader(io.BytesIO(content)).pages[0])
        _box(page, boxes)
    _outline(writer, bookmarks, [boxes for _, boxes in pages])
    said = {"/Title": about.title, "/Producer": about.producer}
    if about.author:
        said["/Author"] = about.author
    # No dates: the same pages are the same bytes.
    writer.metadata = said
    root = writer.root_object
    root[NameObject("/Lang")] = TextStringObject(about.language)
    shown = {NameObject("/DisplayDocTitle"): BooleanObject(True)}
    root[NameObject("/ViewerPreferences")] = DictionaryObject(shown)
    root[NameObject("/PageMode")] = NameObject("/UseOutlines")
    writer.compress_identical_objects(remove_duplicates=True, remove_unreferenced=True)
    with io.BytesIO() as file:
        writer.write(file)
        return file.getvalue()


def _box(page: Any, boxes: Boxes) -> None:
    """Sets the page's boxes, exact to a thousandth of a point."""
    from pypdf.generic import FloatObject, NameObject, RectangleObject

    def within(by: float) -> RectangleObject:
        corners = (by, by, boxes.width - by, boxes.height - by)
        return RectangleObject([FloatObject(f"{c * POINTS:.4f}") for c in corners])

    for name, by in (
        ("/MediaBox", 0.0),
        ("/CropBox", 0.0),
        ("/BleedBox", boxes.trim - boxes.bleed),
        ("/TrimBox", boxes.trim),
    ):
        page[NameObject(name)] = within(by)


def _outline(writer: PdfWriter, bookmarks: Sequence[Bookmark], boxes: Sequence[Boxes]) -> None:
    from pypdf.generic import Fit

    made: list[Any] = []
    for mark in bookmarks:
        top = (boxes[mark.page].height - mark.down) * POINTS
        under = None if mark.under is None else made[mark.under]
        made.append(
            writer.add_outline_item(
                title=mark.title, page_number=mark.page, parent=under,
                fit=Fit.fit_horizontally(top),
            )
        )  # fmt: skip
