"""What a run tells at its end: what it wrote, and each finished measure beside its wish."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from gussetry.fits.marks import legend, mark, signed
from gussetry.units import rounded

if TYPE_CHECKING:
    from gussetry.grading import GradedSize
    from gussetry.pipeline import Run


def summary(run: Run, folder: Path) -> str:
    """The closing words of a run, many lines without a last line end."""
    lines = [_wrote(run, folder), ""]
    origins = set()
    for size in run.grading.sizes:
        lines += _measures(size)
        origins |= {measure.origin for measure in size.measures}
    meanings = tuple(legend(origins, [size.size for size in run.grading.sizes]))
    if meanings:
        lines += ["What a wish rests on:", *meanings]
    if run.cautions:
        lines += ["", "Print with the sizes for children under three:"]
        lines += [f"- {caution}" for caution in run.cautions]
    return "\n".join(lines).rstrip()


def _wrote(run: Run, folder: Path) -> str:
    drawings = len(run.assets)
    forms = "SVG and PNG" if run.png else "SVG"
    sizes = ", ".join(size.size.name for size in run.grading.sizes)
    return (
        f"wrote {drawings} drawings as {forms}, stitch maps, counts.csv and manifest.json"
        f" to {folder}\nsizes {sizes}; every drawing was read back and recounted{_pages(run)}"
    )


def _pages(run: Run) -> str:
    """What is said of finished pages, where there are any."""
    if not run.pages:
        return ""
    papers = {page.paper for page in run.pages}
    joined = ", ".join(f"pages/{paper}.pdf" for paper in sorted(papers)) if run.png else ""
    return f"\n{len(run.pages)} finished pages, recounted too{f'; {joined}' if joined else ''}"


def _measures(size: GradedSize) -> Iterator[str]:
    rows = [("", "finished", "wish ", "apart   ")]
    for measure in size.measures:
        rows.append(
            (
                measure.name,
                _cm(measure.finished),
                _cm(measure.wish) + (mark(measure.origin) or " "),
                # In millimetres: of two rounded figures the difference would often look wrong.
                signed(measure.finished - measure.wish) + " mm",
            )
        )
    wide = [max(len(row[i]) for row in rows) for i in range(4)]
    yield f"size {size.size.name}"
    for name, *figures in rows:
        cells = (figure.rjust(wide[i + 1]) for i, figure in enumerate(figures))
        yield f"  {name.ljust(wide[0])}  {'  '.join(cells)}".rstrip()
    yield ""


def _cm(mm: Fraction) -> str:
    return f"{float(rounded(mm, Fraction(1)) / 10):.1f} cm"
