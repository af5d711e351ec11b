"""Whatever stands in the file: a specification comes out, or Faults, and nothing else."""

from __future__ import annotations

from importlib import resources

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gussetry.diagnostics import Faults, render
from gussetry.read import read_spec
from gussetry.source import UnreadableSource, parse
from gussetry.spec import Spec

STARTER = resources.files("gussetry").joinpath("starter.yaml").read_text(encoding="utf-8")
LINES = [line.split("#")[0] if '"#' not in line else line for line in STARTER.splitlines()]
SCRAPS = [
    "", " ", "\n", "\n  ", ": ", "- ", "{", "}", "[", "]", ",", "#", '"', "'", "&a ", "*a", "!t ",
    "|\n", ">\n", "?", "~", "\t", "\0", "\u202e", "½", "0", "-1", "1e9", "9" * 30, "NaN", "fitted",
    "<<: ", "%", "@", "`", "---\n", "...\n", "S", "A: 4", "18 cm", "\r", "\x85", "\\", "é", "{}",
]  # fmt: skip


def outcome(text: str | bytes) -> Spec | list[str]:
    """What comes of a text: its specification, or its problems as they are shown."""
    try:
        document = parse(text, "case.yaml")
    except UnreadableSource as found:
        return [render(problem, found.source) for problem in found.problems]
    try:
        return read_spec(document)
    except Faults as faults:
        return [render(problem, document) for problem in faults.problems]


def check(text: str | bytes) -> None:
    """Every outcome can be printed, each problem with a code and a message."""
    found = outcome(text)
    if isinstance(found, Spec):
        assert found.sizes
        return
    assert found
    for shown in found:
        shown.encode("utf-8")
        assert shown.startswith("error[")
        assert "function" not in shown
        assert "\x1b" not in shown
        assert "\u202e" not in shown


@settings(derandomize=True, deadline=None, max_examples=200)
@given(st.binary(max_size=200))
def test_any_bytes(content: bytes) -> None:
    check(content)


@settings(derandomize=True, deadline=None, max_examples=300)
@given(st.text(max_size=200))
def test_any_text(text: str) -> None:
    check(text)


@settings(derandomize=True, deadline=None, max_examples=300)
@given(st.lists(st.sampled_from(SCRAPS), max_size=40))
def test_any_scraps_of_yaml(scraps: list[str]) -> None:
    check("".join(scraps))


@settings(
    derandomize=True, deadline=None, max_examples=300, suppress_health_check=list(HealthCheck)
)
@given(st.data())
def test_a_starter_that_a_cat_walked_over(data: st.DataObject) -> None:
    text = STARTER
    for _ in range(data.draw(st.integers(1, 4))):
        start = data.draw(st.integers(0, len(text)))
        end = data.draw(st.integers(start, min(len(text), start + 12)))
        text = text[:start] + data.draw(st.sampled_from(SCRAPS)) + text[end:]
    check(text)


@settings(derandomize=True, deadline=None, max_examples=200)
@given(st.permutations(LINES), st.integers(1, 40))
def test_lines_of_a_starter_in_any_order(lines: list[str], number: int) -> None:
    check("\n".join(lines[:number]))


GROUP_KEYS = st.sampled_from(["S", "A", "plan", "sides", "over"])
VALUES = st.recursive(
    st.sampled_from(["x", "3", "18 cm", "yes", "fitted", "A", '"#44546a"', "''", "join"]),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda parts: f"[{', '.join(parts)}]"),
        st.dictionaries(GROUP_KEYS, inner, max_size=3).map(
            lambda parts: "{" + ", ".join(f"{key}: {value}" for key, value in parts.items()) + "}"
        ),
    ),
    max_leaves=6,
)
KEYS = [
    "pattern", "credit", "terms", "style", "gauge", "rib gauge", "yarns", "sizes", "ease", "cuff",
    "lower hand", "gusset", "division", "crown", "thumb", "stripes", "other",
]  # fmt: skip


@settings(derandomize=True, deadline=None, max_examples=300)
@given(st.dictionaries(st.sampled_from(KEYS), VALUES, max_size=8))
def test_any_value_under_any_key(content: dict[str, str]) -> None:
    check("".join(f"{key}: {value}\n" for key, value in content.items()))
