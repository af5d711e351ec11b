"""Faults in what is printed on drawings, and in the colours of rounds."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from xml.etree.ElementTree import Element

from check.mutating import (
    CHARTS,
    DRAWINGS,
    Right,
    Scene,
    another,
    drop,
    fault,
    labels,
    numbers,
    print_,
    scaled,
    to,
)
from verify.breaking import centre, paths

Rights = tuple[Right, ...] | None
GRIDS = ("cuff", "hand", "gusset", "thumb")
RIGHT_OF = {
    "count": ("printed", "label"),
    "round": ("printed", "label"),
    "yarn": ("printed", "label"),
    "sum": ("sum", "count", "kind", "rows", "label", "place", "tag"),
    "measure": ("measure", "label"),
    "landmark": ("landmark", "label"),
    "crook": ("crook", "label"),
    "term": ("key", "label", "printed", "description"),
    "pitch": ("key", "label"),
}
"""By role the kinds of finding that another text in print is rightly found by."""


def _changed(scene: Scene, label: Element) -> str | None:
    """What the label says once it is changed; None where nothing of it can be."""
    said = label.get("data-says", "")
    if label.get("data-role") == "yarn":
        letters = [letter for letter, _, _ in scene.job.maps[0].yarns if letter != said]
        return scene.chance.choice(letters) if letters else None
    return another(said, scene.chance)


def _label(scene: Scene, role: str) -> Element | None:
    return scene.pick(labels(scene, role))


def _right(scene: Scene, label: Element, kinds: Sequence[str]) -> Rights:
    """At the label's round, if it has one."""
    return scene.at(label, *kinds) if list(numbers(label)) else scene.whole(*kinds)


def _print_only(role: str, kinds: Sequence[str]) -> None:
    @fault(f"a {role} changed in print, not in its tag", kinds)
    def spoil(scene: Scene) -> Rights:
        label = _label(scene, role)
        text = _changed(scene, label) if label is not None else None
        if label is None or text is None:
            return None
        print_(label, text)
        return _right(scene, label, RIGHT_OF[role])


def _claim_only(role: str, kinds: Sequence[str]) -> None:
    @fault(f"a {role} changed in its tag, not in print", kinds)
    def spoil(scene: Scene) -> Rights:
        label = _label(scene, role)
        text = _changed(scene, label) if label is not None else None
        if label is None or text is None:
            return None
        label.set("data-says", text)
        return _right(scene, label, ("label",))


def _both(role: str, kinds: Sequence[str]) -> None:
    @fault(f"a {role} changed in print and tag", kinds)
    def spoil(scene: Scene) -> Rights:
        label = _label(scene, role)
        text = _changed(scene, label) if label is not None else None
        if label is None or text is None:
            return None
        print_(label, text)
        label.set("data-says", text)
        return _right(scene, label, [kind for kind in RIGHT_OF[role] if kind != "label"])


for _role, _kinds in (
    ("count", CHARTS), ("round", (*CHARTS, "stripes")), ("yarn", (*CHARTS, "stripes")),
    ("sum", CHARTS), ("measure", ("schematic",)), ("landmark", ("stripes",)),
    ("crook", ("gusset", "thumb")),
):  # fmt: skip
    _print_only(_role, _kinds)
    _claim_only(_role, _kinds)
    _both(_role, _kinds)


@fault("a section of a count changed, its sum kept", CHARTS)
def section(scene: Scene) -> Rights:
    """One more before the marker, one less after it."""
    label = scene.pick(p for p in labels(scene, "count") if p.get("data-says", "").count("·") > 1)
    if label is None:
        return None
    said = label.get("data-says", "")
    found = re.match(r"(\d+)(.*?)(\d+)( = .*)", said)
    if found is None:
        return None
    text = f"{int(found[1]) + 1}{found[2]}{int(found[3]) - 1}{found[4]}"
    print_(label, text)
    label.set("data-says", text)
    return scene.at(label, "printed")


