"""A folder's check told: to read, for machines, and as drawings with rings."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from gussetry.check.marking import ringed
from gussetry.diagnostics import Faults, Problem
from gussetry.findings import Finding, rank, report
from gussetry.findings import as_json as findings_json
from gussetry.misreadings import safe


def as_text(folder: Path, findings: Sequence[Finding]) -> str:
    """The findings to read, by file, and a line that sums up; without a last line end."""
    faults = sum(finding.fault for finding in findings)
    files = len({finding.file for finding in findings if finding.fault})
    notes = len(findings) - faults
    told = "nothing disagrees" if not faults else _number(faults, "finding")
    told += f" in {files} files" if files > 1 else ""
    told += f", {_number(notes, 'note')}" if notes else ""
    listed = report(findings)
    shown = f"{listed}\n\n{folder}: {told}" if listed else f"{folder}: {told}"
    return "\n".join(safe(line) for line in shown.split("\n"))


def _number(many: int, noun: str) -> str:
    return f"{many} {noun}{'' if many == 1 else 's'}"


def as_json(folder: Path, findings: Sequence[Finding]) -> str:
    """The findings for machines, one a line."""
    clean = not any(finding.fault for finding in findings)
    ordered = sorted(findings, key=rank)
    return findings_json({"folder": str(folder), "clean": clean}, ordered)


def write_marked(folder: Path, findings: Sequence[Finding], out: Path) -> tuple[str, ...]:
    """Copies of the drawings that have findings, their places ringed, written to a new folder;
    the names of the files.

    Raises Faults where `out` is there already, lies within what is checked, or cannot be written.
    """
    check_place(folder, out)
    written = []
    try:
        out.mkdir(parents=True)
        for name in dict.fromkeys(finding.file for finding in findings):
            if not name.endswith(".svg") or not (folder / name).is_file():
                continue
            own = [finding for finding in findings if finding.file == name]
            copy = ringed((folder / name).read_bytes(), own)
            if copy is not None:
                (out / name).parent.mkdir(parents=True, exist_ok=True)
                (out / name).write_bytes(copy)
                written.append(name)
    except FileExistsError:
        _refuse("in-the-way", f"{out} is there already")
    except OSError as error:
        _refuse("cannot-write", f"{out} cannot be written: {reason(error)}")
    return tuple(written)


def check_place(folder: Path, out: Path) -> None:
    """Raises Faults where marked copies cannot go there: it exists, or lies within the folder."""
    try:
        if folder.resolve() in (out.resolve(), *out.resolve().parents):
            _refuse("in-the-way", f"{out} lies within the folder that is checked")
        if os.path.lexists(out):
            _refuse("in-the-way", f"{out} is there already")
    except (OSError, RuntimeError, ValueError) as error:
        _refuse("cannot-write", f"{out} cannot be written: {reason(error)}")


def reason(error: Exception) -> str:
    """Why a file could not be read or written, as a part of a sentence."""
    return str(getattr(error, "strerror", None) or error).lower()


def _refuse(code: str, message: str) -> NoReturn:
    raise Faults([Problem(code, message, help="name a new folder somewhere else")])
