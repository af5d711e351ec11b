"""Faults in guides, keys, sheets, shapes to scale, the root, and what has no place in a drawing."""

from __future__ import annotations

import copy
import math
import random
import re
from xml.etree.ElementTree import Element

from check.folders import Pattern, folder, leaves, renewed
from check.mutating import (
    CHARTS,
    DRAWINGS,
    Mutant,
    Right,
    Scene,
    another,
    drop,
    enter_file,
    fault,
    labels,
    print_,
    scaled,
    to,
)
from verify.breaking import SVG, centre, mapped, move, paths, points
from verify.pen import symbol

from gussetry.stitchmap import Op

Rights = tuple[Right, ...] | None


# --- guides -----------------------------------------------------------------------------------


@fault("a marker line moved by a stitch", ("gusset", "crown"))
def moved_marker(scene: Scene) -> Rights:
    line = scene.pick(paths(scene.root, data_role="marker"))
    if line is None:
        return None
    if scene.job.kind == "crown":
        _turned(scene, line, 2 * math.pi / 12)
    else:
        move(line, scene.pitch, 0)
    return scene.whole("marker")


def _turned(scene: Scene, line: Element, angle: float) -> None:
    """Turns a straight line about the crown's centre."""
    pivot = scene.middle or 0j
    turn = complex(math.cos(angle), math.sin(angle))
    ends = [pivot + (p - pivot) * turn for p in points(line)]
    line.set("d", "M" + "L".join(f"{p.real:.3f} {p.imag:.3f}" for p in ends))


@fault("a marker line deleted", ("gusset", "crown"))
def lost_marker(scene: Scene) -> Rights:
    line = scene.pick(paths(scene.root, data_role="marker"))
    if line is None:
        return None
    drop(scene, line)
    return scene.whole("marker")


@fault("an arrow turned round", ("gusset", "hand", "thumb", "crown"))
def turned_arrow(scene: Scene) -> Rights:
    """The head of a direction line goes to its other end."""
    head = scene.pick(paths(scene.root, data_role="arrow"))
    lines = paths(scene.root, data_role="direction")
    if head is None or not lines:
        return None
    here = centre(head)
    line = min(lines, key=lambda one: min(abs(p - here) for p in points(one)))
    ends = points(line)
    near, far = sorted((ends[0], ends[-1]), key=lambda p: abs(p - here))
    scaled(head, -1, -1)
    to(head, far + (near - here))
    return scene.whole("direction")


@fault("the direction of work deleted", ("cuff", "hand", "gusset", "thumb", "crown"))
def lost_direction(scene: Scene) -> Rights:
    lines = paths(scene.root, data_role="direction") + paths(scene.root, data_role="arrow")
    if not lines:
        return None
    for line in lines:
        drop(scene, line)
    return scene.whole("direction")


@fault("a crown's start turned", ("crown",))
def turned_start(scene: Scene) -> Rights:
    line = scene.pick(paths(scene.root, data_role="start"))
    if line is None or scene.middle is None:
        return None
    _turned(scene, line, 2 * math.pi / 8)
    return scene.whole("start")


@fault("a crown's start deleted", ("crown",))
def lost_start(scene: Scene) -> Rights:
    line = scene.pick(paths(scene.root, data_role="start"))
    if line is None:
        return None
    drop(scene, line)
    return scene.whole("start")


@fault("a parting moved to the next row", CHARTS, shared=True)
def moved_parting(scene: Scene) -> Rights:
    line = scene.pick(paths(scene.root, data_role="parting"))
    if line is None:
        return None
    same = paths(scene.root, data_role="parting", data_round=line.get("data-round", ""),
                 data_size=line.get("data-size", ""))  # fmt: skip
    for one in same:
        move(one, 0, scene.pitch * 1.2)
    return scene.whole("parting", "line-on-glyph")


@fault("two sizes' numbers exchanged on a chart they share", CHARTS, shared=True)
def exchanged_sizes(scene: Scene) -> Rights:
    shown = [p for p in labels(scene, "count", "sum") if re.search(r"\d+ \(\d", _said(p))]
    # Where a size's number is the other's there is nothing to exchange.
    own = [p for p in shown if (m := re.search(r"(\d+) \((\d+)", _said(p))) and m[1] != m[2]]
    label = scene.pick(own)
    if label is None:
        return None
    text = re.sub(r"(\d+) \((\d+)", r"\2 (\1", _said(label), count=1)
    print_(label, text)
    label.set("data-says", text)
    return scene.at(label, "printed", "sum", "count", "kind", "rows")


@fault("two sizes exchanged in a mark's tag", CHARTS, shared=True)
def exchanged_tags(scene: Scene) -> Rights:
    marks = [m for m in scene.stitches if len(set(m.get("data-index", "").split())) > 1]
    one = scene.pick(marks)
    if one is None:
        return None
    first, second, *rest = one.get("data-index", "").split()
    one.set("data-index", " ".join([second, first, *rest]))
    return scene.at(one, "tag")


