"""Thumb charts: each stitch over what it is worked into, the crook and the held stitches named."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from grading.strategies import specs
from hypothesis import HealthCheck, Phase, given, settings
from layout.sheets import (
    BULKY,
    FINGERLESS,
    OPEN_THUMB,
    SAMPLE,
    TALL_STITCHES,
    chart,
    mittens,
    off_the_page,
    tagged,
    touching,
)
from layout.test_charts import STYLES, assert_chart, by_round, rounds_of, tag

from gussetry.chart import Chart, Label
from gussetry.diagnostics import Faults
from gussetry.grading import grade
from gussetry.spec import Division, LowerHand, Spec, Thumb
from gussetry.stitchmap import Round, StitchMap

THUMBS: dict[str, Spec] = {
    "joined pairs": SAMPLE,
    "chains": replace(TALL_STITCHES, division=Division("chain", chains=(4,))),
    "chains left over": replace(TALL_STITCHES, division=Division("chain", chains=(4,), crook=(2,))),
    "skipped": replace(TALL_STITCHES, division=Division("chain", worked_again=False)),
    "no crook": replace(TALL_STITCHES, division=Division("none")),
    "joined rounds": replace(SAMPLE, lower_hand=LowerHand((30,), (2,), (3,), joined=True)),
    "bulky": BULKY,
    "open": OPEN_THUMB,
    "fingerless": FINGERLESS,
    "no crook decreases": replace(TALL_STITCHES, thumb=Thumb(crook_decreases=(0,))),
}


def over(drawn: Chart, stitches: StitchMap) -> None:
    """Every stitch stands over the middle of what it is worked into, drawn right below it; one that
    narrows the beginning of its round over that or over what the stitch after it is worked into."""
    rounds, rows = rounds_of(stitches, "thumb"), by_round(drawn)
    for (lower, below), (upper, above) in pairwise(sorted(rows.items())):
        if upper != lower + 1:
            continue
        at = {
            number: s.frame.origin.x
            for number, s in enumerate(s for s in below if s.op.makes)
        }  # fmt: skip
        counted = [s for s in above if s.op.into]
        pitch = counted[0].pitch
        for k, s in enumerate(counted):
            xs = [at[p] for p in s.op.into if isinstance(p, int)]
            middle = (min(xs) + max(xs)) / 2
            if k or len(s.op.into) == 1 or rounds[upper].phase in ("close", "draw shut"):
                assert s.frame.origin.x == pytest.approx(middle)
            else:
                assert min(xs) - 0.01 <= s.frame.origin.x <= max(xs) + 0.01
        for one, other in pairwise(above):
            # A round reads from right to left.
            assert one.frame.origin.x - other.frame.origin.x > 0.99 * pitch


def grounds(drawn: Chart, role: str) -> list[Label]:
    return [label for label in drawn.labels if tagged(label, "role") == role]


def places(first: Round, kind: str) -> list[tuple[str, int]]:
    named = [p for op in first.work for p in op.into]
    return list(dict.fromkeys(p for p in named if isinstance(p, tuple) and p[0] == kind))


def grounded(drawn: Chart, stitches: StitchMap) -> None:
    """Below round 1 stand the crook's numbers in the order of working, and how many are held."""
    first, row = rounds_of(stitches, "thumb")[1], by_round(drawn)[1]
    numbers = sorted(grounds(drawn, "crook"), key=lambda label: -label.at.x)
    assert [label.text for label in numbers] == [str(p[1] + 1) for p in places(first, "crook")]
    assert all(label.at.y > row[0].frame.origin.y for label in numbers)
    said = {label.text for label in grounds(drawn, "place")}
    held = len(places(first, "held"))
    assert said - {"crook"} <= {f"{held} held stitches", f"{held} held"}
    assert ("crook" in said) == bool(numbers)
    by_index = {tag(s, "data-index"): s for s in row}
    for i, op in enumerate(first.work):
        at = op.into[0] if len(op.into) == 1 else 0
        if isinstance(at, tuple) and at[0] == "crook":
            number = next(n for n in numbers if n.text == str(at[1] + 1))
            assert number.at.x == pytest.approx(by_index[str(i)].frame.origin.x)


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("name", THUMBS)
def test_each_stitch_stands_over_what_it_is_worked_into(name: str, style: str) -> None:
    for stitches in mittens(THUMBS[name])[:2]:
        drawn = chart("thumb", [stitches], STYLES[style], "US")
        over(drawn, stitches)
        grounded(drawn, stitches)
        assert_chart(drawn, stitches)
        assert {pair[1] for pair in touching(drawn, STYLES[style])} <= {"colour"}
        assert off_the_page(drawn, STYLES[style]) == []


@settings(max_examples=12, deadline=None, phases=(Phase.generate, Phase.shrink),
          suppress_health_check=list(HealthCheck))  # fmt: skip
@given(specs())
def test_every_thumb_does(spec: Spec) -> None:
    try:
        maps = grade(spec).maps
    except Faults:
        return
    for stitches in maps[:1]:
        if stitches.piece("thumb"):
            drawn = chart("thumb", [stitches], STYLES["default"], "US")
            over(drawn, stitches)
            grounded(drawn, stitches)


def test_narrow_columns_keep_the_words_apart() -> None:
    for name, spec in THUMBS.items():
        style = replace(STYLES["default"], width=70.0)
        drawn = chart("thumb", [mittens(spec)[0]], style, "US")
        assert {pair[1] for pair in touching(drawn, style)} <= {"colour"}, name


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("joined pairs", "Round 1: sc2tog in crook 1 and 2, then on over the 13 held stitches"),
        ("no crook", "Rejoin at the first of the"),
        ("chains left over", "miss crook 3, miss crook 4, dc2tog in crook 1 and 2, then on"),
        ("no crook decreases", "dc in crook 1, dc in crook 2"),
        ("joined rounds", "the slip stitch after a round joins it; none of these is counted"),
    ],
)
def test_the_text_says_where_the_thumb_begins(name: str, words: str) -> None:
    drawn = chart("thumb", [mittens(THUMBS[name])[0]], STYLES["default"], "US")
    assert words in drawn.description
