"""The output folder: changed as a whole or not at all.

Everything is written in the hidden folder `WORK` inside it first. Then the mark `MARK` is set,
which lists the files of the former run and of this one; the files are renamed into place,
`manifest.json` last; and the mark is removed. A run that finds a mark left behind mends what it
lists. Only files that a former manifest or a mark names are ever replaced or removed, and nothing
outside the folder is ever written: whatever those two files say is checked like a stranger's word.
"""

from __future__ import annotations

import errno
import hashlib
import json
import os
import shutil
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from gussetry.diagnostics import Faults, Problem
from gussetry.lock import locked

WORK = ".gussetry-work"
MARK = ".gussetry-unfinished"
MANIFEST = "manifest.json"

MANIFEST_FORMAT = "gussetry-manifest"

_MARK_FORMAT = "gussetry-unfinished"
_MAX_LIST = 16 * 1024 * 1024
_SUFFIXES = (".svg", ".png", ".pdf", ".json", ".csv", ".md")

Hashes = dict[str, frozenset[str]]
"""Files by name, and the sha256 that each may have as it was written."""


class FolderFaults(Faults):
    """The output folder cannot be written."""


@dataclass(frozen=True, slots=True)
class Placed:
    """What became of the folder: files of a former run that went, and those kept as changed."""

    removed: tuple[str, ...]
    kept: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Staging:
    """The hidden folder `work` in which a run writes before anything of `folder` changes."""

    folder: Path
    work: Path
    names: list[str] = field(default_factory=list)

    def path(self, name: str) -> Path:
        """Where a file of the run is written for now; its folder exists. Each name once."""
        if not _plain(name):
            raise FolderFaults([Problem("bad-name", f"{name!r} is no name for a file here")])
        if name.casefold() in (known.casefold() for known in self.names):
            raise FolderFaults([Problem("same-name", f"two files would be called {name}")])
        self.names.append(name)
        path = self.work / name
        path.parent.mkdir(exist_ok=True)
        return path

    def write(self, name: str, content: str | bytes) -> str:
        """Writes a file and returns its sha256."""
        data = content.encode() if isinstance(content, str) else content
        self.path(name).write_bytes(data)
        return hashlib.sha256(data).hexdigest()

    def place(self, manifest: str) -> Placed:
        """Renames everything into place, the manifest last, and removes what is left of before."""
        former = _merged(_listed(self.folder / MANIFEST), _listed(self.folder / MARK))
        _refuse_strangers(self.folder, self.names, former)
        coming = {n: frozenset((_sha256(self.work / n),)) for n in self.names}
        known = _merged(former, coming)
        mark = {"format": _MARK_FORMAT, "files": {n: sorted(h) for n, h in sorted(known.items())}}
        (self.work / MANIFEST).write_text(manifest, encoding="utf-8", newline="\n")
        (self.work / MARK).write_text(json.dumps(mark, indent=1) + "\n", encoding="utf-8")
        (self.work / MARK).replace(self.folder / MARK)
        for name in self.names:
            (self.folder / name).parent.mkdir(exist_ok=True)
            (self.work / name).replace(self.folder / name)
        placed = _cleared(self.folder, former, self.names)
        (self.work / MANIFEST).replace(self.folder / MANIFEST)
        (self.folder / MARK).unlink()
        return placed


@contextmanager
def staging(folder: Path) -> Iterator[Staging]:
    """The folder, made if need be, ready to be written by this run alone.

    Raises FolderFaults, with the folder as it was, if it cannot be written or another run is
    writing it. Whatever goes wrong inside the `with` before `place`, the folder is as before.
    """
    made = [p for p in (folder, *folder.parents) if not os.path.lexists(p)]
    done = False
    try:
        folder.mkdir(parents=True, exist_ok=True)
        # A manifest that is not ours is found before anything is drawn.
        _listed(folder / MANIFEST)
        with _work(folder) as work:
            yield Staging(folder, work)
        done = True
    except BrokenPipeError:
        # Whoever watched the progress has gone; the folder is not to blame.
        raise
    except OSError as error:
        raise FolderFaults([_told(error, folder)]) from error
    finally:
        if not done:
            for path in made:
                with suppress(OSError):
                    path.rmdir()


@contextmanager
def _work(folder: Path) -> Iterator[Path]:
    hidden = folder / WORK
    if hidden.is_symlink():
        raise FolderFaults([Problem("in-the-way", f"{hidden} is a link", help="remove it")])
    hidden.mkdir(exist_ok=True)
    try:
        with locked(hidden / "lock") as free:
            if not free:
                problem = Problem(
                    "busy",
                    f"another run is writing {folder}",
                    help="wait until it has ended, or name another folder",
                )
                raise FolderFaults([problem])
            yield from _emptied(hidden / "files")
    finally:
        with suppress(OSError):
            hidden.rmdir()


def _emptied(work: Path) -> Iterator[Path]:
    if work.exists():
        shutil.rmtree(work)
    work.mkdir()
    try:
        yield work
    finally:
        shutil.rmtree(work, ignore_errors=True)


