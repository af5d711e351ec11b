"""Drawings without colours: yarns by hatches, recounted, and found out when spoilt."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path
from xml.etree.ElementTree import Element

import pytest
from grading.test_worked_example import spec as worked
from grading.warned import free
from layout.sheets import FINGERLESS, THUMBLESS, chart
from verify.breaking import bytes_of, paths, tree

from gussetry.colours import contrast
from gussetry.diagnostics import Faults
from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.grading import grade
from gussetry.layout import kinds
from gussetry.layout.hatches import HATCHES, hatched
from gussetry.spec import Spec, Stripe, Stripes, Yarn
from gussetry.stitchmap import StitchMap
from gussetry.style import inks, load_style
from gussetry.verify import Asked, Disagreement, recount
from gussetry.verify.hatching import hatch_of

LOOK = load_style("ink-saver")
LETTERS = "ABCDEFGHIJKL"


def many(rounds: int = 1) -> Spec:
    """As many yarns as a specification can have, in stripes of so many rounds."""
    yarns = tuple(Yarn(c, f"wool {c}", f"#{i * 20:02x}8040") for i, c in enumerate(LETTERS))
    plan = Stripes(tuple(Stripe(letter, rounds) for letter in LETTERS))
    return replace(free(190), yarns=yarns, stripes=plan)


SPECS = {"two": worked(), "open": FINGERLESS, "infant": THUMBLESS, "many": many(), "low": many(2)}


@cache
def mitten(name: str) -> StitchMap:
    return grade(SPECS[name]).maps[0]


@cache
def strip(name: str, style: str = "ink-saver", yarns: str = "") -> bytes:
    """The strip; `yarns`: hatched as if they were declared in that order."""
    look = load_style(style)
    if not yarns:
        return svg_bytes(engrave(chart("stripes", (mitten(name),), look, "US"), look))
    plain = chart("stripes", (mitten(name),), replace(look, yarns="colours"), "US")
    return svg_bytes(engrave(hatched(plain, list(yarns)), look))


def found(svg: bytes, name: str = "many") -> tuple[Disagreement, ...]:
    return recount(svg, Asked("stripes", (mitten(name),)))


CASES = [(name, kind) for name in SPECS for kind in (*kinds(mitten(name)), "key")]


@pytest.mark.parametrize(("name", "kind"), CASES)
def test_every_drawing_recounts_in_black_alone(name: str, kind: str) -> None:
    svg = svg_bytes(engrave(chart(kind, (mitten(name),), LOOK, "US"), LOOK))
    assert recount(svg, Asked(kind, (mitten(name),))) == ()
    painted = set(re.findall(rb'(?:fill|stroke)="([^"]+)"', svg))
    assert painted <= {b"none", b"#000000", b"#ffffff"}
    assert b"pattern" not in svg.lower().replace(b"pattern:", b"")


@pytest.mark.parametrize("scale", [0.1, 0.25, 0.75, 2.0])
def test_low_bands_are_read_at_every_scale(scale: float) -> None:
    look = replace(LOOK, scale=scale, height=1500.0)
    drawn = chart("stripes", (mitten("many"),), look, "US")
    assert found(svg_bytes(engrave(drawn, look))) == ()


def test_both_descriptions_of_the_hatches_agree() -> None:
    for place, hatch in enumerate(HATCHES):
        assert hatch_of(place) == {round(turn): hatch.apart for turn in hatch.turns}
    told = [(frozenset(h.turns), h.apart) for h in HATCHES]
    assert len(set(told)) == len(HATCHES) == len(LETTERS)


def strokes(root: Element, yarn: str) -> list[Element]:
    return [p for p in paths(root, data_role="hatch") if p.get("data-yarn") == yarn]


def drop(root: Element, gone: Sequence[Element]) -> None:
    for group in root.iter():
        for child in list(group):
            if any(child is one for one in gone):
                group.remove(child)


def moved(path: Element, dx: float) -> None:
    numbers = re.findall(r"-?[0-9.]+", path.get("d", ""))
    x1, y1, x2, y2 = (float(n) for n in numbers)
    path.set("d", f"M{x1 + dx:.3f} {y1}L{x2 + dx:.3f} {y2}")


def a_stroke_lost(root: Element) -> None:
    drop(root, strokes(root, "B")[3:4])


def a_stripe_bare(root: Element) -> None:
    drop(root, strokes(root, "D"))


def a_direction_lost(root: Element) -> None:
    crossed = strokes(root, "C")
    drop(root, crossed[: len(crossed) // 2])


def a_stroke_moved(root: Element) -> None:
    moved(strokes(root, "D")[2], 0.4)


def a_stroke_doubled(root: Element) -> None:
    first = strokes(root, "D")[2]
    copy = Element(first.tag, dict(first.attrib))
    moved(copy, 0.5)
    next(g for g in root.iter() if first in list(g)).append(copy)


def a_stroke_beside(root: Element) -> None:
    moved(strokes(root, "D")[-1], 40)


def strokes_as_pale_as_paper(root: Element) -> None:
    for path in strokes(root, "B"):
        path.set("stroke", "#eeeeee")


def a_stripe_coloured(root: Element) -> None:
    paths(root, data_role="stripe")[4].set("fill", "#448040")


def a_swatch_lost(root: Element) -> None:
    drop(root, paths(root, data_role="swatch")[:1])


def swatches_exchanged(root: Element) -> None:
    one, other = paths(root, data_role="swatch")[1:3]
    one.set("data-yarn", "C")
    other.set("data-yarn", "B")


def no_longer_said_to_be_hatched(root: Element) -> None:
    del root.attrib["data-yarns"]


SPOILERS = (
    a_stroke_lost, a_stripe_bare, a_direction_lost, a_stroke_moved, a_stroke_doubled,
    a_stroke_beside, strokes_as_pale_as_paper, a_stripe_coloured, a_swatch_lost,
    swatches_exchanged, no_longer_said_to_be_hatched,
)  # fmt: skip


@pytest.mark.parametrize("spoil", SPOILERS, ids=lambda spoil: spoil.__name__)
def test_a_spoilt_strip_is_found(spoil: Callable[[Element], None]) -> None:
    root = tree(strip("many"))
    before = bytes_of(root)
    assert found(before) == ()
    spoil(root)
    assert bytes_of(root) != before
    assert found(bytes_of(root))


def test_hatches_of_other_yarns_are_found() -> None:
    assert found(strip("many", yarns="".join(LETTERS))) == ()
    assert {f.kind for f in found(strip("many", yarns="ACBDEFGHIJKL"))} == {"colour"}


def test_a_swatch_in_another_colour_is_found_in_print_with_colours() -> None:
    root = tree(strip("many", "default"))
    assert found(bytes_of(root)) == ()
    paths(root, data_role="swatch")[0].set("fill", "#123456")
    assert [f.kind for f in found(bytes_of(root))] == ["colour"]


@pytest.mark.parametrize("sheet", ["default", "large-print", "ink-saver"])
def test_letters_are_legible_on_every_ground(sheet: str) -> None:
    look = load_style(sheet)
    steps = range(0, 256, 15)
    for ground in (f"#{r:02x}{g:02x}{b:02x}" for r in steps for g in steps for b in steps):
        assert contrast(inks.legible(look.ink, ground), ground) >= 4.5
    assert contrast(look.ink, look.paper) >= 4.5
    assert min(contrast(ink, look.paper) for ink in (look.emphasis, look.quiet_ink)) >= 3


@pytest.mark.parametrize(
    ("sheet", "code", "line"),
    [
        ('stitch: 5\nink: "#777777"\n', "faint-ink", 2),
        ('emphasis: "#959595"\n', "faint-ink", 1),
        ('quiet ink: "#959595"\n', "faint-ink", 1),
        ("stitch: 5\nyarns: dots\n", "not-a-look", 2),
    ],
)
def test_a_sheet_that_cannot_be_read_is_an_error(
    sheet: str, code: str, line: int, tmp_path: Path
) -> None:
    path = tmp_path / "own.yaml"
    path.write_text(sheet, encoding="utf-8")
    with pytest.raises(Faults) as raised:
        load_style(str(path))
    (problem,) = raised.value.problems
    assert problem.code == code
    assert problem.span is not None
    assert problem.span.line == line


def test_a_sheet_just_legible_enough_is_taken(tmp_path: Path) -> None:
    path = tmp_path / "own.yaml"
    path.write_text('ink: "#767676"\nemphasis: "#949494"\nquiet ink: "#949494"\n', "utf-8")
    assert load_style(str(path)).ink == "#767676"
