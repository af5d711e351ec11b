"""Sheets: a chart that outgrows its column goes on over several, each whole by itself."""

import itertools
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from grading.strategies import specs
from hypothesis import HealthCheck, Phase, given, settings
from layout.sheets import BULKY, FIVE_SIZES, THUMBLESS, mittens, off_the_page, tagged
from layout.test_charts import assert_chart, assert_key, assert_order, assert_room
from verify.breaking import bytes_of, paths, tree

from gussetry.chart import Chart
from gussetry.diagnostics import Faults
from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.grading import grade
from gussetry.layout import OffPage, kinds, sheets
from gussetry.spec import Gauge, Spec
from gussetry.stitchmap import StitchMap
from gussetry.style import Style, load_style
from gussetry.style.look import Hand
from gussetry.verify import Asked, recount
from gussetry.verify.legibility import Limits, legibility

DEFAULT = load_style("default")
LOW = replace(DEFAULT, height=115.0)
NARROW = replace(DEFAULT, width=108.0)
A4_LARGE = replace(load_style("large-print"), width=180.0, height=257.0)
CHARTS = ("cuff", "hand", "gusset", "crown", "thumb")
LARGEST = mittens(FIVE_SIZES)[-1]


def svgs_of(made: tuple[Chart, ...], style: Style) -> list[bytes]:
    return [svg_bytes(engrave(one, style)) for one in made]


def found(svgs: list[bytes], kind: str, stitches: StitchMap, hand: str = "right") -> set[str]:
    return {finding.kind for finding in recount(svgs, Asked(kind, (stitches,), hand=hand))}


@pytest.mark.parametrize(
    ("style", "hand"),
    [(LOW, "right"), (LOW, "left"), (NARROW, "right"), (A4_LARGE, "right")],
    ids=["low", "left", "narrow", "large"],
)
def test_every_sheet_is_within_its_column_and_recounts(style: Style, hand: Hand) -> None:
    look = replace(style, hand=hand)
    parted = 0
    for stitches in (mittens(spec)[-1] for spec in (BULKY, FIVE_SIZES, THUMBLESS)):
        for kind in (k for k in kinds(stitches) if k in CHARTS):
            made = sheets(kind, [stitches], look, "US")
            parted += len(made) > 1
            for one in made:
                assert one.width <= look.width + 1e-6
                assert one.height <= look.height + 1e-6
                svg = svg_bytes(engrave(one, look))
                assert legibility(svg, Limits(look.least_text, look.least_stitch)) == ()
                assert off_the_page(one, look) == []
                if hand == "right":
                    assert_room(one)
                    assert_key(one)
                    if kind != "crown":
                        assert_order(one, stitches)
            assert found(svgs_of(made, look), kind, stitches, hand) == set()
    assert parted or style is NARROW


@settings(
    derandomize=True, max_examples=6, deadline=None, phases=[Phase.explicit, Phase.generate],
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)  # fmt: skip
@given(specs())
def test_whatever_is_graded_fits_a_narrow_column_or_says_what_it_needs(spec: Spec) -> None:
    try:
        stitches = grade(spec).maps[-1]
    except Faults:
        return
    look = replace(DEFAULT, width=90.0, height=160.0)
    for kind in (k for k in kinds(stitches) if k in CHARTS):
        try:
            made = sheets(kind, [stitches], look, "US")
        except OffPage:
            # What it needs is told: see below.
            continue
        for one in made:
            assert one.width <= look.width + 1e-6
            assert one.height <= look.height + 1e-6
            assert min(s.pitch for s in one.stitches) >= look.least_stitch - 1e-9
        assert found(svgs_of(made, look), kind, stitches) == set()


def test_a_column_too_small_for_anything_is_refused_with_what_would_do() -> None:
    stitches = LARGEST
    for kind, side in (("gusset", "width"), ("cuff", "height")):
        small = replace(DEFAULT, **{side: 40.0})
        with pytest.raises(OffPage) as raised:
            sheets(kind, [stitches], small, "US")
        assert raised.value.side == side
        assert raised.value.least > 40.0


def test_the_least_stitch_is_never_gone_under() -> None:
    look = replace(DEFAULT, stitch=9.0, least_stitch=8.0)
    made = sheets("gusset", [LARGEST], look, "US")
    assert min(s.pitch for one in made for s in one.stitches) >= 8.0
    assert all(one.width <= look.width for one in made)


def test_sheets_are_numbered_and_the_rows_between_stand_on_both() -> None:
    made = sheets("gusset", [LARGEST], LOW, "US")
    assert len(made) == 2
    for number, one in enumerate(made, 1):
        assert f"(sheet {number} of 2)" in one.title
        assert (tagged(one, "sheet"), tagged(one, "of")) == (str(number), "2")
    lower, upper = (tagged(one, "rounds").split("-") for one in made)
    assert lower[1] == upper[0]
    again = [s for s in made[1].stitches if tagged(s, "repeat") == "overlap"]
    assert {tagged(s, "round") for s in again} == {upper[0]}
    assert [s.op for s in again] == [
        s.op for s in made[0].stitches if tagged(s, "round") == lower[1]
    ]
    assert not any(tagged(s, "repeat") for s in made[0].stitches)


