"""What changed from one output folder to another, for a publisher's errata."""

from __future__ import annotations

from gussetry.errata.changes import Change, changes
from gussetry.errata.folders import Output, read_output
from gussetry.errata.telling import as_json, as_text

__all__ = ["Change", "Output", "as_json", "as_text", "changes", "read_output"]