@fault("a label deleted", (*CHARTS, "schematic", "stripes"))
def lost(scene: Scene) -> Rights:
    roles = ("count", "yarn", "measure", "landmark", "crook")
    if scene.job.kind in CHARTS:
        roles = (*roles, "round")
    label = scene.pick(labels(scene, *roles))
    if label is None:
        return None
    drop(scene, label)
    return _right(scene, label, ("printed", "measure", "landmark", "crook"))


@fault("a label moved to the next row", GRIDS)
def strayed(scene: Scene) -> Rights:
    """A count or a round's number stands beside another round than its own."""
    found = {(p.get("data-role"), *numbers(p)): p for p in labels(scene, "count", "round")}
    pairs = [
        (one, found[role, number + 1])
        for (role, number, *more), one in found.items()
        if not more and (role, number + 1) in found
    ]
    if not pairs:
        return None
    one, other = scene.chance.choice(pairs)
    one_at, other_at = centre(one), centre(other)
    to(one, complex(one_at.real, other_at.imag))
    return scene.at([one, other], "place", "printed")


@fault("two counts exchanged, tags and all", GRIDS)
def exchanged(scene: Scene) -> Rights:
    counts = labels(scene, "count")
    pairs = [(a, b) for a in counts for b in counts if a.get("data-says") != b.get("data-says")]
    if not pairs:
        return None
    one, other = scene.chance.choice(pairs)
    a, b = centre(one), centre(other)
    to(one, b)
    to(other, a)
    return scene.at([one, other], "place", "printed")


@fault("two counts exchanged in print and claim", CHARTS)
def exchanged_texts(scene: Scene) -> Rights:
    counts = labels(scene, "count")
    pairs = [(a, b) for a in counts for b in counts if a.get("data-says") != b.get("data-says")]
    if not pairs:
        return None
    one, other = scene.chance.choice(pairs)
    mine, yours = one.get("data-says", ""), other.get("data-says", "")
    for label, text in ((one, yours), (other, mine)):
        print_(label, text)
        label.set("data-says", text)
    return scene.at([one, other], "printed")


@fault("a label's letter lost", DRAWINGS)
def letter_lost(scene: Scene) -> Rights:
    found = [p for p in paths(scene.root, data_says="") if len(p.get("data-says", "")) > 1]
    label = scene.pick(p for p in found if p.get("data-role") in RIGHT_OF)
    if label is None:
        return None
    print_(label, label.get("data-says", "")[:-1])
    return _right(scene, label, ("label",))


@fault("a label painted in the paper's colour", DRAWINGS)
def white(scene: Scene) -> Rights:
    # A letter on a chip or a number on a stripe may be white.
    found = [p for p in paths(scene.root, data_says="") if p.get("data-role") in RIGHT_OF]
    label = scene.pick(p for p in found if p.get("data-role") not in ("yarn", "round"))
    if label is None:
        return None
    label.set("fill", scene.paper)
    return _right(scene, label, ("hidden", "text-faint"))


@fault("a label shrunk below print", DRAWINGS)
def shrunk(scene: Scene) -> Rights:
    label = scene.pick(p for p in paths(scene.root, data_says=""))
    if label is None:
        return None
    scaled(label, 0.5, 0.5)
    return _right(scene, label, ("text-small", "measure-astray"))


@fault("a label laid on a stitch", CHARTS)
def on_stitch(scene: Scene) -> Rights:
    label, stitch = scene.pick(labels(scene, "count", "term")), scene.pick(scene.stitches)
    if label is None or stitch is None:
        return None
    to(label, centre(stitch))
    near = scene.at(stitch, "text-on-glyph", "text-on-text", "covered")
    return (*near, *_right(scene, label, ("text-on-glyph", "place", "printed", "key")))  # type: ignore[misc]


