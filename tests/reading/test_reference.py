"""The table of keys: whole, and each example in it can be pasted."""

from __future__ import annotations

from pathlib import Path

import pytest
from reading.golden import compare
from reading.reference import PLACES, reference

from gussetry.diagnostics import Faults, Where
from gussetry.read import read_spec
from gussetry.read.given import Group
from gussetry.read.keys import example, fields, group_at
from gussetry.read.models import SpecificationKeys
from gussetry.source import parse

BASE = """\
pattern: Skerry
gauge: {over: 10 cm, stitches: 18, rounds: 20, lean: 1.5}
rib gauge: {over: 10 cm, stitches: 17, rows: 20}
yarns: {A: {name: slate, colour: "#44546a"}, B: {name: foam, colour: "#eef2f3"}}
sizes: {S: {hand circumference: 18 cm}, M: {hand circumference: 20 cm}}
"""


def every_key() -> list[tuple[Where, str]]:
    """Each key of the definition: the place of its group, and its name."""
    found = []
    for _, path in PLACES:
        group = group_at(path)
        assert group is not None
        found += [(path, key) for key in fields(group)]
    return found


def test_every_group_of_the_definition_has_its_table() -> None:
    shown = {group_at(path) for _, path in PLACES}
    assert shown == {SpecificationKeys, *Group.__subclasses__()}


def test_every_key_stands_in_the_table() -> None:
    text = reference()
    for _, key in every_key():
        assert f"| {key} |" in text or f"| **{key}** |" in text


def pasted(path: Where, key: str) -> str:
    """The example of a key, put in its place in a specification that is otherwise whole."""
    group = group_at(path)
    assert group is not None
    shown = example(fields(group)[key])
    if not path:
        kept = [line for line in BASE.splitlines() if not line.startswith(f"{key}:")]
        return "\n".join([*kept, shown, ""])
    if path[0] in ("gauge", "rib gauge", "yarns", "sizes", "swatch"):
        whole = {
            "swatch": {"stitches": "20", "rounds": "22", "used": "29 m"},
            "gauge": {"over": "10 cm", "stitches": "18", "rounds": "20"},
            "rib gauge": {"over": "10 cm", "stitches": "17", "rows": "20"},
            "yarns": {"name": "slate", "colour": '"#44546a"', "grams": "50", "metres": "95"},
            "sizes": {"hand circumference": "18 cm"},
        }[str(path[0])]
        if key == "standard":
            del whole["hand circumference"]
        name, value = shown.split(": ", 1)
        inner = ", ".join(f"{k}: {v}" for k, v in {**whole, name: value}.items())
        value = f"{{{path[1]}: {{{inner}}}}}" if len(path) > 1 else f"{{{inner}}}"
        kept = [line for line in BASE.splitlines() if not line.startswith(f"{path[0]}:")]
        return "\n".join([*kept, f"{path[0]}: {value}", ""])
    if path == ("crown", "phases", 0):
        with_it = {"decreases": "evenly: 2, ", "plain after": "sides: 2, "}.get(key, "")
        with_it += "decreases: 4, " if key == "evenly" else ""
        return f"{BASE}crown: {{phases: [{{{with_it}{shown}}}]}}\n"
    with_it = {
        ("cuff", "rounds"): "style: round, ",
        ("crown", "reach"): "style: open, ",
        ("crown", "edging"): "style: open, ",
        ("thumb", "reach"): "style: open, ",
        ("thumb", "edging"): "style: open, ",
        ("division", "pairs"): "bridge: join, ",
        ("division", "chains"): "bridge: chain, ",
    }.get((str(path[0]), key), "")
    with_it += "plan: [A: 1], " if path == ("stripes",) and key != "plan" else ""
    return f"{BASE}{path[0]}: {{{with_it}{shown}}}\n"


@pytest.mark.parametrize(("path", "key"), every_key())
def test_every_example_can_be_pasted(path: Where, key: str) -> None:
    text = pasted(path, key)
    document = parse(text, "case.yaml")
    try:
        read_spec(document)
    except Faults as faults:
        pytest.fail(f"{faults}\n{text}")


def test_the_readme_has_the_table_as_the_definition_gives_it() -> None:
    readme = Path(__file__).parents[2] / "README.md"
    before, head, rest = readme.read_text(encoding="utf-8").partition("### At the top\n")
    assert head
    after = rest[rest.index("\n## ") :]
    compare(f"{before}{reference().strip()}\n{after}", readme)
