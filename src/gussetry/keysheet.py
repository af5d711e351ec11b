"""The sheet of all stitches that gussetry knows, drawn, recounted and written to a folder."""

from __future__ import annotations

import json
from pathlib import Path

from gussetry.diagnostics import Faults, Problem
from gussetry.folder import MANIFEST, Staging, staging
from gussetry.layout import Terms, Words
from gussetry.layout.sampler import NAME, samplers
from gussetry.manifest import Asset, manifest, promise
from gussetry.pipeline import named_style
from gussetry.plan import Job
from gussetry.workers import Seen, Workers


def draw_key(
    folder: Path, style_name: str, terms: Terms, pool: Workers, seen: Seen
) -> tuple[Asset, ...]:
    """Every stitch with every addition, in the style's least pitch and at 6 mm, written to the
    folder as `key.svg`, or as several sheets `key-1.svg` …, each recounted.

    Raises Faults where style or folder are at fault, Disagrees where we are; the folder is then as
    it was. A folder that holds a pattern's drawings is refused, since its files would go.
    """
    style, _ = named_style(style_name)
    _refuse_pattern(folder)
    parts = samplers(style, terms)
    names = ["key"] if len(parts) == 1 else [f"key-{n}" for n in range(1, len(parts) + 1)]
    jobs = [
        Job(name, "key", (part,), style, terms, Words())
        for name, part in zip(names, parts, strict=True)
    ]
    with staging(folder) as out:
        _expect(out, names, pool.cairo())
        assets = pool.draw(jobs, out.work, seen)
        out.place(manifest(promise(NAME, style, terms), assets, (), ()))
    return assets


def _expect(out: Staging, names: list[str], png: bool) -> None:
    for name in names:
        for suffix in (".svg", ".png") if png else (".svg",):
            out.path(f"{name}{suffix}")


def _refuse_pattern(folder: Path) -> None:
    """Raises Faults if the folder's manifest is of a pattern."""
    try:
        written = json.loads((folder / MANIFEST).read_bytes())
    except (OSError, ValueError):
        # None there, or none of ours: the folder says so itself when it is written.
        return
    if isinstance(written, dict) and written.get("pattern") != NAME:
        problem = Problem(
            "in-the-way",
            f"{folder} holds the drawings of {written.get('pattern')}",
            help="name another folder: these would be taken away",
        )
        raise Faults([problem])
