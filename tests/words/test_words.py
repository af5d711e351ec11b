"""The pattern text: every number from the map, every round told once, in both terms."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest
from grading.strategies import MADE_UP, specs, unpinned_specs
from hypothesis import given
from words.agreeing import disagreements
from words.plainly import read

from gussetry.diagnostics import Faults
from gussetry.grading import Grading, grade
from gussetry.grading.amounts import needs
from gussetry.read import read_spec
from gussetry.source import read_source
from gussetry.spec import Spec
from gussetry.words import Form, pattern_text

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
ROUNDING = Fraction(5), Fraction(1, 4)
FORMS: tuple[Form, ...] = ("markdown", "plain")
UK = {"sc": "dc", "hdc": "htr", "dc": "tr", "sl st": "ss", "skip": "miss"}


@cache
def example(path: Path) -> tuple[Spec, Grading]:
    spec = read_spec(read_source(path))
    return spec, grade(spec)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
@pytest.mark.parametrize("form", FORMS)
def test_every_round_is_told_once_and_its_numbers_are_the_maps(path: Path, form: Form) -> None:
    spec, grading = example(path)
    for terms in ("US", "UK"):
        text = pattern_text(spec, grading.sizes, ROUNDING, terms, form)
        assert disagreements(text, grading.maps) == []


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_size_alone_is_told_like_all_of_them_together(path: Path) -> None:
    spec, grading = example(path)
    for size in grading.sizes:
        text = pattern_text(spec, [size], ROUNDING, "US")
        assert read(text).sizes == (size.size.name,)
        assert disagreements(text, size.maps) == []
        # Where equal rounds of one size are told together, their yarn is one.
        assert " in stripes" not in text.partition("## Cuff")[2]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_uk_terms_are_the_us_text_with_other_names(path: Path) -> None:
    spec, grading = example(path)
    us, uk = (instructions(spec, grading, terms) for terms in ("US", "UK"))
    names = "|".join(UK)
    renamed = [
        re.sub(
            rf"(?i)(?<![a-z])(FP|BP)?({names})(2tog)?(?=s?\b)",
            lambda m: f"{m[1] or ''}{_cased(m[2], UK[m[2].lower()])}{m[3] or ''}",
            line,
        )
        for line in us
    ]
    assert [line.replace(" sss.", " ss.").replace(" ss sts.", " ss.") for line in renamed] == [
        line for line in uk
    ]


def _cased(old: str, new: str) -> str:
    return new.capitalize() if old[0].isupper() else new


def instructions(spec: Spec, grading: Grading, terms: str) -> list[str]:
    """The lines that tell what to work."""
    assert terms in ("US", "UK")
    text = pattern_text(spec, grading.sizes, ROUNDING, "UK" if terms == "UK" else "US")
    return [line for line in text.splitlines() if line.startswith("**")]


def text_of(name: str, terms: str = "US", size: str = "") -> str:
    spec, grading = example(next(path for path in EXAMPLES if path.stem == name))
    sizes = [one for one in grading.sizes if size in ("", one.size.name)]
    return pattern_text(spec, sizes, ROUNDING, "UK" if terms == "UK" else "US")


def test_the_sample_with_every_count_kept_is_told_as_it_was_worked() -> None:
    """Typed from the sample's own account: what is in each line, not how we make it."""
    text = text_of("worked-example")
    for line in (
        "**Rnd 1:** Sc in each row end around. 30 sts.",
        "**Rnd 2:** 2 sc in first st, sc to end. 31 sts.",
        "**Rnd 4:** Sc in next 16 sts, 2 sc in next st, sc to end. 33 sts.",
        "**Rnd 5:** Sc in next 16 sts, 2 sc in next st and place marker in the first of them, sc"
        " in next st, 2 sc in next st and place marker in the first, sc to end."
        " 35 sts: 16 · m · 2 · m · 15.",
        "**Rnd 7:** Sc in next 16 sts, 2 sc in marked st and move marker to the second of them, sc"
        " to next marker, 2 sc in marked st and move marker to the second, sc to end."
        " 39 sts: 17 · m · 4 · m · 16.",
        "**Rnd 15:** Sc in next 20 sts, sc in next 13 sts and set them aside for the thumb, join 2"
        " pairs at the crook, sc to end. 36 sts, and 13 set aside.",
        "**Rnds 16–29:** Sc in each st around. 36 sts.",
        "**Rnd 34:** [Sc2tog, sc in next 6 sts] 4 times. 28 sts.",
        "**Rnd 37:** Sc2tog around. 10 sts.",
        "**Rnd 1:** Sc2tog over next 2 crook sts, sc in each of the 13 held sts. 14 sts.",
        "**Rnd 9:** [Sc2tog, sc in next st] 3 times. 6 sts.",
    ):
        assert line in text
    assert text_of("worked-example", "UK").count("dc2tog") == text.count("sc2tog")


def test_terms_name_the_parts_and_the_stitches() -> None:
    assert "## Gauge" in text_of("pebble-child")
    uk = text_of("pebble-child", "UK")
    assert "## Tension" in uk
    assert "dc: double crochet" in uk
    assert "sc" not in re.findall(r"[A-Za-z]+", uk.partition("## Notes")[2])


