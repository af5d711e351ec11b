"""Commands that show what a specification comes to: `counts`, `yarn`, `fit` and `words`."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click

from gussetry.cli.options import named, strict
from gussetry.cli.telling import faults, show, write


@click.command()
@click.argument("spec", callback=named)
@click.option("--csv", "form", flag_value="csv", help="As CSV, as in counts.csv.")
@click.option("--json", "form", flag_value="json", help="As JSON.")
@strict
def counts(spec: Path, form: str | None, strict: bool) -> None:
    """Show how many stitches each round of SPEC leaves, in every size."""
    from gussetry import pipeline
    from gussetry.counts import count_table, table_csv, table_json, table_text

    with faults():
        document, _, grading = pipeline.graded(spec, strict)
    show(grading.warnings, document)
    forms = {"csv": table_csv, "json": table_json}
    table = count_table([size.maps for size in grading.sizes])
    click.echo(forms.get(form or "", table_text)(table), nl=False)


@click.command()
@click.argument("spec", callback=named)
@click.option("--json", "as_json", is_flag=True, help="As JSON: metres, grams, millimetres.")
@strict
def yarn(spec: Path, as_json: bool, strict: bool) -> None:
    """Show what yarn a pair of SPEC takes in every size, its floats, ends and stripes."""
    from gussetry import pipeline
    from gussetry.yarn_needs import needs_json, needs_text, yarn_needs

    with faults():
        document, read, grading = pipeline.graded(spec, strict)
    show(grading.warnings, document)
    shown = needs_json if as_json else needs_text
    click.echo(shown(read, yarn_needs(read, grading)), nl=False)


@click.command()
@click.argument("spec", callback=named)
@click.option("--json", "as_json", is_flag=True, help="As JSON, in millimetres.")
@strict
def fit(spec: Path, as_json: bool, strict: bool) -> None:
    """Show how near SPEC comes to its measures, whom its sizes fit, what another gauge makes."""
    from gussetry import pipeline
    from gussetry.fits import fit_of
    from gussetry.fits.as_json import fit_json
    from gussetry.fits.text import fit_text

    with faults():
        document, read, grading = pipeline.graded(spec, strict)
    show(grading.warnings, document)
    click.echo((fit_json if as_json else fit_text)(fit_of(read, grading)), nl=False)


@click.command()
@click.argument("spec", callback=named)
@click.option(
    "--terms", type=click.Choice(["US", "UK"], case_sensitive=False),
    help="The terms of the text; else the specification's.",
)  # fmt: skip
@click.option(
    "--format", "form", type=click.Choice(["markdown", "plain"]), default="markdown",
    help="Markdown (the default) or plain text.",
)  # fmt: skip
@click.option("--size", metavar="NAME", help="The text of that size alone.")
@click.option(
    "-o", "--output", "file", callback=named, metavar="FILE",
    help="The file to write, - for the terminal (the default).",
)  # fmt: skip
@strict
def words(
    spec: Path,
    terms: Literal["US", "UK"] | None,
    form: Literal["markdown", "plain"],
    size: str | None,
    file: Path | None,
    strict: bool,
) -> None:
    """Write SPEC as a pattern text: every round in words, all sizes in one."""
    from gussetry import pipeline

    with faults():
        work = pipeline.graded(spec, strict)
        known = {one.size.name: one for one in work.grading.sizes}
        if size is not None and size not in known:
            raise click.BadParameter(f"{size!r} is none of {', '.join(known)}", param_hint="--size")
        sizes = work.grading.sizes if size is None else (known[size],)
        text = pipeline.words(work, sizes, terms, form)
    show(work.grading.warnings, work.document)
    if file is None or str(file) == "-":
        click.echo(text, nl=False)
        return
    with faults():
        write(file, text)
    click.echo(f"wrote {file}")
