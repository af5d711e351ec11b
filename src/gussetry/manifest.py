"""The manifest: every file of the output folder, what it shows, and what is absent and why."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from gussetry.chart import Chart
from gussetry.folder import MANIFEST_FORMAT
from gussetry.style import Style
from gussetry.units import pixels, text

NO_CAIRO = "the library libcairo is missing"


@dataclass(frozen=True, slots=True)
class Asset:
    """A drawing that was written: what it shows, its size in mm, the sha256 of its files.

    `name` has no suffix; `png` is None without libcairo; `piece` and rounds are None where the
    drawing shows more than one piece; `hand` is None where it shows no way of working; `sheet` of
    `of` is its place among the sheets of its drawing. `caption` and `alternative` text are for
    whoever places it, `shown_with` the files that must stand with it, and `columns` how many of a
    page's two it takes.
    """

    name: str
    kind: str
    size: str
    mitten: str
    hand: str | None
    piece: str | None
    rounds: tuple[int, int] | None
    width: float
    height: float
    dpi: int
    svg: str
    png: str | None
    sheet: int = 1
    of: int = 1
    caption: str = ""
    alternative: str = ""
    shown_with: tuple[str, ...] = ()
    columns: int = 2


@dataclass(frozen=True, slots=True)
class Sheet:
    """Another file that was written; `kind` says what it holds: `counts`, `stitches`, `words`, the
    `assets` or the `pages` in a table, the `simulation`."""

    name: str
    kind: str
    sha256: str
    size: str | None = None
    mitten: str | None = None


@dataclass(frozen=True, slots=True)
class PageFile:
    """A finished page that was written: for which sizes and paper, which page of its set, its size
    in mm, the sha256 of its files; `png` is None without libcairo."""

    name: str
    size: str
    paper: str
    page: int
    of: int
    width: float
    height: float
    dpi: int
    svg: str
    png: str | None


@dataclass(frozen=True, slots=True)
class Absent:
    """A drawing or file that this run has not, and why."""

    file: str
    why: str


@dataclass(frozen=True, slots=True)
class Promise:
    """What all drawings of a run keep to: pattern, style, terms, the steps that printed measures
    are rounded to (centimetres, inches), the least text (points) and pitch of stitches
    (mm); the designer's captions, and her lines below every page."""

    pattern: str
    style: str
    terms: str
    centimetres: Fraction
    inches: Fraction
    least_text: float
    least_stitch: float
    captions: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()


def promise(pattern: str, style: Style, terms: str) -> Promise:
    """What drawings of a pattern in that style keep to."""
    return Promise(
        pattern, style.name, terms, style.cm_step / 10, style.inch_step,
        style.least_text, style.least_stitch,
    )  # fmt: skip


def manifest(
    made: Promise,
    assets: Sequence[Asset],
    sheets: Sequence[Sheet],
    absent: Sequence[Absent],
    pages: Sequence[PageFile] = (),
) -> str:
    """The text of `manifest.json`, one line an entry; the same for the same files."""
    drawn: list[Asset | PageFile] = [*assets, *pages]
    missing = [*absent, *(Absent(f"{a.name}.png", NO_CAIRO) for a in drawn if a.png is None)]
    head = json.dumps(
        {
            "format": MANIFEST_FORMAT,
            "version": 1,
            "pattern": made.pattern,
            "style": made.style,
            "terms": made.terms,
            "centimetres": str(made.centimetres),
            "inches": str(made.inches),
            "least text": made.least_text,
            "least stitch": made.least_stitch,
            "captions": list(made.captions),
            "lines": list(made.lines),
        },
        ensure_ascii=False,
    )
    files = _lines([*map(_drawing, assets), *map(_page, pages), *map(_sheet, sheets)])
    gone = _lines({"file": one.file, "why": one.why} for one in missing)
    return f'{head[:-1]},\n "assets": [{files}],\n "absent": [{gone}]}}\n'


def _lines(entries: Iterable[dict[str, Any]]) -> str:
    shown = ",\n".join("  " + json.dumps(entry, ensure_ascii=False) for entry in entries)
    return f"\n{shown}" if shown else ""


def _sheet(sheet: Sheet) -> dict[str, Any]:
    entry = {"file": sheet.name, "kind": sheet.kind, "size": sheet.size, "mitten": sheet.mitten}
    return {**{k: v for k, v in entry.items() if v is not None}, "sha256": sheet.sha256}


def _picture(asset: Asset | PageFile) -> dict[str, Any] | None:
    if asset.png is None:
        return None
    return {
        "file": f"{asset.name}.png",
        "pixels": [pixels(asset.width, asset.dpi), pixels(asset.height, asset.dpi)],
        "dpi": asset.dpi,
        "sha256": asset.png,
    }


def _page(page: PageFile) -> dict[str, Any]:
    return {
        "file": f"{page.name}.svg",
        "kind": "page",
        "size": page.size,
        "paper": page.paper,
        "page": page.page,
        "of": page.of,
        "millimetres": [float(text(page.width)), float(text(page.height))],
        "sha256": page.svg,
        "png": _picture(page),
    }


def _drawing(asset: Asset) -> dict[str, Any]:
    first, last = asset.rounds or (None, None)
    return {
        "file": f"{asset.name}.svg",
        "kind": asset.kind,
        "size": asset.size,
        "mitten": asset.mitten,
        "hand": asset.hand,
        "sheet": asset.sheet,
        "of": asset.of,
        "piece": asset.piece,
        "first round": first,
        "last round": last,
        "millimetres": [float(text(asset.width)), float(text(asset.height))],
        "columns": asset.columns,
        "caption": asset.caption,
        "alternative text": asset.alternative,
        "shown with": list(asset.shown_with),
        "sha256": asset.svg,
        "png": _picture(asset),
    }


def asset(name: str, chart: Chart, dpi: int, svg: str, png: str | None) -> Asset:
    """The manifest's entry for a chart that was written, `svg` and `png` its files' sha256."""
    tags = dict(chart.tags)
    piece, rounds = _shown(chart)
    hand = tags.get("data-hand", "right") if chart.stitches and chart.kind != "key" else None
    return Asset(
        name, tags.get("data-kind", chart.kind), tags.get("data-size", ""),
        tags.get("data-mitten", ""), hand,
        piece, rounds, chart.width, chart.height, dpi, svg, png,
        int(tags.get("data-sheet", "1")), int(tags.get("data-of", "1")),
        chart.title, _alternative(chart.description),
    )  # fmt: skip


_AT_LENGTH = (" Round by round. ", " Row by row. ", " From the bottom up. ", " Finished measures. ")
"""Where a description begins to tell everything that is drawn."""


def _alternative(description: str) -> str:
    """A description as text in place of the picture: what it shows and how it is read."""
    for mark in _AT_LENGTH:
        description = description.partition(mark)[0]
    return description


def _shown(chart: Chart) -> tuple[str | None, tuple[int, int] | None]:
    """The one piece that a chart shows, and its first and last round: those that have a number, are
    summed or are a stripe. A foundation, a seam and a drawing shut are no rounds."""
    pieces: set[str] = set()
    rounds: set[int] = set()
    for items in (chart.stitches, chart.labels, chart.patches):
        for tags in (dict(item.tags) for item in items):
            own = tags.get("data-round")
            if own is None:
                continue
            pieces.add(tags.get("data-piece", ""))
            role = tags.get("data-role")
            if role in ("round", "stripe") or (role == "sum" and "-" in own):
                rounds |= set(map(int, re.findall(r"\d+", own)))
    if len(pieces) != 1:
        return None, None
    return pieces.pop(), (min(rounds), max(rounds)) if rounds else None
