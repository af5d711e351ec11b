"""US and UK terms: one text in both makes the same rounds."""

from __future__ import annotations

from random import Random

import pytest
from manuscripts.inventing import in_words, invent

from gussetry.manuscripts import Checked, check_text
from gussetry.manuscripts.terms import WrongTerm, declared, kind

# Published conversion charts agree on these.
CHARTS = [
    ("sc", "dc", "sc"), ("hdc", "htr", "hdc"), ("dc", "tr", "dc"), ("FPdc", "FPtr", "fpdc"),
    ("BPhdc", "BPhtr", "bphdc"), ("single crochet", "double crochet", "sc"),
    ("half double crochet", "half treble crochet", "hdc"),
    ("front post double crochet", "front post treble crochet", "fpdc"),
]  # fmt: skip


@pytest.mark.parametrize(("us", "uk", "made"), CHARTS)
def test_names(us: str, uk: str, made: str) -> None:
    assert kind(us, "US") == kind(uk, "UK") == made


@pytest.mark.parametrize(("name", "terms"), [("sc", "UK"), ("hdc", "UK"), ("htr", "US")])
def test_names_of_the_other_terms(name: str, terms: str) -> None:
    with pytest.raises(WrongTerm) as wrong:
        kind(name, "UK" if terms == "UK" else "US")
    assert not wrong.value.undeclared


@pytest.mark.parametrize("name", ["dc", "tr", "double crochet", "FPdc"])
def test_what_means_two_stitches_is_not_guessed(name: str) -> None:
    with pytest.raises(WrongTerm) as wrong:
        kind(name, None)
    assert wrong.value.undeclared


@pytest.mark.parametrize(
    ("text", "terms"),
    [
        ("Written in US terms.", ["US"]), ("US crochet terminology", ["US"]),
        ("American terms are used.", ["US"]), ("Terms: UK", ["UK"]), ("U.K. terms", ["UK"]),
        ("British crochet terms", ["UK"]), ("Made in the UK.", []),
        ("What UK patterns call dc", []),
    ],
)  # fmt: skip
def test_declared(text: str, terms: list[str]) -> None:
    assert list(declared(text)) == terms


def _made(checked: Checked) -> list[object]:
    return [
        (size.size, [[(r.worked.runs, r.count) for r in piece.rounds] for piece in size.pieces])
        for size in checked.sizes
    ]


@pytest.mark.parametrize("seed", range(40))
def test_both_terms_make_the_same(seed: int) -> None:
    text = invent(Random(seed))
    us = check_text(in_words(text, seed, "US"), "us")
    uk = check_text(in_words(text, seed, "UK"), "uk")
    assert us.rounds == len(text.sizes) * (1 + len(text.rounds))
    assert _made(us) == _made(uk)


def test_the_option_overrules_the_text() -> None:
    text = "Rnd 1: 6 dc in ring. 6 sts.\n"
    (run,) = check_text(text, "x", "UK").sizes[0].pieces[0].rounds[0].worked.runs
    assert run.do == "sc"
    (run,) = check_text(text, "x", "US").sizes[0].pieces[0].rounds[0].worked.runs
    assert run.do == "dc"
    (finding,) = check_text(text, "x").findings
    assert (finding.kind, finding.line, finding.column) == ("terms", 1, 10)
