"""Commands that write drawings: `draw`, `pages` and `key`."""

from __future__ import annotations

import signal
import sys
from pathlib import Path
from typing import Any, Literal

import click

from gussetry.cli import options
from gussetry.cli.options import named
from gussetry.cli.telling import CAIRO_MISSING, TERMINATED, faults, progress, show


@click.command()
@click.argument("spec", callback=named)
@options.output
@options.quiet
@options.style
@options.strict
def draw(spec: Path, folder: Path, quiet: bool, style: str | None, strict: bool) -> None:
    """Draw every chart of SPEC in every size.

    Each drawing is read back and recounted before anything in DIR changes.
    """
    _draw(spec, folder, quiet, style, strict)


@click.command()
@click.argument("spec", callback=named)
@options.output
@click.option(
    "--paper", type=click.Choice(["A4", "Letter", "both"], case_sensitive=False),
    help="The paper; else the specification's, else both.",
)  # fmt: skip
@click.option(
    "--sets", type=click.Choice(["each", "all"]),
    help="Pages for each size, or one set for all sizes; else the specification's, else each.",
)  # fmt: skip
@click.option(
    "--simulate", multiple=True, type=click.Choice(["grey", "protan", "deutan", "tritan"]),
    help="Show each page as a photocopy or an eye with that colour vision does; may be repeated.",
)  # fmt: skip
@options.quiet
@options.style
@options.strict
def pages(
    spec: Path,
    folder: Path,
    paper: str | None,
    sets: str | None,
    simulate: tuple[str, ...],
    quiet: bool,
    style: str | None,
    strict: bool,
) -> None:
    """Draw SPEC as draw does, and make finished pages of it: SVG, PNG, and a PDF for each paper.

    Each page is read back and its charts recounted before anything in DIR changes.
    """
    wanted = {"paper": paper, "sets": sets, "simulate": tuple(dict.fromkeys(simulate)) or None}
    _draw(spec, folder, quiet, style, strict, wanted)


def _draw(
    spec: Path,
    folder: Path,
    quiet: bool,
    style: str | None,
    strict: bool,
    pages: dict[str, Any] | None = None,
) -> None:
    """Draws SPEC into the folder; with finished pages where some are asked for."""
    from gussetry.workers import workers

    signal.signal(signal.SIGTERM, lambda *_: sys.exit(TERMINATED))
    with faults(), progress(quiet) as seen, workers() as pool:
        # The workers load what they need while this process does.
        from gussetry import pipeline, report

        work = pipeline.graded(spec, strict)
        if pages is not None:
            work = pipeline.with_pages(work, {k: v for k, v in pages.items() if v is not None})
        run = pipeline.draw(work, folder, style, pool, seen)
    show(run.grading.warnings, run.document)
    if not run.png:
        click.echo(CAIRO_MISSING, err=True)
    for name in run.placed.kept:
        click.echo(
            f"warning: {folder / name} is of an earlier run, but was changed since: it stays",
            err=True,
        )
    if not quiet:
        click.echo(report.summary(run, folder))


@click.command()
@options.output
@click.option("--style", default="default", metavar="NAME|FILE", help="A style sheet.")
@click.option(
    "--terms", type=click.Choice(("US", "UK")), default="US", help="How stitches are called."
)
def key(folder: Path, style: str, terms: Literal["US", "UK"]) -> None:
    """Draw the symbol of every stitch, small and large, with its words."""
    from gussetry.workers import workers

    signal.signal(signal.SIGTERM, lambda *_: sys.exit(TERMINATED))
    with faults(), progress(True) as seen, workers() as pool:
        from gussetry.keysheet import draw_key

        assets = draw_key(folder, style, terms, pool, seen)
    if any(asset.png is None for asset in assets):
        click.echo(CAIRO_MISSING, err=True)
    names = ", ".join(f"{asset.name}.svg" for asset in assets)
    click.echo(f"wrote {names} and manifest.json to {folder}")
