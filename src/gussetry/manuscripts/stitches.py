"""Phrases about stitches: which, how many, into what."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from gussetry.manuscripts.parsing import Unread
from gussetry.manuscripts.reading import Reading, branches, kinds, tokens_of
from gussetry.manuscripts.text import Spot
from gussetry.manuscripts.tree import (
    ONE,
    Chain,
    Choice,
    Claim,
    Evenly,
    Extent,
    Join,
    Number,
    Step,
    Stitches,
)

if TYPE_CHECKING:
    from lark import Token, Tree

_TOG = re.compile(r"(.*?)[\s-]*([2-9]|two|three)\s*-?tog(?:ether)?$", re.IGNORECASE | re.DOTALL)
_ORDINALS = {"second": 2, "third": 3, "fourth": 4, "fifth": 5}
_NOUNS = {"ROW_END": "row end", "CROOK": "crook", "HELD": "held", "SEAM": "seam", "CH": "chain",
          "CUFF": "cuff", "RING": "ring"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Place:
    """What a phrase says a stitch is worked into."""

    which: str
    number: Number | None
    each: bool
    kind: str
    nth: int
    hook: bool
    rounds: bool


@dataclass(frozen=True, slots=True)
class Sort:
    """A sort of stitch: its kind, what it is of, how many it uses and makes."""

    do: str
    of: str
    uses: int
    makes: int


def place_said(tree: Tree[Any], reading: Reading) -> Place:
    """The place that a phrase names."""
    chosen = {k for sel in branches(tree, "sel") for k in kinds(sel)}
    own = kinds(tree)
    if own.keys() & {"FIRST", "TOP", "BEG"}:
        chosen.add("FIRST")
    nouns = {k for noun in branches(tree, "noun") for k in kinds(noun)} | own.keys()
    numbers = branches(tree, "number")
    number = reading.number(numbers[0]) if numbers else None
    place = next((name for token, name in _NOUNS.items() if token in nouns), "")
    nth = 0
    if "ORDINAL" in own:
        text = str(own["ORDINAL"]).casefold()
        nth = _ORDINALS.get(text) or int(text[:-2][:4])
    which = next(
        (w for w in ("marked", "same", "first", "last", "next") if w.upper() in chosen), ""
    )
    if "REM" in chosen:
        which = "rest"
    if not which and (number is not None or place == "seam"):
        which = "next"
    rounds = "RND" in nouns
    return Place(which, number, "EACH" in chosen, place, nth, "HOOK" in own, rounds)


def extent_said(tree: Tree[Any], reading: Reading) -> Extent:
    """How far a phrase says that a step goes."""
    found = kinds(tree)
    numbers = branches(tree, "number")
    number = reading.number(numbers[0]) if numbers else ONE
    if "AROUND" in found or "ACROSS" in found or "END" in found:
        return Extent("end")
    if "MARKER" in found or "M" in found or "MARKED" in found:
        return Extent("marker", number if numbers else (0,))
    return Extent("last", number)


def times_said(tree: Tree[Any], reading: Reading) -> tuple[Number, bool]:
    """How many times, and whether they are more than the once just told."""
    found = kinds(tree)
    if "ONCE" in found:
        words = str(found["ONCE"]).casefold().split()
        return ({"once": 1, "twice": 2, "thrice": 3}[words[0]],), len(words) > 1
    number = reading.number(branches(tree, "number")[0])
    more = "TIMES" in found and "more" in str(found["TIMES"]).casefold()
    return number, more


def loop_said(token: Token | str) -> str:
    """`back` or `front`."""
    return "back" if re.search(r"\b(?:blo|back)\b", str(token), re.IGNORECASE) else "front"


@dataclass(slots=True)
class _Phrase:
    """The parts of one phrase about stitches."""

    before: Number | None = None
    after: Number | None = None
    place: Place | None = None
    extent: Extent | None = None
    times: Number | None = None
    loop: str = ""
    marks: frozenset[str] = frozenset()


def _phrase(tree: Tree[Any], reading: Reading) -> _Phrase:
    said = _Phrase()
    marks = set(kinds(tree))
    for part in branches(tree, "before", "after"):
        number = reading.number(branches(part, "number")[0])
        if part.data == "before":
            said.before = number
        else:
            said.after = number
    for part in branches(tree, "place"):
        place = place_said(part, reading)
        if place.rounds:
            continue
        if said.place is not None:
            raise Unread("unread", "two places are named for one stitch", reading.spot(part))
        said.place = place
    for part in branches(tree, "extent"):
        extent = extent_said(part, reading)
        # "around to the last 2 sts": the nearer end holds.
        if said.extent is None or said.extent.kind == "end":
            said.extent = extent
    for part in branches(tree, "times"):
        said.times, more = times_said(part, reading)
        if more:
            raise Unread("unread", "“more” than what is not told", reading.spot(part))
    for part in branches(tree, "for_rounds"):
        reading.rounds = reading.number(branches(part, "number")[0])
    for part in branches(tree, "evenly", "counts", "rejoin", "loop_tail"):
        marks |= {part.data.upper(), *kinds(part)}
        if part.data == "loop_tail":
            said.loop = loop_said(next(tokens_of(part)))
    if "LOOP" in kinds(tree):
        said.loop = loop_said(kinds(tree)["LOOP"])
    said.marks = frozenset(marks)
    return said


def sort_said(tree: Tree[Any], reading: Reading) -> Sort:
    """The sort of stitch that a phrase names."""
    found = kinds(tree)
    if "TOG" in found:
        match = _TOG.match(str(found["TOG"]))
        name, many = (match[1], match[2]) if match else ("sc", "2")
        count = {"two": 2, "three": 3}.get(many.casefold()) or int(many)
        token = found["TOG"].update(value=name)
        kind = reading.kind(token)
        return Sort(f"{kind}{count}tog", kind, count, 1)
    of = reading.kind(found["STITCH"]) if "STITCH" in found else ""
    if "INC" in found:
        return Sort("inc", of, 1, 2)
    if "DEC" in found:
        return Sort(f"{of}2tog" if of else "dec", of, 2, 1)
    if "SLST" in found:
        return Sort("slst", "", 1, 1)
    if "SKIP" in found:
        return Sort("skip", "", 1, 0)
    if "TOGETHER" in found and of:
        return Sort(f"{of}2tog", of, 2, 1)
    return Sort(of, of, 1, 1)


def stitches_said(tree: Tree[Any], reading: Reading) -> list[Step]:
    """The steps that a phrase about stitches means. Raises Unread."""
    spot = reading.spot(tree)
    said = _phrase(tree, reading)
    if "CH" in kinds(tree):
        return [_chain(said, spot)]
    sort = sort_said(tree, reading)
    if "TOTAL" in said.marks and said.before:
        return [Claim(said.before, spot)]
    if sort.do == "slst" and ("REJOIN" in said.marks or _first(said.place)):
        return [Join(spot)]
    if "TOGETHER" in said.marks:
        sort = _together(sort, said, spot)
    return meant(sort, said, spot)


def again_said(sort: Sort, loop: str, tree: Tree[Any], reading: Reading) -> list[Step]:
    """A place by itself: the same sort of stitch once more, there, into the same loop."""
    said = _phrase(tree, reading)
    said.loop = said.loop or loop
    return meant(sort, said, reading.spot(tree))


def _first(place: Place | None) -> bool:
    return place is not None and place.which == "first" and place.number is None


def _chain(said: _Phrase, spot: Spot) -> Chain:
    if said.place or said.extent or said.times:
        raise Unread("unread", "chains are worked into no stitch", spot)
    number = said.before or said.after or ONE
    counts = None
    if said.marks & {"COUNTS_NOT"}:
        counts = False
    elif said.marks & {"GAP"}:
        counts = True
    return Chain(number, spot, counts, stands_for="COUNTS_AS" in said.marks)


def _together(sort: Sort, said: _Phrase, spot: Spot) -> Sort:
    """“sc next 3 sts together”: as many as the place names."""
    place = said.place
    number = place.number if place else None
    if place is None or number is None or len(set(number)) != 1 or not number[0]:
        raise Unread("unread", "how many are worked together is not told", spot)
    if said.after not in (None, number):
        raise Unread("together", "two numbers are told of what is worked together", spot)
    said.after = None
    return Sort(f"{sort.of}{number[0]}tog", sort.of, number[0], 1)


def meant(sort: Sort, said: _Phrase, spot: Spot) -> list[Step]:
    """The steps of one sort of stitch in the places and as often as the phrase says."""
    if "EVENLY" in said.marks:
        return [_evenly(sort, said, spot)]
    made = _extended(sort, said, spot)
    if "FOR_THUMB" in said.marks:
        kind = "hold" if sort.do == "skip" else sort.do
        return [replace(s, do=kind, held=True) for s in made if isinstance(s, Stitches)]
    return made


def _evenly(sort: Sort, said: _Phrase, spot: Spot) -> Evenly:
    number = said.before or said.after or said.times
    if number is None:
        raise Unread("unread", "how many are spread evenly is not told", spot)
    return Evenly(sort.do, sort.of, sort.makes - sort.uses, number, spot)


def _extended(sort: Sort, said: _Phrase, spot: Spot) -> list[Step]:
    place, before = said.place, said.before
    if before and said.after:
        raise Unread("unread", "two numbers are told for one stitch", spot)
    base = Stitches(
        sort.do, sort.of, sort.uses, sort.makes, Extent("times", ONE), spot, said.loop,
        place.kind if place else "",
    )  # fmt: skip
    if place is not None and place.nth:
        return _nth(base, place, spot)
    if place is not None and (place.kind == "ring" or place.which == "same"):
        return _at_once(base, place, before, said.times)
    whole = place is not None and place.number is None and place.which in ("", "rest")
    extent = said.extent or (Extent("end") if whole else None)
    if extent is not None:
        told = place is not None and (place.number is not None or place.which not in ("", "rest"))
        if said.times or said.after or told:
            raise Unread("unread", "it is told twice how often", spot)
        loose = place is None or (not place.each and place.which == "" and place.number is None)
        if before and loose:
            if extent.kind != "end":
                raise Unread("unread", "it is told twice how often", spot)
            return [replace(base, extent=Extent("times", before))]
        return [replace(several_in_one(base, before or ONE, spot), extent=extent)]
    if place is None:
        number = product(before or said.after or ONE, said.times or ONE)
        return [replace(base, extent=Extent("times", number))]
    return _placed(base, place, said, spot)


def _nth(base: Stitches, place: Place, spot: Spot) -> list[Step]:
    if not place.hook:
        raise Unread("unread", "which stitch that is cannot be told from the words", spot)
    passed = replace(
        base, do="skip", of="", uses=1, makes=0, place="hook", loop="",
        extent=Extent("times", (place.nth - 1,)),
    )  # fmt: skip
    return [passed, replace(base, place="chain")]


def _at_once(
    base: Stitches, place: Place, before: Number | None, times: Number | None
) -> list[Step]:
    """Stitches that use none: into a ring, or once more into the stitch just worked into."""
    number = product(before or ONE, times or ONE)
    kind = "ring" if place.kind == "ring" else "same"
    return [replace(base, uses=0, place=kind, extent=Extent("times", number))]


def _placed(base: Stitches, place: Place, said: _Phrase, spot: Spot) -> list[Step]:
    """Into the next so many stitches, or the first, last or marked one."""
    number, before = place.number or ONE, said.before
    where = place.which if place.which in ("first", "last", "marked", "rest") else ""
    base = replace(base, where=where)
    times = said.times or ONE
    if base.uses > 1 and len(number) == 1 and (number[0] or 0) < base.uses:
        # “over the last crook st and the first held st”: the rest is named next.
        return [replace(base, part=number)]
    if base.uses > 1:
        return [replace(base, extent=Extent("times", product(_shares(base, number, spot), times)))]
    if base.do in ("inc", "skip") or before is None:
        if before not in (None, number, ONE):
            raise Unread("unread", "two numbers are told for one stitch", spot)
        return [replace(base, extent=Extent("times", product(number, times)))]
    wide = several_in_one(base, before, spot)
    wide = replace(wide, extent=Extent("times", product(number, times)))
    if before == number and number != ONE and not place.each:
        plain = replace(base, extent=Extent("times", product(number, times)))
        return [Choice(((wide,), (plain,)), spot)]
    return [wide]


def _shares(base: Stitches, number: Number, spot: Spot) -> Number:
    """How often so many stitches are worked together over that many."""
    if any((n or 0) % base.uses for n in number):
        message = f"{base.uses} are worked together, but not over {base.uses} stitches"
        raise Unread("together", message, spot)
    return tuple(None if n is None else n // base.uses for n in number)


def several_in_one(base: Stitches, number: Number, spot: Spot) -> Stitches:
    """So many of a stitch in each place."""
    if number == ONE or base.makes != 1 or base.uses != 1:
        if number != ONE:
            raise Unread("unread", "two numbers are told for one stitch", spot)
        return base
    if len(set(number)) != 1 or not number[0]:
        raise Unread("unread", "how many stitches go into one differs by size", spot)
    many = number[0]
    if many == 1:
        return base
    do = "inc" if many == 2 else f"{many}in1"
    return replace(base, do=do, of=base.do, makes=many)


def product(one: Number, other: Number) -> Number:
    """The product of two numbers, size by size."""
    if len(one) == 1 and len(other) > 1:
        one, other = other, one
    if len(other) == 1:
        other = other * len(one)
    return tuple(None if a is None or b is None else a * b for a, b in zip(one, other, strict=True))
