"""Files gone astray, cut short or of another size, and entries of the manifest that are wrong."""

from __future__ import annotations

import json
import random

from check.folders import (
    EXAMPLES,
    MANIFEST,
    TABLE,
    Folder,
    Pattern,
    as_bytes,
    counts,
    folder,
    leaves,
    map_file,
    pattern,
    renewed,
)
from check.mutating import Mutant, enter_file, right_at

from gussetry.stitchmap import StitchMap


def _one_size(own: Pattern, chance: random.Random) -> tuple[StitchMap, list[str], Folder]:
    stitches = chance.choice(own.maps)
    names = [n for n, job in own.jobs.items() if job.maps == (stitches,)]
    chance.shuffle(names)
    return stitches, names[:2], folder(own, names[:2], told=True, maps=own.maps)


@enter_file("a file missing")
def lost(own: Pattern, chance: random.Random) -> Mutant:
    _, _, made = _one_size(own, chance)
    gone = chance.choice(sorted(made))
    del made[gone]
    if gone != MANIFEST:
        made = renewed(made)
    return Mutant("a file missing", gone, made, (right_at(gone, "missing"),))


@enter_file("a file renamed")
def renamed(own: Pattern, chance: random.Random) -> Mutant:
    _, names, made = _one_size(own, chance)
    file = f"{chance.choice(names)}.svg"
    made[file.replace(".svg", " copy.svg")] = made.pop(file)
    return Mutant("a file renamed", file, renewed(made), (right_at(file, "missing"),))


@enter_file("a drawing from another size")
def other_drawing(own: Pattern, chance: random.Random) -> Mutant | None:
    job = chance.choice([job for job in own.jobs.values() if len(job.maps) == 1])
    same = [n for n, other in own.jobs.items()
            if other.kind == job.kind and len(other.maps) == 1 and n != job.name]  # fmt: skip
    if not same:
        return None
    made, file = folder(own, [job.name]), f"{job.name}.svg"
    other = leaves(own.example, own.style.name, chance.choice(same))[0].svg
    # Of a pattern in one size the schematic of all is that size's own: no fault.
    if other == made[file]:
        return None
    made[file] = other
    return Mutant("a drawing from another size", file, renewed(made), (right_at(file, "root"),))


@enter_file("a drawing from another pattern")
def strange_drawing(own: Pattern, chance: random.Random) -> Mutant | None:
    job = chance.choice(list(own.jobs.values()))
    other = pattern(chance.choice([e for e in EXAMPLES if e != own.example]))
    same = [n for n, one in other.jobs.items() if one.kind == job.kind]
    if not same:
        return None
    made, file = folder(own, [job.name]), f"{job.name}.svg"
    made[file] = leaves(other.example, other.style.name, chance.choice(same))[0].svg
    kinds = ("root", "rows", "count", "kind", "measure", "key", "strip", "title", "printed")
    return Mutant("a drawing from another pattern", file, renewed(made), (right_at(file, *kinds),))


@enter_file("a stitch map from another size")
def other_map(own: Pattern, chance: random.Random) -> Mutant | None:
    stitches, names, made = _one_size(own, chance)
    others = [m for m in own.maps if m.size != stitches.size]
    if not others:
        return None
    file, other = map_file(stitches), map_file(chance.choice(others))
    made[file] = made[other]
    right = (right_at(file, "map", "missing"), right_at(other, "map"))
    right += tuple(right_at(f"{n}.svg", "missing") for n in names)
    return Mutant("a stitch map from another size", file, renewed(made), right)


@enter_file("a count table from another pattern")
def strange_table(own: Pattern, chance: random.Random) -> Mutant:
    made = folder(own, told=True, maps=own.maps)
    made[TABLE] = counts(pattern(chance.choice([e for e in EXAMPLES if e != own.example])))
    return Mutant("a count table from another pattern", TABLE, renewed(made),
                  (right_at(TABLE, "table"),))  # fmt: skip


@enter_file("a drawing's kind or size changed in the manifest")
def other_entry(own: Pattern, chance: random.Random) -> Mutant:
    job = chance.choice(list(own.jobs.values()))
    made = folder(own, [job.name])
    listed = json.loads(made[MANIFEST])
    entry = next(e for e in listed["assets"] if e["file"] == f"{job.name}.svg")
    name, value = chance.choice((("kind", "poster"), ("size", "Giant"), ("mitten", "odd")))
    entry[name] = value
    made[MANIFEST] = as_bytes(listed)
    return Mutant("a drawing's kind or size changed in the manifest", MANIFEST, renewed(made),
                  (right_at(f"{job.name}.svg", "missing", "root"),
                   # What serves both mittens is drawn all the same.
                   right_at(MANIFEST, "manifest")))  # fmt: skip


SAID = ("caption", "alternative text", "millimetres", "columns", "sheet", "of", "piece",
        "first round", "last round", "shown with", "hand")  # fmt: skip


@enter_file("what the manifest says of a drawing changed")
def other_word(own: Pattern, chance: random.Random) -> Mutant:
    """Of one drawing what whoever places it goes by."""
    names = chance.sample(list(own.jobs), min(2, len(own.jobs)))
    made = folder(own, names, told=True, maps=own.maps)
    listed = json.loads(made[MANIFEST])
    entry = chance.choice([e for e in listed["assets"] if e["file"].endswith(".svg") and "of" in e])
    name = chance.choice(SAID)
    value = entry[name]
    if isinstance(value, list):
        entry[name] = (
            [*value[:-1], (value[-1] + 3 if name == "millimetres" else "x.svg")]
            if value
            else ["x.svg"]
        )
    elif isinstance(value, int):
        entry[name] = value + 1
    else:
        entry[name] = f"{value or ''} too"
    made[MANIFEST] = as_bytes(listed)
    right = (right_at(MANIFEST, "manifest"), right_at(entry["file"], "root", "sheets"))
    return Mutant("what the manifest says of a drawing changed", MANIFEST, renewed(made), right)


@enter_file("a file cut short")
def truncated(own: Pattern, chance: random.Random) -> Mutant:
    _, _, made = _one_size(own, chance)
    file = chance.choice(sorted(f for f in made if f.endswith((".svg", ".json"))))
    made[file] = made[file][: chance.randrange(1, len(made[file]) - 10)]
    right = (right_at(file, "unreadable"),)
    return Mutant("a file cut short", file, made if file == MANIFEST else renewed(made), right)


@enter_file("a file in another encoding")
def encoded(own: Pattern, chance: random.Random) -> Mutant:
    _, _, made = _one_size(own, chance)
    file = chance.choice(sorted(f for f in made if f.endswith((".svg", "stitches.json", ".csv"))))
    made[file] = made[file].decode().replace("a", "ä", 3).encode("latin-1", "replace")
    kinds = ("unreadable", "table", "root")
    return Mutant("a file in another encoding", file, renewed(made), (right_at(file, *kinds),))
