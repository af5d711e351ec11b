"""Cuffs of post stitches and of tall back loops: drawn, recounted, and found out when spoilt."""

from __future__ import annotations

import copy
import itertools
import re
from dataclasses import replace
from fractions import Fraction
from functools import cache
from xml.etree.ElementTree import Element

import pytest
from grading.test_cuffs import POST
from grading.test_worked_example import spec as worked
from layout.sheets import chart
from verify.breaking import bytes_of, centre, mapped, paths, points, tree
from verify.pen import outline

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.grading import grade
from gussetry.layout import Terms, kinds, sheets
from gussetry.spec import Gauge, Spec, Stitch
from gussetry.stitchmap import StitchMap
from gussetry.style import load_style
from gussetry.verify import Asked, Disagreement, recount
from gussetry.verify.paths import flattened, subpaths
from gussetry.verify.strokes import Symbol


def tall(stitch: Stitch) -> Spec:
    """A cuff sideways in the back loop of tall stitches."""
    sample = worked()
    rib = Gauge(stitch, Fraction(6), Fraction(9))
    return replace(sample, cuff=replace(sample.cuff, gauge=rib, rows=(20,), stitches=(9,)))


def posts(stitch: Stitch, joined: bool) -> Spec:
    """A cuff of post stitches, in joined rounds or in a spiral."""
    return replace(
        POST,
        gauge=Gauge("sc", Fraction(5), Fraction(9, 2)),
        cuff=replace(POST.cuff, gauge=Gauge(stitch, Fraction(9, 2), Fraction(7))),
        lower_hand=replace(POST.lower_hand, joined=joined),
    )


CUFFS = {
    "back loop hdc": tall("hdc"),
    "back loop dc": tall("dc"),
    "post hdc": posts("hdc", joined=True),
    "post dc": posts("dc", joined=False),
}


@cache
def mitten(name: str) -> StitchMap:
    """The largest size: its cuff's rounds are too long to be drawn whole."""
    return grade(CUFFS[name]).maps[-1]


@cache
def drawing(
    name: str, kind: str, style: str = "default", pitch: float = 0, terms: Terms = "US"
) -> bytes:
    look = load_style(style)
    look = replace(look, stitch=pitch) if pitch else look
    return svg_bytes(engrave(chart(kind, (mitten(name),), look, terms), look))


def findings(root: Element, name: str, kind: str = "cuff") -> tuple[Disagreement, ...]:
    return recount(bytes_of(root), Asked(kind, (mitten(name),)))


@pytest.mark.parametrize("terms", ["US", "UK"])
@pytest.mark.parametrize("style", ["default", "large-print"])
@pytest.mark.parametrize("name", CUFFS)
def test_every_drawing_recounts(name: str, style: str, terms: Terms) -> None:
    stitches = mitten(name)
    look = load_style(style)
    for kind in (*kinds(stitches), "key"):
        svgs = [svg_bytes(engrave(one, look)) for one in sheets(kind, (stitches,), look, terms)]
        assert recount(svgs, Asked(kind, (stitches,), terms)) == (), kind


@pytest.mark.parametrize("name", CUFFS)
def test_ribs_are_told_apart_at_the_smallest_pitch(name: str) -> None:
    assert recount(drawing(name, "cuff", pitch=2.2), Asked("cuff", (mitten(name),))) == ()


@pytest.mark.parametrize("style", ["default", "large-print"])
@pytest.mark.parametrize("name", CUFFS)
def test_no_symbol_touches_another_at_the_smallest_pitch(name: str, style: str) -> None:
    pitch = load_style(style).least_stitch
    root = tree(drawing(name, "cuff", style, pitch=pitch))
    stitches = paths(root, class_="stitch")
    own = {"default": 0.18, "large-print": 0.5}[style]
    pens = {float(path.get("stroke-width", own)) for path in stitches if not path.get("fill")}
    (pen,) = pens
    assert pen == own
    inked = [(centre(path), trace(path)) for path in stitches]
    for (here, one), (there, other) in itertools.combinations(inked, 2):
        if abs(here - there) < 2 * pitch:
            clear = min(abs(p - q) for p in one for q in other) - pen
            assert clear > 0.15, (here, there)


def trace(path: Element) -> list[complex]:
    """Points along the strokes of a symbol, close by each other."""
    found: list[complex] = []
    for sub in subpaths(path.get("d", "")):
        corners = [sub.start, *sub.points] if sub.straight else flattened(sub)
        for a, b in itertools.pairwise(corners):
            found += [a + (b - a) * i / 5 for i in range(6)]
    return found


def left(path: Element) -> float:
    """Where a path begins on its left."""
    return min(point.real for point in points(path))


def mirrored(data: str) -> str:
    """A symbol's strokes turned over left for right, about the foot of its leg."""
    axis = float(data.removeprefix("M").split(" ")[0])
    flipped = mapped(data, 2 * axis, 0, sx=-1)
    # An arc turned over runs the other way round; radii have no sign.
    arcs = re.sub(r"A-?([\d.]+) ([\d.]+) -?([\d.]+) ([01]) ([01])", _turned, flipped)
    return arcs


def _turned(arc: re.Match[str]) -> str:
    return f"A{arc[1]} {arc[2]} {arc[3]} {arc[4]} {1 - int(arc[5])}"


