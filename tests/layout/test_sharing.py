"""Sizes share a chart where it is drawn alike in them; each reads its own numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations
from typing import Literal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from layout.sheets import BULKY, FINGERLESS, FIVE_SIZES, SIDED, THUMBLESS, mittens

from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.grading import grade
from gussetry.layout import WORDLESS, fit_one_sheet, sheets
from gussetry.layout.courses import Course
from gussetry.layout.gusset import gusset_courses
from gussetry.layout.sharing import COURSES, sharing
from gussetry.layout.tags import merged
from gussetry.plan import Plan, plan, wished
from gussetry.spec import Charts, Size, Spec
from gussetry.stitchmap import Op, StitchMap
from gussetry.style import load_style
from gussetry.style.look import Hand, Sizes
from gussetry.verify import Asked, recount
from gussetry.verify.several import own_text

LOOK = load_style("default")
SPECS = (FIVE_SIZES, BULKY, FINGERLESS, THUMBLESS)


def _groups(kind: str, maps: Sequence[StitchMap]) -> list[list[StitchMap]]:
    return sharing(kind, maps, lambda part: fit_one_sheet(kind, part, LOOK, "US", WORDLESS))


@pytest.mark.parametrize("kind", ["cuff", "gusset", "thumb"])
@pytest.mark.parametrize("spec", [FIVE_SIZES, BULKY, FINGERLESS], ids=lambda s: s.pattern)
def test_every_size_is_in_one_group_that_one_sheet_holds(spec: Spec, kind: str) -> None:
    maps = mittens(spec)
    groups = _groups(kind, maps)
    assert sorted(m.size for group in groups for m in group) == sorted(m.size for m in maps)
    for group in groups:
        if len(group) > 1:
            (only,) = sheets(kind, group, LOOK, "US")
            assert only.width <= LOOK.width
            assert only.height <= LOOK.height


def test_turned_cuffs_of_one_depth_share_a_chart() -> None:
    groups = _groups("cuff", mittens(FIVE_SIZES))
    assert [[m.size for m in group] for group in groups] == [["XS"], ["S", "M"], ["L", "XL"]]


def _shown(course: Course, nth: int) -> list[tuple[object, ...]]:
    row = course.rows[nth]
    work: list[Op] = [row.round.work[i] for i in row.drawn]
    return [(op.do, op.loop, op.held, op.of, op.counts) for op in work]


@pytest.mark.parametrize("kind", COURSES)
@pytest.mark.parametrize("spec", SPECS, ids=lambda s: s.pattern)
def test_each_round_of_each_size_stands_once(spec: Spec, kind: str) -> None:
    """Round for round: none of a size is lost or doubled, its rows stand in its own order, and what
    is drawn of a course is its work in every size."""
    if (kind == "hand") != (spec is THUMBLESS) and kind != "cuff":
        return
    name, courses_of = COURSES[kind]
    for maps in combinations(mittens(spec), 2):
        courses = courses_of(maps)
        if courses is None:
            continue
        for course in courses:
            for nth in range(1, len(course.rows)):
                assert _shown(course, nth) == _shown(course, 0)
        for place, stitches in enumerate(maps):
            piece = stitches.piece(name)
            assert piece is not None
            told: list[int] = []
            for course in courses:
                if place in course.places:
                    row = course.of(place)
                    first, last = row.several or (row.round.number, row.round.number)
                    told += range(first, last + 1)
            due = [r.number for r in piece.rounds]
            if name == "hand":
                due = due[: due.index(told[0]) + len(told)][due.index(told[0]) :]
            assert told == due


def _without(stitches: StitchMap, yarn: str, other: str) -> StitchMap:
    """The map worked without a yarn, another in its place."""
    pieces = (
        replace(
            piece,
            rounds=tuple(replace(r, yarn=other) if r.yarn == yarn else r for r in piece.rounds),
        )
        for piece in stitches.pieces
    )
    yarns = tuple(one for one in stitches.yarns if one[0] != yarn)
    return replace(stitches, yarns=yarns, pieces=tuple(pieces))


@pytest.mark.parametrize("kind", ["gusset", "thumb"])
def test_a_size_may_lack_a_yarn_of_the_others(kind: Literal["gusset", "thumb"]) -> None:
    group = next(group for group in _groups(kind, mittens(FIVE_SIZES)) if len(group) > 1)
    first, last = (letter for letter, _, _ in (group[0].yarns[0], group[0].yarns[-1]))
    group = [_without(group[0], last, first), *group[1:]]
    made = sheets(kind, group, LOOK, "US")
    shown = {patch.yarn for one in made for patch in one.patches}
    assert last in shown
    svgs = [svg_bytes(engrave(one, LOOK)) for one in made]
    assert recount(svgs, Asked(kind, tuple(group))) == ()


def test_unlike_wedges_are_not_laid_on_one_another() -> None:
    one = replace(FIVE_SIZES, sizes=FIVE_SIZES.sizes[:1])
    other = replace(one, gusset=replace(one.gusset, growth="alternating"))
    both = [*grade(one).maps, *grade(other).maps]
    assert gusset_courses(both[:1]) is not None
    assert gusset_courses(both) is None
    assert len(sharing("gusset", both, lambda _: True)) == 2


def _plan(spec: Spec, sizes: Sizes, hand: Hand | Literal[""] = "") -> Plan:
    asked = replace(spec, charts=Charts(sizes, hand))
    return plan(asked, grade(spec), wished(asked, LOOK))


def test_sizes_apart_together_or_both() -> None:
    apart = {job.name for job in _plan(BULKY, "apart").jobs}
    both = {job.name for job in _plan(BULKY, "both").jobs}
    together = _plan(BULKY, "together")
    shared = {"shared/cuff", "shared/gusset", "shared/thumb"}
    assert not any(name.startswith("shared/") for name in apart)
    assert both == apart | shared
    names = {job.name for job in together.jobs}
    gone = {
        f"{size}/{kind}" for size in ("Medium", "Large") for kind in ("cuff", "gusset", "thumb")
    }
    assert names == both - gone
    absent = {one.file: one.why for one in together.absent}
    assert absent["Medium/gusset.svg"] == "shared/gusset.svg serves it"
    assert "Medium, Large" in absent["shared/crown.svg"]


def test_shared_charts_have_hands_and_mittens() -> None:
    spec = replace(SIDED, sizes=FIVE_SIZES.sizes[1:3])
    spec = replace(
        spec,
        lower_hand=FIVE_SIZES.lower_hand,
        gusset=replace(FIVE_SIZES.gusset, towards_palm=1),
        division=FIVE_SIZES.division,
        crown=FIVE_SIZES.crown,
        thumb=FIVE_SIZES.thumb,
        stripes=FIVE_SIZES.stripes,
    )
    jobs = {job.name: job for job in _plan(spec, "both", "both").jobs}
    gussets = {name for name in jobs if name.startswith("shared/gusset")}
    assert gussets == {
        f"shared/gusset-{side}{hand}" for side in ("left", "right") for hand in ("", "-lefthand")
    }
    # Worked with the other hand, the stitches of a left mitten make a right one.
    assert {m.mitten for m in jobs["shared/gusset-left-lefthand"].maps} == {"right"}
    assert {m.mitten for m in jobs["shared/gusset-left"].maps} == {"left"}


def test_a_specification_outranks_the_style() -> None:
    look = replace(LOOK, sizes="both", hand="left")
    assert wished(BULKY, look) == look
    asked = replace(BULKY, charts=Charts("apart", "right"))
    assert wished(asked, look) == LOOK


def test_sizes_with_one_part_of_a_name_have_files_of_their_own() -> None:
    sizes = tuple(
        Size(name, size.hand_circumference)
        for name, size in zip(("a", "b-c", "a-b", "c", "d"), FIVE_SIZES.sizes, strict=True)
    )
    names = [job.name for job in _plan(replace(FIVE_SIZES, sizes=sizes), "both").jobs]
    assert len(set(names)) == len(names)


_NUMBERS = st.integers(0, 120).map(str)
_WORDS = st.sampled_from(
    ["{} sc", "{} · m · {} = {}", "rounds {}–{}: {} sc", "inc, {} sc", "sc", ""]
)


@st.composite
def _texts(draw: st.DrawFn) -> list[str]:
    alike = draw(_WORDS)
    number = draw(st.integers(2, 5))
    words = [alike if draw(st.booleans()) else draw(_WORDS) for _ in range(number)]
    return [each.format(*(draw(_NUMBERS) for _ in range(3))) for each in words]


@settings(max_examples=200)
@given(_texts())
def test_each_size_reads_its_own_numbers(texts: list[str]) -> None:
    told = merged(texts)
    for place, text in enumerate(texts):
        assert own_text(told, place, len(texts)).removeprefix("–") == text
