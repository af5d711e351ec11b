"""Finished pages: what they hold, that nothing lies on anything, and that faults are found."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pages.making import SMALL, Composed, composed

from gussetry.chart import Chart
from gussetry.grading import grade
from gussetry.layout.parts import MARGIN
from gussetry.pages.packing import Block, Form, Item, packed
from gussetry.pages.papers import (
    A4,
    A4_ENDS,
    LETTER,
    LETTER_SIDES,
    LIVE_HEIGHT,
    LIVE_WIDTH,
    Sheet,
    sheet_of,
)
from gussetry.pages.sets import laid, low, page_sets, pages_of
from gussetry.plan import wished
from gussetry.read import read_spec
from gussetry.source import parse
from gussetry.style import load_style
from gussetry.verify.pages import recount_set
from gussetry.verify.parted import cut

EXAMPLES = Path(__file__).parents[2] / "examples"
SVG = "{http://www.w3.org/2000/svg}"


def test_the_live_area_prints_on_either_paper() -> None:
    # RFC 2346 (1998): Letter pages want 21 mm left and right, A4 pages 33 mm above and below.
    for paper in (A4, LETTER):
        corner = Sheet(paper, 0.0, False).live
        assert corner.x + LIVE_WIDTH <= paper.width
        assert corner.y + LIVE_HEIGHT <= paper.height
    assert Sheet(LETTER, 0.0, False).live.x >= LETTER_SIDES - 1e-9
    assert Sheet(A4, 0.0, False).live.y >= A4_ENDS - 1e-9


@pytest.mark.parametrize("how", ["each", "all"])
def test_pages_are_recounted_without_a_finding(how: str) -> None:
    made = composed(how)  # type: ignore[arg-type]
    assert recount_set(made.svgs, made.asked) == ()


def test_a_set_has_every_chart_in_order_of_working_and_the_table() -> None:
    made = composed()
    kinds = [item.chart.kind for page in made.pages for item in page.items]
    charts = [kind for kind in kinds if kind != "counts"]
    assert charts == ["head", "schematic", "stripes", "cuff", "gusset", "crown", "thumb"]
    assert kinds.count("counts") == 3


def test_a_set_of_all_sizes_nests_them_and_shares_charts() -> None:
    made = composed("all")
    names = [item.name for page in made.pages for item in page.items]
    assert names[:2] == ["head", "schematic"]
    assert {"S/stripes", "M/stripes", "S/crown", "M/crown"} <= set(names)
    assert any(name.startswith("shared/") for name in names)


def test_schematic_and_strip_stand_side_by_side_in_one_register() -> None:
    first = composed().pages[0].items
    drawn, bands = (next(i for i in first if i.chart.kind == k) for k in ("schematic", "stripes"))
    assert drawn.at.y == bands.at.y
    tags = [dict(item.chart.tags) for item in (drawn, bands)]
    assert tags[0]["data-top"] == tags[1]["data-top"]
    assert tags[0]["data-scale"] == tags[1]["data-scale"]


def test_every_page_has_its_number_and_the_designers_lines_and_no_chart_has_them() -> None:
    made = composed()
    for number in range(len(made.pages)):
        said = made.words(number)
        assert f"page {number + 1} of {len(made.pages)}" in said
        assert "Cove · size S" in said
        assert said.count("Drawn for a test · Free to make") == 1
        assert sum("Drawn for a test" in line for line in said) == 1
    assert sum("Worked in a spiral" in " ".join(made.words(n)) for n in range(len(made.pages))) == 1


def test_pages_are_the_same_on_both_papers() -> None:
    one, other = composed(), composed(paper=LETTER)
    assert one.pages == other.pages
    assert recount_set(other.svgs, other.asked) == ()


def test_bleed_and_crop_marks_stand_beyond_the_cut(tmp_path: Path) -> None:
    look = tmp_path / "cut.yaml"
    look.write_text("bleed: 3\ncrop marks: yes\n", encoding="utf-8")
    made = composed(style=str(look))
    assert made.asked.width == 210 + 2 * 8
    page, rest, _ = cut(made.svgs[0])
    marks = [shape for shape in rest.shapes if shape.tag("role") == "crop"]
    assert len(marks) == 8
    for mark in marks:
        box = mark.box
        beyond = [box.right < 8 - 2.9, box.left > page.width - 8 + 2.9,
                  box.bottom < 8 - 2.9, box.top > page.height - 8 + 2.9]  # fmt: skip
        assert any(beyond)
    assert recount_set(made.svgs, made.asked) == ()


def plain(name: str, wide: float, high: float) -> Block:
    """A block of one chart with nothing on it."""
    return Block((Item(name, Chart("x", "", "", wide, high)),))


def within(one: Item, other: Item) -> bool:
    """Whether two charts of a page touch."""
    return not (
        one.at.x + one.chart.width < other.at.x
        or other.at.x + other.chart.width < one.at.x
        or one.at.y + one.chart.height < other.at.y
        or other.at.y + other.chart.height < one.at.y
    )


@given(st.lists(st.tuples(st.integers(10, 170), st.integers(10, 220),
                          st.sampled_from([1.0, 0.8, 0.6])), min_size=1, max_size=9))  # fmt: skip
@settings(max_examples=60, deadline=None)
def test_packed_blocks_never_touch_and_keep_their_order(
    sizes: list[tuple[int, int, float]],
) -> None:
    drawings = [
        [Form((plain(str(n), wide * by, high * by),), 1 - by) for by in {1.0, share}]
        for n, (wide, high, share) in enumerate(sizes)
    ]
    found = packed(drawings, LIVE_WIDTH, 220.0)
    names = [int(item.name) for page in found.pages for item in page]
    assert names == [*range(len(sizes))]
    # One to a page always can be had.
    assert len(found.pages) <= len(sizes)
    for page in found.pages:
        assert page
        for item in page:
            assert item.at.x + item.chart.width <= LIVE_WIDTH + 1e-3
            assert item.at.y + item.chart.height <= 220.0 + 1e-3
        assert not any(within(one, other) for one, other in combinations(page, 2))


def test_a_smaller_form_is_taken_only_where_it_saves_a_page() -> None:
    def drawing(name: str) -> list[Form]:
        return [Form((plain(name, 170, high),), lost) for high, lost in ((120, 0.0), (105, 0.1))]

    two = packed([drawing("a"), drawing("b")], 170.0, 220.0)
    assert [[item.chart.height for item in page] for page in two.pages] == [[105, 105]]
    one = packed([drawing("a")], 170.0, 220.0)
    assert [[item.chart.height for item in page] for page in one.pages] == [[120]]


def test_charts_of_a_page_have_stitches_of_one_size() -> None:
    def drawing(name: str, *shares: float) -> list[Form]:
        return [Form((plain(name, 170, 100 * s),), 1 - s, s) for s in shares]

    assert len(packed([drawing("a", 1.0), drawing("b", 0.8)], 170.0, 220.0).pages) == 2
    both = packed([drawing("a", 1.0, 0.8), drawing("b", 0.8)], 170.0, 220.0)
    assert [[item.chart.height for item in page] for page in both.pages] == [[80, 80]]


def test_blocks_side_by_side_stand_level_and_in_columns() -> None:
    sizes = ((80, 90), (82, 100), (80, 95), (84, 98))
    (page,) = packed([[Form((plain(str(n), *size),))] for n, size in enumerate(sizes)], 180, 225)[0]
    assert [(item.at.x, item.at.y) for item in page] == [(0, 0), (90.5, 0), (0, 101), (90.5, 101)]


SKERRY, KITTIWAKE, PEBBLE = "skerry-striped", "kittiwake-post-rib", "pebble-child"
MADE = [
    (SKERRY, "each", 0, 4), (SKERRY, "each", 2, 4), (SKERRY, "each", 4, 4), (SKERRY, "all", 0, 14),
    (KITTIWAKE, "each", 0, 3), (KITTIWAKE, "all", 0, 7), (PEBBLE, "each", 0, 4),
    (PEBBLE, "all", 0, 9),
]  # fmt: skip
"""Of each example the sets, and how many pages they take at most: a page or more fewer than its
charts would have one after the other, as large as the style wishes."""
INK = 0.5
"""Half a pen's width, mm, and what letters have beside them."""
LEAST = 0.5
"""Which share of its height every page but the last of a set is filled to at least."""


