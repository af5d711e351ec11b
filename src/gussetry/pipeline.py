"""The whole run in order: text → specification → stitch maps → charts → drawings → folder."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Any, NamedTuple

from gussetry.counts import count_table, table_csv
from gussetry.diagnostics import Faults, Problem
from gussetry.folder import Placed, Staging, staging
from gussetry.grading import GradedSize, Grading, grade
from gussetry.grading.amounts import Need, needs
from gussetry.grading.cautions import cautions
from gussetry.grading.recolour import recoloured
from gussetry.manifest import Asset, PageFile, Sheet, manifest, promise
from gussetry.naming import slug
from gussetry.placing import assets_csv, placed_together
from gussetry.plan import file_name, plan, wished
from gussetry.read import read_spec
from gussetry.source import Document, Source, is_yaml, pointing_into, read_source
from gussetry.spec import Pages, Spec
from gussetry.stitchmap import StitchMap, to_json
from gussetry.style import Style, load_style
from gussetry.telling import Terms
from gussetry.words import Form, pattern_text
from gussetry.workers import Seen, Workers


@dataclass(frozen=True, slots=True)
class Run:
    """What a run made: the grading, every drawing, and what became of the folder."""

    document: Document
    grading: Grading
    assets: tuple[Asset, ...]
    cautions: tuple[str, ...]
    placed: Placed
    pages: tuple[PageFile, ...] = ()

    @property
    def png(self) -> bool:
        """Whether the drawings were written as PNG too."""
        return all(asset.png for asset in self.assets)


class Graded(NamedTuple):
    """A specification's text, what was read in it, and what it was graded to."""

    document: Document
    spec: Spec
    grading: Grading


def graded(path: Path, strict: bool = False) -> Graded:
    """The specification read and graded. Raises Faults with everything that is wrong in it, and
    where `strict` with all that is warned of too."""
    document = read_source(path)
    with pointing_into(document):
        spec = read_spec(document)
        grading = grade(spec)
        if strict and grading.warnings:
            raise Faults(replace(warning, severity="error") for warning in grading.warnings)
        return Graded(document, spec, grading)


def with_pages(work: Graded, wanted: dict[str, Any]) -> Graded:
    """The work with finished pages, made as `wanted` says, and else as the specification does."""
    pages = replace(work.spec.pages or Pages(), **wanted)
    return work._replace(spec=replace(work.spec, pages=pages))


def _style(spec: Spec, document: Document, name: str | None) -> tuple[Style, Source]:
    """The style to draw in, and the text that a fault of its column points into. That there is no
    such style is a fault of the specification where that names it."""
    if name:
        return named_style(name)
    sheet = spec.style
    with pointing_into(document):
        if not is_yaml(sheet):
            return load_style(sheet), Source(f"the style {sheet}")
        # A specification means the file beside itself.
        beside = Path(document.name).parent / sheet
        if not beside.exists():
            remedy = "check the name; it is looked for in the specification's folder"
            raise Faults([Problem("no-file", f"there is no file {beside}", ("style",), remedy)])
    return named_style(str(beside))


def named_style(name: str) -> tuple[Style, Source]:
    """The style of that name, or of a `.yaml` file, and the text that its faults point into."""
    sheet = read_source(Path(name)) if is_yaml(name) else Source(f"the style {name}")
    with pointing_into(sheet):
        return load_style(name), sheet


def draw(work: Graded, folder: Path, style_name: str | None, pool: Workers, seen: Seen) -> Run:
    """The output folder written: every size drawn and recounted.

    `style_name` is a sheet's or a `.yaml` file's; None for the one that the specification names.
    Raises Faults where style or folder are at fault, Disagrees where we are; the folder is then as
    it was.
    """
    document, spec, grading = work
    style, look = _style(spec, document, style_name)
    spec, grading = recoloured(spec, grading, dict(style.palette))
    planned = plan(spec, grading, wished(spec, style))
    jobs = planned.jobs
    with staging(folder) as out:
        suffixes = (".svg", ".png") if pool.cairo() else (".svg",)
        for job in jobs:
            for suffix in suffixes:
                out.path(f"{job.name}{suffix}")
        with pointing_into(look):
            assets = placed_together(pool.draw(jobs, out.work, seen))
        # Into how many sheets a drawing goes is known when it is laid out.
        for further in (asset for asset in assets if asset.sheet > 1):
            for suffix in suffixes:
                out.path(f"{further.name}{suffix}")
        pages, others = _pages(spec, grading, style, out, (pool, seen))
        table = Sheet("assets.csv", "assets", out.write("assets.csv", assets_csv(assets)))
        sheets = [*_sheets(grading, out), table, *_words(work, style, out), *others]
        promised = replace(
            promise(spec.pattern, style, spec.terms), captions=spec.captions, lines=spec.lines
        )
        placed = out.place(manifest(promised, assets, sheets, planned.absent, pages))
    return Run(document, grading, assets, cautions(spec), placed, pages)


def _pages(
    spec: Spec, grading: Grading, style: Style, out: Staging, by: tuple[Workers, Seen]
) -> tuple[tuple[PageFile, ...], tuple[Sheet, ...]]:
    """The finished pages that the specification asks for, and their other files."""
    if spec.pages is None:
        return (), ()
    # Loads the engraver, which no other command needs in this process.
    from gussetry.pages import PAPERS, Wanted, make_pages, page_sets

    papers = tuple(paper for paper in PAPERS if spec.pages.paper in (paper.name, "both"))
    sets = page_sets(spec, grading, wished(spec, style), spec.pages.sets)
    return make_pages(sets, Wanted(papers, spec.pages.simulate), out, *by)


def current(work: Graded) -> tuple[StitchMap, ...]:
    """The stitch maps as the specification's own style has them drawn now."""
    style, _ = _style(work.spec, work.document, None)
    return recoloured(work.spec, work.grading, dict(style.palette))[1].maps


def words(work: Graded, sizes: Sequence[GradedSize], terms: Terms | None, form: Form) -> str:
    """The pattern text for those sizes; `terms` None for the specification's own."""
    return pattern_text(work.spec, sizes, steps(work), terms or work.spec.terms, form)


def steps(work: Graded) -> tuple[Fraction, Fraction]:
    """To how many millimetres and to how many inches the specification's own style rounds."""
    style, _ = _style(work.spec, work.document, None)
    return style.cm_step, style.inch_step


def yarn_needed(work: Graded) -> dict[str, tuple[Need, ...]]:
    """What a pair of each size takes of each yarn."""
    return {size.size.name: needs(work.spec, size) for size in work.grading.sizes}


def _words(work: Graded, style: Style, out: Staging) -> Iterator[Sheet]:
    """The pattern text written, of all sizes and of each alone."""
    spec, rounding = work.spec, (style.cm_step, style.inch_step)
    text = pattern_text(spec, work.grading.sizes, rounding, spec.terms)
    yield Sheet("words.md", "words", out.write("words.md", text))
    for size in work.grading.sizes:
        name = f"words-{slug(size.size.name)}.md"
        own = pattern_text(spec, [size], rounding, spec.terms)
        yield Sheet(name, "words", out.write(name, own), size.size.name)


def _sheets(grading: Grading, out: Staging) -> list[Sheet]:
    sheets = []
    for stitches in grading.maps:
        name = f"{file_name(stitches, 'stitches')}.json"
        digest = out.write(name, to_json(stitches))
        sheets.append(Sheet(name, "stitches", digest, stitches.size, stitches.mitten))
    table = table_csv(count_table([size.maps for size in grading.sizes]))
    return [*sheets, Sheet("counts.csv", "counts", out.write("counts.csv", table))]
