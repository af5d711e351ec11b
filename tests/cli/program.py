"""The program run as people run it: a process of its own, its words and its exit code."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

PROGRAM = (sys.executable, "-m", "gussetry")


def environment(spoiler: Path | None = None) -> dict[str, str]:
    """The environment of a run; `spoiler` is a folder whose `sitecustomize.py` runs first."""
    paths = [str(spoiler)] if spoiler else []
    return {**os.environ, "PYTHONPATH": os.pathsep.join([*paths, *filter(None, sys.path)])}


def gussetry(
    *arguments: str | Path, cwd: Path | None = None, spoiler: Path | None = None
) -> subprocess.CompletedProcess[str]:
    """What a run said, and its exit code. Never a traceback, whatever happens."""
    done = subprocess.run(
        [*PROGRAM, *map(str, arguments)],
        capture_output=True,
        encoding="utf-8",
        cwd=cwd,
        env=environment(spoiler),
        timeout=120,
    )
    assert "Traceback" not in done.stderr + done.stdout, done.stderr
    return done


def spoil(folder: Path, code: str) -> Path:
    """A folder that makes every process of a run execute `code` first."""
    folder.mkdir(exist_ok=True)
    (folder / "sitecustomize.py").write_text(code, encoding="utf-8")
    return folder