@pytest.mark.parametrize(("example", "how", "place", "many"), MADE)
def test_the_examples_fill_their_pages(example: str, how: str, place: int, many: int) -> None:
    text = (EXAMPLES / f"{example}.yaml").read_text(encoding="utf-8")
    spec = read_spec(parse(text.encode(), example))
    style = wished(spec, load_style("default"))
    one = page_sets(spec, grade(spec), style, how)[place]  # type: ignore[arg-type]
    pages = pages_of(one, [laid(group, low(one, g)) for g, group in enumerate(one.groups)])
    assert len(pages) <= many
    filled = [max(i.at.y + i.chart.height for i in page) / one.room for page in pages]
    assert min(filled[:-1], default=1.0) >= LEAST, filled
    tops = [item for page in pages for item in page if item.at.y < 1]
    lines = [i.at.y + next(x.at.y for x in i.chart.labels if x.kind == "title") for i in tops]
    assert lines == pytest.approx([MARGIN + style.size("title")] * len(lines), abs=1e-3)


@pytest.mark.parametrize(
    ("how", "style"), [("each", "default"), ("all", "default"), ("each", "large-print")]
)
def test_ink_keeps_within_the_area_that_prints_on_either_paper(how: str, style: str) -> None:
    made = composed(how, style)  # type: ignore[arg-type]
    corner = sheet_of(made.paper, made.made_of.style).live
    marks = 0
    for svg in made.svgs:
        shapes = [s for s in cut(svg)[0].shapes if s.tag("role") != "paper" and s.inks]
        for shape in shapes:
            # The crosses by which sheets are laid on each other hang in the margin.
            mark = shape.tag("role") == "register"
            marks += mark
            beside, box = MARGIN if mark else INK, shape.box
            assert corner.x - beside <= box.left
            assert box.right <= corner.x + LIVE_WIDTH + beside
            assert corner.y - INK <= box.top
            assert box.bottom <= corner.y + LIVE_HEIGHT + INK
    assert bool(marks) == (style == "large-print")