def _said(label: Element) -> str:
    return label.get("data-says", "")


# --- keys -------------------------------------------------------------------------------------


def _symbols(scene: Scene) -> list[Element]:
    return paths(scene.root, class_="symbol")


@fault("a key's symbol deleted", (*CHARTS, "key"))
def lost_symbol(scene: Scene) -> Rights:
    one = scene.pick(_symbols(scene))
    if one is None:
        return None
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


@fault("a key's symbol tagged as another", (*CHARTS, "key"))
def retagged_symbol(scene: Scene) -> Rights:
    one = scene.pick(_symbols(scene))
    if one is None:
        return None
    one.set("data-do", "hdc" if one.get("data-do") != "hdc" else "sc")
    return scene.whole("key")


@fault("two symbols of a key exchanged", (*CHARTS, "key"))
def exchanged_symbols(scene: Scene) -> Rights:
    found = _symbols(scene)
    pairs = [(a, b) for a in found for b in found if a.get("data-do", "") < b.get("data-do", "")]
    if not pairs:
        return None
    one, other = scene.chance.choice(pairs)
    a, b = centre(one), centre(other)
    to(one, b)
    to(other, a)
    return scene.whole("key")


@fault("the heading of a key's column changed", ("key",))
def other_pitch(scene: Scene) -> Rights:
    label = scene.pick(labels(scene, "pitch"))
    if label is None:
        return None
    text = another(_said(label), scene.chance)
    print_(label, text)
    label.set("data-says", text)
    return scene.whole("key")


# --- strip and schematic ----------------------------------------------------------------------


@fault("an outline stretched across", ("schematic",))
def wide(scene: Scene) -> Rights:
    line = scene.pick(paths(scene.root, data_role="outline"))
    if line is None:
        return None
    scaled(line, scene.chance.choice((0.9, 1.06, 1.2)), 1)
    return scene.whole("outline", "dimension", "strip")


@fault("an outline stretched up", ("schematic",))
def tall(scene: Scene) -> Rights:
    line = scene.pick(paths(scene.root, data_role="outline"))
    if line is None:
        return None
    scaled(line, 1, scene.chance.choice((0.9, 1.06, 1.2)))
    return scene.whole("outline", "dimension", "strip")


@fault("an outline deleted", ("schematic",))
def no_outline(scene: Scene) -> Rights:
    line = scene.pick(paths(scene.root, data_role="outline"))
    if line is None:
        return None
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
    pairs = [(a, b) for a in found for b in found if _said(a) < _said(b)]
    if not pairs:
        return None
    one, other = scene.chance.choice(pairs)
    mine, yours = _said(one), _said(other)
    for label, text in ((one, yours), (other, mine)):
        print_(label, text)
        label.set("data-says", text)
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


@fault("the scale changed in print", ("schematic", "stripes"))
def printed_scale(scene: Scene) -> Rights:
    label = scene.pick(labels(scene, "scale"))
    if label is None:
        return None
    text = another(_said(label), scene.chance)
    print_(label, text)
    label.set("data-says", text)
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


@fault("a leader deleted", ("stripes",))
def lost_leader(scene: Scene) -> Rights:
    line = scene.pick(p for p in paths(scene.root, data_role="rule") if p.get("data-round"))
    if line is None:
        return None
    drop(scene, line)
    return scene.whole("place", "landmark")


@fault("a stripe as high as two", ("stripes",))
def doubled_stripe(scene: Scene) -> Rights:
    band = scene.pick(paths(scene.root, data_role="stripe", data_piece="hand"))
    if band is None:
        return None
    right = scene.at(band, "strip")
    scaled(band, 1, 2)
    return right


# --- the root and the page --------------------------------------------------------------------


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


# --- sheets -----------------------------------------------------------------------------------


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


# --- pens -------------------------------------------------------------------------------------


def _penned(scene: Scene, *roles: str) -> list[Element]:
    return [p for p in paths(scene.root) if p.get("stroke-width") and p.get("stroke")
            and (not roles or p.get("data-role") in roles)]  # fmt: skip


@fault("a line thinned below print", DRAWINGS)
def thinned(scene: Scene) -> Rights:
    line = scene.pick(_penned(scene))
    if line is None:
        return None
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


@fault("text left hanging over the page's edge", DRAWINGS)
def at_edge(scene: Scene) -> Rights:
    label = scene.pick(labels(scene, "note", "title", "term", "scale"))
    if label is None:
        return None
    left = min(p.real for p in points(label))
    label.set("d", mapped(label.get("d", ""), 0.2 - left, 0))
    return scene.whole("text-at-margin", "off-page")
