"""Faults in pictures, in the count table, in stitch maps and manifest, and files gone astray."""

from __future__ import annotations

import csv
import io
import json
import random
from collections.abc import Callable, Sequence
from typing import Any

from check.folders import (
    EXAMPLES,
    MANIFEST,
    Folder,
    Pattern,
    as_bytes,
    counts,
    folder,
    leaves,
    map_file,
    pattern,
    pictures,
    renewed,
)
from check.mutating import CHARTS, Mutant, Right, enter_file
from PIL import Image

from gussetry.plan import Job
from gussetry.stitchmap import StitchMap

Rights = tuple[Right, ...]


def _right(file: str, *kinds: str, piece: str = "", rounds: Sequence[int] = ()) -> Right:
    return Right(file, frozenset(kinds), piece, frozenset(rounds))


# --- pictures ---------------------------------------------------------------------------------

Paint = Callable[[Image.Image, random.Random], "Image.Image | None"]


def _dots(png: bytes) -> float:
    with Image.open(io.BytesIO(png)) as image:
        return float(round(image.info["dpi"][0]))


def _saved(image: Image.Image, dpi: float) -> bytes:
    with io.BytesIO() as out:
        image.save(out, "PNG", dpi=(dpi, dpi), compress_level=1)
        return out.getvalue()


def _painted(own: Pattern, chance: random.Random, kinds: Sequence[str] = ()) -> tuple[Job, Folder]:
    jobs = [job for job in own.jobs.values() if not kinds or job.kind in kinds]
    job = chance.choice(jobs)
    return job, folder(own, [job.name], painted=True)


def picture(name: str, kinds: Sequence[str] = ()) -> Callable[[Paint], Paint]:
    """Enters a way to repaint a drawing's picture among the faults."""

    def enter(paint: Paint) -> Paint:
        @enter_file(name)
        def make(own: Pattern, chance: random.Random) -> Mutant | None:
            job, made = _painted(own, chance, kinds)
            file = f"{job.name}.png"
            with Image.open(io.BytesIO(made[file])) as image:
                done = paint(image.convert("RGB"), chance)
            if done is None:
                return None
            made[file] = _saved(done, _dots(made[file]))
            return Mutant(name, file, renewed(made), (_right(file, "picture"),))

        return paint

    return enter


