"""Faults in the descriptions of drawings."""

from __future__ import annotations

import re

from check.mutating import (
    CHARTS,
    Right,
    Rights,
    Scene,
    another,
    fault,
)


def _piece(scene: Scene) -> str:
    return scene.job.kind if scene.job.kind in ("cuff", "thumb") else "hand"


@fault("a count changed in the description", CHARTS)
def told_count(scene: Scene) -> Rights:
    text = scene.root[1].text or ""
    found = list(re.finditer(r"(?:Round|Row)s? (\d+)(?: to (\d+))?[^;.]*; (\d+)", text))
    if not found:
        return None
    one = scene.chance.choice(found)
    new = another(one[3], scene.chance)
    scene.root[1].text = text[: one.start(3)] + new + text[one.end(3) :]
    rounds = frozenset(range(int(one[1]), int(one[2] or one[1]) + 1))
    return (Right(scene.file, frozenset({"description"}), _piece(scene), rounds),)


@fault("a stitch changed in the description", CHARTS)
def told_stitch(scene: Scene) -> Rights:
    text = scene.root[1].text or ""
    found = list(re.finditer(r"(?:Round|Row) (\d+), yarn [^;.]*?(\d+) [sh]", text))
    if not found:
        return None
    one = scene.chance.choice(found)
    new = str(int(one[2]) + 1)
    scene.root[1].text = text[: one.start(2)] + new + text[one.end(2) :]
    return (Right(scene.file, frozenset({"description"}), _piece(scene), frozenset({int(one[1])})),)


@fault("a stripe or measure changed in the description", ("stripes", "schematic"))
def told_scaled(scene: Scene) -> Rights:
    text = scene.root[1].text or ""
    pattern = r"(?:rounds|rows) (\d+)" if scene.job.kind == "stripes" else r": (\d+)(?:\.5)? cm"
    found = list(re.finditer(pattern, text))
    if not found:
        return None
    one = scene.chance.choice(found)
    scene.root[1].text = text[: one.start(1)] + str(int(one[1]) + 1) + text[one.end(1) :]
    return scene.whole("description")
