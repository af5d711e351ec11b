"""The text as blocks, and how they look as Markdown and as plain text."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

Form = Literal["markdown", "plain"]

WIDE = 96
"""Characters of a line of plain prose; an instruction is one line, however long."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading, `level` 1 (the title) to 3."""

    level: int
    text: str


@dataclass(frozen=True, slots=True)
class Prose:
    """A paragraph, or with `item` an entry of a list."""

    text: str
    item: bool = False


@dataclass(frozen=True, slots=True)
class Instruction:
    """What to work: its label (`Rnd 7 (8, 8)`) and its words, on one line."""

    label: str
    text: str


Block = Heading | Prose | Instruction


def rendered(blocks: Iterable[Block], form: Form) -> str:
    """The text, with a line end at its end."""
    show = _markdown if form == "markdown" else _plain
    lines: list[str] = []
    before: Block | None = None
    for block in blocks:
        if before is not None and not _close(before, block, form):
            lines.append("")
        lines += show(block)
        before = block
    return "\n".join(lines) + "\n"


def _close(one: Block, other: Block, form: Form) -> bool:
    """Whether no empty line stands between the two."""
    if isinstance(one, Prose) and isinstance(other, Prose):
        return one.item and other.item
    return form == "plain" and isinstance(one, Instruction) and isinstance(other, Instruction)


def _markdown(block: Block) -> Iterator[str]:
    match block:
        case Heading(level, text):
            yield f"{'#' * level} {escaped(text)}"
        case Prose(text, item):
            yield f"- {escaped(text)}" if item else escaped(text)
        case Instruction(label, text):
            yield f"**{escaped(label)}:** {escaped(text)}"


def _plain(block: Block) -> Iterator[str]:
    match block:
        case Heading(1, text):
            yield from (text.upper(), "=" * len(text))
        case Heading(2, text):
            yield from ("", text.upper())
        case Heading(_, text):
            yield text
        case Prose(text, item):
            first, rest = ("- ", "  ") if item else ("", "")
            yield from textwrap.wrap(text, WIDE, initial_indent=first, subsequent_indent=rest)
        case Instruction(label, text):
            yield f"{label}: {text}"


def escaped(text: str) -> str:
    """The text with what Markdown would take for its own signs made plain. Brackets stay: a
    repeat's are never followed by what would make a link of them."""
    shown = re.sub(r"([\\`*<>]|(?<![^\W_])_|_(?![^\W_]))", r"\\\1", text)
    return re.sub(r"^([#+-]|\d+[.)](?= ))", r"\\\1", shown)
