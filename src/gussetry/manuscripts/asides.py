"""Phrases about markers, stitches set aside, and what a chain counts as."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any, Literal

from gussetry.manuscripts.parsing import Unread
from gussetry.manuscripts.reading import Reading, branches, kinds
from gussetry.manuscripts.stitches import place_said
from gussetry.manuscripts.text import Spot
from gussetry.manuscripts.tree import ONE, Chain, Extent, Marker, Number, Step, Stitches

if TYPE_CHECKING:
    from lark import Token, Tree

_ORDINALS = {"second": "second", "2nd": "second"}


def marker_said(tree: Tree[Any], reading: Reading) -> Marker:
    """What a phrase does with a marker. Raises Unread."""
    spot, found = reading.spot(tree), kinds(tree)
    name = (
        " ".join(str(found["MNAME"]).casefold().replace("-", " ").split())
        if "MNAME" in found
        else ""
    )
    if "REMOVE" in found:
        return Marker("remove", spot, name=name)
    if "SM" in found or str(found.get("PUT", "")).casefold() == "slip":
        return Marker("up", spot)
    moved = str(found.get("PUT", "")).casefold() == "move"
    places = branches(tree, "mplace")
    if not places and not moved and (name or str(found.get("MARKER", "")).endswith("s")):
        raise Unread("unread", "where the marker is put cannot be told", spot)
    if not places:
        return Marker("up" if moved else "put", spot, name=name)
    place = kinds(places[0])
    if "UP" in place:
        return Marker("up", spot, name=name)
    act: Literal["put", "move"] = "move" if moved else "put"
    numbers = branches(places[0], "number")
    if numbers:
        at: Number = reading.number(numbers[0])
        return Marker(act, spot, name=name, at=at)
    which = next((k.casefold() for k in ("FIRST", "LAST", "NEXT") if k in place), "")
    if "ORDINAL" in place:
        which = _ORDINALS.get(str(place["ORDINAL"]).casefold(), "")
    if not which:
        raise Unread("unread", "which stitch is marked cannot be told", spot)
    return Marker(act, spot, which, name)


def aside_said(tree: Tree[Any], reading: Reading, steps: list[Step]) -> list[Step]:
    """The steps with those just told set aside, or with stitches set aside unworked."""
    spot, found = reading.spot(tree), kinds(tree)
    if "THEM_ASIDE" in found:
        last = steps[-1] if steps else None
        if not isinstance(last, Stitches):
            raise Unread("unread", "which stitches are set aside cannot be told", spot)
        return [*steps[:-1], replace(last, held=True)]
    place = place_said(branches(tree, "place")[0], reading)
    if "ASIDE" not in found or place.which != "next":
        raise Unread("unread", "what is put where cannot be told", spot)
    number = place.number or ONE
    return [*steps, Stitches("hold", "", 1, 0, Extent("times", number), spot, held=True)]


def amended(steps: list[Step], found: dict[str, Token], spot: Spot) -> list[Step]:
    """The steps, the last chain among them now counting or not."""
    for at in range(len(steps) - 1, -1, -1):
        step = steps[at]
        if isinstance(step, Chain):
            stands = "COUNTS_AS" in found
            chain = replace(step, counts=None if stands else False, stands_for=stands)
            return [*steps[:at], chain, *steps[at + 1 :]]
    raise Unread("unread", "no chain stands before this", spot)
