"""Finished measures and amounts of yarn that a text names: read as they are written, and held
against what is counted."""

from __future__ import annotations

from pathlib import Path

import pytest
from manuscripts.readback import ROUNDING

from gussetry import pipeline
from gussetry.check.evidence import Evidence
from gussetry.check.texts import compare_texts
from gussetry.findings import Finding
from gussetry.manuscripts import Against, check_against
from gussetry.manuscripts.figures import figures_said, value_said
from gussetry.manuscripts.text import text_of
from gussetry.words import pattern_text

EXAMPLE = Path(__file__).parents[2] / "examples" / "pebble-child.yaml"


def said(text: str) -> list[tuple[str, str, tuple[str, ...]]]:
    return [(one.of, one.unit, one.said) for one in figures_said(text_of(text, "x"))]


@pytest.mark.parametrize(
    ("line", "figures"),
    [
        ("Hand length: 18 (19.5) cm, 7 (7¾) in",
         [("hand length", "cm", ("18", "19.5")), ("hand length", "in", ("7", "7¾"))]),
        ("**Cuff depth**: 6 cm / 2 1/4″", [("cuff depth", "cm", ("6",)),
                                          ("cuff depth", "in", ("2 1/4",))]),
        ("- Finished crook height: 5 [5, 6½] inches", [("crook height", "in", ("5", "5", "6½"))]),
        ("Yarn A, slate (light, weight 3): 130 (–) m, 80 g, 2 (3) × 50 g",
         [("yarn A", "m", ("130", "–")), ("yarn A", "g", ("80",)),
          ("yarn A", "balls", ("2", "3"))]),
        ("Colour MC: 120 metres, 1 ball",
         [("yarn MC", "m", ("120",)), ("yarn MC", "balls", ("1",))]),
        ("- 18 sc and 20 rnds over 10 cm (4 in), worked in a spiral.",
         [("gauge", "stitches over 10 cm", ("18",)), ("gauge", "rounds over 10 cm", ("20",))]),
        ("17½ sts x 20 rows = 4 in in rib",
         [("gauge of the ribbing", "stitches over 4 in", ("17½",)),
          ("gauge of the ribbing", "rounds over 4 in", ("20",))]),
        ("Try on: to the crook of the thumb, 5 (5.5) cm above the wrist.",
         [("crook height", "cm", ("5", "5.5"))]),
        ("It should reach the tip of the little finger, here 13 (14)\ncm above the wrist.",
         [("height of the hand's end", "cm", ("13", "14"))]),
        ("Yarn: A throughout.", []), ("Hand length: measure yours", []),
    ],
)  # fmt: skip
def test_figures_are_read_as_they_are_written(
    line: str, figures: list[tuple[str, str, tuple[str, ...]]]
) -> None:
    assert said(f"Finished measures\n\n{line}\n") == figures


def test_what_a_body_measures_is_no_promise() -> None:
    assert said("## To fit\n- Hand circumference: 19 cm\n") == []
    assert said("Finished hand circumference: 19 cm\n") == [("hand circumference", "cm", ("19",))]


def test_a_list_that_is_wrapped_goes_on() -> None:
    assert said("Yarn B, sea pink: 23 (25,\n  27) m\n\n  9 m") == [
        ("yarn B", "m", ("23", "25", "27"))
    ]


@pytest.mark.parametrize(
    ("written", "number"), [("5½", "5.5"), ("5 1/2", "5.5"), ("¾", "0.75"), ("12", "12")]
)
def test_numbers(written: str, number: str) -> None:
    assert value_said(written) == value_said(number)
    assert value_said("–") is None


def _changed(text: str, old: str, new: str) -> str:
    assert text.count(old) == 1
    return text.replace(old, new)


def _places(text: str, findings: list[Finding]) -> list[tuple[str, str, str, str]]:
    lines = text.split("\n")
    return [
        (one.kind, one.size, one.expected, lines[one.line - 1][one.column - 1 :][: one.length])
        for one in findings
        if one.line and one.column and one.length
    ]


