from dataclasses import replace
from fractions import Fraction

import pytest
from grading.strategies import specs
from hypothesis import Phase, given, reject, settings
from layout.sheets import (
    BULKY,
    FINGERLESS,
    FIVE_SIZES,
    SAMPLE,
    SIDED,
    SPECS,
    TALL_STITCHES,
    THUMBLESS,
    mittens,
    off_the_page,
    tagged,
    touching,
)

from gussetry.chart import Chart, Line
from gussetry.diagnostics import Faults
from gussetry.grading import grade
from gussetry.grading.cautions import CAUTIONS
from gussetry.layout.boxes import SCALES
from gussetry.layout.register import schematic
from gussetry.spec import Size, Spec
from gussetry.stitchmap import StitchMap
from gussetry.style import Style, load_style

STYLES = [
    load_style("default"),
    replace(load_style("large-print"), width=277.0, height=400.0, scale=0.75),
]
DEFAULT = STYLES[0]
SINGLE = [
    pytest.param(m, style, id=f"{m.pattern}-{m.size}-{m.mitten}-{style.name}")
    for spec in SPECS
    for m in mittens(spec)
    for style in STYLES
]
NESTED = [
    pytest.param(mittens(spec), style, id=f"{spec.pattern}-{style.name}")
    for spec in (FIVE_SIZES, BULKY, FINGERLESS, THUMBLESS)
    for style in STYLES
]


def outline(chart: Chart, piece: str, size: str) -> Line:
    """The one outline of a piece of a size."""
    (found,) = (
        line
        for line in chart.lines
        if (tagged(line, "role"), tagged(line, "piece"), tagged(line, "size"))
        == ("outline", piece, size)
    )
    return found


def width_at(line: Line, y: float) -> float:
    """How wide a closed outline is at a height."""
    cuts = []
    for a, b in zip(line.points, (*line.points[1:], line.points[0]), strict=True):
        if a.y != b.y and min(a.y, b.y) - 1e-9 <= y <= max(a.y, b.y) + 1e-9:
            cuts.append(a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y))
    return max(cuts) - min(cuts)


def compare_outlines(chart: Chart, stitches: StitchMap) -> None:
    """Asserts that hand, thumb and cuff are to scale, round by round."""
    # The tag is rounded to four decimals; the scale itself is one of these.
    told = float(tagged(chart, "scale"))
    scale = min((*SCALES, *(style.scale for style in STYLES)), key=lambda s: abs(s - told))
    assert scale == pytest.approx(told, abs=1e-4)
    half = float(stitches.fabric.width) / 2 * scale
    step = float(stitches.fabric.height) * scale
    for name in ("hand", "thumb") if stitches.piece("thumb") else ("hand",):
        line = outline(chart, name, stitches.size)
        foot = max(p.y for p in line.points)
        rounds = stitches.piece(name).counted
        assert foot - min(p.y for p in line.points) == pytest.approx(len(rounds) * step, abs=1e-3)
        for r in rounds:
            # Just above the round's top, where the division's ledge has ended.
            level = foot - r.number * step + (0 if r is rounds[-1] else -1e-6)
            assert width_at(line, level) == pytest.approx(r.count * half, abs=1e-3), r.number
    cuff = stitches.piece("cuff")
    if cuff is not None:
        line = outline(chart, "cuff", stitches.size)
        rows = cuff.counted
        own = stitches.rib or stitches.fabric
        wide, high = float(own.width) * scale, float(own.height) * scale
        if cuff.worked == "rows":
            across, deep = len(rows) * high / 2, rows[0].count * wide
        else:
            across, deep = rows[0].count * wide / 2, len(rows) * high
        xs, ys = zip(*line.points, strict=True)
        assert max(xs) - min(xs) == pytest.approx(across, abs=1e-3)
        assert max(ys) - min(ys) == pytest.approx(deep, abs=1e-3)


@pytest.mark.parametrize(("stitches", "style"), SINGLE)
def test_outlines_are_half_of_every_rounds_count(stitches: StitchMap, style: Style) -> None:
    compare_outlines(schematic([stitches], style), stitches)


