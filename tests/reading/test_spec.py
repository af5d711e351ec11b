"""What a well-written specification becomes."""

from __future__ import annotations

import re
from fractions import Fraction
from importlib import resources
from pathlib import Path

import pytest

from gussetry import spec
from gussetry.diagnostics import Faults
from gussetry.read import read_spec
from gussetry.read.given import SizeKeys, YarnKeys
from gussetry.read.keys import fields, groups
from gussetry.read.models import PhaseKeys
from gussetry.source import parse, read_source

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))

MINIMAL = """\
pattern: Skerry
gauge: {over: 10 cm, stitches: 18, rounds: 20}
rib gauge: {over: 4 in, stitches: 17, rows: 20}
yarns:
  A: {name: slate, colour: "#44546A"}
  B: {name: foam, colour: "#eef2f3"}
sizes:
  S: {hand circumference: 18 cm}
  M: {hand circumference: 7½ in}
"""


def read(more: str = "", text: str = MINIMAL) -> spec.Spec:
    """The specification of the minimal text and some more lines."""
    return read_spec(parse(text + more, "case.yaml"))


def test_a_dozen_lines_are_enough() -> None:
    assert MINIMAL.count("\n") <= 12
    made = read()
    assert made.pattern == "Skerry"
    assert made.gauge == spec.Gauge("sc", Fraction(100, 18), Fraction(5))
    assert made.cuff.gauge == spec.Gauge("sc", Fraction("101.6") / 17, Fraction("101.6") / 20)
    assert made.yarns[0] == spec.Yarn("A", "slate", "#44546a")
    assert [size.hand_circumference for size in made.sizes] == [180, Fraction("190.5")]
    assert made.stripes == spec.Stripes((spec.Stripe("A", 1),))
    assert made.cuff.yarn == "A"
    usual = spec.Spec(made.pattern, made.gauge, made.yarns, made.sizes, made.stripes)
    assert made.ease == usual.ease
    assert made.crown == usual.crown
    assert made.division == usual.division


@pytest.mark.parametrize(
    ("written", "mm"),
    [
        ("17.5 cm", Fraction(175)),
        ("17.5cm", Fraction(175)),
        ("175 mm", Fraction(175)),
        ("7 in", Fraction("177.8")),
        ("7 1/2 in", Fraction("190.5")),
        ("7½ in", Fraction("190.5")),
        ("7 ½ in", Fraction("190.5")),
        ("7.125 in", Fraction("180.975")),
        ("7 3/8 in", Fraction(59, 8) * Fraction("25.4")),
        ('"18 cm"', Fraction(180)),
    ],
)
def test_lengths_are_exact(written: str, mm: Fraction) -> None:
    text = MINIMAL.replace("7½ in", "22 cm").replace("18 cm", written)
    assert read(text=text).sizes[0].hand_circumference == mm


def test_ease_may_be_less_than_nothing() -> None:
    ease = read("ease: {hand: -5 mm, thumb: −1/4 in, cuff: -12.5 %}\n").ease
    assert (ease.hand, ease.thumb) == (-5, Fraction("-6.35"))
    assert (ease.cuff, ease.length) == (Fraction(-1, 8), 8)


def test_pins_are_one_for_all_or_one_a_size() -> None:
    made = read("lower hand: {pick up: 30, increases: {M: 2}}\n")
    assert made.lower_hand.pick_up == (30, 30)
    assert made.lower_hand.increases == (None, 2)
    assert made.lower_hand.rounds == ()


def test_phases_are_fitted_or_pinned() -> None:
    made = read(
        "crown:\n  last: 5\n  phases:\n    - {sides: fitted, plain after: 1}\n"
        "    - {evenly: {S: 3}, decreases: 4}\n"
    )
    assert made.crown == spec.Crown(
        (spec.CrownPhase("sides", (), 2, 1), spec.CrownPhase("evenly", (3, None), 4, 0)),
        last=(5, 5),
    )


def test_stripes_and_who_wears_what() -> None:
    made = read(
        "stripes: {plan: [B: 4, A: 2], repeat: no, anchor: tip, thumb: A}\n"
        "cuff: {stripes: [A: 2, B: 1]}\nterms: UK\nstyle: large-print\n"
    )
    plan = (spec.Stripe("B", 4), spec.Stripe("A", 2))
    assert made.stripes == spec.Stripes(plan, False, "tip", "A")
    assert made.cuff.stripes == (spec.Stripe("A", 2), spec.Stripe("B", 1))
    assert (made.cuff.yarn, made.terms, made.style) == ("A", "UK", "large-print")
    assert read("stripes: {plan: [B: 4], thumb: match}\n").cuff.yarn == "B"
    assert read("stripes: {plan: [B: 4], thumb: match}\n").stripes.thumb is None


