"""What a description tells of the rounds, and what the recount finds where it tells them wrong."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from xml.etree.ElementTree import Element

import pytest
from verify.breaking import SVG, bytes_of, tree
from verify.scenes import all_scenes

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.layout import sheets
from gussetry.layout.parts import Terms
from gussetry.pipeline import graded
from gussetry.style import load_style
from gussetry.verify import Asked, recount
from gussetry.verify.reading import read
from gussetry.verify.told import compare_told

EXAMPLES = Path(__file__).parents[2] / "examples"
STYLE = load_style()


@cache
def drawn(
    example: str = "skerry-striped", kind: str = "gusset", terms: Terms = "US"
) -> tuple[bytes, Asked]:
    stitches = graded(EXAMPLES / f"{example}.yaml").grading.maps[2]
    (chart,) = sheets(kind, (stitches,), STYLE, terms)
    return svg_bytes(engrave(chart, STYLE)), Asked(kind, (stitches,), terms)


def description(root: Element) -> str:
    found = root.find(SVG + "desc")
    assert found is not None
    return found.text or ""


def findings(
    change: tuple[str, str], example: str = "skerry-striped", kind: str = "gusset"
) -> set[str]:
    """What is found after one change of the description's words."""
    svg, asked = drawn(example, kind)
    root = tree(svg)
    text = description(root)
    assert change[0] in text
    root.find(SVG + "desc").text = text.replace(*change, 1)  # type: ignore[union-attr]
    found = compare_told(read(bytes_of(root)), asked, asked.maps[0])
    return {one.message for one in found}


STITCHES = "the description tells other stitches of a round"
COUNT = "the description tells another count"
LEFT_OUT = "the description leaves a round out"


@pytest.mark.parametrize(
    ("change", "found"),
    [
        (("16 sc, inc, 15 sc", "15 sc, inc, 16 sc"), {STITCHES}),
        (("inc, 2 sc, inc", "inc, 3 sc, inc"), {STITCHES}),
        (("sc picked up;", "sc;"), {STITCHES}),
        (("13 sc set aside", "13 sc"), {STITCHES}),
        (("aside, join,", "aside, join, ch,"), {STITCHES}),
        (("join", "joint"), {STITCHES}),
        (("; 35 stitches", "; 36 stitches"), {COUNT}),
        (("; 38 stitches. Rounds", ". Rounds"), {COUNT}),
        ((" (16, marked, 2, marked, 15)", ""), {"the description tells other sections of a round"}),
        (("marked, 3, marked, 16)", "marked, 4, marked, 15)"),
         {"the description tells other sections of a round"}),
        (("Round 5, yarn B", "Round 5, yarn A"),
         {"the description tells another yarn of a round"}),
        (("Round 5, yarn B", "Round 4, yarn B"),
         {"the description tells a round twice", LEFT_OUT}),
        (("Round 6, yarn B", "Round 96, yarn B"),
         {"the description tells a round that is not shown", LEFT_OUT}),
        (("Round by round. ", ""), {"the description does not tell the rounds"}),
        (("Round 8, ", "Then round 8, "), {LEFT_OUT}),
    ],
)  # fmt: skip
def test_a_wrong_telling_is_found(change: tuple[str, str], found: set[str]) -> None:
    assert findings(change) == found


def test_a_wrong_telling_is_found_when_a_drawing_is_recounted() -> None:
    svg, asked = drawn()
    assert [f.message for f in recount(svg.replace(b"; 35 stitches", b"; 36 stitches"), asked)] == [
        COUNT
    ]


def test_a_rhythm_is_told_as_a_rhythm_and_counted() -> None:
    text = description(tree(drawn(kind="crown")[0]))
    assert ") 2 times; " in text
    assert STITCHES in findings((") 2 times", ") 3 times"), kind="crown")


def test_rounds_that_are_alike_are_told_once() -> None:
    text = description(tree(drawn()[0]))
    assert ", yarn A, each: " in text
    assert text.count("Round") < 30
    assert LEFT_OUT in findings((" to 16, yarn A, each", ", yarn A"))


def test_the_telling_keeps_to_the_reader_s_terms() -> None:
    svg, asked = drawn(terms="UK")
    assert recount(svg, asked) == ()
    assert " dc, inc, " in description(tree(svg))
    told = {f.message for f in recount(svg, Asked("gusset", asked.maps, "US"))}
    assert STITCHES in told


@pytest.mark.parametrize("kind", ["cuff", "gusset", "thumb", "crown"])
def test_a_plain_hand_s_telling_is_read(kind: str) -> None:
    """Told by a second writer, every stitch by itself."""
    svg, asked = all_scenes()[kind]
    assert "by" in description(tree(svg))
    assert not [f for f in recount(svg, asked) if f.kind == "description"]


def test_a_credit_that_speaks_of_rounds_is_no_telling() -> None:
    stitches = graded(EXAMPLES / "skerry-striped.yaml").grading.maps[0]
    from gussetry.layout import Words

    (chart,) = sheets("gusset", (stitches,), STYLE, "US", Words(("Round 3: 99 sc; 99 stitches.",)))
    svg = svg_bytes(engrave(chart, STYLE))
    assert recount(svg, Asked("gusset", (stitches,))) == ()


def _spoilt(kind: str, before: bytes, after: bytes) -> set[str]:
    svg, asked = drawn(kind=kind)
    assert recount(svg, asked) == ()
    assert before in svg
    found = recount(svg.replace(before, after, 1), asked)
    assert {one.kind for one in found} == {"description"}
    return {one.message for one in found}


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (b"rounds 5 to 6: lichen (B)", b"rounds 5 to 6: foam (C)"),
        (b"rounds 5 to 6: lichen (B)", b"rounds 5 to 7: lichen (B)"),
        (b"Hand, rounds 5 to 6: lichen (B). ", b""),
        (b"Cuff, rows", b"Cuff, rounds"),
    ],
)
def test_stripes_told_otherwise_are_found(before: bytes, after: bytes) -> None:
    assert _spoilt("stripes", before, after) == {"the description tells other stripes"}


def test_a_measure_told_otherwise_is_found() -> None:
    wrong = _spoilt("schematic", b"Cuff depth: 6.5 cm", b"Cuff depth: 5.6 cm")
    assert wrong == {"the description tells a measure otherwise"}


def test_words_of_a_key_that_are_not_told_are_found() -> None:
    svg, asked = drawn(kind="key")
    svg = svg.replace(b"drawn as two rings", b"", 1).replace(b"Draw shut: thread the", b"Draw the")
    told = {(one.kind, one.message) for one in recount(svg, asked)}
    assert told == {("description", "the description leaves words of the key out")}


def test_the_drawing_shut_is_told_once_and_as_no_round() -> None:
    text = description(tree(drawn(kind="crown")[0]))
    assert " Then draw shut. " in text
    assert "close" not in text
    assert findings((" Then draw shut.", ""), kind="crown") == {LEFT_OUT}
    twice = (" Then draw shut.", " Then draw shut. Then draw shut.")
    assert findings(twice, kind="crown") == {"the description tells a round twice"}