@pytest.mark.parametrize(("maps", "style"), NESTED)
def test_nested_outlines_are_to_one_scale(maps: tuple[StitchMap, ...], style: Style) -> None:
    chart = schematic(maps, style)
    for stitches in maps:
        compare_outlines(chart, stitches)
    feet = {round(max(p.y for p in outline(chart, "hand", m.size).points), 6) for m in maps}
    assert len(feet) == 1


@pytest.mark.parametrize(("stitches", "style"), SINGLE)
def test_nothing_touches_and_nothing_leaves_the_page(stitches: StitchMap, style: Style) -> None:
    chart = schematic([stitches], style, CAUTIONS)
    assert touching(chart, style) == []
    assert off_the_page(chart, style) == []
    assert chart.width <= style.width
    assert chart.height <= style.height


@pytest.mark.parametrize(("maps", "style"), NESTED)
def test_nothing_touches_where_sizes_are_nested(maps: tuple[StitchMap, ...], style: Style) -> None:
    chart = schematic(maps, style, CAUTIONS)
    assert touching(chart, style) == []
    assert off_the_page(chart, style) == []
    assert chart.width <= style.width
    assert chart.height <= style.height


def measures(chart: Chart) -> dict[str, str]:
    """What the measure labels say; an assertion fails where one stands twice."""
    found = [(tagged(x, "measure"), x.text) for x in chart.labels if tagged(x, "role") == "measure"]
    assert len(found) == len(dict(found))
    return dict(found)


def test_measures_of_the_sample() -> None:
    # Worked by hand from its counts: 18 stitches and 20 rounds to 10 cm, ribbing 17 and 20; 28
    # rows of 10; hand 36 over 38 rounds, divided in round 15; thumb 13 after the crook, 9 rounds.
    assert measures(schematic(mittens(SAMPLE), DEFAULT)) == {
        "cuff circumference": "14 cm (5½ in)",
        "cuff depth": "6 cm (2¼ in)",
        "hand circumference": "20 cm (7¾ in)",
        "thumb circumference": "7 cm (2¾ in)",
        "crook height": "7.5 cm (3 in)",
        "hand length": "19 cm (7½ in)",
        "thumb length": "4.5 cm (1¾ in)",
        "total length": "25 cm (9¾ in)",
    }