def said(one: Chart) -> str:
    return " ".join(label.text for label in one.labels if tagged(label, "role") == "note")


def test_each_sheet_says_what_is_about_the_rows_that_it_is_the_first_to_show() -> None:
    made = sheets("gusset", [LARGEST], LOW, "US")
    division = next(r.number for p in LARGEST.pieces for r in p.rounds if r.phase == "division")
    for words, shows in (
        ("stitches aside and leaves", lambda one: division in drawn_of(one)),
        ("A lozenge marks each marked stitch", lambda one: any_marked(one)),
    ):
        first = next(n for n, one in enumerate(made) if shows(one))
        assert [words in said(one) for one in made] == [n == first for n in range(len(made))]
    assert all("Right side facing: read every round" in said(one) for one in made)


def drawn_of(one: Chart) -> set[int]:
    """The rounds that a sheet draws and none before does."""
    own = [s for s in one.stitches if tagged(s, "round") and not tagged(s, "repeat")]
    return {int(tagged(s, "round")) for s in own}


def any_marked(one: Chart) -> bool:
    return any(line.kind == "marker" for line in one.lines)


def test_what_ends_a_piece_is_no_round_of_a_sheet() -> None:
    made = sheets("thumb", [LARGEST], replace(DEFAULT, height=105.0), "US")
    thumb = LARGEST.piece("thumb")
    assert thumb is not None
    last = thumb.counted[-1].number
    assert tagged(made[-1], "rounds").endswith(f"-{last + 1}")
    assert f"–{last}. " in said(made[-1])


def test_crosses_lie_on_each_other() -> None:
    lower, upper = sheets("gusset", [LARGEST], LOW, "US")
    places = []
    for one in (lower, upper):
        round_ = tagged(upper, "rounds").split("-")[0]
        first = next(s for s in one.stitches if tagged(s, "round") == round_).frame.origin
        middles = [line.points[3] for line in one.lines if line.kind == "register"]
        places.append([(p.x - first.x, p.y - first.y) for p in middles])
    assert len(places[0]) == 2
    for low, high in zip(*places, strict=True):
        assert low == pytest.approx(high)


def test_a_sheet_begins_at_a_phase_where_it_may() -> None:
    made = sheets("thumb", [LARGEST], replace(DEFAULT, height=105.0), "US")
    assert len(made) > 1
    for one, other in itertools.pairwise(made):
        assert tagged(one, "rounds").split("-")[1] == tagged(other, "rounds").split("-")[0]


@pytest.mark.parametrize("height", range(96, 130, 4))
def test_the_drawing_shut_has_no_sheet_for_itself(height: int) -> None:
    made = sheets("thumb", [LARGEST], replace(DEFAULT, height=float(height)), "US")
    new = {
        tagged(s, "round")
        for s in made[-1].stitches
        if tagged(s, "round") and not tagged(s, "repeat")
    }
    assert len(new) > 2
    assert found(svgs_of(made, DEFAULT), "thumb", LARGEST) == set()


def test_sums_stand_below_rows_that_have_no_room_beside_them() -> None:
    (beside,) = sheets("gusset", [LARGEST], DEFAULT, "US")
    (below,) = sheets("gusset", [LARGEST], replace(NARROW, least_stitch=3.2), "US")
    for drawn, under in ((beside, False), (below, True)):
        levels = {tagged(s, "round"): s.frame.origin.y for s in drawn.stitches}
        lower = [
            label.at.y > levels[tagged(label, "round")] + 2.5
            for label in drawn.labels
            if tagged(label, "role") in ("sum", "section") and tagged(label, "round") in levels
        ]
        assert lower
        assert set(lower) == {under}
        counts = [label for label in drawn.labels if tagged(label, "role") == "count"]
        assert all(label.at.y < levels[tagged(label, "round")] + 2.5 for label in counts)


def test_a_crown_is_parted_between_its_rings() -> None:
    made = sheets("crown", [LARGEST], A4_LARGE, "US")
    assert len(made) == 2
    shut = [[s for s in one.stitches if s.op.do == "close" and tagged(s, "round")] for one in made]
    assert [len(one) for one in shut] == [0, 1]
    assert min(s.pitch for one in made for s in one.stitches) >= 6.0


def test_a_wide_chart_is_parted_by_columns() -> None:
    """A chart of many plain stitches across, and nothing to crop to."""
    fine = replace(
        FIVE_SIZES,
        gauge=Gauge("sc", Fraction(100, 30), Fraction(100, 34)),
        sizes=FIVE_SIZES.sizes[-1:],
    )
    (stitches,) = mittens(fine)
    look = replace(DEFAULT, width=100.0, height=400.0, least_stitch=3.6)
    made = sheets("thumb", [stitches], look, "US")
    assert len(made) > 1
    assert len({tagged(one, "rounds") for one in made}) == 1
    assert found(svgs_of(made, look), "thumb", stitches) == set()
    for one in made:
        assert_chart(one, stitches)


