"""What `gussetry yarn` tells: amounts, ends, floats, stripes, to read and for machines."""

from __future__ import annotations

import json
import math
import re
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from cli.program import gussetry

from gussetry.pipeline import graded
from gussetry.yarn_needs import needs_json, needs_text, yarn_needs

SPEC = """\
pattern: Skerry
gauge: {over: 10 cm, stitches: 18, rounds: 20}
rib gauge: {over: 10 cm, stitches: 17, rows: 20}
yarns:
  A: {name: slate, colour: "#44546a"LABEL}
  B: {name: foam, colour: "#eef2f3"LABEL}
  C: {name: rust, colour: "#a4502c"LABEL}
sizes:
  S: {hand circumference: 18 cm, for: women}
  M: {hand circumference: 20 cm, for: women}
SWATCHgusset: {growth: inside}
stripes:
  plan: [A: 4, B: 2]
  by size: {M: [C: 7, A: 1]}
"""
LABEL = ", grams: 50, metres: 100"
METRES = "swatch: {stitches: 20, rounds: 20, used: 20 m}\n"
GRAMS = "swatch: {stitches: 20, rounds: 20, used: 10 g}\n"


def told(tmp_path: Path, swatch: str = "", label: str = "", more: str = "") -> tuple[str, Any]:
    """The text and the JSON of the specification with that swatch and that label."""
    path = tmp_path / "case.yaml"
    text = SPEC.replace("SWATCH", swatch).replace("LABEL", label)
    path.write_text(text + more, encoding="utf-8")
    _, spec, grading = graded(path)
    sizes = yarn_needs(spec, grading)
    return needs_text(spec, sizes), json.loads(needs_json(spec, sizes))


def blocks(text: str) -> dict[str, str]:
    """The text of each size."""
    _, *parts = text.split("\nsize ")
    return {part.split(":", 1)[0]: part for part in parts}


def test_the_program_tells_both_forms(starter: Path) -> None:
    shown = gussetry("yarn", starter)
    assert shown.returncode == 0
    assert "size M: yarn for the pair" in shown.stdout
    machine = gussetry("yarn", starter, "--json")
    assert machine.returncode == 0
    assert json.loads(machine.stdout)["format"] == "gussetry-yarn"


def test_faults_are_told_with_code_1(tmp_path: Path) -> None:
    path = tmp_path / "case.yaml"
    path.write_text(SPEC.replace("SWATCH", "").replace("LABEL", ", grams: 50"), encoding="utf-8")
    done = gussetry("yarn", path)
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.count("error[half-a-label]") == 3
    assert "case.yaml:5:39" in done.stderr


def test_without_a_swatch_every_amount_has_its_range_and_a_mark(tmp_path: Path) -> None:
    text, data = told(tmp_path, label=LABEL)
    assert text.startswith("WEAK ESTIMATE")
    assert data["weak"] is True
    assert data["swatch"] is None
    for size in data["sizes"]:
        for yarn in size["yarns"]:
            assert yarn["weak"] is True
            least, most = yarn["metres range"]
            assert least == pytest.approx(yarn["metres"] * 5 / 7, abs=0.001)
            assert most == pytest.approx(yarn["metres"] * 10 / 7, abs=0.001)
            line = next(
                line for line in blocks(text)[size["size"]].splitlines() if yarn["name"] in line
            )
            assert f"{yarn['metres']:.0f} m ({least:.0f}–{most:.0f})" in line


def test_with_a_swatch_nothing_is_called_weak(tmp_path: Path) -> None:
    text, data = told(tmp_path, METRES, LABEL)
    assert text.startswith("from a swatch of 20 stitches and 20 rounds that used 20 m\n")
    assert "WEAK" not in text
    assert data["weak"] is False
    for yarn in (yarn for size in data["sizes"] for yarn in size["yarns"]):
        assert yarn["metres range"] == [yarn["metres"]] * 2
        assert yarn["grams"] == pytest.approx(yarn["metres"] / 2, abs=0.001)
        assert yarn["metres to have"] == pytest.approx(yarn["metres"] * 1.1, abs=0.002)
        assert yarn["balls"] == math.ceil(yarn["metres to have"] / 100)


def test_a_swatch_in_grams_without_labels_tells_grams_only(tmp_path: Path) -> None:
    text, data = told(tmp_path, GRAMS)
    assert " m, " not in text
    assert "balls" not in text
    for yarn in (yarn for size in data["sizes"] for yarn in size["yarns"]):
        assert yarn["metres"] is None
        assert yarn["metres range"] is None
        assert yarn["balls"] is None
        assert yarn["grams"] > 0


def test_a_reserve_of_ones_own(tmp_path: Path) -> None:
    text, data = told(tmp_path, METRES, more="reserve: 25 %\n")
    assert "25 % in reserve" in text
    yarn = data["sizes"][0]["yarns"][0]
    assert yarn["metres to have"] == pytest.approx(yarn["metres"] * 1.25, abs=0.002)