def test_several_sizes_stand_in_one_line_smallest_first() -> None:
    maps = mittens(FIVE_SIZES)
    says = measures(schematic(maps, DEFAULT))["hand circumference"]
    counts = [next(r for r in m.piece("hand").rounds if r.phase == "division").count for m in maps]
    # Half a centimetre and a quarter of an inch, halves upwards.
    halves = [(Fraction(n * 100, 18) / 5 + Fraction(1, 2)) // 1 for n in counts]
    cm = [f"{n / 2:g}" for n in halves]
    assert says.startswith(f"{cm[0]} ({', '.join(cm[1:])}) cm · ")
    assert says.endswith(") in")
    assert says.count(",") == 6


def test_without_a_cuff_there_are_no_cuff_measures() -> None:
    chart = schematic(mittens(TALL_STITCHES), DEFAULT)
    assert not {name for name in measures(chart) if "cuff" in name}
    assert {tagged(line, "piece") for line in chart.lines if tagged(line, "role") == "outline"} == {
        "hand", "thumb",
    }  # fmt: skip


def test_a_right_mitten_has_its_thumb_on_the_left() -> None:
    left, right = (schematic([m], DEFAULT) for m in mittens(SIDED))
    for chart, thumb_right in ((left, True), (right, False)):
        hand = [p.x for p in outline(chart, "hand", "M").points]
        thumb = [p.x for p in outline(chart, "thumb", "M").points]
        assert (sum(thumb) / len(thumb) > sum(hand) / len(hand)) is thumb_right
    assert [tagged(chart, "mitten") for chart in (left, right)] == ["left", "right"]


def test_upright_text_reads_from_the_right_and_stands_left_of_its_line() -> None:
    for stitches in mittens(SIDED):
        chart = schematic([stitches], DEFAULT)
        upright = [x for x in chart.labels if x.turned and tagged(x, "role") == "measure"]
        assert {x.turned for x in upright} == {90.0}
        for label in upright:
            lines = [
                line.points[0].x
                for line in chart.lines
                if line.arrows == "both" and line.points[0].x == line.points[1].x
            ]
            nearest = min(lines, key=lambda x: abs(x - label.at.x))
            assert 0 < nearest - label.at.x < 3


def test_cautions_are_printed_and_wrapped() -> None:
    chart = schematic(mittens(SAMPLE), STYLES[1], CAUTIONS)
    printed = " ".join(x.text for x in chart.labels if tagged(x, "role") == "note")
    for caution in CAUTIONS:
        assert caution in printed


def test_the_drawing_shrinks_until_it_fits() -> None:
    long = replace(
        FIVE_SIZES, sizes=tuple(
            Size(str(i), Fraction(170 + 6 * i), hand_length=Fraction(300)) for i in range(7)
        )
    )  # fmt: skip
    chart = schematic(mittens(long), DEFAULT)
    scale = float(tagged(chart, "scale"))
    assert scale < 0.5
    assert chart.width <= DEFAULT.width
    assert chart.height <= DEFAULT.height
    assert touching(chart, DEFAULT) == []
    words = [x.text for x in chart.labels if tagged(x, "role") == "scale"]
    assert words == [f"scale 1 : {1 / scale:.2g}"]


@settings(
    max_examples=15, deadline=None, derandomize=True,
    # No shrinking: a specification has too many parts, and each try grades several sizes.
    phases=[Phase.explicit, Phase.generate],
)  # fmt: skip
@given(specs())
def test_any_mitten_is_laid_out_clear_of_itself(spec: Spec) -> None:
    try:
        graded = grade(spec)
    except Faults:
        reject()
    maps = [one.maps[0] for one in graded.sizes]
    for style in STYLES:
        chart = schematic(maps, style)
        for stitches in maps:
            compare_outlines(chart, stitches)
        assert touching(chart, style) == []
        assert off_the_page(chart, style) == []


def test_stripes_that_could_not_be_told_apart_are_left_to_the_strip() -> None:
    low = replace(DEFAULT, schematic="stripes", text=tuple((k, 16.0) for k, _ in DEFAULT.text))
    # Every round in another yarn: no letter finds room in so low a stripe.
    stitches = mittens(SIDED)[0]
    laid = schematic([stitches], low)
    assert any(tagged(patch, "role") == "stripe" for patch in laid.patches)
    alike = replace(stitches, yarns=tuple((c, n, "#445566") for c, n, _ in stitches.yarns))
    left_out = schematic([alike], low)
    assert not left_out.patches
    notes = " ".join(x.text for x in left_out.labels if tagged(x, "role") == "note")
    assert "shown on the stripe strip alone" in notes


def test_short_measures_have_their_arrowheads_outside() -> None:
    tiny = replace(DEFAULT, scale=0.1)
    chart = schematic(mittens(FINGERLESS)[:1], tiny)
    lines = [x for x in chart.lines if tagged(x, "measure") == "thumb length"]
    assert {line.arrows for line in lines if len(line.points) == 2} == {"none", "start"}
    (inner,) = (line for line in lines if line.arrows == "none" and len(line.points) == 2)
    tips = {line.points[0] for line in lines if line.arrows == "start"}
    assert tips == set(inner.points)


@pytest.mark.parametrize("maps", [mittens(FIVE_SIZES), mittens(FINGERLESS), mittens(THUMBLESS)])
def test_every_size_is_named_within_the_smallest_hand(maps: tuple[StitchMap, ...]) -> None:
    chart = schematic(maps, DEFAULT)
    hand = outline(chart, "hand", maps[0].size)
    names = [x for x in chart.labels if tagged(x, "role") == "term" and tagged(x, "size")]
    assert [x.text for x in names] == [m.size for m in maps]
    assert [x.at.y for x in names] == sorted(x.at.y for x in names)
    left, right = min(p.x for p in hand.points), max(p.x for p in hand.points)
    assert all(left < x.at.x < right for x in names)
