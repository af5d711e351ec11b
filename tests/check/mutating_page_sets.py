"""Faults in the count tables of finished pages, and in sets of pages."""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterable
from xml.etree.ElementTree import Element

from check.folders import MANIFEST, Folder, Pattern, as_bytes, renewed
from check.mutating import Mutant, Right, Rights, another, enter_file, print_, reprint
from check.mutating_pages import PageScene, page_fault, set_of
from check.paged import composed_set, names, paged_folder, sets_of
from verify.breaking import parent, paths

# --- the count table ------------------------------------------------------------------------


def _cells(scene: PageScene) -> list[Element]:
    return [p for p in paths(scene.root, data_role="cell", data_column="")
            if p.get("data-says", "–") != "–"]  # fmt: skip


def _row(scene: PageScene, cell: Element, *kinds: str) -> tuple[Right, ...]:
    """The explanation that a row of the table is wrong, at the first round that it tells."""
    first = cell.get("data-rounds", "").partition("–")[0]
    return (
        Right(scene.file, frozenset(kinds), cell.get("data-piece", ""), frozenset({int(first)})),
    )


SpoilCell = Callable[[PageScene, Element], Rights]


def cell_fault(name: str) -> Callable[[SpoilCell], SpoilCell]:
    """Enters a way to spoil a count of a page's table among the faults."""

    def enter(spoil: SpoilCell) -> SpoilCell:
        def whole(scene: PageScene) -> Rights:
            cell = scene.pick(_cells(scene))
            return None if cell is None else spoil(scene, cell)

        page_fault(name)(whole)
        return spoil

    return enter


@cell_fault("a count changed in a page's table")
def table_count(scene: PageScene, cell: Element) -> Rights:
    reprint(cell, another(cell.get("data-says", ""), scene.chance))
    return _row(scene, cell, "counts")


@cell_fault("a count changed in a page's table, not in its tag")
def table_print(scene: PageScene, cell: Element) -> Rights:
    print_(cell, another(cell.get("data-says", ""), scene.chance))
    return (*_row(scene, cell, "counts"), *scene.whole("label"))


@cell_fault("a count of a page's table changed in its tag")
def table_claim(scene: PageScene, cell: Element) -> Rights:
    cell.set("data-says", another(cell.get("data-says", ""), scene.chance))
    return scene.whole("label")


@cell_fault("a count deleted from a page's table")
def table_lost(scene: PageScene, cell: Element) -> Rights:
    parent(scene.root, cell).remove(cell)
    return _row(scene, cell, "counts")


@cell_fault("a row deleted from a page's table")
def table_row(scene: PageScene, cell: Element) -> Rights:
    holder = parent(scene.root, cell)
    own = paths(holder, data_role="cell", data_piece=cell.get("data-piece", ""),
                data_rounds=cell.get("data-rounds", ""))  # fmt: skip
    for one in own:
        holder.remove(one)
    return (Right(scene.file, frozenset({"counts"}), cell.get("data-piece", "")),)


@page_fault("a size's heading changed in a page's table")
def table_head(scene: PageScene) -> Rights:
    head = scene.pick(paths(scene.root, data_role="column"))
    if head is None:
        return None
    reprint(head, "Z")
    return scene.whole("counts")


@page_fault("another column framed in a page's table")
def table_frame(scene: PageScene) -> Rights:
    frame = scene.pick(paths(scene.root, data_role="own"))
    if frame is None:
        return None
    parent(scene.root, frame).remove(frame)
    return scene.whole("counts")


# --- the set --------------------------------------------------------------------------------

Disorder = Callable[[Folder, list[str], random.Random], Rights]


def set_fault(name: str) -> Callable[[Disorder], Disorder]:
    """Enters a way to disorder a set of pages among the faults."""

    def enter(spoil: Disorder) -> Disorder:
        @enter_file(name)
        def make(own: Pattern, chance: random.Random) -> Mutant | None:
            made = set_of(own, chance)
            if made is None or len(made.svgs) < 3:
                return None
            whole = paged_folder(own, made)
            right = spoil(whole, names(made), chance)
            if right is None:
                return None
            return Mutant(name, right[0].file, renewed(whole), right)

        return spoil

    return enter


def _each(files: Iterable[str], *kinds: str) -> tuple[Right, ...]:
    return tuple(Right(file, frozenset(kinds)) for file in files)


@set_fault("a page missing")
def lost_page(made: Folder, files: list[str], chance: random.Random) -> Rights:
    gone = chance.choice(files)
    del made[gone]
    return _each([gone], "missing")


@set_fault("a page missing, from the manifest too")
def forgotten_page(made: Folder, files: list[str], chance: random.Random) -> Rights:
    gone = chance.choice(files)
    del made[gone]
    listed = json.loads(made[MANIFEST])
    listed["assets"] = [entry for entry in listed["assets"] if entry["file"] != gone]
    made[MANIFEST] = as_bytes(listed)
    # Every page that is left says of how many it is one.
    return _each((file for file in files if file != gone), "page", "foot", "missing")


@set_fault("two pages exchanged")
def exchanged_pages(made: Folder, files: list[str], chance: random.Random) -> Rights:
    one, other = chance.sample(files, 2)
    made[one], made[other] = made[other], made[one]
    return _each((one, other), "page", "foot")


@set_fault("a page copied over another")
def same_page(made: Folder, files: list[str], chance: random.Random) -> Rights:
    one, other = chance.sample(files, 2)
    made[one] = made[other]
    return _each([one], "page", "foot")


@set_fault("a page cut short")
def torn_page(made: Folder, files: list[str], chance: random.Random) -> Rights:
    file = chance.choice(files)
    made[file] = made[file][: chance.randrange(1, len(made[file]) - 10)]
    return _each([file], "unreadable")


@enter_file("a page of another size's set")
def strange_page(own: Pattern, chance: random.Random) -> Mutant | None:
    sets = sets_of(own.example, own.style.name, "each")
    if len(sets) < 2:
        return None
    made, other = (composed_set(own.example, own.style.name, "each", place)
                   for place in chance.sample(range(len(sets)), 2))  # fmt: skip
    if made is None or other is None:
        return None
    place = chance.randrange(min(len(made.svgs), len(other.svgs)))
    file = names(made)[place]
    whole = paged_folder(own, made) | {file: other.svgs[place]}
    return Mutant("a page of another size's set", file, renewed(whole), _each([file], "foot"))


@enter_file("the picture of another page")
def strange_picture(own: Pattern, chance: random.Random) -> Mutant | None:
    made = set_of(own, chance)
    if made is None or len(made.svgs) < 2:
        return None
    one, other = chance.sample(range(len(made.svgs)), 2)
    whole = paged_folder(own, made, one)
    further = paged_folder(own, made, other)
    file, png = (names(made)[place].replace(".svg", ".png") for place in (one, other))
    whole[file] = further[png]
    return Mutant("the picture of another page", file, renewed(whole), _each([file], "picture"))
