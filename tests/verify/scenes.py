"""One sound drawing of each kind of the doll's mitten, by the plain pen."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from fractions import Fraction

from verify.doll import small, small_in_posts
from verify.pen import P, Sheet

from gussetry.stitchmap import Piece, Round, StitchMap, sections
from gussetry.verify import Asked

FIRST_ROW = 180.0  # mm down the page
MARKED = {3: (5,), 4: (6, 10)}
"""By round the cells from the start at which markers stand; one of round 3 is in a sum."""
CROOK = {5: (11, 5)}
"""By round the cells from the start over which the crook's numbers stand."""
JOINED = (5, 5)
"""Round and entry of the far stitch of the pair that the division joins."""


def _count(round_: Round) -> str:
    if round_.phase == "division":
        return "5 · join · 3 = 8"
    parts = sections(round_)
    if parts is None:
        return str(round_.count)
    return f"{parts[0]} · m · {parts[1]} · m · {parts[2]} = {round_.count}"


def _beside(sheet: Sheet, stitches: StitchMap, piece: Piece, round_: Round, y: float) -> None:
    tags = {"data_piece": piece.piece, "data_round": round_.number}
    if round_.count:
        if round_.number:
            sheet.label("round", str(round_.number), complex(200, y), **tags)
        sheet.label("count", _count(round_), complex(20, y), **tags)
    if round_.count or round_.phase == "seam":
        sheet.label("yarn", round_.yarn, complex(190, y), **tags)
        sheet.box(194, y - 2.5, 3, 5, data_role="colour", data_yarn=round_.yarn,
                  fill=stitches.colour(round_.yarn), **tags)  # fmt: skip


def _ground(sheet: Sheet, piece: Piece) -> None:
    """What is said below the first row: of the thumb's crook and held stitches, of a sideways
    cuff's edges."""
    below = FIRST_ROW + 4
    if piece.piece == "thumb":
        for number, x in enumerate((181.5, 178.5), 1):
            sheet.label("crook", str(number), complex(x, below))
        sheet.label("place", "crook", complex(180, below + 5))
        sheet.label("place", "5 held stitches", complex(150, below + 5))
    elif piece.worked == "rows":
        sheet.label("place", "hand edge", complex(50, below))
        sheet.label("place", "arm edge", complex(84, below))


def grid(
    kind: str,
    name: str,
    rounds: Sequence[Round],
    sums: dict[int, tuple[int, int, str]] | None = None,
    whole: tuple[int, int, str] | None = None,
    left: bool = False,
    stitches: StitchMap | None = None,
) -> bytes:
    """A grid chart. `sums`: by round number the span of `work` that a label stands for; `whole`:
    the rounds that one label stands for."""
    stitches = stitches or small()
    piece = next(p for p in stitches.pieces if p.piece == name)
    sheet = Sheet(kind, **({"data_hand": "left"} if left else {}))
    used = []
    y = FIRST_ROW
    for round_ in rounds:
        if whole and whole[0] <= round_.number <= whole[1]:
            if round_.number == whole[0]:
                tags: dict[str, object] = {
                    "data_piece": name,
                    "data_round": f"{whole[0]}-{whole[1]}",
                }
                sheet.label("sum", whole[2], complex(100, y), **tags)
                sheet.label("yarn", round_.yarn, complex(190, y), **tags)
                sheet.box(194, y - 2.5, 3, 5, data_role="colour", data_yarn=round_.yarn,
                          fill=stitches.colour(round_.yarn), **tags)  # fmt: skip
                y -= P
            continue
        turned = piece.worked == "rows" and round_.number % 2 == 0
        step = P if turned != left else -P
        x = start = 60.0 if step > 0 else 180.0
        low, high, text = (sums or {}).get(round_.number, (0, -1, ""))
        for index, op in enumerate(round_.work):
            if op.do == "turn":
                continue
            tags = {"data_piece": name, "data_round": round_.number}
            if low <= index <= high:
                if index == low:
                    sheet.label("sum", text, complex(x + step, y),
                                data_index=f"{low}-{high}", **tags)  # fmt: skip
                    x += 3 * step
                continue
            half = step / 2 if op.do == "inc" else 0
            sheet.stitch(op, complex(x + half, y), data_index=index, **tags)
            if name == "hand" and (round_.number, index) == JOINED:
                bow = (x - 1 - 5j, x - 1 - 3j, x - 4j, x + 1 - 3j, x + 1 - 5j, x - 4j)
                sheet.area(*(complex(p) + y * 1j for p in bow), data_role="joined",
                           data_index=index, **tags)  # fmt: skip
            used.append(op)
            x += step + 2 * half
        _beside(sheet, stitches, piece, round_, y)
        if piece.worked == "rows":
            before = complex(start - step * 1.2, y)
            sheet.arrow(before, before + step * 0.6)
        if name == "hand":
            for cells in MARKED.get(round_.number, ()):
                at = start + step * cells
                sheet.line(complex(at - 0.5, y - 4), complex(at + 0.5, y - 4), data_role="marker")
                lozenge = (at - 5j, at + 1 - 4j, at - 3j, at - 1 - 4j)
                sheet.area(*(complex(p) + y * 1j for p in lozenge), data_role="marked")
            for number, cells in enumerate(CROOK.get(round_.number, ()), 1):
                sheet.label("crook", str(number), complex(start + step * cells, y - 7))
        y -= P
    if piece.worked == "rounds":
        way = complex(20 if left else -20, 0)
        sheet.arrow(complex(110, FIRST_ROW + 10), complex(110, FIRST_ROW + 10) + way)
    _ground(sheet, piece)
    sheet.key(used, FIRST_ROW + 15)
    sheet.tell(piece, rounds)
    return sheet.svg()


