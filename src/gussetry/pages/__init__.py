"""Finished pages: charts composed for A4 and Letter, never scaled, and joined as PDF."""

from __future__ import annotations

from gussetry.pages.making import Wanted, make_pages
from gussetry.pages.papers import A4, LETTER, PAPERS, Paper
from gussetry.pages.sets import Sets, page_sets

__all__ = [
    "A4",
    "LETTER",
    "PAPERS",
    "Paper",
    "Sets",
    "Wanted",
    "make_pages",
    "page_sets",
]
