"""The JSON Schema, judged by somebody else's reader of schemas and of YAML."""

from __future__ import annotations

import copy
import json
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from gussetry.diagnostics import Faults
from gussetry.read import json_schema, read_spec
from gussetry.source import parse

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.yaml"))
STARTER = yaml.safe_load(
    resources.files("gussetry").joinpath("starter.yaml").read_text(encoding="utf-8")
)


@pytest.fixture(scope="module")
def schema() -> Draft202012Validator:
    """The schema, which is one."""
    Draft202012Validator.check_schema(json_schema())
    return Draft202012Validator(json_schema())


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_schema_accepts_the_examples(schema: Draft202012Validator, path: Path) -> None:
    assert not list(schema.iter_errors(yaml.safe_load(path.read_text(encoding="utf-8"))))


def changed(place: tuple[str | int, ...], value: Any) -> dict[str, Any]:
    """The starter with one value put in place of another, or added."""
    made = copy.deepcopy(STARTER)
    node = made
    for part in place[:-1]:
        node = node[part] if isinstance(node, list) else node.setdefault(part, {})
    node[place[-1]] = value
    assert isinstance(made, dict)
    return made


GOOD: list[tuple[tuple[str | int, ...], Any]] = [
    (("pattern",), "Skerry"),
    (("gauge", "stitches"), 17.5),
    (("lower hand", "pick up"), {"S": 28, "M": 30}),
    (("lower hand", "joined"), True),
    (("crown", "phases", 0, "sides"), "fitted"),
    (("ease", "cuff"), "-12.5 %"),
    (("sizes", "S", "crook height"), "2 1/4 in"),
    (("stripes", "thumb"), "A"),
    (("sizes", "S"), {"standard": "women p25"}),
    (("sizes", "S"), {"standard": "EN ISO 21420 size 7", "wrist circumference": "15 cm"}),
    (("sizes", "S"), {"standard": "age 9 months"}),
]
BAD: list[tuple[tuple[str | int, ...], Any]] = [
    (("patern",), "Skerry"),
    (("gauge", "stiches"), 18),
    (("sizes", "S", "hand"), "18 cm"),
    (("crown", "phases", 0, "steps"), 2),
    (("crown", "phases", 0, "evenly"), 2),
    (("gauge", "stitches"), "18"),
    (("gauge", "over"), "10"),
    (("gauge", "over"), "10 px"),
    (("gauge", "stitch"), "htr"),
    (("yarns", "main"), {"name": "x", "colour": "#000000"}),
    (("yarns", "A", "colour"), "grey"),
    (("sizes",), {}),
    (("stripes", "plan"), []),
    (("stripes", "plan"), [{"A": 2, "B": 2}]),
    (("stripes", "plan"), [{"A": 0}]),
    (("crown", "last"), 7),
    (("lower hand", "pick up"), 2.5),
    (("lower hand", "joined"), "perhaps"),
    (("cuff",), None),
    (("sizes", "S", "standard"), "women p25"),
    (("sizes", "S"), {"for": "women"}),
    (("sizes", "S"), {"standard": "women p60"}),
    (("sizes", "S"), {"standard": "age 1"}),
]


def reader_accepts(content: dict[str, Any]) -> bool:
    """Whether our own reader takes the same content."""
    text = json.dumps(content, ensure_ascii=False)
    try:
        read_spec(parse(text, "case.yaml"))
    except Faults:
        return False
    return True


@pytest.mark.parametrize(("place", "value"), GOOD)
def test_schema_and_reader_accept_the_same(
    schema: Draft202012Validator, place: tuple[str | int, ...], value: Any
) -> None:
    content = changed(place, value)
    assert schema.is_valid(content)
    assert reader_accepts(content)


@pytest.mark.parametrize(("place", "value"), BAD)
def test_schema_and_reader_refuse_the_same(
    schema: Draft202012Validator, place: tuple[str | int, ...], value: Any
) -> None:
    content = changed(place, value)
    assert not schema.is_valid(content)
    assert not reader_accepts(content)


def test_every_key_tells_an_editor_what_it_is() -> None:
    made = json_schema()
    for group in (made, *made["$defs"].values()):
        for key, about in group["properties"].items():
            assert about["description"].endswith("."), key
            assert about["examples"][0].startswith(f"{key}: "), key