def gusset(left: bool = False) -> bytes:
    """The gusset, its first stitches summed, and two plain rounds in one sum."""
    rounds = small().pieces[1].rounds[:7]
    sums = {2: (0, 4, "5 sc"), 3: (0, 6, "6 sc, inc"), 4: (11, 14, "4 sc")}
    return grid("gusset", "hand", rounds, sums, (6, 7, "rounds 6–7: 8 sc"), left)


def thumb() -> bytes:
    """The thumb, all of it drawn."""
    return grid("thumb", "thumb", small().pieces[2].rounds)


def cuff() -> bytes:
    """The cuff, turned rows, two of them in one sum."""
    return grid("cuff", "cuff", small().pieces[0].rounds, whole=(4, 5, "rows 4–5: 3 sc"))


def post_cuff(left: bool = False) -> bytes:
    """The cuff in post stitches: a round summed in part, and two in one sum."""
    stitches = small_in_posts()
    sums = {3: (3, 9, "(FPdc, BPdc) 3 times, sl st")}
    whole = (4, 5, "rounds 4–5: 3 ch, (FPdc, BPdc) 3 times, sl st")
    return grid("cuff", "cuff", stitches.pieces[0].rounds, sums, whole, left, stitches)


def post_key() -> bytes:
    """The symbols of the cuff in post stitches beside the others'."""
    sheet = Sheet("key")
    pieces = small_in_posts().pieces
    sheet.width = 300.0
    sheet.key([op for p in pieces for r in p.rounds for op in r.work if op.do != "turn"], 20,
              scales=(0.5, 1))  # fmt: skip
    return sheet.svg()


def crown(left: bool = False) -> bytes:
    """The crown in rings about one centre."""
    stitches = small()
    piece = stitches.pieces[1]
    sheet = Sheet("crown", **({"data_hand": "left"} if left else {}))
    centre = complex(100, 120)
    used = []
    for ring, round_ in enumerate(piece.rounds[7:]):
        radius = 4 * P - ring * P * 1.1 if round_.count else 0
        cells = len(round_.work)
        tags = {"data_piece": "hand", "data_round": round_.number}
        for index, op in enumerate(round_.work):
            angle = 2 * math.pi * (index + 0.5) / cells * (-1 if left else 1)
            away = cmath.rect(1, angle - math.pi / 2)
            up = -away if radius else -1j
            sheet.stitch(op, centre + away * radius, up, data_index=index, **tags)
            used.append(op)
        place = centre - 1j * (radius + 2)
        if round_.count:
            sheet.label("round", str(round_.number), place - 3, **tags)
            sheet.label("count", str(round_.count), place + 3, **tags)
            sheet.label("yarn", round_.yarn, place - 6, **tags)
            sheet.box(150, 100 + 5 * ring, 3, 5, data_role="colour", data_yarn=round_.yarn,
                      fill=stitches.colour(round_.yarn), **tags)  # fmt: skip
    ring = [centre + cmath.rect(30, angle * math.pi / 16 - math.pi / 2) for angle in range(1, 5)]
    if left:
        ring = [complex(2 * centre.real - p.real, p.imag) for p in ring]
    sheet.arrow(*ring)
    sheet.line(centre - 22j, centre - 34j, data_role="start")
    sheet.key(used, 200)
    for angle in (0.5, 1, 2.5, 3):
        away = cmath.rect(1, angle)
        sheet.line(centre + away * 5 * P - 1, centre + away * 5 * P + 1, data_role="rule")
    sheet.tell(piece, piece.rounds[7:])
    words = "Begins on the 8 stitches of round 7; short bars are those worked together."
    sheet.description = f"{words} {sheet.description}"
    return sheet.svg()


