"""The whole run in order: text → specification → stitch maps → charts → drawings → folder."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import NamedTuple

from gussetry.counts import count_table, table_csv
from gussetry.diagnostics import Faults
from gussetry.folder import Placed, Staging, staging
from gussetry.grading import GradedSize, Grading, grade
from gussetry.grading.cautions import cautions
from gussetry.grading.recolour import recoloured
from gussetry.manifest import Asset, Sheet, manifest, promise
from gussetry.naming import slug
from gussetry.plan import file_name, plan, wished
from gussetry.read import read_spec
from gussetry.source import Document, Source, UnreadableSource, read_source
from gussetry.spec import Spec
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

    @property
    def png(self) -> bool:
        """Whether the drawings were written as PNG too."""
        return all(asset.png for asset in self.assets)


@contextmanager
def _pointing_into(source: Source) -> Iterator[None]:
    """Gives faults the text that they point into."""
    try:
        yield
    except UnreadableSource:
        raise
    except Faults as faults:
        raise UnreadableSource(list(faults.problems), source) from None


class Graded(NamedTuple):
    """A specification's text, what was read in it, and what it was graded to."""

    document: Document
    spec: Spec
    grading: Grading


def graded(path: Path, strict: bool = False) -> Graded:
    """The specification read and graded. Raises Faults with everything that is wrong in it, and
    where `strict` with all that is warned of too."""
    document = read_source(path)
    with _pointing_into(document):
        spec = read_spec(document)
        grading = grade(spec)
        if strict and grading.warnings:
            raise Faults(replace(warning, severity="error") for warning in grading.warnings)
        return Graded(document, spec, grading)


def _style(spec: Spec, document: Document, name: str | None) -> tuple[Style, Source]:
    """The style to draw in, and the text that a fault of its column points into."""
    sheet = name or spec.style
    is_file = sheet.endswith((".yaml", ".yml"))
    if is_file and not name:
        # A specification means the file beside itself.
        sheet = str(Path(document.name).parent / sheet)
    source = read_source(Path(sheet)) if is_file else document
    with _pointing_into(source):
        return load_style(sheet), source if is_file else Source(f"the style {sheet}")


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
        with _pointing_into(look):
            assets = pool.draw(jobs, out.work, seen)
        # Into how many sheets a drawing goes is known when it is laid out.
        for further in (asset for asset in assets if asset.sheet > 1):
            for suffix in suffixes:
                out.path(f"{further.name}{suffix}")
        sheets = [*_sheets(grading, out), *_words(work, style, out)]
        placed = out.place(
            manifest(promise(spec.pattern, style, spec.terms), assets, sheets, planned.absent)
        )
    return Run(document, grading, assets, cautions(spec), placed)


def current(work: Graded) -> tuple[StitchMap, ...]:
    """The stitch maps as the specification's own style has them drawn now."""
    style, _ = _style(work.spec, work.document, None)
    return recoloured(work.spec, work.grading, dict(style.palette))[1].maps


def words(work: Graded, sizes: Sequence[GradedSize], terms: Terms | None, form: Form) -> str:
    """The pattern text for those sizes; `terms` None for the specification's own."""
    style, _ = _style(work.spec, work.document, None)
    rounding = style.cm_step, style.inch_step
    return pattern_text(work.spec, sizes, rounding, terms or work.spec.terms, form)


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
