"""The command line. The only package that prints; what is slow is imported where it is used."""

from __future__ import annotations

import sys

import click

from gussetry import __version__
from gussetry.cli.checking import check, compare
from gussetry.cli.drawing import draw, key, pages
from gussetry.cli.figures import counts, fit, words, yarn
from gussetry.cli.starting import new, schema
from gussetry.cli.telling import INTERRUPTED, OUR_FAULT, SORRY, stop

__all__ = ["main", "program"]


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, message="gussetry %(version)s")
def program() -> None:
    """Grades crocheted mittens and draws their charts, in every size."""


for _command in (new, draw, pages, key, counts, yarn, fit, words, compare, check, schema):
    program.add_command(_command)


def main() -> None:
    """The program `gussetry`: runs the command line and exits with its code."""
    try:
        code = program.main(prog_name="gussetry", standalone_mode=False)
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except click.Abort:
        stop(INTERRUPTED, "stopped")
    except Exception as error:
        click.echo(f"error: {type(error).__name__}: {error}", err=True)
        click.echo(SORRY, err=True)
        raise SystemExit(OUR_FAULT) from error
    sys.exit(code)
