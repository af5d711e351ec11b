"""Faults in single stitches of charts."""

from __future__ import annotations

import copy
from xml.etree.ElementTree import Element

from check.mutating import (
    CHARTS,
    Rights,
    Scene,
    drop,
    exchange_places,
    exchange_tags,
    fault,
    fault_in,
    neighbours,
    same,
    scaled,
    stitches,
    to,
)
from verify.breaking import SVG, centre, mapped, parent

from gussetry.stitchmap import Op

POSTS = ("fphdc", "bphdc", "fpdc", "bpdc")
OTHER = {"sc": "hdc", "hdc": "dc", "dc": "hdc", "inc": "sc", "sc2tog": "inc", "hdc2tog": "hdc",
         "dc2tog": "dc", "join": "ch", "ch": "hold", "hold": "ch", "fphdc": "bphdc",
         "bphdc": "fphdc", "fpdc": "bpdc", "bpdc": "fpdc", "close": "hold", "skip": "ch",
         "seam": "close", "slst": "ch"}  # fmt: skip
"""By kind what a stitch is taken for."""
UPRIGHT = ("inc", "sc2tog", "hdc2tog", "dc2tog", "hdc", "dc", *POSTS)
"""Kinds that are other than themselves when turned: a plain upright cross, an oval, a square, a bow
tie are alike."""
STROKED = tuple(do for do in OTHER if do not in ("slst", "seam"))
"""Discs are filled: of these no stroke is seen."""
LOST = ("count", "rows", "hidden")
RAISED = 1.0
"""What stands so far above its neighbour, mm, is raised over a gap."""


@fault_in("a stitch deleted", CHARTS, stitches())
def deleted(scene: Scene, one: Element) -> Rights:
    drop(scene, one)
    return scene.at(one, "count", "rows")


@fault_in("a stitch doubled on the spot", CHARTS, stitches())
def doubled(scene: Scene, one: Element) -> Rights:
    parent(scene.root, one).append(copy.deepcopy(one))
    return scene.at(one, "count", "stacked", "rows")


@fault_in("a stitch doubled beside itself", CHARTS, stitches())
def doubled_beside(scene: Scene, one: Element) -> Rights:
    more = copy.deepcopy(one)
    way = scene.up(one) * 1j * scene.pitch / 2
    to(more, centre(one) + way)
    parent(scene.root, one).append(more)
    return scene.at(one, "count", "stacked", "glyph-on-glyph")


def _unlike(scene: Scene) -> tuple[Element, Element] | None:
    # Like neighbours swapped leave the picture and the count as they are: no fault.
    pairs = [pair for pair in neighbours(scene) if not same(*pair)]
    return scene.chance.choice(pairs) if pairs else None


@fault("unlike neighbours swapped, tags and all", CHARTS)
def swapped(scene: Scene) -> Rights:
    pair = _unlike(scene)
    if pair is None:
        return None
    one, other = pair
    exchange_places(one, other)
    return scene.at(one, "kind", "tag")


@fault("unlike neighbours swapped, tags as their places want", CHARTS)
def swapped_places(scene: Scene) -> Rights:
    pair = _unlike(scene)
    if pair is None:
        return None
    one, other = pair
    exchange_places(one, other)
    exchange_tags(one, other, "data-index", "data-round", "data-size")
    # Of a chain that bridges a gap and a stitch beside it each now stands in the other's row.
    apart = abs((centre(one) - centre(other)).imag) > RAISED
    return scene.at(one, "kind", *(("rows",) if apart else ()))


@fault_in("a stitch's shape changed, not its tag", CHARTS, stitches(*STROKED))
def reshaped(scene: Scene, one: Element) -> Rights:
    scene.draw(one, Op(OTHER[one.get("data-do", "")]))  # type: ignore[arg-type]
    return scene.at(one, "kind", "shape")


