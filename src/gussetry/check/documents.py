"""The PDF of finished pages, read back and held against the pages of the folder: how many, their
boxes, what each paints and says, the bookmarks, and what the document says of itself."""

from __future__ import annotations

import io
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import zip_longest
from typing import Any, NamedTuple

from gussetry.check.evidence import Evidence
from gussetry.check.pages import page_sets
from gussetry.check.painting import Painted, shown
from gussetry.check.pdf import Document, Leaf, Mark, NoDocumentError, graphics_states, read_document
from gussetry.check.pictures import NoPainterError
from gussetry.findings import Finding, Sure
from gussetry.verify.findings import UnreadableError
from gussetry.verify.parted import cut

POINT = 25.4 / 72
"""A point in mm (ISO 32000-1, 8.3.2.3)."""
SIDES = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""The papers as cut, mm: ISO 216; 8.5 × 11 in."""
NEAR = 0.02
"""mm by which boxes may differ."""
MARK_NEAR = 1.0
"""mm by which a bookmark may lead to a place above or below its chart."""
MOST = 12
"""Findings of a document that are told one by one."""


class _Page(NamedTuple):
    """A page as the folder has it: its file and SVG, its sizes, its width and height (mm), its
    lines of words, and what bookmarks lead to on it: words and mm from above."""

    file: str
    svg: bytes
    size: str
    extent: tuple[float, float]
    words: tuple[str, ...]
    charts: tuple[tuple[str, float], ...]


class _Fault(NamedTuple):
    """What is wrong with a document: its kind, in words, what was due, what is there, where."""

    kind: str
    message: str
    expected: str = ""
    found: str = ""
    size: str = ""
    at: tuple[float, float] | None = None
    sure: Sure = "certain"


def compare_documents(evidence: Evidence) -> Iterator[Finding]:
    """Everything in which the folder's PDFs differ from its pages, one finding a place."""
    for entry in (evidence.head or {}).get("assets", ()):
        name = str(entry.get("file"))
        if entry.get("kind") != "pages" or name not in evidence.files:
            continue
        found = list(_compare(evidence, name))
        for one in found[:MOST]:
            yield Finding(one.kind, one.message, name, one.size, at=one.at, expected=one.expected,
                          found=one.found, sure=one.sure)  # fmt: skip
        if len(found) > MOST:
            yield Finding("more", f"and {len(found) - MOST} more in this document", name)


def _compare(evidence: Evidence, name: str) -> Iterator[_Fault]:
    content = evidence.content(name)
    paper = name.rpartition("/")[2].removesuffix(".pdf")
    pages = _pages(evidence, paper)
    if content is None or pages is None:
        return
    try:
        document = read_document(content)
    except NoDocumentError as fault:
        yield _Fault("unreadable", str(fault))
        return
    yield from _about(document, evidence.head or {})
    for what in document.active:
        yield _Fault("hidden", f"the document holds {what}, which pages for print have no use for")
    for number, (leaf, page) in enumerate(zip(document.pages, pages, strict=False), 1):
        yield from _boxes(leaf, page, paper, f"page {number}")
    try:
        followed = [_follow(*pair) for pair in zip_longest(document.pages, pages)]
    except NoPainterError:
        message = "what the document shows is not compared: the library libcairo is missing"
        evidence.note("picture", message, name, sure="note")
        return
    astray = list(_order(followed[: len(document.pages)], pages))
    yield from astray
    if not astray:
        for number, (one, page) in enumerate(zip(followed, pages, strict=True), 1):
            yield from _words(one, page, f"page {number}")
            yield from _painted(one, page, f"page {number}")
        yield from _marks(document.marks, list(_due_marks(evidence, paper, pages)))


def _pages(evidence: Evidence, paper: str) -> list[_Page] | None:
    """The pages of a paper in the order of their sets; None where one is missing or broken, which
    is told by itself."""
    found = []
    for one in page_sets(evidence, paper):
        for entry in one.entries:
            file = str(entry["file"])
            svg = evidence.content(file) if file in evidence.files else None
            if svg is None:
                return None
            try:
                whole, _, parts = cut(svg)
            except UnreadableError:
                return None
            charts = tuple((part.page.title, part.at[1]) for part in parts
                           if part.page.tag("kind") != "head")  # fmt: skip
            words = tuple(says for shape in whole.shapes if (says := shape.tag("says")))
            size = " / ".join(one.sizes)
            found.append(_Page(file, svg, size, (whole.width, whole.height), words, charts))
    return found


