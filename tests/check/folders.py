"""Output folders made in process, a drawing at a time, for the check to be tried on.

A folder holds what a test asks for and no more: a drawing, the maps it serves, and a manifest that
names the other drawings as absent. So a fault in one file is looked for in that file and in what
refers to it, and in nothing else.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

from gussetry import manifest as listing
from gussetry.check import check_folder
from gussetry.check.drawings import due
from gussetry.counts import count_table, table_csv
from gussetry.engrave import engrave
from gussetry.export.png import png_bytes
from gussetry.export.svg import svg_bytes
from gussetry.findings import Finding
from gussetry.grading import Grading
from gussetry.grading.recolour import recoloured
from gussetry.layout import sheets
from gussetry.naming import slug
from gussetry.pipeline import graded
from gussetry.placing import assets_csv, placed_together
from gussetry.plan import Job, file_name, plan, wished
from gussetry.spec import Spec
from gussetry.stitchmap import StitchMap, to_json
from gussetry.style import Style, load_style
from gussetry.words import pattern_text
from gussetry.workers import sheet_name

EXAMPLES = {
    path.stem: path for path in sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
}
MANIFEST = "manifest.json"
ASSETS = "assets.csv"
TABLE = "counts.csv"
WORDS = "words.md"

Folder = dict[str, bytes]
"""A folder's files by their relative names."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """An example in a style: what it is graded to, and the drawings that it gets by their names."""

    example: str
    style: Style
    spec: Spec
    grading: Grading
    jobs: Mapping[str, Job]

    @property
    def maps(self) -> tuple[StitchMap, ...]:
        """Every stitch map, smallest size first."""
        return self.grading.maps


@cache
def pattern(example: str, style: str = "default") -> Pattern:
    """An example graded, once a process."""
    work = graded(EXAMPLES[example])
    look = load_style(style)
    spec, grading = recoloured(work.spec, work.grading, dict(look.palette))
    look = wished(spec, look)
    jobs = {job.name: job for job in plan(spec, grading, look).jobs}
    return Pattern(example, look, spec, grading, jobs)


@dataclass(frozen=True, slots=True)
class Leaf:
    """A sheet of a drawing: its name without suffix, its bytes, and its entry in the manifest."""

    name: str
    svg: bytes
    entry: listing.Asset


@cache
def leaves(example: str, style: str, name: str) -> tuple[Leaf, ...]:
    """The sheets of a drawing, drawn once a process."""
    job = pattern(example, style).jobs[name]
    found = []
    for number, chart in enumerate(sheets(job.kind, job.maps, job.style, job.terms, job.words), 1):
        own = sheet_name(name, number)
        svg = svg_bytes(engrave(chart, job.style))
        found.append(Leaf(own, svg, listing.asset(own, chart, job.style.dpi, "", None)))
    return tuple(found)


@cache
def pictures(example: str, style: str, name: str) -> tuple[bytes, ...]:
    """The PNG of each sheet of a drawing, painted once a process."""
    job = pattern(example, style).jobs[name]
    charts = sheets(job.kind, job.maps, job.style, job.terms, job.words)
    drawings = [engrave(chart, job.style) for chart in charts]
    return tuple(png_bytes(svg_bytes(one), one, job.style.dpi) for one in drawings)


def map_file(stitches: StitchMap) -> str:
    """Where a stitch map stands in a folder."""
    return f"{file_name(stitches, 'stitches')}.json"


def folder(
    own: Pattern, names: Sequence[str] = (), *, painted: bool = False, told: bool = False,
    maps: Iterable[StitchMap] = (),
) -> Folder:  # fmt: skip
    """A sound folder with those drawings, the maps that they serve and further ones; `painted` with
    their pictures, `told` with the table of assets, the count table and the words of all sizes."""
    example, style = own.example, own.style.name
    made: Folder = {}
    assets: list[listing.Asset] = []
    needed = {map_file(m): m for m in maps}
    for name in names:
        needed |= {map_file(m): m for m in own.jobs[name].maps}
        for number, leaf in enumerate(leaves(example, style, name)):
            made[f"{leaf.name}.svg"] = leaf.svg
            if painted:
                made[f"{leaf.name}.png"] = pictures(example, style, name)[number]
            assets.append(replace(leaf.entry, png="" if painted else None))
    further = []
    for stitches in needed.values():
        made[map_file(stitches)] = to_json(stitches).encode()
        further.append(
            listing.Sheet(map_file(stitches), "stitches", "", stitches.size, stitches.mitten)
        )
    drawings = placed_together(assets)
    if told:
        rounding = own.style.cm_step, own.style.inch_step
        text = pattern_text(own.spec, own.grading.sizes, rounding, own.spec.terms)
        made |= {TABLE: counts(own), WORDS: text.encode()}
        made[ASSETS] = assets_csv(drawings).encode()
        kinds = {TABLE: "counts", WORDS: "words", ASSETS: "assets"}
        further += [listing.Sheet(file, kind, "") for file, kind in kinds.items()]
    drawn = {(own.jobs[n].kind, m.size, m.mitten) for n in names for m in own.jobs[n].maps}
    gone = [
        listing.Absent(f"{_plain(m, kind)}.svg", "not asked for")
        for m in needed.values()
        for kind in due(m)
        if (kind, m.size, m.mitten) not in drawn
    ]
    promise = listing.promise(own.spec.pattern, own.style, own.spec.terms)
    made[MANIFEST] = listing.manifest(promise, drawings, further, gone).encode()
    return renewed(made)


def _plain(stitches: StitchMap, kind: str) -> str:
    side = "" if stitches.mitten == "both" else f"-{stitches.mitten}"
    return f"{slug(stitches.size)}/{kind}{side}"


@cache
def _counts(example: str, style: str) -> bytes:
    grading = pattern(example, style).grading
    return table_csv(count_table([size.maps for size in grading.sizes])).encode()


def counts(own: Pattern) -> bytes:
    """The count table of all sizes."""
    return _counts(own.example, own.style.name)


def renewed(made: Folder) -> Folder:
    """The same folder, every checksum in its manifest that of the file as it is now."""
    listed = json.loads(made[MANIFEST])
    for entry in listed["assets"]:
        for one in (entry, entry.get("png")):
            if one and one["file"] in made:
                one["sha256"] = hashlib.sha256(made[one["file"]]).hexdigest()
    return made | {MANIFEST: as_bytes(listed)}


def as_bytes(listed: Any) -> bytes:
    """JSON as a file holds it."""
    return json.dumps(listed, ensure_ascii=False).encode()


def write(made: Folder, place: Path) -> Path:
    """The folder on the disk."""
    for name, content in made.items():
        path = place / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    return place


def checked(made: Folder, place: Path) -> list[Finding]:
    """What the check says of a folder, written for it in a fresh place."""
    return check_folder(write(made, place))
