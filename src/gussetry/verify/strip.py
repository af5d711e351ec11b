"""The stripe strip: bands from cuff to tip, to one scale, in the yarns of their rounds."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from gussetry.stitchmap import Piece, Round, StitchMap
from gussetry.verify.beside import wrong_colour
from gussetry.verify.findings import Disagreement
from gussetry.verify.hatching import compare_hatch, is_hatched, strays, strokes
from gussetry.verify.labels import found_at
from gussetry.verify.svg import Page, Shape

_SLACK = 0.02  # mm: two roundings to 0.001 and the pen's own
_NUMBER = re.compile(r"\d+")


class Band(NamedTuple):
    """One band that the strip must have: its piece, rounds as tagged, yarn, height in mm of the
    finished mitten."""

    piece: str
    rounds: str
    yarn: str
    height: float


def cuff_depth(stitches: StitchMap, cuff: Piece) -> float:
    """Depth of the cuff, mm: along the ribs of rows, or up its rounds."""
    own = stitches.rib or stitches.fabric
    if cuff.worked == "rows":
        across = cuff.counted[0].count if cuff.counted else 0
        return float(across * own.width)
    return float(len(cuff.counted) * own.height)


def _hand_bands(stitches: StitchMap) -> list[Band]:
    hand = stitches.piece("hand")
    high = float(stitches.fabric.height)
    return [Band("hand", str(r.number), r.yarn, high) for r in (hand.counted if hand else ())]


def _cuff_bands(stitches: StitchMap, cuff: Piece, as_block: bool) -> list[Band]:
    rounds = cuff.counted
    if not rounds:
        return []
    if as_block:
        span = f"{rounds[0].number}-{rounds[-1].number}"
        return [Band("cuff", span, rounds[0].yarn, cuff_depth(stitches, cuff))]
    high = cuff_depth(stitches, cuff) / len(rounds)
    return [Band("cuff", str(r.number), r.yarn, high) for r in rounds]


def bands(stitches: StitchMap, cuff_shapes: Sequence[Shape]) -> list[Band]:
    """The bands that the strip must have, from the cuff up. A cuff worked round may be one block
    or one band a round, as the drawing has it."""
    cuff = stitches.piece("cuff")
    if cuff is None:
        return _hand_bands(stitches)
    as_block = cuff.worked == "rows" or len(cuff_shapes) == 1
    return _cuff_bands(stitches, cuff, as_block) + _hand_bands(stitches)


def compare_strip(page: Page, stitches: StitchMap, texts: dict[int, str]) -> list[Disagreement]:
    """The strip held against the map: order, heights, contact, colours, landmarks."""
    shapes = sorted(
        (s for s in page.shapes if s.tag("role") == "stripe"),
        key=lambda s: -s.box.centre.imag,
    )
    wanted = bands(stitches, [s for s in shapes if s.tag("piece") == "cuff"])
    if len(shapes) != len(wanted) or not wanted:
        return [Disagreement("strip", "the strip has another number of bands",
                             expected=str(len(wanted)), found=str(len(shapes)))]  # fmt: skip
    top, bottom = shapes[-1].box.top, shapes[0].box.bottom
    scale = (bottom - top) / sum(band.height for band in wanted)
    findings: list[Disagreement] = []
    for shape, band in zip(shapes, wanted, strict=True):
        findings += _compare_band(stitches, shape, band, scale)
        findings += wrong_colour(page, stitches.colour(band.yarn), band.yarn, shape)
    for below, above in pairwise(shapes):
        if abs(below.box.top - above.box.bottom) > _SLACK:
            findings.append(found_at("strip", "two bands do not meet", above,
                                     f"{below.box.top:.2f}",
                                     f"{above.box.bottom:.2f}"))  # fmt: skip
    widths = sorted((s.box.left, s.box.right) for s in shapes)
    if widths[-1][0] - widths[0][0] > _SLACK or widths[-1][1] - widths[0][1] > _SLACK:
        findings.append(Disagreement("strip", "the bands are not one above the other"))
    legend, wrong = _legend(page, stitches, texts)
    findings += wrong
    if is_hatched(page):
        drawn = strokes(page)
        yarns = [*(band.yarn for band in wanted), *(shape.tag("yarn") for shape in legend)]
        for shape, yarn in zip((*shapes, *legend), yarns, strict=True):
            findings += compare_hatch(stitches, yarn, shape, drawn)
        findings += strays((*shapes, *legend), drawn)
    findings += _spans(page, texts, shapes)
    return findings + _landmarks(page, stitches, texts, shapes, scale)


def _compare_band(
    stitches: StitchMap, shape: Shape, band: Band, scale: float
) -> list[Disagreement]:
    findings: list[Disagreement] = []
    high = shape.box.bottom - shape.box.top
    if abs(high - band.height * scale) > _SLACK + 0.01 * high:
        findings.append(found_at("strip", "a band has another height than its round", shape,
                                 f"{band.height * scale:.2f} mm", f"{high:.2f} mm"))  # fmt: skip
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


def _legend(
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


def _spans(page: Page, texts: dict[int, str], shapes: Sequence[Shape]) -> list[Disagreement]:
    """Yarn letters and spans of rounds beside the bands: each right, and in the bands' order.

    Where bands are lower than a line of text the labels stand away from them, on leaders, and
    some are left out: they are held by what they name and by their order.
    """
    places = {(s.tag("piece"), s.tag("round")): i for i, s in enumerate(shapes)}
    findings: list[Disagreement] = []
    heights: dict[str, list[tuple[int, float]]] = {"yarn": [], "term": []}
    for shape in page.shapes:
        role, piece, span = shape.tag("role"), shape.tag("piece"), shape.tag("round")
        if role not in heights or not piece or not span:
            continue
        ends = [places.get((piece, part)) for part in (span, *span.split("-"))]
        low, high = (ends[0], ends[0]) if ends[0] is not None else (ends[1], ends[-1])
        if low is None or high is None:
            findings.append(
                found_at("strip", f"a label names rounds {span}, which are no bands", shape)
            )
            continue
        heights[role].append((low, -shape.box.centre.imag))
        text = texts.get(shape.order, "")
        if role == "term":
            wrong = _NUMBER.findall(text) != span.split("-")
        else:
            wrong = any(band.tag("yarn") != text for band in shapes[low : high + 1])
        if wrong:
            findings.append(
                found_at("printed", f"the label of rounds {span} is wrong", shape, found=text)
            )
    for role, found in heights.items():
        rising = [height for _, height in sorted(found)]
        if rising != sorted(rising):
            findings.append(Disagreement("place", f"the {role} labels are out of order"))
    return findings


def _first(rounds: Sequence[Round], phases: tuple[str, ...]) -> Round | None:
    return next((r for r in rounds if r.phase.startswith(phases)), None)


def _marks(hand: Piece) -> dict[str, Round | None]:
    """The round that each landmark stands at; the cuff's is the pick-up round."""
    shut = any(r.phase == "draw shut" for r in hand.rounds)
    return {
        "cuff": hand.counted[0] if hand.counted else None,
        "gusset": _first(hand.rounds, ("gusset",)),
        "division": _first(hand.rounds, ("division",)),
        "crown": _first(hand.rounds, ("crown", "close")),
        "edging": _first(hand.rounds, ("edging",)),
        "tip": hand.counted[-1] if hand.counted and shut else None,
    }