def _about(document: Document, head: dict[str, Any]) -> Iterator[_Fault]:
    """What the document says of itself."""
    lines = head.get("lines") or [""]
    due = {
        "Title": str(head.get("pattern", "")),
        "Author": str(lines[0]),
        "Language": "en-GB" if head.get("terms") == "UK" else "en-US",
    }
    for name, words in due.items():
        if document.about.get(name, "") != words:
            message = f"the document's {name.lower()} is another"
            yield _Fault("title", message, words, document.about.get(name, ""))


def _key(words: Sequence[str]) -> str:
    """Words as they are told from others: in whatever order, and without blanks."""
    return "".join("".join(sorted(words)).split())


class _Followed(NamedTuple):
    """What a page of the document says and paints, and what its SVG does, as far as the two streams
    are not the same; or that it paints far more."""

    said: tuple[str, ...]
    painted: tuple[Painted, ...]
    due: tuple[Painted, ...]
    more: bool = False


def _follow(leaf: Leaf | None, page: _Page | None) -> _Followed:
    """A page of the document followed beside that of the folder in its place, either of which may
    not be there."""
    if leaf is None:
        return _Followed((), (), ())
    if page is None:
        return _Followed(*_shown(leaf, leaf.content), ())
    fresh = converted(page.svg)
    rest = _behind(leaf.content, fresh.content)
    same_states = fresh.states.items() <= leaf.states.items()
    if rest is not None and same_states:
        return _Followed(*_shown(leaf, rest), ())
    if len(leaf.content) > 3 * len(fresh.content) + 1_000_000:
        return _Followed((), (), (), more=True)
    return _Followed(*_shown(leaf, leaf.content), _shown(fresh, fresh.content)[1])


def _shown(leaf: Leaf, content: bytes) -> tuple[tuple[str, ...], tuple[Painted, ...]]:
    found = shown(content, leaf.fonts, leaf.states)
    # Letters that show although they should be unseen are painted.
    inked = (Painted("letters", "", ((0.0, 0.0),)),) if leaf.inked else ()
    return found.said, (*found.painted, *inked)


def _order(followed: Sequence[_Followed], pages: Sequence[_Page]) -> Iterator[_Fault]:
    """Pages too few or too many, or in another's place, as their words tell."""
    found, due = len(followed), len(pages)
    wanted = [_key(page.words) for page in pages]
    said = [_key(one.said) for one in followed]
    if found != due:
        lost = next((page for page, key in zip(pages, wanted, strict=True) if key not in said),
                    None)  # fmt: skip
        which = f"; {lost.file} is not among them" if lost else ""
        message = f"the document has another number of pages{which}"
        yield _Fault("page", message, str(due), str(found), lost.size if lost else "")
        return
    for number, (page, key, words) in enumerate(zip(pages, wanted, said, strict=True), 1):
        if key != words and words in wanted:
            other = pages[wanted.index(words)].file
            yield _Fault("page", f"page {number} is another", page.file, other, page.size)


def _boxes(leaf: Leaf, page: _Page, paper: str, place: str) -> Iterator[_Fault]:
    """Boxes that are not the page's, a page that is turned, notes on it."""
    boxes = {name: [corner * POINT for corner in box] for name, box in leaf.boxes.items()}
    width, height = page.extent
    whole = [0.0, 0.0, width, height]
    due = {"media": whole, "crop": whole}
    if paper in SIDES:
        x, y = ((side - own) / 2 for side, own in zip(page.extent, SIDES[paper], strict=True))
        due["trim"] = [x, y, width - x, height - y]
        inset = boxes["bleed"][0]
        # How much bleed a style wants is not known here: it lies evenly between page and cut.
        inset = min(max(inset, 0.0), x)
        due["bleed"] = [inset, inset, width - inset, height - inset]
    for name, wanted in due.items():
        apart = max(abs(a - b) for a, b in zip(boxes[name], wanted, strict=True))
        if apart > NEAR:
            yield _Fault("page", f"{place} has another {name} box", _corners(wanted),
                         _corners(boxes[name]), page.size)  # fmt: skip
    if leaf.turned:
        yield _Fault("page", f"{place} is turned", "0°", f"{leaf.turned}°", page.size)
    if leaf.notes:
        message = f"{place} has notes laid on it, that are no part of it"
        yield _Fault("hidden", message, "0", str(leaf.notes), page.size)


