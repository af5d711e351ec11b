"""Faults in what is printed and what labels claim."""

from __future__ import annotations

import re
from collections.abc import Sequence
from xml.etree.ElementTree import Element

from check.mutating import (
    CHARTS,
    DRAWINGS,
    GRIDS,
    Rights,
    Scene,
    another,
    drop,
    exchange_places,
    exchange_texts,
    fault,
    fault_in,
    labels,
    numbers,
    print_,
    reprint,
    scaled,
    to,
)
from verify.breaking import centre, paths

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
        reprint(label, text)
        return _right(scene, label, [kind for kind in RIGHT_OF[role] if kind != "label"])


for _role, _kinds in (
    ("count", CHARTS), ("round", (*CHARTS, "stripes")), ("yarn", (*CHARTS, "stripes")),
    ("sum", CHARTS), ("measure", ("schematic",)), ("landmark", ("stripes",)),
    ("crook", ("gusset", "thumb")),
):  # fmt: skip
    _print_only(_role, _kinds)
    _claim_only(_role, _kinds)
    _both(_role, _kinds)


def _sectioned(scene: Scene) -> list[Element]:
    """Counts by sections of three or more."""
    return [p for p in labels(scene, "count") if p.get("data-says", "").count("·") > 1]


@fault_in(
    "a section of a count changed, its sum kept",
    CHARTS,
    _sectioned,
)
def section(scene: Scene, label: Element) -> Rights:
    """One more before the marker, one less after it."""
    said = label.get("data-says", "")
    found = re.match(r"(\d+)(.*?)(\d+)( = .*)", said)
    if found is None:
        return None
    text = f"{int(found[1]) + 1}{found[2]}{int(found[3]) - 1}{found[4]}"
    reprint(label, text)
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
    exchange_places(one, other)
    return scene.at([one, other], "place", "printed")


@fault("two counts exchanged in print and claim", CHARTS)
def exchanged_texts(scene: Scene) -> Rights:
    counts = labels(scene, "count")
    pairs = [(a, b) for a in counts for b in counts if a.get("data-says") != b.get("data-says")]
    if not pairs:
        return None
    one, other = scene.chance.choice(pairs)
    exchange_texts(one, other)
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


@fault_in(
    "a label shrunk below print",
    DRAWINGS,
    lambda scene: paths(scene.root, data_says=""),
)
def shrunk(scene: Scene, label: Element) -> Rights:
    # Even a title is smaller than print may be.
    scaled(label, 0.25, 0.25)
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
    exchange_texts(one, other)
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
    reprint(label, text)
    return scene.whole("title", "root", "printed")


@fault("the file's own title names another size", (*CHARTS, "stripes", "schematic"))
def other_file_title(scene: Scene) -> Rights:
    title = next(e for e in scene.root if e.tag.endswith("title"))
    if "size" not in (title.text or ""):
        return None
    title.text = re.sub(r"(size[s ]*)(\w)", r"\1Z", title.text or "", count=1)
    return scene.whole("title", "root", "description")