@picture("a picture resampled to fewer dots")
def resampled(image: Image.Image, chance: random.Random) -> Image.Image:
    return image.resize((image.width // 2, image.height // 2))


@picture("a picture resampled and scaled back")
def soft(image: Image.Image, chance: random.Random) -> Image.Image:
    share = chance.choice((0.5, 0.7, 0.85))
    small = image.resize((int(image.width * share), int(image.height * share)),
                         Image.Resampling.BICUBIC)  # fmt: skip
    return small.resize(image.size, Image.Resampling.BICUBIC)


@picture("a picture mirrored")
def flipped(image: Image.Image, chance: random.Random) -> Image.Image:
    return image.transpose(Image.Transpose.FLIP_LEFT_RIGHT)


@picture("a picture in negative")
def negative(image: Image.Image, chance: random.Random) -> Image.Image:
    return image.point(lambda level: 255 - level)


@picture("a picture shifted")
def shifted(image: Image.Image, chance: random.Random) -> Image.Image:
    moved = Image.new("RGB", image.size, image.getpixel((1, 1)))
    moved.paste(image, (9, 0))
    return moved


@picture("an empty picture")
def empty(image: Image.Image, chance: random.Random) -> Image.Image:
    return Image.new("RGB", image.size, image.getpixel((1, 1)))


@picture("a spot of a picture painted over")
def spotted(image: Image.Image, chance: random.Random) -> Image.Image | None:
    """A patch of paper, 3 mm wide, over something that stands out from it."""
    half, paper = 18, image.convert("L").getpixel((1, 1))
    assert isinstance(paper, int)
    for _ in range(300):
        x = chance.randrange(half, image.width - half)
        y = chance.randrange(half, image.height - half)
        area = (x - half, y - half, x + half, y + half)
        ends = image.crop(area).convert("L").getextrema()
        # What is of the paper's colour already is not changed: no fault.
        if max(abs(float(str(end)) - paper) for end in ends) > 120:
            image.paste(image.getpixel((1, 1)), area)
            return image
    return None


@enter_file("a picture of other dots an inch than it says")
def other_dots(own: Pattern, chance: random.Random) -> Mutant:
    job, made = _painted(own, chance)
    file = f"{job.name}.png"
    with Image.open(io.BytesIO(made[file])) as image:
        made[file] = _saved(image.convert("RGB"), chance.choice((72, 96, 299, 600)))
    return Mutant("a picture of other dots an inch than it says", file, renewed(made),
                  (_right(file, "picture"),))  # fmt: skip


@enter_file("a picture cut short")
def cut_picture(own: Pattern, chance: random.Random) -> Mutant:
    job, made = _painted(own, chance)
    file = f"{job.name}.png"
    made[file] = made[file][: chance.randrange(10, len(made[file]) - 1)]
    return Mutant("a picture cut short", file, renewed(made),
                  (_right(file, "picture", "unreadable"),))  # fmt: skip


@enter_file("a picture of another size of the same drawing")
def other_picture(own: Pattern, chance: random.Random) -> Mutant | None:
    job, made = _painted(own, chance)
    same = [other.name for other in own.jobs.values()
            if other.kind == job.kind and other.name != job.name]  # fmt: skip
    if not same:
        return None
    file, other = f"{job.name}.png", chance.choice(same)
    png = pictures(own.example, own.style.name, other)[0]
    # Two sizes whose pictures are the same show the same: no fault.
    if png == made[file]:
        return None
    made[file] = png
    return Mutant("a picture of another size of the same drawing", file, renewed(made),
                  (_right(file, "picture"),))  # fmt: skip


@enter_file("a picture missing")
def lost_picture(own: Pattern, chance: random.Random) -> Mutant:
    job, made = _painted(own, chance)
    file = f"{job.name}.png"
    del made[file]
    return Mutant("a picture missing", file, renewed(made), (_right(file, "missing"),))


# --- the count table --------------------------------------------------------------------------

Rows = list[list[str]]
Retype = Callable[[Rows, random.Random], "Right | None"]
TABLE = "counts.csv"


def _number(row: list[str]) -> tuple[str, list[int]]:
    return row[0], [int(row[1])] if row[1].isdigit() else []


def _at(row: list[str], *kinds: str) -> Right:
    piece, rounds = _number(row)
    return _right(TABLE, *(kinds or ("table",)), piece=piece, rounds=rounds)


def table(name: str) -> Callable[[Retype], Retype]:
    """Enters a way to spoil the count table among the faults."""

    def enter(retype: Retype) -> Retype:
        @enter_file(name)
        def make(own: Pattern, chance: random.Random) -> Mutant | None:
            made = folder(own, told=True, maps=own.maps)
            rows = list(csv.reader(io.StringIO(made[TABLE].decode())))
            right = retype(rows, chance)
            if right is None:
                return None
            with io.StringIO() as out:
                csv.writer(out, lineterminator="\n").writerows(rows)
                made[TABLE] = out.getvalue().encode()
            return Mutant(name, TABLE, renewed(made), (right,))

        return retype

    return enter


def _cell(rows: Rows, chance: random.Random) -> tuple[int, int]:
    """A row and a column of the table with a count in it."""
    return chance.choice(
        [(i, j) for i, row in enumerate(rows) if i for j, cell in enumerate(row) if j > 1 and cell]
    )


@table("a count changed in the table")
def other_count(rows: Rows, chance: random.Random) -> Right:
    i, j = _cell(rows, chance)
    rows[i][j] = str(int(rows[i][j]) + chance.choice((-1, 1, 2, 10)))
    return _at(rows[i])


@table("a count left out of the table")
def no_count(rows: Rows, chance: random.Random) -> Right:
    i, j = _cell(rows, chance)
    rows[i][j] = ""
    return _at(rows[i])


@table("a count of the table no number")
def no_number(rows: Rows, chance: random.Random) -> Right:
    i, j = _cell(rows, chance)
    rows[i][j] = chance.choice(("many", "3O", "-5", "3.5", "٣"))
    return _at(rows[i])


@table("a row deleted from the table")
def no_row(rows: Rows, chance: random.Random) -> Right:
    i, _ = _cell(rows, chance)
    return _at(rows.pop(i))


@table("a row doubled in the table")
def two_rows(rows: Rows, chance: random.Random) -> Right:
    i, _ = _cell(rows, chance)
    rows.insert(i, list(rows[i]))
    return _at(rows[i])


@table("a round's number changed in the table")
def other_round(rows: Rows, chance: random.Random) -> Right:
    i, _ = _cell(rows, chance)
    right = _at(rows[i])
    rows[i][1] = str(int(rows[i][1]) + 50)
    return right


@table("two sizes' headings exchanged in the table")
def other_heads(rows: Rows, chance: random.Random) -> Right | None:
    pairs = [(a, b) for a in range(2, len(rows[0])) for b in range(2, a)
             if any(row[a] != row[b] for row in rows[1:])]  # fmt: skip
    if not pairs:
        return None
    a, b = chance.choice(pairs)
    rows[0][a], rows[0][b] = rows[0][b], rows[0][a]
    return _right(TABLE, "table")


@table("a size's heading changed in the table")
def no_size(rows: Rows, chance: random.Random) -> Right:
    rows[0][chance.randrange(2, len(rows[0]))] = "Giant"
    return _right(TABLE, "table")


# --- stitch maps ------------------------------------------------------------------------------

Remap = Callable[[Any, random.Random], "tuple[tuple[str, ...], str, Sequence[int]] | None"]
"""Spoils a map's data: the kinds of finding that are right, the piece and the rounds."""
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
            files = [file, TABLE, "words.md"]
            files += [f"{leaf.name}.svg" for n in names
                      for leaf in leaves(own.example, own.style.name, n)]  # fmt: skip
            right = tuple(_right(f, *kinds, piece=piece, rounds=rounds) for f in files)
            return Mutant(name, file, renewed(made), right)

        return spoil

    return enter


def _round(data: Any, chance: random.Random) -> tuple[Any, Any]:
    piece = chance.choice(data["pieces"])
    return piece, chance.choice(piece["rounds"])


@remap("a count changed in a map")
def map_count(data: Any, chance: random.Random) -> tuple[tuple[str, ...], str, Sequence[int]]:
    piece, own = _round(data, chance)
    own["count"] += 1
    return SEEN, piece["piece"], [own["round"]]


@remap("a round's yarn changed in a map")
def map_yarn(data: Any, chance: random.Random) -> tuple[tuple[str, ...], str, Sequence[int]] | None:
    letters = [yarn["yarn"] for yarn in data["yarns"]]
    piece, own = _round(data, chance)
    others = [letter for letter in letters if letter != own["yarn"]]
    # A cuff in rows is one block on a strip, and what is drawn shut has no colour of its own.
    if not others or not own["count"] or own["round"] == 0:
        return None
    own["yarn"] = chance.choice(others)
    return ("colour", "printed", "description", "sum", "tag", "law"), piece["piece"], [own["round"]]


@remap("a stitch changed in a map")
def map_stitch(
    data: Any, chance: random.Random
) -> tuple[tuple[str, ...], str, Sequence[int]] | None:
    piece, own = _round(data, chance)
    work = [op for op in own["work"] if op["do"] in ("sc", "hdc", "dc")]
    if not work:
        return None
    op = chance.choice(work)
    op["do"] = {"sc": "hdc", "hdc": "dc", "dc": "hdc"}[op["do"]]
    return SEEN, piece["piece"], [own["round"]]


@remap("a stitch deleted from a map")
def map_lost(data: Any, chance: random.Random) -> tuple[tuple[str, ...], str, Sequence[int]] | None:
    piece, own = _round(data, chance)
    work = own["work"]
    at = chance.randrange(len(work))
    # A turn is no stitch; without its last one a round is none.
    if work[at]["do"] == "turn" or len(work) < 2:
        return None
    del work[at]
    return SEEN, piece["piece"], [own["round"], own["round"] + 1]


@remap("an increase made a plain stitch in a map")
def map_plain(
    data: Any, chance: random.Random
) -> tuple[tuple[str, ...], str, Sequence[int]] | None:
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
def map_moved(
    data: Any, chance: random.Random
) -> tuple[tuple[str, ...], str, Sequence[int]] | None:
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
def map_marker(
    data: Any, chance: random.Random
) -> tuple[tuple[str, ...], str, Sequence[int]] | None:
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
def map_round(
    data: Any, chance: random.Random
) -> tuple[tuple[str, ...], str, Sequence[int]] | None:
    piece = chance.choice(data["pieces"])
    if len(piece["rounds"]) < 3:
        return None
    at = chance.randrange(1, len(piece["rounds"]) - 1)
    number = piece["rounds"].pop(at)["round"]
    return (*SEEN, "place"), piece["piece"], [number - 1, number, number + 1]


@remap("where a stitch is worked changed in a map")
def map_into(data: Any, chance: random.Random) -> tuple[tuple[str, ...], str, Sequence[int]] | None:
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
    right = tuple(_right(f"{n}.svg", *kinds) for n in names)
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
                  tuple(_right(f"{n}.svg", "colour") for n in names))  # fmt: skip


# --- files gone astray ------------------------------------------------------------------------


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
    return Mutant("a file missing", gone, made, (_right(gone, "missing"),))


@enter_file("a file renamed")
def renamed(own: Pattern, chance: random.Random) -> Mutant:
    _, names, made = _one_size(own, chance)
    file = f"{chance.choice(names)}.svg"
    made[file.replace(".svg", " copy.svg")] = made.pop(file)
    return Mutant("a file renamed", file, renewed(made), (_right(file, "missing"),))


@enter_file("a drawing from another size")
def other_drawing(own: Pattern, chance: random.Random) -> Mutant | None:
    job = chance.choice([job for job in own.jobs.values() if len(job.maps) == 1])
    same = [n for n, other in own.jobs.items()
            if other.kind == job.kind and len(other.maps) == 1 and n != job.name]  # fmt: skip
    if not same:
        return None
    made, file = folder(own, [job.name]), f"{job.name}.svg"
    made[file] = leaves(own.example, own.style.name, chance.choice(same))[0].svg
    return Mutant("a drawing from another size", file, renewed(made), (_right(file, "root"),))


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
    return Mutant("a drawing from another pattern", file, renewed(made), (_right(file, *kinds),))


@enter_file("a stitch map from another size")
def other_map(own: Pattern, chance: random.Random) -> Mutant | None:
    stitches, names, made = _one_size(own, chance)
    others = [m for m in own.maps if m.size != stitches.size]
    if not others:
        return None
    file, other = map_file(stitches), map_file(chance.choice(others))
    made[file] = made[other]
    right = (_right(file, "map", "missing"), _right(other, "map"))
    right += tuple(_right(f"{n}.svg", "missing") for n in names)
    return Mutant("a stitch map from another size", file, renewed(made), right)


@enter_file("a count table from another pattern")
def strange_table(own: Pattern, chance: random.Random) -> Mutant:
    made = folder(own, told=True, maps=own.maps)
    made[TABLE] = counts(pattern(chance.choice([e for e in EXAMPLES if e != own.example])))
    return Mutant("a count table from another pattern", TABLE, renewed(made),
                  (_right(TABLE, "table"),))  # fmt: skip


@enter_file("a drawing's kind or size changed in the manifest")
def other_entry(own: Pattern, chance: random.Random) -> Mutant:
    job = chance.choice(list(own.jobs.values()))
    made = folder(own, [job.name])
    listed = json.loads(made[MANIFEST])
    entry = next(e for e in listed["assets"] if e["file"] == f"{job.name}.svg")
    name, value = chance.choice((("kind", "poster"), ("size", "Giant"), ("mitten", "odd")))
    if name == "mitten" and job.kind in ("schematic", "key"):
        # These serve both mittens: what the entry says of them changes nothing.
        name, value = "size", "Giant"
    entry[name] = value
    made[MANIFEST] = as_bytes(listed)
    return Mutant("a drawing's kind or size changed in the manifest", MANIFEST, renewed(made),
                  (_right(f"{job.name}.svg", "missing", "root"),))  # fmt: skip


@enter_file("a file cut short")
def truncated(own: Pattern, chance: random.Random) -> Mutant:
    _, _, made = _one_size(own, chance)
    file = chance.choice(sorted(f for f in made if f.endswith((".svg", ".json"))))
    made[file] = made[file][: chance.randrange(1, len(made[file]) - 10)]
    right = (_right(file, "unreadable"),)
    return Mutant("a file cut short", file, made if file == MANIFEST else renewed(made), right)


@enter_file("a file in another encoding")
def encoded(own: Pattern, chance: random.Random) -> Mutant:
    _, _, made = _one_size(own, chance)
    file = chance.choice(sorted(f for f in made if f.endswith((".svg", "stitches.json", ".csv"))))
    made[file] = made[file].decode().replace("a", "ä", 3).encode("latin-1", "replace")
    kinds = ("unreadable", "table", "root")
    return Mutant("a file in another encoding", file, renewed(made), (_right(file, *kinds),))
