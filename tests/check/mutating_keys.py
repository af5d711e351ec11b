"""Faults in the keys of charts, and in the key of all stitches."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from check.mutating import (
    CHARTS,
    Rights,
    Scene,
    another,
    drop,
    exchange_places,
    fault,
    fault_in,
    reprint,
    said,
    texts,
)
from verify.breaking import SVG, centre, paths
from verify.pen import symbol

from gussetry.stitchmap import Op


def _symbols(scene: Scene) -> list[Element]:
    return paths(scene.root, class_="symbol")


@fault_in("a key's symbol deleted", (*CHARTS, "key"), _symbols)
def lost_symbol(scene: Scene, one: Element) -> Rights:
    drop(scene, one)
    return scene.whole("key")


@fault("a key's symbol that no stitch uses", (*CHARTS, "key"))
def extra_symbol(scene: Scene) -> Rights:
    ink = {"class": "symbol", "data-do": "dc2tog", "data-loop": "front",
           "d": symbol(Op("dc2tog", loop="front"), 12 + 12j, scale=0.5)}  # fmt: skip
    group = next(e for e in scene.root.iter(SVG + "g") if e.get("data-role") == "stitches")
    group.append(Element(SVG + "path", ink))
    return scene.whole("key")


@fault("a key's symbol drawn as another", (*CHARTS, "key"))
def other_symbol(scene: Scene) -> Rights:
    one = scene.pick(_symbols(scene))
    if one is None or one.get("data-do") in ("slst", "seam"):
        return None
    other = "hdc" if one.get("data-do") != "hdc" else "sc"
    one.set("d", symbol(Op(other), centre(one), scale=0.5))  # type: ignore[arg-type]
    return scene.whole("key")


@fault_in("a key's symbol tagged as another", (*CHARTS, "key"), _symbols)
def retagged_symbol(scene: Scene, one: Element) -> Rights:
    one.set("data-do", "hdc" if one.get("data-do") != "hdc" else "sc")
    return scene.whole("key")


@fault("two symbols of a key exchanged", (*CHARTS, "key"))
def exchanged_symbols(scene: Scene) -> Rights:
    found = _symbols(scene)
    pairs = [(a, b) for a in found for b in found if a.get("data-do", "") < b.get("data-do", "")]
    if not pairs:
        return None
    one, other = scene.chance.choice(pairs)
    exchange_places(one, other)
    return scene.whole("key")


@fault_in("the heading of a key's column changed", ("key",), texts("pitch"))
def other_pitch(scene: Scene, label: Element) -> Rights:
    text = another(said(label), scene.chance)
    reprint(label, text)
    return scene.whole("key")
