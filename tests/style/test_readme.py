"""The manual lists every style and every property, with the defaults as they are."""

from __future__ import annotations

import re
from pathlib import Path

from gussetry.style import SERIES, load_style, names
from gussetry.style.sheets import sheet
from gussetry.units import text

ROOT = Path(__file__).parents[2]


def section() -> str:
    manual = (ROOT / "README.md").read_text(encoding="utf-8")
    return manual.partition("## Styles\n")[2].partition("\n## ")[0]


def test_every_style_is_listed() -> None:
    listed = set(re.findall(r"^\| `([a-z-]+)` \| ", section(), re.MULTILINE))
    assert set(names()) <= listed


def test_every_property_is_listed_in_the_order_of_the_sheet() -> None:
    told = section().partition("| property |")[2]
    data = sheet("default").data
    assert isinstance(data, dict)
    places = []
    for key, value in data.items():
        assert re.search(rf"`{key}[`:]", told), key
        places.append(re.search(rf"`{key}[`:]", told).start())  # type: ignore[union-attr]
        if isinstance(value, dict):
            row = next(line for line in told.splitlines() if f"`{key}:" in line)
            assert re.findall(r"([a-z]+):", row.partition("{")[2].partition("}")[0]) in (
                [*value],
                [],
            ), key
    assert places == sorted(places)


def test_the_defaults_of_pens_and_text_are_told_as_they_are() -> None:
    style = load_style()
    rows = section().splitlines()
    pens = next(row for row in rows if row.startswith("| `pens:"))
    letters = next(row for row in rows if row.startswith("| `text:"))
    assert pens.endswith(f"| {', '.join(text(width) for _, width in style.pens)} |")
    assert ", ".join(SERIES) in pens
    sizes = ", ".join(text(points) for _, points in style.text)
    assert letters.endswith(f"| {sizes}; {text(style.least_text)} |")
