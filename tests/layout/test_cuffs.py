"""Cuffs worked round: chain and rounds show the same stitches in the same columns."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import NamedTuple

import pytest
from hypothesis import Phase, example, given, settings
from hypothesis import strategies as st
from layout.sheets import SIDED, mittens, off_the_page, tagged, touching

from gussetry.chart import Chart, PlacedStitch
from gussetry.grading.cuffs import post_cuff, round_cuff
from gussetry.layout import OffPage, Terms, sheets
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


class Made(NamedTuple):
    """How a cuff is made: the maker's name, and what it is asked for."""

    how: str
    count: int
    rounds: int
    stitch: str
    joined: bool

    def mitten(self) -> StitchMap:
        """A mitten with that cuff."""
        return mitten(MAKERS[self.how](self.count, self.rounds, self.stitch, self.joined))


@st.composite
def cuffs(draw: st.DrawFn) -> Made:
    """Cuffs worked round, narrow ones and wide ones, in joined rounds and in a spiral."""
    how = draw(st.sampled_from(sorted(MAKERS)))
    stitch = draw(st.sampled_from(("hdc", "dc") if how == "post" else ("sc", "hdc", "dc")))
    # Front and back by turns want an even number.
    count = 2 * draw(st.integers(3, 36)) if how == "post" else draw(st.integers(6, 72))
    return Made(how, count, draw(st.integers(1, 12)), stitch, draw(st.booleans()))


@st.composite
def looks(draw: st.DrawFn) -> Style:
    """The styles, in columns from a narrow booklet's to a poster's."""
    style = STYLES[draw(st.sampled_from(sorted(STYLES)))]
    return replace(style, width=float(draw(st.integers(60, 420))))


Columns = dict[int, dict[int, PlacedStitch]]


def columns(drawn: Sequence[Chart]) -> list[Columns]:
    """The counted stitches drawn of each round, by their number in it, sheet by sheet."""
    sheets_of: list[Columns] = []
    first: dict[int, int] = {}
    for sheet in drawn:
        found: Columns = {}
        for s in sheet.stitches:
            if tagged(s, "round") and s.op.counts:
                number, index = int(tagged(s, "round")), int(tagged(s, "index"))
                first[number] = min(index, first.get(number, index))
                found.setdefault(number, {})[index] = s
        sheets_of.append(found)
    return [
        {number: {i - first[number]: s for i, s in row.items()} for number, row in found.items()}
        for found in sheets_of
    ]


def assert_in_columns(drawn: Sequence[Chart]) -> set[int]:
    """The columns shown. Every stitch drawn stands over the chain or stitch that it is worked
    into; and whatever a sheet draws has its stitch of every other row there over or under it."""
    shown: set[int] = set()
    chained: set[int] = set()
    for rows in columns(drawn):
        lowest = rows[min(rows)]
        shown |= lowest.keys()
        chained |= rows.get(0, {}).keys()
        for number, row in rows.items():
            assert row.keys() == lowest.keys()
            for column, s in row.items():
                assert s.frame.origin.x == pytest.approx(lowest[column].frame.origin.x)
                for place in s.op.into if number else ():
                    assert (place[1] if isinstance(place, tuple) else place) == column
    assert shown == chained == set(range(len(shown)))
    return shown


def assert_arrow(drawn: Chart) -> None:
    """The arrow of the first round begins under its first stitch and stays under the chain."""
    (arrow,) = (line for line in drawn.lines if line.kind == "direction")
    chain = columns([drawn])[0][0]
    start, end = (p.x for p in arrow.points)
    first, last = chain[0], chain[len(chain) - 1]
    assert start == pytest.approx(first.frame.origin.x + first.pitch / 2)
    assert last.frame.origin.x - last.pitch / 2 <= end + 1e-9 < start


@settings(
    derandomize=True, max_examples=100, deadline=None, phases=[Phase.explicit, Phase.generate]
)
@given(cuffs(), looks(), st.sampled_from(("US", "UK")))
@example(Made("post", 32, 11, "dc", False), STYLES["default"], "UK")
@example(Made("plain", 32, 5, "sc", False), STYLES["large-print"], "US")
@example(Made("post", 32, 11, "dc", True), STYLES["default"], "US")
def test_chain_and_rounds_of_a_cuff_stand_in_the_same_columns(
    cuff: Made, style: Style, terms: Terms
) -> None:
    try:
        drawn = sheets("cuff", [cuff.mitten()], style, terms)
    except OffPage:
        # The narrowest columns do not hold large print's gutters.
        assert style.name == "large-print"
        assert style.width < 140
        return
    assert_in_columns(drawn)
    assert_arrow(drawn[0])
    for sheet in drawn:
        # A summing line ends before the chips, be it longer than the rows.
        assert {pair[1] for pair in touching(sheet, style)} <= {"colour"}
        assert off_the_page(sheet, style) == []


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("joined", [False, True], ids=["spiral", "joined"])
@pytest.mark.parametrize("how", MAKERS)
def test_a_cuff_of_each_count_is_shown_whole_or_begun_in_all_its_lines(
    how: str, joined: bool, style: str
) -> None:
    shown = {}
    for count in range(24, 46, 2):
        drawn = sheets("cuff", [Made(how, count, 3, "dc", joined).mitten()], STYLES[style], "US")
        assert all(sheet.width <= STYLES[style].width + 1e-6 for sheet in drawn)
        shown[count] = len(assert_in_columns(drawn))
    # What joins or lifts is no stitch and makes no round longer.
    assert shown == {count: count if count <= 32 else 16 for count in shown}
