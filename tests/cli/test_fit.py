"""`gussetry fit`: its sums against other sums, its table and its JSON."""

from __future__ import annotations

import csv
import io
import json
import math
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from cli.program import gussetry
from grading.test_worked_example import spec
from hypothesis import given, settings
from hypothesis import strategies as st

from gussetry.fits import Passing, fit_of
from gussetry.fits.coverage import HALF_STEP, coverage, share
from gussetry.fits.gauges import gauge_table
from gussetry.fits.marks import origin_lines
from gussetry.fits.text import fit_text
from gussetry.grading import GradedSize, Measure, grade
from gussetry.grading.measures import Origin
from gussetry.spec import Cuff, Gauge, Size
from gussetry.survey import ADULTS, Grown

# --- the shares -------------------------------------------------------------------------------


def under(mean: float, deviation: float, low: float, high: float) -> float:
    """The area under a normal curve by Simpson's rule, in steps of a hundredth of the deviation."""
    steps = 2 * math.ceil((high - low) / deviation * 50)
    wide = (high - low) / steps

    def at(x: float) -> float:
        z = (x - mean) / deviation
        return math.exp(-z * z / 2) / (deviation * math.sqrt(2 * math.pi))

    inner = sum(at(low + i * wide) * (4 if i % 2 else 2) for i in range(1, steps))
    return (at(low) + inner + at(high)) * wide / 3


# ANSUR II, NATICK/TR-15/007: mean and standard deviation of the hand's circumference, mm.
CURVES: dict[Grown, tuple[float, float]] = {"women": (186.55, 8.82), "men": (212.28, 10.24)}


@pytest.mark.parametrize("who", CURVES)
@pytest.mark.parametrize(("low", "high"), [(160, 175), (180, 193), (205, 219), (230, 260)])
def test_a_share_is_the_area_under_the_curve(who: Grown, low: int, high: int) -> None:
    found = share(ADULTS[who], Fraction(low), Fraction(high))
    assert abs(found - under(*CURVES[who], low, high)) < 1e-9


@pytest.mark.parametrize(("who", "p25", "p75"), [("women", "180", "192"), ("men", "206", "219")])
def test_half_of_the_adults_lie_between_the_quartiles(who: Grown, p25: str, p75: str) -> None:
    # The survey's quartiles are whole millimetres; one millimetre holds 4.5 % of the women.
    assert abs(share(ADULTS[who], Fraction(p25), Fraction(p75)) - 0.5) < 0.05


# --- the bands --------------------------------------------------------------------------------


def run(*girths: int | Fraction) -> tuple[Size, ...]:
    """Sizes of these hand circumferences."""
    return tuple(Size(f"S{i}", Fraction(girth)) for i, girth in enumerate(girths, 1))


def test_bands_reach_half_way_and_the_ends_mirror_their_inner_half() -> None:
    found = coverage(run(180, 190, 206))
    assert [(band.low, band.high) for band in found.bands] == [(175, 185), (185, 198), (198, 214)]
    assert not found.holes


def test_a_size_alone_reaches_half_a_glove_step_each_way() -> None:
    found = coverage(run(190))
    assert (found.total.low, found.total.high) == (Fraction("177.3"), Fraction("202.7"))


def test_sizes_further_apart_than_a_glove_step_leave_a_hole() -> None:
    found = coverage(run(170, 200, 225, 251))
    assert [(hole.sizes, hole.low, hole.high) for hole in found.holes] == [
        (("S1", "S2"), Fraction("182.7"), Fraction("187.3")),
        (("S3", "S4"), Fraction("237.7"), Fraction("238.3")),
    ]
    # 25.4 mm itself is no hole.
    assert not coverage(run(200, Fraction("225.4"))).holes
    hole = found.holes[0]
    assert abs(hole.women - under(*CURVES["women"], 182.7, 187.3)) < 1e-9


RUNS = st.lists(st.integers(800, 3300), min_size=1, max_size=12, unique=True).map(
    lambda tenths: run(*(Fraction(t, 10) for t in sorted(tenths)))
)


@settings(derandomize=True, max_examples=150, deadline=None)
@given(RUNS, st.integers(700, 3500))
def test_bands_part_the_run_and_every_hand_is_in_one_or_outside(
    sizes: tuple[Size, ...], tenths: int
) -> None:
    found = coverage(sizes)
    for band, after in pairwise(found.bands):
        assert band.high == after.low
    for band, size in zip(found.bands, sizes, strict=True):
        assert band.low is not None
        assert band.high is not None
        assert band.low < size.hand_circumference < band.high
    for who in ("women", "men"):
        whole = sum(getattr(band, who) for band in found.bands)
        assert math.isclose(whole, getattr(found.total, who), abs_tol=1e-12)
        outside = getattr(found.below, who) + getattr(found.above, who)
        assert math.isclose(whole + outside, 1, abs_tol=1e-12)
    # A hand within the run lies in a hole if and only if no size is within half a glove step.
    hand = Fraction(tenths, 10)
    if sizes[0].hand_circumference < hand < sizes[-1].hand_circumference:
        nearest = min(abs(size.hand_circumference - hand) for size in sizes)
        assert any(h.low < hand < h.high for h in found.holes if h.low and h.high) == (
            nearest > HALF_STEP
        )


