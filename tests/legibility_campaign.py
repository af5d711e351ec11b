"""Measures the legibility of every drawing of many made-up specifications, in every style.

    python tests/legibility_campaign.py [N] [SEED] [FOLDER]

N specifications of the tests' own strategies (100 unless said, from SEED on), in styles as sheets
of one's own may change them, and all examples in the styles as they come; two processes. Prints
what is found as it is found, then by kind, how often, and the specifications that give it; the
first drawing of each kind is written to FOLDER. The exit code is 1 where anything is found.
"""

from __future__ import annotations

import multiprocessing
import random
import re
import sys
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from grading.strategies import specs, unpinned_specs
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from gussetry.diagnostics import Faults
from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.grading import Grading, graded_sizes
from gussetry.grading.fit import solve
from gussetry.layout import OffPage, sheets
from gussetry.pipeline import graded
from gussetry.plan import Job, plan
from gussetry.spec import Spec
from gussetry.style import Style, load_style, names
from gussetry.verify.findings import Disagreement
from gussetry.verify.legibility import Limits, legibility

MADE_UP = "made up"
EXAMPLES = sorted((Path(__file__).parents[1] / "examples").glob("*.yaml"))


@dataclass(frozen=True, slots=True)
class Found:
    """A finding, with the specification, style and drawing that give it; the drawing's bytes with
    the first of its kind."""

    spec: str
    style: str
    drawing: str
    finding: Disagreement
    svg: bytes


@dataclass(frozen=True, slots=True)
class Tried:
    """What became of a specification: its findings, and how many drawings were measured, how many
    do not fit their style's column, and the seconds that drawing and measuring took."""

    findings: tuple[Found, ...]
    drawings: int
    off_page: int
    drawing: float
    measuring: float


def made_up(many: int, first: int) -> list[Spec]:
    """So many specifications that can be graded, one in four pinned, in colours of all kinds."""
    found: list[Spec] = []

    @seed(first)
    @settings(max_examples=6 * many + 20, database=None, phases=[Phase.generate], deadline=None,
              suppress_health_check=list(HealthCheck))  # fmt: skip
    @given(st.one_of(unpinned_specs(), unpinned_specs(), unpinned_specs(), specs()))
    def gather(spec: Spec) -> None:
        if len(found) < many and spec not in found and _workable(spec):
            found.append(spec)

    gather()
    return [_coloured(spec, random.Random(first + n)) for n, spec in enumerate(found)]


def _workable(spec: Spec) -> bool:
    """Whether it can be graded, without asking what would make it so, which takes long."""
    if solve(spec) is None:
        return False
    try:
        graded_sizes(spec)
    except Faults:
        return False
    return True


def _coloured(spec: Spec, chance: random.Random) -> Spec:
    """The specification in yarns of any colours, some alike, and in the terms of either reader."""
    yarns = tuple(replace(yarn, colour=f"#{chance.randrange(1 << 24):06x}") for yarn in spec.yarns)
    return replace(spec, yarns=yarns, terms=chance.choice(("US", "US", "UK")))


def drawn(job: Job) -> Iterator[bytes]:
    """The drawing's sheets."""
    for laid_out in sheets(job.kind, job.maps, job.style, job.terms, job.words):
        yield svg_bytes(engrave(laid_out, job.style))


def _varied(style: Style, chance: random.Random) -> Style:
    """The style as somebody's own sheet may change it."""
    pick = chance.choice
    return replace(
        style,
        width=style.width * pick((1.0, 1.0, 0.85)),
        hand=pick(("right", "right", "left", "both")),
        sizes=pick(("apart", "apart", "together", "both")),
        schematic=pick(("outline", "stripes")),
        tick_boxes=pick((False, True)),
        numerals=pick(("plain", "slashed")),
    )


def measured(svg: bytes, spec: str, drawing: str, style: Style) -> Iterator[Found]:
    """What is found in a drawing."""
    kinds: set[str] = set()
    for one in legibility(svg, Limits(text=style.least_text, stitch=style.least_stitch)):
        yield Found(spec, style.name, drawing, one, b"" if one.kind in kinds else svg)
        kinds.add(one.kind)


