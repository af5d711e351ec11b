"""Paints every drawing of the examples with several engines and tells how far they lie apart.

    python tests/engines.py [STYLE ...]

For each kind of drawing and each engine beside CairoSVG the largest difference of any channel of
any pixel, of 255, at 150 dots an inch after a 3 × 3 blur. resvg comes with the test requirements;
Chromium is asked where it is installed.
"""

from __future__ import annotations

import io
import shutil
import subprocess
import sys
import tempfile
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import resvg_py
from PIL import Image, ImageChops, ImageFilter

from gussetry.drawing import Drawing
from gussetry.engrave import engrave
from gussetry.export.png import png_bytes
from gussetry.export.svg import svg_bytes
from gussetry.layout import sheets
from gussetry.pipeline import graded
from gussetry.plan import plan
from gussetry.style import load_style

ROOT = Path(__file__).parents[1]
DPI = 150
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--hide-scrollbars", f"--force-device-scale-factor={DPI / 96}",
)  # fmt: skip


def drawings(style: str) -> Iterator[tuple[str, str, Drawing]]:
    """Every drawing of the examples in a style: kind, name, drawing."""
    look = load_style(style)
    for example in sorted((ROOT / "examples").glob("*.yaml")):
        _, spec, grading = graded(example)
        for job in plan(spec, grading, look).jobs:
            for number, laid in enumerate(
                sheets(job.kind, job.maps, job.style, job.terms, job.words), 1
            ):
                name = f"{example.stem} {job.name} {number}"
                yield job.kind, name, engrave(laid, job.style)


def by_chromium(svg: bytes, size: tuple[int, int]) -> Image.Image:
    """The drawing as Chromium paints it in a page. By itself it would be stretched by up to half a
    pixel, to whole pixels of the window."""
    assert CHROMIUM
    with tempfile.TemporaryDirectory() as folder:
        file, shot = Path(folder) / "page.html", Path(folder) / "shot.png"
        page = b'<!DOCTYPE html><meta charset="utf-8"><body style="margin:0">'
        file.write_bytes(page + svg[svg.index(b"<svg") :])
        wide, high = (side * 96 // DPI + 2 for side in size)
        subprocess.run(
            [CHROMIUM, *FLAGS, f"--user-data-dir={folder}/profile", f"--window-size={wide},{high}",
             f"--screenshot={shot}", file.as_uri()],
            check=True, capture_output=True, timeout=120,
        )  # fmt: skip
        return Image.open(shot).convert("RGB").crop((0, 0, *size))


def apart(one: Image.Image, other: Image.Image) -> int:
    """The largest difference of two pictures of one size after the blur."""
    blurred = (image.filter(ImageFilter.BoxBlur(1)) for image in (one, other))
    # The last row and column of a drawing are painted in part only, each engine in its way.
    inner = (0, 0, one.width - 2, one.height - 2)
    difference = ImageChops.difference(*blurred).crop(inner)
    return max(most for _, most in difference.getextrema())


def main() -> None:
    """Paints, compares, and prints a table."""
    found: dict[tuple[str, str, str], list[tuple[int, str]]] = defaultdict(list)
    for style in sys.argv[1:] or ["default"]:
        for kind, name, drawing in drawings(style):
            svg = svg_bytes(drawing)
            ours = Image.open(io.BytesIO(png_bytes(svg, drawing, DPI))).convert("RGB")
            resvg = bytes(resvg_py.svg_to_bytes(svg_string=svg.decode(), dpi=DPI))
            others = {"resvg": Image.open(io.BytesIO(resvg)).convert("RGB")}
            if CHROMIUM:
                others["Chromium"] = by_chromium(svg, ours.size)
            for engine, theirs in others.items():
                found[style, kind, engine].append(
                    (apart(ours, theirs.crop((0, 0, *ours.size))), name)
                )
    for (style, kind, engine), measured in found.items():
        most, name = max(measured)
        print(
            f"{style:12} {kind:10} {engine:9} {most:4} of 255 in {len(measured)} drawings, {name}"
        )


if __name__ == "__main__":
    main()
