"""The command line. The only module that prints; everything slow is imported where it is used."""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, NoReturn

import click

from gussetry import __version__

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gussetry.diagnostics import Problem, SourceMap

WRONG = 1
OUR_FAULT = 3
INTERRUPTED = 130
TERMINATED = 143

CAIRO_MISSING = (
    "warning: no PNG was written, since the library libcairo is missing: install it with"
    " `apt install libcairo2` (Debian), `dnf install cairo` (Fedora) or `brew install cairo`"
    " (macOS), or on Windows name the folder of libcairo-2.dll in CAIROCFFI_DLL_DIRECTORIES"
)
SORRY = (
    "This is a fault of gussetry, not of your specification, and we are sorry. Please report it,"
    " with the specification and the lines above."
)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, message="gussetry %(version)s")
def program() -> None:
    """Grades crocheted mittens and draws their charts, in every size."""


def _named(_: click.Context, __: click.Parameter, value: str | None) -> Path | None:
    """The path; an empty one, which would mean this folder, is wrong usage."""
    if value == "":
        raise click.BadParameter("the name is empty")
    return None if value is None else Path(value)


@program.command()
@click.argument("file", type=click.Path(path_type=Path, allow_dash=True))
@click.option(
    "--from", "table", callback=_named, metavar="COUNTS.CSV",
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
    with _faults():
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
    try:
        with file.open("x", encoding="utf-8", newline="\n") as written:
            written.write(text)
    except FileExistsError:
        _stop(WRONG, f"error: {file} is there already; name another file, or move it away")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        _stop(WRONG, f"error: {file} cannot be written: {reason.lower()}")
    click.echo(f"wrote {file}\ndraw it with: gussetry draw {file} -o DIR")


_strict = click.option(
    "--strict", is_flag=True, help="Take every warning for an error: exit 1, write nothing."
)


@program.command()
@click.argument("spec", callback=_named)
@click.option(
    "-o", "--output", "folder", callback=_named, required=True, metavar="DIR",
    help="The folder to write; made if need be.",
)  # fmt: skip
@click.option("-q", "--quiet", is_flag=True, help="Show warnings and errors only.")
@click.option(
    "--style", metavar="NAME|FILE", help="A style sheet instead of the specification's own."
)
@_strict
def draw(spec: Path, folder: Path, quiet: bool, style: str | None, strict: bool) -> None:
    """Draw every chart of SPEC in every size.

    Each drawing is read back and recounted before anything in DIR changes.
    """
    _draw(spec, folder, quiet, style, strict)


@program.command()
@click.argument("spec", callback=_named)
@click.option(
    "-o", "--output", "folder", callback=_named, required=True, metavar="DIR",
    help="The folder to write; made if need be.",
)  # fmt: skip
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
@click.option("-q", "--quiet", is_flag=True, help="Show warnings and errors only.")
@click.option(
    "--style", metavar="NAME|FILE", help="A style sheet instead of the specification's own."
)
@_strict
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
    with _faults(), _progress(quiet) as seen, workers() as pool:
        # The workers load what they need while this process does.
        from gussetry import pipeline, report

        work = pipeline.graded(spec, strict)
        if pages is not None:
            work = pipeline.with_pages(work, {k: v for k, v in pages.items() if v is not None})
        run = pipeline.draw(work, folder, style, pool, seen)
    _show(run.grading.warnings, run.document)
    if not run.png:
        click.echo(CAIRO_MISSING, err=True)
    for name in run.placed.kept:
        click.echo(
            f"warning: {folder / name} is of an earlier run, but was changed since: it stays",
            err=True,
        )
    if not quiet:
        click.echo(report.summary(run, folder))


@program.command()
@click.option(
    "-o", "--output", "folder", callback=_named, required=True, metavar="DIR",
    help="The folder to write; made if need be.",
)  # fmt: skip
@click.option("--style", default="default", metavar="NAME|FILE", help="A style sheet.")
@click.option(
    "--terms", type=click.Choice(("US", "UK")), default="US", help="How stitches are called."
)
def key(folder: Path, style: str, terms: Literal["US", "UK"]) -> None:
    """Draw the symbol of every stitch, small and large, with its words."""
    from gussetry.workers import workers

    signal.signal(signal.SIGTERM, lambda *_: sys.exit(TERMINATED))
    with _faults(), _progress(True) as seen, workers() as pool:
        from gussetry.keysheet import draw_key

        assets = draw_key(folder, style, terms, pool, seen)
    if any(asset.png is None for asset in assets):
        click.echo(CAIRO_MISSING, err=True)
    names = ", ".join(f"{asset.name}.svg" for asset in assets)
    click.echo(f"wrote {names} and manifest.json to {folder}")


@program.command()
@click.argument("spec", callback=_named)
@click.option("--csv", "form", flag_value="csv", help="As CSV, as in counts.csv.")
@click.option("--json", "form", flag_value="json", help="As JSON.")
@_strict
def counts(spec: Path, form: str | None, strict: bool) -> None:
    """Show how many stitches each round of SPEC leaves, in every size."""
    from gussetry import pipeline
    from gussetry.counts import count_table, table_csv, table_json, table_text

    with _faults():
        document, _, grading = pipeline.graded(spec, strict)
    _show(grading.warnings, document)
    forms = {"csv": table_csv, "json": table_json}
    table = count_table([size.maps for size in grading.sizes])
    click.echo(forms.get(form or "", table_text)(table), nl=False)


@program.command()
@click.argument("spec", callback=_named)
@click.option("--json", "as_json", is_flag=True, help="As JSON: metres, grams, millimetres.")
@_strict
def yarn(spec: Path, as_json: bool, strict: bool) -> None:
    """Show what yarn a pair of SPEC takes in every size, its floats, ends and stripes."""
    from gussetry import pipeline
    from gussetry.yarn_needs import needs_json, needs_text, yarn_needs

    with _faults():
        document, read, grading = pipeline.graded(spec, strict)
    _show(grading.warnings, document)
    shown = needs_json if as_json else needs_text
    click.echo(shown(read, yarn_needs(read, grading)), nl=False)


@program.command()
@click.argument("spec", callback=_named)
@click.option("--json", "as_json", is_flag=True, help="As JSON, in millimetres.")
@_strict
def fit(spec: Path, as_json: bool, strict: bool) -> None:
    """Show how near SPEC comes to its measures, whom its sizes fit, what another gauge makes."""
    from gussetry import pipeline
    from gussetry.fits import fit_of
    from gussetry.fits.as_json import fit_json
    from gussetry.fits.text import fit_text

    with _faults():
        document, read, grading = pipeline.graded(spec, strict)
    _show(grading.warnings, document)
    click.echo((fit_json if as_json else fit_text)(fit_of(read, grading)), nl=False)


@program.command()
@click.argument("spec", callback=_named)
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
    "-o", "--output", "file", callback=_named, metavar="FILE",
    help="The file to write, - for the terminal (the default).",
)  # fmt: skip
@_strict
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

    with _faults():
        work = pipeline.graded(spec, strict)
        known = {one.size.name: one for one in work.grading.sizes}
        if size is not None and size not in known:
            raise click.BadParameter(f"{size!r} is none of {', '.join(known)}", param_hint="--size")
        sizes = work.grading.sizes if size is None else (known[size],)
        text = pipeline.words(work, sizes, terms, form)
    _show(work.grading.warnings, work.document)
    if file is None or str(file) == "-":
        click.echo(text, nl=False)
        return
    try:
        file.write_text(text, encoding="utf-8", newline="\n")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        _stop(WRONG, f"error: {file} cannot be written: {reason.lower()}")
    click.echo(f"wrote {file}")


