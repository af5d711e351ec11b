"""The names of stitches in US or UK terms.

US and UK names: published conversion charts agree (US single crochet = UK double crochet, half
double = half treble, double = treble, slip stitch sl st = ss; skip = miss, gauge = tension).
"""

from __future__ import annotations

from typing import Literal

from gussetry.stitchmap import POSTS

Terms = Literal["US", "UK"]

_UK = {
    "sc": "dc", "hdc": "htr", "dc": "tr", "slst": "ss",
    "sc2tog": "dc2tog", "hdc2tog": "htr2tog", "dc2tog": "tr2tog", "skip": "miss",
}  # fmt: skip


def named(do: str, terms: Terms) -> str:
    """The short name of an operation: `FPdc` in US, `FPtr` in UK terms for `fpdc`."""
    if do in POSTS:
        return do[:2].upper() + named(POSTS[do], terms)
    if terms == "UK" and do in _UK:
        return _UK[do]
    return {"slst": "sl st", "close": "draw shut"}.get(do, do)
