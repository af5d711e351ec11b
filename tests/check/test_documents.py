"""The check of a folder's PDF: sound ones pass, other programs' copies too, and faults are told."""

from __future__ import annotations

import re
import shutil
import time
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from random import Random

import pytest
from check.mutating_documents import FAULTS, PDF, opened, paint, painted, paste_a_picture, written
from check.paged import SPEC
from cli.program import gussetry
from pypdf import PdfWriter
from pypdf.generic import ArrayObject, DecodedStreamObject, NameObject

from gussetry.check import documents, pdf
from gussetry.check.documents import compare_documents
from gussetry.check.evidence import gather
from gussetry.check.painting import shown
from gussetry.findings import Finding


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
    "noise": lambda _: b"%PDF-1.7\n" + Random(7).randbytes(50_000) + b"\n%%EOF",
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
