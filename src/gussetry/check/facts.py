"""What a drawing's own bytes tell of it that its folder's lists repeat."""

from __future__ import annotations

import re
from typing import Any
from xml.etree.ElementTree import Element

from gussetry.verify.charts import PIECES
from gussetry.verify.document import frame
from gussetry.verify.svg import Page, Shape

COLUMN = 84.0
"""Width of one of a page's two columns, mm, as the README says it."""
_AT_LENGTH = re.compile(r" (?:Round by round|Row by row|From the bottom up|Finished measures)\. ")
"""Where a description begins to tell all that is drawn: an alternative text ends there."""

Facts = dict[str, Any]
"""What is to be said of a drawing, by the manifest's keys: what it does not tell is left out."""


def facts_of(page: Page) -> Facts:
    """What a drawing tells of itself; of one without tags its measures and words alone."""
    facts: Facts = {"millimetres": [page.width, page.height]}
    if page.title:
        facts["caption"] = page.title
    if page.description:
        facts["alternative text"] = _AT_LENGTH.split(page.description, maxsplit=1)[0]
    kind = page.tag("kind")
    if not kind:
        return facts
    facts |= {
        "kind": kind,
        "size": page.tag("size"),
        "mitten": page.tag("mitten"),
        "hand": (page.tag("hand") or "right") if kind in PIECES else None,
        "sheet": _number(page.tag("sheet") or "1"),
        "of": _number(page.tag("of") or "1"),
        "columns": 1 if page.width <= COLUMN else 2,
    }
    return facts | _rounds(page)


def page_facts(root: Element) -> Facts:
    """What the root of a finished page tells of it."""
    page = frame(root)
    return {
        "millimetres": [page.width, page.height],
        "paper": root.get("data-paper"),
        "page": _number(root.get("data-page", "")),
        "of": _number(root.get("data-pages", "")),
    }


def _number(text: str) -> int | None:
    return int(text) if re.fullmatch(r"[0-9]{1,4}", text) else None


def _rounds(page: Page) -> Facts:
    """The one piece that a drawing shows, with the first and last round that it numbers or sums;
    none of several."""
    marks = [shape for shape in page.shapes if shape.tag("round") and _counts(shape)]
    if not any(shape.tag("role") for shape in page.shapes):
        return {}
    pieces = {mark.tag("piece") for mark in marks}
    if len(pieces) != 1:
        return {"piece": None, "first round": None, "last round": None}
    told = [mark.tag("round") for mark in marks if _tells(mark)]
    rounds = [int(n) for own in told for n in re.findall(r"[0-9]{1,4}", own)]
    first, last = min(rounds, default=None), max(rounds, default=None)
    return {"piece": pieces.pop(), "first round": first, "last round": last}


def _tells(shape: Shape) -> bool:
    """Whether a mark says which rounds are worked: their number, a sum of them, or a stripe."""
    role = shape.tag("role")
    return role in ("round", "stripe") or (role == "sum" and "-" in shape.tag("round"))


def _counts(shape: Shape) -> bool:
    """Whether a mark stands for rounds: a stitch, words or a colour, no line."""
    return (
        "stitch" in shape.classes
        or bool(shape.tag("says"))
        or shape.tag("role") in ("colour", "stripe")
    )
