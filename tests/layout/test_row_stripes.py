"""A cuff in turned rows of several yarns: its stripes stand side by side, as its rows do."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from layout.sheets import FIVE_SIZES, RIB, SIDED, YARNS, chart, mittens, tagged
from verify.rewriting import everything_lost

from gussetry.chart import Chart, Patch
from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.layout import sheets
from gussetry.layout.striping import can_be_told, letter, stripes_of
from gussetry.pipeline import graded
from gussetry.spec import Spec, Stripe, Yarn
from gussetry.stitchmap import StitchMap
from gussetry.style import Style, lettering, load_style
from gussetry.units import Point
from gussetry.verify import Asked, Limits, recount

EXAMPLES = Path(__file__).parents[2] / "examples"
DEFAULT, INK = load_style("default"), load_style("ink-saver")
BY_TWOS = replace(RIB, stripes=(Stripe("A", 2), Stripe("B", 2)))
UNEVEN = replace(RIB, stripes=(Stripe("A", 1), Stripe("B", 3), Stripe("A", 5)))
ROWS = replace(FIVE_SIZES, pattern="Two by two", sizes=FIVE_SIZES.sizes[:1], cuff=BY_TWOS)
SIDES = replace(SIDED, pattern="Uneven", cuff=UNEVEN)
KINDS = ("stripes", "schematic")


@cache
def made(spec: Spec, nth: int = 0) -> StitchMap:
    """A mitten of a specification."""
    return mittens(spec)[nth]


def drawn(kind: str, stitches: StitchMap, look: Style) -> Chart:
    """A strip, or a schematic with stripes laid in."""
    return chart(kind, [stitches], replace(look, schematic="stripes"), "US")


def asked(kind: str, stitches: StitchMap, look: Style) -> Asked:
    """What it must show."""
    return Asked(kind, (stitches,), limits=Limits(look.least_text, look.least_stitch))


def cuff_stripes(drawing: Chart) -> list[Patch]:
    """The cuff's stripes from the left."""
    own = [p for p in drawing.patches if tagged(p, "piece") == "cuff"]
    return sorted(own, key=lambda patch: min(at.x for at in patch.points))


def across(patch: Patch) -> tuple[float, float]:
    return min(p.x for p in patch.points), max(p.x for p in patch.points)


def test_on_the_strip_rows_run_from_the_right_each_as_wide_as_the_others() -> None:
    stitches = made(ROWS)
    own = cuff_stripes(drawn("stripes", stitches, DEFAULT))
    rows = len(stitches.piece("cuff").counted)
    assert [tagged(p, "round") for p in own][::-1][:3] == ["1-2", "3-4", "5-6"]
    assert [p.yarn for p in own][::-1][:4] == ["A", "B", "A", "B"]
    assert len(own) == rows / 2
    assert all(b - a == pytest.approx(2 * 22 / rows) for a, b in map(across, own))


@pytest.mark.parametrize("nth", [0, 1], ids=["left", "right"])
def test_on_the_schematic_the_half_is_seen_that_faces_the_reader(nth: int) -> None:
    stitches = made(SIDES, nth)
    own = cuff_stripes(drawn("schematic", stitches, DEFAULT))
    # By hand: 28 rows, A 1, B 2-4, A 5-10, B 11-13, A 14-19, B 20-22, A 23-28. The half that is
    # seen of a left mitten ends at its outer edge on the left with row 28, of a right one it begins
    # at its outer edge on the right with row 1.
    seen = [tagged(p, "round") for p in own]
    left = ["23-28", "20-22", "15-19"]
    right = ["14", "11-13", "5-10", "2-4", "1"]
    assert seen == (left, right)[nth]
    wide = across(own[-1])[1] - across(own[0])[0]
    assert wide == pytest.approx(14 * 5 / 2)
    assert across(own[0])[1] - across(own[0])[0] == pytest.approx((6, 1)[nth] * 5 / 2)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(("spec", "nth"), [(ROWS, 0), (SIDES, 0), (SIDES, 1)])
def test_they_are_recounted_with_tags_and_without(kind: str, spec: Spec, nth: int) -> None:
    stitches = made(spec, nth)
    svg = svg_bytes(engrave(drawn(kind, stitches, DEFAULT), DEFAULT))
    assert recount(svg, asked(kind, stitches, DEFAULT)) == ()
    found = recount(everything_lost(svg), asked(kind, stitches, DEFAULT))
    assert {one.kind for one in found} == {"tags"}


@pytest.mark.parametrize("kind", KINDS)
def test_one_block_where_stripes_cannot_be_told(kind: str) -> None:
    alike = replace(ROWS, yarns=(YARNS[0], Yarn("B", "night", "#445560")))
    for spec, look in ((alike, DEFAULT), (ROWS, INK)):
        stitches = made(spec)
        drawing = drawn(kind, stitches, look)
        if drawing.patches and kind == "schematic":
            assert len(cuff_stripes(drawing)) <= 1
        svg = svg_bytes(engrave(drawing, look))
        assert recount(svg, asked(kind, stitches, look)) == ()
        if kind == "stripes":
            (block,) = (p for p in drawing.patches if tagged(p, "piece") == "cuff")
            assert tagged(block, "round") == "1-26"
            letters = [x.text for x in drawing.labels if tagged(x, "role") == "yarn"]
            assert "A, B" in letters
    assert "Cuff, rows 1 to 2: slate (A). Cuff, rows 3 to 4: oatmeal (B)." in (
        drawn("stripes", made(ROWS), INK).description
    )


