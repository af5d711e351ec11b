"""Stitch maps read back from their files, every word of them checked like a stranger's."""

from __future__ import annotations

import json
import re
from typing import Any

from gussetry.stitchmap import MAKES, StitchMap, from_json

PIECES = ("cuff", "hand", "thumb")
MOST = 100_000
"""The largest number that a stitch map can hold."""

_LENGTH = re.compile(r"-?[0-9]{1,9}(?:/[1-9][0-9]{0,8})?")
_COLOUR = re.compile(r"#[0-9a-f]{6}")


class NoMapError(ValueError):
    """Raised where a text is no stitch map, or a broken one."""


def read_map(content: bytes) -> StitchMap:
    """The stitch map that a file holds. `NoMapError` where it holds none."""
    try:
        text = content.decode("utf-8")
        _demand_sound(json.loads(text))
        return from_json(text)
    except (ValueError, TypeError, KeyError, AttributeError, IndexError, RecursionError) as fault:
        raise NoMapError(f"no stitch map, or broken: {type(fault).__name__}") from fault


def _demand_sound(data: dict[str, Any]) -> None:
    """ValueError, TypeError, KeyError or AttributeError where a stitch map is none."""
    fabrics = [data["fabric"], *([data["rib"]] if data["rib"] else [])]
    lengths = [fabric[key] for fabric in fabrics for key in ("width mm", "height mm")]
    if not all(_LENGTH.fullmatch(length) for length in (*lengths, data["above crease mm"])):
        raise ValueError("a length")
    if any(length.lstrip("-").split("/")[0].strip("0") == "" for length in lengths):
        raise ValueError("a length of nothing")
    words = [data["pattern"], data["size"], data["mitten"], *(f["stitch"] for f in fabrics)]
    words += [yarn[key] for yarn in data["yarns"] for key in ("yarn", "name", "colour")]
    yarns = [yarn["yarn"] for yarn in data["yarns"]]
    if not all(_COLOUR.fullmatch(yarn["colour"]) for yarn in data["yarns"]):
        raise ValueError("a colour")
    numbers: list[Any] = []
    for piece in data["pieces"]:
        if piece["piece"] not in PIECES or piece["worked"] not in ("rows", "rounds"):
            raise ValueError("a piece")
        if not piece["rounds"]:
            raise ValueError("a piece without rounds")
        for round_ in piece["rounds"]:
            words += [round_["phase"], round_["yarn"], *round_["markers"]]
            numbers += [round_["round"], round_["step"], round_["count"]]
            numbers += round_["markers"].values()
            if round_["yarn"] not in yarns:
                raise ValueError("a yarn")
            for op in round_["work"]:
                _demand_sound_work(op)
    if not all(isinstance(word, str) for word in words):
        raise TypeError("a word")
    if not all(type(number) is int and 0 <= number <= MOST for number in numbers):
        raise ValueError("a number")


def _demand_sound_work(op: dict[str, Any]) -> None:
    """The same of one operation."""
    if op["do"] not in MAKES:
        raise ValueError("a stitch")
    for place in op.get("into", ()):
        named = isinstance(place, list) and len(place) == 2 and isinstance(place[0], str)
        number = place[1] if named else place
        if type(number) is not int or not 0 <= number <= MOST:
            raise ValueError("a place")
    if not all(type(number) is int and 0 <= number <= MOST for number in op.get("onto", ())):
        raise ValueError("a place")
    if op.get("loop", "both") not in ("both", "back", "front"):
        raise ValueError("a loop")
    if op.get("of") is not None and op["of"] not in MAKES:
        raise ValueError("a stitch")
