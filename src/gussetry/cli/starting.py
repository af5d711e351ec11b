"""Commands to begin with: `new` and `schema`."""

from __future__ import annotations

from pathlib import Path

import click

from gussetry.cli.options import named
from gussetry.cli.telling import faults, write


@click.command()
@click.argument("file", type=click.Path(path_type=Path, allow_dash=True))
@click.option(
    "--from", "table", callback=named, metavar="COUNTS.CSV",
    help="Pin every count of a sample, out of its count table.",
)  # fmt: skip
@click.option("--size", metavar="NAME", help="The size in COUNTS.CSV, if it has several.")
def new(file: Path, table: Path | None, size: str | None) -> None:
    """Write a starter specification to FILE, or show it (-).

    It explains itself and draws as it stands.
    """
    if table is None:
        from importlib.resources import files

        if size is not None:
            raise click.UsageError("--size needs --from, the count table that has the size")
        starter = (files("gussetry") / "starter.yaml").read_text(encoding="utf-8")
        _write_new(file, starter)
        return
    with faults():
        from gussetry.sample import from_counts

        sampled = from_counts(table, size)
    for line in sampled.remarks:
        click.echo(f"warning: look again at {table}: {line}", err=True)
    _write_new(file, sampled.text)
    listed = [f"size {sampled.size}: every count is pinned. The table could not tell"]
    listed += [f"- {line}" for line in sampled.untold]
    click.echo("\n".join(listed), err=str(file) == "-")


def _write_new(file: Path, text: str) -> None:
    """Writes or shows the text of a new specification; never over a file that is there."""
    if str(file) == "-":
        click.echo(text, nl=False)
        return
    with faults():
        write(file, text, anew=True)
    click.echo(f"wrote {file}\ndraw it with: gussetry draw {file} -o DIR")


@click.command()
def schema() -> None:
    """Show the JSON Schema of specifications, for editors."""
    import json

    from gussetry.read import json_schema

    click.echo(json.dumps(json_schema(), ensure_ascii=False, indent=2))
