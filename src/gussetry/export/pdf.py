"""Pages as one PDF: vectors kept, boxes exact, the same bytes every time. The only module that
knows pypdf."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from pypdf import PdfWriter

POINTS = 72 / 25.4
"""Points in a millimetre (ISO 32000-1, 8.3.2.3: a unit of user space is 1/72 in)."""


class Words(NamedTuple):
    """A line of words on a page, mm from its upper left corner: where its baseline begins, how wide
    it runs and how high its letters are."""

    text: str
    x: float
    y: float
    width: float
    size: float


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


def page_pdf(svg: bytes) -> bytes:
    """A page's SVG as a PDF of one page. OSError without libcairo."""
    import cairosvg

    made: bytes = cairosvg.svg2pdf(bytestring=svg)
    return made


def joined(
    pages: Sequence[tuple[bytes, Boxes]], bookmarks: Sequence[Bookmark], about: About
) -> bytes:
    """The pages, each the PDF of one page, as one document."""
    from pypdf import PdfReader, PdfWriter
    from pypdf.generic import NameObject, TextStringObject

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
