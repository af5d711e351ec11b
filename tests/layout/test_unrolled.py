"""A crown whose rings no sheet holds: its rounds as rows, and faults put into them."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from itertools import pairwise

import pytest
from layout.sheets import SAMPLE, mittens, off_the_page, tagged
from verify.breaking import bytes_of, paths, tree

from gussetry.chart import Chart
from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.layout import sheets
from gussetry.layout.tags import sum_text
from gussetry.stitchmap import Op
from gussetry.style import Style, load_style
from gussetry.style.look import Hand
from gussetry.verify import Asked, recount
from gussetry.verify.legibility import Limits, legibility

LARGE = replace(load_style("large-print"), height=150.0)
"""Too low for rings of 36 stitches of 6 mm: parted by rows."""
NARROW = replace(load_style("default"), width=70.0, height=150.0, stitch=5.0, least_stitch=4.5)
"""Parted by columns, words below the rows."""
(SIDES,) = mittens(SAMPLE)[:1]


@cache
def drawn(look: Style) -> tuple[tuple[Chart, ...], tuple[bytes, ...]]:
    made = sheets("crown", [SIDES], look, "US")
    return made, tuple(svg_bytes(engrave(one, look)) for one in made)


def found(svgs: tuple[bytes, ...], hand: Hand = "right") -> set[str]:
    return {one.kind for one in recount(svgs, Asked("crown", (SIDES,), hand=hand))}


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("style", [LARGE, NARROW], ids=["large", "narrow"])
def test_a_crown_that_no_rings_hold_is_unrolled(style: Style, hand: Hand) -> None:
    look = replace(style, hand=hand)
    made, svgs = drawn(look)
    assert len(made) > 1
    for one, svg in zip(made, svgs, strict=True):
        assert tagged(one, "form") == "unrolled"
        assert "crown, unrolled" in one.title
        assert one.width <= look.width + 1e-6
        assert one.height <= look.height + 1e-6
        assert min(s.pitch for s in one.stitches) >= look.least_stitch - 1e-9
        assert legibility(svg, Limits(look.least_text, look.least_stitch)) == ()
        assert off_the_page(one, look) == []
        way = "left to right" if hand == "left" else "right to left"
        assert f"from {way}" in one.description
    assert found(svgs, hand) == set()


def test_rings_are_kept_where_they_fit() -> None:
    (one,) = sheets("crown", [SIDES], load_style("default"), "US")
    assert tagged(one, "form") == ""


def test_every_stitch_stands_over_the_middle_of_what_it_is_worked_into() -> None:
    wide = replace(LARGE, width=400.0, height=100.0, stitch=6.0)
    made = sheets("crown", [SIDES], wide, "US")
    piece = SIDES.piece("hand")
    assert piece is not None
    rounds = {r.number: r for r in piece.rounds}
    checked = 0
    for one in made:
        at = {
            (int(tagged(s, "round")), int(tagged(s, "index"))): s.frame.origin
            for s in one.stitches
            if tagged(s, "round")
        }
        for (number, index), place in at.items():
            into = [p for p in rounds[number].work[index].into if isinstance(p, int)]
            below = [at.get((number - 1, p)) for p in into]
            if below and None not in below:
                xs = [p.x for p in below if p]
                assert place.x == pytest.approx((min(xs) + max(xs)) / 2, abs=1e-6)
                assert all(p.y > place.y for p in below if p)
                checked += 1
    assert checked > 150


def test_the_drawing_shut_is_drawn_once_and_highest() -> None:
    made, _ = drawn(NARROW)
    shut = [s for one in made for s in one.stitches if s.op.do == "close" and tagged(s, "round")]
    assert len(shut) == 1
    (home,) = [one for one in made if shut[0] in one.stitches]
    others = [s for s in home.stitches if tagged(s, "round") and s is not shut[0]]
    assert all(s.frame.origin.y > shut[0].frame.origin.y for s in others)


def test_sheets_side_by_side_have_their_rows_at_the_same_distances() -> None:
    made, _ = drawn(NARROW)
    bands: dict[str, list[dict[str, float]]] = {}
    for one in made:
        levels = {tagged(s, "round"): s.frame.origin.y for s in one.stitches if tagged(s, "round")}
        bands.setdefault(tagged(one, "rounds"), []).append(levels)
    assert any(len(band) > 1 for band in bands.values())
    for band in bands.values():
        for one, other in pairwise(band):
            shared = sorted(set(one) & set(other), key=int)
            apart = {round(one[n] - other[n], 6) for n in shared}
            assert len(apart) <= 1


def test_rhythms_are_told_as_repeats() -> None:
    def work(*runs: tuple[str, int]) -> list[Op]:
        return [Op(do, into=(0,)) for do, many in runs for _ in range(many)]  # type: ignore[arg-type]

    rhythm = work(("sc", 9), *[("sc2tog", 1), ("sc", 6)] * 4, ("sc2tog", 1))
    assert sum_text(rhythm, "US") == "9 sc, (sc2tog, 6 sc) 4 times, sc2tog"
    assert sum_text(rhythm[:-8], "US") == "9 sc, (sc2tog, 6 sc) 3 times"
    assert sum_text(work(("sc2tog", 1), ("sc", 4), ("sc2tog", 1)), "US") == "sc2tog, 4 sc, sc2tog"


# --- faults put in ----------------------------------------------------------------------------

Change = Callable[..., None]


def as_rings(root) -> None:  # type: ignore[no-untyped-def]
    root.attrib.pop("data-form")


def no_side(root) -> None:  # type: ignore[no-untyped-def]
    for line in paths(root, data_role="marker"):
        next(p for p in root.iter() if line in list(p)).remove(line)


def moved_side(root) -> None:  # type: ignore[no-untyped-def]
    for line in paths(root, data_role="marker"):
        line.set("transform", "translate(6 0)")


def two_sides(root) -> None:  # type: ignore[no-untyped-def]
    line = paths(root, data_role="marker")[0]
    parent = next(p for p in root.iter() if line in list(p))
    other = type(line)(line.tag, dict(line.attrib))
    other.set("transform", "translate(-30 0)")
    parent.append(other)


def turned(root) -> None:  # type: ignore[no-untyped-def]
    root.set("data-hand", "left")


def lost_stitch(root) -> None:  # type: ignore[no-untyped-def]
    stitch = [p for p in paths(root, data_do="sc") if p.get("class") == "stitch"][7]
    next(p for p in root.iter() if stitch in list(p)).remove(stitch)


@pytest.mark.parametrize(
    ("change", "kind"),
    [(as_rings, "rows"), (no_side, "marker"), (moved_side, "marker"), (two_sides, "marker"),
     (turned, "root"), (lost_stitch, "count")],
)  # fmt: skip
def test_a_fault_in_an_unrolled_crown_is_found(change: Change, kind: str) -> None:
    _, svgs = drawn(LARGE)
    root = tree(svgs[0])
    change(root)
    assert kind in found((bytes_of(root), *svgs[1:]))


def test_sums_that_change_places_are_found() -> None:
    """Of the words below a row the one on what is worked before stands where rounds begin."""
    _, svgs = drawn(NARROW)
    for number, svg in enumerate(svgs):
        root = tree(svg)
        sums = paths(root, data_role="sum")
        rows = {p.get("data-round"): [q for q in sums if q.get("data-round") == p.get("data-round")]
                for p in sums}  # fmt: skip
        pair = next((two for two in rows.values() if len(two) == 2), None)
        if pair and pair[0].get("data-says") != pair[1].get("data-says"):
            for name in ("d", "data-says"):
                one, other = pair[0].get(name), pair[1].get(name)
                pair[0].set(name, other)
                pair[1].set(name, one)
            spoiled = (*svgs[:number], bytes_of(root), *svgs[number + 1 :])
            assert found(spoiled) & {"kind", "tag", "count"}
            return
    pytest.fail("no row has two sums")
