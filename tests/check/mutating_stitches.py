"""Faults in the stitches of charts."""

from __future__ import annotations

import copy
import math
from xml.etree.ElementTree import Element

from check.mutating import (
    CHARTS,
    Right,
    Scene,
    drop,
    fault,
    neighbours,
    numbers,
    rows,
    same,
    scaled,
    to,
)
from verify.breaking import SVG, centre, mapped, parent, paths
from verify.pen import symbol

from gussetry.stitchmap import Op

Rights = tuple[Right, ...] | None
LEGGED = ("sc", "hdc", "dc", "inc", "sc2tog", "hdc2tog", "dc2tog")
POSTS = ("fphdc", "bphdc", "fpdc", "bpdc")
OTHER = {"sc": "hdc", "hdc": "dc", "dc": "hdc", "inc": "sc", "sc2tog": "inc", "hdc2tog": "hdc",
         "dc2tog": "dc", "join": "ch", "ch": "hold", "hold": "ch", "fphdc": "bphdc",
         "bphdc": "fphdc", "fpdc": "bpdc", "bpdc": "fpdc", "close": "hold", "skip": "ch",
         "seam": "close", "slst": "ch"}  # fmt: skip
"""By kind what a stitch is taken for."""
LOST = ("count", "rows", "hidden")
GRIDS = ("cuff", "hand", "gusset", "thumb")


def _any(scene: Scene, *kinds: str) -> Element | None:
    return scene.pick(one for one in scene.stitches if not kinds or one.get("data-do") in kinds)


@fault("a stitch deleted", CHARTS)
def deleted(scene: Scene) -> Rights:
    one = _any(scene)
    assert one is not None
    drop(scene, one)
    return scene.at(one, "count", "rows")


@fault("a stitch doubled on the spot", CHARTS)
def doubled(scene: Scene) -> Rights:
    one = _any(scene)
    assert one is not None
    parent(scene.root, one).append(copy.deepcopy(one))
    return scene.at(one, "count", "stacked", "rows")


@fault("a stitch doubled beside itself", CHARTS)
def doubled_beside(scene: Scene) -> Rights:
    one = _any(scene)
    assert one is not None
    more = copy.deepcopy(one)
    way = scene.up(one) * 1j * scene.pitch / 2
    to(more, centre(one) + way)
    parent(scene.root, one).append(more)
    return scene.at(one, "count", "stacked", "glyph-on-glyph")


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


def _unlike(scene: Scene) -> tuple[Element, Element] | None:
    # Like neighbours swapped leave the picture and the count as they are: no fault.
    pairs = [pair for pair in neighbours(scene) if not same(*pair, scene)]
    return scene.chance.choice(pairs) if pairs else None


@fault("unlike neighbours swapped, tags and all", CHARTS)
def swapped(scene: Scene) -> Rights:
    pair = _unlike(scene)
    if pair is None:
        return None
    one, other = pair
    a, b = centre(one), centre(other)
    to(one, b)
    to(other, a)
    return scene.at(one, "kind", "tag")


@fault("unlike neighbours swapped, tags as their places want", CHARTS)
def swapped_places(scene: Scene) -> Rights:
    pair = _unlike(scene)
    if pair is None:
        return None
    one, other = pair
    a, b = centre(one), centre(other)
    to(one, b)
    to(other, a)
    for tag in ("data-index", "data-round", "data-size"):
        mine, yours = one.get(tag, ""), other.get(tag, "")
        one.set(tag, yours)
        other.set(tag, mine)
    return scene.at(one, "kind")


@fault("a stitch's shape changed, not its tag", CHARTS)
def reshaped(scene: Scene) -> Rights:
    one = _any(scene, *OTHER)
    if one is None or one.get("data-do") in ("slst", "seam"):
        return None
    scene.draw(one, Op(OTHER[one.get("data-do", "")]))  # type: ignore[arg-type]
    return scene.at(one, "kind", "shape")


@fault("a stitch's tag changed, not its shape", CHARTS)
def retagged(scene: Scene) -> Rights:
    one = _any(scene, *OTHER)
    if one is None:
        return None
    one.set("data-do", OTHER[one.get("data-do", "")])
    return scene.at(one, "tag")


