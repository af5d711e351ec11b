"""Faults in a drawing's root, page, sheets and pens, and in what has no place in a drawing."""

from __future__ import annotations

import copy
import random
from xml.etree.ElementTree import Element

from check.folders import Pattern, folder, leaves, renewed
from check.mutating import (
    CHARTS,
    DRAWINGS,
    Mutant,
    Right,
    Rights,
    Scene,
    enter_file,
    fault,
    fault_in,
    labels,
    texts,
)
from verify.breaking import SVG, centre, mapped, paths, points


@fault("the root's size, mitten, hand or kind changed", DRAWINGS)
def other_root(scene: Scene) -> Rights:
    name, value = scene.chance.choice(
        (("data-size", "XXL"), ("data-mitten", "left"), ("data-hand", "left"),
         ("data-kind", "poster"))
    )  # fmt: skip
    if scene.root.get(name) == value:
        return None
    scene.root.set(name, value)
    # Of a chart for another hand nothing runs the right way.
    return scene.whole("root")


@fault("the page cut off below", DRAWINGS)
def cut(scene: Scene) -> Rights:
    box = scene.root.get("viewBox", "").split()
    high = float(box[3]) * 0.7
    scene.root.set("viewBox", f"{box[0]} {box[1]} {box[2]} {high:g}")
    scene.root.set("height", f"{high:g}mm")
    return scene.whole("hidden", "off-page", "text-at-margin")


@fault("the page scaled to a half", DRAWINGS)
def small(scene: Scene) -> Rights:
    for name in ("width", "height"):
        scene.root.set(name, f"{float(scene.root.get(name, '')[:-2]) / 2:g}mm")
    # Where letters and stitches are large enough even so, its pens are no pens any more.
    return scene.whole("text-small", "stitch-small", "pen-thin", "pen-unknown", "glyph-clogged",
                       "line-on-glyph", "strip", "schematic", "key")  # fmt: skip


@fault("the drawing mirrored", DRAWINGS)
def mirrored(scene: Scene) -> Rights:
    group = next(e for e in scene.root if e.tag == SVG + "g")
    box = scene.root.get("viewBox", "").split()
    group.set("transform", f"translate({box[2]} 0) scale(-1 1)")
    return scene.whole("label")


FOREIGN = (
    ("script", {}), ("text", {"font-family": "sans-serif"}), ("image", {"href": "a.png"}),
    ("use", {"href": "http://example.org/a.svg#a"}), ("foreignObject", {}),
    ("path", {"d": "M0 0L5 5", "onclick": "x()", "data-role": "rule"}),
    ("path", {"d": "M0 0L5 5", "fill": "url(http://example.org/a#b)", "data-role": "rule"}),
    ("style", {"": "@import url(http://example.org/a.css);"}),
    ("style", {"": "@font-face{font-family:x;src:url(http://example.org/a.woff)}"}),
    ("a", {"href": "http://example.org/"}), ("animate", {"attributeName": "d"}),
)  # fmt: skip


@fault("a font, text, image, script or reference crept in", DRAWINGS)
def foreign(scene: Scene) -> Rights:
    tag, marks = scene.chance.choice(FOREIGN)
    extra = Element(SVG + tag, {name: value for name, value in marks.items() if name})
    extra.text = marks.get("", "x" if tag == "text" else "")
    scene.root.append(extra)
    # A style sheet that asks for a file is refused, and the drawing with it.
    return scene.whole("element", "text", "reference", "paint", "unread", "unreadable")


@fault("a path that cannot be read", DRAWINGS)
def broken_path(scene: Scene) -> Rights:
    data = scene.chance.choice(("M0 0Lnan 5", "M0 0L1e9 5", "M 0", "L4 4", "M0 0A1 1 0 2 0 5 5"))
    scene.root.append(Element(SVG + "path", {"d": data, "stroke": "#000000", "data-role": "rule"}))
    return scene.whole("path", "unreadable")


def _parted(own: Pattern, chance: random.Random) -> str | None:
    """A drawing of several sheets."""
    names = [n for n, job in own.jobs.items() if job.kind in CHARTS]
    chance.shuffle(names)
    found = (n for n in names if len(leaves(own.example, own.style.name, n)) > 1)
    return next(found, None)