def tried(named: tuple[str, Spec], styles: Sequence[str]) -> Tried:
    """The specification drawn in the styles, and measured."""
    name, spec = named
    findings: list[Found] = []
    drawings = off = 0
    drawing = measuring = 0.0
    grading = Grading(graded_sizes(spec), ())
    for style in map(load_style, styles):
        if name.startswith(MADE_UP):
            # Alike from run to run: by the names.
            style = _varied(style, random.Random(f"{name} {style.name}"))
        for job in plan(spec, grading, style).jobs:
            begun = time.perf_counter()
            try:
                made = list(drawn(job))
            except OffPage:
                off += 1
                continue
            between = time.perf_counter()
            for number, svg in enumerate(made, 1):
                findings += measured(svg, name, f"{job.name} sheet {number}", style)
            drawing += between - begun
            measuring += time.perf_counter() - between
            drawings += len(made)
    return Tried(tuple(findings), drawings, off, drawing, measuring)


def _class(found: Found) -> str:
    """The kind of drawing, and the kind of line that touches: `crown, growth`."""
    drawing = found.drawing.partition(" ")[0].rpartition("/")[2].partition("-")[0]
    line = re.search(r" (?:of|by) a (\w+)", found.finding.message)
    return f"{drawing}, {line[1]}" if line else drawing


def told(tries: Sequence[Tried], specifications: dict[str, Spec], folder: Path | None) -> bool:
    """Prints everything; True where something was found."""
    found = [one for a_try in tries for one in a_try.findings]
    for kind, many in Counter(one.finding.kind for one in found).most_common():
        own = [one for one in found if one.finding.kind == kind]
        pictures = {(one.spec, one.style, one.drawing) for one in own}
        print(f"\n{kind}: {many} in {len(pictures)} drawings of {len({o.spec for o in own})}")
        classes: dict[str, list[Found]] = {}
        for one in own:
            classes.setdefault(_class(one), []).append(one)
        for which, those in classes.items():
            one = next((one for one in those if one.svg), those[0])
            styles = ", ".join(sorted({one.style for one in those}))
            print(f"  {which}: {len(those)} ({styles}), as in {one.spec}, {one.style},"
                  f" {one.drawing}: {one.finding.message} {one.finding.at}")  # fmt: skip
            if folder:
                folder.mkdir(parents=True, exist_ok=True)
                (folder / f"{kind} {which}.svg").write_bytes(one.svg)
    print()
    for name in sorted({one.spec for one in found if one.spec.startswith(MADE_UP)}):
        print(name, repr(specifications[name]))
    drawings = sum(one.drawings for one in tries)
    share = sum(one.measuring for one in tries) / max(sum(one.drawing for one in tries), 1e-9)
    print(f"{len(found)} findings in {drawings} drawings of {len(tries)} specifications;"
          f" {sum(one.off_page for one in tries)} do not fit their column;"
          f" measuring took {share:.0%} of the time of laying out and engraving")  # fmt: skip
    return bool(found)


def main() -> None:
    """Draws, measures and tells."""
    given_ = sys.argv[1:]
    many, first = int(given_[0]) if given_ else 100, int(given_[1]) if len(given_) > 1 else 1
    specifications = {path.stem: graded(path).spec for path in EXAMPLES}
    specifications |= {
        f"{MADE_UP} {first}:{n}": spec for n, spec in enumerate(made_up(many, first))
    }
    context = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(2, mp_context=context) as pool:
        tries: list[Tried] = []
        try:
            for one in pool.map(partial(tried, styles=names()), specifications.items()):
                tries.append(one)
                for kind, found in {found.finding.kind: found for found in one.findings}.items():
                    print(f"{found.spec}, {found.style}, {found.drawing}: {kind}", flush=True)
        except KeyboardInterrupt:
            # What has been measured so far is told.
            pool.shutdown(cancel_futures=True)
    sys.exit(told(tries, specifications, Path(given_[2]) if len(given_) > 2 else None))


if __name__ == "__main__":
    main()