def test_in_large_print_the_table_of_many_rows_comes_after_the_charts() -> None:
    text = (EXAMPLES / f"{SKERRY}.yaml").read_text(encoding="utf-8")
    spec = read_spec(parse(text.encode(), SKERRY))
    one = page_sets(spec, grade(spec), wished(spec, load_style("large-print")), "each")[2]
    pages = pages_of(one, [laid(group, low(one, g)) for g, group in enumerate(one.groups)])
    kinds = [[item.chart.kind for item in page] for page in pages]
    assert kinds[-2:] == [["counts", "counts"]] * 2, kinds
    assert "counts" not in {kind for page in kinds[:-2] for kind in page}


@pytest.mark.parametrize("style", ["default", "large-print"])
def test_the_tables_of_all_pieces_have_their_columns_at_the_same_places(style: str) -> None:
    made = composed("each", style)
    tables = [i.chart for page in made.pages for i in page.items if i.chart.kind == "counts"]
    assert len({dict(table.tags)["data-piece"] for table in tables}) > 1
    ends = {tuple(x.at.x for x in table.labels if ("data-role", "column") in x.tags)
            for table in tables}  # fmt: skip
    assert len(ends) == 1, ends


# --- faults put in on purpose -------------------------------------------------------------------

Tree = ElementTree.Element


def part_of(made: Composed, kind: str) -> int:
    """The page, from 0, that has the first part of a kind."""
    return next(n for n, page in enumerate(made.pages)
                for item in page.items if item.chart.kind == kind)  # fmt: skip


def found(root: Tree, kind: str) -> Tree:
    return next(e for e in root.iter(SVG + "g") if e.get("data-kind") == kind)


def lose_a_stitch(root: Tree) -> None:
    part = found(root, "gusset")
    group = next(g for g in part.iter(SVG + "g") if g.get("data-role") == "stitches")
    group.remove(group[5])


def move_a_part(root: Tree, by: tuple[float, float], kind: str) -> None:
    """Moves a part as a drawing program does that knows its tags."""
    part = found(root, kind)
    part.set("transform", f"translate({by[0]} {by[1]})")
    x, y = map(float, part.attrib["data-at"].split())
    part.set("data-at", f"{x + by[0]} {y + by[1]}")


def move_a_part_alone(root: Tree) -> None:
    found(root, "stripes").set("transform", "translate(0 3)")


def lay_a_part_on_another(root: Tree) -> None:
    move_a_part(root, (-60.0, 0.0), "stripes")


def shift_the_strip(root: Tree) -> None:
    move_a_part(root, (0.0, 4.0), "stripes")


