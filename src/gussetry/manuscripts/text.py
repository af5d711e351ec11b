"""The manuscript as text: bytes decoded, places found again by line and column."""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass
from typing import NamedTuple

MAX_BYTES = 256 * 1024
"""Longest manuscript that is read: about 50,000 words, many times a book of mittens."""

_LINE_END = re.compile("\r\n|[\r\n]")
_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")


class Spot(NamedTuple):
    """A stretch of the text: where it starts and how many characters it has."""

    start: int
    length: int = 1


@dataclass(frozen=True, slots=True)
class Text:
    """A manuscript's text with line ends as `\\n`, and where each of its lines starts."""

    name: str
    content: str
    starts: tuple[int, ...]

    def place(self, spot: Spot) -> tuple[int, int]:
        """Line and column of a spot, both from 1."""
        line = bisect_right(self.starts, spot.start)
        return line, spot.start - self.starts[line - 1] + 1

    def line(self, number: int) -> str:
        """The text of a line, counted from 1, without its end."""
        if not 0 < number <= len(self.starts):
            return ""
        start = self.starts[number - 1]
        end = self.starts[number] - 1 if number < len(self.starts) else len(self.content)
        return self.content[start:end]


class Undecoded(Exception):
    """The bytes are no text that is read: what is wrong, where, and what would mend it."""

    def __init__(self, code: str, message: str, line: int, column: int, remedy: str) -> None:
        self.code, self.message, self.line, self.column = code, message, line, column
        self.remedy = remedy
        super().__init__(message)


def text_of(content: str | bytes, name: str) -> Text:
    """The text of a manuscript. Raises Undecoded where it is too long or no UTF-8 text."""
    size = len(content) if isinstance(content, bytes) else len(content.encode("utf-8", "replace"))
    if size > MAX_BYTES:
        raise Undecoded(
            "too-long",
            f"the file is longer than {MAX_BYTES // 1024} KiB, so it is no pattern",
            1,
            1,
            "check one pattern at a time",
        )
    if isinstance(content, str):
        plain = content
    else:
        try:
            plain = content.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            line, column = _place(content[: error.start].decode("utf-8", "replace"))
            raise Undecoded(
                "encoding",
                f"the byte 0x{content[error.start]:02x} is no UTF-8, so the file is not plain text",
                line,
                column,
                "save the manuscript as plain text in UTF-8",
            ) from None
    wrong = _UNPRINTABLE.search(plain)
    if wrong:
        line, column = _place(plain[: wrong.start()])
        raise Undecoded(
            "encoding",
            f"the character U+{ord(wrong.group()):04X} stands in no plain text",
            line,
            column,
            "save the manuscript as plain text in UTF-8",
        )
    plain = _LINE_END.sub("\n", plain.removeprefix("\ufeff"))
    starts = [0, *(found.end() for found in re.finditer("\n", plain))]
    return Text(name, plain, tuple(starts))


def _place(before: str) -> tuple[int, int]:
    lines = _LINE_END.split(before)
    return len(lines), len(lines[-1]) + 1
