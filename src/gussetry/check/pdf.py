"""A PDF taken apart by a process of its own, which may use so much time and memory and no more."""

from __future__ import annotations

import io
import json
import re
import subprocess
import sys
from collections.abc import Iterator, Mapping
from contextlib import suppress
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from pypdf import PageObject, PdfReader

SECONDS = 60
"""How long a document is read at most; one of thirty pages takes about one."""
MEMORY = 1_500_000_000
"""Bytes that reading a document may take, where the system can hold a process to them."""
MOST_PAGES = 1000
MOST_MARKS = 20_000
MOST_CONTENT = 20_000_000
"""Bytes of what one page paints that are looked at."""
MOST_CONTENT_OF_ALL = 100_000_000
"""The same of all pages together."""
MOST_LETTERS = 70_000
"""Bytes of a font's table of meanings that are looked at."""

ACTIVE = ("/OpenAction", "/AA", "/AcroForm", "/OCProperties", "/Collection")
"""What a catalogue holds that acts, asks or hides when a document is opened."""
_EMPTY = re.compile(rb"\s*-?[0-9.]+\s+-?[0-9.]+\s+d0\s*")


class NoDocumentError(Exception):
    """Raised for a file that is no PDF that can be read; says why in words."""


class Mark(NamedTuple):
    """A bookmark: how deep it stands, its words, its page from 0, None where it leads to none, and
    how far up it leads to, in points."""

    level: int
    title: str
    page: int | None
    top: float | None


class Leaf(NamedTuple):
    """A page: its boxes by name, corners in points; by how much it is turned; what it paints; the
    meanings of its fonts' codes and its graphics states, each by name; whether a font draws ink
    though it is unseen; and how many notes lie on it."""

    boxes: Mapping[str, tuple[float, ...]]
    turned: int
    content: bytes
    fonts: Mapping[str, str]
    states: Mapping[str, Mapping[str, str]]
    inked: bool
    notes: int


class Document(NamedTuple):
    """A PDF: its pages, its bookmarks, what it says of itself, and what it holds that acts."""

    pages: tuple[Leaf, ...]
    marks: tuple[Mark, ...]
    about: Mapping[str, str]
    active: tuple[str, ...]


