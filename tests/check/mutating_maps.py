"""Faults in stitch maps."""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Sequence
from typing import Any

from check.folders import TABLE, WORDS, Pattern, folder, leaves, map_file, renewed
from check.mutating import CHARTS, Mutant, enter_file, right_at

Spoilt = tuple[tuple[str, ...], str, Sequence[int]]
"""The kinds of finding that are right, the piece and the rounds."""
Remap = Callable[[Any, random.Random], "Spoilt | None"]
"""Spoils a map's data; None where there is nothing to spoil so."""
SEEN = ("law", "count", "kind", "rows", "printed", "sum", "colour", "tag", "description", "table")


def remap(name: str) -> Callable[[Remap], Remap]:
    """Enters a way to spoil a stitch map among the faults. What the map says is right by the map
    itself, by a drawing that shows the round, or by the table."""

    def enter(spoil: Remap) -> Remap:
        @enter_file(name)
        def make(own: Pattern, chance: random.Random) -> Mutant | None:
            stitches = chance.choice(own.maps)
            names = [n for n, job in own.jobs.items() if job.maps == (stitches,)]
            made = folder(own, names, told=True, maps=own.maps)
            file = map_file(stitches)
            data = json.loads(made[file])
            done = spoil(data, chance)
            if done is None:
                return None
            kinds, piece, rounds = done
            made[file] = json.dumps(data).encode()
            files = [file, TABLE, WORDS]
            files += [f"{leaf.name}.svg" for n in names
                      for leaf in leaves(own.example, own.style.name, n)]  # fmt: skip
            right = tuple(right_at(f, *kinds, piece=piece, rounds=rounds) for f in files)
            return Mutant(name, file, renewed(made), right)

        return spoil

    return enter


def _round(data: Any, chance: random.Random) -> tuple[Any, Any]:
    piece = chance.choice(data["pieces"])
    return piece, chance.choice(piece["rounds"])


@remap("a count changed in a map")
def map_count(data: Any, chance: random.Random) -> Spoilt:
    piece, own = _round(data, chance)
    own["count"] += 1
    return SEEN, piece["piece"], [own["round"]]


@remap("a round's yarn changed in a map")
def map_yarn(data: Any, chance: random.Random) -> Spoilt | None:
    letters = [yarn["yarn"] for yarn in data["yarns"]]
    piece, own = _round(data, chance)
    others = [letter for letter in letters if letter != own["yarn"]]
    # A cuff in rows is one block on a strip, and what is drawn shut has no colour of its own.
    if not others or not own["count"] or own["round"] == 0:
        return None
    own["yarn"] = chance.choice(others)
    return ("colour", "printed", "description", "sum", "tag", "law"), piece["piece"], [own["round"]]


@remap("a stitch changed in a map")
def map_stitch(data: Any, chance: random.Random) -> Spoilt | None:
    piece, own = _round(data, chance)
    work = [op for op in own["work"] if op["do"] in ("sc", "hdc", "dc")]
    if not work:
        return None
    op = chance.choice(work)
    op["do"] = {"sc": "hdc", "hdc": "dc", "dc": "hdc"}[op["do"]]
    return SEEN, piece["piece"], [own["round"]]


@remap("a stitch deleted from a map")
def map_lost(data: Any, chance: random.Random) -> Spoilt | None:
    piece, own = _round(data, chance)
    work = own["work"]
    at = chance.randrange(len(work))
    # A turn is no stitch; without its last one a round is none.
    if work[at]["do"] == "turn" or len(work) < 2:
        return None
    del work[at]
    return SEEN, piece["piece"], [own["round"], own["round"] + 1]


@remap("an increase made a plain stitch in a map")
def map_plain(data: Any, chance: random.Random) -> Spoilt | None:
    found = [
        (piece, own, op)
        for piece in data["pieces"] for own in piece["rounds"] for op in own["work"]
        if op["do"] == "inc"
    ]  # fmt: skip
    if not found:
        return None
    piece, own, op = chance.choice(found)
    op["do"] = op.pop("of", None) or "sc"
    return SEEN, piece["piece"], [own["round"], own["round"] + 1]


