"""Hatches without tags: untouched strips and schematics have one note in every style, faults are
found by the strokes alone; and crowns in large print."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from xml.etree.ElementTree import SubElement

import pytest
from verify.breaking import Spoiler, bytes_of, parent, paths, points, tree
from verify.hatch_faults import HATCHED
from verify.rewriting import everything_lost, tags_lost
from verify.tagless_faults import spoilt
from verify.test_hatches import mitten

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.grading import grade
from gussetry.layout import sheets
from gussetry.pipeline import graded
from gussetry.plan import plan
from gussetry.spec import Stripe, Yarn
from gussetry.stitchmap import StitchMap
from gussetry.style import Style, load_style, names
from gussetry.verify import Asked, Disagreement, recount

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = tuple(sorted(path.stem for path in EXAMPLES.glob("*.yaml")))
KINDS = ("stripes", "schematic")
FOUND_BY = {
    "another_hatch": {"colour"},
    "hatches_exchanged": {"colour"},
    "hatch_gone": {"colour"},
    "stroke_gone": {"colour"},
    "stroke_moved": {"colour", "stray"},
    "edge_moved": {"strip", "colour"},
    "band_gone": {"strip", "outline"},
    "band_melted": {"strip", "outline"},
}
"""What a fault of hatches may be told as."""


@cache
def _maps(example: str) -> tuple[StitchMap, ...]:
    return graded(EXAMPLES / f"{example}.yaml").grading.maps


def _look(style: str, scale: float = 0.5) -> Style:
    """The style with stripes laid into the schematic."""
    own = load_style(style)
    return replace(own, schematic="stripes", scale=scale if style == "ink-saver" else own.scale)


def _drawn(kind: str, stitches: StitchMap, look: Style) -> tuple[bytes, ...]:
    return tuple(svg_bytes(engrave(one, look)) for one in sheets(kind, (stitches,), look, "US"))


def _found(svgs: tuple[bytes, ...], kind: str, stitches: StitchMap) -> tuple[Disagreement, ...]:
    return recount(svgs, Asked(kind, (stitches,)))


def _sound(kind: str, stitches: StitchMap, look: Style) -> None:
    svgs = _drawn(kind, stitches, look)
    for lose in (tags_lost, everything_lost):
        assert [one.kind for one in _found(tuple(map(lose, svgs)), kind, stitches)] == ["tags"]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("example", NAMES)
def test_hatched_stripes_without_tags_are_counted(example: str, kind: str) -> None:
    maps = _maps(example)
    _sound(kind, maps[len(maps) // 2], _look("ink-saver"))


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("style", [name for name in names() if name != "ink-saver"])
def test_stripes_of_every_style_are_counted(style: str, kind: str) -> None:
    # Leaders of this strip are broken around the numbers of rounds.
    example = "pebble-child" if kind == "stripes" else "kittiwake-post-rib"
    _sound(kind, _maps(example)[2], _look(style))


@pytest.mark.parametrize("scale", [0.2, 0.25, 0.5])
@pytest.mark.parametrize("kind", KINDS)
def test_twelve_hatches_in_low_bands_are_counted(kind: str, scale: float) -> None:
    svgs = _drawn(kind, mitten("many"), _look("ink-saver", scale))
    found = _found(tuple(map(tags_lost, svgs)), kind, mitten("many"))
    assert [one.kind for one in found] == ["tags"]


def test_a_stroke_cut_to_nothing_is_none() -> None:
    stitches = _maps("kittiwake-post-rib")[0]
    for kind in KINDS:
        (svg,) = _drawn(kind, stitches, _look("ink-saver"))
        root = tree(svg)
        stroke = paths(root, data_role="hatch")[0]
        at = points(stroke)[0]
        d = f"M{at.real:.3f} {at.imag:.3f}L{at.real:.3f} {at.imag:.3f}"
        SubElement(parent(root, stroke), stroke.tag, {**stroke.attrib, "d": d})
        found = _found((tags_lost(bytes_of(root)),), kind, stitches)
        assert [one.kind for one in found] == ["tags"]


@cache
def _upright(example: str) -> StitchMap:
    """A ribbed cuff in a yarn that is told by upright strokes, among its grooves."""
    spec = graded(EXAMPLES / f"{example}.yaml").spec
    yarns = tuple(Yarn(letter, f"wool {letter}", f"#{i * 40:02x}8040")
                  for i, letter in enumerate("ABCDEFGH"))  # fmt: skip
    stripes = (Stripe("D", 2), Stripe("H", 3))
    return grade(replace(spec, yarns=yarns, cuff=replace(spec.cuff, stripes=stripes))).maps[0]


@pytest.mark.parametrize("example", ["kittiwake-post-rib", "skerry-striped"])
def test_grooves_of_a_cuff_are_no_hatch(example: str) -> None:
    _sound("schematic", _upright(example), _look("ink-saver"))


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("fault", HATCHED, ids=lambda fault: fault.__name__)
def test_a_fault_of_hatches_without_tags_is_found(fault: Spoiler, kind: str) -> None:
    two = ["kittiwake-post-rib", "skerry-striped"]
    for turn, example in enumerate(two if len(fault.__name__) % 2 else reversed(two)):
        stitches = _maps(example)[turn]
        (svg,) = _drawn(kind, stitches, _look("ink-saver"))
        broken = spoilt(svg, fault, 11 + 4 * turn)
        assert broken is not None
        found = [one for one in _found((broken.svg,), kind, stitches) if one.kind != "tags"]
        assert {one.kind for one in found} & FOUND_BY[fault.__name__], found


@cache
def _crown(example: str, name: str, hand: str) -> tuple[tuple[bytes, ...], Asked]:
    """The sheets of a crown in large print, as the pattern has it with all its words."""
    work = graded(EXAMPLES / f"{example}.yaml")
    jobs = plan(work.spec, work.grading, replace(load_style("large-print"), hand=hand)).jobs
    (job,) = (job for job in jobs if job.name == name)
    drawn = sheets(job.kind, job.maps, job.style, job.terms, job.words)
    return tuple(svg_bytes(engrave(one, job.style)) for one in drawn), job.asked()


@pytest.mark.parametrize(("name", "hand"), [("M/crown", "right"), ("M/crown-lefthand", "left")])
def test_faint_rings_of_a_large_crown_are_counted(name: str, hand: str) -> None:
    # On the second sheet every decrease of the ring is faint, and stands aslant.
    svgs, asked = _crown("kittiwake-post-rib", name, hand)
    assert len(svgs) == 2
    assert [one.kind for one in recount(tuple(map(tags_lost, svgs)), asked)] == ["tags"]


def test_broken_side_lines_of_an_unrolled_crown_are_counted() -> None:
    svgs, asked = _crown("skerry-striped", "XL/crown", "right")
    assert b"unrolled" in svgs[0]
    assert [one.kind for one in recount(tuple(map(tags_lost, svgs)), asked)] == ["tags"]
