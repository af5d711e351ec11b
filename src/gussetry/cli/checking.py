"""Commands on what is there already: `check` and `compare`."""

from __future__ import annotations

import stat
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from gussetry.cli.options import named
from gussetry.cli.telling import WRONG, faults
from gussetry.findings import Finding
from gussetry.findings import as_json as findings_json

if TYPE_CHECKING:
    from gussetry.diagnostics import Problem, SourceMap
    from gussetry.source import UnreadableSource


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
    with _checking(work, options["as_json"]):
        is_folder = _is_folder(work)
        for name in ("size", "terms") if is_folder else ("against", "marked"):
            if options[name] is not None:
                raise click.UsageError(
                    f"--{name} is for a {'manuscript' if is_folder else 'folder'}"
                )
        clean = (_check_folder if is_folder else _check_manuscript)(work, options)
    if not clean:
        sys.exit(WRONG)


@contextmanager
def _checking(work: Path, as_json: bool) -> Iterator[None]:
    """What is wrong with the input ends the check: told on the error stream; and, where JSON is
    wished, as its findings."""
    from gussetry.diagnostics import Faults

    with faults("nothing was checked"):
        try:
            yield
        except Faults as error:
            if as_json:
                source = getattr(error, "source", None)
                found = [_of_problem(problem, source) for problem in error.problems]
                click.echo(findings_json({_called(work): str(work), "clean": False}, found))
            raise


def _of_problem(problem: Problem, source: SourceMap | None) -> Finding:
    """What is wrong with the input, as a finding."""
    span = problem.span or (source.locate(problem.path) if source else None)
    found = Finding(
        problem.code, problem.message, source.name if source else "", remedy=problem.help
    )
    if span is None:
        return found
    return replace(found, line=span.line, column=span.column, length=span.length)


def _called(work: Path) -> str:
    try:
        return "folder" if work.is_dir() else "manuscript"
    except OSError:
        return "manuscript"


def _is_folder(work: Path) -> bool:
    """Whether it is a folder; Faults where nothing is there, or nothing that can be read."""
    from gussetry.diagnostics import Problem

    try:
        mode = work.stat().st_mode
    except (OSError, ValueError) as error:
        raise _unread(work, error) from None
    if not (stat.S_ISDIR(mode) or stat.S_ISREG(mode)):
        message, remedy = "this is neither a folder nor a text file", "name one of the two"
        raise _refused(work, Problem("no-file", message, help=remedy))
    return stat.S_ISDIR(mode)


def _unread(path: Path, error: OSError | ValueError) -> UnreadableSource:
    """Why a file or folder could not be read, as what ends the check."""
    from gussetry.misreadings import unopened

    return _refused(path, unopened(error))


def _refused(path: Path, problem: Problem) -> UnreadableSource:
    from gussetry.source import Source, UnreadableSource

    return UnreadableSource([problem], Source(str(path)))


def _check_folder(folder: Path, options: dict[str, Any]) -> bool:
    """Checks a folder and tells what is found; whether it is clean."""
    from gussetry import check as checking

    fresh = needs = None
    if options["marked"] is not None:
        checking.check_place(folder, options["marked"])
    if options["spec"] is not None:
        from gussetry import pipeline

        work = pipeline.graded(options["spec"])
        fresh, needs = pipeline.current(work), pipeline.yarn_needed(work)
    try:
        findings = checking.check_folder(folder, fresh, needs)
    except OSError as error:
        raise _unread(folder, error) from None
    if options["against"] is not None:
        findings += checking.check_against_table(folder, options["against"])
    marked: tuple[str, ...] = ()
    if options["marked"] is not None:
        marked = checking.write_marked(folder, findings, options["marked"])
    click.echo((checking.as_json if options["as_json"] else checking.as_text)(folder, findings))
    if options["marked"] is not None and not options["as_json"]:
        ringed = f"{len(marked)} drawing{'' if len(marked) == 1 else 's'} ringed"
        click.echo(f"{options['marked']}: {ringed}")
    return not any(finding.fault for finding in findings)


def _check_manuscript(path: Path, options: dict[str, Any]) -> bool:
    """Checks a manuscript and tells what is found; whether it is clean."""
    from gussetry import manuscripts

    size, terms = options["size"], options["terms"]
    content = _content(path, manuscripts.MAX_BYTES)
    if options["spec"] is None:
        checked = manuscripts.check_text(content, str(path), terms, only=size)
    else:
        from gussetry import pipeline

        work = pipeline.graded(options["spec"])
        against = manuscripts.Against(
            work.grading.maps, pipeline.steps(work), pipeline.yarn_needed(work)
        )
        checked = manuscripts.check_against(content, str(path), against, terms, size)
    if size is not None and checked.manuscript is not None and not checked.sizes:
        known = ", ".join(checked.manuscript.sizes)
        raise click.BadParameter(f"{size!r} is none of {known}", param_hint="--size")
    as_json = options["as_json"]
    click.echo((manuscripts.as_json if as_json else manuscripts.as_text)(checked))
    return not checked.findings


def _content(path: Path, most: int) -> bytes:
    """The bytes of a text file, and one more than the most that is read if there are more."""
    try:
        with path.open("rb") as file:
            return file.read(most + 1)
    except OSError as error:
        raise _unread(path, error) from None