def _landmarks(
    page: Page, stitches: StitchMap, texts: dict[int, str], shapes: Sequence[Shape], scale: float
) -> list[Disagreement]:
    """Landmarks: each at the height of its round, and naming it."""
    hand = stitches.piece("hand")
    if hand is None:
        return []
    edge = next((s.box.bottom for s in shapes if s.tag("piece") == "hand"), 0.0)
    step = float(stitches.fabric.height) * scale
    marks = _marks(hand)
    findings: list[Disagreement] = []
    seen: list[tuple[str, float]] = []
    for shape in page.shapes:
        if shape.tag("role") != "landmark":
            continue
        name = shape.tag("landmark")
        seen.append((name, shape.box.centre.imag))
        text = texts.get(shape.order, "")
        round_ = marks.get(name)
        if round_ is None:
            findings.append(found_at("landmark", f"the mitten has no {name}", shape, found=text))
            continue
        at_cuff = name == "cuff" and not _NUMBER.search(text)
        last = hand.counted[-1] if name == "edging" else round_
        findings += _wrong_words(name, text, () if at_cuff else (round_, last), shape)
        due = shapes[0].box.bottom if at_cuff else edge - (round_.number - 0.5) * step
        high = shape.box.bottom - shape.box.top
        slack = max(2 * high, 2 * step) + (due - edge if at_cuff else 0)
        if abs(shape.box.centre.imag - due) > slack:
            findings.append(
                found_at("landmark", f"the {name} stands at another height", shape,
                         f"{due:.1f} mm", f"{shape.box.centre.imag:.1f} mm")
            )  # fmt: skip
    needed = {name for name, round_ in marks.items() if round_ is not None}
    if stitches.piece("cuff") is None:
        needed.discard("cuff")
    findings += [
        Disagreement("landmark", f"the strip does not name the {name}")
        for name in sorted(needed - {name for name, _ in seen})
    ]
    return findings + _out_of_order(seen)


def _wrong_words(name: str, text: str, rounds: Sequence[Round], shape: Shape) -> list[Disagreement]:
    """What a landmark's words have wrong: its name, or the numbers of its first and last round."""
    named = _NUMBER.findall(text)
    wanted = [str(number) for number in dict.fromkeys(r.number for r in rounds)]
    words = ("cuff", "pick-up") if name == "cuff" else (name,)
    if named == wanted and any(word in text for word in words):
        return []
    return [found_at("landmark", f"the {name} is named wrongly", shape,
                     " ".join((name, *wanted)), text)]  # fmt: skip


def _out_of_order(heights: Sequence[tuple[str, float]]) -> list[Disagreement]:
    order = ("cuff", "gusset", "division", "crown", "edging", "tip")
    known = sorted((order.index(name), -y) for name, y in heights if name in order)
    rising = [y for _, y in known]
    if rising != sorted(rising):
        return [Disagreement("landmark", "the landmarks do not stand in their order")]
    return []