@fault("a stitch's shape and tag changed", CHARTS)
def replaced(scene: Scene) -> Rights:
    one = _any(scene, *OTHER)
    if one is None or one.get("data-do") in ("slst", "seam"):
        return None
    scene.draw(one, Op(OTHER[one.get("data-do", "")]))  # type: ignore[arg-type]
    one.set("data-do", OTHER[one.get("data-do", "")])
    return scene.at(one, "kind")


@fault("a stitch hidden under a patch", CHARTS)
def covered(scene: Scene) -> Rights:
    one = _any(scene)
    assert one is not None
    at, half = centre(one), 0.48 * scene.pitch
    data = (f"M{at.real - half} {at.imag - half}H{at.real + half}V{at.imag + half}"
            f"H{at.real - half}Z")  # fmt: skip
    scene.root.append(Element(SVG + "path", {"d": data, "fill": scene.paper, "data-role": "x"}))
    return scene.at(one, "hidden", "covered")


@fault("a stitch painted in the paper's colour", CHARTS)
def painted_white(scene: Scene) -> Rights:
    one = _any(scene)
    assert one is not None
    if one.get("fill") or one.get("data-do") == "slst":
        one.set("fill", scene.paper)
    if one.get("stroke") != "none":
        one.set("stroke", scene.paper)
    return scene.at(one, "hidden")


@fault("a stitch scaled to nothing", CHARTS)
def vanished(scene: Scene) -> Rights:
    one = _any(scene)
    assert one is not None
    scaled(one, 0.001, 0.001)
    return scene.at(one, "hidden", "shape", "kind")


@fault("a stitch half as large", CHARTS)
def halved(scene: Scene) -> Rights:
    one = _any(scene)
    assert one is not None
    scaled(one, 0.45, 0.45)
    return scene.at(one, "size", "kind", "shape", "hidden", "glyph-clogged")


@fault("a stitch pushed off the page", CHARTS)
def off_page(scene: Scene) -> Rights:
    one = _any(scene)
    assert one is not None
    to(one, centre(one) + 1000)
    return scene.at(one, *LOST, "off-page")


@fault("a stitch laid on its neighbour", CHARTS)
def stacked(scene: Scene) -> Rights:
    pairs = neighbours(scene)
    if not pairs:
        return None
    one, other = scene.chance.choice(pairs)
    to(one, centre(one) + 0.96 * (centre(other) - centre(one)))
    return scene.at(one, "stacked", "count")


HIDING = (("opacity", "0"), ("display", "none"), ("visibility", "hidden"), ("stroke", "none"),
          ("stroke-width", "0"), ("stroke-opacity", "0.05"), ("style", "stroke:none;fill:none"),
          ("transform", "scale(0)"), ("transform", "translate(0 -2000)"))  # fmt: skip


@fault("a stitch hidden by an attribute", CHARTS)
def hidden(scene: Scene) -> Rights:
    # A disc is filled: taking its stroke away would change nothing.
    one = scene.pick(o for o in scene.stitches if o.get("data-do") not in ("slst", "seam"))
    if one is None:
        return None
    one.set(*scene.chance.choice(HIDING))
    return scene.at(one, *LOST, "shape", "off-page", "path")


@fault("a stitch's loop, hook or bar lost", CHARTS)
def plain(scene: Scene) -> Rights:
    """Back-loop arcs, pick-up bars, held bars: the last stroke of what has one more than a leg."""
    marks = [one for one in scene.stitches if one.get("data-do") in (*POSTS, "sc", "hdc", "dc")]
    most = {"sc": 2, "hdc": 2, "dc": 3, "fphdc": 2, "bphdc": 2, "fpdc": 3, "bpdc": 3}
    rich = [one for one in marks if one.get("d", "").count("M") > most[one.get("data-do", "")]]
    one = scene.pick(rich)
    if one is None:
        return None
    parts = mapped(one.get("d", ""), 0, 0).split("M")[1:]
    one.set("d", "M" + "M".join(parts[:-1]))
    return scene.at(one, "kind", "shape")


@fault("a stitch turned upside down", CHARTS)
def turned(scene: Scene) -> Rights:
    # A plain upright cross, an oval, a square, a bow-tie are alike when turned: no fault.
    one = _any(scene, "inc", "sc2tog", "hdc2tog", "dc2tog", "hdc", "dc", *POSTS)
    if one is None:
        return None
    scaled(one, -1, -1)
    return scene.at(one, "kind", "shape")


