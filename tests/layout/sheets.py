"""Mittens to lay out, and what holds for every sheet: nothing touches, nothing is off the page."""

import itertools
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from gussetry.chart import Chart, Label
from gussetry.grading import grade
from gussetry.layout import Terms, Words, sheets
from gussetry.layout.boxes import Box, label_box, round_points
from gussetry.spec import (
    Crown,
    CrownPhase,
    Cuff,
    Division,
    Gauge,
    Gusset,
    LowerHand,
    Size,
    Spec,
    Stripe,
    Stripes,
    Thumb,
    Yarn,
)
from gussetry.stitchmap import StitchMap
from gussetry.style import Style
from gussetry.units import Point

YARNS = (Yarn("A", "slate", "#445566"), Yarn("B", "oatmeal", "#ddccaa"))
RIB = Cuff(gauge=Gauge("sc", Fraction(100, 17), Fraction(5)))
TWO_TONE = Stripes((Stripe("A", 4), Stripe("B", 2)))

SAMPLE = Spec(
    pattern="Sample",
    gauge=Gauge("sc", Fraction(100, 18), Fraction(5)),
    yarns=YARNS,
    sizes=(Size("M", Fraction(187), "women"),),
    stripes=TWO_TONE,
    cuff=RIB,
    lower_hand=LowerHand((30,), (2,), (3,)),
    gusset=Gusset("alternating", 1, (11,)),
    division=Division("join", (2,), (), True, True, (2,), (15,), (36,)),
    crown=Crown((CrownPhase("sides", (2,), 2, 1), CrownPhase("evenly", (3,), 4)), last=(5,)),
    thumb=Thumb((), (2,), (2,), (2,), (0,), last=(6,)),
)
"""A sample with all its counts pinned: 30 picked up, 53 at the gusset's end, hand 36, thumb 15."""

FIVE_SIZES = Spec(
    pattern="Five sizes",
    gauge=Gauge("sc", Fraction(100, 18), Fraction(5)),
    yarns=YARNS,
    sizes=tuple(
        Size(name, Fraction(around))
        for name, around in (("XS", 165), ("S", 178), ("M", 187), ("L", 203), ("XL", 220))
    ),
    stripes=TWO_TONE,
    cuff=RIB,
)
BULKY = Spec(
    pattern="Bulky",
    gauge=Gauge("hdc", Fraction(9), Fraction(23, 2)),
    yarns=YARNS,
    sizes=(Size("Medium", Fraction(190)), Size("Large", Fraction(215))),
    stripes=Stripes((Stripe("A", 1), Stripe("B", 1)), anchor="tip"),
    cuff=Cuff("round"),
)
TALL_STITCHES = replace(
    SAMPLE,
    pattern="Tall stitches",
    gauge=Gauge("dc", Fraction(6), Fraction(97, 10)),
    sizes=(Size("M", Fraction(187)),),
    cuff=Cuff("none", above_crease=Fraction(10)),
    lower_hand=LowerHand(),
    gusset=Gusset(),
    division=Division(),
    crown=Crown(),
    thumb=Thumb(),
)
SIDED = replace(
    SAMPLE,
    pattern="Left and right",
    gusset=replace(SAMPLE.gusset, towards_palm=2),
    stripes=Stripes((Stripe("A", 1), Stripe("B", 1))),
    cuff=replace(RIB, above_crease=Fraction(10)),
)
FINGERLESS = replace(
    FIVE_SIZES,
    pattern="Fingerless",
    sizes=FIVE_SIZES.sizes[1:4],
    crown=Crown(style="open", edging=(3, 3, 3)),
    thumb=Thumb(style="open", edging=(1, 1, 1)),
)
OPEN_THUMB = replace(SIDED, pattern="Open thumb", thumb=Thumb(style="open", edging=(2,)))
THUMBLESS = replace(
    SAMPLE,
    pattern="Thumbless",
    gauge=Gauge("sc", Fraction(100, 22), Fraction(100, 24)),
    sizes=(
        Size("3 months", Fraction(98), "infants", 3),
        Size("9 months", Fraction(110), "infants", 9),
    ),
    lower_hand=LowerHand(increases=(2, 2)),
    gusset=Gusset(),
    division=Division(),
    crown=Crown((CrownPhase("sides", (2, 2), 2, 1), CrownPhase("evenly", decreases=4))),
    thumb=Thumb(style="none"),
)
SPECS = (SAMPLE, FIVE_SIZES, BULKY, TALL_STITCHES, SIDED, FINGERLESS, OPEN_THUMB, THUMBLESS)