def test_cautions_stand_for_small_children_alone() -> None:
    assert "Sizes 18 months and 2 years:" in text_of("pebble-child")
    assert "finger" in text_of("eiderdown-infant")
    assert "For children" not in text_of("skerry-striped")
    assert "For children" not in text_of("pebble-child", size="6 years")


def test_yarn_is_changed_and_cut_where_it_happens() -> None:
    text = text_of("skerry-striped", size="M")
    assert "Change to B in the last st and carry A up inside." in text
    assert "Change to A in the last st and cut B." in text
    assert "Carry A up inside" in text_of("skerry-striped")


def test_a_count_that_is_off_after_the_division_is_put_right_at_the_thumb_side() -> None:
    text = text_of("skerry-striped", size="M")
    place = text.index("set them aside")
    assert text.index("One to three sts too many or too few") > place


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_measures_and_amounts_are_those_of_the_maps(path: Path) -> None:
    spec, grading = example(path)
    for size in grading.sizes:
        text = pattern_text(spec, [size], ROUNDING, "US")
        stitches = size.maps[0]
        hand = stitches.piece("hand")
        assert hand is not None
        length = len(hand.counted) * spec.gauge.height + spec.cuff.above_crease
        told = re.search(r"- Hand length: ([\d.]+) cm", text)
        assert told is not None
        assert abs(Fraction(told[1]) * 10 - length) <= Fraction(5, 2)
        for need in needs(spec, size):
            shown = re.search(rf"- Yarn {need.yarn.letter}, .*?: (\d+) m,", text)
            assert shown is not None
            assert need.metres_to_have is not None
            assert 0 <= int(shown[1]) - need.metres_to_have < 1


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_each_checkpoint_stands_once_before_what_it_is_for(path: Path) -> None:
    spec, grading = example(path)
    text = pattern_text(spec, grading.sizes, ROUNDING, "US").partition("## Hand\n")[2]
    hand, _, thumb = text.partition("## Thumb\n")
    assert hand.count("Try on: ") == 1 + spec.has_thumb
    assert thumb.count("Try on: ") == spec.has_thumb
    if spec.has_thumb:
        assert hand.index("reach the crook of the thumb") < hand.index("set them aside")
    end = "Draw shut" if spec.crown.style == "closed" else "to level the end of the spiral"
    assert hand.rindex("Try on: ") < hand.index(end)


def test_signs_in_the_names_of_sizes_do_not_break_the_lists() -> None:
    spec, _ = example(next(path for path in EXAMPLES if path.stem == "boulder-hdc"))
    names = ("Youth (10, 12)", "Adult: M/L")
    sizes = tuple(replace(one, name=name) for one, name in zip(spec.sizes, names, strict=True))
    spec = replace(spec, sizes=sizes)
    text = pattern_text(spec, grade(spec).sizes, ROUNDING, "US")
    assert "Youth 10 12 (Adult M L)\n" in text
    assert "**Size Adult M L only: Rnd 18:**" in text


def test_what_markdown_would_take_for_its_own_is_shown_as_it_is() -> None:
    spec, grading = example(next(path for path in EXAMPLES if path.stem == "boulder-hdc"))
    odd = replace(spec, pattern="# *Boulder* <b>", credit="- 1_000 `hooks`")
    text = pattern_text(odd, grading.sizes, ROUNDING, "US")
    assert text.startswith("# \\# \\*Boulder\\* \\<b\\>\n")
    assert "\n\\- 1_000 \\`hooks\\`\n" in text
    assert "\n- 1_000 `hooks`\n" in pattern_text(odd, grading.sizes, ROUNDING, "US", "plain")


FAULTS = (
    (r"\. 36 sts", ". 37 sts"),
    (r"sc in next 6 sts\] 4 times", "sc in next 6 sts] 5 times"),
    (r"20 · m · 11", "20 · m · 12"),
    (r"Rnds 16–29", "Rnds 16–28"),
    (r"Sc in next 16 sts, 2 sc", "Sc in next 16 sts, sc"),
    (r"join 2 pairs", "join 1 pair"),
    (r"Sc2tog around", "Sc in each st around"),
)


@pytest.mark.parametrize(("found", "instead"), FAULTS)
def test_a_text_that_was_changed_is_noticed(found: str, instead: str) -> None:
    _, grading = example(next(path for path in EXAMPLES if path.stem == "worked-example"))
    spoilt, times = re.subn(found, instead, text_of("worked-example"), count=1)
    assert times == 1
    assert disagreements(spoilt, grading.maps)


@MADE_UP
@given(specs())
def test_pinned_specifications_are_told_right(spec: Spec) -> None:
    try:
        grading = grade(spec)
    except Faults:
        return
    _hold(spec, grading)


@MADE_UP
@given(unpinned_specs())
def test_free_specifications_are_told_right(spec: Spec) -> None:
    _hold(spec, grade(spec))


def _hold(spec: Spec, grading: Grading) -> None:
    text = pattern_text(spec, grading.sizes, ROUNDING, "UK")
    assert disagreements(text, grading.maps) == []
    first = grading.sizes[0]
    assert disagreements(pattern_text(spec, [first], ROUNDING, "US", "plain"), first.maps) == []
