"""The landmarks of a mitten: named heights between two of its rounds."""

from __future__ import annotations

from typing import NamedTuple

from gussetry.grading import finished
from gussetry.stitchmap import Round, StitchMap


class Landmark(NamedTuple):
    """A named height: its tag, its words, the round that they name (0: none), and mm of the
    finished mitten above the pick-up round's foot."""

    name: str
    words: str
    round: int
    height: float


def _first(rounds: tuple[Round, ...], *phases: str) -> Round | None:
    return next((r for r in rounds if r.phase.startswith(phases)), None)


def landmarks(stitches: StitchMap) -> tuple[Landmark, ...]:
    """The landmarks from the cuff's edge up, as far as the mitten has them. Each says of its round
    whether it lies at the round's start or at its end."""
    hand = stitches.piece("hand")
    assert hand is not None
    high = float(stitches.fabric.height)
    depth = float(finished(stitches).get("cuff depth", 0))
    found = [Landmark("cuff", "cuff edge", 0, -depth)] if depth else []
    edging = _first(hand.rounds, "edging")
    for name, round_, ends in (
        ("pick-up", hand.counted[0], False),
        ("gusset", _first(hand.rounds, "gusset"), False),
        ("division", _first(hand.rounds, "division"), True),
        ("crown", _first(hand.rounds, "crown", "close"), False),
        ("edging", edging, False),
        ("upper edge" if edging else "tip", hand.counted[-1], True),
    ):
        if round_ is not None:
            height = (round_.number - 1 + ends) * high
            words = f"{name}: {'end' if ends else 'start'} of round {round_.number}"
            found.append(Landmark(name, words, round_.number, height))
    return tuple(found)
