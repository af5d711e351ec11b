import itertools
from dataclasses import replace

import pytest
from layout.sheets import BULKY, SAMPLE, SIDED, SPECS, mittens, off_the_page, tagged, touching

from gussetry.colours import contrast
from gussetry.engrave import engrave
from gussetry.layout.boxes import spread
from gussetry.layout.register import stripes
from gussetry.spec import Spec, Stripe, Stripes, Yarn
from gussetry.stitchmap import StitchMap
from gussetry.style import Style, load_style

STYLES = [
    load_style("default"),
    replace(load_style("large-print"), width=277.0, height=400.0, scale=0.75),
]
CASES = [
    pytest.param(m, style, id=f"{m.pattern}-{m.size}-{m.mitten}-{style.name}")
    for spec in SPECS
    for m in mittens(spec)
    for style in STYLES
]
DEFAULT = STYLES[0]


def bands(chart):
    """(top, bottom, patch) of every stripe, from the cuff up."""
    found = []
    for patch in chart.patches:
        if tagged(patch, "role") == "stripe":
            ys = [p.y for p in patch.points]
            found.append((min(ys), max(ys), patch))
    return sorted(found, key=lambda band: -band[0])


@pytest.mark.parametrize(("stitches", "style"), CASES)
def test_every_hand_round_is_one_band_to_scale_in_its_yarn(
    stitches: StitchMap, style: Style
) -> None:
    chart = stripes(stitches, style)
    scale = float(tagged(chart, "scale"))
    hand = stitches.piece("hand")
    shown = [band for band in bands(chart) if tagged(band[2], "piece") == "hand"]
    assert [(tagged(p, "round"), tagged(p, "yarn"), p.yarn, p.colour) for _, _, p in shown] == [
        (str(r.number), r.yarn, r.yarn, stitches.colour(r.yarn)) for r in hand.counted
    ]
    for top, bottom, _ in shown:
        assert bottom - top == pytest.approx(float(stitches.fabric.height) * scale, abs=1e-4)


@pytest.mark.parametrize(("stitches", "style"), CASES)
def test_bands_meet_one_above_the_other(stitches: StitchMap, style: Style) -> None:
    found = bands(stripes(stitches, style))
    for below, above in itertools.pairwise(found):
        assert above[1] == pytest.approx(below[0], abs=1e-9)
    assert len({(min(p.x for p in b.points), max(p.x for p in b.points)) for *_, b in found}) == 1


@pytest.mark.parametrize(("stitches", "style"), CASES)
def test_nothing_touches_and_nothing_leaves_the_page(stitches: StitchMap, style: Style) -> None:
    chart = stripes(stitches, style)
    assert touching(chart, style) == []
    assert off_the_page(chart, style) == []
    assert chart.width <= style.width
    assert chart.height <= style.height


def test_a_ribbed_cuff_is_one_block_in_its_first_rows_yarn() -> None:
    (stitches,) = mittens(SAMPLE)
    chart = stripes(stitches, DEFAULT)
    top, bottom, patch = bands(chart)[0]
    # 10 stitches across at 17 to 10 cm, half size.
    assert bottom - top == pytest.approx(10 * 100 / 17 / 2)
    assert (tagged(patch, "piece"), tagged(patch, "round")) == ("cuff", "1-28")
    assert patch.yarn == "A"


def test_a_cuff_worked_round_has_a_band_a_round() -> None:
    stitches = mittens(BULKY)[0]
    cuff = stitches.piece("cuff")
    shown = [p for *_, p in bands(stripes(stitches, DEFAULT)) if tagged(p, "piece") == "cuff"]
    assert [tagged(p, "round") for p in shown] == [str(r.number) for r in cuff.counted]


def test_landmarks_name_their_rounds_at_their_heights() -> None:
    (stitches,) = mittens(SAMPLE)
    chart = stripes(stitches, DEFAULT)
    marks = [label for label in chart.labels if tagged(label, "role") == "landmark"]
    # The worked sample: opened in round 4, divided in round 15.
    assert [label.text for label in marks][:-5:-1] == [
        "cuff edge", "pick-up: start of round 1", "gusset: start of round 4",
        "division: end of round 15",
    ]  # fmt: skip
    assert [tagged(label, "landmark") for label in marks] == [
        "tip", "crown", "division", "gusset", "pick-up", "cuff",
    ]  # fmt: skip
    foot = next(bottom for _, bottom, p in bands(chart) if tagged(p, "round") == "4")
    gusset = next(label for label in marks if tagged(label, "landmark") == "gusset")
    assert gusset.at.y - DEFAULT.size("term") * 0.334 == pytest.approx(foot)


