"""The manifest: every file of the output folder, what it shows, and what is absent and why."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from gussetry.chart import Chart, Tags
from gussetry.folder import MANIFEST_FORMAT
from gussetry.units import pixels, text

NO_CAIRO = "the library libcairo is missing"


@dataclass(frozen=True, slots=True)
class Asset:
    """A drawing that was written: `name` without suffix, the sha256 of its SVG and PNG."""

    name: str
    chart: Chart
    svg: str
    png: str | None
    dpi: int


@dataclass(frozen=True, slots=True)
class Sheet:
    """Another file that was written: `kind` is `counts` or `stitches`."""

    name: str
    kind: str
    sha256: str
    size: str | None = None
    mitten: str | None = None


@dataclass(frozen=True, slots=True)
class Absent:
    """A drawing or file that this run has not, and why."""

    file: str
    why: str


def manifest(
    pattern: str,
    style: str,
    assets: Sequence[Asset],
    sheets: Sequence[Sheet],
    absent: Sequence[Absent],
) -> str:
    """The text of `manifest.json`, one line an entry; the same for the same files."""
    missing = [*absent, *(Absent(f"{a.name}.png", NO_CAIRO) for a in assets if a.png is None)]
    head = json.dumps(
        {"format": MANIFEST_FORMAT, "version": 1, "pattern": pattern, "style": style},
        ensure_ascii=False,
    )
    files = _lines([*map(_drawing, assets), *map(_sheet, sheets)])
    gone = _lines({"file": one.file, "why": one.why} for one in missing)
    return f'{head[:-1]},\n "assets": [{files}],\n "absent": [{gone}]}}\n'


def _lines(entries: Iterable[dict[str, Any]]) -> str:
    shown = ",\n".join("  " + json.dumps(entry, ensure_ascii=False) for entry in entries)
    return f"\n{shown}" if shown else ""


def _sheet(sheet: Sheet) -> dict[str, Any]:
    entry = {"file": sheet.name, "kind": sheet.kind, "size": sheet.size, "mitten": sheet.mitten}
    return {**{k: v for k, v in entry.items() if v is not None}, "sha256": sheet.sha256}


def _drawing(asset: Asset) -> dict[str, Any]:
    chart = asset.chart
    tags = dict(chart.tags)
    piece, first, last = _shown(chart)
    png = None
    if asset.png is not None:
        png = {
            "file": f"{asset.name}.png",
            "pixels": [pixels(chart.width, asset.dpi), pixels(chart.height, asset.dpi)],
            "dpi": asset.dpi,
            "sha256": asset.png,
        }
    return {
        "file": f"{asset.name}.svg",
        "kind": chart.kind,
        "size": tags.get("data-size"),
        "mitten": tags.get("data-mitten"),
        "piece": piece,
        "first round": first,
        "last round": last,
        "millimetres": [float(text(chart.width)), float(text(chart.height))],
        "sha256": asset.svg,
        "png": png,
    }


def _shown(chart: Chart) -> tuple[str | None, int | None, int | None]:
    """The one piece that a chart shows, with its first and last round; None where it has more."""
    pieces: set[str] = set()
    rounds: set[int] = set()
    for tags in _all_tags(chart):
        found = dict(tags)
        if "data-round" in found:
            pieces.add(found.get("data-piece", ""))
            rounds |= set(map(int, re.findall(r"\d+", found["data-round"])))
    if len(pieces) != 1 or not rounds:
        return None, None, None
    return pieces.pop() or None, min(rounds), max(rounds)


def _all_tags(chart: Chart) -> Iterable[Tags]:
    for items in (chart.stitches, chart.labels, chart.patches):
        yield from (item.tags for item in items)
