"""The counting laws of one mitten: each a function from stitch map to what breaks it.

None of them knows how a map was made: they read its operations alone, so they hold for a map from
a file as well. A broken map may be broken anywhere, so each law minds its own matter and looks at
no number that it has not tested itself.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from gussetry.diagnostics import Problem
from gussetry.grading.laws_crown import (
    check_edging,
    check_ends,
    check_even,
    check_not_stacked,
    check_side_marks,
    check_sides,
)
from gussetry.grading.laws_order import (
    check_gusset,
    check_halves,
    check_markers,
    check_rounds,
    check_yarns,
)
from gussetry.grading.laws_places import (
    check_places,
    check_seam,
    check_thumb_start,
    check_thumbless,
)
from gussetry.grading.laws_posts import check_posts
from gussetry.grading.laws_sizes import check_sizes
from gussetry.grading.walk import broken, fabric_tops, walk
from gussetry.spec import Growth
from gussetry.stitchmap import MAKES, Op, StitchMap

__all__ = [
    "check_counts",
    "check_edging",
    "check_ends",
    "check_even",
    "check_gusset",
    "check_halves",
    "check_joins",
    "check_kinds",
    "check_map",
    "check_markers",
    "check_not_stacked",
    "check_places",
    "check_posts",
    "check_rounds",
    "check_seam",
    "check_side_marks",
    "check_sides",
    "check_sizes",
    "check_thumb_start",
    "check_thumbless",
    "check_tops",
    "check_yarns",
]

STITCHES = ("sc", "hdc", "dc")
USES = {
    "ch": (0, 0), "sc": (1, 1), "hdc": (1, 1), "dc": (1, 1), "inc": (1, 1),
    "sc2tog": (2, 2), "hdc2tog": (2, 2), "dc2tog": (2, 2),
    "fphdc": (1, 1), "bphdc": (1, 1), "fpdc": (1, 1), "bpdc": (1, 1),
    "join": (1, 1), "turn": (0, 0), "seam": (2, 2),
}  # fmt: skip
"""Least and most places that a kind is worked into; any number from one for the others."""


def check_map(
    stitches: StitchMap, growth: Growth | None = None, towards_palm: int = 0
) -> tuple[Problem, ...]:
    """Every counting law that one mitten breaks, empty where it obeys them all.

    The halves of the hand are looked at only where it is known how the gusset was grown.
    """
    laws = (
        check_kinds,
        check_rounds,
        check_counts,
        check_tops,
        check_places,
        check_seam,
        check_posts,
        check_thumb_start,
        check_thumbless,
        check_joins,
        check_markers,
        check_gusset,
        check_even,
        check_not_stacked,
        check_sides,
        check_side_marks,
        check_ends,
        check_edging,
        check_yarns,
    )
    found = [problem for law in laws for problem in law(stitches)]
    if growth is not None:
        found += check_halves(stitches, growth, towards_palm)
    return tuple(found)


def check_kinds(stitches: StitchMap) -> tuple[Problem, ...]:
    """Operations of no known kind, or worked into more or fewer places than their kind is."""
    return tuple(
        broken(step, "law-kinds", f"operation {at + 1}, {op.do}, {complaint}")
        for step in walk(stitches)
        for at, op in enumerate(step.round.work)
        for complaint in _complaints(op)
    )


def _complaints(op: Op) -> Iterator[str]:
    if op.do not in MAKES:
        yield "is of no known kind"
        return
    if op.do == "slst":
        if len(op.into) + len(op.onto) != 1:
            yield "goes into one stitch"
        if not op.counts and op.uses:
            yield "joins the round, and must not use its stitch up"
    else:
        least, most = USES.get(op.do, (1, max(1, len(op.into))))
        if not least <= len(op.into) <= most:
            yield f"is worked into {len(op.into)} places, not {least}"
        if len(op.onto) != (1 if op.do == "join" else 0):
            yield f"is worked onto {len(op.onto)} stitches of its own round"
    if not op.counts and op.do not in ("ch", "slst"):
        yield "must count: only a turning or joining chain or slip stitch does not"
    if op.of is not None and (op.do != "inc" or op.of not in STITCHES):
        yield f"cannot be of {op.of}"
    if op.held and MAKES[op.do] == 0:
        yield "makes no stitch that could be held"
    if op.loop not in ("both", "back", "front"):
        yield f"names no loop: {op.loop}"


def check_counts(stitches: StitchMap) -> tuple[Problem, ...]:
    """Rounds whose count is not what they make, less what is held, less what is used up."""
    found = []
    for step in walk(stitches):
        work = step.round.work
        if any(op.do not in MAKES for op in work):
            continue
        made = step.round.made
        held = {i for i, at in enumerate(step.made_at) if work[at].held}
        used = [i for op in work if op.uses for i in op.onto]
        outside = [i for op in work for i in op.onto if not 0 <= i < made]
        if outside:
            text = f"stitch {outside[0]} is worked onto, but the round makes {made}"
            found.append(broken(step, "law-counts", text))
        if len(set(used)) != len(used) or held & set(used):
            text = "a stitch of the round is used up twice, or held and used up"
            found.append(broken(step, "law-counts", text))
        count = made - len(held) - len(used)
        if step.round.count != count:
            text = (
                f"the count is {step.round.count}, but {made} made, less {len(held)} held and "
                f"{len(used)} used up, are {count}"
            )
            found.append(broken(step, "law-counts", text))
    return tuple(found)


def check_tops(stitches: StitchMap) -> tuple[Problem, ...]:
    """Stitches of the round before that are left out, used twice or worked out of order.

    A round works them upwards, a turned row downwards.
    """
    found = []
    for step in walk(stitches):
        there = fabric_tops(step)
        used = [p for op in step.round.work for p in op.into if isinstance(p, int)]
        outside = sorted({i for i in used if not 0 <= i < there})
        missing = sorted(set(range(there)) - set(used))
        twice = sorted({i for i in used if used.count(i) > 1}) if len(set(used)) < len(used) else []
        for which, text in (
            (outside, f"is worked into, but the round before leaves {there}"),
            (missing, "of the round before is neither worked nor named"),
            (twice, "of the round before is used twice"),
        ):
            if which:
                more = f" (and {len(which) - 1} more)" if len(which) > 1 else ""
                found.append(broken(step, "law-tops", f"stitch {which[0]}{more} {text}"))
        sign = -1 if step.piece.worked == "rows" else 1
        if any(sign * (b - a) < 0 for a, b in pairwise(used)):
            found.append(broken(step, "law-tops", "the stitches are not worked in their order"))
    return tuple(found)


def check_joins(stitches: StitchMap) -> tuple[Problem, ...]:
    """Joined pairs that do not nest about the gap: first after it with last before it, and on.

    The near stitch is the next after the gap, the far one was made before it; near ones run up
    from the gap and far ones down, one by one.
    """
    found = []
    for step in walk(stitches):
        work, made = step.round.work, step.made_at
        joins = [(at, op) for at, op in enumerate(work) if op.do == "join" and op.into and op.onto]
        if not joins:
            continue
        gap = [
            p for op in work if op.held or op.do == "hold" for p in op.into if isinstance(p, int)
        ]
        if not gap:
            found.append(broken(step, "law-joins", "stitches are joined, but none is set aside"))
            continue
        for pair, (at, op) in enumerate(joins):
            far = made[op.onto[0]] if 0 <= op.onto[0] < len(made) else at
            wanted = (max(gap) + 1 + pair,), (min(gap) - 1 - pair,)
            if far >= at or (op.into, work[far].into) != wanted:
                text = (
                    f"joined pair {pair + 1} is not the next two about the gap, "
                    f"{wanted[1][0]} and {wanted[0][0]}"
                )
                found.append(broken(step, "law-joins", text))
    return tuple(found)
