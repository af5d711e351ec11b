"""The list of measures under or beside a schematic, and the words that share its sheet."""

from collections import defaultdict
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest
from layout.sheets import FINGERLESS, FIVE_SIZES, chart, mittens, tagged
from verify.rewriting import everything_lost

from gussetry.chart import Chart, Label
from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.grading.cautions import CAUTIONS
from gussetry.spec import Size, Spec
from gussetry.stitchmap import StitchMap
from gussetry.style import Style, load_style
from gussetry.verify import Asked, Limits, recount

LARGE, PHONE = load_style("large-print"), load_style("phone")
LONG = (
    "2 to 4 years", "5 to 8 years", "9 to 12 years", "Women small", "Women medium",
    "Men medium", "Men extra large",
)  # fmt: skip
SEVEN = replace(
    FIVE_SIZES,
    sizes=tuple(Size(n, Fraction(150 + 14 * i)) for i, n in enumerate(LONG)),
)
YOUNG = ("For children under three (sizes 2 to 4 years):", *(f"– {c}" for c in CAUTIONS))


@cache
def nested(spec: Spec) -> tuple[StitchMap, ...]:
    """A mitten of each size."""
    return mittens(spec)


def drawn(spec: Spec, style: Style, notes: tuple[str, ...] = ()) -> Chart:
    """The schematic of all sizes."""
    return chart("schematic", nested(spec), style, "US", notes)


def entries(drawing: Chart) -> dict[str, tuple[Label, list[Label]]]:
    """Each measure's name in the list, and the rows of its text."""
    names = {x.text: x for x in drawing.labels if tagged(x, "role") == "term"}
    rows: dict[str, list[Label]] = defaultdict(list)
    for label in drawing.labels:
        if tagged(label, "role") == "measure":
            rows[tagged(label, "measure")].append(label)
    return {name: (names[name], own) for name, own in rows.items()}


@pytest.mark.parametrize(
    ("spec", "style"),
    [(FIVE_SIZES, LARGE), (SEVEN, LARGE), (FIVE_SIZES, PHONE), (FINGERLESS, PHONE), (SEVEN, PHONE)],
    ids=lambda item: getattr(item, "pattern", "") or item.name,
)
def test_all_entries_of_a_list_stand_in_one_way(spec: Spec, style: Style) -> None:
    drawing = drawn(spec, style)
    found = entries(drawing)
    assert len({rows[0].at.y == name.at.y for name, rows in found.values()}) == 1
    steps = {round(rows[0].at.x - name.at.x, 6) for name, rows in found.values()}
    assert len(steps) == 1
    assert all(row.at.x == rows[0].at.x for _, rows in found.values() for row in rows)


def test_no_row_of_a_measure_ends_with_the_point_before_its_inches() -> None:
    drawing = drawn(FIVE_SIZES, LARGE)
    broken = [rows for _, rows in entries(drawing).values() if len(rows) > 1]
    assert broken
    assert not any(row.text.endswith("·") for rows in broken for row in rows)
    above = broken[0][0]
    pointed = tuple(replace(x, text=f"{x.text} ·") if x == above else x for x in drawing.labels)
    svg = svg_bytes(engrave(replace(drawing, labels=pointed), LARGE))
    assert "measure" in {one.kind for one in recount(svg, Asked("schematic", nested(FIVE_SIZES)))}


@pytest.mark.parametrize("notes", [(), YOUNG], ids=["plain", "cautions"])
def test_seven_long_named_sizes_fit_in_large_print(notes: tuple[str, ...]) -> None:
    drawing = drawn(SEVEN, LARGE, notes)
    assert drawing.width <= LARGE.width
    assert drawing.height <= LARGE.height
    asked = Asked("schematic", nested(SEVEN), limits=Limits(LARGE.least_text, LARGE.least_stitch))
    svg = svg_bytes(engrave(drawing, LARGE))
    assert recount(svg, asked) == ()
    assert {one.kind for one in recount(everything_lost(svg), asked)} == {"tags"}


def test_cautions_without_room_are_pointed_to() -> None:
    low = replace(LARGE, height=230.0)
    words = " ".join(x.text for x in drawn(SEVEN, low, YOUNG).labels)
    assert "(sizes 2 to 4 years): see the cautions on each size's own schematic." in words
    words = " ".join(x.text for x in drawn(SEVEN, LARGE, YOUNG).labels)
    assert all(caution in words for caution in CAUTIONS)


def test_a_wrong_letter_beside_the_drawing_is_found() -> None:
    drawing = drawn(SEVEN, LARGE)
    letters = [x for x in drawing.labels if tagged(x, "role") == "letter"]
    (listed,) = (x for x in letters[-8:] if x.text == "c")
    spoilt = tuple(replace(x, text="d") if x is listed else x for x in drawing.labels)
    svg = svg_bytes(engrave(replace(drawing, labels=spoilt), LARGE))
    (found,) = recount(svg, Asked("schematic", nested(SEVEN)))
    assert (found.kind, found.expected, found.found) == ("measure", "c", "d")


def test_words_beside_let_the_drawing_be_larger() -> None:
    four = replace(FIVE_SIZES, sizes=FIVE_SIZES.sizes[:4])
    scale = float(tagged(drawn(four, LARGE, YOUNG), "scale"))
    below = [x for x in drawn(four, LARGE, YOUNG).labels if tagged(x, "role") == "note"]
    assert scale >= 1 / 3 - 1e-6
    # Sentences stand whole in their column: no row of the one beside goes on below.
    columns = {x.at.x for x in below}
    assert len(columns) == 2
    for x in columns:
        last = [row.text for row in below if row.at.x == x][-1]
        assert last.endswith((".", ":"))


def test_an_arrow_at_a_short_thumb_keeps_off_the_words_over_it() -> None:
    style = replace(load_style("ink-saver"), scale=0.5)
    short = replace(FINGERLESS, sizes=tuple(
        replace(size, thumb_length=Fraction(5)) for size in FINGERLESS.sizes
    ))  # fmt: skip
    for maps in (nested(short), nested(short)[:1]):
        drawing = chart("schematic", maps, style, "US")
        asked = Asked("schematic", maps, limits=Limits(style.least_text, style.least_stitch))
        lines = [x for x in drawing.lines if tagged(x, "measure") == "thumb length"]
        assert any(x.arrows == "start" for x in lines), "the thumb is too long to try it"
        assert recount(svg_bytes(engrave(drawing, style)), asked) == ()
