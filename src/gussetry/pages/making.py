"""Pages made by the two processes: laid out, inked, written, read back, and joined as PDF."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from concurrent.futures import as_completed
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Literal, NamedTuple

from gussetry.colours import Sight
from gussetry.diagnostics import Faults, Problem
from gussetry.export.pdf import About, Bookmark, Boxes, joined, page_pdf
from gussetry.folder import Staging
from gussetry.layout import OffPage
from gussetry.manifest import PageFile, Sheet
from gussetry.pages.compose import Page, drawing, paged, words
from gussetry.pages.packing import Form, Item
from gussetry.pages.papers import Paper, sheet_of
from gussetry.pages.sets import PageSet, laid, low, pages_of
from gussetry.workers import Disagrees, Seen, Workers, stopping, told

if TYPE_CHECKING:
    from gussetry.verify import Disagreement
    from gussetry.verify.pages import AskedPages

FOLDER = "pages"


class Wanted(NamedTuple):
    """On which papers pages are made, and for which sights pictures of them."""

    papers: tuple[Paper, ...]
    sights: tuple[Sight | Literal["grey"], ...] = ()


class Made(NamedTuple):
    """What became of a set on one paper: its pages' entries in the manifest, each page's PDF, other
    files, and what its recount found wrong."""

    pages: tuple[PageFile, ...]
    pdf: tuple[bytes, ...]
    others: tuple[Sheet, ...]
    wrong: tuple[Disagreement, ...]


@dataclass(frozen=True, slots=True)
class PageJob:
    """A set of pages to make on one paper, in the folder `work`, and pictures of them for
    `sights`."""

    pages: tuple[Page, ...]
    made_of: PageSet
    paper: Paper
    work: Path
    sights: tuple[Sight | Literal["grey"], ...] = ()

    @property
    def stem(self) -> str:
        """What its files are called before the page's number: `pages/a4-M`."""
        return f"{FOLDER}/{self.paper.key}-{self.made_of.name}"

    def asked(self) -> AskedPages:
        """What the recount must find."""
        from gussetry.verify import Limits
        from gussetry.verify.pages import AskedPages

        one, sheet = self.made_of, sheet_of(self.paper, self.made_of.style)
        return AskedPages(
            sheet.width, sheet.height, one.running.name, one.running.lines,
            tuple((job.name, job.asked()) for group in one.groups for job in group),
            one.every, one.own, (*one.running.heads, *one.captions),
            Limits(one.style.least_text, one.style.least_stitch),
        )  # fmt: skip


