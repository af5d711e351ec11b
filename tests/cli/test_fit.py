"""`gussetry fit`: its sums against other sums, its table and its JSON."""

from __future__ import annotations

import csv
import io
import json
import math
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

from cli.program import gussetry
from cli.test_fit_hands import graded
from grading.test_worked_example import spec

from gussetry.fits import Passing, fit_of
from gussetry.fits.marks import origin_lines
from gussetry.fits.text import fit_text
from gussetry.grading import grade
from gussetry.grading.cautions import CAUTIONS
from gussetry.layout import sheets
from gussetry.plan import plan
from gussetry.spec import Cuff, Gauge, Size, Spec, Thumb
from gussetry.style import load_style

# --- the cuff ---------------------------------------------------------------------------------


def test_a_cuff_passes_where_it_opens_far_enough() -> None:
    cuff = Passing("cuff", Fraction(224), True, Fraction(160), Fraction(14, 10), True)
    assert cuff.needed == Fraction(14, 10)
    assert cuff.passes
    assert not replace(cuff, relaxed=Fraction(159)).passes
    assert not replace(cuff, opens=Fraction(139, 100)).passes


def test_the_verdict_on_the_cuff_is_told() -> None:
    # 30 rows of 18 to 10 cm: 16.7 cm, for 22.8 cm round the hand: 1.37 times.
    fit = fit_of(spec(), grade(spec()))
    assert "must open to 1.37 times its width; it opens to 1.40? times: it passes." in " ".join(
        fit_text(fit).split()
    )
    stiff = replace(spec().cuff, gauge=Gauge("sc", Fraction(6), Fraction(50, 9), Fraction(13, 10)))
    made = replace(spec(), cuff=stiff)
    said = " ".join(fit_text(fit_of(made, grade(made))).split())
    assert "it opens to 1.30 times: it may not pass." in said


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


def test_each_measure_is_counted_in_what_it_can_grow_by(starter: Path) -> None:
    # A sideways rib grows by rows in width and by stitches in depth.
    across, up = ("stitches", 5.556), ("rounds", 5)
    for one in told(starter)["sizes"]:
        assert {m["measure"]: (m["counted in"], m["one count mm"]) for m in one["measures"]} == {
            "cuff circumference": ("rows", 5),
            "cuff depth": ("stitches", 5.882),
            "hand circumference": across,
            "thumb circumference": across,
            "crook height": up,
            "hand length": up,
            "thumb length": up,
            "total length": up,
        }


def test_a_cuff_in_rounds_grows_by_stitches_in_width_and_by_rounds_in_depth() -> None:
    rib = Gauge("dc", Fraction(6), Fraction(9))
    for cuff, each in ((Cuff(style="post", gauge=rib), rib), (Cuff(style="round"), spec().gauge)):
        made = replace(spec(), cuff=cuff)
        rows = {row.measure.name: row for row in fit_of(made, grade(made)).sizes[0].rows}
        around, deep = rows["cuff circumference"], rows["cuff depth"]
        assert (around.unit, around.each) == ("stitches", each.width)
        assert (deep.unit, deep.each) == ("rounds", each.height)


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


def tenths(value: float) -> str:
    """A figure to a tenth, halves away from zero."""
    return str(Decimal(str(value)).quantize(Decimal("0.1"), ROUND_HALF_UP))


def cm(mm: float) -> str:
    """Millimetres as centimetres, to a tenth."""
    return tenths(float(Decimal(str(mm)) / 10))


def signed(value: float) -> str:
    """A difference with its sign, to a tenth; nothing before zero."""
    shown = tenths(abs(value))
    if float(shown) == 0:
        return f" {shown}"
    return ("−" if value < 0 else "+") + shown


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
            assert f"{signed(measure['apart mm'])} mm " in line
            assert f" {signed(measure['apart counts'])}  {measure['counted in']}" in line
            behind = {"given": " ", "derived": "*"}[measure["wish origin"]]
            behind = " " if measure["wish origin"] == measure["body origin"] else behind
            assert f"{cm(measure['wish mm'])}{behind} " in line
            sign = {"given": " ", "derived": "* "}[measure["body origin"] or "given"]
            if measure["body mm"] is not None:
                assert cm(measure["body mm"]) + sign in line
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
    assert "Hole: between S and M, hands of 16.7–17.9~ cm" in said
    assert "the mean hand of age 11 to age 12" in " ".join(said.split())
    assert "`taken for` is a guess by the hand's circumference: children under 16.5 cm" in said
    whole = told(path)
    assert [(band["size"], band["origin"]) for band in whole["coverage"]["sizes"]] == [
        ("S", "estimated"), ("M", "estimated"), ("L", "surveyed"),
    ]  # fmt: skip
    assert [one["wish origin"] for one in whole["gauges"]["sizes"]] == [
        "estimated", "surveyed", "surveyed",
    ]  # fmt: skip
    assert whole["coverage"]["holes"][0]["ages"] == ["age 11", "age 12"]
    found = {one["size"]: one for one in whole["sizes"]}
    assert found["S"]["measures"][2]["body origin"] == "estimated"
    assert found["M"]["standard"] == "women p75"
    assert (found["L"]["for"], found["L"]["for given"]) == ("men", False)


def test_long_names_put_one_gauge_under_the_other(starter: Path, tmp_path: Path) -> None:
    text = starter.read_text(encoding="utf-8")
    for name in "SML":
        text = text.replace(f"  {name}: {{hand", f"  {name} for grown-up hands in town: {{hand")
    path = tmp_path / "long.yaml"
    path.write_text(text, encoding="utf-8")
    said = gussetry("fit", path).stdout
    assert max(map(len, said.splitlines())) <= 110
    assert said.count(" stitches over 10 cm, ") == 5
    for one in told(path)["gauges"]["sizes"]:
        for mm, make in zip(one["hand circumference mm"], one["make"], strict=True):
            shown = f"{one['size']}  {cm(mm)}"
            assert (shown if make == one["size"] else f"{shown} → {make or 'hook'}") + "\n" in said


