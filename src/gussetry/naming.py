"""Folder names for the names that a designer gives her sizes."""

from __future__ import annotations

import re
import unicodedata

MAX_LENGTH = 60
"""Longest folder name, in characters."""

RESERVED = frozenset(
    ["shared", "pages", "con", "prn", "aux", "nul"]
    + [f"{port}{digit}" for port in ("com", "lpt") for digit in range(10)]
)
"""Names taken: by the output folder itself, and by devices on Windows (from memory)."""


def slug(name: str) -> str:
    """A folder name for a size: ASCII letters, digits and single dashes, 1 to 60 of them.

    Letters lose their accents; a letter without a Latin counterpart becomes `u` and its code
    point, so that two sizes named in another script stay apart. Upper and lower case stay as
    they are: compare with `str.casefold`, since some file systems do not tell them apart.
    """
    latin = unicodedata.normalize("NFKD", name.replace("ß", "ss"))
    parts = [_ascii(character) for character in latin]
    shown = re.sub(r"-+", "-", "".join(parts)).strip("-")[:MAX_LENGTH].rstrip("-")
    if not shown:
        return "size"
    if shown.casefold() in RESERVED:
        return f"{shown}-size"
    return shown


def _ascii(character: str) -> str:
    if character.isascii():
        return character if character.isalnum() else "-"
    if unicodedata.combining(character):
        return ""
    if character.isalnum():
        return f"u{ord(character):04x}"
    return "-"
