"""What placing drawings in a layout program needs to know of each: what it must be shown with, how
many columns of a page it takes, and a table of it all."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import replace

from gussetry.manifest import Asset
from gussetry.units import pixels, text

COLUMN = 84.0
"""Width of a column where two stand side by side on a page that prints on A4 and Letter, mm: half
of the 173.9 mm that these have in common (RFC 2346), less a gutter (common practice,
no source)."""

_HEADS = (
    "file", "png", "kind", "size", "mitten", "hand", "sheet", "of", "piece", "first round",
    "last round", "width mm", "height mm", "width px", "height px", "dpi", "columns", "caption",
    "alternative text", "shown with",
)  # fmt: skip


def placed_together(assets: Sequence[Asset]) -> tuple[Asset, ...]:
    """The drawings, each with the files that it must be shown with: the other sheets of its
    drawing, and of a strip and a schematic of one mitten the other."""
    return tuple(
        replace(one, shown_with=tuple(f"{other.name}.svg" for other in assets
                                      if other is not one and _belong(one, other)),
                columns=1 if one.width <= COLUMN else 2)
        for one in assets
    )  # fmt: skip


def _base(asset: Asset) -> str:
    """The name of its drawing's first sheet."""
    return asset.name.removesuffix(f"-{asset.sheet}") if asset.sheet > 1 else asset.name


def _belong(one: Asset, other: Asset) -> bool:
    if _base(one) == _base(other):
        return True
    same = (one.size, one.mitten) == (other.size, other.mitten)
    scaled = {one.kind, other.kind} == {"stripes", "schematic"}
    return same and scaled and "/" in one.name and "/" in other.name


def assets_csv(assets: Sequence[Asset]) -> str:
    """The drawings as a table, one a row; what has no value is empty, several files are parted by
    blanks."""
    with io.StringIO() as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(_HEADS)
        writer.writerows(map(_row, assets))
        return file.getvalue()


def _row(asset: Asset) -> tuple[object, ...]:
    first, last = asset.rounds or ("", "")
    dots: tuple[object, ...] = ("", "", "")
    if asset.png is not None:
        dots = (pixels(asset.width, asset.dpi), pixels(asset.height, asset.dpi), asset.dpi)
    return (
        f"{asset.name}.svg", f"{asset.name}.png" if asset.png is not None else "", asset.kind,
        asset.size, asset.mitten, asset.hand or "", asset.sheet, asset.of, asset.piece or "",
        first, last, text(asset.width), text(asset.height), *dots, asset.columns, asset.caption,
        asset.alternative, " ".join(asset.shown_with),
    )  # fmt: skip