def test_childrens_sizes_have_no_share_of_adults() -> None:
    made = replace(spec(), sizes=(Size("4 years", Fraction(133), wearer="children"),))
    free = replace(made, cuff=replace(made.cuff, rows=(), stitches=()))
    fit = fit_of(free, grade(free))
    said = fit_text(fit)
    assert "None of these adults has a hand of 12.7–13.8~ cm" in said
    assert "A child's size serves hands within a step" in said
    assert "glove" not in said
    assert " 0.0 %" not in said


def test_what_is_from_memory_is_said_to_be(starter: Path, tmp_path: Path) -> None:
    text = starter.read_text(encoding="utf-8")
    path = tmp_path / "memory.yaml"
    large = "L: {standard: EN ISO 21420 size 12}"
    path.write_text(
        text.replace("L: {hand circumference: 21 cm, for: women}", large), encoding="utf-8"
    )
    said = " ".join(gussetry("fit", path).stdout.split())
    memory = "of European size 12 the circumference is from memory, not held against a print"
    assert f"~ estimated: {memory}, or it rests on such a measure" in said
    assert "no table at hand" not in said
    assert memory not in " ".join(gussetry("fit", starter).stdout.split())
    assert "`taken for` is a guess" not in gussetry("fit", starter).stdout


def test_a_faulty_specification_has_no_fit(tmp_path: Path) -> None:
    path = tmp_path / "faulty.yaml"
    path.write_text("pattern: x\n", encoding="utf-8")
    done = gussetry("fit", path)
    assert done.returncode == 1
    assert not done.stdout


# --- what drawings and the summary tell --------------------------------------------------------


def test_a_sentence_tells_what_measures_rest_on() -> None:
    one, two = graded((190, 190), (210, 210))
    hand = one.measures[0]
    thumb = replace(hand, name="thumb length", origin="derived")
    first = replace(one, measures=(replace(hand, origin="surveyed"), thumb))
    second = replace(two, measures=(replace(hand, origin="estimated"), thumb))
    assert origin_lines((first, second)) == (
        "Hand circumference (S1) rests on the table of a published hand.",
        "Thumb length rests on surveyed ratios, not on a measured hand.",
        "Hand circumference (S2) rests on estimates, not on a measured hand.",
    )
    assert origin_lines((one, two)) == ()


def test_schematics_tell_what_their_own_sizes_rest_on() -> None:
    given = {"wrist_circumference": 155, "hand_length": 175, "thumb_circumference": 60,
             "thumb_length": 60, "crook_height": 60}  # fmt: skip
    whole = {name: Fraction(mm) for name, mm in given.items()}
    sizes = (Size("S", Fraction(180), "women", **whole), Size("M", Fraction(190), "women"))
    unpinned = Spec(
        "Made up", spec().gauge, spec().yarns, sizes, spec().stripes,
        cuff=Cuff(style="round", depth=Fraction(60)),
    )  # fmt: skip
    jobs = plan(unpinned, grade(unpinned), load_style("default")).jobs
    lines = {job.name: job.words.notes for job in jobs}
    assert lines["S/schematic"] == ()
    (own,) = lines["M/schematic"]
    whose = "Cuff circumference, thumb circumference, crook height, hand length, "
    assert own.startswith(whose)
    assert own.endswith(" and total length rest on surveyed ratios, not on a measured hand.")
    (both,) = lines["schematic"]
    assert both.endswith(" (M) rest on surveyed ratios, not on a measured hand.")
    for job in jobs:
        made = sheets(job.kind, job.maps, job.style, "US", job.words)
        shown = " ".join(label.text for one in made for label in one.labels)
        assert ("rest on" in shown) == (job.name in ("M/schematic", "schematic"))


def test_cautions_say_for_whom_they_are() -> None:
    young = Size("9 months", Fraction(110), "infants")
    sizes = (young, Size("W", Fraction(187), "women"))
    free = Spec(
        "Made up", spec().gauge, spec().yarns, sizes, spec().stripes,
        cuff=Cuff(style="round"), thumb=Thumb(style="none"),
    )  # fmt: skip
    style = load_style("default")
    said = {job.name: job.words.notes for job in plan(free, grade(free), style).jobs}
    start = said["schematic"].index("For children under three (size 9 months):")
    told_of = [line.removeprefix("– ") for line in said["schematic"][start + 1 :]]
    assert told_of == list(CAUTIONS)
    assert "For children under three:" in said["9-months/schematic"]
    assert all("rest on" in line for line in said["W/schematic"])
    alone = replace(free, sizes=(young, replace(young, name="1 year")))
    both = {job.name: job.words.notes for job in plan(alone, grade(alone), style).jobs}
    assert "For children under three:" in both["schematic"]


def test_the_summary_of_a_run_marks_its_wishes(drawn: Path, starter: Path) -> None:
    said = (starter.parent / "said").read_text(encoding="utf-8")
    for one in told(starter)["sizes"]:
        block = said.split(f"size {one['size']}\n")[1].split("\n\n")[0]
        for measure in one["measures"]:
            line = next(row for row in block.splitlines() if f" {measure['measure']} " in row)
            sign = {"given": "", "derived": "*"}[measure["wish origin"]]
            assert f" {cm(measure['wish mm'])} cm{sign} " in line
            assert line.endswith(f"  {signed(measure['apart mm'])} mm")
    assert "* derived by a surveyed ratio" in said
