"""The sheets in `styles/` and the user's own: found, read, and laid over `default`."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from typing import Any

from gussetry.diagnostics import Faults, Problem
from gussetry.source import Document, is_yaml, parse, read_source

OPEN = ("palette",)
"""Groups whose keys are the user's own."""


def _folder() -> Any:
    """Where the sheets are: in the package, or in the project's tree of an editable install."""
    shipped = files("gussetry") / "styles"
    if shipped.is_dir():
        return shipped
    return Path(__file__).parents[3] / "styles"


def names() -> tuple[str, ...]:
    """The sheets that come with gussetry."""
    found = (entry.name for entry in _folder().iterdir())
    return tuple(sorted(n.removesuffix(".yaml") for n in found if n.endswith(".yaml")))


def sheet(name: str) -> Document:
    """The sheet of that name, or of a `.yaml` file. Faults where there is none."""
    if is_yaml(name):
        return read_source(Path(name))
    if name not in names():
        raise Faults(
            [Problem("unknown-style", f"there is no style {name!r}", ("style",),
                     f"choose one of {', '.join(names())}, or name a .yaml file")]
        )  # fmt: skip
    return parse((_folder() / f"{name}.yaml").read_bytes(), f"{name}.yaml")


def merged(base: dict[str, Any], sheet: Document) -> dict[str, Any]:
    """The base with the sheet's properties; Faults for one that the base does not have."""
    if not isinstance(sheet.data, dict):
        raise Faults([Problem("not-a-style", f"{sheet.name} holds no properties")])
    problems: list[Problem] = []
    found = _over(base, sheet.data, (), sheet, problems)
    if problems:
        raise Faults(problems)
    return found


def _over(
    known: dict[str, Any],
    new: dict[str, Any],
    path: tuple[str, ...],
    sheet: Document,
    problems: list[Problem],
) -> dict[str, Any]:
    found = dict(known)
    for key, value in new.items():
        here = (*path, str(key))
        if key not in known and path not in [(group,) for group in OPEN]:
            problems.append(
                Problem("unknown-property", f"a style has no property {' '.join(here)!r}",
                        here, f"known here: {', '.join(known)}", span=sheet.locate_key(here))
            )  # fmt: skip
        elif isinstance(known.get(key, ""), dict) and not isinstance(value, dict):
            named = ", ".join(known[key]) or "each with a value of its own"
            problems.append(
                Problem("wrong-shape", f"{' '.join(here)} is a group of properties",
                        here, f"name those that change: {named}", span=sheet.locate(here))
            )  # fmt: skip
        elif isinstance(value, dict) and isinstance(known.get(key), dict):
            found[key] = _over(known[key], value, here, sheet, problems)
        elif not isinstance(value, str):
            example = known.get(key, '"#1f1d1a"')
            problems.append(
                Problem("wrong-shape", f"{' '.join(here)} takes one value",
                        here, f"write it like {key}: {example}", span=sheet.locate(here))
            )  # fmt: skip
        else:
            found[key] = value
    return found