@fault("two words of a key exchanged", (*CHARTS, "key"))
def exchanged_words(scene: Scene) -> Rights:
    terms = [p for p in labels(scene, "term") if not p.get("data-yarn")]
    beside = [p for p in terms if _level(scene, p)]
    pairs = [(a, b) for a in beside for b in beside if _name(a) != _name(b)]
    if not pairs:
        return None
    one, other = scene.chance.choice(pairs)
    mine, yours = one.get("data-says", ""), other.get("data-says", "")
    for label, text in ((one, yours), (other, mine)):
        print_(label, text)
        label.set("data-says", text)
    return scene.whole("key")


def _name(label: Element) -> str:
    return label.get("data-says", "").split(" ")[0]


def _level(scene: Scene, label: Element) -> bool:
    """Whether a key's symbol stands at the label's height."""
    return any(
        abs(centre(s).imag - centre(label).imag) < 1.5 for s in paths(scene.root, class_="symbol")
    )


@fault("a title names another size", (*CHARTS, "stripes", "schematic"))
def other_title(scene: Scene) -> Rights:
    (label,) = labels(scene, "title") or [None]
    if label is None or "size" not in label.get("data-says", ""):
        return None
    text = re.sub(r"(size[s ]*)(\w)", r"\1Z", label.get("data-says", ""), count=1)
    print_(label, text)
    label.set("data-says", text)
    return scene.whole("title", "root", "printed")


@fault("the file's own title names another size", (*CHARTS, "stripes", "schematic"))
def other_file_title(scene: Scene) -> Rights:
    title = next(e for e in scene.root if e.tag.endswith("title"))
    if "size" not in (title.text or ""):
        return None
    title.text = re.sub(r"(size[s ]*)(\w)", r"\1Z", title.text or "", count=1)
    return scene.whole("title", "root", "description")


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
    piece = {"cuff": "cuff", "thumb": "thumb"}.get(scene.job.kind, "hand")
    return (Right(scene.file, frozenset({"description"}), piece, rounds),)


@fault("a stitch changed in the description", CHARTS)
def told_stitch(scene: Scene) -> Rights:
    text = scene.root[1].text or ""
    found = list(re.finditer(r"(?:Round|Row) (\d+), yarn [^;.]*?(\d+) [sh]", text))
    if not found:
        return None
    one = scene.chance.choice(found)
    new = str(int(one[2]) + 1)
    scene.root[1].text = text[: one.start(2)] + new + text[one.end(2) :]
    piece = {"cuff": "cuff", "thumb": "thumb"}.get(scene.job.kind, "hand")
    return (Right(scene.file, frozenset({"description"}), piece, frozenset({int(one[1])})),)


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


# --- colours ----------------------------------------------------------------------------------


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


@fault("a round's colour a little another", (*CHARTS, "stripes"))
def tinged(scene: Scene) -> Rights:
    patch = scene.pick(_patches(scene))
    if patch is None:
        return None
    paint = int(patch.get("fill", "#000000")[1:], 16)
    patch.set("fill", f"#{paint ^ 0x101010:06x}")
    return scene.at(patch, "colour")


@fault("a round's yarn changed in its tag", (*CHARTS, "stripes"))
def retagged(scene: Scene) -> Rights:
    patch = scene.pick(_patches(scene))
    if patch is None:
        return None
    patch.set("data-yarn", "Z")
    return scene.at(patch, "tag")


@fault("a round's colour deleted", (*CHARTS, "stripes"))
def uncoloured(scene: Scene) -> Rights:
    patch = scene.pick(_patches(scene))
    if patch is None:
        return None
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
        print_(label, other[0])
        label.set("data-says", other[0])
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
    for name in ("fill", "data-yarn"):
        mine, yours = one.get(name, ""), other.get(name, "")
        one.set(name, yours)
        other.set(name, mine)
    return scene.at([one, other], "colour", "tag", "printed")


@fault("a swatch in another yarn's colour", ("stripes",))
def swatch(scene: Scene) -> Rights:
    patch = scene.pick(paths(scene.root, data_role="swatch"))
    other = _other_yarn(scene, patch) if patch is not None else None
    if patch is None or other is None:
        return None
    patch.set("fill", other[1])
    return scene.whole("colour")