def test_each_stripe_says_its_yarn_and_rounds() -> None:
    (stitches,) = mittens(SAMPLE)
    chart = stripes(stitches, DEFAULT)
    yarns = [label for label in chart.labels if tagged(label, "role") == "yarn"]
    told = [(label.text, tagged(label, "round")) for label in reversed(yarns)]
    assert told[:4] == [("A", "1-28"), ("A", "1-4"), ("B", "5-6"), ("A", "7-10")]
    ranges = [label.text for label in chart.labels if tagged(label, "role") == "term"]
    assert {"rows 1–28", "1–4", "5–6", "7–10"} <= set(ranges)


def test_single_rounds_in_large_print_are_staggered_and_all_named() -> None:
    stitches = mittens(SIDED)[0]
    chart = stripes(stitches, STYLES[1])
    named = [label for label in chart.labels if tagged(label, "role") == "yarn"]
    # One yarn ends the cuff and begins the hand, and every round changes.
    assert len(named) == 1 + len(stitches.piece("hand").counted)
    assert len({label.at.x for label in named}) > 1
    middles = {
        tagged(patch, "round"): (top + bottom) / 2
        for top, bottom, patch in bands(chart)
        if tagged(patch, "piece") == "hand"
    }
    for label in named[:-1]:
        level = label.at.y - STYLES[1].size("yarn") * 0.334
        assert level == pytest.approx(middles[tagged(label, "round")])


def long_hand(spec: Spec) -> Spec:
    """The specification for a hand half a metre long, a yarn for every round."""
    size = replace(spec.sizes[0], hand_length=spec.sizes[0].hand_circumference * 3)
    yarns = tuple(Yarn(letter, "wool " * 12, "#445566") for letter in "ABCDEF")
    plan = tuple(Stripe(yarn.letter, 1) for yarn in yarns)
    return replace(spec, pattern="Long " * 12, sizes=(size,), yarns=yarns, stripes=Stripes(plan))


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.name)
def test_a_long_strip_is_drawn_smaller_and_still_clear(style: Style) -> None:
    stitches = mittens(long_hand(BULKY))[0]
    chart = stripes(stitches, style)
    assert float(tagged(chart, "scale")) < style.scale
    assert chart.height <= style.height
    assert touching(chart, style) == []
    assert off_the_page(chart, style) == []


def test_the_scale_is_printed() -> None:
    (stitches,) = mittens(SAMPLE)
    for style, words in zip(STYLES, ("scale 1 : 2", "scale 3 : 4"), strict=True):
        labels = stripes(stitches, style).labels
        assert [label.text for label in labels if tagged(label, "role") == "scale"] == [words]


def test_places_are_spread_no_further_than_they_must() -> None:
    assert spread([0.0, 10.0, 20.0], 5.0, 0.0, 30.0) == [0.0, 10.0, 20.0]
    # Two that want the same place share the way; the third is left alone.
    assert spread([10.0, 10.0, 20.0], 4.0, 0.0, 30.0) == [8.0, 12.0, 20.0]
    # At the ends of the room they close up inwards.
    assert spread([0.0, 1.0], 4.0, 0.0, 30.0) == [0.0, 4.0]
    assert spread([29.0, 30.0], 4.0, 0.0, 30.0) == [26.0, 30.0]


@pytest.mark.parametrize("colour", ["#000000", "#44546a", "#7f7f7f", "#d8c36a", "#ffffff"])
@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.name)
def test_rounds_can_be_counted_on_a_yarn_of_any_darkness(colour: str, style: Style) -> None:
    spec = replace(SAMPLE, yarns=tuple(replace(yarn, colour=colour) for yarn in SAMPLE.yarns))
    drawing = engrave(stripes(mittens(spec)[0], style), style)
    edges = {
        (path.stroke, path.fill)
        for group in drawing.groups
        for path in group.items
        if ("data-role", "stripe") in path.tags
    }
    assert {fill for _, fill in edges} == {colour}
    assert all(contrast(stroke, fill) >= 3 for stroke, fill in edges)
