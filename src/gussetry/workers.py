"""Two processes that draw: each engraves, writes, recounts and rasterises one chart at a time."""

from __future__ import annotations

import hashlib
import math
import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass, replace
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from gussetry.diagnostics import Faults, Problem
from gussetry.units import text

if TYPE_CHECKING:
    from gussetry.layout import OffPage
    from gussetry.manifest import Asset
    from gussetry.plan import Job
    from gussetry.verify import Disagreement

WORKERS = 2

_ENDED = "a process that was drawing has been ended from outside"
_MEMORY = "see whether the machine has memory left, and draw again"
_SMALLER = "ask for fewer dots an inch, or for smaller drawings, in the style sheet"

Seen = Callable[[int, int, str], None]
"""Hears of each finished drawing: how many are done, of how many, and its name."""


class Disagrees(Exception):
    """A drawing of ours shows something other than its stitch map: a fault of ours."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """What became of a job: its sheets' entries in the manifest, and what their recount found
    wrong."""

    name: str
    assets: tuple[Asset, ...]
    wrong: tuple[Disagreement, ...]


def _warm() -> bool:
    """Loads what drawing needs by drawing a dot, and says whether libcairo is there."""
    from gussetry.drawing import Drawing, Group, Path
    from gussetry.export.png import cairo_available, png_bytes
    from gussetry.export.svg import svg_bytes

    for name in ("engrave", "layout", "manifest", "verify.legibility"):
        import_module(f"gussetry.{name}")
    dot = Drawing(1, 1, "", "", (Group((Path("M0 0H1V1H0Z", fill="#000000"),)),))
    svg = svg_bytes(dot)
    return cairo_available() and bool(png_bytes(svg, dot, 96))


def _begin() -> None:
    # The main process hears of Ctrl-C and ends this one; and this one ends with the main process.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    if parent is not None:

        def follow(alive: Callable[[], None]) -> None:
            alive()
            os._exit(1)

        threading.Thread(target=follow, args=(parent.join,), daemon=True).start()


def _written(path: Path, content: bytes) -> tuple[bytes, str]:
    """What is on the disk after writing, and its sha256."""
    path.write_bytes(content)
    found = path.read_bytes()
    return found, hashlib.sha256(found).hexdigest()


def drawn(job: Job, folder: Path) -> Drawn:
    """The job's files written into the folder, then read back and recounted, all its sheets
    together. Raises OffPage where the style's column is too small for any of it."""
    from gussetry import manifest
    from gussetry.engrave import engrave
    from gussetry.export.png import cairo_available, png_bytes
    from gussetry.export.svg import svg_bytes
    from gussetry.layout import sheets
    from gussetry.verify import check_png, recount

    style = job.style
    assets: list[Asset] = []
    svgs: list[bytes] = []
    wrong: tuple[Disagreement, ...] = ()
    for number, laid_out in enumerate(sheets(job.kind, job.maps, style, job.terms, job.words), 1):
        name = sheet_name(job.name, number)
        drawing = engrave(laid_out, style)
        svg, svg_hash = _written(folder / f"{name}.svg", svg_bytes(drawing))
        png_hash = None
        if cairo_available():
            content = png_bytes(svg, drawing, style.dpi)
            png, png_hash = _written(folder / f"{name}.png", content)
            found = check_png(png, svg, style.dpi)
            wrong += tuple(replace(one, sheet=number) for one in found)
        svgs.append(svg)
        assets.append(manifest.asset(name, laid_out, style.dpi, svg_hash, png_hash))
    return Drawn(job.name, tuple(assets), recount(svgs, job.asked()) + wrong)


