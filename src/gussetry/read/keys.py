"""What the definition says about a place in the file: its group, its keys, its example."""

from __future__ import annotations

import types
from collections.abc import Iterator
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from gussetry.diagnostics import Where
from gussetry.read.given import Group
from gussetry.read.models import SpecificationKeys


def fields(group: type[Group]) -> dict[str, FieldInfo]:
    """The keys of a group, as written, with what the definition says about each."""
    return {field.alias or name: field for name, field in group.model_fields.items()}


def group_at(path: Where) -> type[Group] | None:
    """The group of keys that stands at `path`; None where there is none."""
    node = _node_at(path)
    return node if isinstance(node, type) and issubclass(node, Group) else None


def field_at(path: Where) -> FieldInfo | None:
    """What the definition says about the deepest key of `path` that it knows."""
    for end in range(len(path), 0, -1):
        group = group_at(path[: end - 1])
        found = fields(group).get(str(path[end - 1])) if group else None
        if found:
            return found
    return None


def example(field: FieldInfo | None) -> str:
    """The example of a key, ready to be pasted."""
    return str(field.examples[0]) if field and field.examples else ""


def groups() -> Iterator[tuple[str, type[Group]]]:
    """The groups below the top, each with the name of the key that holds it."""
    for name, field in fields(SpecificationKeys).items():
        group = group_at((name,)) or group_at((name, "*")) or group_at((name, 0))
        if group and field.alias:
            yield name, group


def unwrapped(annotation: Any) -> Any:
    """The type without its notes, and without the None of a key that may be absent."""
    if get_origin(annotation) is Annotated:
        return unwrapped(get_args(annotation)[0])
    if get_origin(annotation) in (Union, types.UnionType):
        return unwrapped(get_args(annotation)[0])
    return annotation


def _node_at(path: Where) -> Any:
    node: Any = SpecificationKeys
    for part in path:
        if isinstance(node, type) and issubclass(node, Group):
            found = fields(node).get(str(part))
            node = unwrapped(found.annotation) if found else None
        elif get_origin(node) in (dict, list):
            node = unwrapped(get_args(node)[-1])
        else:
            return None
    return node
