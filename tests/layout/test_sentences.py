"""What charts say of the way of working, and the marks of turned rows."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from layout.sheets import BULKY, SAMPLE, TALL_STITCHES, THUMBLESS, chart, mittens, tagged

from gussetry.layout.sentences import begun_text, joined_text
from gussetry.spec import Cuff, Gauge, LowerHand, Spec
from gussetry.style import load_style

STYLE = load_style("default")
POST = Cuff("post", gauge=Gauge("dc", Fraction(6), Fraction(97, 10)))


@pytest.mark.parametrize(
    ("spec", "words"),
    [
        (SAMPLE, "picked up in the row ends of the cuff's hand edge, from the seam on"),
        (BULKY, "worked into the tops of the cuff's last round"),
        (replace(BULKY, cuff=POST), "worked into the tops of the cuff's last round"),
        (TALL_STITCHES, "chains joined into a ring; round 1 is worked into them"),
    ],
)
def test_the_hand_says_what_it_begins_on(spec: Spec, words: str) -> None:
    stitches = mittens(spec)[0]
    assert words in begun_text(stitches)
    assert words in chart("gusset", [stitches], STYLE, "US").description


def test_a_hand_without_thumb_says_so_too() -> None:
    told = chart("hand", [mittens(THUMBLESS)[0]], STYLE, "US").description
    assert "row ends of the cuff's hand edge" in told
    assert "increases there widen the hand" in told


@pytest.mark.parametrize("kind", ["gusset", "crown", "thumb"])
def test_what_joins_rounds_is_told_on_every_chart(kind: str) -> None:
    words = "before a round lifts the hook, the slip stitch after a round joins it"
    spiral, joined = (
        mittens(replace(SAMPLE, lower_hand=LowerHand((30,), (2,), (3,), joined=how)))[0]
        for how in (False, True)
    )
    assert words in chart(kind, [joined], STYLE, "US").description
    assert words not in chart(kind, [spiral], STYLE, "US").description


def test_a_spiral_has_nothing_to_explain() -> None:
    assert joined_text(mittens(SAMPLE)[0].pieces[1].rounds) == ""
    assert "The chain before a row lifts" in joined_text(mittens(SAMPLE)[0].pieces[0].rounds, "row")


def test_a_round_cuff_is_never_turned() -> None:
    told = chart("cuff", [mittens(BULKY)[0]], STYLE, "US").description
    assert "right side facing; do not turn" in told


@pytest.mark.parametrize("hand", ["right", "left"])
def test_turned_rows_have_arrows_and_edges(hand: str) -> None:
    style = replace(STYLE, hand="left" if hand == "left" else "right")
    drawn = chart("cuff", [mittens(SAMPLE)[0]], style, "US")
    way = 1 if hand == "right" else -1
    arrows = [line.points for line in drawn.lines if line.kind == "direction"]
    rows = {tagged(s, "round"): s.frame.origin.y for s in drawn.stitches if tagged(s, "round")}
    assert len(arrows) == len(rows)
    for number, y in rows.items():
        ((tail, head),) = (a for a in arrows if abs(a[0].y - y) < 0.01)
        rightwards = int(number) % 2 == 0
        assert ((head.x - tail.x) * way > 0) == rightwards
    edges = {label.text: label.at.x for label in drawn.labels if tagged(label, "role") == "place"}
    assert (edges["arm edge"] - edges["hand edge"]) * way > 0


def test_a_foundation_has_its_count_and_yarn() -> None:
    drawn = chart("cuff", [mittens(SAMPLE)[0]], STYLE, "US")
    said = {tagged(x, "role"): x.text for x in drawn.labels if tagged(x, "round") == "0"}
    assert said["yarn"] == "A"
    assert said["count"] == str(mittens(SAMPLE)[0].pieces[0].rounds[0].count)
