"""Counting laws of post stitches: what they go round, and the ribs that they make."""

from __future__ import annotations

from gussetry.diagnostics import Problem
from gussetry.grading.walk import Step, broken, makes, walk
from gussetry.stitchmap import POSTS, Op, StitchMap

_WITH_POST = ("hdc", "dc", *POSTS)
"""Kinds that have a post; sc is too short to be worked round: common practice, no source."""


def check_posts(stitches: StitchMap) -> tuple[Problem, ...]:
    """Post stitches that go round no post or leave their rib, and ribs that are no pairs.

    A post stitch goes round an hdc or dc of the round before, and over a post stitch it is of the
    same kind, so that the ribs stand; front and back take turns all round.
    """
    found = []
    for step in walk(stitches):
        work = step.round.work
        posts = [(at, op) for at, op in enumerate(work) if op.do in POSTS]
        below = _below(step) if posts else []
        for at, op in posts:
            complaint = _complaint(op, below)
            if complaint:
                found.append(broken(step, "law-posts", f"operation {at + 1}, {op.do}, {complaint}"))
        if posts and not _by_turns([op.do for op in work if makes(op)]):
            text = "front and back post stitches do not take turns all round"
            found.append(broken(step, "law-posts", text))
    return tuple(found)


def _below(step: Step) -> list[str]:
    """The kinds of the stitches that the round finds."""
    if step.before is None:
        return []
    before = Step(step.stitches, step.piece, None, step.before)
    return [step.before.work[at].do for at in before.left_at]


def _complaint(op: Op, below: list[str]) -> str:
    if op.loop != "both" or op.held:
        return "goes round a post, so it can be worked in no one loop, and is not set aside"
    if len(op.into) != 1:
        return ""
    place = op.into[0]
    if not isinstance(place, int):
        return f"goes round a {place[0]}, which has no post"
    if not 0 <= place < len(below):
        return ""
    kind = below[place]
    if kind not in _WITH_POST:
        return f"goes round a {kind}, which has no post"
    return f"stands over a {kind}" if kind in POSTS and kind != op.do else ""


def _by_turns(made: list[str]) -> bool:
    # The last and the first stand side by side as well.
    return all(
        {a[:2], b[:2]} == {"fp", "bp"} for a, b in zip(made, [*made[1:], made[0]], strict=True)
    )
