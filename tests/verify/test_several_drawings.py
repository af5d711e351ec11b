"""Charts of several sizes: sound as they come, and found out when one number of a list is wrong."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from itertools import combinations, pairwise

import pytest
from layout.sheets import BULKY, FINGERLESS, FIVE_SIZES, SIDED, THUMBLESS

from gussetry.chart import Chart, Label, Line, PlacedStitch, Tags
from gussetry.engrave import engrave
from gussetry.export.svg import svg_bytes
from gussetry.grading import grade
from gussetry.layout import sheets
from gussetry.spec import Size, Spec, Stripe, Stripes
from gussetry.stitchmap import StitchMap
from gussetry.style import load_style
from gussetry.style.look import Hand
from gussetry.units import Point
from gussetry.verify import Asked, Disagreement, recount

LOOK = load_style("default")
BLANKS = replace(
    FIVE_SIZES,
    pattern="Names with blanks",
    sizes=tuple(
        Size(name, size.hand_circumference)
        for name, size in zip(("a child", "a grown-up"), FIVE_SIZES.sizes[:2], strict=True)
    ),
)
"""Names with blanks, which may not be taken for two sizes."""


@cache
def _maps(spec: Spec, first: int, last: int, mitten: str = "both") -> tuple[StitchMap, ...]:
    sizes = grade(spec).sizes[first:last]
    return tuple(m for size in sizes for m in size.maps if m.mitten == mitten)


def _found(chart: Chart, maps: tuple[StitchMap, ...], hand: str = "right") -> tuple[str, ...]:
    svg = svg_bytes(engrave(chart, LOOK))
    findings: tuple[Disagreement, ...] = recount(svg, Asked("gusset", maps, hand=hand))
    return tuple(finding.kind for finding in findings)


@cache
def _chart(maps: tuple[StitchMap, ...]) -> Chart:
    (only,) = sheets("gusset", maps, LOOK, "US")
    return only


THREE = _maps(FIVE_SIZES, 1, 4)
"""S, M and L: of unlike gussets."""


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize(
    "maps",
    [
        THREE,
        _maps(FIVE_SIZES, 0, 2),
        _maps(FIVE_SIZES, 3, 5),
        _maps(BULKY, 0, 2),
        _maps(FINGERLESS, 0, 2),
        _maps(BLANKS, 0, 2),
    ],
    ids=lambda maps: f"{maps[0].pattern} {' '.join(m.size for m in maps)}",
)
def test_a_chart_of_several_sizes_recounts(maps: tuple[StitchMap, ...], hand: str) -> None:
    look = replace(LOOK, hand="left" if hand == "left" else "right")
    drawn = sheets("gusset", maps, look, "US")
    svgs = [svg_bytes(engrave(sheet, look)) for sheet in drawn]
    assert recount(svgs, Asked("gusset", maps, hand=hand)) == ()


@pytest.mark.parametrize(
    ("kind", "maps"),
    [
        ("cuff", _maps(BULKY, 0, 2)),
        ("cuff", _maps(FIVE_SIZES, 1, 3)),
        ("thumb", _maps(BULKY, 0, 2)),
        ("thumb", _maps(FINGERLESS, 0, 2)),
        ("hand", _maps(THUMBLESS, 0, 2)),
    ],
    ids=lambda value: value if isinstance(value, str) else value[0].pattern,
)
def test_other_charts_of_several_sizes_recount(kind: str, maps: tuple[StitchMap, ...]) -> None:
    drawn = sheets(kind, maps, LOOK, "US")
    svgs = [svg_bytes(engrave(sheet, LOOK)) for sheet in drawn]
    assert recount(svgs, Asked(kind, maps)) == ()
    assert recount(svgs, Asked(kind, maps[:1]))


def test_each_mitten_of_a_pair_has_its_own() -> None:
    assert SIDED.gusset.towards_palm
    for mitten in ("left", "right"):
        assert len(_maps(SIDED, 0, 1, mitten)) == 1


def test_sizes_are_not_each_other() -> None:
    """A chart drawn for two sizes is not one for two others, nor for the two in another order."""
    pairs = [(one, other) for one, other in combinations(THREE, 2)][1:]
    for maps in pairs:
        chart = _chart(maps)
        for others in (*(p for p in pairs if p != maps), maps[::-1]):
            assert _found(chart, others)


# --- spoilt on purpose ------------------------------------------------------------------------


def _tag(item: Label | Line | PlacedStitch, name: str) -> str:
    return dict(item.tags).get(f"data-{name}", "")


def _tagged(tags: Tags, name: str, value: str) -> Tags:
    return tuple((n, value if n == f"data-{name}" else v) for n, v in tags)


def _labels(chart: Chart, role: str) -> Iterator[tuple[int, Label]]:
    return ((i, label) for i, label in enumerate(chart.labels) if _tag(label, "role") == role)


def _with_label(chart: Chart, place: int, *labels: Label) -> Chart:
    return replace(chart, labels=(*chart.labels[:place], *labels, *chart.labels[place + 1 :]))


def _lists(chart: Chart, role: str) -> list[tuple[int, Label]]:
    return [(i, label) for i, label in _labels(chart, role) if " (" in label.text]


def _swap(text: str) -> str:
    """The first list of a text with its first two numbers exchanged."""
    head, _, rest = text.partition(" (")
    inner, _, tail = rest.partition(")")
    *before, first = head.rsplit(" ", 1)
    second, *more = inner.split(", ")
    return " ".join([*before, f"{second} ({', '.join([first, *more])}){tail}"])


def _a_stitch_less(chart: Chart) -> Chart:
    place = next(i for i, s in enumerate(chart.stitches) if " " in _tag(s, "index"))
    return replace(chart, stitches=(*chart.stitches[:place], *chart.stitches[place + 1 :]))


def _of_one_size_less(chart: Chart) -> Chart:
    """A stitch that no longer serves the second of its sizes."""
    place = next(i for i, s in enumerate(chart.stitches) if _tag(s, "size").count(" "))
    old = chart.stitches[place]
    tags = old.tags
    for name in ("size", "round", "index"):
        parts = _tag(old, name).split(" ")
        tags = _tagged(tags, name, " ".join([parts[0], *parts[2:]]))
    new = replace(old, tags=tags)
    return replace(chart, stitches=(*chart.stitches[:place], new, *chart.stitches[place + 1 :]))


def _indices_swapped(chart: Chart) -> Chart:
    for place, old in enumerate(chart.stitches):
        parts = _tag(old, "index").split(" ")
        if len(set(parts[:2])) == 2:
            tags = _tagged(old.tags, "index", " ".join([parts[1], parts[0], *parts[2:]]))
            rest = chart.stitches[place + 1 :]
            new = replace(old, tags=tags)
            return replace(chart, stitches=(*chart.stitches[:place], new, *rest))
    raise AssertionError("no stitch with two indices")


def _number_swapped(role: str) -> Callable[[Chart], Chart]:
    def spoil(chart: Chart) -> Chart:
        place, label = _lists(chart, role)[0]
        return _with_label(chart, place, replace(label, text=_swap(label.text)))

    spoil.__name__ = f"two numbers of a {role} swapped"
    return spoil


def _numbers_of_two_sizes_swapped(chart: Chart) -> Chart:
    """The numbers of one round in two sizes, in a list or on lines of their own, exchanged."""
    if _lists(chart, "round"):
        return _number_swapped("round")(chart)
    numbers = [(i, label) for i, label in _labels(chart, "round") if " " not in _tag(label, "size")]
    one, other = next(
        (a, b) for a, b in combinations(numbers, 2) if 0 < abs(a[1].at.y - b[1].at.y) < 4
    )
    swapped = _with_label(chart, one[0], replace(one[1], text=other[1].text))
    return _with_label(swapped, other[0], replace(other[1], text=one[1].text))


def _number_changed(chart: Chart) -> Chart:
    place, label = _lists(chart, "count")[-1]
    return _with_label(chart, place, replace(label, text=label.text.replace("(", "(1", 1)))


def _list_too_short(chart: Chart) -> Chart:
    place, label = _lists(chart, "count")[-1]
    head, _, rest = label.text.rpartition(" (")
    return _with_label(chart, place, replace(label, text=f"{head}{rest.partition(')')[2]}"))


def _list_without_its_sizes(chart: Chart) -> Chart:
    place, label = _lists(chart, "sum")[0]
    index = _tag(label, "index").rsplit(" ", 1)[0]
    return _with_label(chart, place, replace(label, tags=_tagged(label.tags, "index", index)))


def _names_swapped(chart: Chart) -> Chart:
    named = [(i, label) for i, label in _labels(chart, "size")]
    (place, label), other = named[0], next(o for _, o in named if o.text != named[0][1].text)
    return _with_label(chart, place, replace(label, text=other.text))


def _names_missing(chart: Chart) -> Chart:
    place, label = next(_labels(chart, "size"))
    height = label.at.y
    gone = {i for i, other in _labels(chart, "size") if abs(other.at.y - height) < 0.5}
    assert place in gone
    return replace(chart, labels=tuple(x for i, x in enumerate(chart.labels) if i not in gone))


def _moved(role: str, rows: float) -> Callable[[Chart], Chart]:
    """The first line of a kind with its words so many rows further down."""

    def spoil(chart: Chart) -> Chart:
        place, label = next(_labels(chart, role))
        own = (_tag(label, "size"), _tag(label, "round"))
        levels = sorted({round(s.frame.origin.y, 3) for s in chart.stitches if _tag(s, "round")})
        down = rows * min(b - a for a, b in pairwise(levels) if b - a > 1)
        down *= 2.5
        lines = tuple(
            replace(line, points=tuple(Point(p.x, p.y + down) for p in line.points))
            if (_tag(line, "role"), _tag(line, "size"), _tag(line, "round")) == ("parting", *own)
            else line
            for line in chart.lines
        )
        moved = replace(label, at=Point(label.at.x, label.at.y + down))
        return replace(_with_label(chart, place, moved), lines=lines)

    spoil.__name__ = f"a {role} moved"
    return spoil


def _missing(role: str) -> Callable[[Chart], Chart]:
    def spoil(chart: Chart) -> Chart:
        return _with_label(chart, next(_labels(chart, role))[0])

    spoil.__name__ = f"a {role} missing"
    return spoil


def _stop_worded_wrong(chart: Chart) -> Chart:
    place, label = next(_labels(chart, "stop"))
    return _with_label(chart, place, replace(label, text=label.text.replace("round 1", "round 2")))


def _branch_not_led_to(chart: Chart) -> Chart:
    led = [line for line in chart.lines if ("data-role", "leading") in line.tags]
    assert len(led) >= 2
    return replace(chart, lines=tuple(line for line in chart.lines if line is not led[0]))


def _not_led_on_over_a_line(chart: Chart) -> Chart:
    """Where the other size goes on right over the line across."""
    led = [line for line in chart.lines if ("data-role", "leading") in line.tags]
    return replace(chart, lines=tuple(line for line in chart.lines if line is not led[-1]))


def _marker_over_a_line(chart: Chart) -> Chart:
    (line, *_) = (line for line in chart.lines if _tag(line, "role") == "parting")
    y = line.points[0].y
    below = next(
        own for own in chart.lines
        if own.kind == "marker" and 0 < min(p.y for p in own.points) - y < 6
    )  # fmt: skip
    longer = replace(below, points=(below.points[0], Point(below.points[1].x, y - 2)))
    return replace(chart, lines=tuple(longer if own is below else own for own in chart.lines))


def _stop_without_line(chart: Chart) -> Chart:
    return replace(
        chart, lines=tuple(line for line in chart.lines if _tag(line, "role") != "parting")
    )


SPOILT: tuple[Callable[[Chart], Chart], ...] = (
    _a_stitch_less,
    _of_one_size_less,
    _indices_swapped,
    *map(_number_swapped, ("count", "sum")),
    _numbers_of_two_sizes_swapped,
    _number_changed,
    _list_too_short,
    _list_without_its_sizes,
    _names_swapped,
    _names_missing,
    *(_moved(role, rows) for role in ("stop", "branch") for rows in (1, -1)),
    *map(_missing, ("stop", "branch", "yarn", "count", "round")),
    _stop_worded_wrong,
    _branch_not_led_to,
    _not_led_on_over_a_line,
    _marker_over_a_line,
    _stop_without_line,
)


@pytest.mark.parametrize("spoil", SPOILT, ids=lambda spoil: spoil.__name__)
def test_a_spoilt_chart_is_found(spoil: Callable[[Chart], Chart]) -> None:
    first = 3 if spoil is _numbers_of_two_sizes_swapped else 0
    maps = _maps(FIVE_SIZES, first, first + 2)
    chart = _chart(maps)
    assert _found(chart, maps) == ()
    spoilt = spoil(chart)
    assert spoilt != chart
    assert _found(spoilt, maps)


def _beside(chart: Chart) -> tuple[Label, Label]:
    """Two yarns of a round side by side."""
    letters = [label for label in chart.labels if _tag(label, "role") == "yarn"]
    return next((a, b) for a, b in combinations(letters, 2) if a.at.y == b.at.y)


@pytest.mark.parametrize("hand", ["right", "left"])
def test_yarns_side_by_side_stand_in_the_order_of_their_sizes(hand: Hand) -> None:
    striped = replace(
        FIVE_SIZES,
        stripes=Stripes((Stripe("A", 3), Stripe("B", 2)), repeat=True, anchor="crook"),
    )
    maps = _maps(striped, 0, 2)
    (chart,) = sheets("gusset", maps, replace(LOOK, hand=hand), "US")
    assert _found(chart, maps, hand) == ()
    one, other = _beside(chart)
    left, right = sorted((one, other), key=lambda label: label.at.x)
    assert [_tag(label, "size") for label in (left, right)] == ["XS", "S"]
    moved = {id(one): replace(one, at=other.at), id(other): replace(other, at=one.at)}
    labels = tuple(moved.get(id(label), label) for label in chart.labels)
    assert "place" in _found(replace(chart, labels=labels), maps, hand)
