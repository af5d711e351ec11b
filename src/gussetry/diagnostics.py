"""Problems and how they are shown: what is wrong, where, and what would mend it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, NamedTuple, Protocol

Where = tuple[str | int, ...]
"""Where in a specification a thing stands: keys and list positions from the top."""

Severity = Literal["error", "warning"]


class Span(NamedTuple):
    """A stretch of one source line. Lines and columns count from 1."""

    line: int
    column: int
    length: int = 1


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong.

    `code` is a short name in plain words, `path` the place in the specification,
    `span` the place in the text where it is known already (a scanner's error has
    no path), `help` what would mend it.
    """

    code: str
    message: str
    path: Where = ()
    help: str = ""
    severity: Severity = "error"
    span: Span | None = None


class Faults(Exception):
    """Raised once by a stage with every problem it found."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("; ".join(p.message for p in self.problems))


class SourceMap(Protocol):
    """What can say where a path stands in a text."""

    @property
    def name(self) -> str:
        """What the text is called in messages."""

    def locate(self, path: Where) -> Span | None:
        """The span of the deepest part of `path` that the text has."""

    def line(self, number: int) -> str:
        """The text of a line, counted from 1, without its end."""


def path_text(path: Where) -> str:
    """A path as a reader writes it: `stripes[2].A`."""
    shown = ""
    for part in path:
        if isinstance(part, int):
            shown += f"[{part}]"
        else:
            shown += f".{part}" if shown else part
    return shown


def in_order(problems: Iterable[Problem], source: SourceMap) -> tuple[Problem, ...]:
    """The problems in the order in which they stand in the file, each once."""

    def key(problem: Problem) -> tuple[int, int]:
        span = problem.span or source.locate(problem.path)
        return (span.line, span.column) if span else (0, 0)

    return tuple(sorted(dict.fromkeys(problems), key=key))


def render(problem: Problem, source: SourceMap | None = None) -> str:
    """The problem as text for a terminal, with the line it stands in."""
    head = f"{problem.severity}[{problem.code}]: {problem.message}"
    rows = [head]
    span = problem.span or (source.locate(problem.path) if source else None)
    if source is not None:
        where = f"{source.name}:{span.line}:{span.column}" if span else source.name
        path = f" ({path_text(problem.path)})" if problem.path else ""
        rows.append(f" --> {where}{path}")
        if span:
            gutter = " " * len(str(span.line))
            shown = source.line(span.line)
            if len(shown) > 160:
                shown = shown[:160] + "…"
            rows.append(f" {gutter} |")
            rows.append(f" {span.line} | {shown}")
            if span.column <= len(shown) + 1:
                width = max(1, min(span.length, len(shown) + 1 - span.column))
                rows.append(f" {gutter} | {' ' * (span.column - 1)}{'^' * width}")
    if problem.help:
        rows.append(f"   = help: {problem.help}")
    return "\n".join(rows)
