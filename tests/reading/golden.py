"""Goldens: a text compared with the one that is kept beside the case."""

from __future__ import annotations

import difflib
import os
from pathlib import Path

import pytest

REFRESH = "GUSSETRY_REFRESH"
"""Set this to write the goldens anew; refused where CI is set."""


def compare(text: str, kept: Path) -> None:
    """Fails where the text differs from the kept one; leaves the new one beside it, and a diff."""
    if os.environ.get(REFRESH):
        assert not os.environ.get("CI"), f"{REFRESH} is refused where CI is set"
        kept.write_text(text, encoding="utf-8")
    new = kept.with_suffix(kept.suffix + ".new")
    old = kept.read_text(encoding="utf-8") if kept.exists() else ""
    if text == old:
        new.unlink(missing_ok=True)
        return
    new.write_text(text, encoding="utf-8")
    diff = difflib.unified_diff(old.splitlines(), text.splitlines(), kept.name, new.name, "", "")
    pytest.fail("\n".join([*diff, f"{REFRESH}=1 keeps the new text"]), pytrace=False)
