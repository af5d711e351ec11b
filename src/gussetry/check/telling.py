"""A folder's check told: to read, for machines, and as drawings with rings."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

from gussetry.check.marking import ringed
from gussetry.diagnostics import Faults, Problem
from gussetry.findings import Finding, as_entry, report


def as_text(folder: Path, findings: Sequence[Finding]) -> str:
    """The findings to read, by file, and a line that sums up; without a last line end."""
    faults = sum(finding.fault for finding in findings)
    notes = len(findings) - faults
    told = "nothing disagrees" if not faults else f"{faults} finding{'' if faults == 1 else 's'}"
    told += f", {notes} note{'' if notes == 1 else 's'}" if notes else ""
    listed = report(findings)
    return f"{listed}\n\n{folder}: {told}" if listed else f"{folder}: {told}"


def as_json(folder: Path, findings: Sequence[Finding]) -> str:
    """The findings for machines, one a line."""
    clean = not any(finding.fault for finding in findings)
    head = json.dumps(
        {"format": "gussetry-check", "version": 1, "folder": str(folder), "clean": clean},
        ensure_ascii=False,
    )
    lines = ",\n".join("  " + json.dumps(as_entry(one), ensure_ascii=False) for one in findings)
    shown = f"\n{lines}" if lines else ""
    return f'{head[:-1]},\n "findings": [{shown}]}}'


def write_marked(folder: Path, findings: Sequence[Finding], out: Path) -> tuple[str, ...]:
    """Copies of the drawings that have findings, their places ringed, written to a new folder;
    the names of the files.

    Raises Faults where `out` is there already, lies within what is checked, or cannot be written.
    """
    if out.resolve() == folder.resolve() or folder.resolve() in out.resolve().parents:
        _refuse("in-the-way", f"{out} lies within the folder that is checked")
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
        _refuse(
            "cannot-write", f"{out} cannot be written: {(error.strerror or str(error)).lower()}"
        )
    return tuple(written)


def _refuse(code: str, message: str) -> None:
    raise Faults([Problem(code, message, help="name a new folder somewhere else")])
