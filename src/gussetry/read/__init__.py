"""Located text to a `Spec`, with every fault found at once, and the JSON Schema of the file."""

from __future__ import annotations

from typing import Any

from pydantic import ValidationError

from gussetry.diagnostics import Faults, Problem, in_order
from gussetry.read.build import build
from gussetry.read.checks import check_all
from gussetry.read.models import SpecificationKeys
from gussetry.read.problems import problems_of, value_at
from gussetry.source import Document, capped
from gussetry.spec import Spec


def read_spec(document: Document) -> Spec:
    """The specification that a document holds.

    Raises Faults with every problem of the whole document, in the order of the file.
    """
    problems: list[Problem] = []
    keys: SpecificationKeys | None = None
    try:
        keys = SpecificationKeys.model_validate(document.data, context=_declared(document))
    except ValidationError as error:
        problems += problems_of(error, document)
    problems += check_all(document)
    if problems or keys is None:
        raise Faults(capped(list(in_order(problems, document))))
    return build(keys)


def _declared(document: Document) -> dict[str, tuple[str, ...] | None]:
    found: dict[str, tuple[str, ...] | None] = {}
    for what in ("yarns", "sizes"):
        names = value_at(document.data, (what,))
        found[what] = tuple(names) if isinstance(names, dict) else None
    return found


def json_schema() -> dict[str, Any]:
    """The JSON Schema (2020-12) of a specification, for editors, from the reader's definition."""
    made = _tidied(SpecificationKeys.model_json_schema())
    assert isinstance(made, dict)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "gussetry specification",
        **made,
    }


def _tidied(node: Any) -> Any:
    # Titles repeat the keys; a key that is not there has neither a default nor a null to write.
    if isinstance(node, list):
        return [_tidied(part) for part in node]
    if not isinstance(node, dict):
        return node
    kept = {
        key: {name: _tidied(each) for name, each in part.items()}
        if key in ("properties", "$defs", "patternProperties")
        else _tidied(part)
        for key, part in node.items()
        if not (key == "title" or (key == "default" and part is None))
    }
    forms = kept.get("anyOf")
    if forms and {"type": "null"} in forms:
        del kept["anyOf"]
        others = [form for form in forms if form != {"type": "null"}]
        kept |= others[0] if len(others) == 1 else {"anyOf": others}
    if "patternProperties" in kept:
        kept.setdefault("additionalProperties", False)
    return kept
