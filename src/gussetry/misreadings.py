"""Our own words for what can be wrong with the YAML itself, each with its remedy."""

from __future__ import annotations

import re
from collections.abc import Sequence

from gussetry.diagnostics import Problem, Span

_UNSAFE_TO_SHOW = re.compile(
    "[\x00-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069\ud800-\udfff]"
)
_BARE_COLOUR = re.compile(r":\s+(#[0-9a-fA-F]{3,6})\b")
_WRONG_ESCAPE = re.compile(r"\\U(?!0010|000)[0-9a-fA-F]{8}")

TAB = "use blanks instead of tabs"

REMEDIES = {
    "alias": "write the text itself out here",
    "anchor": "leave the anchor out, and write the text out wherever it is wanted",
    "tag": "leave the tag out, or put the text in quotes if the ! belongs to it",
    "merge-key": "write the keys out that it would bring in",
    "duplicate-key": "keep one of the two",
    "directive": "leave out the line that begins with %",
    "second-document": "one file holds one document: leave out this line and what follows",
    "too-deep": "nothing here needs so many levels: look for brackets that are not closed",
    "escape": "write plain text; a line break may stand in a text, other controls may not",
    "key": "write a word or two, then a colon",
}
"""What mends each thing that is YAML, but refused here."""

_MISREADINGS = (
    (
        "found character '\\t'",
        "a tab stands here",
        TAB,
    ),
    (
        "that cannot start any token",
        "a text cannot begin with this character",
        "put the text in quotes",
    ),
    (
        "mapping values are not allowed here",
        "a second colon stands in this line, or the line is indented too far",
        "put a text that holds a colon in quotes, or line the key up with the keys of its group",
    ),
    (
        "could not find expected ':'",
        "a key without a colon stands here",
        "write a colon and a blank after the key",
    ),
    (
        "found unexpected end of stream",
        "a quote that is opened here is never closed",
        "close it, or leave it out",
    ),
    (
        "expected ',' or",
        "a comma or a closing bracket is missing before this",
        "put a comma between the parts, and close every bracket",
    ),
    (
        "expected <block end>",
        "this line is not lined up with its group",
        "indent it like the lines of its group",
    ),
    (
        "expected the node content",
        "a value is missing here",
        "write the value, or leave out the comma or bracket",
    ),
    (
        "found unknown escape character",
        "an unknown escape stands in double quotes",
        "write \\\\ for a backslash, or use single quotes",
    ),
    (
        "found incompatible YAML document",
        "a YAML directive stands here",
        "leave out the line that begins with %",
    ),
    (
        "found undefined tag handle",
        "a tag (a word that begins with !) stands here",
        "leave the tag out, or put the text in quotes if the ! belongs to it",
    ),
)
"""What PyYAML says (any part of it), what we say, and the remedy."""


def misread(said: str, at: Span | None, begun: Span | None, lines: Sequence[str]) -> Problem:
    """What a YAML scanner or parser `said`, in our words: it came to light `at` a place of the
    text, in something that was `begun` before."""
    if at and begun:
        bare = _bare_colour(lines[begun.line - 1 : at.line], begun.line)
        if bare:
            return bare
    if begun and ("unexpected end of stream" in said or "expected ':'" in said):
        # Where the quote is opened or the key stands, not where that came to light.
        at = begun
    for part, message, remedy in _MISREADINGS:
        if part in said:
            code = "tab" if "tab" in message else "not-yaml"
            return Problem(code, message, help=remedy, span=at)
    return Problem("not-yaml", f"this cannot be read as YAML: {said}", help="", span=at)


def _bare_colour(lines: Sequence[str], first: int) -> Problem | None:
    # A bare colour in brackets hides the closing bracket behind it.
    for number, line in enumerate(lines, first):
        found = _BARE_COLOUR.search(line)
        if found:
            span = Span(number, found.start(1) + 1, len(found.group(1)))
            remedy = f'put it in quotes: "{found.group(1)}"'
            return Problem("no-value", "what follows the # is a comment", (), remedy, span=span)
    return None


def no_character(lines: Sequence[str]) -> Problem:
    """An escape that names no character, at its place in the text."""
    found = ((number, _WRONG_ESCAPE.search(line)) for number, line in enumerate(lines, 1))
    span = next((Span(n, at.start() + 1, len(at.group())) for n, at in found if at), None)
    message = "an escape in double quotes names no character"
    return Problem("not-yaml", message, help="write the character itself", span=span)


def safe(text: str) -> str:
    """The text with whatever could disturb a terminal replaced, as long as before."""
    return _UNSAFE_TO_SHOW.sub("\ufffd", text)


def clipped(text: str, length: int = 40) -> str:
    """The text in quotes, as far as it can be shown in a message."""
    shown = safe(text)
    return f"'{shown}'" if len(shown) <= length else f"'{shown[: length - 1]}…'"


def unopened(error: OSError | ValueError) -> Problem:
    """Why a file could not be opened."""
    if isinstance(error, FileNotFoundError):
        return Problem("no-file", "there is no such file", help="check the name and the folder")
    if isinstance(error, IsADirectoryError):
        return Problem("no-file", "this is a folder, not a file", help="name a file in it")
    if isinstance(error, PermissionError):
        return Problem("no-file", "it may not be read", help="check its permissions")
    reason = error.strerror if isinstance(error, OSError) else str(error)
    return Problem("no-file", f"the file cannot be read: {reason or 'unknown reason'}")
