"""What the reader found wrong, as problems that a crocheter can act on."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from pydantic import ValidationError

from gussetry.diagnostics import Problem, Where
from gussetry.misreadings import clipped
from gussetry.read.keys import example, field_at, fields, group_at, groups
from gussetry.read.kinds import ALL
from gussetry.read.models import SpecificationKeys
from gussetry.read.values import WrongError, listed, nearest
from gussetry.source import Document, Value


def value_at(data: Value | None, path: Where) -> Value | None:
    """What the file has at `path`; None where it has nothing."""
    node = data
    for part in path:
        if isinstance(node, dict) and isinstance(part, str):
            node = node.get(part)
        elif isinstance(node, list) and isinstance(part, int) and part < len(node):
            node = node[part]
        else:
            return None
    return node


def contradiction(document: Document, path: tuple[str, ...], what: str) -> Problem:
    """A key at `path` that says something of what is not there; `what`: `a cuff of style round`."""
    return Problem(
        "contradiction",
        f"{what} has no {path[-1]}",
        path,
        f"leave {path[-1]} out",
        span=document.locate_key(path),
    )


def problems_of(error: ValidationError, document: Document) -> list[Problem]:
    """Every fault that the definition found, with its place in the document."""
    found = error.errors(include_url=False, include_input=False)
    misspelt = {
        (*path[:-1], near)
        for path, near in ((path, _near(path)) for path in _paths(found, "extra_forbidden"))
        if near
    }
    split = _split_at_comma(_paths(found, "extra_forbidden"), document)
    problems = [_split(path, whole) for path, whole in split.values()]
    halves = set(split) | {path for path, _ in split.values()}
    for fault in found:
        path = _path(fault["loc"])
        # A key that is only misspelt is reported once, where it stands.
        if path in halves or (fault["type"] == "missing" and path in misspelt):
            continue
        problems.append(_problem(fault, path, document))
    return problems


def _split_at_comma(unknown: Iterable[Where], document: Document) -> dict[Where, tuple[Where, str]]:
    # In brackets, `stitches: 17,5` is 17 and a key 5: what stands before it is the value meant.
    found = {}
    for path in unknown:
        siblings = value_at(document.data, path[:-1])
        if not isinstance(siblings, dict) or not re.match("[0-9]", str(path[-1])):
            continue
        keys = list(siblings)
        place = keys.index(str(path[-1]))
        before = siblings[keys[place - 1]] if place else None
        if isinstance(before, str) and re.fullmatch("[-−]?[0-9]+", before):
            found[path] = ((*path[:-1], keys[place - 1]), f"{before}.{path[-1]}")
    return found


def _split(path: Where, whole: str) -> Problem:
    message = f"{_subject(path)} has a comma in its number"
    return Problem("not-a-number", message, path, f"write {whole}, with a point")


def _paths(found: Iterable[Any], kind: str) -> list[Where]:
    return [_path(fault["loc"]) for fault in found if fault["type"] == kind]


def _path(loc: Where) -> Where:
    return tuple(part for part in loc if part not in (ALL, "[key]"))


def _problem(fault: Any, path: Where, document: Document) -> Problem:
    kind = fault["type"]
    if kind == "value_error":
        return _wrong(fault["ctx"]["error"], path, fault["loc"][-1] == "[key]", document)
    if kind == "missing":
        return _missing(path)
    if kind == "extra_forbidden":
        return _unknown(path, document)
    if kind in ("too_short", "too_long"):
        return _miscounted(fault["ctx"], path, document)
    return _misshapen("a list" if kind == "list_type" else "a group of keys", path, document)


def _wrong(wrong: WrongError, path: Where, at_key: bool, document: Document) -> Problem:
    span = document.locate_key(path) if at_key else document.locate(path)
    if wrong.code == "unknown-yarn" and any(isinstance(part, int) for part in path):
        span = document.locate_key(path)
    if wrong.code == "no-value" and _commented(path, document):
        message = f"{_subject(path)} has no value: what follows the # is a comment"
        remedy = f"if the # belongs to it, use quotes, such as `{example(field_at(path))}`"
        return Problem("no-value", message, path, remedy, span=span)
    message = f"{_subject(path)} {wrong.message}"
    if message.startswith("stripe ") and not at_key:
        message = f"the rounds of {message}"
    return Problem(wrong.code, message, path, wrong.remedy, span=span)


def _commented(path: Where, document: Document) -> bool:
    span = document.locate_key(path)
    if span is None:
        return False
    after = document.line(span.line)[span.column - 1 + span.length :]
    return after.lstrip(" :").startswith("#")


def _subject(path: Where) -> str:
    if not path:
        return "the specification"
    last = path[-1]
    number = next((part for part in reversed(path) if isinstance(part, int)), None)
    if number is not None and (isinstance(last, int) or not _is_key(path)):
        return f"{'phase' if 'phases' in path else 'stripe'} {number + 1}"
    if path == ("cuff", "yarn"):
        return "the cuff"
    if len(path) == 2 and path[0] in ("yarns", "sizes"):
        return f"{str(path[0])[:-1]} {clipped(str(last))}"
    if _is_key(path) or len(path) < 2:
        return str(last)
    return f"{'the plan' if path[-2] == 'by size' else path[-2]} of {last}"


def _is_key(path: Where) -> bool:
    group = group_at(path[:-1])
    return group is not None and str(path[-1]) in fields(group)


def _missing(path: Where) -> Problem:
    shown = example(field_at(path))
    where = f" under {_holder(path[:-1])}" if len(path) > 1 else ""
    return Problem(
        "missing-key",
        f"{path[-1]} is missing{where}",
        path[:-1],
        f"add it, such as `{shown}`" if shown else "add it",
    )


def _holder(path: Where) -> str:
    return _subject(path) if isinstance(path[-1], int) else str(path[-1])


def _near(path: Where) -> str | None:
    group = group_at(path[:-1])
    return nearest(str(path[-1]), fields(group)) if group else None


def _unknown(path: Where, document: Document) -> Problem:
    key = str(path[-1])
    near = _near(path)
    group = group_at(path[:-1])
    homes = [name for name, members in groups() if key in fields(members)]
    if near:
        remedy = f"did you mean {near}?"
    elif homes and len(path) != 2:
        remedy = f"{key} stands under {listed(homes, 'or')}"
    elif key in fields(SpecificationKeys):
        remedy = f"{key} stands at the top: do not indent it"
    else:
        remedy = f"the keys here are {listed(fields(group) if group else (), 'and')}"
    where = f" under {_holder(path[:-1])}" if len(path) > 1 else ""
    return Problem(
        "unknown-key",
        f"there is no key {clipped(key)}{where}",
        path,
        remedy,
        span=document.locate_key(path),
    )


def _miscounted(limits: Any, path: Where, document: Document) -> Problem:
    if path and isinstance(path[-1], int):
        return Problem(
            "not-a-stripe",
            f"{_subject(path)} must be one yarn and its rounds",
            path,
            "write it like A: 4, each stripe an item of the list",
        )
    least, most = limits.get("min_length"), limits.get("max_length")
    wanted = f"at least {least} entry" if least is not None else f"at most {most} entries"
    remedy = f"write it like `{example(field_at(path))}`" if least is not None else ""
    return Problem("wrong-number", f"{_subject(path)} must have {wanted}", path, remedy)


def _misshapen(wanted: str, path: Where, document: Document) -> Problem:
    value = value_at(document.data, path)
    shown = example(field_at(path))
    remedy = f"write it like `{shown}`" if shown else ""
    if not path:
        remedy = "begin with a key and a colon, such as `pattern: Skerry`"
    elif isinstance(path[-1], int) and "phases" not in path:
        remedy = "write it like A: 4"
    if isinstance(value, str) and not value:
        remedy = remedy.replace("write it", "leave the key out, or write it")
        return Problem("no-value", f"{_subject(path)} has nothing under it", path, remedy)
    got = "a list" if isinstance(value, list) else "a text"
    got = "a group of keys" if isinstance(value, dict) else got
    return Problem("wrong-shape", f"{_subject(path)} must be {wanted}, not {got}", path, remedy)
