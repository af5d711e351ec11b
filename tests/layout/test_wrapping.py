"""Words in lines: what belongs together stays together."""

from __future__ import annotations

import pytest

from gussetry.layout.boxes import words_width, wrapped
from gussetry.style import load_style

STYLE = load_style()


@pytest.mark.parametrize(
    ("words", "kept"),
    [
        ("Begins on the stitches of round 33.", "round 33."),
        ("Goes on inwards on sheet 2.", "sheet 2."),
        ("sums. Round 13 sets 13 stitches aside", "Round 13"),
        ("sums. Round 13 sets 13 stitches aside", "13 stitches"),
        ("sc2tog in crook 1 and 2, then on over", "and 2,"),
        ("Pebble: schematic, sizes 2 years / 4 years / 6 years", "6 years"),
        ("Pebble: schematic, sizes 2 years / 4 years / 6 years", "4 years /"),
    ],
)
def test_a_number_stays_with_its_word(words: str, kept: str) -> None:
    for width in range(25, 90):
        lines = wrapped(words, "note", width, STYLE)
        assert " ".join(lines) == words
        assert any(kept in line for line in lines)
        assert all(words_width("note", line, STYLE) <= width for line in lines)


def test_a_number_holds_no_more_than_its_word() -> None:
    words = "Round 13 sets 13 stitches aside"
    lines = wrapped(words, "note", words_width("note", "Round 13 sets 13", STYLE), STYLE)
    assert lines[0] == "Round 13 sets"


def test_what_no_line_holds_is_parted_at_its_blanks_first() -> None:
    assert wrapped("round 33", "note", words_width("note", "round", STYLE), STYLE) == [
        "round", "33",
    ]  # fmt: skip