@remap("a decrease moved in a map")
def map_moved(data: Any, chance: random.Random) -> Spoilt | None:
    """A decrease and the plain stitch after it change places, and what they are worked into."""
    found = [
        (piece, own, i)
        for piece in data["pieces"] for own in piece["rounds"]
        for i, (a, b) in enumerate(zip(own["work"], own["work"][1:], strict=False))
        if a["do"].endswith("2tog") and b["do"] in ("sc", "hdc", "dc")
        and all(isinstance(p, int) for p in (*a["into"], *b["into"]))
    ]  # fmt: skip
    if not found:
        return None
    piece, own, i = chance.choice(found)
    one, other = own["work"][i : i + 2]
    places = [*one["into"], *other["into"]]
    other["into"], one["into"] = places[:1], places[1:]
    own["work"][i : i + 2] = [other, one]
    return SEEN, piece["piece"], [own["round"]]


@remap("a marker moved in a map")
def map_marker(data: Any, chance: random.Random) -> Spoilt | None:
    found = [
        (piece, own) for piece in data["pieces"] for own in piece["rounds"]
        if {"first marker", "second marker"} & set(own["markers"])
    ]  # fmt: skip
    if not found:
        return None
    piece, own = chance.choice(found)
    name = chance.choice([n for n in own["markers"] if n in ("first marker", "second marker")])
    own["markers"][name] += 1
    kinds = ("law", "printed", "marker", "description")
    return kinds, piece["piece"], [own["round"], own["round"] + 1]


@remap("a round deleted from a map")
def map_round(data: Any, chance: random.Random) -> Spoilt | None:
    piece = chance.choice(data["pieces"])
    if len(piece["rounds"]) < 3:
        return None
    at = chance.randrange(1, len(piece["rounds"]) - 1)
    number = piece["rounds"].pop(at)["round"]
    return (*SEEN, "place"), piece["piece"], [number - 1, number, number + 1]


@remap("where a stitch is worked changed in a map")
def map_into(data: Any, chance: random.Random) -> Spoilt | None:
    piece, own = _round(data, chance)
    work = [op for op in own["work"] if op.get("into") and isinstance(op["into"][0], int)]
    if not work:
        return None
    op = chance.choice(work)
    op["into"][0] += 1
    return ("law",), piece["piece"], [own["round"]]


@enter_file("the gauge changed in a map")
def map_gauge(own: Pattern, chance: random.Random) -> Mutant:
    stitches = chance.choice(own.maps)
    names = [n for n, job in own.jobs.items() if job.maps == (stitches,) and job.kind not in CHARTS]
    made = folder(own, names, maps=own.maps)
    file = map_file(stitches)
    data = json.loads(made[file])
    side = chance.choice(("width mm", "height mm"))
    data["fabric"][side] = chance.choice(("6", "13/2", "7/2"))
    made[file] = json.dumps(data).encode()
    kinds = ("strip", "measure", "outline", "dimension", "landmark", "root", "map")
    right = tuple(right_at(f"{n}.svg", *kinds) for n in names)
    return Mutant("the gauge changed in a map", file, renewed(made), right)


@enter_file("a yarn's colour changed in a map")
def map_colour(own: Pattern, chance: random.Random) -> Mutant | None:
    stitches = chance.choice(own.maps)
    names = [n for n, job in own.jobs.items() if job.maps == (stitches,) and job.kind == "stripes"]
    if own.style.yarns == "hatches":
        # Drawn in hatches: no colour is seen.
        return None
    made = folder(own, names, maps=own.maps)
    file = map_file(stitches)
    data = json.loads(made[file])
    data["yarns"][0]["colour"] = "#13579b"
    made[file] = json.dumps(data).encode()
    return Mutant("a yarn's colour changed in a map", file, renewed(made),
                  tuple(right_at(f"{n}.svg", "colour") for n in names))  # fmt: skip
