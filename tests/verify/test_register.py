"""Strip and schematic side by side, in every style; and what is found where they are spoilt."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from itertools import pairwise
from xml.etree.ElementTree import Element

import pytest
from grading.test_worked_example import spec as worked
from layout.sheets import FINGERLESS, FIVE_SIZES, SIDED, THUMBLESS, chart, mittens
from verify.breaking import bytes_of, mapped, move, paths, points, tree

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.grading.cautions import CAUTIONS
from gussetry.stitchmap import StitchMap
from gussetry.style import Style, load_style
from gussetry.verify import Asked, recount

DEFAULT = load_style("default")
LARGE = load_style("large-print")
PHONE = load_style("phone")
STYLES = {
    "default": DEFAULT,
    "phone": PHONE,
    "large print on A4": replace(LARGE, width=180.0, height=257.0),
    "striped": replace(DEFAULT, schematic="stripes"),
    "striped in ink": replace(load_style("ink-saver"), schematic="stripes"),
}
MAPS = {
    "worked": mittens(worked())[0],
    "five sizes": mittens(FIVE_SIZES)[3],
    "right": mittens(SIDED)[-1],
    "fingerless": mittens(FINGERLESS)[1],
    "thumbless": mittens(THUMBLESS)[0],
}
CASES = [(name, style) for name in MAPS for style in STYLES]
EXACT = 0.01


@cache
def drawing(name: str, kind: str, style: str = "default") -> bytes:
    look = STYLES[style]
    return svg_bytes(engrave(chart(kind, (MAPS[name],), look, "US", CAUTIONS[:2]), look))


def asked(kind: str, *maps: StitchMap, style: Style = DEFAULT) -> Asked:
    return Asked(kind, maps, cm_step_mm=style.cm_step, inch_step=style.inch_step)


def found(svg: bytes, name: str, kind: str) -> set[str]:
    return {finding.kind for finding in recount(svg, asked(kind, MAPS[name]))}


# --- side by side -----------------------------------------------------------------------------


def strip_levels(root: Element) -> dict[str, float]:
    """Where the leader of each landmark leaves the strip, mm from the top of the page."""
    edge = max(p.real for band in paths(root, data_role="stripe") for p in points(band))
    return {
        line.get("data-landmark", ""): start.imag
        for line in paths(root, data_role="rule")
        if line.get("data-landmark")
        for start in points(line)
        if abs(start.real - edge) < EXACT
    }


def schematic_levels(root: Element, stitches: StitchMap) -> dict[str, float]:
    """The same heights from the corners of the outlines."""
    ys = {
        piece: sorted(p.imag for line in paths(root, data_role="outline", data_piece=piece)
                      for p in points(line))
        for piece in ("cuff", "hand", "thumb")
    }  # fmt: skip
    hand = stitches.piece("hand")
    foot, tip = ys["hand"][-1], ys["hand"][0]
    step = (foot - tip) / len(hand.counted)
    levels = {"pick-up": foot, "tip": tip, "upper edge": tip}
    if ys["cuff"]:
        levels["cuff"] = ys["cuff"][-1]
    if ys["thumb"]:
        # The thumb stands on the division's ledge.
        levels["division"] = ys["thumb"][-1]
    for name, starts in (("gusset", ("gusset",)), ("crown", ("crown", "close")),
                         ("edging", ("edging",))):  # fmt: skip
        first = [r for r in hand.counted if r.phase.startswith(starts)][:1]
        for r in first:
            due = foot - (r.number - 1) * step
            levels[name] = min(ys["hand"], key=lambda y: abs(y - due))
    return levels


@pytest.mark.parametrize(("name", "style"), CASES)
def test_laid_side_by_side_every_landmark_meets(name: str, style: str) -> None:
    strip, schematic = (tree(drawing(name, kind, style)) for kind in ("stripes", "schematic"))
    for tag in ("data-scale", "data-top", "data-foot"):
        assert strip.get(tag) == schematic.get(tag)
    left, right = strip_levels(strip), schematic_levels(schematic, MAPS[name])
    assert {"pick-up", "crown" if "tip" in left else "edging"} <= set(left) <= set(right)
    for landmark, level in left.items():
        assert level == pytest.approx(right[landmark], abs=EXACT), landmark


@pytest.mark.parametrize(("name", "style"), CASES)
def test_both_recount_within_the_column(name: str, style: str) -> None:
    look = STYLES[style]
    for kind in ("stripes", "schematic"):
        svg = drawing(name, kind, style)
        assert recount(svg, asked(kind, MAPS[name], style=look)) == ()
        root = tree(svg)
        assert float(root.get("width", "").removesuffix("mm")) <= look.width
        assert float(root.get("height", "").removesuffix("mm")) <= look.height


def test_a_narrow_column_lists_its_measures_under_letters() -> None:
    maps = mittens(FIVE_SIZES)
    svg = svg_bytes(engrave(chart("schematic", maps, PHONE, "US", ()), PHONE))
    assert recount(svg, asked("schematic", *maps, style=PHONE)) == ()
    letters = [p.get("data-says") for p in paths(tree(svg), data_role="letter")]
    assert sorted(letters) == sorted("abcdefgh" * 2)


def test_stripes_are_laid_in_only_where_they_are_wished() -> None:
    assert not paths(tree(drawing("worked", "schematic")), data_role="stripe")
    root = tree(drawing("worked", "schematic", "striped"))
    pieces = {p.get("data-piece") for p in paths(root, data_role="stripe")}
    assert pieces == {"cuff", "hand", "thumb"}


# --- spoilt -----------------------------------------------------------------------------------


def stretched(line: Element, wide: float = 1.0, tall: float = 1.0) -> None:
    ys, xs = [p.imag for p in points(line)], [p.real for p in points(line)]
    x, y = (min(xs) + max(xs)) / 2, max(ys)
    line.set("d", mapped(line.get("d", ""), x * (1 - wide), y * (1 - tall), wide, tall))


def bent(line: Element, which: Callable[[list[complex]], int], by: complex) -> None:
    """Moves one corner of an outline."""
    corners = points(line)
    at = which(corners)
    corners[at] += by
    line.set("d", "M" + "L".join(f"{p.real:.3f} {p.imag:.3f}" for p in corners) + "Z")


def one(root: Element, **tags: str) -> Element:
    return paths(root, **tags)[0]


def a_hand_a_little_wider(root: Element) -> None:
    stretched(one(root, data_role="outline", data_piece="hand"), wide=1.001)


def a_hand_a_little_taller(root: Element) -> None:
    stretched(one(root, data_role="outline", data_piece="hand"), tall=1.0003)


def the_crown_begins_lower(root: Element) -> None:
    hand = one(root, data_role="outline", data_piece="hand")
    tip = min(p.imag for p in points(hand))
    corners = points(hand)
    level = next(p.imag for a, p in pairwise(corners)
                 if a.real == min(q.real for q in corners[1:]) and p.real != a.real)  # fmt: skip
    assert level > tip
    bent(hand, lambda ps: next(i for i, p in enumerate(ps) if p.imag == level), 0.4j)


def the_thumb_higher(root: Element) -> None:
    move(one(root, data_role="outline", data_piece="thumb"), 0, -0.05)


def a_cuff_deeper(root: Element) -> None:
    stretched(one(root, data_role="outline", data_piece="cuff"), tall=1.002)


def a_dimension_line_longer(root: Element) -> None:
    line = one(root, data_role="dimension", data_measure="hand length")
    data = line.get("d", "")
    low = max(points(line), key=lambda p: p.imag)
    new = f"{low.imag + 0.4:.3f}"
    line.set("d", data.replace(f"{low.imag:g}", new))
    assert line.get("d") != data


def a_dimension_line_lower(root: Element) -> None:
    line = one(root, data_role="dimension", data_measure="hand length")
    ends = set(points(line))
    for part in [line, *(a for a in paths(root, data_role="arrow") if ends & set(points(a)))]:
        move(part, 0, 0.3)


def an_arrowhead_lost(root: Element) -> None:
    ends = set(points(one(root, data_role="dimension", data_measure="total length")))
    head = next(a for a in paths(root, data_role="arrow") if ends & set(points(a)))
    head.set("d", head.get("d", "").split("Z")[0] + "Z")


def two_measures_exchanged(root: Element) -> None:
    a, b = (one(root, data_role="measure", data_measure=f"{name} length")
            for name in ("hand", "total"))  # fmt: skip
    a.set("data-measure", "total length")
    b.set("data-measure", "hand length")


def a_measure_from_its_line(root: Element) -> None:
    move(one(root, data_role="measure", data_measure="cuff depth"), 0, 25)


def the_root_tells_another_top(root: Element) -> None:
    root.set("data-top", "12.5")


def the_root_tells_another_scale(root: Element) -> None:
    root.set("data-scale", "0.505")


SCHEMATIC = (
    a_hand_a_little_wider, a_hand_a_little_taller, the_crown_begins_lower, the_thumb_higher,
    a_cuff_deeper, a_dimension_line_longer, a_dimension_line_lower, an_arrowhead_lost,
    two_measures_exchanged, a_measure_from_its_line, the_root_tells_another_top,
    the_root_tells_another_scale,
)  # fmt: skip


@pytest.mark.parametrize("spoil", SCHEMATIC, ids=lambda spoil: spoil.__name__)
def test_a_spoilt_schematic_is_found(spoil: Callable[[Element], None]) -> None:
    root = tree(drawing("worked", "schematic"))
    spoil(root)
    wrong = found(bytes_of(root), "worked", "schematic")
    assert wrong & {"outline", "dimension", "measure", "root"}


def a_band_one_round_out(root: Element) -> None:
    """The first round of another yarn drawn in the yarn of the round before."""
    bands = paths(root, data_role="stripe", data_piece="hand")
    at = next(i for i, band in enumerate(bands[1:], 1)
              if band.get("fill") != bands[i - 1].get("fill"))  # fmt: skip
    for tag in ("fill", "data-yarn"):
        bands[at].set(tag, bands[at - 1].get(tag, ""))


def bands_a_little_higher(root: Element) -> None:
    for band in paths(root, data_role="stripe", data_piece="hand")[-3:]:
        move(band, 0, -0.03)


def a_landmark_a_round_higher(root: Element) -> None:
    move(one(root, data_role="rule", data_landmark="division"), 0, -2.5)


def a_landmark_at_the_other_end(root: Element) -> None:
    line = one(root, data_role="rule", data_landmark="gusset")
    start = points(line)[0].imag
    line.set("d", line.get("d", "").replace(f" {start:g}", f" {start - 2.5:.3f}"))


def a_leader_to_the_next_stripe(root: Element) -> None:
    lines = [p for p in paths(root, data_role="rule") if p.get("data-piece") == "hand"]
    start = points(lines[2])[0].imag
    lines[2].set("d", lines[2].get("d", "").replace(f" {start:g}", f" {start + 8:.3f}", 1))


def a_letter_lost(root: Element) -> None:
    letter = one(root, data_role="yarn", data_piece="hand")
    next(g for g in root.iter() if letter in list(g)).remove(letter)


def a_number_beside_another_round(root: Element) -> None:
    move(one(root, data_role="round"), 0, -2.5)


STRIP = (
    a_band_one_round_out, bands_a_little_higher, a_landmark_a_round_higher,
    a_landmark_at_the_other_end, a_leader_to_the_next_stripe, a_letter_lost,
    a_number_beside_another_round, the_root_tells_another_top, the_root_tells_another_scale,
)  # fmt: skip


@pytest.mark.parametrize("spoil", STRIP, ids=lambda spoil: spoil.__name__)
def test_a_spoilt_strip_is_found(spoil: Callable[[Element], None]) -> None:
    root = tree(drawing("worked", "stripes"))
    before = bytes_of(root)
    spoil(root)
    assert bytes_of(root) != before
    wrong = found(bytes_of(root), "worked", "stripes")
    assert wrong & {"strip", "landmark", "colour", "printed", "place", "root", "tag"}


def a_stripe_higher(root: Element) -> None:
    move(paths(root, data_role="stripe", data_piece="thumb")[1], 0, -0.05)


def a_stripe_beside_its_outline(root: Element) -> None:
    move(paths(root, data_role="stripe", data_piece="hand")[3], 0.1, 0)


def a_stripe_in_another_colour(root: Element) -> None:
    paths(root, data_role="stripe", data_piece="hand")[2].set("fill", "#0a0a0a")


def a_stripe_gone(root: Element) -> None:
    stripe = paths(root, data_role="stripe", data_piece="thumb")[0]
    next(g for g in root.iter() if stripe in list(g)).remove(stripe)


def stripes_not_told(root: Element) -> None:
    del root.attrib["data-stripes"]


def a_hatch_stroke_gone(root: Element) -> None:
    strokes = [p for p in paths(root, data_role="hatch") if p.get("data-yarn") == "B"]
    longest = max(strokes, key=lambda p: abs(points(p)[0] - points(p)[-1]))
    next(g for g in root.iter() if longest in list(g)).remove(longest)


def a_hatch_of_another_yarn(root: Element) -> None:
    for stroke in paths(root, data_role="hatch"):
        a, b = points(stroke)
        stroke.set("d", f"M{a.real} {b.imag}L{b.real} {a.imag}")


LAID = (
    a_stripe_higher, a_stripe_beside_its_outline, a_stripe_in_another_colour, a_stripe_gone,
    stripes_not_told,
)  # fmt: skip
HATCHED = (*LAID, a_hatch_stroke_gone, a_hatch_of_another_yarn)


@pytest.mark.parametrize(
    ("style", "spoil"),
    [*(("striped", spoil) for spoil in LAID), *(("striped in ink", spoil) for spoil in HATCHED)],
    ids=lambda value: value if isinstance(value, str) else value.__name__,
)
def test_spoilt_stripes_in_a_schematic_are_found(
    style: str, spoil: Callable[[Element], None]
) -> None:
    root = tree(drawing("worked", "schematic", style))
    spoil(root)
    assert found(bytes_of(root), "worked", "schematic") & {"strip", "colour", "root", "tag"}


def test_letters_exchanged_in_a_list_are_found() -> None:
    maps = mittens(FIVE_SIZES)
    root = tree(svg_bytes(engrave(chart("schematic", maps, PHONE, "US", ()), PHONE)))
    a, b = paths(root, data_role="letter")[:2]
    for tag in ("d", "data-says"):
        first, second = a.get(tag, ""), b.get(tag, "")
        a.set(tag, second)
        b.set(tag, first)
    wrong = recount(bytes_of(root), asked("schematic", *maps, style=PHONE))
    assert "measure" in {finding.kind for finding in wrong}


def test_a_size_named_at_another_outline_is_found() -> None:
    maps = mittens(FIVE_SIZES)
    root = tree(svg_bytes(engrave(chart("schematic", maps, DEFAULT, "US", ()), DEFAULT)))
    leaders = [p for p in paths(root, data_role="rule") if p.get("data-size")]
    assert len(leaders) == len(maps)
    tip = points(leaders[0])[0]
    data = leaders[0].get("d", "")
    leaders[0].set("d", re.sub(r"^M\S+ \S+?L", f"M{tip.real} {tip.imag - 3}L", data))
    assert leaders[0].get("d") != data
    wrong = recount(bytes_of(root), asked("schematic", *maps))
    assert [finding.kind for finding in wrong] == ["outline"]