def _sha256(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def made(job: PageJob) -> Made:
    """The job's pages written into the folder, then read back and recounted, all together."""
    from gussetry.export.png import cairo_available, png_bytes
    from gussetry.export.svg import svg_bytes
    from gussetry.verify import check_png
    from gussetry.verify.pages import recount_set

    style, sheet = job.made_of.style, sheet_of(job.paper, job.made_of.style)
    files, svgs, pdfs = [], [], []
    wrong: list[Disagreement] = []
    others: list[Sheet] = []
    cairo = cairo_available()
    for page in job.pages:
        name = f"{job.stem}-{page.number}"
        inked = drawing(page, job.made_of.running, sheet, style)
        path = job.work / f"{name}.svg"
        path.write_bytes(svg_bytes(inked))
        svg = path.read_bytes()
        png_hash = None
        if cairo:
            picture = job.work / f"{name}.png"
            picture.write_bytes(png_bytes(svg, inked, style.dpi))
            png = picture.read_bytes()
            png_hash = _sha256(png)
            wrong += [replace(one, sheet=page.number) for one in check_png(png, svg, style.dpi)]
            said = words(page, job.made_of.running, sheet, style)
            pdfs.append(page_pdf(svg, sheet.height, said))
            others += _simulated(job, name, png)
        svgs.append(svg)
        files.append(
            PageFile(name, " / ".join(job.made_of.sizes), job.paper.key, page.number, page.of,
                     sheet.width, sheet.height, style.dpi, _sha256(svg), png_hash)
        )  # fmt: skip
    wrong += recount_set(svgs, job.asked())
    return Made(tuple(files), tuple(pdfs), tuple(others), tuple(wrong))


def _simulated(job: PageJob, name: str, png: bytes) -> Iterator[Sheet]:
    """Pictures of a page as a photocopy or other eyes show it."""
    from gussetry.export.sights import as_seen

    for sight in job.sights:
        file = f"{name}-{sight}.png"
        content = as_seen(png, sight, job.made_of.style.dpi)
        (job.work / file).write_bytes(content)
        yield Sheet(file, "simulation", _sha256(content))


def make_pages(
    sets: Sequence[PageSet], wanted: Wanted, out: Staging, pool: Workers, seen: Seen
) -> tuple[tuple[PageFile, ...], tuple[Sheet, ...]]:
    """Every set on every paper written, and a PDF of all sets for each: the entries of the pages
    in the manifest, and of the other files.

    Raises Faults where a chart is too large for a page, Disagrees if a recount found anything.
    """
    laid_out = _laid_out(sets, pool)
    jobs = [
        PageJob(paged(items), one, paper, out.work, wanted.sights)
        for paper in wanted.papers
        for one, items in zip(sets, laid_out, strict=True)
    ]
    suffixes = [".svg"]
    if pool.cairo():
        suffixes += [".png", *(f"-{sight}.png" for sight in wanted.sights)]
    for job in jobs:
        for page in job.pages:
            for suffix in suffixes:
                out.path(f"{job.stem}-{page.number}{suffix}")
    done = _all_made(jobs, pool, seen)
    others = [other for one in done for other in one.others]
    if pool.cairo():
        for paper in wanted.papers:
            ours = [(j, d) for j, d in zip(jobs, done, strict=True) if j.paper == paper]
            content = _document(paper, ours)
            name = f"{FOLDER}/{paper.key}.pdf"
            others.append(Sheet(name, "pages", out.write(name, content)))
    return tuple(file for one in done for file in one.pages), tuple(others)


def _laid_out(sets: Sequence[PageSet], pool: Workers) -> list[Sequence[Sequence[Item]]]:
    drawings: dict[tuple[int, int], Sequence[Form]] = {}
    off: list[tuple[str, OffPage]] = []
    with stopping():
        coming = {
            pool.pool.submit(laid, group, low(one, g)): (s, g)
            for s, one in enumerate(sets)
            for g, group in enumerate(one.groups)
        }
        for future in as_completed(coming):
            s, g = coming[future]
            try:
                drawings[s, g] = future.result()
            except OffPage as fault:
                off.append((sets[s].groups[g][0].name, fault))
    if off:
        raise Faults([_too_large(sorted(off))])
    return [
        pages_of(one, [drawings[s, g] for g in range(len(one.groups))])
        for s, one in enumerate(sets)
    ]


def _too_large(off: Sequence[tuple[str, OffPage]]) -> Problem:
    name, fault = off[0]
    more = f", and for {len(off) - 1} more" if off[1:] else ""
    return Problem(
        "page-too-small",
        f"a page has too little {fault.side} for {name}, which needs {fault.least:.0f} mm{more}",
        help="choose a style with smaller letters or a smaller least stitch for pages",
    )


def _all_made(jobs: Sequence[PageJob], pool: Workers, seen: Seen) -> list[Made]:
    done: dict[int, Made] = {}
    with stopping():
        coming = {pool.pool.submit(made, job): n for n, job in enumerate(jobs)}
        for future in as_completed(coming):
            done[coming[future]] = future.result()
            seen(len(done), len(jobs), jobs[coming[future]].stem)
    wrong = [
        f"{jobs[n].stem}-{fault.sheet}.svg: {told(fault)}"
        for n in range(len(jobs))
        for fault in done[n].wrong
    ]
    if wrong:
        raise Disagrees("\n".join(wrong))
    return [done[n] for n in range(len(jobs))]


def _document(paper: Paper, sets: Sequence[tuple[PageJob, Made]]) -> bytes:
    """The PDF of all sets on a paper."""
    pages: list[tuple[bytes, Boxes]] = []
    marks: list[Bookmark] = []
    for job, one in sets:
        sheet = sheet_of(paper, job.made_of.style)
        boxes = Boxes(sheet.width, sheet.height, sheet.edge, sheet.bleed)
        marks += _bookmarks(job, len(pages), len(marks), sheet.room.y)
        pages += [(content, boxes) for content in one.pdf]
    first = sets[0][0].made_of
    author = first.running.lines[0] if first.running.lines else ""
    terms = first.groups[0][0].terms
    about = About(first.running.pattern, author, "en-GB" if terms == "UK" else "en-US", "gussetry")
    return joined(pages, marks, about)


def _bookmarks(job: PageJob, page: int, place: int, top: float) -> Iterator[Bookmark]:
    """The set's entry, and one below it for each of its charts."""
    yield Bookmark(job.made_of.running.heads[1], page, 0.0)
    for each in job.pages:
        for item in each.items:
            if item.name != "head":
                yield Bookmark(item.chart.title, page + each.number - 1, top + item.at.y, place)
