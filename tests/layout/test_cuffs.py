"""Cuffs worked round: chain and rounds show the same stitches in the same columns."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from layout.sheets import SIDED, chart, mittens, off_the_page, tagged, touching

from gussetry.chart import Chart, PlacedStitch
from gussetry.grading.cuffs import post_cuff, round_cuff
from gussetry.layout import Terms
from gussetry.stitchmap import Piece, StitchMap
from gussetry.style import Style, load_style

STYLES = {name: load_style(name) for name in ("default", "large-print")}
MAKERS: dict[str, Callable[[int, int, str, bool], Piece]] = {"post": post_cuff, "plain": round_cuff}
FABRIC = mittens(SIDED)[0]


def mitten(cuff: Piece) -> StitchMap:
    """A mitten with that cuff in yarn A."""
    cuff = replace(cuff, rounds=tuple(replace(r, yarn="A") for r in cuff.rounds))
    others = (p for p in FABRIC.pieces if p.piece != "cuff")
    return replace(FABRIC, pieces=(cuff, *others))


@st.composite
def cuffs(draw: st.DrawFn) -> Piece:
    """Cuffs worked round, narrow ones and wide ones, in joined rounds and in a spiral."""
    how = draw(st.sampled_from(sorted(MAKERS)))
    stitch = draw(st.sampled_from(("hdc", "dc") if how == "post" else ("sc", "hdc", "dc")))
    # Front and back by turns want an even number.
    count = 2 * draw(st.integers(3, 36)) if how == "post" else draw(st.integers(6, 72))
    return MAKERS[how](count, draw(st.integers(1, 12)), stitch, draw(st.booleans()))


@st.composite
def looks(draw: st.DrawFn) -> Style:
    """The styles, in columns from a narrow booklet's to a poster's."""
    style = STYLES[draw(st.sampled_from(sorted(STYLES)))]
    return replace(style, width=float(draw(st.integers(60, 420))))


def columns(drawn: Chart) -> dict[int, dict[int, PlacedStitch]]:
    """The counted stitches drawn of each round, by their number in it."""
    found: dict[int, dict[int, PlacedStitch]] = {}
    for s in drawn.stitches:
        if tagged(s, "round") and s.op.counts:
            found.setdefault(int(tagged(s, "round")), {})[int(tagged(s, "index"))] = s
    return {
        number: {index - min(row): s for index, s in row.items()} for number, row in found.items()
    }


def assert_in_columns(drawn: Chart) -> None:
    """Every stitch drawn stands over the chain or stitch that it is worked into, which is drawn;
    and whatever is drawn has its stitch of every other drawn round over or under it."""
    rows = columns(drawn)
    chain = rows.pop(0)
    assert sorted(chain) == list(range(len(chain)))
    for row in rows.values():
        assert row.keys() == chain.keys()
        for s in row.values():
            (place,) = s.op.into
            at = place[1] if isinstance(place, tuple) else place
            assert s.frame.origin.x == pytest.approx(chain[at].frame.origin.x)


def assert_arrow(drawn: Chart) -> None:
    """The arrow of the first round begins under its first stitch and stays under the chain."""
    (arrow,) = (line for line in drawn.lines if line.kind == "direction")
    chain = columns(drawn)[0]
    start, end = (p.x for p in arrow.points)
    first, last = chain[0], chain[len(chain) - 1]
    assert start == pytest.approx(first.frame.origin.x + first.pitch / 2)
    assert last.frame.origin.x - last.pitch / 2 <= end + 1e-9 < start


@settings(derandomize=True, max_examples=150, deadline=None)
@given(cuffs(), looks(), st.sampled_from(("US", "UK")))
@example(post_cuff(32, 11, "dc", False), STYLES["default"], "UK")
@example(round_cuff(32, 5, "sc", False), STYLES["large-print"], "US")
@example(post_cuff(32, 11, "dc", True), STYLES["default"], "US")
def test_chain_and_rounds_of_a_cuff_stand_in_the_same_columns(
    cuff: Piece, style: Style, terms: Terms
) -> None:
    drawn = chart("cuff", [mitten(cuff)], style, terms)
    assert_in_columns(drawn)
    assert_arrow(drawn)
    # A summing line ends before the chips, be it longer than the rows.
    assert {pair[1] for pair in touching(drawn, style)} <= {"colour"}
    assert off_the_page(drawn, style) == []


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("joined", [False, True], ids=["spiral", "joined"])
@pytest.mark.parametrize("how", MAKERS)
def test_a_cuff_of_each_count_is_shown_whole_or_begun_in_all_its_lines(
    how: str, joined: bool, style: str
) -> None:
    shown = {}
    for count in range(24, 46, 2):
        drawn = chart("cuff", [mitten(MAKERS[how](count, 3, "dc", joined))], STYLES[style], "US")
        assert_in_columns(drawn)
        assert drawn.width <= STYLES[style].width + 1e-6
        shown[count] = {len(row) for row in columns(drawn).values()}
    # What joins or lifts is no stitch and makes no round longer.
    assert shown == {count: {count if count <= 32 else 16} for count in shown}
