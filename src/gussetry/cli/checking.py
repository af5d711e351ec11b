"""Commands on what is there already: `check` and `compare`."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click

from gussetry.cli.options import named
from gussetry.cli.telling import WRONG, faults, stop


@click.command()
@click.argument("old", callback=named)
@click.argument("new", callback=named)
@click.option("--json", "as_json", is_flag=True, help="As JSON, in millimetres.")
def compare(old: Path, new: Path, as_json: bool) -> None:
    """Tell what changed from the folder OLD to the folder NEW, by size: errata.

    Each is an output folder, its manifest.json, or a counts.csv alone. Differences are no error:
    the exit code is 0 whether there are any or not.
    """
    with faults("nothing was compared"):
        from gussetry import errata

        before, after = errata.read_output(old), errata.read_output(new)
        changes = errata.changes(before, after)
    told = errata.as_json if as_json else errata.as_text
    click.echo(told(old, new, changes))


@click.command()
@click.argument("work", callback=named)
@click.option(
    "--spec", callback=named, metavar="SPEC",
    help="Compare with this specification as it is now too, stitch by stitch.",
)  # fmt: skip
@click.option(
    "--against", callback=named, metavar="TABLE",
    help="Compare a folder with this table of counts, CSV or YAML.",
)  # fmt: skip
@click.option(
    "--marked", callback=named, metavar="DIR",
    help="Write the drawings of a folder that have findings to the new folder DIR, ringed.",
)  # fmt: skip
@click.option("--size", metavar="NAME", help="Check that size of a manuscript alone.")
@click.option(
    "--terms", type=click.Choice(["US", "UK"], case_sensitive=False),
    help="The terms of a manuscript, whatever it says of them.",
)  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="As JSON, one line a finding.")
def check(work: Path, **options: Any) -> None:
    """Check WORK: a folder that draw wrote, retouched since or not, or a manuscript.

    Of a folder every drawing, picture, count table and stitch map is counted again and held
    against the others; of a manuscript, a text file, every round that is written. The exit code is
    1 where anything disagrees or cannot be read.
    """
    apart = ("against", "marked") if not work.is_dir() else ("size", "terms")
    for name in apart:
        if options[name] is not None:
            what = "a folder" if name in ("against", "marked") else "a manuscript"
            raise click.UsageError(f"--{name} is for {what}")
    (_check_folder if work.is_dir() else _check_manuscript)(work, options)


def _check_folder(folder: Path, options: dict[str, Any]) -> None:
    from gussetry import check as checking

    with faults("nothing was checked"):
        fresh = None
        if options["spec"] is not None:
            from gussetry import pipeline

            fresh = pipeline.current(pipeline.graded(options["spec"]))
        findings = checking.check_folder(folder, fresh)
        if options["against"] is not None:
            findings += checking.check_against_table(folder, options["against"])
        if options["marked"] is not None:
            checking.write_marked(folder, findings, options["marked"])
    click.echo((checking.as_json if options["as_json"] else checking.as_text)(folder, findings))
    if any(finding.fault for finding in findings):
        sys.exit(WRONG)


def _check_manuscript(path: Path, options: dict[str, Any]) -> None:
    from gussetry import manuscripts

    size, terms = options["size"], options["terms"]
    content = _content(path, manuscripts.MAX_BYTES)
    if options["spec"] is None:
        checked = manuscripts.check_text(content, str(path), terms, only=size)
    else:
        from gussetry import pipeline

        with faults("nothing was checked"):
            maps = pipeline.graded(options["spec"]).grading.maps
        checked = manuscripts.check_against(content, str(path), maps, terms, size)
    if size is not None and checked.manuscript is not None and not checked.sizes:
        known = ", ".join(checked.manuscript.sizes)
        raise click.BadParameter(f"{size!r} is none of {known}", param_hint="--size")
    as_json = options["as_json"]
    click.echo((manuscripts.as_json if as_json else manuscripts.as_text)(checked))
    if checked.findings:
        sys.exit(WRONG)


def _content(path: Path, most: int) -> bytes:
    """The bytes of a text file, and one more than the most that is read if there are more."""
    try:
        with path.open("rb") as file:
            return file.read(most + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        stop(WRONG, f"error: {path} cannot be read: {reason.lower()}")