def _plain(name: str) -> bool:
    """Whether a name, perhaps a stranger's, stays inside: `file` or `folder/file` of our kinds."""
    path = PurePosixPath(name)
    return (
        name == str(path)
        and not any(character in name for character in '\\:\0\n"*?<>|')
        and 1 <= len(path.parts) <= 2
        and not any(part.startswith(".") or part != part.rstrip(". ") for part in path.parts)
        and not path.is_absolute()
        and path.suffix in _SUFFIXES
        and name.casefold() != MANIFEST
    )


def _listed(path: Path) -> Hashes:
    """The files that a manifest or a mark names, as far as they can be ours; {} if there is none.

    Raises FolderFaults if the file is there and is not one of ours.
    """
    if not os.path.lexists(path):
        return {}
    try:
        if not path.is_file():
            raise ValueError
        with path.open("rb") as file:
            found = dict(_entries(json.loads(file.read(_MAX_LIST))))
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        raise FolderFaults(
            [
                Problem(
                    "in-the-way",
                    f"{path} was not written by gussetry, or was changed since",
                    help="move it away, or name another folder",
                )
            ]
        ) from None
    return found


def _entries(data: dict[str, object]) -> Iterator[tuple[str, frozenset[str]]]:
    if data["format"] == _MARK_FORMAT:
        files = data["files"]
        if not isinstance(files, dict):
            raise TypeError
        pairs = [(name, frozenset(map(str, hashes))) for name, hashes in files.items()]
    elif data["format"] == MANIFEST_FORMAT:
        assets = data["assets"]
        if not isinstance(assets, list):
            raise TypeError
        each = [*assets, *(asset["png"] for asset in assets if asset.get("png"))]
        pairs = [(entry["file"], frozenset((str(entry["sha256"]),))) for entry in each]
    else:
        raise ValueError
    yield from ((name, hashes) for name, hashes in pairs if isinstance(name, str) and _plain(name))


def _merged(one: Hashes, other: Hashes) -> Hashes:
    empty: frozenset[str] = frozenset()
    return {n: one.get(n, empty) | other.get(n, empty) for n in {**one, **other}}


def _refuse_strangers(folder: Path, names: list[str], former: Hashes) -> None:
    """Raises FolderFaults if a file would replace something that is not a former run's file."""
    problems = []
    ours = _identities(folder, former)
    for name in names:
        path = folder / name
        parent = path.parent
        known = bool(_identities(folder, (name,)) & ours)
        if parent.is_symlink() or (parent.exists() and not parent.is_dir()):
            stranger = parent
        elif path.is_symlink() or (path.exists() and not (known and path.is_file())):
            stranger = path
        else:
            continue
        problems.append(
            Problem(
                "in-the-way",
                f"{stranger} is in the way, and no manifest says that gussetry wrote it",
                help="move it away, or name another folder",
            )
        )
    if problems:
        raise FolderFaults(dict.fromkeys(problems))


def _identities(folder: Path, names: Iterable[str]) -> frozenset[tuple[int, int]]:
    """Which files on the disk the names mean: on some file systems `m/` and `M/` are one folder."""
    found = set()
    for name in names:
        with suppress(FileNotFoundError, NotADirectoryError):
            status = (folder / name).lstat()
            found.add((status.st_dev, status.st_ino))
    return frozenset(found)


def _cleared(folder: Path, former: Hashes, names: Sequence[str]) -> Placed:
    """Removes what former runs wrote and this one did not, save what somebody has changed since."""
    removed, kept = [], []
    now = _identities(folder, names)
    for name, hashes in former.items():
        path = folder / name
        if path.parent.is_symlink() or path.is_symlink() or not path.is_file():
            continue
        if _identities(folder, (name,)) <= now:
            continue
        if _sha256(path) not in hashes:
            kept.append(name)
            continue
        path.unlink()
        removed.append(name)
        if path.parent != folder:
            with suppress(OSError):
                path.parent.rmdir()
    return Placed(tuple(sorted(removed)), tuple(sorted(kept)))


def _sha256(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


_REMEDIES = {
    errno.ENOSPC: "make room on the disk, or name a folder on another",
    errno.EDQUOT: "make room on the disk, or name a folder on another",
    errno.EROFS: "name a folder that can be written",
    errno.EACCES: "name a folder that you may write",
    errno.EPERM: "name a folder that you may write",
    errno.EEXIST: "name a folder, not a file",
    errno.ENOTDIR: "name a folder, not a file",
    errno.ENAMETOOLONG: "name a folder with a shorter path",
}


def _told(error: OSError, folder: Path) -> Problem:
    reason = (error.strerror or str(error)).lower()
    if error.errno in (errno.EEXIST, errno.ENOTDIR):
        reason = "a file of that name is in the way"
    code = "cannot-write"
    if os.path.lexists(folder / MARK):
        code = "unfinished"
        reason += "; it is unfinished until a run has mended it"
    return Problem(
        code,
        f"{folder} cannot be written: {reason}",
        help=_REMEDIES.get(error.errno or 0, "") or "name another folder",
    )
