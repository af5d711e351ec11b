"""Folders with finished pages, made in process for the check to be tried on."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache

from check.folders import MANIFEST, Folder, Pattern, as_bytes, folder, pattern, renewed
from pages.making import Composed, inked

from gussetry import manifest as listing
from gussetry.export.png import png_bytes
from gussetry.layout import OffPage
from gussetry.pages.compose import drawing
from gussetry.pages.papers import A4, sheet_of
from gussetry.pages.sets import PageSet, Sets, page_sets

HOW: tuple[Sets, ...] = ("each", "all")

SPEC = """\
pattern: Cove
credit: Drawn for a test
caption: Worked in a spiral.
gauge: {over: 10 cm, stitches: 12, rounds: 13}
yarns: {A: {name: slate, colour: "#475569"}}
sizes: {S: {hand circumference: 12 cm}, M: {hand circumference: 14 cm}}
cuff: {style: none}
"""
"""Two small sizes in thick yarn, of which pages are made soon."""


@cache
def sets_of(example: str, style: str, how: Sets) -> tuple[PageSet, ...]:
    """The sets of pages of a pattern: one a size, or one of all sizes."""
    own = pattern(example, style)
    return page_sets(own.spec, own.grading, own.style, how)


@cache
def composed_set(example: str, style: str, how: Sets, place: int) -> Composed | None:
    """One of those sets, composed once a process; None where a chart is too large for a page."""
    try:
        return inked(sets_of(example, style, how)[place], A4)
    except OffPage:
        return None


def names(made: Composed) -> list[str]:
    """The files of a set's pages, in order."""
    return [f"pages/a4-{made.made_of.name}-{page.number}.svg" for page in made.pages]


def paged_folder(own: Pattern, made: Composed, painted: int | None = None) -> Folder:
    """A sound folder with a set of pages, and the picture of the page of that place if any."""
    spec, style = own.spec, own.style
    sheet = sheet_of(A4, made.made_of.style)
    files, svgs, pictures = names(made), dict(zip(names(made), made.svgs, strict=True)), {}
    entries = []
    for place, (file, page) in enumerate(zip(files, made.pages, strict=True)):
        if place == painted:
            inks = drawing(page, made.made_of.running, sheet, made.made_of.style)
            pictures[file.replace(".svg", ".png")] = png_bytes(svgs[file], inks, style.dpi)
        entries.append(
            listing.PageFile(
                file.removesuffix(".svg"), " / ".join(made.made_of.sizes), A4.key, page.number,
                page.of, sheet.width, sheet.height, style.dpi, "", "" if place == painted else None,
            )
        )  # fmt: skip
    promise = listing.promise(spec.pattern, style, spec.terms)
    promise = replace(promise, captions=spec.captions, lines=spec.lines)
    pages = json.loads(listing.manifest(promise, (), (), (), entries))
    whole = folder(own, maps=own.maps)
    listed = json.loads(whole[MANIFEST])
    listed |= {"captions": pages["captions"], "lines": pages["lines"]}
    listed["assets"] += pages["assets"]
    return renewed(whole | svgs | pictures | {MANIFEST: as_bytes(listed)})
