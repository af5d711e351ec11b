"""A crochet manuscript read and checked: rounds, operations, counts, against itself and a map."""

from __future__ import annotations

from gussetry.findings import Finding
from gussetry.manuscripts.checking import Checked, check_against, check_text, unlike_amounts
from gussetry.manuscripts.made import ReadPiece, ReadRound, ReadSize
from gussetry.manuscripts.manuscript import Manuscript, read_manuscript
from gussetry.manuscripts.promises import Against, Needs
from gussetry.manuscripts.telling import as_json, as_text
from gussetry.manuscripts.text import MAX_BYTES

__all__ = [
    "MAX_BYTES",
    "Against",
    "Checked",
    "Finding",
    "Manuscript",
    "Needs",
    "ReadPiece",
    "ReadRound",
    "ReadSize",
    "as_json",
    "as_text",
    "check_against",
    "check_text",
    "read_manuscript",
    "unlike_amounts",
]
