"""Faults in the colours of charts and strips."""

from __future__ import annotations

from itertools import pairwise
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
    reprint,
    to,
)
from verify.breaking import centre, paths


def _patches(scene: Scene) -> list[Element]:
    return paths(scene.root, data_role="colour") + paths(scene.root, data_role="stripe")


def _other_yarn(scene: Scene, patch: Element) -> tuple[str, str] | None:
    """Another yarn's letter and paint, where its paint is another."""
    yarns = scene.job.maps[0].yarns
    others = [
        (letter, paint)
        for letter, _, paint in yarns
        if letter != patch.get("data-yarn") and paint != patch.get("fill")
    ]
    return scene.chance.choice(others) if others else None


def _hatched(scene: Scene) -> bool:
    return scene.root.get("data-yarns") == "hatches"


@fault("a round's colour that of another yarn", (*CHARTS, "stripes"))
def recoloured(scene: Scene) -> Rights:
    patch = scene.pick(_patches(scene))
    other = _other_yarn(scene, patch) if patch is not None else None
    if patch is None or other is None:
        return None
    patch.set("fill", other[1])
    return scene.at(patch, "colour")


@fault_in("a round's colour a little another", (*CHARTS, "stripes"), _patches)
def tinged(scene: Scene, patch: Element) -> Rights:
    paint = int(patch.get("fill", "#000000")[1:], 16)
    patch.set("fill", f"#{paint ^ 0x101010:06x}")
    return scene.at(patch, "colour")


@fault_in("a round's yarn changed in its tag", (*CHARTS, "stripes"), _patches)
def retagged(scene: Scene, patch: Element) -> Rights:
    patch.set("data-yarn", "Z")
    return scene.at(patch, "tag")


@fault_in("a round's colour deleted", (*CHARTS, "stripes"), _patches)
def uncoloured(scene: Scene, patch: Element) -> Rights:
    drop(scene, patch)
    return scene.at(patch, "colour", "strip", "tag")


@fault("a chip moved to the next row", GRIDS)
def moved_chip(scene: Scene) -> Rights:
    patches = paths(scene.root, data_role="colour")
    if len(patches) < 2:
        return None
    at = scene.chance.randrange(len(patches) - 1)
    one, other = patches[at], patches[at + 1]
    place = centre(other)
    to(one, place + (0 if abs(centre(one).imag - place.imag) > 1 else 6j))
    return scene.at([one, other], "place", "colour")


@fault("a stripe one round out: chip, letter and tag", CHARTS)
def one_out(scene: Scene) -> Rights:
    """A whole round in another yarn, consistent with itself."""
    patch = scene.pick(paths(scene.root, data_role="colour"))
    other = _other_yarn(scene, patch) if patch is not None else None
    if patch is None or other is None or _hatched(scene):
        return None
    patch.set("fill", other[1])
    patch.set("data-yarn", other[0])
    for label in paths(scene.root, data_role="yarn", data_round=patch.get("data-round", "")):
        reprint(label, other[0])
    return scene.at(patch, "colour", "printed", "tag")


@fault("two stripes exchanged", ("stripes",))
def exchanged_bands(scene: Scene) -> Rights:
    bands = paths(scene.root, data_role="stripe")
    pairs = [
        (a, b) for a, b in pairwise(bands)
        if a.get("data-yarn") != b.get("data-yarn")
    ]  # fmt: skip
    if not pairs:
        return None
    one, other = scene.chance.choice(pairs)
    exchange_tags(one, other, "fill", "data-yarn")
    return scene.at([one, other], "colour", "tag", "printed")


@fault("a swatch in another yarn's colour", ("stripes",))
def swatch(scene: Scene) -> Rights:
    patch = scene.pick(paths(scene.root, data_role="swatch"))
    other = _other_yarn(scene, patch) if patch is not None else None
    if patch is None or other is None:
        return None
    patch.set("fill", other[1])
    return scene.whole("colour")
