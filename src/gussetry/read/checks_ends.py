"""What the ends of hand and thumb must have of each other: drawn shut, open, or no thumb at all."""

from __future__ import annotations

from collections.abc import Iterator

from gussetry.diagnostics import Problem
from gussetry.read.problems import contradiction, value_at
from gussetry.source import Document, Value

_CROWN = ("phases", "before closing", "last")
_THUMB = ("before closing", "last")
"""Keys of an end that is drawn shut, which an open one has not."""
_OPEN = ("reach", "edging")
"""Keys of an open end alone."""
_OF_THE_HAND = ("hand stitches",)
"""Keys of the division that speak of the hand, and hold for a thumbless one too."""


def check_ends(document: Document) -> Iterator[Problem]:
    """Keys that an open end, a closed one or a mitten without a thumb cannot have."""
    style = {end: value_at(document.data, (end, "style")) for end in ("crown", "thumb")}
    for end, shut, what in (("crown", _CROWN, "hand"), ("thumb", _THUMB, "thumb")):
        keys = _group(document, end)
        if style[end] == "open":
            for key in shut:
                if key in keys:
                    yield contradiction(document, (end, key), f"an open {what}")
        elif style[end] in (None, "closed"):
            for key in _OPEN:
                if key in keys:
                    yield _only_open(document, (end, key), what)
    if style["thumb"] == "none":
        yield from _thumbless(document, style["crown"] == "open")


def _group(document: Document, name: str) -> dict[str, Value]:
    group = value_at(document.data, (name,))
    return group if isinstance(group, dict) else {}


def _only_open(document: Document, path: tuple[str, str], what: str) -> Problem:
    return Problem(
        "contradiction",
        f"a {what} that is drawn shut has no {path[-1]}",
        path,
        f"leave {path[-1]} out, or write `style: open` beside it",
        span=document.locate_key(path),
    )


def _thumbless(document: Document, open_hand: bool) -> Iterator[Problem]:
    what = "a mitten without a thumb"
    if _group(document, "gusset"):
        yield contradiction(document, ("gusset",), what)
    for group, kept, named in (
        ("division", _OF_THE_HAND, what),
        ("thumb", ("style",), "a thumb of style none"),
    ):
        for key in _group(document, group):
            if key not in kept:
                yield contradiction(document, (group, key), named)
    if open_hand:
        yield Problem(
            "contradiction",
            "a mitten without a thumb cannot be open at the top: a tube would not stay on a hand",
            ("crown", "style"),
            "leave it to be drawn shut, or give it a thumb",
        )
