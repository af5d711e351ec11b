"""Faults in strips and schematics."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from check.mutating import (
    CHARTS,
    Rights,
    Scene,
    another,
    drop,
    exchange_texts,
    fault,
    fault_in,
    labels,
    marks,
    reprint,
    said,
    scaled,
    texts,
)
from verify.breaking import SVG, centre, move, paths, points


@fault_in("an outline stretched across", ("schematic",), marks("outline"))
def wide(scene: Scene, line: Element) -> Rights:
    scaled(line, scene.chance.choice((0.9, 1.06, 1.2)), 1)
    return scene.whole("outline", "dimension", "strip")


@fault_in("an outline stretched up", ("schematic",), marks("outline"))
def tall(scene: Scene, line: Element) -> Rights:
    scaled(line, 1, scene.chance.choice((0.9, 1.06, 1.2)))
    return scene.whole("outline", "dimension", "strip")


@fault_in("an outline deleted", ("schematic",), marks("outline"))
def no_outline(scene: Scene, line: Element) -> Rights:
    drop(scene, line)
    return scene.whole("outline", "dimension", "strip")


@fault("the whole drawing stretched within its page", (*CHARTS, "schematic", "stripes"))
def stretched(scene: Scene) -> Rights:
    group = next(e for e in scene.root if e.tag == SVG + "g")
    group.set("transform", "scale(1 0.9)")
    kinds = ("schematic", "outline", "dimension", "strip", "label", "shape", "kind", "root")
    return scene.whole(*kinds, "landmark", "stacked")


@fault("two measures exchanged", ("schematic",))
def exchanged_measures(scene: Scene) -> Rights:
    found = labels(scene, "measure")
    pairs = [(a, b) for a in found for b in found if said(a) < said(b)]
    if not pairs:
        return None
    one, other = scene.chance.choice(pairs)
    exchange_texts(one, other)
    return scene.whole("measure")


@fault("a dimension line shortened", ("schematic",))
def shortened(scene: Scene) -> Rights:
    lines = [p for p in paths(scene.root, data_role="dimension") if len(points(p)) == 2]
    heads = [centre(p) for p in paths(scene.root, data_role="arrow")]
    own = [p for p in lines if sum(min(abs(e - h) for h in heads) < 3 for e in points(p)) == 2]
    line = scene.pick(own)
    if line is None:
        return None
    a, b = points(line)
    near = min(paths(scene.root, data_role="arrow"), key=lambda p: abs(centre(p) - b))
    way = (a - b) * 0.2
    line.set("d", f"M{a.real} {a.imag}L{(b + way).real} {(b + way).imag}")
    move(near, way.real, way.imag)
    return scene.whole("dimension")


@fault("the scale changed in its tag", ("schematic", "stripes"))
def rescaled(scene: Scene) -> Rights:
    scene.root.set("data-scale", f"{float(scene.root.get('data-scale', '1')) * 1.25:g}")
    return scene.whole("schematic", "strip", "outline", "dimension", "root")


@fault_in("the scale changed in print", ("schematic", "stripes"), texts("scale"))
def printed_scale(scene: Scene, label: Element) -> Rights:
    text = another(said(label), scene.chance)
    reprint(label, text)
    return scene.whole("scale", "printed", "label", "strip", "schematic")


@fault("a landmark and its leader moved by a round", ("stripes",))
def moved_landmark(scene: Scene) -> Rights:
    label = scene.pick(labels(scene, "landmark"))
    bands = paths(scene.root, data_role="stripe", data_piece="hand")
    if label is None or not bands:
        return None
    high = abs(points(bands[0])[0].imag - points(bands[0])[2].imag)
    here = centre(label)
    xs = [p.real for p in points(label)]
    ends = {id(p): points(p) for p in paths(scene.root, data_role="rule")}
    led = [
        p for p in paths(scene.root, data_role="rule")
        if any(abs(e.imag - here.imag) < 2 and min(xs) - e.real < 3 for e in ends[id(p)])
    ]  # fmt: skip
    for one in led:
        move(one, 0, -high)
    move(label, 0, -high)
    return scene.whole("landmark", "text-on-text") if led else None


def _leaders(scene: Scene) -> list[Element]:
    """Lines from words to their stripe."""
    return [p for p in paths(scene.root, data_role="rule") if p.get("data-round")]


def _bands(scene: Scene) -> list[Element]:
    return paths(scene.root, data_role="stripe", data_piece="hand")


@fault_in(
    "a leader deleted",
    ("stripes",),
    _leaders,
)
def lost_leader(scene: Scene, line: Element) -> Rights:
    drop(scene, line)
    return scene.whole("place", "landmark")


@fault_in(
    "a stripe as high as two",
    ("stripes",),
    _bands,
)
def doubled_stripe(scene: Scene, band: Element) -> Rights:
    right = scene.at(band, "strip")
    scaled(band, 1, 2)
    return right
