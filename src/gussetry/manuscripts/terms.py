"""Names of stitches in US and UK terms, read to the kinds of the stitch map.

US single crochet is UK double crochet, US half double is UK half treble, US double is UK treble
(published conversion charts agree).
"""

from __future__ import annotations

import re
from typing import Literal

Terms = Literal["US", "UK"]

_SHORT = {
    "single crochet": "sc", "half double crochet": "hdc", "double crochet": "dc",
    "half treble crochet": "htr", "half treble": "htr", "treble crochet": "tr", "treble": "tr",
}  # fmt: skip
_KINDS: dict[Terms, dict[str, str]] = {
    "US": {"sc": "sc", "hdc": "hdc", "dc": "dc", "tr": "tr"},
    "UK": {"dc": "sc", "htr": "hdc", "tr": "dc"},
}
_IN_BOTH = ("dc", "tr")
_DECLARED = re.compile(
    r"\b(?P<term>U\.?S\.?A?\.?|American|U\.?K\.?|British)(?P<wide>\s+(?:crochet(?:ing)?\s+)?"
    r"(?:terms|terminology|abbreviations|stitch\s+names))\b"
    r"|\bterm(?:s|inology)\s*(?:used)?\s*[:=]\s*(?P<after>U\.?S\.?|American|U\.?K\.?|British)",
    re.IGNORECASE,
)


class WrongTerm(Exception):
    """A name that the declared terms do not have, or that means two stitches where none are."""

    def __init__(self, name: str, undeclared: bool) -> None:
        self.name, self.undeclared = name, undeclared
        super().__init__(name)


def declared(text: str) -> dict[Terms, int]:
    """The terms that a text says it is written in, and where it says so first."""
    found: dict[Terms, int] = {}
    for match in _DECLARED.finditer(text):
        word = (match["term"] or match["after"]).upper().replace(".", "")
        terms: Terms = "US" if word in ("US", "USA", "AMERICAN") else "UK"
        found.setdefault(terms, match.start())
    return found


def kind(name: str, terms: Terms | None) -> str:
    """The US kind of a plain stitch, or of one round a post, from its name in the text.

    Raises WrongTerm where the terms have no such name, or none are declared and the name means
    one stitch in US and another in UK terms.
    """
    words = re.sub(r"[\s-]+", " ", name.casefold()).strip()
    post = ""
    for side in ("front", "back"):
        if words.startswith((f"{side} post ", f"{side[0]}p")):
            post = f"{side[0]}p"
            words = words.removeprefix(f"{side} post ").removeprefix(post)
    words = words.removesuffix("s")
    short = _SHORT.get(words, words)
    if terms is None:
        if short in _IN_BOTH:
            raise WrongTerm(name, undeclared=True)
        terms = "UK" if short == "htr" else "US"
    if short not in _KINDS[terms]:
        raise WrongTerm(name, undeclared=False)
    return post + _KINDS[terms][short]