def stripes() -> bytes:
    """The strip at half its size."""
    stitches, sheet = small(), Sheet("stripes", data_scale="0.5", data_top="165", data_foot="200")
    y, step = 200.0, 2.75
    depth = 3 * 5 * 0.5
    sheet.box(60, y - depth, 40, depth, data_role="stripe", data_piece="cuff",
              data_round="1-6", data_yarn="A", fill="#aa3311")  # fmt: skip
    _lettered(sheet, y - depth / 2, "A", "rows 1–6", ("cuff", "1-6"))
    sheet.landmark("cuff", "cuff edge", y)
    y -= depth
    for round_ in stitches.pieces[1].counted:
        sheet.box(60, y - step, 40, step, data_role="stripe", data_piece="hand",
                  data_round=round_.number, data_yarn=round_.yarn,
                  fill=stitches.colour(round_.yarn))  # fmt: skip
        number = str(round_.number)
        _lettered(sheet, y - step / 2, round_.yarn, number, ("hand", number))
        for name, first in (("pick-up", 1), ("gusset", 2), ("crown", 8)):
            if round_.number == first:
                sheet.landmark(name, f"{name}: start of round {first}", y)
        for name, last in (("division", 5), ("tip", 10)):
            if round_.number == last:
                sheet.landmark(name, f"{name}: end of round {last}", y - step)
        y -= step
    corners = [60 + 200j, 100 + 200j, complex(100, y), complex(60, y), 60 + 200j]
    sheet.line(*corners, data_role="outline")
    for place, (letter, name, paint) in enumerate(stitches.yarns):
        sheet.box(60, 210 + 6 * place, 6, 3, data_role="swatch", data_yarn=letter, fill=paint)
        sheet.label("term", f"{letter} {name}", complex(90, 211.5 + 6 * place))
    hand = stitches.pieces[1].counted
    told = ["From the bottom up. Cuff, rows 1 to 6: red (A)."]
    starts = [r for a, r in zip((None, *hand), hand, strict=False) if not a or a.yarn != r.yarn]
    for first, after in zip(
        starts, [*(r.number for r in starts[1:]), hand[-1].number + 1], strict=True
    ):
        last, name = after - 1, {"A": "red", "B": "cream"}[first.yarn]
        alone = last == first.number
        span = f"round {last}" if alone else f"rounds {first.number} to {last}"
        told.append(f"Hand, {span}: {name} ({first.yarn}).")
    sheet.description = " ".join([*told, "Landmarks."])
    return sheet.svg()


def _lettered(sheet: Sheet, y: float, yarn: str, rounds: str, of: tuple[str, str]) -> None:
    """A band's letter and rounds, with a leader from the band."""
    tags = {"data_piece": of[0], "data_round": of[1]}
    sheet.line(complex(60, y), complex(52, y), data_role="rule")
    sheet.label("yarn", yarn, complex(51, y), **tags)
    sheet.label("term", rounds, complex(40, y), **tags)


ONE = {
    "cuff circumference": "2.5 cm (1 in)",
    "cuff depth": "1.5 cm (½ in)",
    "hand circumference": "5 cm (2 in)",
    "thumb circumference": "3.5 cm (1½ in)",
    "crook height": "3 cm (1¼ in)",
    "hand length": "6 cm (2¼ in)",
    "thumb length": "2 cm (¾ in)",
    "total length": "7 cm (2¾ in)",
}
"""The doll's measures, rounded by hand: its crook, of 31.5 mm, lies 5 rounds of 5.5 and 4 above the
crease."""
TWO = {
    "cuff circumference": "2.5 (2.5) cm · 1 (1) in",
    "cuff depth": "1.5 (1.5) cm · ½ (½) in",
    "hand circumference": "5 (5.5) cm · 2 (2¼) in",
    "thumb circumference": "3.5 (4) cm · 1½ (1¾) in",
    "crook height": "3 (3) cm · 1¼ (1¼) in",
    "hand length": "6 (6) cm · 2¼ (2¼) in",
    "thumb length": "2 (2) cm · ¾ (¾) in",
    "total length": "7 (7) cm · 2¾ (2¾) in",
}


