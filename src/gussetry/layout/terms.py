"""What a key says of each symbol, in US or UK terms."""

from __future__ import annotations

from typing import Literal

from gussetry.stitchmap import POSTS, Op
from gussetry.style.symbols import picked_up
from gussetry.telling.names import named


def wording(op: Op, terms: Literal["US", "UK"]) -> str:
    """What a key says of an operation's symbol."""
    own = {
        "ch": "chain (ch)",
        "slst": f"slip stitch ({named('slst', terms)})",
        "hold": "set aside unworked",
        "skip": "miss this place",
        "join": (
            "join: no stitch; draws the stitch below and the far one (small bow tie over it)"
            " together, neither is worked again"
        ),
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
