"""Faults put into a folder's PDF, as a retouching program or a wrong hand leaves them."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from pathlib import Path

from pypdf import PdfWriter
from pypdf.generic import (
    ArrayObject,
    DecodedStreamObject,
    DictionaryObject,
    Fit,
    FloatObject,
    NameObject,
    NumberObject,
    RectangleObject,
    TextStringObject,
)

PDF = "pages/a4.pdf"


def written(writer: PdfWriter) -> bytes:
    with io.BytesIO() as file:
        writer.write(file)
        return file.getvalue()


def opened(folder: Path) -> PdfWriter:
    """The document, to be spoilt and written again."""
    return PdfWriter(clone_from=folder / PDF)


def painted(writer: PdfWriter, page: int) -> bytes:
    """What a page paints."""
    content = writer.pages[page].get_contents()
    assert content is not None
    return content.get_data()


def paint(writer: PdfWriter, page: int, content: bytes) -> None:
    """Makes that what a page paints."""
    stream = DecodedStreamObject()
    stream.set_data(content)
    writer.pages[page][NameObject("/Contents")] = writer._add_object(stream)


def swap_pages(writer: PdfWriter) -> None:
    kids = writer.root_object["/Pages"]["/Kids"]  # type: ignore[index]
    kids[0], kids[1] = kids[1], kids[0]
    writer.flattened_pages = None


def remove_a_page(writer: PdfWriter) -> None:
    writer.remove_page(1)


def double_a_page(writer: PdfWriter) -> None:
    writer.add_page(writer.pages[0])


def put_another_sizes_page(writer: PdfWriter) -> None:
    half = len(writer.pages) // 2
    kids = writer.root_object["/Pages"]["/Kids"]  # type: ignore[index]
    kids[0] = kids[half]


def change_a_box(writer: PdfWriter, name: str = "/TrimBox") -> None:
    box = writer.pages[1][name]
    corners = [float(corner) for corner in box]  # type: ignore[union-attr]
    corners[2] -= 3
    writer.pages[1][NameObject(name)] = RectangleObject([FloatObject(c) for c in corners])


def change_the_paper(writer: PdfWriter) -> None:
    change_a_box(writer, "/MediaBox")


def turn_a_page(writer: PdfWriter) -> None:
    writer.pages[0][NameObject("/Rotate")] = NumberObject(90)


def change_the_title(writer: PdfWriter) -> None:
    writer.add_metadata({"/Title": "Another"})


def change_the_author(writer: PdfWriter) -> None:
    writer.add_metadata({"/Author": "Somebody else"})


def change_the_language(writer: PdfWriter) -> None:
    writer.root_object[NameObject("/Lang")] = TextStringObject("de")


def first_mark(writer: PdfWriter, depth: int) -> DictionaryObject:
    """The first bookmark at a depth."""
    mark = writer.root_object["/Outlines"]
    for _ in range(depth + 1):
        mark = mark["/First"]  # type: ignore[index]
    found = mark.get_object()
    assert isinstance(found, DictionaryObject)
    return found


def lead_a_bookmark_astray(writer: PdfWriter) -> None:
    mark = first_mark(writer, 1)
    mark["/A"]["/D"][0] = writer.pages[-1].indirect_reference  # type: ignore[index]


def lead_a_bookmark_too_low(writer: PdfWriter) -> None:
    mark = first_mark(writer, 1)
    mark["/A"]["/D"][2] = FloatObject(100)  # type: ignore[index]


def rename_a_bookmark(writer: PdfWriter) -> None:
    first_mark(writer, 1)[NameObject("/Title")] = TextStringObject("Nothing")


def drop_the_bookmarks(writer: PdfWriter) -> None:
    del writer.root_object["/Outlines"]


def add_a_bookmark(writer: PdfWriter) -> None:
    writer.add_outline_item(title="More", page_number=0, fit=Fit.fit())


def change_a_word(writer: PdfWriter) -> None:
    content = painted(writer, 0)
    words = list(re.finditer(rb"<([0-9a-f]{8,})> Tj", content))
    digits = words[3][1]
    changed = digits[2:4] + digits[:2] + digits[4:]
    assert changed != digits
    paint(writer, 0, content[: words[3].start(1)] + changed + content[words[3].end(1) :])


def show_the_words(writer: PdfWriter) -> None:
    content = painted(writer, 0)
    fonts = writer.pages[0]["/Resources"]["/Font"]  # type: ignore[index]
    for drawing in fonts["/Unseen"]["/CharProcs"].values():
        drawing.get_object().set_data(b"500 0 d0 0 0 400 400 re f")
    assert b"/Unseen" in content


def drop_a_shape(writer: PdfWriter) -> None:
    content = painted(writer, 0)
    ends = [found.end() for found in re.finditer(rb"\bS\b", content)]
    paint(writer, 0, content[: ends[4]] + content[ends[5] :])


def move_a_shape(writer: PdfWriter) -> None:
    content = painted(writer, 0)
    place = list(re.finditer(rb"([\d.]+) ([\d.]+) m\b", content))[40]
    moved = b"%.3f" % (float(place[1]) + 0.5)
    paint(writer, 0, content[: place.start(1)] + moved + content[place.end(1) :])


def change_an_ink(writer: PdfWriter) -> None:
    content = painted(writer, 0)
    ink = re.search(rb"\b[\d.]+ [\d.]+ [\d.]+ RG\b", content)
    assert ink is not None
    paint(writer, 0, content[: ink.start()] + b"0.9 0.9 0.9 RG" + content[ink.end() :])


def cover_a_page(writer: PdfWriter) -> None:
    paint(writer, 0, painted(writer, 0) + b"\nq 1 1 1 rg 100 100 50 50 re f Q\n")


def clip_a_page(writer: PdfWriter) -> None:
    paint(writer, 0, b"0 0 300 300 re W n\n" + painted(writer, 0))


def fade_a_page(writer: PdfWriter) -> None:
    states = writer.pages[0]["/Resources"]["/ExtGState"]  # type: ignore[index]
    for state in states.values():
        state.get_object()[NameObject("/ca")] = FloatObject(0.2)


def paste_a_picture(writer: PdfWriter) -> None:
    paint(writer, 0, painted(writer, 0) + b"\nq 100 0 0 100 50 50 cm /Im1 Do Q\n")


def write_on_a_page(writer: PdfWriter) -> None:
    paint(writer, 0, painted(writer, 0) + b"\nBT /Unseen 12 Tf 0 Tr 100 100 Td (abc) Tj ET\n")


def lay_a_note(writer: PdfWriter) -> None:
    note = DictionaryObject({NameObject("/Type"): NameObject("/Annot")})
    writer.pages[0][NameObject("/Annots")] = ArrayObject([writer._add_object(note)])


def act_on_opening(writer: PdfWriter) -> None:
    action = DictionaryObject({NameObject("/S"): NameObject("/JavaScript")})
    writer.root_object[NameObject("/OpenAction")] = action


FAULTS: dict[Callable[[PdfWriter], None], tuple[str, str]] = {
    swap_pages: ("page", "page 1 is another"),
    remove_a_page: ("page", "another number of pages"),
    double_a_page: ("page", "another number of pages"),
    put_another_sizes_page: ("page", "page 1 is another"),
    change_a_box: ("page", "page 2 has another trim box"),
    change_the_paper: ("page", "page 2 has another media box"),
    turn_a_page: ("page", "page 1 is turned"),
    change_the_title: ("title", "title is another"),
    change_the_author: ("title", "author is another"),
    change_the_language: ("title", "language is another"),
    lead_a_bookmark_astray: ("reference", "leads to another page"),
    lead_a_bookmark_too_low: ("reference", "leads to another place"),
    rename_a_bookmark: ("reference", "bookmarks are others"),
    drop_the_bookmarks: ("reference", "bookmarks are others"),
    add_a_bookmark: ("reference", "bookmarks are others"),
    change_a_word: ("text", "page 1 says other words"),
    show_the_words: ("picture", "page 1 paints something else"),
    drop_a_shape: ("picture", "page 1 paints something else"),
    move_a_shape: ("picture", "page 1 paints something else"),
    change_an_ink: ("picture", "page 1 paints something else"),
    cover_a_page: ("picture", "page 1 paints something else"),
    clip_a_page: ("picture", "page 1 paints something else"),
    fade_a_page: ("picture", "page 1 paints something else"),
    write_on_a_page: ("picture", "page 1 paints something else"),
    paste_a_picture: ("picture", "holds pictures or forms"),
    lay_a_note: ("hidden", "page 1 has notes"),
    act_on_opening: ("hidden", "holds"),
}
