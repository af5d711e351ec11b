"""Faults in the rows of charts: stitches that stray, rows that are lost or exchanged, and sums."""

from __future__ import annotations

import cmath
import copy
from xml.etree.ElementTree import Element

from check.mutating import (
    CHARTS,
    GRIDS,
    Rights,
    Scene,
    drop,
    exchange_tags,
    fault,
    fault_in,
    marks,
    numbers,
    rows,
    stitches,
    to,
)
from verify.breaking import SVG, centre, parent, paths
from verify.pen import symbol

from gussetry.stitchmap import Op


def _next_round(scene: Scene) -> tuple[Element, Element] | None:
    """A stitch, and one of the round after it, of one size."""
    own = rows(scene)
    pairs = [
        (own[key], own[size, str(int(number) + 1)])
        for key in own
        for size, number in [key]
        if number.isdigit() and (size, str(int(number) + 1)) in own
    ]
    if not pairs:
        return None
    low, high = scene.chance.choice(pairs)
    return scene.chance.choice(low), scene.chance.choice(high)


@fault("a stitch moved into the next round, tags kept", CHARTS)
def moved_up(scene: Scene) -> Rights:
    pair = _next_round(scene)
    if pair is None:
        return None
    one, over = pair
    to(one, centre(over) + scene.up(over) * 1j * scene.pitch / 2)
    return scene.at([one, over], "count", "rows", "stacked", "tag")


@fault("a stitch moved into the next round, tags and all", CHARTS)
def moved_up_tagged(scene: Scene) -> Rights:
    pair = _next_round(scene)
    if pair is None:
        return None
    one, over = pair
    right = scene.at([one, over], "count", "rows", "stacked", "kind")
    to(one, centre(over) + scene.up(over) * 1j * scene.pitch / 2)
    one.set("data-round", over.get("data-round", ""))
    return right


@fault("a decrease moved above another", ("crown",))
def above(scene: Scene) -> Rights:
    """A decrease of a ring changes places with the plain stitch that stands straightest over a
    decrease of the ring before; tags as the places want."""
    own, middle = rows(scene), scene.middle
    if middle is None:
        return None
    tries = []
    for (size, number), ring in own.items():
        below = own.get((size, str(int(number) - 1)), [])
        under = [cmath.phase(centre(o) - middle) for o in below if _takes(o)]
        plain_ = [o for o in ring if not _takes(o) and o.get("data-do") != "close"]
        takes = [o for o in ring if _takes(o)]
        if under and plain_ and takes:
            near = min(plain_, key=lambda o: min(
                abs(cmath.phase(centre(o) - middle) - a) for a in under))  # fmt: skip
            tries.append((scene.chance.choice(takes), near))
    if not tries:
        return None
    one, other = scene.chance.choice(tries)
    for mark in (one, other):
        do = "sc" if mark is one else one.get("data-do", "")
        scene.draw(mark, Op(other.get("data-do") if mark is one else do))  # type: ignore[arg-type]
    exchange_tags(one, other, "data-do")
    return scene.at(one, "kind")


def _takes(one: Element) -> bool:
    return one.get("data-do", "").endswith("2tog")


@fault("a row deleted, labels and all", CHARTS)
def lost_row(scene: Scene) -> Rights:
    own = rows(scene)
    key = scene.chance.choice(list(own))
    marks = paths(scene.root, data_round=key[1], data_piece="", data_size=key[0])
    right = scene.at(own[key], "rows", "count", "sheets", "printed")
    for mark in marks:
        drop(scene, mark)
    return right if len(marks) < len(paths(scene.root, data_piece="")) else None


@fault("the stitches of two rows exchanged", GRIDS)
def exchanged(scene: Scene) -> Rights:
    own = {key: row for key, row in rows(scene).items() if len(row) > 2}
    pairs = [
        (a, b) for (size, n), a in own.items() for (other, m), b in own.items()
        if size == other and n.isdigit() and m.isdigit() and int(m) == int(n) + 1
        and [o.get("data-do") for o in a] != [o.get("data-do") for o in b]
    ]  # fmt: skip
    if not pairs:
        return None
    low, high = scene.chance.choice(pairs)
    ups = [sorted(centre(o).imag for o in row)[len(row) // 2] for row in (low, high)]
    for row, by in ((low, ups[1] - ups[0]), (high, ups[0] - ups[1])):
        for one in row:
            to(one, centre(one) + 1j * by)
    return scene.at([*low, *high], "kind", "count", "tag", "rows")


@fault("a stitch added at a row's end", CHARTS)
def added(scene: Scene) -> Rights:
    row = scene.chance.choice([row for row in rows(scene).values() if len(row) > 1] or [[]])
    if not row:
        return None
    more = copy.deepcopy(row[-1])
    if scene.job.kind == "crown":
        to(more, (centre(row[-1]) + centre(row[-2])) / 2)
    else:
        to(more, 2 * centre(row[-1]) - centre(row[-2]))
    more.set("data-index", str(int(more.get("data-index", "0").split()[0]) + 1))
    parent(scene.root, row[-1]).append(more)
    return scene.at(more, "count", "stacked", "rows")


@fault_in("a stitch drawn without a tag", CHARTS, stitches())
def untagged(scene: Scene, one: Element) -> Rights:
    place = centre(one) + scene.up(one) * 0.5 * scene.pitch
    ink = {"d": symbol(Op("sc"), place, scale=0.4), "stroke": "#1f1d1a", "fill": "none",
           "stroke-width": "0.35"}  # fmt: skip
    scene.root.append(Element(SVG + "path", ink))
    return scene.whole("stray", "shape", "element")


def summed(scene: Scene) -> list[Element]:
    """Sums that stand within a row."""
    return [p for p in paths(scene.root, data_role="sum") if p.get("data-index")]


@fault_in("a sum's places changed in its tag", CHARTS, summed)
def other_span(scene: Scene, one: Element) -> Rights:
    first, *rest = one.get("data-index", "").split()
    low, _, high = first.partition("-")
    one.set("data-index", " ".join([f"{low}-{int(high or low) + 1}", *rest]))
    return scene.at(one, "tag")


@fault_in("a sum deleted", CHARTS, marks("sum"))
def lost_sum(scene: Scene, one: Element) -> Rights:
    assert list(numbers(one))
    drop(scene, one)
    return scene.at(one, "count", "rows", "place", "sum", "printed")