def mittens(spec: Spec) -> tuple[StitchMap, ...]:
    """Every mitten of a specification."""
    return grade(spec).maps


def chart(
    kind: str, maps: Sequence[StitchMap], style: Style, terms: Terms, cautions: Sequence[str] = ()
) -> Chart:
    """The only sheet of a drawing that fits its column."""
    (only,) = sheets(kind, maps, style, terms, Words(notes=tuple(cautions)))
    return only


def tagged(item: object, name: str) -> str:
    """A tag of a patch, line, label or chart, "" where it has none."""
    return dict(item.tags).get(f"data-{name}", "")


def overlap(one: Box, other: Box) -> bool:
    """Whether two boxes share any area."""
    across = one.left < other.right and other.left < one.right
    return across and one.top < other.bottom and other.top < one.bottom


def crosses(a: Point, b: Point, box: Box) -> bool:
    """Whether a straight line passes through a box (Liang and Barsky's clipping)."""
    low, high = 0.0, 1.0
    for start, way, least, most in (
        (a.x, b.x - a.x, box.left, box.right),
        (a.y, b.y - a.y, box.top, box.bottom),
    ):
        if way == 0:
            if not least < start < most:
                return False
            continue
        enters, leaves = sorted(((least - start) / way, (most - start) / way))
        low, high = max(low, enters), min(high, leaves)
    return low < high


def _inked(label: Label, style: Style) -> Box:
    """The box of a label's letters: figures alone reach no lower than the line they stand on."""
    box = label_box(label, style)
    if label.turned or not label.text.isdigit():
        return box
    size = style.size(label.kind)
    return box._replace(top=label.at.y - 0.7 * size, bottom=label.at.y + 0.02 * size)


def touching(chart: Chart, style: Style) -> list[tuple[str, str]]:
    """Every pair of a text and another text, a line or a patch that it touches; the crook's numbers
    stand in the line of a bracket, a strip's rounds beside its leaders, and these lines are broken
    around them when they are engraved."""
    within = {"crook", "round"} if chart.kind == "stripes" else {"crook"}
    parting = {label.text for label in chart.labels if tagged(label, "role") in within}
    texts = [(label.text, _inked(label, style)) for label in chart.labels]
    found = [
        (one, other) for (one, a), (other, b) in itertools.combinations(texts, 2) if overlap(a, b)
    ]
    for line in chart.lines:
        ends = (*line.points, line.points[0]) if line.closed else line.points
        for a, b in itertools.pairwise(ends):
            found += [
                (text, line.kind)
                for text, box in texts
                if crosses(a, b, box) and not (text in parting and line.kind in ("join", "rule"))
            ]
    for patch in chart.patches:
        area = round_points(patch.points)
        found += [(text, tagged(patch, "role")) for text, box in texts if overlap(area, box)]
    return found


def off_the_page(chart: Chart, style: Style, margin: float = 3.9) -> list[Box]:
    """Every text, line or patch that comes nearer to the page's edge than the margin, in which
    stand register marks alone."""
    page = Box(margin, margin, chart.width - margin, chart.height - margin)
    whole = Box(0.2, 0.2, chart.width - 0.2, chart.height - 0.2)
    shown = [(label_box(label, style), page) for label in chart.labels]
    shown += [(round_points(patch.points), page) for patch in chart.patches]
    shown += [
        (round_points(line.points), whole if line.kind == "register" else page)
        for line in chart.lines
    ]
    return [
        box
        for box, room in shown
        if box.left < room.left
        or box.top < room.top
        or box.right > room.right
        or box.bottom > room.bottom
    ]