@pytest.mark.parametrize("name", ["post hdc", "post dc"])
def test_a_front_post_turned_over_is_a_back_post(name: str) -> None:
    root = tree(drawing(name, "cuff"))
    stitch = name.removeprefix("post ")
    (one,) = paths(root, class_="stitch", data_round="3", data_index="8")
    side = one.get("data-do", "")[:2]
    one.set("d", mirrored(one.get("d", "")))
    (found,) = findings(root, name)
    other = {"fp": "bp", "bp": "fp"}[side] + stitch
    assert (found.kind, found.round, found.index) == ("kind", 3, 8)
    assert (found.expected, found.found) == (str(Symbol(side + stitch)), str(Symbol(other)))


@pytest.mark.parametrize("name", ["post hdc", "post dc"])
def test_neighbours_swapped_with_their_tags_are_found(name: str) -> None:
    root = tree(drawing(name, "cuff"))
    first, second = (paths(root, class_="stitch", data_round="4", data_index=n)[0] for n in "67")
    apart = centre(second).real - centre(first).real
    datas = mapped(second.get("d", ""), -apart, 0), mapped(first.get("d", ""), apart, 0)
    for path, data, do in zip(
        (first, second), datas, (second.get("data-do", ""), first.get("data-do", "")), strict=True
    ):
        path.set("d", data)
        path.set("data-do", do)
    found = findings(root, name)
    assert [f.kind for f in found].count("kind") == 2
    assert [f.kind for f in found].count("tag") == 2


def test_a_hook_that_came_off_or_was_lost_is_found() -> None:
    sound = drawing("post dc", "cuff")
    for spoilt in (lambda hook: "", lambda hook: mapped(hook, 0, 0.6)):
        root = tree(sound)
        (one,) = paths(root, class_="stitch", data_round="2", data_index="5")
        data = one.get("d", "")
        at = data.rindex("M")
        assert "A" in data[at:]
        one.set("d", data[:at] + spoilt(data[at:]))
        found = findings(root, "post dc")
        assert found[0].kind in ("shape", "kind")
        assert (found[0].round, found[0].index) == (2, 5)


def test_a_post_stitch_dropped_doubled_or_tagged_as_another_is_found() -> None:
    sound = drawing("post hdc", "cuff")
    for what in ("drop", "double", "tag"):
        root = tree(sound)
        (one,) = paths(root, class_="stitch", data_round="5", data_index="9")
        parent = next(e for e in root.iter() if one in list(e))
        if what == "drop":
            parent.remove(one)
        elif what == "double":
            parent.append(copy.deepcopy(one))
        else:
            one.set("data-do", {"f": "bphdc", "b": "fphdc"}[one.get("data-do", "")[0]])
        kinds_found = {f.kind for f in findings(root, "post hdc")}
        assert {"drop": "count", "double": "count", "tag": "tag"}[what] in kinds_found


def test_a_sum_of_ribs_that_counts_otherwise_is_found() -> None:
    sound = drawing("post dc", "cuff")
    says = next(p.get("data-says", "") for p in paths(tree(sound), data_role="sum")
                if "times" in p.get("data-says", ""))  # fmt: skip
    assert re.fullmatch(r"\(FPdc, BPdc\) \d+ times", says)
    number = int(re.findall(r"\d+", says)[0])
    for other in (
        says.replace(str(number), str(number - 1)),
        says.replace("FPdc, BPdc", "BPdc, FPdc"),
        f"{2 * number} FPdc",
    ):
        root = tree(sound)
        label = next(p for p in paths(root, data_role="sum") if p.get("data-says") == says)
        label.set("data-says", other)
        label.set("d", outline(other, left(label), centre(label).imag + 1))
        assert {f.kind for f in findings(root, "post dc")} & {"kind", "count"}, other


@pytest.mark.parametrize("kind", ["key", "cuff"])
def test_a_key_that_calls_front_back_is_found(kind: str) -> None:
    root = tree(drawing("post hdc", kind))
    words = [p for p in paths(root, data_role="term") if "from the" in p.get("data-says", "")]
    assert len(words) == 2
    datas = [(p.get("data-says", ""), p.get("d", "")) for p in words]
    down, right = centre(words[1]).imag - centre(words[0]).imag, left(words[1]) - left(words[0])
    for path, (says, data), way in zip(words, reversed(datas), (-1, 1), strict=True):
        path.set("data-says", says)
        path.set("d", mapped(data, way * right, way * down))
    assert [f.kind for f in findings(root, "post hdc", kind)].count("key") == 2


def test_a_wide_rib_is_drawn_in_part_and_summed_in_pairs() -> None:
    svg = drawing("post dc", "cuff").decode()
    cuff = mitten("post dc").piece("cuff")
    assert cuff is not None
    assert cuff.rounds[1].count > 32
    hidden = (cuff.rounds[1].count - 16) // 2
    shown = len(cuff.counted) - 1 - _summed(svg)
    assert svg.count(f'data-says="(FPdc, BPdc) {hidden} times"') == shown


def _summed(svg: str) -> int:
    """Rounds that stand in a sum of whole rounds."""
    spans = re.findall(r'data-says="rounds (\d+)–(\d+):', svg)
    return sum(int(last) - int(first) + 1 for first, last in spans)


@pytest.mark.parametrize(("name", "apart"), [("post dc", 9), ("back loop dc", 18)])
def test_ribs_on_the_schematic_are_as_wide_as_their_stitches(name: str, apart: int) -> None:
    root = tree(drawing(name, "schematic"))
    scale = float(root.get("data-scale", "0"))
    grooves = sorted(points(path)[0].real for path in paths(root, data_role="rib"))
    assert len(grooves) > 2
    for one, other in itertools.pairwise(grooves):
        assert other - one == pytest.approx(apart * scale, abs=0.01)
