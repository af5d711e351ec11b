"""The names of stitches on charts, in US or UK terms.

US and UK names: published conversion charts agree (US single crochet = UK double crochet, half
double = half treble, double = treble, slip stitch sl st = ss).
"""

from __future__ import annotations

from typing import Literal

from gussetry.stitchmap import POSTS, Op
from gussetry.style.symbols import picked_up

_UK = {
    "sc": "dc", "hdc": "htr", "dc": "tr", "slst": "ss",
    "sc2tog": "dc2tog", "hdc2tog": "htr2tog", "dc2tog": "tr2tog",
}  # fmt: skip


def named(do: str, terms: Literal["US", "UK"]) -> str:
    """The short name of an operation: `FPdc` in US, `FPtr` in UK terms for `fpdc`."""
    if do in POSTS:
        return do[:2].upper() + named(POSTS[do], terms)
    if terms == "UK":
        return _UK.get(do, do)
    return "sl st" if do == "slst" else do


def wording(op: Op, terms: Literal["US", "UK"]) -> str:
    """What a key says of an operation's symbol."""
    own = {
        "ch": "chain (ch)",
        "slst": f"slip stitch ({named('slst', terms)})",
        "hold": "set aside unworked",
        "skip": "miss this place",
        "join": "join: this stitch and the far one drawn together, neither worked next round",
        "seam": "seam: slip stitch through one loop of each edge",
        "close": "draw shut: thread the front loops, twice round",
    }
    if op.do in POSTS:
        side = "front" if op.do.startswith("fp") else "back"
        return f"{named(op.do, terms)}: round the post of the stitch below, from the {side}"
    if op.do in own:
        return own[op.do]
    if op.do == "inc" and picked_up(op):
        return f"2 {named(op.of or 'sc', terms)} picked up in one row end"
    if op.do == "inc":
        words = f"2 {named(op.of or 'sc', terms)} in one stitch (inc)"
    elif op.do.endswith("2tog"):
        words = f"{named(op.do, terms)}: 2 together"
    else:
        words = named(op.do, terms)
    if picked_up(op):
        words += " picked up in a row end"
    if op.loop != "both":
        side = "away from" if op.loop == "back" else "next to"
        words += f", {op.loop} loop only (the loop {side} you)"
    if op.held:
        words += ", then set aside for the thumb"
    return words