# --- other gauges -----------------------------------------------------------------------------


def graded(*hands: tuple[Fraction | int, Fraction | int]) -> tuple[GradedSize, ...]:
    """Sizes of which nothing is known but wish and finish of the hand's circumference, mm."""
    given: Origin = "given"
    return tuple(
        GradedSize(
            Size(f"S{i}", Fraction(wish)),
            (),
            (
                Measure(
                    "hand circumference", Fraction(wish), given, Fraction(wish), given,
                    Fraction(finished),
                ),
            ),
        )
        for i, (wish, finished) in enumerate(hands, 1)
    )  # fmt: skip


def test_the_counts_come_out_narrower_at_more_stitches() -> None:
    # 18 stitches over 10 cm: 36, 40 and 46 stitches.
    made = replace(spec(), gauge=Gauge("sc", Fraction(100, 18), Fraction(5)))
    counts = (36, 40, 46)
    sizes = graded(*((n * 100 // 18, Fraction(n * 100, 18)) for n in counts))
    table = gauge_table(made, sizes)
    assert table.stitches == (16, 17, 18, 19, 20)
    for (_, outcomes), count in zip(table.sizes, counts, strict=True):
        assert [o.circumference for o in outcomes] == [
            Fraction(count * 100, s) for s in range(16, 21)
        ]
    # Wishes 200, 222, 255 mm. At 20: 180, 200, 230 mm.
    assert [outcomes[4].make for _, outcomes in table.sizes] == ["S2", "S3", None]
    # At 16: 225, 250, 287.5 mm.
    assert [outcomes[0].make for _, outcomes in table.sizes] == [None, "S1", "S2"]
    assert [outcomes[2].make for _, outcomes in table.sizes] == ["S1", "S2", "S3"]


def test_a_gauge_of_no_stitches_is_left_out() -> None:
    made = replace(spec(), gauge=Gauge("sc", Fraction(50), Fraction(50)))
    assert gauge_table(made, graded((200, 200))).stitches == (1, 2, 3, 4)


@settings(derandomize=True, max_examples=100, deadline=None)
@given(
    st.lists(st.tuples(st.integers(120, 280), st.integers(-20, 20)), min_size=1, max_size=8),
    st.integers(5, 30),
)
def test_the_size_to_make_comes_nearest(hands: list[tuple[int, int]], stitches: int) -> None:
    made = replace(spec(), gauge=Gauge("sc", Fraction(100, stitches), Fraction(5)))
    sizes = graded(*((wish, wish + apart) for wish, apart in sorted(hands)))
    table = gauge_table(made, sizes)
    for one, (_, outcomes) in zip(sizes, table.sizes, strict=True):
        wish = one.measures[0].wish
        for place, outcome in enumerate(outcomes):
            misses = {name: abs(other[place].circumference - wish) for name, other in table.sizes}
            if outcome.make is None:
                assert min(misses.values()) > HALF_STEP
            else:
                assert misses[outcome.make] == min(misses.values()) <= HALF_STEP


# --- the cuff ---------------------------------------------------------------------------------


def test_a_cuff_passes_where_it_opens_far_enough() -> None:
    cuff = Passing("cuff", Fraction(224), True, Fraction(160), Fraction(14, 10), True)
    assert cuff.needed == Fraction(14, 10)
    assert cuff.passes
    assert not replace(cuff, relaxed=Fraction(159)).passes
    assert not replace(cuff, opens=Fraction(139, 100)).passes


def test_without_a_cuff_the_pick_up_round_must_pass_the_hand() -> None:
    made = replace(spec(), cuff=Cuff(style="none"))
    passing = fit_of(made, grade(made)).sizes[0].passing
    # 30 stitches, 17 to 10 cm; the hand is 19 cm round.
    assert (passing.edge, passing.relaxed) == ("lower edge", Fraction(3000, 17))
    assert passing.needed == Fraction(228) / Fraction(3000, 17)


# --- the table and the JSON -------------------------------------------------------------------


def told(path: Path) -> dict[str, Any]:
    """What `fit --json` says of a file."""
    done = gussetry("fit", path, "--json")
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def test_the_json_agrees_with_the_count_table(starter: Path) -> None:
    # The starter: 18 stitches and 20 rounds over 10 cm, rib 17 stitches and 20 rows.
    table = list(csv.DictReader(io.StringIO(gussetry("counts", starter, "--csv").stdout)))
    for one in told(starter)["sizes"]:
        column = [(row["piece"], int(row[one["size"]])) for row in table if row[one["size"]]]
        hand, cuff, thumb = (
            [count for piece, count in column if piece == name]
            for name in ("hand", "cuff", "thumb")
        )
        found = {m["measure"]: m for m in one["measures"]}
        assert found["cuff depth"]["finished mm"] == round(cuff[0] * 100 / 17, 3)
        assert found["cuff circumference"]["finished mm"] == len(cuff) * 5
        assert found["hand length"]["finished mm"] == len(hand) * 5
        assert found["thumb length"]["finished mm"] == len(thumb) * 5
        around = found["hand circumference"]["finished mm"] * 18 / 100
        assert math.isclose(around, round(around), abs_tol=1e-3)
        assert round(around) in hand
        for measure in one["measures"]:
            apart = measure["finished mm"] - measure["wish mm"]
            assert math.isclose(measure["apart mm"], apart, abs_tol=0.0021)
            counts = apart / measure["one count mm"]
            assert math.isclose(measure["apart counts"], counts, abs_tol=0.0021)


def test_the_json_has_the_keys_that_the_readme_tells(starter: Path) -> None:
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    section = readme.split("## What `fit --json` holds")[1].split("\n## ")[0]

    def keys(node: Any) -> set[str]:
        if isinstance(node, list):
            return {key for part in node for key in keys(part)}
        if isinstance(node, dict):
            return set(node) | {key for part in node.values() for key in keys(part)}
        return set()

    found = keys(told(starter))
    assert len(found) > 30
    for key in found:
        assert f"`{key}`" in section, key


def test_the_table_shows_every_measure_of_every_size(starter: Path) -> None:
    done = gussetry("fit", starter)
    assert done.returncode == 0, done.stderr
    said = done.stdout
    wide = max(len(line) for line in said.splitlines())
    assert wide <= 100
    for size in told(starter)["sizes"]:
        block = said.split(f"size {size['size']}: ")[1].split("\n\n")[0]
        lines = block.splitlines()
        for measure in size["measures"]:
            line = next(line for line in lines if line.startswith(f"  {measure['measure']} "))
            assert line.endswith(measure["counted in"])
            apart = f"{abs(measure['apart mm']):.1f} mm"
            assert apart in line
            sign = {"given": " ", "derived": "* "}[measure["body origin"] or "given"]
            if measure["body mm"] is not None:
                assert f"{measure['body mm'] / 10:.1f}{sign}" in line
    assert "derived by a surveyed ratio" in said
    assert "weak: by common practice" in said
    assert "No holes" in said
    assert "wash" in said


def test_standards_are_told_with_their_signs(tmp_path: Path, starter: Path) -> None:
    text = starter.read_text(encoding="utf-8")
    text = text.replace("S: {hand circumference: 18 cm, for: women}", "S: {standard: age 9}")
    text = text.replace("M: {hand circumference: 19.5 cm, for: women}", "M: {standard: women p75}")
    text = text.replace(
        "L: {hand circumference: 21 cm, for: women}", "L: {standard: EN ISO 21420 size 9}"
    )
    path = tmp_path / "standards.yaml"
    path.write_text(text, encoding="utf-8")
    said = gussetry("fit", path).stdout
    assert "size S: age 9, children" in said
    assert "size M: women p75\n" in said
    assert "size L: EN ISO 21420 size 9, taken for men, by the circumference" in said
    assert "16.1~" in said
    assert "19.2°" in said
    assert "A percentile fixes the hand's circumference alone" in said
    assert "Hole: between S and M, hands of 17.4–17.9 cm" in said
    found = {one["size"]: one for one in told(path)["sizes"]}
    assert found["S"]["measures"][2]["body origin"] == "estimated"
    assert found["M"]["standard"] == "women p75"
    assert (found["L"]["for"], found["L"]["for given"]) == ("men", False)


def test_childrens_sizes_have_no_share_of_adults() -> None:
    made = replace(spec(), sizes=(Size("4 years", Fraction(133), wearer="children"),))
    free = replace(made, cuff=replace(made.cuff, rows=(), stitches=()))
    fit = fit_of(free, grade(free))
    said = fit_text(fit)
    assert "None of these adults has a hand of 12.0–14.6 cm" in said


def test_a_faulty_specification_has_no_fit(tmp_path: Path) -> None:
    path = tmp_path / "faulty.yaml"
    path.write_text("pattern: x\n", encoding="utf-8")
    done = gussetry("fit", path)
    assert done.returncode == 1
    assert not done.stdout


# --- what drawings tell -----------------------------------------------------------------------


def test_a_drawing_tells_what_its_measures_rest_on() -> None:
    one, two = graded((190, 190), (210, 210))
    hand = one.measures[0]
    thumb = replace(hand, name="thumb length", origin="derived")
    first = replace(one, measures=(replace(hand, origin="surveyed"), thumb))
    second = replace(two, measures=(replace(hand, origin="estimated"), thumb))
    assert origin_lines((first, second)) == (
        "Rest on the table of a published hand: hand circumference (S1).",
        "Rest on surveyed ratios, not on a measured hand: thumb length.",
        "Rest on estimates, not on a measured hand: hand circumference (S2).",
    )
    assert origin_lines((one, two)) == ()
