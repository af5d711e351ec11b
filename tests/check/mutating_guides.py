"""Faults in guides."""

from __future__ import annotations

import math
import re
from xml.etree.ElementTree import Element

from check.mutating import (
    CHARTS,
    Rights,
    Scene,
    drop,
    fault,
    fault_in,
    labels,
    marks,
    reprint,
    said,
    scaled,
    to,
)
from verify.breaking import centre, move, paths, points


@fault_in("a marker line moved by a stitch", ("gusset", "crown"), marks("marker"))
def moved_marker(scene: Scene, line: Element) -> Rights:
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


@fault_in("a marker line deleted", ("gusset", "crown"), marks("marker"))
def lost_marker(scene: Scene, line: Element) -> Rights:
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


@fault_in("a crown's start deleted", ("crown",), marks("start"))
def lost_start(scene: Scene, line: Element) -> Rights:
    drop(scene, line)
    return scene.whole("start")


@fault_in("a parting moved to the next row", CHARTS, marks("parting"), shared=True)
def moved_parting(scene: Scene, line: Element) -> Rights:
    same = paths(scene.root, data_role="parting", data_round=line.get("data-round", ""),
                 data_size=line.get("data-size", ""))  # fmt: skip
    for one in same:
        move(one, 0, scene.pitch * 1.2)
    return scene.whole("parting", "line-on-glyph")


@fault("two sizes' numbers exchanged on a chart they share", CHARTS, shared=True)
def exchanged_sizes(scene: Scene) -> Rights:
    shown = [p for p in labels(scene, "count", "sum") if re.search(r"\d+ \(\d", said(p))]
    # Where a size's number is the other's there is nothing to exchange.
    own = [p for p in shown if (m := re.search(r"(\d+) \((\d+)", said(p))) and m[1] != m[2]]
    label = scene.pick(own)
    if label is None:
        return None
    text = re.sub(r"(\d+) \((\d+)", r"\2 (\1", said(label), count=1)
    reprint(label, text)
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