@enter_file("two sheets exchanged")
def exchanged_sheets(own: Pattern, chance: random.Random) -> Mutant | None:
    name = _parted(own, chance)
    if name is None:
        return None
    made = folder(own, [name])
    one, other = (f"{leaf.name}.svg" for leaf in leaves(own.example, own.style.name, name)[:2])
    made[one], made[other] = made[other], made[one]
    right = tuple(Right(file, frozenset({"sheets"})) for file in (one, other))
    return Mutant("two sheets exchanged", one, renewed(made), right)


@enter_file("a sheet missing")
def lost_sheet(own: Pattern, chance: random.Random) -> Mutant | None:
    name = _parted(own, chance)
    if name is None:
        return None
    made = folder(own, [name])
    files = [f"{leaf.name}.svg" for leaf in leaves(own.example, own.style.name, name)]
    gone = chance.choice(files)
    del made[gone]
    right = (Right(gone, frozenset({"missing"})),)
    return Mutant("a sheet missing", gone, renewed(made), right)


@enter_file("a sheet copied over another")
def same_sheet(own: Pattern, chance: random.Random) -> Mutant | None:
    name = _parted(own, chance)
    if name is None:
        return None
    made = folder(own, [name])
    files = [f"{leaf.name}.svg" for leaf in leaves(own.example, own.style.name, name)]
    one, other = chance.sample(files, 2)
    made[one] = made[other]
    right = tuple(Right(file, frozenset({"sheets"})) for file in files)
    return Mutant("a sheet copied over another", one, renewed(made), right)


def _penned(scene: Scene, *roles: str) -> list[Element]:
    return [p for p in paths(scene.root) if p.get("stroke-width") and p.get("stroke")
            and (not roles or p.get("data-role") in roles)]  # fmt: skip


@fault_in("a line thinned below print", DRAWINGS, lambda scene: _penned(scene))
def thinned(scene: Scene, line: Element) -> Rights:
    line.set("stroke-width", "0.05")
    return scene.whole("pen-thin")


@fault("the stitches' pen thinned below print", CHARTS)
def thin_stitches(scene: Scene) -> Rights:
    group = next(e for e in scene.root.iter(SVG + "g") if e.get("data-role") == "stitches")
    # Where every stitch has a pen of its own, the group's alone changes nothing.
    for one in (group, *(mark for mark in scene.stitches if mark.get("stroke-width"))):
        one.set("stroke-width", "0.06")
    return scene.whole("pen-thin")


@fault("a line or label painted pale", DRAWINGS)
def pale(scene: Scene) -> Rights:
    found = _penned(scene, "direction", "outline", "dimension", "marker", "start")
    one = scene.pick([*found, *labels(scene, "count", "measure", "landmark", "term", "title")])
    if one is None:
        return None
    # Pale on white; on a dark ground nearly as dark.
    ink = "#dddddd" if int(scene.paper[1:3], 16) > 127 else "#2a2c30"
    one.set("stroke" if "stroke" in one.attrib else "fill", ink)
    return scene.whole("text-faint", "line-faint", "hidden")


@fault("a guide drawn through stitches", CHARTS)
def through(scene: Scene) -> Rights:
    one = scene.pick(scene.stitches)
    lines = _penned(scene, "rule", "direction", "join")
    if one is None or not lines:
        return None
    more = copy.deepcopy(lines[0])
    at, half = centre(one), scene.pitch
    more.set("d", f"M{at.real - half} {at.imag - 0.3}L{at.real + half} {at.imag + 0.4}")
    more.set("data-role", "rule")
    more.set("fill", "none")
    scene.root.append(more)
    right = scene.at(one, "line-on-glyph")
    return (*right, *scene.whole("line-on-glyph"))


@fault_in(
    "text left hanging over the page's edge", DRAWINGS, texts("note", "title", "term", "scale")
)
def at_edge(scene: Scene, label: Element) -> Rights:
    left = min(p.real for p in points(label))
    label.set("d", mapped(label.get("d", ""), 0.2 - left, 0))
    return scene.whole("text-at-margin", "off-page")
