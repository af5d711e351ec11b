"""What stands outside a crown's first ring: the names of its rays, and short bars for stitches of
the round below."""

from __future__ import annotations

import re
from collections.abc import Iterator

from gussetry.verify.charts import Sheet
from gussetry.verify.findings import Disagreement
from gussetry.verify.labels import found_at
from gussetry.verify.paths import flattened
from gussetry.verify.rays import BESIDE, before_stitch, crossings
from gussetry.verify.svg import Shape

_FOOT = 0.5  # a ray is named under its end within this cosine of straight down, else beside it,
_NEARLY = 0.08  # give or take this
_ASIDE = 1.2  # pitches that a name may stand beside its ray's end
_OUTSIDE = 0.4  # pitches beyond the first ring, where its own stitches end
_BARS = re.compile(r"stitches of round (\d{1,4})(?:; short bars are those)? worked together")


def compare_outside(sheet: Sheet) -> list[Disagreement]:
    """What the names of a crown's rays and its bars have wrong; nothing of a chart in rows."""
    if sheet.centre is None or not sheet.paired:
        return []
    return [*_names(sheet, sheet.centre), *_bars(sheet, sheet.centre)]


def _names(sheet: Sheet, centre: complex) -> Iterator[Disagreement]:
    """Each ray has its side's name at its end, and no other ray has it."""
    ends = {ray.order: _outermost(ray, centre) for ray in _with_role(sheet, "marker")}
    places = {}
    for row, round_ in reversed(sheet.paired):
        for name, left in round_.markers:
            places[name] = row.level, before_stitch(sheet, row, round_, left)
    labels = [
        label for label in _with_role(sheet, "place") if sheet.texts.get(label.order) in places
    ]
    named: set[int] = set()
    for label in labels:
        name = sheet.texts[label.order]
        level, place = places[name]
        rays = [
            ray
            for ray in _with_role(sheet, "marker")
            if _at(label, ends[ray.order], centre, sheet.pitch)
            and any(
                place is None or abs(through - place) < BESIDE * sheet.pitch
                for through in crossings(sheet, ray, level)
            )
        ]
        named |= {ray.order for ray in rays}
        if not rays:
            yield found_at("marker", f"no ray ends at the name of the {name}", label)
    for ray in _with_role(sheet, "marker"):
        if ray.order not in named:
            yield found_at("marker", "a ray is not named", ray)
    for name in sorted(places.keys() - {sheet.texts[label.order] for label in labels}):
        yield Disagreement("marker", f"the {name} is not named", piece=sheet.piece.piece)


def _outermost(shape: Shape, centre: complex) -> complex:
    points = [point for sub in shape.subs for point in flattened(sub)]
    return max(points, key=lambda point: abs(point - centre))


def _at(label: Shape, end: complex, centre: complex, pitch: float) -> bool:
    """Whether a label stands at the end of a ray: right under it at the chart's foot, beside it
    further up."""
    down = (end - centre).imag / abs(end - centre)
    return (down > _FOOT - _NEARLY and _under(label, end, pitch)) or (
        down < _FOOT + _NEARLY and _beside(label, end, centre)
    )


def _beside(label: Shape, end: complex, centre: complex) -> bool:
    """Whether a label goes on outwards from a place, level with it."""
    box = label.box
    high = box.bottom - box.top
    off = end.real - box.right if end.real < centre.real else box.left - end.real
    return 0 < off < high and abs(box.centre.imag - end.imag) < 0.5 * high


def _under(label: Shape, end: complex, pitch: float) -> bool:
    """Whether a label is centred right under a place."""
    aside = abs(label.box.centre.real - end.real)
    return aside < _ASIDE * pitch and -0.1 < label.box.top - end.imag < 2 * pitch


def _bars(sheet: Sheet, centre: complex) -> Iterator[Disagreement]:
    """A bar for each stitch of the round below that the first ring takes together, told of in the
    words on how the chart is read."""
    row, round_ = sheet.paired[0]
    due = sum(len(op.into) for op in round_.work if op.do.endswith("2tog"))
    outside = row.level + _OUTSIDE * sheet.pitch
    bars = [
        shape
        for shape in _with_role(sheet, "rule")
        if all(abs(p - centre) > outside for sub in shape.subs for p in flattened(sub))
    ]
    if len(bars) != due:
        yield Disagreement("marker", "the bars outside the crown are not what is taken together",
                           piece="hand", round=round_.number,
                           expected=str(due), found=str(len(bars)))  # fmt: skip
    told = _BARS.search(sheet.page.description)
    if (told[1] if told else "") != (str(round_.number - 1) if due else ""):
        yield Disagreement("description", "the words on the bars outside the crown are others",
                           piece="hand", round=round_.number)  # fmt: skip


def _with_role(sheet: Sheet, role: str) -> list[Shape]:
    return [shape for shape in sheet.page.shapes if shape.tag("role") == role and shape.inks]