def change_places(root: Tree) -> None:
    """Two counts of one column draw, truly, each the other's count."""
    columns: dict[tuple[str, str], list[Tree]] = {}
    for cell in root.iter(SVG + "path"):
        key = cell.get("data-piece") or "", cell.get("data-column") or ""
        if cell.get("data-role") == "cell" and key[1] and cell.get("data-says") != "–":
            columns.setdefault(key, []).append(cell)
    one, other = next(
        (a, b) for cells in columns.values() for a, b in combinations(cells, 2)
        if a.get("data-says") != b.get("data-says")
    )  # fmt: skip
    here, there = (float(re.split("[ a-z]", cell.attrib["d"])[1]) for cell in (one, other))
    one.set("transform", f"translate(0 {there - here})")
    other.set("transform", f"translate(0 {here - there})")


def claim_another_count(root: Tree) -> None:
    next(e for e in root.iter(SVG + "path") if e.get("data-role") == "cell").set("data-says", "99")


def frame_another_column(root: Tree) -> None:
    frame = next(e for e in root.iter(SVG + "path") if e.get("data-role") == "own")
    frame.set("transform", "translate(-7 0)")


def drop_a_part(root: Tree) -> None:
    for parent in root.iter():
        for child in list(parent):
            if child.get("data-kind") == "counts":
                parent.remove(child)
                return


def tear_the_foot(root: Tree) -> None:
    foot = next(e for e in root.iter(SVG + "path")
                if (e.get("data-says") or "").startswith("page "))  # fmt: skip
    foot.set("data-says", "page 7 of 9")


def leave_a_mark(root: Tree) -> None:
    top = root.find(SVG + "g")
    assert top is not None
    ElementTree.SubElement(top, SVG + "path", {
        "d": "M20 20L30 30", "stroke": "#000000", "stroke-width": "0.25"})  # fmt: skip


FAULTS: dict[str, tuple[str, Callable[[Tree], None], str]] = {
    "a stitch is lost": ("gusset", lose_a_stitch, "stitch|missing|count|sections|row"),
    "a part lies on another": ("stripes", lay_a_part_on_another, "page|line-on|text-on|glyph-on"),
    "a strip out of register": ("stripes", shift_the_strip, "register"),
    "a part moved within its place": ("stripes", move_a_part_alone, "."),
    "counts changed places": ("counts", change_places, "counts"),
    "a count claims another": ("counts", claim_another_count, "label"),
    "another column is framed": ("counts", frame_another_column, "counts|line-on-text"),
    "a part is gone": ("counts", drop_a_part, "page|counts"),
    "the foot claims another number": ("schematic", tear_the_foot, "label|foot"),
    "a mark of no part": ("schematic", leave_a_mark, "stray"),
}


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_on_a_page_is_found(name: str) -> None:
    kind, spoil, told = FAULTS[name]
    made = composed()
    page = part_of(made, kind)
    root = ElementTree.fromstring(made.svgs[page])
    before = ElementTree.tostring(root)
    spoil(root)
    after = ElementTree.tostring(root)
    assert after != before
    svgs = [*made.svgs]
    svgs[page] = after
    wrong = recount_set(svgs, made.asked)
    assert any(re.search(told, one.kind) for one in wrong), [(w.kind, w.message) for w in wrong]


def test_pages_in_another_order_are_found() -> None:
    made = composed()
    swapped = [made.svgs[1], made.svgs[0], *made.svgs[2:]]
    kinds = {one.kind for one in recount_set(swapped, made.asked)}
    assert {"page", "foot"} <= kinds


def test_a_lost_page_is_found() -> None:
    made = composed()
    wrong = recount_set(made.svgs[:-1], made.asked)
    assert any(one.kind == "foot" for one in wrong)


def test_a_page_of_another_set_is_found() -> None:
    made, other = composed(), composed("all")
    wrong = recount_set([*made.svgs[:-1], other.svgs[-1]], made.asked)
    assert any(one.kind in ("page", "foot") for one in wrong)


@pytest.mark.parametrize(
    ("how", "style", "more"),
    [
        ("all", "phone", ""),
        ("each", "large-print", ""),
        ("each", "ink-saver", "charts: {hand: both}\n"),
        ("all", "default", "gusset: {towards palm: 2}\n"),
    ],
)
def test_pages_of_every_kind_are_recounted(how: str, style: str, more: str) -> None:
    made = composed(how, style, A4, SMALL + more)  # type: ignore[arg-type]
    assert recount_set(made.svgs, made.asked) == ()