def test_a_wrong_figure_is_told_for_its_size() -> None:
    work = pipeline.graded(EXAMPLE)
    needs = pipeline.yarn_needed(work)
    against = Against(work.grading.maps, pipeline.steps(work), needs)
    text = pattern_text(work.spec, work.grading.sizes, ROUNDING, "US")
    text = _changed(text, "Hand length: 10 (12, 13, 14) cm", "Hand length: 10 (12, 12.5, 14) cm")
    text = _changed(text, "65 (85, 97, 109) m", "65 (85, 97, 108) m")
    text = _changed(text, "Cuff depth: 4.5 cm", "Cuff depth: 4.5 (4.5, 5) cm")
    text = _changed(text, "22 sc and 24 rnds over", "22 sc and 23 rnds over")
    text = _changed(text, "little finger, here 8 (9,", "little finger, here 7 (9,")
    text = _changed(text, "- Hook in", "- Yarn C, dill: 3 (–, –, –) m\n- Hook in")
    assert _places(text, list(check_against(text, "x", against).findings)) == [
        ("amount", "6 years", "109 m", "108"), ("amount", "18 months", "–", "3"),
        *(("measure", size.size.name, "24 rounds over 10 cm", "23") for size in work.grading.sizes),
        ("size-list", "", "", "4.5"), ("measure", "4 years", "13 cm", "12.5"),
        ("measure", "18 months", "8 cm", "7"),
    ]  # fmt: skip


def test_a_measure_that_the_mitten_has_not_is_told() -> None:
    work = pipeline.graded(EXAMPLE.with_name("eiderdown-infant.yaml"))
    text = pattern_text(work.spec, work.grading.sizes, ROUNDING, "US")
    text = _changed(text, "- Hand length:", "- Thumb length: 3 cm\n- Hand length:")
    assert _places(text, list(check_against(text, "x", Against(work.grading.maps)).findings)) == []
    against = Against(work.grading.maps, ROUNDING)
    assert _places(text, list(check_against(text, "x", against).findings)) == [
        ("measure", size, "–", "3") for size in ("3 months", "9 months")
    ]


def test_in_a_folder_texts_are_held_to_the_maps_and_to_each_other(tmp_path: Path) -> None:
    work = pipeline.graded(EXAMPLE)
    text = pattern_text(work.spec, work.grading.sizes, ROUNDING, "US")
    own = pattern_text(work.spec, work.grading.sizes[2:3], ROUNDING, "US")
    own = _changed(_changed(own, "97 m", "79 m"), "Hand length: 13 cm", "Hand length: 13.5 cm")
    (tmp_path / "words.md").write_text(text, encoding="utf-8")
    (tmp_path / "words-4-years.md").write_text(own, encoding="utf-8")
    maps = tuple((f"{m.size}/stitches.json", m) for m in work.grading.maps)
    head = {"centimetres": "1/2", "inches": "1/4"}
    evidence = Evidence(tmp_path, ("words.md", "words-4-years.md"), maps, head)
    measure = ("measure", "4 years", "13 cm", "13.5")
    assert _places(own, list(compare_texts(evidence))) == [
        measure, ("amount", "4 years", "97 m", "79")
    ]  # fmt: skip
    evidence.head = {"centimetres": "1/0"}
    assert [one.kind for one in compare_texts(evidence)] == ["amount"]
    needs = pipeline.yarn_needed(work)
    assert [one.kind for one in compare_texts(evidence, needs)] == ["amount"]


def test_four_inches_are_ten_centimetres_in_the_trade() -> None:
    work = pipeline.graded(EXAMPLE)
    against = Against(work.grading.maps[:1])
    for said, right in (
        ("22 sc and 24 rnds over 10 cm", True), ("22 sc and 24 rnds over 4 in", True),
        ("22.4 sc and 24.4 rnds over 4 in", True), ("11 sc and 12 rnds over 5 cm", True),
        ("22 sc and 24 rnds over 5 cm", False), ("21 sc and 24 rnds over 4 in", False),
    ):  # fmt: skip
        found = check_against(f"US terms\n{said}, worked in a spiral.", "x", against).findings
        assert ("measure" not in {one.kind for one in found}) == right, said