@program.command()
@click.argument("old", callback=_named)
@click.argument("new", callback=_named)
@click.option("--json", "as_json", is_flag=True, help="As JSON, in millimetres.")
def compare(old: Path, new: Path, as_json: bool) -> None:
    """Tell what changed from the folder OLD to the folder NEW, by size: errata.

    Each is an output folder, its manifest.json, or a counts.csv alone. Differences are no error:
    the exit code is 0 whether there are any or not.
    """
    with _faults("nothing was compared"):
        from gussetry import errata

        before, after = errata.read_output(old), errata.read_output(new)
        changes = errata.changes(before, after)
    told = errata.as_json if as_json else errata.as_text
    click.echo(told(old, new, changes))


@program.command()
@click.argument("work", callback=_named)
@click.option(
    "--spec", callback=_named, metavar="SPEC",
    help="Compare with this specification as it is now too, stitch by stitch.",
)  # fmt: skip
@click.option(
    "--against", callback=_named, metavar="TABLE",
    help="Compare a folder with this table of counts, CSV or YAML.",
)  # fmt: skip
@click.option(
    "--marked", callback=_named, metavar="DIR",
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

    with _faults("nothing was checked"):
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

        with _faults("nothing was checked"):
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
        _stop(WRONG, f"error: {path} cannot be read: {reason.lower()}")


@program.command()
def schema() -> None:
    """Show the JSON Schema of specifications, for editors."""
    import json

    from gussetry.read import json_schema

    click.echo(json.dumps(json_schema(), ensure_ascii=False, indent=2))


@contextmanager
def _progress(quiet: bool) -> Iterator[Callable[[int, int, str], None]]:
    """What hears of each finished drawing: a bar on a terminal, a line a file otherwise."""
    if quiet:
        yield lambda done, total, name: None
    elif not sys.stdout.isatty():
        yield lambda done, total, name: click.echo(f"{done}/{total} {name}")
    else:
        shown: list[str] = []
        with click.progressbar(
            range(0),
            length=1,
            label="drawing",
            item_show_func=lambda _: shown[-1] if shown else None,
        ) as bar:

            def seen(done: int, total: int, name: str) -> None:
                shown.append(name)
                bar.length = total
                bar.update(done - bar.pos)

            yield seen


@contextmanager
def _faults(outcome: str = "nothing was written") -> Iterator[None]:
    """Turns what the stages raise into messages and exit codes; `outcome` is what came of it."""
    try:
        yield
    except Exception as error:
        from gussetry.diagnostics import Faults
        from gussetry.grading import LawBroken
        from gussetry.workers import Disagrees

        if isinstance(error, Faults):
            _show(error.problems, getattr(error, "source", None))
            number = len(error.problems)
            told = f"{number} {'error' if number == 1 else 'errors'}"
            if all(problem.code != "unfinished" for problem in error.problems):
                told += f"; {outcome}"
            _stop(WRONG, told)
        if isinstance(error, LawBroken):
            _show(error.problems, None)
            _stop(OUR_FAULT, f"Nothing was written. {SORRY}")
        if isinstance(error, Disagrees):
            _stop(OUR_FAULT, f"{error}\nNothing was written. {SORRY}")
        raise


def _show(problems: Iterable[Problem], source: SourceMap | None) -> None:
    from gussetry.diagnostics import in_order, render

    for problem in in_order(problems, source) if source else problems:
        click.echo(render(problem, source) + "\n", err=True)


def _stop(code: int, message: str) -> NoReturn:
    click.echo(message, err=True)
    sys.exit(code)


def main() -> None:
    """The program `gussetry`: runs the command line and exits with its code."""
    try:
        code = program.main(prog_name="gussetry", standalone_mode=False)
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except click.Abort:
        _stop(INTERRUPTED, "stopped")
    except Exception as error:
        click.echo(f"error: {type(error).__name__}: {error}", err=True)
        click.echo(SORRY, err=True)
        raise SystemExit(OUR_FAULT) from error
    sys.exit(code)