def test_each_size_tells_its_own_plan(tmp_path: Path) -> None:
    text, data = told(tmp_path, METRES)
    small, large = blocks(text)["S"], blocks(text)["M"]
    assert "A rests rounds 5–6, 11–12" in small
    assert "carried, 10 mm each" in small
    assert "C rust" not in small
    # C rests one round, A seven: more than the four that are carried.
    assert "longest float: C, 5 mm" in large
    assert "A: joined in" in large
    assert "carried" not in next(line for line in large.splitlines() if "A: joined" in line)
    assert "cuff: C throughout" in large
    assert "A 1–4 (0 to 2), B 5–6 (2 to 3)" in small
    assert [yarn["yarn"] for yarn in data["sizes"][1]["yarns"]] == ["A", "C"]


def test_the_json_adds_up(tmp_path: Path) -> None:
    path = tmp_path / "case.yaml"
    _, data = told(tmp_path, METRES)
    _, _, grading = graded(path)
    for one, size in zip(grading.sizes, data["sizes"], strict=True):
        stitches = one.maps[0]
        made = sum(r.made for p in stitches.pieces for r in p.rounds)
        assert sum(yarn["stitches"] for yarn in size["yarns"]) == 2 * made
        # Every round of every piece lies in one stripe, in its own yarn.
        for piece in stitches.pieces:
            stripes = [s for s in size["stripes"] if s["piece"] == piece.piece]
            letters = "".join(s["yarn"] * (s["last"] - s["first"] + 1) for s in stripes)
            assert letters == "".join(r.yarn for r in piece.counted)
            assert all(a["upper mm"] == b["lower mm"] for a, b in pairwise(stripes))
        hand = [s for s in size["stripes"] if s["piece"] == "hand"]
        length = next(m.finished for m in one.measures if m.name == "hand length")
        assert Fraction(hand[-1]["upper mm"]) == length
        joined = [end for end in size["ends"] if end["kind"] == "joined"]
        assert 2 * len(joined) == len(size["ends"])
        floats = [c["float mm"] for c in size["changes"] if c["carried"]]
        assert max(floats) == (20 if size["size"] == "S" else 5)


def test_a_higher_edge_lifts_every_stripe(tmp_path: Path) -> None:
    _, plain = told(tmp_path)
    _, lifted = told(tmp_path, more="cuff: {above crease: 1 cm}\n")
    first = [
        next(s for s in data["sizes"][0]["stripes"] if s["piece"] == "hand")
        for data in (plain, lifted)
    ]
    assert [stripe["lower mm"] for stripe in first] == [0, 10]


def test_the_ends_of_a_yarn_add_up_in_its_line(tmp_path: Path) -> None:
    text, data = told(tmp_path, METRES, more="cuff: {yarn: B}\n")
    for size in data["sizes"]:
        lines = blocks(text)[size["size"]].splitlines()
        for letter in {yarn["yarn"] for yarn in size["yarns"]}:
            line = next(line for line in lines if line.startswith(f"      {letter}: "))
            told_of = sum(
                int(number) for number in re.findall(r"(?:joined in|change) (\d+)×", line)
            )
            told_of += line.count("of the ")
            assert told_of == sum(end["yarn"] == letter for end in size["ends"])
            carried = re.search(r"carried (\d+)×, without ends", line)
            floats = [c for c in size["changes"] if c["old"] == letter and c["carried"]]
            assert int(carried[1] if carried else 0) == len(floats)
    # The cuff in B is cut before the hand begins in A: an end that no change of colour makes.
    small = blocks(text)["S"]
    assert "cut at the end of the cuff" in next(
        line for line in small.splitlines() if line.startswith("      B: ")
    )


def test_what_lies_below_the_wrist_has_a_true_minus(tmp_path: Path) -> None:
    text, _ = told(tmp_path, more="cuff: {above crease: -1 cm}\n")
    assert "A 1–4 (−1 to 1)" in text
    assert "-" not in text


def test_one_yarn_throughout_is_told_in_a_line_a_piece(tmp_path: Path) -> None:
    path = tmp_path / "plain.yaml"
    text = SPEC.replace("SWATCH", "").replace("LABEL", "").split("stripes:")[0]
    path.write_text(text, encoding="utf-8")
    _, spec, grading = graded(path)
    shown = needs_text(spec, yarn_needs(spec, grading))
    assert blocks(shown)["S"].splitlines()[3:] == [
        "  each mitten",
        "    ends to weave in: 4 (A 4)",
        "    cuff: A throughout",
        "    hand: A throughout",
        "    thumb: A throughout",
    ]


def test_the_keys_of_the_json_stay_what_they_are(tmp_path: Path) -> None:
    _, data = told(tmp_path, METRES, LABEL)
    size = data["sizes"][0]
    assert {name: list(entry) for name, entry in (("", data), ("size", size))} == {
        "": ["format", "version", "pattern", "swatch", "weak", "reserve", "carry", "sizes"],
        "size": ["size", "yarns", "ends", "changes", "stripes"],
    }
    assert {name: " ".join(size[name][0]) for name in list(size)[1:]} == {
        "yarns": "yarn name stitches metres metres range metres to have grams grams range"
        " grams to have balls weak",
        "ends": "piece round yarn kind",
        "changes": "piece after round old new back carried float mm joined",
        "stripes": "piece yarn first last lower mm upper mm",
    }