def schematic(maps: Sequence[StitchMap], texts: dict[str, str]) -> bytes:
    """The outlines at half their size, with the given texts for the measures."""
    sheet = Sheet("schematic", " / ".join(m.size for m in maps), data_scale="0.5",
                  data_top="122.5", data_foot="157.5")  # fmt: skip
    for stitches in maps:
        sheet.size = stitches.size
        for piece, foot in zip(stitches.pieces[1:], (60 + 150j, _thumb(stitches)), strict=True):
            _silhouette(sheet, stitches, piece, foot)
        sheet.line(57 + 150j, 63 + 150j, 63 + 157.5j, 57 + 157.5j, 57 + 150j,
                   data_role="outline", data_piece="cuff")  # fmt: skip
    sheet.size = " / ".join(m.size for m in maps)
    wide, across = float(maps[-1].fabric.width) / 8, _thumb(maps[-1]).real
    for name, start, end in (
        ("cuff circumference", 57 + 165j, 63 + 165j),
        ("cuff depth", 75 + 157.5j, 75 + 150j),
        ("hand circumference", 60 - 8 * wide + 110j, 60 + 8 * wide + 110j),
        ("thumb circumference", across - 6 * wide + 135.1j, across + 6 * wide + 135.1j),
        ("crook height", 40 + 152j, 40 + 136.25j),
        ("hand length", 30 + 152j, 30 + 122.5j),
        ("thumb length", 150 + 136.25j, 150 + 125.25j),
        ("total length", 20 + 157.5j, 20 + 122.5j),
    ):
        sheet.dimension(name, start, end)
        sheet.label("measure", texts[name], (start + end) / 2 - 2j, data_measure=name)
    if len(maps) > 1:
        names = ", ".join(m.size for m in maps)
        sheet.label("note", f"Outlines from the inside out: {names}.", 100 + 200j)
    told = (f"{n.capitalize()}: {text.replace(' · ', ', ')}." for n, text in texts.items())
    sheet.description = f"Finished measures. {' '.join(told)}"
    return sheet.svg()


def _thumb(stitches: StitchMap) -> complex:
    """The middle of the thumb's foot, its outer edge at the end of the division's ledge."""
    _, hand, thumb = stitches.pieces
    division = next(r.number for r in hand.counted if r.phase == "division")
    ledge = hand.counted[division - 2].count - thumb.counted[0].count
    return 60 + ledge * float(stitches.fabric.width) / 8 + 136.25j


def _silhouette(sheet: Sheet, stitches: StitchMap, piece: Piece, foot: complex) -> None:
    step, half = float(stitches.fabric.height) / 2, float(stitches.fabric.width) / 8
    before = piece.counted[0].count
    sides = [(foot - before * half, foot + before * half)]
    for i, round_ in enumerate(piece.counted, 1):
        here = foot - i * step * 1j
        # Worked over all of the gusset, the division ends in a ledge.
        whole = [before, round_.count] if round_.phase == "division" else [round_.count]
        sides += [(here - count * half, here + count * half) for count in whole]
        before = round_.count
    points = [left for left, _ in sides] + [right for _, right in reversed(sides)]
    sheet.line(*points, points[0], data_role="outline", data_piece=piece.piece)


def key() -> bytes:
    """Every symbol of the mitten."""
    sheet = Sheet("key")
    used = [op for p in small().pieces for r in p.rounds for op in r.work if op.do != "turn"]
    sheet.width = 300.0
    sheet.key(used, 20, scales=(1 / 3, 1))
    return sheet.svg()


def all_scenes() -> dict[str, tuple[bytes, Asked]]:
    """Every drawing by name, with what it was asked to show."""
    doll, larger = small(), small("L", Fraction(7))
    one = (doll,)
    return {
        "gusset": (gusset(), Asked("gusset", one)),
        "gusset, left-handed": (gusset(left=True), Asked("gusset", one, hand="left")),
        "thumb": (thumb(), Asked("thumb", one)),
        "cuff": (cuff(), Asked("cuff", one)),
        "cuff in posts": (post_cuff(), Asked("cuff", (small_in_posts(),))),
        "cuff in posts, left-handed": (
            post_cuff(left=True),
            Asked("cuff", (small_in_posts(),), hand="left"),
        ),
        "key of posts": (post_key(), Asked("key", (small_in_posts(),))),
        "crown": (crown(), Asked("crown", one)),
        "crown, left-handed": (crown(left=True), Asked("crown", one, hand="left")),
        "stripes": (stripes(), Asked("stripes", one)),
        "schematic": (schematic(one, ONE), Asked("schematic", one)),
        "nested schematic": (schematic((doll, larger), TWO), Asked("schematic", (doll, larger))),
        "key": (key(), Asked("key", one)),
    }