@fault("a stitch's round changed in its tag", CHARTS)
def other_round(scene: Scene) -> Rights:
    one = _any(scene)
    assert one is not None
    right = scene.at(one, "tag")
    first, *rest = one.get("data-round", "").split()
    one.set("data-round", " ".join([str(int(first) + 1), *rest]))
    return right


@fault("a stitch's place changed in its tag", CHARTS)
def other_index(scene: Scene) -> Rights:
    one = _any(scene)
    assert one is not None
    first, *rest = one.get("data-index", "").split()
    one.set("data-index", " ".join([str(int(first) + 1), *rest]))
    return scene.at(one, "tag")


@fault("a stitch's piece changed in its tag", CHARTS)
def other_piece(scene: Scene) -> Rights:
    one = _any(scene)
    assert one is not None
    right = scene.at(one, "tag")
    one.set("data-piece", "thumb" if one.get("data-piece") != "thumb" else "hand")
    return right


@fault("a stitch's size changed in its tag", CHARTS)
def other_size(scene: Scene) -> Rights:
    one = _any(scene)
    assert one is not None
    sizes = one.get("data-size", "").split(" ")
    one.set("data-size", " ".join(["XXL", *sizes[1:]]))
    return scene.at(one, "tag", "count", "sum", "rows")


@fault("the tags of two neighbours swapped", CHARTS)
def swapped_tags(scene: Scene) -> Rights:
    pairs = neighbours(scene)
    if not pairs:
        return None
    one, other = scene.chance.choice(pairs)
    mine, yours = one.get("data-index", ""), other.get("data-index", "")
    one.set("data-index", yours)
    other.set("data-index", mine)
    return scene.at(one, "tag")


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
        under = [math.atan2(*_parts(centre(o) - middle)) for o in below if _takes(o)]
        plain_ = [o for o in ring if not _takes(o) and o.get("data-do") != "close"]
        takes = [o for o in ring if _takes(o)]
        if under and plain_ and takes:
            near = min(plain_, key=lambda o: min(
                abs(math.atan2(*_parts(centre(o) - middle)) - a) for a in under))  # fmt: skip
            tries.append((scene.chance.choice(takes), near))
    if not tries:
        return None
    one, other = scene.chance.choice(tries)
    for mark in (one, other):
        do = "sc" if mark is one else one.get("data-do", "")
        scene.draw(mark, Op(other.get("data-do") if mark is one else do))  # type: ignore[arg-type]
    mine, yours = one.get("data-do", ""), other.get("data-do", "")
    one.set("data-do", yours)
    other.set("data-do", mine)
    return scene.at(one, "kind")


def _parts(place: complex) -> tuple[float, float]:
    return place.imag, place.real


def _takes(one: Element) -> bool:
    return one.get("data-do", "").endswith("2tog")


@fault("a row deleted, labels and all", CHARTS)
def lost_row(scene: Scene) -> Rights:
    own = rows(scene)
    key = scene.chance.choice(list(own))
    marks = [p for p in paths(scene.root, data_round=key[1], data_piece="", data_size=key[0])]
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


@fault("a stitch drawn without a tag", CHARTS)
def untagged(scene: Scene) -> Rights:
    one = _any(scene)
    assert one is not None
    place = centre(one) + scene.up(one) * 0.5 * scene.pitch
    ink = {"d": symbol(Op("sc"), place, scale=0.4), "stroke": "#1f1d1a", "fill": "none",
           "stroke-width": "0.35"}  # fmt: skip
    scene.root.append(Element(SVG + "path", ink))
    return scene.whole("stray", "shape", "element")


def summed(scene: Scene) -> list[Element]:
    """Sums that stand within a row."""
    return [p for p in paths(scene.root, data_role="sum") if p.get("data-index")]


@fault("a sum's places changed in its tag", CHARTS)
def other_span(scene: Scene) -> Rights:
    one = scene.pick(summed(scene))
    if one is None:
        return None
    first, *rest = one.get("data-index", "").split()
    low, _, high = first.partition("-")
    one.set("data-index", " ".join([f"{low}-{int(high or low) + 1}", *rest]))
    return scene.at(one, "tag")


@fault("a sum deleted", CHARTS)
def lost_sum(scene: Scene) -> Rights:
    one = scene.pick(paths(scene.root, data_role="sum"))
    if one is None:
        return None
    assert list(numbers(one))
    drop(scene, one)
    return scene.at(one, "count", "rows", "place", "sum", "printed")