@pytest.mark.parametrize("kind", KINDS)
def test_stripes_out_of_their_places_are_found(kind: str) -> None:
    stitches = made(ROWS)
    drawing = drawn(kind, stitches, DEFAULT)
    first, second, *_ = cuff_stripes(drawing)

    def found(**instead: Patch) -> set[str]:
        own = {id(first): instead.get("first", first), id(second): instead.get("second", second)}
        patches = tuple(own.get(id(p), p) for p in drawing.patches)
        svg = svg_bytes(engrave(replace(drawing, patches=patches), DEFAULT))
        return {one.kind for one in recount(svg, asked(kind, stitches, DEFAULT))}

    assert found() == set()
    swapped = found(
        first=replace(first, points=second.points), second=replace(second, points=first.points)
    )
    assert {"tag", "colour"} <= swapped
    assert "colour" in found(first=replace(first, colour=second.colour))
    edge = across(first)[1]
    wider = tuple(p.plus(Point(0.1, 0.0)) if p.x == edge else p for p in first.points)
    assert "strip" in found(first=replace(first, points=wider))


@pytest.mark.parametrize("kind", KINDS)
def test_one_colour_for_rows_of_several_is_found(kind: str) -> None:
    stitches = made(ROWS)
    drawing = drawn(kind, stitches, DEFAULT)
    own = cuff_stripes(drawing)
    corners = tuple(
        Point((across(own[0])[0], across(own[-1])[1])[p.x == across(own[0])[1]], p.y)
        for p in own[0].points
    )
    tags = tuple((k, "1-26" if k == "data-round" else v) for k, v in own[0].tags)
    block = replace(own[0], points=corners, tags=tags)
    patches = (*(p for p in drawing.patches if p not in own), block)
    svg = svg_bytes(engrave(replace(drawing, patches=patches), DEFAULT))
    assert "strip" in {one.kind for one in recount(svg, asked(kind, stitches, DEFAULT))}


def test_no_stripes_under_a_line_along_the_edge_of_one() -> None:
    stitches = made(ROWS)
    thumb = [s for s in stripes_of(stitches, DEFAULT, 0.5) if s.piece == "thumb"]
    levels = sorted({p.y for stripe in thumb for p in (stripe.points[0], stripe.points[-1])})
    tip = min(p.y for stripe in thumb for p in stripe.points)
    assert can_be_told(stitches, DEFAULT, 0.5, (levels[0] + levels[1]) / 2)
    for edge in (*levels, tip):
        assert not can_be_told(stitches, DEFAULT, 0.5, edge)


def test_letters_keep_clear_of_outlines() -> None:
    stitches, size = made(SIDES), DEFAULT.size("yarn")
    least, lettered = 0.15 + DEFAULT.pen("outline") / 2, 0
    for percent in range(40, 70):
        for stripe in stripes_of(stitches, DEFAULT, percent / 100):
            label = letter(stripe, stitches, DEFAULT)
            if label is None:
                continue
            lettered += 1
            high = [p.y for p in stripe.points]
            assert min(high) + least <= label.at.y - lettering.CAP_HEIGHT * size
            assert label.at.y <= max(high) - least
    assert lettered > 100


@pytest.mark.parametrize("name", ["default", "clear-print", "phone", "large-print", "ink-saver"])
def test_grooves_show_on_every_stripe_of_a_cuff_in_rounds(name: str) -> None:
    look = load_style(name)
    stitches = graded(EXAMPLES / "kittiwake-post-rib.yaml").grading.maps[-1]
    drawing = drawn("schematic", stitches, look)
    grooves = [line for line in drawing.lines if line.kind == "rib"]
    assert grooves
    if drawing.patches and look.yarns == "colours":
        assert all(line.ground for line in grooves)
    svg = svg_bytes(engrave(drawing, look))
    assert recount(svg, asked("schematic", stitches, look)) == ()


def test_the_seam_has_its_yarn_and_without_it_is_found() -> None:
    stitches = made(ROWS)
    (drawing,) = sheets("cuff", [stitches], DEFAULT, "US")
    seam = str(stitches.piece("cuff").rounds[-1].number)

    def found(chart: Chart) -> set[str]:
        svg = svg_bytes(engrave(chart, DEFAULT))
        return {one.kind for one in recount(svg, Asked("cuff", (stitches,)))}

    assert found(drawing) == set()
    own = [x for x in drawing.labels if tagged(x, "round") == seam]
    assert [(x.kind, x.text) for x in own] == [("yarn", stitches.piece("cuff").rounds[-1].yarn)]
    labels = tuple(x for x in drawing.labels if x not in own)
    assert found(replace(drawing, labels=labels)) == {"printed"}
    patches = tuple(p for p in drawing.patches if tagged(p, "round") != seam)
    assert found(replace(drawing, labels=labels, patches=patches)) == {"printed", "colour"}
