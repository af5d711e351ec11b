"""Open and thumbless mittens: their drawings recount, and are found out when spoilt."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import count
from xml.etree.ElementTree import Element

import pytest
from grading.strategies import specs
from hypothesis import HealthCheck, Phase, given, reject, settings
from layout.sheets import FINGERLESS, OPEN_THUMB, THUMBLESS, chart
from verify.breaking import STITCHES, Spoiler, bytes_of, paths, points, tree
from verify.breaking_more import REST
from verify.pen import outline

from gussetry.diagnostics import Faults
from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.grading import grade
from gussetry.layout import Terms, kinds, sheets
from gussetry.spec import Spec
from gussetry.stitchmap import StitchMap
from gussetry.style import load_style
from gussetry.verify import Asked, Disagreement, recount

SPECS = {"fingerless": FINGERLESS, "open thumb": OPEN_THUMB, "thumbless": THUMBLESS}


@cache
def mittens(name: str) -> tuple[StitchMap, ...]:
    return grade(SPECS[name]).maps


CASES = [(name, kind) for name in SPECS for kind in (*kinds(mittens(name)[-1]), "key")]


SPOILT = [
    *(("fingerless", kind) for kind in ("gusset", "thumb", "stripes", "schematic")),
    *(("thumbless", kind) for kind in ("hand", "crown")),
]
"""What no closed mitten has: an edging in each drawing, a hand chart, a half-way point."""


ELSEWHERE = ("drop joined",)
"""Faults in what these have not: they are bridged with chains."""


@cache
def drawing(name: str, kind: str, style: str = "default", terms: Terms = "US") -> bytes:
    """A drawing of the last map: the largest size, or the right mitten."""
    look = load_style(style)
    return svg_bytes(engrave(chart(kind, mittens(name)[-1:], look, terms), look))


def found(svg: bytes, name: str, kind: str, terms: Terms = "US") -> tuple[Disagreement, ...]:
    return recount(svg, Asked(kind, mittens(name)[-1:], terms))


@pytest.mark.parametrize(("style", "terms"), [("default", "UK"), ("large-print", "US")])
@pytest.mark.parametrize(("name", "kind"), CASES)
def test_every_drawing_recounts(name: str, kind: str, style: str, terms: Terms) -> None:
    look = load_style(style)
    made = sheets(kind, mittens(name)[-1:], look, terms)
    svgs = [svg_bytes(engrave(one, look)) for one in made]
    assert recount(svgs, Asked(kind, mittens(name)[-1:], terms)) == ()


@pytest.mark.parametrize("name", ["fingerless", "thumbless"])
def test_all_sizes_nested_recount(name: str) -> None:
    look = load_style("default")
    svg = svg_bytes(engrave(chart("schematic", mittens(name), look, "US"), look))
    assert recount(svg, Asked("schematic", mittens(name))) == ()


@pytest.mark.parametrize("spoil", STITCHES + REST, ids=lambda spoil: spoil.__name__)
def test_every_spoilt_drawing_is_found(spoil: Spoiler) -> None:
    tried = 0
    for (name, kind), n in zip(SPOILT, count(2, 7), strict=False):
        root = tree(drawing(name, kind))
        if spoil(root, n):
            tried += 1
            assert found(bytes_of(root), name, kind), (name, kind)
    assert bool(tried) == (spoil.__name__ not in ELSEWHERE)


@settings(
    derandomize=True, max_examples=12, deadline=None, phases=[Phase.explicit, Phase.generate],
    suppress_health_check=list(HealthCheck),
)  # fmt: skip
@given(specs().filter(lambda spec: (spec.crown.style, spec.thumb.style) != ("closed", "closed")))
def test_whatever_ends_open_or_has_no_thumb_recounts(spec: Spec) -> None:
    try:
        stitches = grade(spec).maps[-1]
    except Faults:
        reject()
    look = load_style("default")
    for kind in set(kinds(stitches)) - {"cuff"}:
        made = sheets(kind, [stitches], look, spec.terms)
        svgs = [svg_bytes(engrave(one, look)) for one in made]
        assert recount(svgs, Asked(kind, (stitches,), spec.terms)) == (), kind


def without_rounds(stitches: StitchMap, piece: str, phase: str) -> StitchMap:
    """The map without the last round of a phase."""
    pieces = []
    for p in stitches.pieces:
        last = [r for r in p.rounds if p.piece == piece and r.phase == phase][-1:]
        pieces.append(replace(p, rounds=tuple(r for r in p.rounds if r not in last)))
    return replace(stitches, pieces=tuple(pieces))


@pytest.mark.parametrize(
    ("name", "kind", "piece", "phase"),
    [
        ("fingerless", "gusset", "hand", "edging"),
        ("fingerless", "thumb", "thumb", "edging"),
        ("fingerless", "stripes", "hand", "edging"),
        ("fingerless", "schematic", "hand", "edging"),
        ("fingerless", "schematic", "thumb", "edging"),
        ("open thumb", "thumb", "thumb", "edging"),
        ("thumbless", "hand", "hand", "outer edge"),
        ("thumbless", "hand", "hand", "hand"),
        ("thumbless", "crown", "hand", "crown sides"),
        ("thumbless", "schematic", "hand", "crown sides"),
    ],
)
def test_a_round_too_many_is_found(name: str, kind: str, piece: str, phase: str) -> None:
    shorter = without_rounds(mittens(name)[-1], piece, phase)
    assert recount(drawing(name, kind), Asked(kind, (shorter,)))


def say(label: Element, text: str) -> None:
    """Rewrites a label, outline and claim, where it began."""
    low = min(p.real for p in points(label)), max(p.imag for p in points(label))
    label.set("data-says", text)
    label.set("d", outline(text, *low))


@pytest.mark.parametrize(
    "text", ["edging: end of round 24", "tip: start of round 24", "edging", "crown"]
)
def test_an_edging_named_wrongly_on_the_strip_is_found(text: str) -> None:
    root = tree(drawing("fingerless", "stripes"))
    (mark,) = paths(root, **{"data-role": "landmark", "data-landmark": "edging"})
    assert mark.get("data-says", "").startswith("edging: start of round ")
    say(mark, text)
    kinds_found = {f.kind for f in found(bytes_of(root), "fingerless", "stripes")}
    assert "landmark" in kinds_found


def test_a_landmark_that_the_mitten_has_not_is_found() -> None:
    for name, landmark in (("fingerless", "tip"), ("thumbless", "division")):
        root = tree(drawing(name, "stripes"))
        marks = paths(root, **{"data-role": "landmark"})
        mark = next(p for p in marks if p.get("data-landmark") != "cuff")
        mark.set("data-landmark", landmark)
        messages = {f.message for f in found(bytes_of(root), name, "stripes")}
        assert f"the mitten has no {landmark}" in messages


def test_a_measure_that_a_thumbless_mitten_has_not_is_found() -> None:
    root = tree(drawing("thumbless", "schematic"))
    (length,) = paths(root, **{"data-role": "measure", "data-measure": "hand length"})
    length.set("data-measure", "crook height")
    messages = {f.message for f in found(bytes_of(root), "thumbless", "schematic")}
    assert {
        "the mitten has no measure 'crook height'",
        "the hand length is not printed",
    } <= messages


def test_a_drawing_of_a_piece_that_is_not_there_is_found() -> None:
    stitches = mittens("thumbless")[-1]
    svg = drawing("fingerless", "thumb")
    assert [f.message for f in recount(svg, Asked("thumb", (stitches,))) if f.kind == "rows"] == [
        "the map has no such piece"
    ]
