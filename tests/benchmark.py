"""Measures what the project promises of speed and size, and prints ratios of one run.

    python tests/benchmark.py [SPEC]

A measurement, not a test: it passes no judgement. `rsvg-convert` (Debian: librsvg2-bin) is the
yardstick for drawing, and is left out where it is missing; memory is measured on Linux.
"""

from __future__ import annotations

import dataclasses
import itertools
import os
import shutil
import subprocess
import sys
import tempfile
import time
from fractions import Fraction
from importlib.resources import files
from pathlib import Path
from statistics import median

PROJECT = Path(__file__).parents[1]
EXAMPLE = PROJECT / "examples" / "skerry-striped.yaml"


def seconds(*command: str) -> float:
    """Wall time of a command, which must succeed."""
    begun = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - begun


def gussetry(*arguments: str) -> tuple[str, ...]:
    """The program as its script runs it."""
    return (sys.executable, "-c", "from gussetry.cli import main; main()", *arguments)


def start_up() -> None:
    """`gussetry --help` beside the import of click alone: at most twice is promised."""
    pairs = [
        (seconds(*gussetry("--help")), seconds(sys.executable, "-c", "import click"))
        for _ in range(15)
    ]
    ours, click = (median(column) for column in zip(*pairs, strict=True))
    print(f"start-up      --help {ours * 1e3:.0f} ms, import click {click * 1e3:.0f} ms,"
          f" ratio {ours / click:.2f} (promised: at most 2)")  # fmt: skip


def drawing(spec: Path, folder: Path) -> None:
    """Everything drawn and recounted, beside rsvg-convert once per SVG: at most 1 is promised."""
    rsvg = shutil.which("rsvg-convert")
    draw = gussetry("draw", str(spec), "-o", str(folder), "-q")
    seconds(*draw)
    svgs = sorted(folder.rglob("*.svg"))
    ours, theirs = [], []
    for _ in range(3):
        ours.append(seconds(*draw))
        if rsvg:
            png = str(folder.parent / "rsvg.png")
            theirs.append(
                sum(seconds(rsvg, "-d", "300", "-p", "300", "-o", png, str(s)) for s in svgs)
            )
    print(f"drawing       {len(svgs)} drawings in {median(ours):.2f} s", end="")
    if rsvg:
        print(f", rsvg-convert {median(theirs):.2f} s,"
              f" ratio {median(ours) / median(theirs):.2f} (promised: at most 1)")  # fmt: skip
    else:
        print(" (rsvg-convert is not installed)")


def _family(root: int) -> set[int]:
    """The process and all that descend from it."""
    parents = {}
    for entry in Path("/proc").iterdir():
        if entry.name.isdigit():
            try:
                fields = (entry / "stat").read_text().rpartition(")")[2].split()
            except OSError:
                continue
            parents[int(entry.name)] = int(fields[1])
    found = {root}
    while more := {pid for pid, parent in parents.items() if parent in found} - found:
        found |= more
    return found


def _share(pid: int) -> int:
    """Proportional set size of a process, kB; 0 once it has ended."""
    try:
        lines = Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines()
    except OSError:
        return 0
    return next((int(line.split()[1]) for line in lines if line.startswith("Pss:")), 0)


def memory(spec: Path, folder: Path) -> None:
    """Peak memory over all processes, as PSS: less than 450 MB is promised."""
    if not Path("/proc/self/smaps_rollup").exists():
        print("memory        not measured: this system does not tell")
        return
    peak, most = 0, 0
    with subprocess.Popen(gussetry("draw", str(spec), "-o", str(folder), "-q")) as process:
        while process.poll() is None:
            family = _family(process.pid)
            peak = max(peak, sum(map(_share, family)))
            most = max(most, len(family))
            time.sleep(0.005)
    print(f"memory        peak {peak / 1000:.0f} MB PSS over {most} processes"
          " (promised: under 450)")  # fmt: skip


