"""Faults of drawings that tell yarns by hatches: strokes of another yarn, bands of another height,
strokes and bands that are gone."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise
from xml.etree.ElementTree import Element, SubElement

from shapely import LineString, MultiLineString, Polygon, union_all
from verify.breaking import SVG, Spoiler, centre, move, parent, paths, pick, points

from gussetry.layout.hatches import HATCHES

Run = list[Element]


def _hatched(root: Element) -> bool:
    return root.get("data-yarns") == "hatches" and bool(paths(root, data_role="stripe"))


def _runs(root: Element) -> list[Run]:
    """The stripes in runs of one yarn, as neighbours are drawn."""
    stripes = paths(root, data_role="stripe")
    return [
        list(own)
        for _, own in groupby(stripes, lambda s: (s.get("data-piece"), s.get("data-yarn")))
    ]


def _neighbours(root: Element) -> list[tuple[Run, Run]]:
    """Runs one over the other, of yarns whose hatches differ."""
    return [
        (a, b) for a, b in pairwise(_runs(root)) if a[0].get("data-piece") == b[0].get("data-piece")
    ]


def _own(root: Element, areas: Sequence[Element]) -> Run:
    """The strokes whose middles lie in areas; whole ones go through areas of one run."""
    ground = union_all([Polygon([(p.real, p.imag) for p in points(a)]) for a in areas]).buffer(0.01)
    return [
        stroke
        for stroke in paths(root, data_role="hatch")
        if ground.contains(LineString([(p.real, p.imag) for p in points(stroke)]))
    ]


def _remove(root: Element, gone: Sequence[Element]) -> None:
    for one in gone:
        parent(root, one).remove(one)


def _place(root: Element, yarn: str) -> int:
    """A yarn's place among the yarns, by the legend."""
    named = [swatch.get("data-yarn", "") for swatch in paths(root, data_role="swatch")]
    return named.index(yarn)


def _lines(ground: Polygon, place: int) -> Iterator[LineString]:
    """The strokes of a yarn by its place, over an area."""
    left, top, right, foot = ground.bounds
    for turn in HATCHES[place].turns:
        way = complex(math.cos(math.radians(turn)), -math.sin(math.radians(turn)))
        reach = abs(complex(right - left, foot - top))
        middle = complex((left + right) / 2, (top + foot) / 2)
        for step in range(-int(reach), int(reach) + 1):
            at = middle + step * HATCHES[place].apart * way * 1j
            a, b = at - reach * way, at + reach * way
            cut = ground.intersection(LineString([(a.real, a.imag), (b.real, b.imag)]))
            lines = cut.geoms if isinstance(cut, MultiLineString) else [cut]
            yield from (one for one in lines if one.length > 0.01)


def _hatch(root: Element, areas: Sequence[Element], place: int) -> None:
    """Draws areas in the hatch of the yarn of that place."""
    roles = ("hatch", "rule", "dimension")
    model = next(path for role in roles for path in paths(root, data_role=role))
    group = parent(root, model)
    marks = {name: value for name, value in model.attrib.items() if not name.startswith("data-")}
    marks["data-role"] = "hatch"
    _remove(root, _own(root, areas))
    ground = union_all([Polygon([(p.real, p.imag) for p in points(a)]) for a in areas])
    for line in _lines(ground, place):
        (ax, ay), (bx, by) = line.coords
        d = f"M{ax:.3f} {ay:.3f}L{bx:.3f} {by:.3f}"
        SubElement(group, f"{SVG}path", {**marks, "d": d})


def another_hatch(root: Element, n: int) -> bool:
    """A run of bands, or a swatch, has the hatch of another yarn."""
    if not _hatched(root):
        return False
    areas = pick([*_runs(root), *([s] for s in paths(root, data_role="swatch"))], n)
    assert areas is not None
    place = _place(root, areas[0].get("data-yarn", ""))
    _hatch(root, areas, (place + 1 + n % (len(HATCHES) - 1)) % len(HATCHES))
    return True


def hatches_exchanged(root: Element, n: int) -> bool:
    """Two neighbouring runs of bands have changed places."""
    if not _hatched(root) or not _neighbours(root):
        return False
    one, other = _neighbours(root)[n % len(_neighbours(root))]
    places = [_place(root, run[0].get("data-yarn", "")) for run in (one, other)]
    _hatch(root, one, places[1])
    _hatch(root, other, places[0])
    return True


def hatch_gone(root: Element, n: int) -> bool:
    """A run of bands has no strokes."""
    if not _hatched(root):
        return False
    strokes = pick([own for run in _runs(root) if (own := _own(root, run))], n)
    _remove(root, strokes or ())
    return strokes is not None


def stroke_gone(root: Element, n: int) -> bool:
    """One stroke of a hatch, of those that are whole bands high, is not there."""
    found = _tall(root) if _hatched(root) else []
    _remove(root, [stroke for stroke in (pick(found, n),) if stroke is not None])
    return bool(found)


def stroke_moved(root: Element, n: int) -> bool:
    """One stroke of a hatch stands beside its place."""
    stroke = pick(_tall(root), n) if _hatched(root) else None
    if stroke is not None:
        move(stroke, 0.4, 0)
    return stroke is not None


def _tall(root: Element) -> Run:
    """The strokes that cross a stripe's middle."""
    levels = [centre(stripe).imag for stripe in paths(root, data_role="stripe")]
    return [
        stroke
        for stroke in paths(root, data_role="hatch")
        if any(
            min(p.imag for p in points(stroke)) + 0.1 < level
            and max(p.imag for p in points(stroke)) - 0.1 > level
            for level in levels
        )
    ]


def edge_moved(root: Element, n: int) -> bool:
    """The edge between two bands of unlike yarns is further up: the one higher, the other lower."""
    if not _hatched(root) or not _neighbours(root):
        return False
    one, other = _neighbours(root)[n % len(_neighbours(root))]
    # Pieces are drawn from the foot up, or from the tip down.
    low, high = sorted((one[-1], other[0]), key=lambda band: -centre(band).imag)
    edge = min(p.imag for p in points(low))
    for band in (low, high):
        moved = [complex(p.real, p.imag - 0.3 * (abs(p.imag - edge) < 0.01)) for p in points(band)]
        band.set("d", "M" + "L".join(f"{p.real:.3f} {p.imag:.3f}" for p in moved) + "Z")
    return True


def band_gone(root: Element, n: int) -> bool:
    """A stripe is not there, nor are its strokes."""
    stripe = pick(paths(root, data_role="stripe"), n) if _hatched(root) else None
    if stripe is not None:
        _remove(root, [*_own(root, [stripe]), stripe])
    return stripe is not None


def band_melted(root: Element, n: int) -> bool:
    """A stripe's outline is not there, its strokes are."""
    stripe = pick(paths(root, data_role="stripe"), n) if _hatched(root) else None
    if stripe is not None:
        _remove(root, [stripe])
    return stripe is not None


HATCHED: tuple[Spoiler, ...] = (
    another_hatch, hatches_exchanged, hatch_gone, stroke_gone, stroke_moved, edge_moved,
    band_gone, band_melted,
)  # fmt: skip
"""Every fault of a drawing in hatches."""
