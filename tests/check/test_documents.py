"""The check of a folder's PDF: sound ones pass, other programs' copies too, and faults are told."""

from __future__ import annotations

import io
import os
import re
import shutil
import time
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pytest
from cli.program import gussetry
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

from gussetry.check import documents, pdf
from gussetry.check.documents import compare_documents
from gussetry.check.evidence import gather
from gussetry.check.painting import shown
from gussetry.findings import Finding

SPEC = """\
pattern: Cove
credit: Drawn for a test
caption: Worked in a spiral.
gauge: {over: 10 cm, stitches: 12, rounds: 13}
yarns: {A: {name: slate, colour: "#475569"}}
sizes: {S: {hand circumference: 12 cm}, M: {hand circumference: 14 cm}}
cuff: {style: none}
"""
PDF = "pages/a4.pdf"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with pages for each size."""
    made = tmp_path_factory.mktemp("documents")
    (made / "cove.yaml").write_text(SPEC, encoding="utf-8")
    done = gussetry("pages", "-q", "--paper", "A4", made / "cove.yaml", "-o", made / "out")
    assert done.returncode == 0, done.stderr
    return made / "out"


@pytest.fixture(autouse=True)
def converted_once() -> Iterator[None]:
    """Pages are converted and cut once for all tests."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(documents, "converted", _CONVERTED)
        patch.setattr(documents, "cut", _CUT)
        yield


_CONVERTED, _CUT = cache(documents.converted), cache(documents.cut)


def told(folder: Path, tmp_path: Path, content: bytes) -> list[Finding]:
    """What is found where the folder's PDF is that."""
    spoilt = tmp_path / "out"
    if not spoilt.exists():
        shutil.copytree(folder, spoilt)
    (spoilt / PDF).write_bytes(content)
    return list(compare_documents(gather(spoilt)))


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


def test_a_sound_document_passes(folder: Path, tmp_path: Path) -> None:
    assert told(folder, tmp_path, (folder / PDF).read_bytes()) == []


def test_the_command_reads_the_document(folder: Path, tmp_path: Path) -> None:
    spoilt = tmp_path / "out"
    shutil.copytree(folder, spoilt)
    writer = opened(folder)
    writer.remove_page(1)
    (spoilt / PDF).write_bytes(written(writer))
    done = gussetry("check", spoilt)
    assert done.returncode == 1
    assert "another number of pages" in done.stdout


# --- the same in other words --------------------------------------------------------------------


def in_other_numbers(content: bytes) -> bytes:
    """The same shapes with fewer digits, other blanks, a comment, and rectangles as lines."""

    def box(found: re.Match[bytes]) -> bytes:
        x, y, w, h = (float(found[n]) for n in range(1, 5))
        return (f"{x} {y} m {x + w} {y} l {x + w} {y + h} l {x} {y + h} l h").encode()

    number = rb"(-?[\d.]+)\s+"
    content = re.sub(number * 4 + rb"re\b", box, content)
    short = re.sub(rb"\d+\.\d{3,}", lambda n: b"%.3f" % float(n[0]), content)
    return b"% saved again\n" + short.replace(b" m ", b"  m\n")


def test_the_same_shapes_in_other_words_pass(folder: Path, tmp_path: Path) -> None:
    writer = opened(folder)
    for number in (0, len(writer.pages) - 1):
        before = painted(writer, number)
        paint(writer, number, in_other_numbers(before))
        assert painted(writer, number) != before
    writer.compress_identical_objects()
    assert told(folder, tmp_path, written(writer)) == []