# --- faults put in ----------------------------------------------------------------------------

Spoil = Callable[[list[bytes]], list[bytes]]


def edited(svg: bytes, change: Callable[..., None]) -> bytes:
    root = tree(svg)
    change(root)
    return bytes_of(root)


def lost(svgs: list[bytes]) -> list[bytes]:
    return svgs[:1]


def swapped(svgs: list[bytes]) -> list[bytes]:
    return svgs[::-1]


def twice(svgs: list[bytes]) -> list[bytes]:
    return [svgs[0], svgs[0]]


def wrong_span(svgs: list[bytes]) -> list[bytes]:
    def change(root) -> None:  # type: ignore[no-untyped-def]
        first, last = root.get("data-rounds").split("-")
        root.set("data-rounds", f"{first}-{int(last) - 1}")

    return [edited(svgs[0], change), svgs[1]]


def no_span(svgs: list[bytes]) -> list[bytes]:
    return [svgs[0], edited(svgs[1], lambda root: root.attrib.pop("data-rounds"))]


def unsaid(svgs: list[bytes]) -> list[bytes]:
    def change(root) -> None:  # type: ignore[no-untyped-def]
        del paths(root, data_repeat="overlap")[2].attrib["data-repeat"]

    return [svgs[0], edited(svgs[1], change)]


def said_without_need(svgs: list[bytes]) -> list[bytes]:
    def change(root) -> None:  # type: ignore[no-untyped-def]
        stitch = next(p for p in paths(root, data_round="3") if p.get("class") == "stitch")
        stitch.set("data-repeat", "overlap")

    return [edited(svgs[0], change), svgs[1]]


def without_a_cross(svgs: list[bytes]) -> list[bytes]:
    def change(root) -> None:  # type: ignore[no-untyped-def]
        cross = paths(root, data_role="register")[0]
        next(parent for parent in root.iter() if cross in list(parent)).remove(cross)

    return [svgs[0], edited(svgs[1], change)]


def told(words: str, others: str) -> Spoil:
    """The upper sheet's description with other words."""

    def spoil(svgs: list[bytes]) -> list[bytes]:
        assert words.encode() in svgs[1]
        return [svgs[0], svgs[1].replace(words.encode(), others.encode(), 1)]

    return spoil


@pytest.mark.parametrize(
    "spoil",
    [
        lost, swapped, twice, wrong_span, no_span, unsaid, said_without_need, without_a_cross,
        told("worked on sheet 1", "worked on sheet 2"),
        told("do not work it again", "work it"),
        told("Hand rounds ", "Hand rounds 1"),
    ],
)  # fmt: skip
def test_a_fault_among_sheets_is_found(spoil: Spoil) -> None:
    made = sheets("gusset", [LARGEST], LOW, "US")
    svgs = svgs_of(made, LOW)
    assert found(svgs, "gusset", LARGEST) == set()
    assert "sheets" in found(spoil(svgs), "gusset", LARGEST)


def test_a_repeated_round_stands_back_and_has_its_number_in_brackets() -> None:
    upper = sheets("gusset", [LARGEST], LOW, "US")[1]
    first = tagged(upper, "rounds").split("-")[0]
    numbers = [label.text for label in upper.labels if tagged(label, "role") == "round"]
    assert numbers.count(f"({first})") == 1
    assert sum(text.startswith("(") for text in numbers) == 1
    svgs = svgs_of(sheets("gusset", [LARGEST], LOW, "US"), LOW)
    inks = {(p.get("data-repeat"), p.get("stroke")) for p in paths(tree(svgs[1]), class_="stitch")}
    assert not {ink for again, ink in inks if again} & {ink for again, ink in inks if not again}
    bare = replace(upper, labels=tuple(
        replace(label, text=label.text.strip("()")) if tagged(label, "role") == "round" else label
        for label in upper.labels
    ))  # fmt: skip
    assert "printed" in found([svgs[0], *svgs_of((bare,), LOW)], "gusset", LARGEST)


def test_an_overlap_that_is_another_row_is_found() -> None:
    """The upper sheet of a chart that was parted elsewhere, passed off as this one's."""
    svgs = svgs_of(sheets("gusset", [LARGEST], LOW, "US"), LOW)
    lower = replace(LOW, height=LOW.height - 12)
    others = svgs_of(sheets("gusset", [LARGEST], lower, "US"), lower)
    assert len(others) == 2
    assert "sheets" in found([svgs[0], others[1]], "gusset", LARGEST)
    assert "sheets" in found([others[0], svgs[1]], "gusset", LARGEST)


def test_a_drawing_that_is_no_chart_has_one_sheet() -> None:
    svgs = svgs_of(sheets("stripes", [LARGEST], DEFAULT, "US"), DEFAULT)
    assert "sheets" in found(svgs * 2, "stripes", LARGEST)
