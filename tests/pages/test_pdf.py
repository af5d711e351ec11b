"""The PDF of finished pages, read back by other people's readers."""

from __future__ import annotations

import io
import shutil
import subprocess
from functools import cache
from pathlib import Path
from typing import Any

import numpy
import pytest
from pages.making import SMALL, composed
from pdfminer.high_level import extract_text
from pdfminer.pdfdocument import PDFDocument
from pdfminer.pdfpage import PDFPage
from pdfminer.pdfparser import PDFParser
from pdfminer.utils import decode_text
from PIL import Image, ImageFilter

from gussetry.export.pdf import POINTS, About, Bookmark, Boxes, Words, joined, page_pdf
from gussetry.export.png import png_bytes
from gussetry.pages.compose import drawing, words
from gussetry.pages.papers import sheet_of

DPI = 150
FINE = 200
"""Dots an inch at which no pen is thinner than a pixel; poppler moves thinner ones."""
SOFT = 20
"""Levels of 255 by which a pixel of a page rendered by poppler's cairo may differ from the page's
own picture after a 3 × 3 blur: measured 8 at most, 14 on the pages of larger patterns, with a
margin."""
SNAPPED = 60
"""The same of poppler's own painter, which draws strokes on whole pixels, at twice the dots and
halved: measured 32 at most, with a margin."""

poppler = pytest.mark.skipif(
    shutil.which("pdftoppm") is None, reason="needs poppler-utils: pdftoppm, pdftocairo, pdftotext"
)


@cache
def document() -> bytes:
    """The pages of the small pattern as one PDF."""
    made = composed()
    one = made.made_of
    sheet = sheet_of(made.paper, one.style)
    boxes = Boxes(sheet.width, sheet.height, sheet.edge, sheet.bleed)
    pages = [
        (page_pdf(svg, sheet.height, words(page, one.running, sheet, one.style)), boxes)
        for page, svg in zip(made.pages, made.svgs, strict=True)
    ]
    marks = [Bookmark("Size S", 0, 0.0)]
    marks += [
        Bookmark(item.chart.title, page.number - 1, item.at.y, 0)
        for page in made.pages
        for item in page.items
    ]
    return joined(pages, marks, About("Cove", "Drawn for a test", "en-US", "gussetry"))


def parsed() -> PDFDocument:
    return PDFDocument(PDFParser(io.BytesIO(document())))


def test_every_page_has_exact_boxes() -> None:
    pages = list(PDFPage.create_pages(parsed()))
    assert len(pages) == len(composed().pages)
    for page in pages:
        for box in (page.mediabox, page.cropbox, page.attrs["TrimBox"], page.attrs["BleedBox"]):
            assert [float(side) for side in box] == pytest.approx(
                [0, 0, 210 * POINTS, 297 * POINTS], abs=1e-3
            )


def test_a_bleed_lies_between_page_and_cut() -> None:
    svg = b'<svg xmlns="http://www.w3.org/2000/svg" width="226mm" height="313mm"/>'
    pdf = joined([(page_pdf(svg, 313, ()), Boxes(226, 313, 8, 3))], [], About("", "", "en", ""))
    (page,) = PDFPage.create_pages(PDFDocument(PDFParser(io.BytesIO(pdf))))
    trim, bleed = ([float(v) for v in page.attrs[name]] for name in ("TrimBox", "BleedBox"))
    assert trim == pytest.approx([8 * POINTS, 8 * POINTS, 218 * POINTS, 305 * POINTS], abs=1e-3)
    assert bleed == pytest.approx([5 * POINTS, 5 * POINTS, 221 * POINTS, 308 * POINTS], abs=1e-3)


def test_the_document_says_what_it_is_and_no_date() -> None:
    found: dict[str, Any] = parsed().info[0]
    said = {key: decode_text(value) for key, value in found.items()}
    assert said == {"Title": "Cove", "Author": "Drawn for a test", "Producer": "gussetry"}
    assert decode_text(parsed().catalog["Lang"]) == "en-US"


def test_bookmarks_lead_to_every_chart() -> None:
    found = [(level, title) for level, title, *_ in parsed().get_outlines()]
    titles = [item.chart.title for page in composed().pages for item in page.items]
    assert found == [(1, "Size S"), *((2, title) for title in titles)]