def test_a_stream_in_several_pieces_passes(folder: Path, tmp_path: Path) -> None:
    writer = opened(folder)
    content = painted(writer, 0)
    middle = content.index(b"\n", len(content) // 2) + 1
    pieces = ArrayObject()
    for piece in (content[:middle], content[middle:]):
        stream = DecodedStreamObject()
        stream.set_data(piece)
        pieces.append(writer._add_object(stream.flate_encode()))
    writer.pages[0][NameObject("/Contents")] = pieces
    assert told(folder, tmp_path, written(writer)) == []


# --- faults -------------------------------------------------------------------------------------


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


@pytest.mark.parametrize("spoil", FAULTS, ids=lambda spoil: spoil.__name__)
def test_a_fault_is_told_and_nothing_else(
    folder: Path, tmp_path: Path, spoil: Callable[[PdfWriter], None]
) -> None:
    kind, words = FAULTS[spoil]
    writer = opened(folder)
    spoil(writer)
    found = told(folder, tmp_path, written(writer))
    assert found
    for one in found:
        assert one.kind == kind, (one.kind, one.message)
        assert one.file == PDF
    assert words in found[0].message
    # Two pages that changed places, or a font that all pages share.
    assert len(found) <= len(writer.pages)
    sure = "unclear" if spoil is paste_a_picture else "certain"
    assert {one.sure for one in found} == {sure}


def test_a_page_of_the_folder_that_is_another_is_told(folder: Path, tmp_path: Path) -> None:
    spoilt = tmp_path / "out"
    shutil.copytree(folder, spoilt)
    page = spoilt / "pages/a4-S-1.svg"
    svg = page.read_text(encoding="utf-8")
    page.write_text(svg.replace("<title>Cove", "<title>Dove", 1), encoding="utf-8")
    # The page's own title is not painted, and the document still shows it as it is.
    assert list(compare_documents(gather(spoilt))) == []
    page.write_text(re.sub(r'(<path [^>]*data-role="outline")', r'\1 display="none"', svg, count=1))
    (found,) = compare_documents(gather(spoilt))
    assert (found.kind, found.expected) == ("picture", "pages/a4-S-1.svg")


# --- broken and hostile -------------------------------------------------------------------------


def bomb() -> bytes:
    """A page that unpacks to far more than is looked at."""
    writer = PdfWriter()
    writer.add_blank_page(100, 100)
    stream = DecodedStreamObject()
    stream.set_data(b" " * 300_000_000)
    writer.pages[0][NameObject("/Contents")] = writer._add_object(stream.flate_encode(9))
    return written(writer)


def ring() -> bytes:
    """Pages that hold themselves."""
    return (
        b"%PDF-1.4\n1 0 obj <</Type/Catalog/Pages 2 0 R>> endobj\n"
        b"2 0 obj <</Type/Pages/Kids[2 0 R 2 0 R]/Count 9>> endobj\n"
        b"trailer <</Root 1 0 R/Size 3>>\nstartxref\n0\n%%EOF\n"
    )


def nest() -> bytes:
    """Brackets within brackets."""
    deep = b"[" * 100_000
    return b"%PDF-1.4\n1 0 obj <</Type/Catalog/Pages " + deep + b">> endobj\n%%EOF\n"


def locked() -> bytes:
    writer = PdfWriter()
    writer.add_blank_page(100, 100)
    writer.encrypt("secret", algorithm="RC4-128")
    return written(writer)


HOSTILE: dict[str, Callable[[bytes], bytes]] = {
    "empty": lambda _: b"",
    "no PDF": lambda _: b"GIF89a" + bytes(100),
    "cut off": lambda whole: whole[: len(whole) // 2],
    "end lost": lambda whole: whole[:-20],
    "its middle lost": lambda whole: whole[:2000] + whole[-2000:],
    "bomb": lambda _: bomb(),
    "ring": lambda _: ring(),
    "nest": lambda _: nest(),
    "locked": lambda _: locked(),
    "noise": lambda _: b"%PDF-1.7\n" + os.urandom(50_000) + b"\n%%EOF",
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_broken_or_hostile_file_is_one_finding(folder: Path, tmp_path: Path, name: str) -> None:
    content = HOSTILE[name]((folder / PDF).read_bytes())
    begun = time.monotonic()
    (found,) = told(folder, tmp_path, content)
    assert found.kind == "unreadable", found
    assert time.monotonic() - begun < pdf.SECONDS


def test_what_takes_too_long_is_not_waited_for(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pdf, "SECONDS", 0.01)
    (found,) = told(folder, tmp_path, (folder / PDF).read_bytes())
    assert (found.kind, "takes longer" in found.message) == ("unreadable", True)


def test_a_stream_is_followed_as_the_standard_has_it() -> None:
    # ISO 32000-1, 8.3.4: a matrix is applied before those so far; 8.5.2.2: v and y; 8.4.2: q and Q.
    stream = b"""q 2 0 0 2 10 20 cm 1 0 0 RG 3 w [1 2] 0 d
    0 0 m 1 1 3 4 v 5 6 7 8 y S Q (a \\(b\\) (c) \\101) Tj 0.5 g 1 2 3 4 re f*"""
    found = shown(stream, {}, {})
    line, letters, box = found.painted
    assert line.how == "S"
    assert line.steps == "mcc"
    assert line.points == ((10, 20), (10, 20), (12, 22), (16, 28), (20, 32), (24, 36), (24, 36))
    assert line.ink == (1.0, 0.0, 0.0)
    assert line.pen == (6.0, 0.0, 0.0, 10.0, 2.0, 4.0, 0.0)
    assert letters.how == "letters"
    assert (box.how, box.ink, box.points[2]) == ("f*", (0.5, 0.5, 0.5), (4.0, 6.0))
    assert found.said == ()