@dataclass(frozen=True, slots=True)
class Workers:
    """The two processes, loading while the specification is still being read."""

    pool: ProcessPoolExecutor
    warmed: tuple[Future[bool], ...]

    def cairo(self) -> bool:
        """Whether libcairo is there. Waits until a process knows."""
        return self.warmed[0].result()

    def draw(self, jobs: Sequence[Job], folder: Path, seen: Seen) -> tuple[Asset, ...]:
        """All jobs done, in the order given, sheet by sheet. Raises Disagrees if a recount found
        anything, Faults where the style's column is too small for a drawing."""
        from gussetry.layout import OffPage

        done: dict[str, Drawn] = {}
        off: dict[str, OffPage] = {}
        # The costliest first, so that no process is left with one when the other has none.
        waiting = sorted(jobs, key=lambda job: -job.cost())
        with stopping():
            coming = {self.pool.submit(drawn, job, folder): job.name for job in waiting}
            for future in as_completed(coming):
                try:
                    one = future.result()
                except OffPage as fault:
                    off[coming[future]] = fault
                    continue
                done[one.name] = one
                seen(len(done), len(jobs), one.name)
        if off:
            raise Faults(_too_small(off))
        drawings = [done[job.name] for job in jobs]
        wrong = [
            f"{sheet_name(d.name, fault.sheet)}.svg: {told(fault)}"
            for d in drawings
            for fault in d.wrong
        ]
        if wrong:
            raise Disagrees("\n".join(wrong))
        return tuple(asset for one in drawings for asset in one.assets)


@contextmanager
def stopping() -> Iterator[None]:
    """Tells as Faults what stops the processes at their work."""
    from gussetry.export.png import TooLarge

    try:
        yield
    except TooLarge as fault:
        raise Faults([Problem("too-large", str(fault), help=_SMALLER)]) from None
    except BrokenProcessPool:
        raise Faults([Problem("stopped", _ENDED, help=_MEMORY)]) from None


def sheet_name(name: str, number: int) -> str:
    """What a sheet of a drawing is called, without suffix: `M/gusset`, `M/gusset-2`."""
    return name if number == 1 else f"{name}-{number}"


def _too_small(off: Mapping[str, OffPage]) -> list[Problem]:
    """One problem for each side of the column that is too small, told of what needs most of it."""
    problems = []
    for side, short in (("width", "narrow"), ("height", "low")):
        needs = [(-fault.least, name) for name, fault in off.items() if fault.side == side]
        if not needs:
            continue
        least, name = min(needs)
        # Rounded up, so that a column made as large as this is large enough.
        wanted = text(math.ceil(-least))
        more = len(needs) - 1
        others = f", and too {short} for {more} more" if more else ""
        problems.append(
            Problem("column-too-small", f"the column is too {short} for {name}, which"
                    f" needs {wanted} mm even on several sheets{others}", ("column", side),
                    f"make the column's {side} {wanted} mm or more, or set smaller letters (text)"
                    " or a smaller least stitch")
        )  # fmt: skip
    return problems


def told(fault: Disagreement) -> str:
    """A disagreement in a line."""
    where = [fault.piece] if fault.piece else []
    if fault.round is not None:
        where.append(f"round {fault.round}")
    if fault.index is not None:
        where.append(f"entry {fault.index}")
    if fault.at is not None:
        where.append(f"at {fault.at[0]:g}, {fault.at[1]:g} mm")
    message = f"{' '.join(where)}: {fault.message}" if where else fault.message
    differs = f" (expected {fault.expected}, found {fault.found})" if fault.expected else ""
    return f"error[{fault.kind}]: {message}{differs}"


@contextmanager
def workers() -> Iterator[Workers]:
    """Two fresh processes; on the way out of a failure they are ended at once."""
    # A fresh interpreter a process behaves alike on every system, and loads while we read.
    context = multiprocessing.get_context("spawn")
    pool = ProcessPoolExecutor(WORKERS, mp_context=context, initializer=_begin)
    try:
        yield Workers(pool, tuple(pool.submit(_warm) for _ in range(WORKERS)))
    except BaseException:
        for process in multiprocessing.active_children():
            process.terminate()
        pool.shutdown(wait=True, cancel_futures=True)
        raise
    pool.shutdown()
