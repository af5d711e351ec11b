"""What a sheet says of itself on its root: which of how many it is, and which rounds it shows."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from gussetry.stitchmap import Round
from gussetry.verify.svg import Page

_SPAN = re.compile(r"(\d{1,4})-(\d{1,4})")


class Claim(NamedTuple):
    """A sheet's own word: its number, of how many, and for each map that it serves the first and
    the last round; None where it says nothing that can be read."""

    sheet: int | None
    of: int | None
    spans: tuple[tuple[int, int], ...] | None


def read_claim(page: Page) -> Claim:
    """What the page's root says. A drawing of one sheet says nothing."""
    numbers = [page.tag(name) for name in ("sheet", "of")]
    sheet, of = (int(n) if re.fullmatch(r"[1-9]\d{0,3}", n) else None for n in numbers)
    found = [_SPAN.fullmatch(part) for part in page.tag("rounds").split()]
    spans = [(int(m[1]), int(m[2])) for m in found if m]
    return Claim(sheet, of, tuple(spans) if spans and len(spans) == len(found) else None)


def claimed(page: Page, due: Sequence[Round], place: int = 0) -> tuple[Round, ...]:
    """Those of the due rounds that the sheet says to show, for the map at that place among those
    that the drawing serves; all where it says nothing."""
    spans = read_claim(page).spans
    if spans is None or place >= len(spans):
        return tuple(due)
    first, last = spans[place]
    return tuple(r for r in due if first <= r.number <= last)
