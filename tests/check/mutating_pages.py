"""Faults in finished pages: in their parts, their foot, and what is said of them."""

from __future__ import annotations

import copy
import random
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from check.folders import MANIFEST, Pattern, renewed
from check.mutating import Mutant, Right, Rights, another, enter_file, numbers, reprint
from check.paged import HOW, composed_set, names, paged_folder, sets_of
from pages.making import Composed
from verify.breaking import SVG, bytes_of, centre, parent, paths, tree
from verify.pen import symbol

from gussetry.stitchmap import Op

FURNITURE = ("head", "counts")
DRAWN = ("root", "title", "page", "rows", "count", "kind", "printed", "sheets", "measure", "strip",
         "outline", "description", "counts")  # fmt: skip
"""What a drawing of another size on a page is rightly found by."""


@dataclass(slots=True)
class PageScene:
    """A page about to be spoilt: `file` its name in the folder, `root` its tree."""

    own: Pattern
    made: Composed
    file: str
    root: Element
    chance: random.Random

    @property
    def parts(self) -> list[Element]:
        """Its parts, in order."""
        return [e for e in self.root.iter(SVG + "g") if e.get("data-part")]

    def part(self, *kinds: str) -> Element | None:
        """One of its parts of these kinds by chance, of any drawing where none is named."""
        found = [
            one for one in self.parts
            if (one.get("data-kind") in kinds if kinds else one.get("data-kind") not in FURNITURE)
        ]  # fmt: skip
        return self.pick(found)

    def pick(self, found: Iterable[Element]) -> Element | None:
        """One of them by chance; None of none."""
        among = list(found)
        return self.chance.choice(among) if among else None

    def stitch(self) -> Element | None:
        """A stitch of one of its charts of one size."""
        charts = [one for one in self.parts if "/" not in one.get("data-size", "/").split(" ")]
        return self.pick(s for one in charts for s in paths(one, class_="stitch"))

    def whole(self, *kinds: str) -> tuple[Right, ...]:
        """The explanation that something of these kinds is wrong with the page."""
        return (Right(self.file, frozenset(kinds)),)

    def at(self, mark: Element, *kinds: str) -> tuple[Right, ...]:
        """The explanation that something of these kinds is wrong where this mark stands."""
        rounds = frozenset(numbers(mark))
        return (Right(self.file, frozenset(kinds), mark.get("data-piece", ""), rounds),)


Spoil = Callable[[PageScene], Rights]


def set_of(own: Pattern, chance: random.Random) -> Composed | None:
    """A set of pages of a pattern by chance; None where one of its charts is too large for a
    page."""
    how = chance.choice(HOW)
    place = chance.randrange(len(sets_of(own.example, own.style.name, how)))
    return composed_set(own.example, own.style.name, how, place)


def page_fault(name: str) -> Callable[[Spoil], Spoil]:
    """Enters a way to spoil a page among the faults."""

    def enter(spoil: Spoil) -> Spoil:
        @enter_file(name)
        def make(own: Pattern, chance: random.Random) -> Mutant | None:
            made = set_of(own, chance)
            if made is None:
                return None
            for place in chance.sample(range(len(made.svgs)), len(made.svgs)):
                file = names(made)[place]
                scene = PageScene(own, made, file, tree(made.svgs[place]), chance)
                right = spoil(scene)
                if right is not None:
                    whole = paged_folder(own, made) | {file: bytes_of(scene.root)}
                    return Mutant(name, file, renewed(whole), right)
            return None

        return spoil

    return enter


# --- parts ----------------------------------------------------------------------------------


def _corner(part: Element) -> complex:
    x, y = part.get("data-at", "0 0").split()
    return complex(float(x), float(y))


def _extent(part: Element) -> complex:
    x, y = part.get("data-extent", "0 0").split()
    return complex(float(x), float(y))


def _shift(part: Element, way: complex) -> None:
    """Moves what is drawn, not what is said of its place."""
    part.set("transform", f"translate({way.real:g} {way.imag:g})")


def _place(part: Element, corner: complex) -> None:
    """Moves a part to a place as a program does that knows its tags."""
    _shift(part, corner - _corner(part))
    part.set("data-at", f"{corner.real:g} {corner.imag:g}")


@page_fault("a page's drawing exchanged for that of another size")
def other_size(scene: PageScene) -> Rights:
    """Under its own name, or under that of the drawing that it stands for."""
    own, part = scene.own, scene.part()
    others = [
        made
        for place in range(len(own.grading.sizes))
        if (made := composed_set(own.example, own.style.name, "each", place)) is not None
        and made.made_of.sizes != scene.made.made_of.sizes
    ]
    if part is None or not others or len(scene.made.made_of.sizes) > 1:
        return None
    found = [
        (svg, k)
        for svg in scene.chance.choice(others).svgs
        for k, one in enumerate(PageScene(own, scene.made, "", tree(svg), scene.chance).parts)
        if one.get("data-kind") == part.get("data-kind")
    ]
    if not found:
        return None
    svg, k = scene.chance.choice(found)
    other = [e for e in tree(svg).iter(SVG + "g") if e.get("data-part")][k]
    _place(other, _corner(part))
    other.set("data-part", part.get("data-part", ""))
    if scene.chance.random() < 0.5:
        other.set("data-name", part.get("data-name", ""))
    holder = parent(scene.root, part)
    holder[list(holder).index(part)] = other
    return scene.whole(*DRAWN)


