"""Drawings without tags: untouched ones have one note and no finding, faults are found all the
same; outlined strokes are one finding."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from layout.sheets import THUMBLESS, mittens
from verify.breaking import (
    Spoiler,
    bytes_of,
    cover,
    double,
    drop,
    drop_row,
    off_page,
    paths,
    reshape,
    shrink,
    stack,
    swap,
    to_next_row,
    tree,
    white,
)
from verify.breaking_more import (
    change_label,
    change_words,
    drop_label,
    drop_patch,
    drop_symbol,
    foreign_symbol,
    lose_contour,
    move_landmark,
    move_marker,
    move_sum,
    recolour,
    scrawl,
    shift_patch,
    stretch,
    turn_arrow,
    white_label,
)
from verify.rewriting import (
    LOSERS,
    arcs_as_curves,
    everything_lost,
    strokes_outlined,
    tags_lost,
)
from verify.tagless_faults import spoilt, unlike_bands

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.layout import sheets
from gussetry.pipeline import graded
from gussetry.stitchmap import StitchMap
from gussetry.style import load_style
from gussetry.verify import Asked, Disagreement, recount
from gussetry.verify.glyphs import contours_of, decode
from gussetry.verify.paths import subpaths

Rewriter = Callable[[bytes], bytes]
EXAMPLES = Path(__file__).parents[2] / "examples"
THREE = ("worked-example", "boulder-hdc", "kittiwake-post-rib")
DRAWINGS = [
    *((kind, name, 0)
      for kind in ("cuff", "gusset", "crown", "thumb", "stripes", "schematic", "key")
      for name in THREE),
    ("hand", "eiderdown-infant", 0), ("hand", "eiderdown-infant", 1), ("hand", "thumbless", 0),
]  # fmt: skip
STRETCHED = stretch(1.1, 1)
FAULTS: tuple[tuple[Spoiler, str], ...] = (
    *((fault, kind)
      for fault in (drop, double, reshape, to_next_row, swap, stack, white, off_page, shrink, cover)
      for kind in ("gusset", "crown")),
    (drop_row, "cuff"), (drop, "thumb"), (reshape, "cuff"), (swap, "thumb"),
    *((fault, kind)
      for fault in (change_label, drop_label, scrawl, lose_contour, white_label, recolour,
                    drop_patch)
      for kind in ("gusset", "thumb")),
    (change_label, "schematic"), (change_label, "stripes"), (drop_label, "schematic"),
    (recolour, "stripes"), (shift_patch, "stripes"), (unlike_bands, "stripes"),
    (drop_patch, "stripes"),
    (move_landmark, "stripes"), (STRETCHED, "schematic"), (turn_arrow, "gusset"),
    (turn_arrow, "crown"), (move_marker, "gusset"), (move_sum, "gusset"), (drop_symbol, "gusset"),
    (drop_symbol, "key"), (foreign_symbol, "key"), (change_words, "key"), (change_words, "gusset"),
)  # fmt: skip
ROUND_UNKNOWN = {cover, off_page, shrink, drop_label, scrawl, lose_contour, recolour}
"""What leaves nothing to count at its place may be told by its place alone."""


@cache
def _maps(name: str) -> tuple[StitchMap, ...]:
    if name == "thumbless":
        return mittens(THUMBLESS)
    return graded(EXAMPLES / f"{name}.yaml").grading.maps


@cache
def _drawing(kind: str, name: str, size: int = 0, style: str = "default") -> tuple[bytes, ...]:
    look = load_style(style)
    maps = _maps(name)[size : size + 1]
    return tuple(svg_bytes(engrave(one, look)) for one in sheets(kind, maps, look, "US"))


def _found(
    svgs: tuple[bytes, ...], kind: str, name: str, size: int = 0
) -> tuple[Disagreement, ...]:
    return recount(svgs, Asked(kind, _maps(name)[size : size + 1]))


@pytest.mark.parametrize(("kind", "name", "size"), DRAWINGS)
def test_a_drawing_without_tags_has_one_note(kind: str, name: str, size: int) -> None:
    svgs = tuple(map(tags_lost, _drawing(kind, name, size)))
    found = _found(svgs, kind, name, size)
    assert [one.kind for one in found] == ["tags"]
    assert "checked from its shapes alone" in found[0].message


@pytest.mark.parametrize("lose", LOSERS, ids=lambda lose: lose.__name__)
@pytest.mark.parametrize("kind", ["thumb", "stripes"])
def test_whatever_tags_are_lost_nothing_is_invented(lose: Rewriter, kind: str) -> None:
    found = _found(tuple(map(lose, _drawing(kind, "boulder-hdc"))), kind, "boulder-hdc")
    assert {one.kind for one in found} <= {"tags"}


@pytest.mark.parametrize(("kind", "style"), [("gusset", "large-print"), ("cuff", "phone"),
                                             ("stripes", "ink-saver")])  # fmt: skip
def test_sheets_and_hatches_without_tags(kind: str, style: str) -> None:
    svgs = _drawing(kind, "kittiwake-post-rib", 0, style)
    for lose in (tags_lost, everything_lost):
        found = _found(tuple(map(lose, svgs)), kind, "kittiwake-post-rib")
        assert [one.kind for one in found] == ["tags"]


@pytest.mark.parametrize(
    ("fault", "kind"), FAULTS, ids=lambda one: one if isinstance(one, str) else one.__name__
)
def test_a_fault_without_tags_is_found(fault: Spoiler, kind: str) -> None:
    two = ["worked-example", "kittiwake-post-rib"]
    # By turns in the one and the other; where the one has nothing to spoil so, in the other.
    for name in two if len(fault.__name__) % 2 else reversed(two):
        svgs = _drawing(kind, name)
        broken = spoilt(svgs[0], fault, 11)
        if broken is None:
            continue
        found = [f for f in _found((broken.svg, *svgs[1:]), kind, name) if f.kind != "tags"]
        assert found, name
        if broken.rounds and fault not in ROUND_UNKNOWN and kind not in ("stripes", "schematic"):
            assert {str(f.round) for f in found} & broken.rounds, (name, found)
        return
    pytest.fail("nothing to spoil")


def test_a_count_without_parts_that_is_told_in_parts_is_found() -> None:
    root = tree(_drawing("thumb", "worked-example")[0])
    count = paths(root, data_role="count")[-1]
    count.set("data-role", "section")
    kinds = {f.kind for f in _found((bytes_of(root),), "thumb", "worked-example")}
    assert "printed" in kinds


@pytest.mark.parametrize("kind", ["gusset", "crown", "stripes", "schematic", "key"])
def test_outlined_strokes_are_one_finding(kind: str) -> None:
    (svg,) = _drawing(kind, "worked-example")
    for spoil in (strokes_outlined, lambda svg: tags_lost(strokes_outlined(svg))):
        assert [f.kind for f in _found((spoil(svg),), kind, "worked-example")] == ["outlined"]


def test_what_is_no_letter_is_read_as_none() -> None:
    arcs = subpaths("M10 10A2 2 0 1 1 14 10A2 1 0 1 1 10 10Z")
    assert decode(contours_of(arcs)) is None
    assert decode(contours_of(subpaths("M10 10L14 10L12 19L10 10Z"))) is None


@pytest.mark.parametrize("kind", ["cuff", "crown", "thumb", "key"])
def test_arcs_may_be_curves(kind: str) -> None:
    svgs = _drawing(kind, "kittiwake-post-rib")
    assert _found(tuple(map(arcs_as_curves, svgs)), kind, "kittiwake-post-rib") == ()
    lost = tuple(tags_lost(arcs_as_curves(svg)) for svg in svgs)
    assert [f.kind for f in _found(lost, kind, "kittiwake-post-rib")] == ["tags"]
