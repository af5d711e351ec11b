"""What the commands tell: progress, faults with their exit codes, and what ends a run."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, NoReturn

import click

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

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


@contextmanager
def progress(quiet: bool) -> Iterator[Callable[[int, int, str], None]]:
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
def faults(outcome: str = "nothing was written") -> Iterator[None]:
    """Turns what the stages raise into messages and exit codes; `outcome` is what came of it."""
    try:
        yield
    except Exception as error:
        from gussetry.diagnostics import Faults
        from gussetry.grading import LawBroken
        from gussetry.workers import Disagrees

        if isinstance(error, Faults):
            show(error.problems, getattr(error, "source", None))
            number = len(error.problems)
            told = f"{number} {'error' if number == 1 else 'errors'}"
            if all(problem.code != "unfinished" for problem in error.problems):
                told += f"; {outcome}"
            stop(WRONG, told)
        if isinstance(error, LawBroken):
            show(error.problems, None)
            stop(OUR_FAULT, f"Nothing was written. {SORRY}")
        if isinstance(error, Disagrees):
            stop(OUR_FAULT, f"{error}\nNothing was written. {SORRY}")
        raise


def write(file: Path, text: str, *, anew: bool = False) -> None:
    """Writes a text file; `anew`: never over one that is there, else what was there stays until all
    is written. Faults where it cannot be."""
    from gussetry.diagnostics import Faults, Problem

    beside: Path | None = None
    try:
        if not anew and file.is_file():
            # Only what may be written to is replaced. A pipe or a terminal is written as it stands.
            file.open("r+").close()
            beside = file.resolve().with_name(f".{file.name}.part")
        with (beside or file).open("x" if anew else "w", encoding="utf-8", newline="\n") as written:
            written.write(text)
        if beside:
            beside.replace(file.resolve())
    except FileExistsError:
        remedy = "name another file, or move it away"
        raise Faults([Problem("in-the-way", f"{file} is there already", help=remedy)]) from None
    except (OSError, ValueError) as error:
        if beside:
            beside.unlink(missing_ok=True)
        reason = getattr(error, "strerror", None) or str(error)
        message = f"{file} cannot be written: {reason.lower()}"
        remedy = "name a file in a folder that is there and that you may write"
        raise Faults([Problem("cannot-write", message, help=remedy)]) from None


def show(problems: Iterable[Problem], source: SourceMap | None) -> None:
    from gussetry.diagnostics import in_order, render

    for problem in in_order(problems, source) if source else problems:
        click.echo(render(problem, source) + "\n", err=True)


def stop(code: int, message: str) -> NoReturn:
    click.echo(message, err=True)
    sys.exit(code)