def _corners(box: Sequence[float]) -> str:
    return ", ".join(f"{corner:.2f}" for corner in box) + " mm"


def _words(one: _Followed, page: _Page, place: str) -> Iterator[_Fault]:
    """Words of a page that cannot be found in the document, or are others there."""
    if one.more or not page.words or _key(one.said) == _key(page.words):
        return
    lost, more = (next(iter(some), "") for some in (
        Counter(page.words) - Counter(one.said), Counter(one.said) - Counter(page.words)
    ))  # fmt: skip
    message = f"{place} says other words to those who search, copy or listen"
    yield _Fault("text", message, lost, more, page.size)


def _painted(one: _Followed, page: _Page, place: str) -> Iterator[_Fault]:
    """The first shape that a page of the document paints otherwise than its SVG."""
    if one.more:
        yield _Fault("picture", f"{place} paints far more than its page", page.file, "", page.size)
    elif any(shape.how == "picture" for shape in one.painted):
        message = f"{place} holds pictures or forms: what they show is not looked into"
        yield _Fault("picture", message, page.file, "", page.size, None, "unclear")
    elif (different := _first_unlike(one.due, one.painted)) is not None:
        x, y = different.points[0] if different.points else (0.0, 0.0)
        at = round(x * POINT, 1), round(page.extent[1] - y * POINT, 1)
        message = f"{place} paints something else than its page"
        yield _Fault("picture", message, page.file, "", page.size, at)


def _behind(content: bytes, fresh: bytes) -> bytes | None:
    """What follows in a stream that begins with another; None where it does not."""
    for opening in (b"", b"q\n"):
        if content.startswith(opening + fresh):
            return content[len(opening) + len(fresh) :]
    return None


def converted(svg: bytes) -> Leaf:
    """A page's SVG as a page of a PDF. `NoPainterError` without libcairo."""
    try:
        import cairosvg
    except OSError as error:
        raise NoPainterError from error
    from pypdf import PdfReader

    with io.BytesIO(cairosvg.svg2pdf(bytestring=svg)) as file:
        page = PdfReader(file).pages[0]
        states = graphics_states(page["/Resources"])
        painted = page.get_contents()
        content = b"" if painted is None else painted.get_data()
    return Leaf({}, 0, content, {}, states, False, 0)


def _first_unlike(due: Sequence[Painted], there: Sequence[Painted]) -> Painted | None:
    """The first shape of two pages in which they differ; None where they are alike."""
    for one, other in zip(due, there, strict=False):
        if not one.like(other):
            return one
    longer = due if len(due) > len(there) else there
    least = min(len(due), len(there))
    return longer[least] if len(longer) > least else None


def _due_marks(evidence: Evidence, paper: str, pages: Sequence[_Page]) -> Iterator[Mark]:
    """The bookmarks that there must be: one for each set, and below it one for each chart."""
    waiting = list(enumerate(pages))
    for one in page_sets(evidence, paper):
        own, waiting = waiting[: len(one.entries)], waiting[len(one.entries) :]
        label = one.label
        yield Mark(0, label[:1].upper() + label[1:], own[0][0], None)
        for number, page in own:
            for title, down in page.charts:
                yield Mark(1, title, number, (page.extent[1] - down) / POINT)


def _marks(found: Sequence[Mark], due: Sequence[Mark]) -> Iterator[_Fault]:
    """Bookmarks that are missing, too many, or lead elsewhere."""
    names = [(mark.level, mark.title) for mark in found]
    wanted = [(mark.level, mark.title) for mark in due]
    if names != wanted:
        lost, more = Counter(wanted) - Counter(names), Counter(names) - Counter(wanted)
        first, other = (next((title for _, title in some), "") for some in (lost, more))
        yield _Fault("reference", "the document's bookmarks are others", first, other)
        return
    for mark, wish in zip(found, due, strict=True):
        if mark.page != wish.page:
            there = "nowhere" if mark.page is None else f"page {mark.page + 1}"
            message = f"the bookmark {mark.title} leads to another page"
            yield _Fault("reference", message, f"page {(wish.page or 0) + 1}", there)
        elif mark.top is not None and wish.top is not None:
            apart = abs(mark.top - wish.top) * POINT
            if apart > MARK_NEAR:
                message = f"the bookmark {mark.title} leads to another place of its page"
                yield _Fault("reference", message, found=f"{apart:.0f} mm off")
