"""Options and arguments that several commands take."""

from __future__ import annotations

from pathlib import Path

import click


def named(_: click.Context, __: click.Parameter, value: str | None) -> Path | None:
    """The path; an empty one, which would mean this folder, is wrong usage."""
    if value == "":
        raise click.BadParameter("the name is empty")
    return None if value is None else Path(value)


strict = click.option(
    "--strict", is_flag=True, help="Take every warning for an error: exit 1, write nothing."
)
output = click.option(
    "-o", "--output", "folder", callback=named, required=True, metavar="DIR",
    help="The folder to write; made if need be.",
)  # fmt: skip
quiet = click.option("-q", "--quiet", is_flag=True, help="Show warnings and errors only.")
style = click.option(
    "--style", metavar="NAME|FILE", help="A style sheet instead of the specification's own."
)