@fault_in("a stitch's tag changed, not its shape", CHARTS, stitches(*OTHER))
def retagged(scene: Scene, one: Element) -> Rights:
    one.set("data-do", OTHER[one.get("data-do", "")])
    return scene.at(one, "tag")


@fault_in("a stitch's shape and tag changed", CHARTS, stitches(*STROKED))
def replaced(scene: Scene, one: Element) -> Rights:
    scene.draw(one, Op(OTHER[one.get("data-do", "")]))  # type: ignore[arg-type]
    one.set("data-do", OTHER[one.get("data-do", "")])
    return scene.at(one, "kind")


@fault_in("a stitch hidden under a patch", CHARTS, stitches())
def covered(scene: Scene, one: Element) -> Rights:
    at, half = centre(one), 0.48 * scene.pitch
    data = (f"M{at.real - half} {at.imag - half}H{at.real + half}V{at.imag + half}"
            f"H{at.real - half}Z")  # fmt: skip
    scene.root.append(Element(SVG + "path", {"d": data, "fill": scene.paper, "data-role": "x"}))
    return scene.at(one, "hidden", "covered")


@fault_in("a stitch painted in the paper's colour", CHARTS, stitches())
def painted_white(scene: Scene, one: Element) -> Rights:
    if one.get("fill") or one.get("data-do") == "slst":
        one.set("fill", scene.paper)
    if one.get("stroke") != "none":
        one.set("stroke", scene.paper)
    return scene.at(one, "hidden")


@fault_in("a stitch scaled to nothing", CHARTS, stitches())
def vanished(scene: Scene, one: Element) -> Rights:
    scaled(one, 0.001, 0.001)
    return scene.at(one, "hidden", "shape", "kind")


@fault_in("a stitch half as large", CHARTS, stitches())
def halved(scene: Scene, one: Element) -> Rights:
    scaled(one, 0.45, 0.45)
    return scene.at(one, "size", "kind", "shape", "hidden", "glyph-clogged")


@fault_in("a stitch pushed off the page", CHARTS, stitches())
def off_page(scene: Scene, one: Element) -> Rights:
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


@fault_in("a stitch hidden by an attribute", CHARTS, stitches(*STROKED))
def hidden(scene: Scene, one: Element) -> Rights:
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


@fault_in("a stitch turned upside down", CHARTS, stitches(*UPRIGHT))
def turned(scene: Scene, one: Element) -> Rights:
    scaled(one, -1, -1)
    return scene.at(one, "kind", "shape")


@fault_in("a stitch's round changed in its tag", CHARTS, stitches())
def other_round(scene: Scene, one: Element) -> Rights:
    right = scene.at(one, "tag")
    first, *rest = one.get("data-round", "").split()
    one.set("data-round", " ".join([str(int(first) + 1), *rest]))
    return right


@fault_in("a stitch's place changed in its tag", CHARTS, stitches())
def other_index(scene: Scene, one: Element) -> Rights:
    first, *rest = one.get("data-index", "").split()
    one.set("data-index", " ".join([str(int(first) + 1), *rest]))
    return scene.at(one, "tag")


@fault_in("a stitch's piece changed in its tag", CHARTS, stitches())
def other_piece(scene: Scene, one: Element) -> Rights:
    right = scene.at(one, "tag")
    one.set("data-piece", "thumb" if one.get("data-piece") != "thumb" else "hand")
    return right


@fault_in("a stitch's size changed in its tag", CHARTS, stitches())
def other_size(scene: Scene, one: Element) -> Rights:
    sizes = one.get("data-size", "").split(" ")
    one.set("data-size", " ".join(["XXL", *sizes[1:]]))
    return scene.at(one, "tag", "count", "sum", "rows")


@fault("the tags of two neighbours swapped", CHARTS)
def swapped_tags(scene: Scene) -> Rights:
    pairs = neighbours(scene)
    if not pairs:
        return None
    one, other = scene.chance.choice(pairs)
    exchange_tags(one, other, "data-index")
    return scene.at(one, "tag")
