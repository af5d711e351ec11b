"""Any text and any bytes: no crash, no hang."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from manuscripts.snippets import snippets

from gussetry.manuscripts import Against, Checked, as_json, as_text, check_against, check_text
from gussetry.pipeline import graded, steps, yarn_needed

SECONDS = 2.0
EXAMPLE = Path(__file__).parents[2] / "examples" / "worked-example.yaml"
_CRAFT = """
Rnd Rnds Row R 1 2 3 4 12 5-8 : . , ; ( ) [ ] * ** sc dc hdc tr htr sc2tog dec inc in next each
st sts around across to end last first marker marked m · pm place move twice times x rep from
until rem ch turn join with sl st BLO FLO evenly even work total = – and set aside for thumb
skip seam crook held row end 4 (5, 6) 14 (15, –) US terms Sizes: S (M, L) # | Hand Thumb
Foundation: Draw shut: Seam: Size L only: Left mitten: counts as a st same ring 2nd from hook
Finished hand length: 18½ ¾ 19.5 cm in × g yd Yarn A: Sizes S and M only:
"""
WORDS = [*_CRAFT.split(), "\n", "\n\n"]
NEST = "Rnd 1: 6 sc in ring. 6 sts.\nRnd 2: "


def timed(content: str | bytes) -> Checked:
    """The content checked, told both ways, in time; the grammar is made ready beforehand."""
    for text in ("Rnd 1: sc", "Sizes: S (M)\nRnd 1: sc in next 1 (2) sts"):
        check_text(text, "warm")
    start = time.process_time()
    checked = check_text(content, "fuzz")
    as_text(checked)
    as_json(checked)
    assert time.process_time() - start < SECONDS
    return checked


@settings(max_examples=150, deadline=None)
@given(st.lists(st.sampled_from(WORDS), max_size=120).map(" ".join))
def test_words_of_the_craft_in_any_order(text: str) -> None:
    timed("Rnd 1: " + text)


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=400))
def test_any_bytes(content: bytes) -> None:
    timed(content)


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=300))
def test_any_text(text: str) -> None:
    timed(text)
    timed("Rnd 1: " + text)


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(snippets()), st.integers(0, 10_000), st.text(max_size=3))
def test_snippets_with_something_put_in(snippet: object, at: int, put: str) -> None:
    text = getattr(snippet, "text", "")
    at %= len(text) + 1
    timed(text[:at] + put + text[at:])


@pytest.mark.parametrize(
    "text",
    [
        NEST + "(" * 5000, NEST + "[sc, " * 3000, NEST + "*" * 9000, NEST + "sc, " * 50_000,
        NEST + "(" * 11 + "sc" + ") 99 times" * 11,
        NEST + "[[[[sc] 5000 times] 5000 times]] around",
        "Rnds 1-2000: sc around. 6 sts\n" * 300, "Rnd 1: sc\n" * 20_000,
        "Sizes: " + "A1 (" + ", ".join(f"A{n}" for n in range(2, 31)) + ")\n"
        + "".join(f"Rnds {n}01-{n}99: inc, sc to end.\n" for n in range(1, 20)),
        "Rnd 1: 6 sc in ring. 6 sts\nRnd 2: inc around.\nRep rnd 2 until 4000 sts remain.",
        NEST + "2 sc in next 2 sts, " * 60 + "sc to end.", "Rnd 1: " + " " * 200_000 + "x",
        "# " + " #" * 100_000, "Size " + " " * 200_000, "1 (" + "1, " * 60_000,
        "Rnd 1: sc in next 5" + " (1, 2" * 3000, ". 5" + " " * 100_000 + "x", "a" * 300_000,
        "Rnd 1: sc in next 99999999999999999999 sts", "Rnd 99999999999999999999: sc",
        "Rnd 1 – 99999: sc around", "Next 9999 rnds: sc around",
        "Rnd 0: sc", "Rnd 1:", "\ufeff", "",
        "Yarn A: " + "1 (" * 1600, "Yarn A: 1 (" + "1, " * 1600, "Yarn A" + "," * 4900,
        "Finished hand length: " + "1½ (2 1/2, " * 400, "Finished hand length: " + "9" * 4900,
        "Sizes: S (M)\nSizes " + "S and M, " * 500 + "only: Rnd 1: sc",
        "Size " + "and " * 150 + ":",
    ],
    ids=range(33),
)  # fmt: skip
def test_what_a_reader_might_choke_on(text: str) -> None:
    timed(text)


def test_against_maps_too() -> None:
    work = graded(EXAMPLE)
    against = Against(work.grading.maps, steps(work), yarn_needed(work))
    for snippet in snippets():
        start = time.process_time()
        check_against(snippet.text, "x", against)
        assert time.process_time() - start < SECONDS
    start = time.process_time()
    check_against("Finished hand length: " + "9½ cm 9 in " * 400, "x", against)
    assert time.process_time() - start < SECONDS


@pytest.mark.parametrize(
    ("content", "line", "column"),
    [
        ("Rnd 1: sc\nRnd 2: ü".encode("latin-1"), 2, 8),
        ("Rnd 1: 6 sc".encode("utf-16"), 1, 1),
        (b"Rnd 1: 6 sc\x00", 1, 12),
    ],
)
def test_a_wrong_encoding_is_one_finding(content: bytes, line: int, column: int) -> None:
    (finding,) = check_text(content, "x").findings
    assert (finding.kind, finding.line, finding.column) == ("encoding", line, column)


def test_a_byte_order_mark_and_other_line_ends() -> None:
    content = b"\xef\xbb\xbfUS terms\r\nRnd 1: 6 sc in ring. 6 sts\rRnd 2: inc around. 13 sts\r\n"
    (finding,) = check_text(content, "x").findings
    assert (finding.kind, finding.line, finding.column) == ("made", 3, 20)
