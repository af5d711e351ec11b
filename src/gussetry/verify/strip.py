"""The stripe strip: bands from cuff to tip, to one scale, in the yarns of their rounds."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from itertools import chain, pairwise
from typing import Literal, NamedTuple

from gussetry.stitchmap import Piece, StitchMap
from gussetry.verify.beside import wrong_colour
from gussetry.verify.findings import Disagreement
from gussetry.verify.hatching import compare_hatch, is_hatched, strays, strokes
from gussetry.verify.heights import (
    EXACT,
    compare_ends,
    cuff_depth,
    end_of,
    heights,
    scale_of,
)
from gussetry.verify.labels import found_at, number
from gussetry.verify.levels import in_lines
from gussetry.verify.paths import flattened
from gussetry.verify.svg import Page, Shape
from gussetry.verify.upright import all_round, block, must_be_upright

_NUMBER = re.compile(r"\d+")
_NEAR = 1.6
"""From the end of a leader to the words that it leads to, mm at most."""


class Band(NamedTuple):
    """One band that the strip must have: its piece, rounds as tagged, yarn, height in mm of the
    finished mitten; the letters beside it; where it begins and ends across the strip, in shares
    of its width."""

    piece: str
    rounds: str
    yarn: str
    height: float
    letters: str
    begin: float = 0.0
    end: float = 1.0


Cuff = Literal["block", "each", "upright"]
"""How a cuff is drawn: one block, a band a round, or its stripes side by side."""


def bands(stitches: StitchMap, drawn: Cuff) -> list[Band]:
    """The bands that the strip must have, from the cuff up, of those side by side the rightmost
    first; the cuff as it is drawn."""
    found: list[Band] = []
    for piece in stitches.pieces:
        if piece.piece == "hand":
            high = float(stitches.fabric.height)
            found += [Band("hand", str(r.number), r.yarn, high, r.yarn) for r in piece.counted]
        elif piece.piece == "cuff" and piece.counted:
            found += _cuff_bands(stitches, piece, drawn)
    return found


def _cuff_bands(stitches: StitchMap, cuff: Piece, drawn: Cuff) -> list[Band]:
    depth, rounds = cuff_depth(stitches, cuff), cuff.counted
    if drawn == "each":
        high = depth / len(rounds)
        return [Band("cuff", str(r.number), r.yarn, high, r.yarn) for r in rounds]
    letters = ", ".join(dict.fromkeys(r.yarn for r in rounds))
    if drawn == "block":
        whole = block(cuff)
        return [Band("cuff", whole.rounds, whole.yarn, depth, letters)]
    return [
        Band("cuff", run.rounds, run.yarn, depth, letters, begin, end)
        for run, begin, end in all_round(cuff)
    ]


def _drawn(page: Page, stitches: StitchMap, shapes: Sequence[Shape]) -> Cuff:
    """How the cuff must be drawn: rows as upright stripes where these can be told, else as a block;
    rounds one by one or in one block, as the drawing has it."""
    cuff = stitches.piece("cuff")
    if cuff is None or cuff.worked != "rows":
        return "block" if sum(s.tag("piece") == "cuff" for s in shapes) == 1 else "each"
    wide = max((s.box.right - s.box.left for s in shapes), default=0.0)
    row = wide / len(cuff.counted)
    upright = must_be_upright(stitches, cuff, row, hatched=is_hatched(page))
    return "upright" if upright else "block"


def _levels(wanted: Sequence[Band], foot: float, scale: float) -> list[tuple[float, float]]:
    """Where each band has its foot and its head; those side by side have the same."""
    found = []
    for band in wanted:
        found.append((foot, foot - band.height * scale))
        foot = found[-1][1] if not band.begin else foot
    return found


def _odd_band(
    page: Page, shapes: Sequence[Shape], wanted: Sequence[Band]
) -> tuple[str, int | None]:
    """Piece and first round of the lowest band that stands nowhere, or is drawn twice; neither
    where the drawing does not say its scale and where its foot is."""
    scale, foot = scale_of(page), end_of(page, "foot")
    if scale is None or foot is None:
        return "", None
    left = min((shape.box.left for shape in shapes), default=0.0)
    wide = max((shape.box.right for shape in shapes), default=0.0) - left
    middles = [shape.box.centre for shape in shapes]
    for band, (low, high) in zip(wanted, _levels(wanted, foot, scale), strict=True):
        begin, end = left + band.begin * wide, left + band.end * wide
        if sum(high < at.imag < low and begin < at.real < end for at in middles) != 1:
            return band.piece, int(band.rounds.partition("-")[0])
    return "", None


def compare_strip(page: Page, stitches: StitchMap, texts: dict[int, str]) -> list[Disagreement]:
    """The strip held against the map: order, heights, contact, colours, landmarks."""
    stripes = (s for s in page.shapes if s.tag("role") == "stripe")
    shapes = list(chain.from_iterable(in_lines(stripes, EXACT)))[::-1]
    wanted = bands(stitches, _drawn(page, stitches, shapes))
    if len(shapes) != len(wanted) or not wanted:
        piece, round_ = _odd_band(page, shapes, wanted)
        return [Disagreement("strip", "the strip has another number of bands", piece, round_,
                             expected=str(len(wanted)), found=str(len(shapes)))]  # fmt: skip
    scale = scale_of(page)
    if scale is None:
        return [Disagreement("strip", "the drawing does not say its scale",
                             found=page.tag("scale"))]  # fmt: skip
    foot = shapes[0].box.bottom
    findings = compare_ends(page, shapes[-1].box.top, foot)
    levels = _levels(wanted, foot, scale)
    for shape, band, ends in zip(shapes, wanted, levels, strict=True):
        findings += _compare_band(stitches, shape, band, ends)
        findings += wrong_colour(page, stitches.colour(band.yarn), band.yarn, shape)
    findings += _side_by_side(shapes, wanted)
    findings += _outlined(page, shapes)
    legend, wrong = compare_legend(page, stitches, texts)
    findings += wrong
    if is_hatched(page):
        drawn = strokes(page)
        yarns = [*(band.yarn for band in wanted), *(shape.tag("yarn") for shape in legend)]
        for shape, yarn in zip((*shapes, *legend), yarns, strict=True):
            findings += compare_hatch(stitches, yarn, shape, drawn)
        findings += strays((*shapes, *legend), drawn)
    findings += _spans(page, texts, shapes, wanted)
    findings += _numbers(page, texts, shapes)
    return findings + _landmarks(page, stitches, texts, shapes, scale)


def _side_by_side(shapes: Sequence[Shape], wanted: Sequence[Band]) -> list[Disagreement]:
    """Bands that do not reach across the strip, or as far across as their rows do."""
    left, right = min(s.box.left for s in shapes), max(s.box.right for s in shapes)
    for shape, band in zip(shapes, wanted, strict=True):
        begin, end = (left + share * (right - left) for share in (band.begin, band.end))
        if max(abs(shape.box.left - begin), abs(shape.box.right - end)) > EXACT:
            return [found_at("strip", "a band does not reach across the strip as its rounds do",
                             shape, f"{begin:.2f} to {end:.2f} mm",
                             f"{shape.box.left:.2f} to {shape.box.right:.2f} mm")]  # fmt: skip
    return []


def _outlined(page: Page, shapes: Sequence[Shape]) -> list[Disagreement]:
    """The outline: one, round all bands and no further."""
    found = [shape.box for shape in page.shapes if shape.tag("role") == "outline"]
    left, right = min(s.box.left for s in shapes), max(s.box.right for s in shapes)
    due = (left, shapes[-1].box.top, right, shapes[0].box.bottom)
    if len(found) == 1:
        box = found[0]
        off = zip((box.left, box.top, box.right, box.bottom), due, strict=True)
        if max(abs(a - b) for a, b in off) <= EXACT:
            return []
    return [Disagreement("strip", "no outline goes round the strip", found=str(len(found)))]


def _compare_band(
    stitches: StitchMap, shape: Shape, band: Band, ends: tuple[float, float]
) -> list[Disagreement]:
    findings: list[Disagreement] = []
    low, high = ends
    if max(abs(shape.box.bottom - low), abs(shape.box.top - high)) > EXACT:
        findings.append(found_at("strip", "a band does not stand where its round lies", shape,
                                 f"{low:.2f} to {high:.2f} mm",
                                 f"{shape.box.bottom:.2f} to {shape.box.top:.2f} mm"))  # fmt: skip
    tag = shape.tag("round")
    plain = band.rounds.partition("-")
    same_block = plain[0] == plain[2] and tag == plain[0]
    if shape.tag("piece") != band.piece or (tag != band.rounds and not same_block):
        findings.append(
            found_at("tag", "a band is tagged as another round", shape,
                     f"{band.piece} {band.rounds}", f"{shape.tag('piece')} {tag}")
        )  # fmt: skip
    if stitches.size not in shape.tag("size").split(" / "):
        findings.append(found_at("tag", "a band is tagged with another size", shape,
                                 stitches.size, shape.tag("size")))  # fmt: skip
    return findings


def compare_legend(
    page: Page, stitches: StitchMap, texts: dict[int, str]
) -> tuple[list[Shape], list[Disagreement]]:
    """The swatches of known yarns, and what is wrong: each yarn has one, in its colour, and its
    letter stands first in the words beside it."""
    named = {
        (shape.box.centre.imag, texts.get(shape.order, "").split(" ")[0])
        for shape in page.shapes
        if shape.tag("role") == "term"
    }
    found: list[Shape] = []
    findings: list[Disagreement] = []
    swatches = [shape for shape in page.shapes if shape.tag("role") == "swatch"]
    for letter, _, paint in stitches.yarns:
        own = [shape for shape in swatches if shape.tag("yarn") == letter]
        found += own
        if len(own) != 1:
            findings.append(Disagreement("colour", f"yarn {letter} has not one swatch",
                                         found=str(len(own))))  # fmt: skip
        for shape in own:
            findings += wrong_colour(page, paint, letter, shape)
            level = shape.box.centre.imag
            if not any(text == letter and abs(y - level) < 1.5 for y, text in named):
                findings.append(found_at("printed", f"no {letter} stands beside its swatch", shape))
    return found, findings


# --- labels beside the bands ------------------------------------------------------------------


def _leaders(page: Page) -> list[tuple[complex, complex]]:
    """Both ends of every leader."""
    return [
        (points[0], points[-1])
        for shape in page.shapes
        if shape.tag("role") == "rule"
        for points in (flattened(sub) for sub in shape.subs)
    ]


def led_from(label: Shape, ends: Sequence[tuple[complex, complex]]) -> complex | None:
    """Where the leader begins that ends beside a label, the most level with it; None where none
    does."""
    box = label.box
    high = box.bottom - box.top
    found = []
    for a, b in ends:
        for near, far in ((a, b), (b, a)):
            aside = max(box.left - near.real, near.real - box.right, 0.0)
            off = abs(near.imag - box.centre.imag)
            if aside <= _NEAR and off <= 1.5 * high:
                found.append((off, far.real, far.imag))
    return complex(*min(found)[1:]) if found else None


def _spans(
    page: Page, texts: dict[int, str], shapes: Sequence[Shape], wanted: Sequence[Band]
) -> list[Disagreement]:
    """Yarn letters and spans of rounds beside the bands: each right, in the bands' order, led to
    from its bands; and no band without its letter."""
    parts = [band.rounds.split("-") for band in wanted]
    firsts = {
        (band.piece, part[0]): i for i, (band, part) in enumerate(zip(wanted, parts, strict=True))
    }
    lasts = {
        (band.piece, part[-1]): i for i, (band, part) in enumerate(zip(wanted, parts, strict=True))
    }
    leaders = _leaders(page)
    findings: list[Disagreement] = []
    levels: dict[str, list[tuple[int, float]]] = {"yarn": [], "term": []}
    lettered: set[int] = set()
    for shape in page.shapes:
        role, piece, span = shape.tag("role"), shape.tag("piece"), shape.tag("round")
        if role not in levels or not piece or not span:
            continue
        first, _, last = span.partition("-")
        low, high = firsts.get((piece, first)), lasts.get((piece, last or first))
        if low is None or high is None:
            findings.append(
                found_at("strip", f"a label names rounds {span}, which are no bands", shape)
            )
            continue
        levels[role].append((low, -shape.box.centre.imag))
        text = texts.get(shape.order, "")
        if role == "term":
            wrong = _NUMBER.findall(text) != span.split("-")
        else:
            wrong = {band.letters for band in wanted[low : high + 1]} != {text}
            lettered |= set(range(low, high + 1))
            findings += _wrongly_led(shape, span, leaders, shapes[low : high + 1])
        if wrong:
            findings.append(
                found_at("printed", f"the label of rounds {span} is wrong", shape, found=text)
            )
    for role, found in levels.items():
        rising = [height for _, height in sorted(found)]
        if rising != sorted(rising):
            findings.append(Disagreement("place", f"the {role} labels are out of order"))
    bare = [shape for i, shape in enumerate(shapes) if i not in lettered]
    return findings + [found_at("printed", "a band has no letter beside it", s) for s in bare[:3]]


def _wrongly_led(
    label: Shape, span: str, leaders: Sequence[tuple[complex, complex]], own: Sequence[Shape]
) -> list[Disagreement]:
    """A letter to which no leader leads from the edge of its own bands."""
    start = led_from(label, leaders)
    if start is not None and any(
        min(abs(start.real - s.box.left), abs(start.real - s.box.right)) <= EXACT
        and s.box.top - EXACT <= start.imag <= s.box.bottom + EXACT
        for s in own
    ):
        return []
    return [found_at("place", f"no leader joins the letter of rounds {span} to them", label)]


def _numbers(page: Page, texts: dict[int, str], shapes: Sequence[Shape]) -> list[Disagreement]:
    """The numbers of rounds along the strip: each right, and level with its band."""
    rounds = {s.tag("round"): s for s in shapes if s.tag("piece") == "hand"}
    findings = []
    for shape in page.shapes:
        if shape.tag("role") != "round":
            continue
        band, text = rounds.get(shape.tag("round")), texts.get(shape.order, "")
        if band is None or text != shape.tag("round"):
            findings.append(found_at("printed", "a round's number is wrong", shape,
                                     shape.tag("round"), text))  # fmt: skip
        elif not band.box.top <= shape.box.centre.imag <= band.box.bottom:
            findings.append(
                found_at("place", f"the number {text} does not stand beside its round", shape)
            )
    return [*findings, *_left_out(page, rounds)]


def _left_out(page: Page, rounds: Mapping[str, Shape]) -> list[Disagreement]:
    """The numbers along the strip that are missing from their row: of each round, of every fifth,
    tenth or twentieth."""
    shown = {s.tag("round") for s in page.shapes if s.tag("role") == "round"}
    numbers = [number(tag) or 0 for tag in shown]
    step = math.gcd(*numbers)
    due = [tag for tag in rounds if step and not (number(tag) or 1) % step]
    return [
        Disagreement("printed", f"the number {tag} is missing along the strip", piece="hand",
                     round=number(tag))
        for tag in due
        if tag not in shown
    ]  # fmt: skip


def _told_in(words: str) -> int | None:
    """The round that a landmark's words name."""
    _, _, told = words.partition("round ")
    return number(told)


