"""What a technical editor would warn of. Warnings never stop a run by themselves."""

from __future__ import annotations

from gussetry.diagnostics import Problem
from gussetry.grading.cautions import cautioned
from gussetry.grading.finished import GradedSize
from gussetry.grading.measures import CROOK_HEIGHT_P95, body
from gussetry.spec import Spec
from gussetry.stitchmap import StitchMap

FLOAT_ROUNDS = 6
"""Rounds within which a colour that comes back is carried: common practice, no source."""


def concerns(spec: Spec, graded: tuple[GradedSize, ...]) -> tuple[Problem, ...]:
    """Everything that deserves a warning, size by size."""
    found: list[Problem] = []
    for one in graded:
        length = body(one.size).hand_length
        crook = next(m.finished for m in one.measures if m.name == "crook height")
        if crook > CROOK_HEIGHT_P95 * length:
            found.append(
                Problem(
                    "high-crook",
                    f"size {one.size.name}: the thumb's crook lies {float(crook) / 10:.1f} cm above"
                    f" the wrist, higher than on 95 of 100 hands of that length"
                    f" ({float(CROOK_HEIGHT_P95 * length) / 10:.1f} cm; Snyder 1977)",
                    ("sizes", one.size.name),
                    "grow the gusset faster, or begin it earlier, unless the sample wears well",
                    "warning",
                )
            )
        if cautioned(one.size) and _floats(one.maps[0]):
            found.append(
                Problem(
                    "floats-for-small-children",
                    f"size {one.size.name}: colours are carried inside a mitten for a child under"
                    " three; a loose strand can catch a finger",
                    ("stripes", "plan"),
                    "cut and weave in every colour, or use one yarn for this size",
                    "warning",
                )
            )
    return tuple(found)


def _floats(stitches: StitchMap) -> bool:
    """Whether a colour comes back so soon that it would be carried up the inside."""
    hand = stitches.piece("hand")
    assert hand is not None
    last: dict[str, int] = {}
    for r in hand.counted:
        if 1 < r.number - last.get(r.yarn, r.number) <= FLOAT_ROUNDS:
            return True
        last[r.yarn] = r.number
    return False
