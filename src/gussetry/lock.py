"""A lock that ends with the process that holds it, however that ends."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

if sys.platform == "win32":
    import msvcrt

    def _take(file: int) -> None:
        msvcrt.locking(file, msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _take(file: int) -> None:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)


@contextmanager
def locked(path: Path) -> Iterator[bool]:
    """Whether the lock file is ours for now; it is made and, if it was ours, removed again.

    Raises OSError if the file cannot be made.
    """
    # A link that somebody laid there must not make a file elsewhere.
    file = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o644)
    free = _ours(file, path)
    try:
        yield free
    finally:
        if free:
            with suppress(OSError):
                path.unlink()
        os.close(file)
        if free and sys.platform == "win32":
            # An open file cannot be removed there.
            with suppress(OSError):
                path.unlink()


def _ours(file: int, path: Path) -> bool:
    try:
        _take(file)
        # The run before may have removed the file between our opening and locking it.
        return os.path.samestat(os.fstat(file), path.stat())
    except OSError:
        return False