def _landmarks(
    page: Page, stitches: StitchMap, texts: dict[int, str], shapes: Sequence[Shape], scale: float
) -> list[Disagreement]:
    """Landmarks: each led to from its height on the strip's edge, and saying it in full, in one row
    or more."""
    foot = next((s.box.bottom for s in shapes if s.tag("piece") == "hand"), 0.0)
    wanted, leaders = heights(stitches), _leaders(page)
    edge = max(s.box.right for s in shapes)
    begun = [at.imag for ends in leaders for at in ends if abs(at.real - edge) <= EXACT]
    rows: dict[str, list[Shape]] = {}
    for shape in page.shapes:
        if shape.tag("role") == "landmark":
            rows.setdefault(shape.tag("landmark"), []).append(shape)
    findings: list[Disagreement] = []
    for name, own in rows.items():
        own.sort(key=lambda s: s.box.centre.imag)
        text = " ".join(texts.get(s.order, "") for s in own)
        mark = wanted.get(name)
        if mark is None:
            findings.append(found_at("landmark", f"the mitten has no {name}", own[0], found=text))
            continue
        if text != mark.words:
            findings.append(found_at("landmark", f"the {name} is named wrongly", own[0],
                                     mark.words, text))  # fmt: skip
        due = foot - mark.above * scale
        found = [start.imag for s in own if (start := led_from(s, leaders)) is not None]
        if not all(any(abs(level - due) <= EXACT for level in some) for some in (found, begun)):
            findings.append(
                found_at("landmark", f"the {name} stands at another height", own[0],
                         f"{due:.2f} mm", ", ".join(f"{level:.2f} mm" for level in found))
            )  # fmt: skip
    findings += [
        Disagreement("landmark", f"the strip does not name the {name}", round=_told_in(mark.words))
        for name, mark in wanted.items()
        if name not in rows
    ]
    # Of two at one height either may stand above the other.
    levels = sorted(
        (round(wanted[name].above, 6), -rows[name][0].box.centre.imag)
        for name in rows.keys() & wanted.keys()
    )
    if any(a > b for (_, a), (_, b) in pairwise(levels)):
        findings.append(Disagreement("landmark", "the landmarks do not stand in their order"))
    return findings