def read_document(content: bytes) -> Document:
    """The document, read by a process of its own. `NoDocumentError` where it is none."""
    if not content.lstrip()[:5] == b"%PDF-":
        raise NoDocumentError("is no PDF")
    if b"%%EOF" not in content[-1024:]:
        raise NoDocumentError("is cut off: its end is missing")
    try:
        done = subprocess.run(
            [sys.executable, "-c", f"from {__name__} import main; main()"], input=content,
            capture_output=True, timeout=SECONDS, check=False,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        raise NoDocumentError(f"takes longer than {SECONDS} s to read: not read") from None
    try:
        told = json.loads(done.stdout)
        if reason := told.get("reason"):
            raise NoDocumentError(str(reason))
        return _document(told)
    except (ValueError, TypeError, KeyError):
        raise NoDocumentError("is broken, or takes too much memory to read") from None


def _document(told: dict[str, Any]) -> Document:
    leaves = tuple(
        Leaf(
            {name: tuple(corners) for name, corners in one["boxes"].items()}, one["turned"],
            one["content"].encode("latin-1"), one["fonts"], one["states"], one["inked"],
            one["notes"],
        )
        for one in told["pages"]
    )  # fmt: skip
    marks = tuple(Mark(*mark) for mark in told["marks"])
    return Document(leaves, marks, told["about"], tuple(told["active"]))


# --- in the process of its own ------------------------------------------------------------------


def _told(content: bytes) -> dict[str, Any]:
    """What a document holds, in plain values; `reason` where it cannot be read."""
    from pypdf import PdfReader

    reader = PdfReader(io.BytesIO(content))
    if reader.is_encrypted:
        return {"reason": "is locked: not read"}
    if len(reader.pages) > MOST_PAGES:
        return {"reason": f"has more than {MOST_PAGES} pages: not read"}
    pages = list(reader.pages)
    leaves, left = [], MOST_CONTENT_OF_ALL
    for page in pages:
        leaves.append(_leaf(page))
        left -= len(leaves[-1]["content"])
        if left < 0:
            return {"reason": "paints more than is looked at: not read"}
    root = reader.root_object
    names = _held(root, "/Names")
    active = [*(name for name in ACTIVE if name in root),
              *(name for name in ("/JavaScript", "/EmbeddedFiles") if name in names)]  # fmt: skip
    about = {str(key)[1:]: str(value) for key, value in (reader.metadata or {}).items()}
    if "/Lang" in root:
        about["Language"] = str(root["/Lang"])
    return {
        "pages": leaves,
        "marks": list(_marks(reader, pages)),
        "about": about,
        "active": [name[1:] for name in active],
    }


def _leaf(page: PageObject) -> dict[str, Any]:
    boxes = {
        "media": page.mediabox, "crop": page.cropbox, "bleed": page.bleedbox, "trim": page.trimbox,
    }  # fmt: skip
    painted = page.get_contents()
    content = b"" if painted is None else painted.get_data()
    if len(content) > MOST_CONTENT:
        raise ValueError("a page paints too much")
    held = _held(page, "/Resources")
    fonts = {name[1:]: font.get_object() for name, font in _held(held, "/Font").items()}
    states = graphics_states(held)
    unit = float(page.get("/UserUnit", 1))
    return {
        "boxes": {name: [float(corner) * unit for corner in box] for name, box in boxes.items()},
        "turned": int(page.rotation),
        "content": content.decode("latin-1"),
        "fonts": {name: _meaning(font) for name, font in fonts.items()},
        "states": states,
        "inked": any(_inks(font) for font in fonts.values()),
        "notes": len(page.get("/Annots", ()) or ()),
    }


def _held(whole: Any, key: str) -> Any:
    """A dictionary within another, empty where there is none."""
    return whole[key].get_object() if key in whole else {}


def graphics_states(held: Any) -> dict[str, dict[str, str]]:
    """What each graphics state of a page's resources sets, in words, but what has no say in what is
    seen."""
    found = {name[1:]: state.get_object() for name, state in _held(held, "/ExtGState").items()}
    return {
        name: {str(key): f"{value:g}" if isinstance(value, int | float) else repr(value)[:200]
               for key, value in state.items() if key != "/Type"}
        for name, state in found.items()
    }  # fmt: skip


def _meaning(font: Any) -> str:
    """A font's table of what its codes mean, as it stands."""
    if "/ToUnicode" not in font:
        return ""
    return str(font["/ToUnicode"].get_data()[:MOST_LETTERS].decode("latin-1"))


def _inks(font: Any) -> bool:
    """Whether it is a font of drawings, and one of them is not empty: such letters show even where
    text is unseen (ISO 32000-1, 9.3.6)."""
    drawings = font["/CharProcs"].values() if font.get("/Subtype") == "/Type3" else ()
    return any(not _EMPTY.fullmatch(one.get_object().get_data()) for one in drawings)


def _marks(reader: PdfReader, pages: list[PageObject]) -> Iterator[list[Any]]:
    places = {
        page.indirect_reference.idnum: n
        for n, page in enumerate(pages)
        if page.indirect_reference is not None
    }
    waiting: list[tuple[int, Any]] = [(0, one) for one in reversed(reader.outline)]
    left = MOST_MARKS
    while waiting and left:
        level, one = waiting.pop()
        if isinstance(one, list):
            waiting += [(level + 1, inner) for inner in reversed(one)]
            continue
        left -= 1
        number = getattr(one.page, "idnum", None)
        top = None if one.top is None else float(one.top)
        yield [level, str(one.title), places.get(number) if number is not None else None, top]


def _within_limits() -> None:
    """Holds this process to its memory and time, where the system can."""
    with suppress(ImportError, OSError, ValueError):
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))


def main() -> None:
    """Reads a document from the standard input and tells on the standard output what it holds."""
    import logging

    from pypdf.errors import PyPdfError

    logging.disable()
    _within_limits()
    try:
        told = _told(sys.stdin.buffer.read())
    except (PyPdfError, ArithmeticError, AttributeError, LookupError, MemoryError, OSError,
            RecursionError, TypeError, ValueError, AssertionError) as fault:  # fmt: skip
        told = {"reason": f"is broken: {type(fault).__name__}"}
    sys.stdout.write(json.dumps(told))
