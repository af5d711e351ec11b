"""The table of every key for the README, from the reader's own definition."""

from __future__ import annotations

import types
from collections.abc import Iterator
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from gussetry.diagnostics import Where
from gussetry.read.given import Group
from gussetry.read.keys import example, fields, group_at, unwrapped
from gussetry.read.kinds import Kind

PLACES: tuple[tuple[str, Where], ...] = (
    ("At the top", ()),
    ("`charts`", ("charts",)),
    ("`pages`", ("pages",)),
    ("`gauge`", ("gauge",)),
    ("`rib gauge`", ("rib gauge",)),
    ("`yarns`: each yarn", ("yarns", "A")),
    ("`sizes`: each size", ("sizes", "S")),
    ("`swatch`", ("swatch",)),
    ("`ease`", ("ease",)),
    ("`cuff`", ("cuff",)),
    ("`lower hand`", ("lower hand",)),
    ("`gusset`", ("gusset",)),
    ("`division`", ("division",)),
    ("`crown`", ("crown",)),
    ("`crown`: each of the `phases`", ("crown", "phases", 0)),
    ("`thumb`", ("thumb",)),
    ("`stripes`", ("stripes",)),
)
"""Every group of keys, in the order of the object from bottom to top."""


def reference() -> str:
    """Markdown: a table for each group, every key with what it takes, what it says, an example."""
    parts = []
    for title, path in PLACES:
        group = group_at(path)
        if group is not None:
            parts.append(f"### {title}\n\n{_table(group)}")
    return "\n".join(parts)


def _table(group: type[Group]) -> str:
    rows = ["| key | takes | says | example |", "| --- | --- | --- | --- |"]
    for key, field in fields(group).items():
        name = f"**{key}**" if field.is_required() else key
        cells = (name, _form(field), field.description or "", f"`{example(field)}`")
        rows.append("| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |")
    return "\n".join(rows) + "\n"


def _form(field: FieldInfo) -> str:
    """In a few words, what is written after the key."""
    found = next(_kinds(field.annotation, field.metadata), None)
    if found is not None:
        return found.form
    inner = get_origin(unwrapped(field.annotation))
    return "list" if inner is list else "group"


def _kinds(annotation: Any, notes: Any = ()) -> Iterator[Kind]:
    yield from (note for note in notes if isinstance(note, Kind))
    origin = get_origin(annotation)
    if origin is Annotated:
        inner, *inner_notes = get_args(annotation)
        yield from _kinds(inner, inner_notes)
    elif origin in (Union, types.UnionType):
        yield from _kinds(get_args(annotation)[0])
