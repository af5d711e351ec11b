"""Where the landmarks of a mitten stand, from its counts alone: what strip and schematic share."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from gussetry.stitchmap import Piece, Round, StitchMap
from gussetry.verify.findings import Disagreement
from gussetry.verify.svg import Page

EXACT = 0.01
"""How far a height or a width to scale may be off on paper, mm: coordinates have three decimals."""


class Height(NamedTuple):
    """A landmark: its words, the numbers in them, and mm of the finished mitten over the pick-up
    round's foot."""

    words: str
    numbers: tuple[str, ...]
    above: float


def cuff_depth(stitches: StitchMap, cuff: Piece) -> float:
    """Depth of the cuff, mm: along the ribs of rows, or up its rounds."""
    own = stitches.rib or stitches.fabric
    if cuff.worked == "rows":
        across = cuff.counted[0].count if cuff.counted else 0
        return float(across * own.width)
    return float(len(cuff.counted) * own.height)


def _first(rounds: Sequence[Round], phases: tuple[str, ...]) -> Round | None:
    return next((r for r in rounds if r.phase.startswith(phases)), None)


def heights(stitches: StitchMap) -> dict[str, Height]:
    """Every landmark of the mitten by its name, from the cuff's edge up."""
    hand, cuff = stitches.piece("hand"), stitches.piece("cuff")
    found: dict[str, Height] = {}
    if hand is None or not hand.counted:
        return found
    high = float(stitches.fabric.height)
    if cuff is not None and cuff.counted:
        found["cuff"] = Height("cuff edge", (), -cuff_depth(stitches, cuff))
    shut = any(r.phase == "draw shut" for r in hand.rounds)
    starts = {
        "pick-up": hand.counted[0],
        "gusset": _first(hand.rounds, ("gusset",)),
        "crown": _first(hand.rounds, ("crown", "close")),
        "edging": _first(hand.rounds, ("edging",)),
    }
    ends = {
        "division": _first(hand.rounds, ("division",)),
        "tip" if shut else "upper edge": hand.counted[-1],
    }
    for side, rounds, extra in (("start", starts, 1), ("end", ends, 0)):
        for name, one in rounds.items():
            if one is not None:
                number = str(one.number)
                above = (one.number - extra) * high
                found[name] = Height(f"{name}: {side} of round {number}", (number,), above)
    return found


def scale_of(page: Page) -> float | None:
    """The scale that the drawing tells; None where it tells none that is one."""
    try:
        scale = float(page.tag("scale"))
    except ValueError:
        return None
    return scale if 0 < scale < 10 else None


def end_of(page: Page, name: str) -> float | None:
    """Where the root says that an end of the mitten stands, `top` or `foot`, mm below the page's
    edge; None where it says nothing that can be read."""
    try:
        return float(page.tag(name))
    except ValueError:
        return None


def compare_ends(page: Page, top: float, foot: float) -> list[Disagreement]:
    """What the root says wrongly of where the mitten's ends stand, mm below the page's edge."""
    findings = []
    for name, due in (("top", top), ("foot", foot)):
        told = end_of(page, name)
        if told is None or not abs(told - due) <= EXACT:
            findings.append(Disagreement("root", f"the drawing's {name} stands elsewhere",
                                         expected=f"{due:.3f}", found=page.tag(name)))  # fmt: skip
    return findings
