"""Pages of a small pattern, made without a folder: what is made, and what a recount must find."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from gussetry.export.svg import svg_bytes
from gussetry.grading import grade
from gussetry.pages.compose import Page, drawing, paged, words
from gussetry.pages.making import PageJob
from gussetry.pages.papers import A4, Paper, sheet_of
from gussetry.pages.sets import PageSet, Sets, laid, low, page_sets, pages_of
from gussetry.plan import wished
from gussetry.read import read_spec
from gussetry.source import parse
from gussetry.style import load_style
from gussetry.verify.pages import AskedPages

SMALL = """\
pattern: Cove
credit: Drawn for a test
copyright: Free to make
caption: Worked in a spiral, right side facing.
gauge: {over: 10 cm, stitches: 14, rounds: 15}
rib gauge: {over: 10 cm, stitches: 14, rows: 15, stretches to: 15 cm}
yarns: {A: {name: slate, colour: "#475569"}, B: {name: foam, colour: "#f1f5f9"}}
sizes:
  S: {hand circumference: 14 cm}
  M: {hand circumference: 16 cm}
stripes: {plan: [A: 3, B: 2]}
"""


@dataclass(frozen=True, slots=True)
class Composed:
    """A set of pages on one paper: the set, its pages, each page's SVG."""

    made_of: PageSet
    pages: tuple[Page, ...]
    svgs: tuple[bytes, ...]
    paper: Paper

    @property
    def asked(self) -> AskedPages:
        """What the recount must find."""
        return PageJob(self.pages, self.made_of, self.paper, Path()).asked()

    def words(self, page: int) -> list[str]:
        """Every line of words on a page."""
        one = self.made_of
        found = words(self.pages[page], one.running, sheet_of(self.paper, one.style), one.style)
        return [line.text for line in found]


@cache
def composed(
    how: Sets = "each", style: str = "default", paper: Paper = A4, text: str = SMALL
) -> Composed:
    """The first set of pages of the pattern."""
    spec = read_spec(parse(text.encode(), "cove.yaml"))
    return inked(page_sets(spec, grade(spec), wished(spec, load_style(style)), how)[0], paper)


def inked(one: PageSet, paper: Paper) -> Composed:
    """A set of pages composed and written."""
    blocks = [laid(group, low(one, g)) for g, group in enumerate(one.groups)]
    pages = paged(pages_of(one, blocks))
    sheet = sheet_of(paper, one.style)
    svgs = tuple(svg_bytes(drawing(page, one.running, sheet, one.style)) for page in pages)
    return Composed(one, pages, svgs, paper)
