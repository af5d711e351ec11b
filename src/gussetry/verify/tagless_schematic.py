"""The tags of a schematic told from its shapes: outlines by their places, dimension lines by their
arrowheads, measures by their names."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import chain
from statistics import median

from gussetry.stitchmap import PieceName, StitchMap
from gussetry.verify.heights import EXACT
from gussetry.verify.laid import due_stripes
from gussetry.verify.levels import in_lines, level
from gussetry.verify.paths import Box
from gussetry.verify.schematic import measures
from gussetry.verify.svg import Shape
from gussetry.verify.tagless_lines import tag_lines
from gussetry.verify.tagless_parts import Parts, is_closed
from gussetry.verify.tagless_scaled import tag_hatches, tag_legend, tag_scale
from gussetry.verify.upright import Upright

_FIGURES = re.compile(r"[\d(][\d(),.¼½¾·/ ]*(?:(?:cm|in)[\d(),.¼½¾·/ ]*)+(?:\(.*\))?")
_LETTER = re.compile(r"[a-z]")


def infer_schematic(parts: Parts, maps: Sequence[StitchMap]) -> None:
    """Tags of a schematic of one size or of several nested."""
    tag_scale(parts)
    sizes = list({m.size: m for m in reversed(maps)}.values())[::-1]
    outlines = _tag_outlines(parts, sizes)
    if parts.patches:
        _tag_laid(parts, sizes[-1])
    names = {name for stitches in sizes for name in measures(stitches)}
    named = _tag_measures(parts, names)
    for label in parts.labels:
        if parts.text(label) in {m.size for m in maps} and not parts.role(label):
            parts.tag(label, role="term", size=parts.text(label))
    tag_lines(parts, outlines, named)


def _tag_outlines(parts: Parts, sizes: Sequence[StitchMap]) -> list[Shape]:
    """Every piece of every size: the hands are the tallest, cuffs hang below them, thumbs stand
    beside; of each piece the outlines grow with the sizes."""
    closed = [
        s for s in (*parts.loops, *parts.glyphs)
        if s.fill == "none" and len(s.subs) == 1 and is_closed(s.subs[0])
    ]  # fmt: skip
    hands = sorted(closed, key=_tall)[-len(sizes) :]
    if not hands:
        return []
    line = median(s.box.bottom for s in hands)
    known = {s.order for s in hands}
    rest = [s for s in closed if s.order not in known]
    cuffs = [s for s in rest if level(s) > line]
    thumbs = [s for s in rest if level(s) <= line]
    owned: dict[PieceName, list[Shape]] = {"hand": hands, "cuff": cuffs, "thumb": thumbs}
    for piece, own in owned.items():
        _tag_sizes(parts, sizes, piece, own)
    low = [*hands, *cuffs]
    parts.root |= {
        "top": f"{min(s.box.top for s in hands):.3f}",
        "foot": f"{max(s.box.bottom for s in low):.3f}",
    }
    return closed


def _scale(parts: Parts) -> float:
    return float(parts.root.get("scale", "0.5"))


def _tall(shape: Shape) -> float:
    return shape.box.bottom - shape.box.top


def _tag_sizes(
    parts: Parts, sizes: Sequence[StitchMap], piece: PieceName, own: Sequence[Shape]
) -> None:
    """Outlines of one piece: each gets the size whose counts it comes nearest to, every size in
    its turn."""
    due = [m for m in sizes if m.piece(piece)]
    for shape in own:
        parts.tag(shape, role="outline", piece=piece)
    scale = _scale(parts)
    free = {shape.order: shape for shape in own}
    for stitches in due:
        wide, high = _extent(stitches, piece, scale)

        def away(shape: Shape, wide: float = wide, high: float = high) -> tuple[float, float]:
            off = abs(_tall(shape) - high) + abs(shape.box.right - shape.box.left - wide)
            # Thumbs alike: the larger size's stands further out.
            return round(off, 1), shape.box.left

        if free:
            best = min(free.values(), key=away)
            parts.tag(best, size=stitches.size)
            del free[best.order]


def _extent(stitches: StitchMap, piece: PieceName, scale: float) -> tuple[float, float]:
    """How wide and high the piece of a size is about drawn, mm."""
    own = stitches.piece(piece)
    assert own is not None
    wide, high = float(stitches.fabric.width) * scale / 2, float(stitches.fabric.height) * scale
    if piece == "cuff":
        found = measures(stitches)
        around, deep = found.get("cuff circumference"), found.get("cuff depth")
        return float(around or 0) * scale / 2, float(deep or 0) * scale
    return max((r.count for r in own.counted), default=0) * wide, len(own.counted) * high


# --- stripes laid in --------------------------------------------------------------------------


def _tag_laid(parts: Parts, stitches: StitchMap) -> None:
    """Stripes within the outlines, and the swatches of the legend below."""
    inside: dict[PieceName, list[Shape]] = {}
    swatches = []
    boxes = {
        parts.marks[s.order]["data-piece"]: s.box
        for s in (*parts.loops, *parts.glyphs)
        if parts.role(s) == "outline"
    }
    for patch in parts.patches:
        piece = _within(patch.box, boxes)
        if piece:
            inside.setdefault(piece, []).append(patch)
        else:
            swatches.append(patch)
    areas = [patch for own in inside.values() for patch in own]
    if areas:
        parts.root["stripes"] = "yes"
    tag_legend(parts, stitches, swatches)
    if "cuff" in boxes:
        _tag_grooves(parts, stitches, boxes["cuff"])
    tag_hatches(parts, stitches, [*areas, *swatches])
    for piece, own in inside.items():
        _tag_stripes(parts, stitches, piece, own)
    letters = {letter for letter, _, _ in stitches.yarns}
    for label in parts.labels:
        if parts.text(label) in letters and any(a.box.holds(label.box.centre) for a in areas):
            parts.tag(label, role="yarn", size=stitches.size)


def _within(box: Box, boxes: dict[str, Box]) -> PieceName | None:
    """The piece whose outline a box lies in; the thumb before the hand that it stands beside."""
    nearest: tuple[PieceName, ...] = ("cuff", "thumb", "hand")
    for piece in nearest:
        around = boxes.get(piece)
        if around and around.holds(complex(box.left, box.top), 0.05) and around.holds(
            complex(box.right, box.bottom), 0.05
        ):  # fmt: skip
            return piece
    return None


def _tag_stripes(parts: Parts, stitches: StitchMap, piece: PieceName, own: Sequence[Shape]) -> None:
    worked = stitches.piece(piece)
    hatched = parts.root.get("yarns") == "hatches"
    due = due_stripes(stitches, worked, _scale(parts), hatched=hatched) if worked else []
    found = [one.run if isinstance(one, Upright) else one for one in due]
    rising = list(chain.from_iterable(in_lines(own, EXACT)[::-1]))
    for shape in rising:
        parts.tag(shape, role="stripe", piece=piece, size=stitches.size)
    for shape, run in zip(rising, found, strict=False):
        parts.tag(shape, round=run.rounds, yarn=run.yarn)


def _tag_grooves(parts: Parts, stitches: StitchMap, cuff: Box) -> None:
    """The grooves of a ribbed cuff, which are no strokes of a hatch."""
    rib, worked = stitches.rib, stitches.piece("cuff")
    if rib is None or worked is None:
        return
    apart = 2 * float(rib.height if worked.worked == "rows" else rib.width) * _scale(parts)
    taken = set()
    for line in parts.lines:
        place = (line.box.centre.real - cuff.left) / apart
        off = abs(place - round(place)) * apart
        slim = line.box.right - line.box.left <= EXACT
        # A stroke of a hatch may lie on a groove: then there are two.
        where = round(place), round(level(line), 2)
        if slim and off <= EXACT and cuff.holds(line.box.centre) and where not in taken:
            taken.add(where)
            parts.tag(line, role="rib")


# --- measures ---------------------------------------------------------------------------------


def _tag_measures(parts: Parts, names: set[str]) -> dict[str, list[Shape]]:
    """The labels of each measure: its figures, its name beside them, and its letters. What comes
    back are those that stand beside dimension lines."""
    figures, titles, letters = [], [], []
    for label in parts.labels:
        text = parts.text(label)
        if parts.role(label):
            continue
        if _FIGURES.fullmatch(text):
            figures.append(label)
        elif text in names:
            titles.append(label)
            parts.tag(label, role="term")
        elif _LETTER.fullmatch(text):
            letters.append(label)
    near = sorted(
        (_away(one.box, title.box), one.order, title.order, one, title)
        for one in figures
        for title in titles
        # In a list nothing of a measure stands above its name.
        if not letters or one.box.centre.imag > title.box.top
    )
    found: dict[str, list[Shape]] = {}
    seen: set[int] = set()
    for again in (False, True):
        # Figures in two rows: the second follows where the first has gone.
        for _, order, name_order, one, title in near:
            if order in seen or (name_order in seen and not again):
                continue
            seen |= {order, name_order}
            name = parts.text(title)
            parts.tag(one, role="measure", measure=name, size=parts.root.get("size", ""))
            found.setdefault(name, [title]).insert(0, one)
    return _by_letters(parts, titles, letters) if letters else found


def _by_letters(
    parts: Parts, titles: Sequence[Shape], letters: Sequence[Shape]
) -> dict[str, list[Shape]]:
    """Letters before the names in the list, and those beside the lines, which are given back."""
    owner: dict[str, str] = {}
    listed: set[int] = set()
    for title in titles:
        before = [
            s for s in letters
            if s.box.right < title.box.left
            and s.box.top < level(title) < s.box.bottom
            and title.box.left - s.box.right < 8
        ]  # fmt: skip
        for letter in before:
            listed.add(letter.order)
            owner[parts.text(letter)] = parts.text(title)
            parts.tag(letter, role="letter", measure=parts.text(title))
    found: dict[str, list[Shape]] = {}
    for letter in letters:
        name = owner.get(parts.text(letter))
        if letter.order not in listed and name:
            parts.tag(letter, role="letter", measure=name)
            found.setdefault(name, []).append(letter)
    return found


def _away(figures: Box, title: Box) -> float:
    """How little figures look like those of a name: they begin where it does, above it, or stand
    on its level; turned, in one middle with it."""
    dx = max(figures.left - title.right, title.left - figures.right, 0.0)
    dy = max(figures.top - title.bottom, title.top - figures.bottom, 0.0)
    askew = abs((figures.centre - title.centre).imag)
    if figures.right - figures.left > figures.bottom - figures.top:
        askew = min(askew, abs(figures.left - title.left))
    return 3 * askew + abs(complex(dx, dy))