@page_fault("a page's part moved onto another")
def onto(scene: PageScene) -> Rights:
    parts = scene.parts
    if len(parts) < 2:
        return None
    one, other = scene.chance.sample(parts, 2)
    _place(one, _corner(other))
    return scene.whole("page")


@page_fault("a page's part moved off the page")
def off(scene: PageScene) -> Rights:
    part = scene.part()
    if part is None:
        return None
    _place(part, complex(float(scene.root.get("width", "0mm")[:-2]) - 20, _corner(part).imag))
    return scene.whole("page")


@page_fault("a page's part moved, not its place in the tag")
def astray(scene: PageScene) -> Rights:
    part = scene.part()
    if part is None:
        return None
    _shift(part, complex(0.3 * _extent(part).real, 0))
    return scene.whole("page")


@page_fault("a strip out of register with its schematic")
def unregistered(scene: PageScene) -> Rights:
    scaled = {one.get("data-kind"): one for one in scene.parts if one.get("data-top")}
    strip, drawn = scaled.get("stripes"), scaled.get("schematic")
    if strip is None or drawn is None or _corner(strip).imag != _corner(drawn).imag:
        return None
    _place(strip, _corner(strip) + 2j)
    return scene.whole("register")


@page_fault("a page's part deleted")
def lost_part(scene: PageScene) -> Rights:
    part = scene.part(*scene.chance.choice(((), ("counts",))))
    if part is None:
        return None
    parent(scene.root, part).remove(part)
    return scene.whole("page")


@page_fault("a page's part doubled")
def twice(scene: PageScene) -> Rights:
    part = scene.part()
    if part is None:
        return None
    parent(scene.root, part).append(copy.deepcopy(part))
    return scene.whole("page", "sheets", "stray")


@page_fault("a stitch deleted on a page")
def lost_stitch(scene: PageScene) -> Rights:
    one = scene.stitch()
    if one is None:
        return None
    parent(scene.root, one).remove(one)
    return scene.at(one, "count", "rows")


@page_fault("a stitch's shape changed on a page")
def reshaped(scene: PageScene) -> Rights:
    one = scene.stitch()
    if one is None or one.get("data-do") in ("ch", "hold", "close", "slst", "seam", "skip"):
        return None
    one.set("d", symbol(Op("hold"), centre(one), scale=0.5))
    return scene.at(one, "kind", "shape")


@page_fault("a count beside a row changed on a page")
def other_count(scene: PageScene) -> Rights:
    charts = [one for one in scene.parts if one.get("data-kind") not in FURNITURE]
    label = scene.pick(p for one in charts for p in paths(one, data_role="count"))
    if label is None:
        return None
    reprint(label, another(label.get("data-says", ""), scene.chance))
    return scene.at(label, "printed")


# --- foot, head and what is said of the page ------------------------------------------------


def _foot(scene: PageScene, numbered: bool) -> Element | None:
    feet = paths(scene.root, data_role="foot")
    return scene.pick(p for p in feet if p.get("data-says", "").startswith("page ") == numbered)


@page_fault("a page's number changed in its foot")
def foot_number(scene: PageScene) -> Rights:
    label = _foot(scene, True)
    assert label is not None
    reprint(label, another(label.get("data-says", ""), scene.chance))
    return scene.whole("foot")


@page_fault("the words of a page's foot changed")
def foot_words(scene: PageScene) -> Rights:
    label = _foot(scene, False)
    if label is None:
        return None
    said = label.get("data-says", "")
    reprint(label, another(said.replace("1", "x"), scene.chance))
    return scene.whole("foot") if label.get("data-says") != said else None


@page_fault("a line of a page's foot deleted")
def foot_lost(scene: PageScene) -> Rights:
    label = _foot(scene, scene.chance.random() < 0.5)
    if label is None:
        return None
    parent(scene.root, label).remove(label)
    return scene.whole("foot")


@page_fault("what stands above a set of pages changed")
def head_words(scene: PageScene) -> Rights:
    part = scene.part("head")
    label = scene.pick(paths(part, data_says="")) if part is not None else None
    if label is None:
        return None
    reprint(label, another(label.get("data-says", ""), scene.chance))
    return scene.whole("page")


@page_fault("a page's number, paper or parts changed in its tag")
def page_tag(scene: PageScene) -> Rights:
    name, value = scene.chance.choice(
        (("data-page", "99"), ("data-pages", "99"), ("data-parts", "99"), ("data-paper", "a5"))
    )
    scene.root.set(name, value)
    listed = Right(MANIFEST, frozenset({"manifest"}))
    return (*scene.whole("page"), listed) if name != "data-paper" else (listed,)


@page_fault("a page's own title or description changed")
def page_title(scene: PageScene) -> Rights:
    found = scene.root.find(SVG + scene.chance.choice(("title", "desc")))
    assert found is not None
    found.text = another(found.text or "", scene.chance)
    return scene.whole("title")


@page_fault("a mark of no part left on a page")
def stray_mark(scene: PageScene) -> Rights:
    x, y = (scene.chance.uniform(40, 160) for _ in range(2))
    ink = {"d": f"M{x:.1f} {y:.1f}l9 7", "stroke": "#000000", "stroke-width": "0.25"}
    scene.root.append(Element(SVG + "path", ink))
    return scene.whole("stray")


@page_fault("a finished page cut off below")
def cut_page(scene: PageScene) -> Rights:
    scene.root.set("height", "250mm")
    scene.root.set("viewBox", f"0 0 {scene.root.get('width', '')[:-2]} 250")
    return scene.whole("page")