@pytest.mark.parametrize(("age", "months"), [("2 years", 24), ("1 year", 12), ("18 months", 18)])
def test_ages_count_in_months(age: str, months: int) -> None:
    text = MINIMAL.replace("18 cm}", f"11 cm, for: children, age from: {age}}}")
    size = read(text=text).sizes[0]
    assert (size.wearer, size.age_from_months) == ("children", months)


def test_a_newborn_hand_is_possible_where_it_is_said() -> None:
    text = MINIMAL.replace("18 cm}", "8 cm, for: infants}")
    assert read(text=text).sizes[0].hand_circumference == 80


def test_rows_of_a_sample_outrank_whole_ribs() -> None:
    assert read("cuff: {rows: 31}\n").cuff.parity == "any"
    assert read("cuff: {rows: 30, row parity: even}\n").cuff.parity == "even"
    assert read().cuff.parity == "even"


def test_a_cuff_without_ribs_needs_no_rib_gauge() -> None:
    text = "".join(line for line in MINIMAL.splitlines(True) if not line.startswith("rib"))
    made = read("cuff: {style: round, depth: 5 cm, rounds: 10}\n", text)
    assert (made.cuff.style, made.cuff.gauge, made.cuff.rounds) == ("round", None, (10, 10))
    # One that stands there all the same does not disturb.
    assert read("cuff: {style: none}\n").cuff.gauge is None


@pytest.mark.parametrize(
    ("division", "bridge"),
    [("pairs: 2", "join"), ("chains: 3", "chain"), ("bridge: none", "none")],
)
def test_pins_of_the_bridge_say_which_it_is(division: str, bridge: str) -> None:
    assert read(f"division: {{{division}}}\n").division.bridge == bridge


def test_texts_may_have_lines_but_titles_may_not() -> None:
    assert read("caption: |\n  Two\n  lines\n").caption == "Two\nlines"
    assert read("credit:\n").credit == ""
    with pytest.raises(Faults, match="one line"):
        read(text=MINIMAL.replace("Skerry", '"Sker\\nry"'))


def test_what_the_keys_say_they_are_else_is_true() -> None:
    """Each "Else …" of the table of keys, written out, changes nothing."""
    plain = read()
    tried = 0
    for name, group in groups():
        if group in (YarnKeys, SizeKeys) or name in ("gauge", "rib gauge", "stripes", "pages"):
            continue
        for key, field in fields(group).items():
            said = re.search(r"Else (-?\w+(?: (?:cm|mm|%))?)[,. ]", f"{field.description} ")
            if said and said.group(1) not in ("a", "the", "sides"):
                where = "style: open, " if "With `style: open`" in field.description else ""
                bare = read(f"{name}: {{{where}}}\n") if where else plain
                written = read(f"{name}: {{{where}{key}: {said.group(1)}}}\n")
                assert written == bare, f"{name}: {key}"
                tried += 1
    assert tried >= 14
    plan = "stripes: {plan: [A: 1], repeat: yes, anchor: cuff, thumb: match}\n"
    assert read(plan) == plain
    assert read("terms: US\nstyle: default\n") == plain
    stitched = MINIMAL.replace("over: 10 cm", "over: 10 cm, stitch: sc")
    assert read(text=stitched.replace("over: 4 in", "over: 4 in, stitch: sc")) == plain
    assert "plain after" in fields(PhaseKeys)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_examples_are_read(path: Path) -> None:
    made = read_spec(read_source(path))
    first = path.read_text(encoding="utf-8").splitlines()[0]
    assert first.startswith("# ")
    assert made.credit


def test_the_examples_are_what_they_are_kept_for() -> None:
    kept = {path.stem: read_spec(read_source(path)) for path in EXAMPLES}
    skerry = kept["skerry-striped"]
    assert (len(skerry.sizes), skerry.gusset.growth) == (5, "alternating")
    assert (skerry.division.bridge, len(skerry.yarns)) == ("join", 3)
    pebble = kept["pebble-child"]
    assert (len(pebble.sizes), pebble.gusset.growth) == (4, "inside")
    assert pebble.division.bridge == "chain"
    assert any((size.age_from_months or 99) < 36 for size in pebble.sizes)
    boulder = kept["boulder-hdc"]
    assert (len(boulder.sizes), boulder.gauge.stitch) == (2, "hdc")


def test_the_starter_is_read() -> None:
    text = resources.files("gussetry").joinpath("starter.yaml").read_text(encoding="utf-8")
    made = read_spec(parse(text, "starter.yaml"))
    assert made.cuff.gauge is not None
    assert len(made.sizes) == 3