def test_the_words_of_every_page_can_be_read() -> None:
    made = composed()
    for number in range(len(made.pages)):
        text = extract_text(io.BytesIO(document()), page_numbers=[number])
        shown = "".join(text.split())
        for line in made.words(number):
            told = "".join(line.split())
            # Words that stand upright are read here from the top of the page, letter by letter.
            assert told in shown or told[::-1] in shown, line


def test_words_of_any_script_can_be_read() -> None:
    svg = b'<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm"/>'
    said = "Łódź – ½ 𝌆 ∞"
    pdf = page_pdf(svg, 100, [Words(said, 10, 20, 60, 4)])
    assert said in extract_text(io.BytesIO(pdf))


def test_the_same_pages_are_the_same_bytes() -> None:
    first = document()
    document.cache_clear()
    assert document() == first
    assert b"/CreationDate" not in first


def blurred(image: Image.Image) -> numpy.ndarray[Any, Any]:
    soft = image.convert("L").filter(ImageFilter.BoxBlur(1))
    return numpy.asarray(soft, numpy.int16)


def ours(page: int, dpi: int) -> Image.Image:
    """The page's own picture."""
    made = composed()
    one = made.made_of
    inked = drawing(made.pages[page], one.running, sheet_of(made.paper, one.style), one.style)
    return Image.open(io.BytesIO(png_bytes(made.svgs[page], inked, dpi)))


def apart(one: Image.Image, other: Image.Image) -> int:
    """By how many levels two pictures of a page differ at most."""
    assert abs(one.width - other.width) <= 1
    assert abs(one.height - other.height) <= 1
    box = (0, 0, min(one.width, other.width), min(one.height, other.height))
    return int(numpy.abs(blurred(one.crop(box)) - blurred(other.crop(box))).max())


@poppler
def test_every_page_is_painted_as_its_svg(tmp_path: Path) -> None:
    (tmp_path / "pages.pdf").write_bytes(document())
    subprocess.run(
        ["pdftocairo", "-png", "-r", str(FINE), tmp_path / "pages.pdf", tmp_path / "page"],
        check=True, timeout=60,
    )  # fmt: skip
    pictures = sorted(tmp_path.glob("page*.png"))
    assert len(pictures) == len(composed().pages)
    for number, picture in enumerate(pictures):
        with Image.open(picture) as painted:
            assert apart(ours(number, FINE), painted) <= SOFT, number + 1


@poppler
def test_a_painter_of_another_kind_shows_the_same(tmp_path: Path) -> None:
    (tmp_path / "pages.pdf").write_bytes(document())
    subprocess.run(
        ["pdftoppm", "-gray", "-r", str(4 * DPI), "-f", "2", "-l", "2", "-singlefile",
         tmp_path / "pages.pdf", tmp_path / "page"],
        check=True, timeout=60,
    )  # fmt: skip
    with Image.open(tmp_path / "page.pgm") as painted:
        assert apart(ours(1, 2 * DPI), painted.reduce(2)) <= SNAPPED


@poppler
def test_a_page_that_lost_a_line_is_told_from_its_svg(tmp_path: Path) -> None:
    made = composed()
    lost = made.svgs[1].replace(b'class="stitch"', b'class="stitch" display="none"', 1)
    assert lost != made.svgs[1]
    (tmp_path / "page.pdf").write_bytes(page_pdf(lost, 297, ()))
    subprocess.run(
        ["pdftocairo", "-png", "-r", str(DPI), "-singlefile", tmp_path / "page.pdf",
         tmp_path / "page"],
        check=True, timeout=60,
    )  # fmt: skip
    with Image.open(tmp_path / "page.png") as painted:
        assert apart(ours(1, DPI), painted) > SNAPPED


@poppler
def test_another_reader_finds_the_words(tmp_path: Path) -> None:
    (tmp_path / "pages.pdf").write_bytes(document())
    done = subprocess.run(
        ["pdftotext", "-f", "1", "-l", "1", tmp_path / "pages.pdf", "-"],
        check=True, capture_output=True, timeout=60,
    )  # fmt: skip
    shown = done.stdout.decode()
    assert "Cove" in shown
    assert "page 1 of" in shown
    assert "Worked in a spiral" in " ".join(shown.split())
    assert SMALL.startswith("pattern: Cove")