def growth() -> None:
    """Grading ten times the stitches: at most twelve times the time is promised."""
    from gussetry.grading import grade
    from gussetry.read import read_spec
    from gussetry.source import parse
    from gussetry.spec import Gauge, Spec

    def finer(gauge: Gauge, times: Fraction) -> Gauge:
        return dataclasses.replace(gauge, width=gauge.width / times, height=gauge.height / times)

    def graded(spec: Spec) -> tuple[int, float]:
        times = []
        for _ in range(5):
            begun = time.perf_counter()
            grading = grade(spec)
            times.append(time.perf_counter() - begun)
        stitches = sum(
            len(r.work) for m in grading.maps for piece in m.pieces for r in piece.rounds
        )
        return stitches, min(times)

    starter = (files("gussetry") / "starter.yaml").read_text(encoding="utf-8")
    spec = read_spec(parse(starter, "starter"))
    times = Fraction(3162, 1000)  # the root of ten: across and up
    rib = spec.cuff.gauge and finer(spec.cuff.gauge, times)
    large = dataclasses.replace(
        spec, gauge=finer(spec.gauge, times), cuff=dataclasses.replace(spec.cuff, gauge=rib)
    )
    (few, short), (many, long) = graded(spec), graded(large)
    print(f"grading       {few} stitches in {short * 1e3:.0f} ms, {many} in {long * 1e3:.0f} ms:"
          f" {many / few:.1f} times the stitches, {long / short:.1f} times the time"
          f" (promised: at most {1.2 * many / few:.1f})")  # fmt: skip


def choosing() -> None:
    """Choosing the counts of twelve sizes: under 50 ms is promised, over every construction."""
    from gussetry.grading.fit import solve
    from gussetry.spec import Cuff, Division, Gauge, Gusset, Size, Spec, Stripe, Stripes, Yarn

    rib = Gauge("sc", Fraction(100, 17), Fraction(5))
    ways = itertools.product(
        ("inside", "alternating"),
        ("join", "chain", "none"),
        (Cuff(gauge=rib), Cuff(style="round"), Cuff(style="none")),
        (1, 2),
        (18, 28),
    )
    times = []
    for growth_, bridge, cuff, every, stitches in ways:
        spec = Spec(
            pattern="Made up",
            gauge=Gauge("sc", Fraction(100, stitches), Fraction(100, stitches + 2)),
            yarns=(Yarn("A", "oat", "#ddccaa"),),
            sizes=tuple(Size(f"S{n}", Fraction(1800 + 100 * n, 12)) for n in range(12)),
            stripes=Stripes((Stripe("A", 1),)),
            cuff=cuff,
            gusset=Gusset(growth_, every),
            division=Division(bridge),
        )
        own = []
        for _ in range(3):
            begun = time.perf_counter()
            assert solve(spec)
            own.append(time.perf_counter() - begun)
        times.append(min(own))
    print(f"choosing      twelve sizes, {len(times)} constructions:"
          f" {min(times) * 1e3:.0f} to {max(times) * 1e3:.0f} ms (promised: under 50)")  # fmt: skip


def legibility() -> None:
    """Measuring what can be read, beside all else that a drawing takes: under a quarter is
    promised."""
    from gussetry.engrave import engrave
    from gussetry.export.png import png_bytes
    from gussetry.export.svg import svg_bytes
    from gussetry.layout import sheets
    from gussetry.pipeline import graded
    from gussetry.plan import plan
    from gussetry.style import load_style
    from gussetry.verify import legibility as legible
    from gussetry.verify import recount
    from gussetry.verify.reading import read

    work = graded(EXAMPLE)
    times = {"drawing": 0.0, "legibility": 0.0}
    # The first pass warms fonts and letters up, and is not counted.
    for counted in (False, True):
        for job in plan(work.spec, work.grading, load_style()).jobs:
            asked = job.asked()
            begun = time.process_time()
            for one in sheets(job.kind, job.maps, job.style, job.terms, job.words):
                drawing = engrave(one, job.style)
                svg = svg_bytes(drawing)
                png_bytes(svg, drawing, job.style.dpi)
                recount(svg, dataclasses.replace(asked, limits=None))
                page = read(svg)
                times["drawing"] += counted * (time.process_time() - begun)
                begun = time.process_time()
                assert not legible.legibility(page, asked.limits)
                times["legibility"] += counted * (time.process_time() - begun)
                begun = time.process_time()
    measured, drawn = times["legibility"], times["drawing"]
    print(f"legibility    {measured * 1e3:.0f} ms beside {drawn * 1e3:.0f} ms of drawing,"
          f" {measured / drawn:.0%} (promised: under 25%)")  # fmt: skip


def main() -> None:
    """Prints every figure."""
    spec = Path(sys.argv[1]) if len(sys.argv) > 1 else EXAMPLE
    # An installed program has its modules compiled; so has this one, after its first run.
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    print(f"python {sys.version.split()[0]}, {os.cpu_count()} cores, {spec.name}")
    start_up()
    growth()
    choosing()
    legibility()
    with tempfile.TemporaryDirectory() as work:
        drawing(spec, Path(work) / "out")
        memory(spec, Path(work) / "out")


if __name__ == "__main__":
    main()
