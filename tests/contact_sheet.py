"""Lays every drawing of every example in every style side by side, for whoever changes a drawing.

    python tests/contact_sheet.py FOLDER [EXAMPLE ...]

Writes FOLDER/index.html and beside it what `gussetry draw` makes of each example in each style; a
second run shows the former picture of each drawing that changed beside the new one.
"""

from __future__ import annotations

import html
import shutil
import sys
from pathlib import Path

from gussetry.pipeline import draw, graded
from gussetry.workers import workers

ROOT = Path(__file__).parents[1]
LOOK = """
body { font: 14px sans-serif; margin: 1em; background: #ccc }
figure { display: inline-block; margin: .5em; vertical-align: top; background: #fff }
figcaption { padding: .3em .6em; background: #eee }
figure.former { outline: 3px dashed #b00 }
"""


def drawn(example: Path, style: str, folder: Path) -> None:
    """Draws an example in a style into the folder, keeping the SVGs of the run before."""
    former = folder.with_name(f"{folder.name} before")
    shutil.rmtree(former, ignore_errors=True)
    if folder.exists():
        folder.rename(former)
    with workers() as pool:
        draw(graded(example), folder, style, pool, lambda done, total, name: None)


def figures(folder: Path, out: Path) -> list[str]:
    """The figures of a folder's drawings, each that changed beside its former one."""
    former = folder.with_name(f"{folder.name} before")
    found = []
    for picture in sorted(folder.rglob("*.svg")):
        name = picture.relative_to(folder).as_posix()
        before = former / name
        pictures = [("", picture)]
        if before.exists() and before.read_bytes() != picture.read_bytes():
            pictures.append(("former", before))
        for kind, path in pictures:
            source = html.escape(path.relative_to(out).as_posix())
            caption = html.escape(f"{name} {kind}".strip())
            found.append(
                f'<figure class="{kind}"><figcaption>{caption}</figcaption>'
                f'<img src="{source}" alt="{caption}"></figure>'
            )
    return found


def main() -> None:
    """Draws, and writes the page."""
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    out, only = Path(sys.argv[1]), sys.argv[2:]
    out.mkdir(parents=True, exist_ok=True)
    styles = sorted(path.stem for path in (ROOT / "styles").glob("*.yaml"))
    page = [f'<!DOCTYPE html><meta charset="utf-8"><title>gussetry</title><style>{LOOK}</style>']
    for example in sorted((ROOT / "examples").glob("*.yaml")):
        if only and example.stem not in only:
            continue
        for style in styles:
            folder = out / f"{example.stem} {style}"
            drawn(example, style, folder)
            page.append(f"<h2>{html.escape(folder.name)}</h2>")
            page += figures(folder, out)
            print(folder.name)
    (out / "index.html").write_text("\n".join(page) + "\n", encoding="utf-8")
    print(f"look at {out / 'index.html'}")


if __name__ == "__main__":
    main()
