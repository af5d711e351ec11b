"""What each symbol looks like, in words, for who hears a key."""

from __future__ import annotations

from gussetry.stitchmap import POSTS, Op
from gussetry.style.symbols import family, picked_up

_STEMS = {"sc": "a cross", "hdc": "a T", "dc": "a T with a slash across its stem"}
_OWN = {
    "ch": "an open oval",
    "slst": "a filled dot",
    "hold": "an open square",
    "skip": "a short level bar",
    "join": "a bow tie",
    "seam": "a dot between two level bars",
    "close": "two rings, one in the other",
}


def looks(op: Op) -> str:
    """The symbol of an operation: `a cross, with an arc below that opens upwards`."""
    if op.do in _OWN:
        return _OWN[op.do]
    if op.do in POSTS:
        side = "right" if op.do.startswith("fp") else "left"
        return f"{_STEMS[POSTS[op.do]]}, its foot curled to the {side}"
    words = _STEMS[family(op)]
    if op.do == "inc":
        words = f"a V, each leg drawn like {words}"
    elif op.do.endswith("2tog"):
        words = f"an upturned V, each leg drawn like {words}"
    additions = []
    if picked_up(op):
        additions.append("a level bar at the foot")
    if op.loop != "both":
        way = "upwards" if op.loop == "back" else "downwards"
        additions.append(f"an arc below that opens {way}")
    if op.held:
        additions.append("a level bar above")
    return f"{words}, with {' and '.join(additions)}" if additions else words
