"""The schematic: outlines to scale from the counts, and every printed measure worked out anew."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from gussetry.stitchmap import Piece, StitchMap
from gussetry.verify.findings import Asked, Disagreement
from gussetry.verify.labels import found_at
from gussetry.verify.paths import Box, flattened
from gussetry.verify.svg import Page, Shape

_INCH = Fraction(254, 10)  # mm: 1 in = 25.4 mm exactly
_GLYPHS = {Fraction(1, 4): "¼", Fraction(1, 2): "½", Fraction(3, 4): "¾"}
_SLACK = 0.15  # mm on paper

Segment = tuple[complex, complex]


def measures(stitches: StitchMap) -> dict[str, Fraction]:
    """Every finished measure of the mitten that its counts give, mm."""
    wide, high = stitches.fabric.width, stitches.fabric.height
    found: dict[str, Fraction] = {}
    cuff, hand, thumb = (stitches.piece(name) for name in ("cuff", "hand", "thumb"))
    depth = Fraction(0)
    if cuff is not None and cuff.counted:
        rows, own = cuff.counted, stitches.rib or stitches.fabric
        if cuff.worked == "rows":
            found["cuff circumference"] = len(rows) * own.height
            depth = rows[0].count * own.width
        else:
            found["cuff circumference"] = rows[0].count * own.width
            depth = len(rows) * own.height
        found["cuff depth"] = depth
    if hand is not None and hand.counted:
        division = next((r for r in hand.rounds if r.phase == "division"), None)
        if division is not None:
            found["hand circumference"] = division.count * wide
            found["crook height"] = division.number * high + stitches.above_crease
        else:
            ends = ("crown", "close", "edging")
            for r in [r for r in hand.counted if not r.phase.startswith(ends)][-1:]:
                found["hand circumference"] = r.count * wide
        found["hand length"] = len(hand.counted) * high + stitches.above_crease
        found["total length"] = depth + len(hand.counted) * high
    if thumb is not None and thumb.counted:
        crook = [r for r in thumb.counted if r.phase == "thumb crook"]
        found["thumb circumference"] = (crook[-1] if crook else thumb.counted[0]).count * wide
        found["thumb length"] = len(thumb.counted) * high
    return found


def _nearest(value: Fraction, step: Fraction) -> Fraction:
    return math.floor(value / step + Fraction(1, 2)) * step


def _decimal(value: Fraction) -> str:
    text = f"{float(value):.2f}"
    return text.rstrip("0").rstrip(".")


def centimetres(mm: Fraction, step_mm: Fraction) -> str:
    """The measure in cm as it must be printed."""
    return _decimal(_nearest(mm, step_mm) / 10)


def inches(mm: Fraction, step: Fraction) -> str:
    """The measure in inches as it must be printed, quarters as fractions."""
    value = _nearest(mm / _INCH, step)
    whole = value.numerator // value.denominator
    rest = value - whole
    if rest and rest not in _GLYPHS:
        return _decimal(value)
    return (str(whole) if whole or not rest else "") + _GLYPHS.get(rest, "")


def measure_text(values: Sequence[Fraction], asked: Asked) -> str:
    """What a measure's label says: `20 cm (7¾ in)`, or of several sizes
    `18 (20, 22) cm · 7 (7¾, 8¾) in`."""
    cm = [centimetres(v, asked.cm_step_mm) for v in values]
    inch = [inches(v, asked.inch_step) for v in values]
    if len(values) == 1:
        return f"{cm[0]} cm ({inch[0]} in)"
    return f"{cm[0]} ({', '.join(cm[1:])}) cm · {inch[0]} ({', '.join(inch[1:])}) in"


def compare_schematic(page: Page, asked: Asked, texts: dict[int, str]) -> list[Disagreement]:
    """The schematic held against its maps: printed measures, and the outline of each piece."""
    findings = _compare_measures(page, asked, texts)
    try:
        scale = float(page.tag("scale"))
    except ValueError:
        scale = 0.0
    if not 0 < scale < 10:
        return [*findings, Disagreement("schematic", "the drawing does not say its scale",
                                        found=page.tag("scale"))]  # fmt: skip
    for stitches in asked.maps:
        for piece in stitches.pieces:
            findings += _compare_outline(page, stitches, piece, scale)
    return findings


def _compare_measures(page: Page, asked: Asked, texts: dict[int, str]) -> list[Disagreement]:
    # Left and right of one size measure the same, and are printed once.
    tables = [measures(m) for m in {m.size: m for m in reversed(asked.maps)}.values()][::-1]
    findings: list[Disagreement] = []
    seen: set[str] = set()
    for shape in page.shapes:
        if shape.tag("role") != "measure":
            continue
        name = shape.tag("measure")
        values = [table[name] for table in tables if name in table]
        if not values:
            findings.append(found_at("measure", f"the mitten has no measure {name!r}", shape))
            continue
        wanted = measure_text(values, asked)
        text = texts.get(shape.order, "")
        if text != wanted:
            findings.append(
                found_at("measure", f"the {name} printed is wrong", shape, wanted, text)
            )
        if name in seen:
            findings.append(found_at("measure", f"the {name} is printed twice", shape))
        seen.add(name)
    needed = {name for table in tables for name in table}
    return findings + [
        Disagreement("measure", f"the {name} is not printed") for name in sorted(needed - seen)
    ]


# --- outlines ---------------------------------------------------------------------------------


def _segments(shapes: Sequence[Shape]) -> list[Segment]:
    segments: list[Segment] = []
    for shape in shapes:
        for sub in shape.subs:
            points = flattened(sub)
            if sub.closed:
                points.append(points[0])
            segments += pairwise(points)
    return segments


def _width_at(segments: Sequence[Segment], height: float) -> float | None:
    """How wide the outline is where a level line cuts it; None where it does not."""
    cuts = []
    for a, b in segments:
        low, high = sorted((a.imag, b.imag))
        if low <= height <= high and low < high:
            part = (height - a.imag) / (b.imag - a.imag)
            cuts.append(a.real + part * (b.real - a.real))
    return max(cuts) - min(cuts) if len(cuts) > 1 else None


def _compare_outline(
    page: Page, stitches: StitchMap, piece: Piece, scale: float
) -> list[Disagreement]:
    shapes = [
        s
        for s in page.shapes
        if s.tag("role") == "outline"
        and s.tag("piece") == piece.piece
        and stitches.size in s.tag("size").split(" / ")
    ]
    name = f"{piece.piece} of size {stitches.size}"
    if not shapes:
        return [Disagreement("outline", f"there is no outline of the {name}", piece=piece.piece)]
    boxes = [s.box for s in shapes]
    box = Box(
        min(b.left for b in boxes), min(b.top for b in boxes),
        max(b.right for b in boxes), max(b.bottom for b in boxes),
    )  # fmt: skip
    if piece.piece == "cuff":
        return _compare_cuff(stitches, box, scale, name)
    rounds = piece.counted
    step = float(stitches.fabric.height) * scale
    half = float(stitches.fabric.width) * scale / 2
    findings: list[Disagreement] = []
    tall = box.bottom - box.top
    if abs(tall - len(rounds) * step) > _SLACK + 0.005 * tall:
        findings.append(_differs(f"the {name} is not as tall as its rounds", piece.piece,
                                 len(rounds) * step, tall))  # fmt: skip
    segments = _segments(shapes)
    for i, round_ in enumerate(rounds):
        width = _width_at(segments, box.bottom - (i + 0.5) * step)
        # Between two rounds the outline may step or slope.
        counts = sorted((rounds[max(i - 1, 0)].count, round_.count))
        low, high = counts[0] * half * 0.99 - _SLACK, counts[1] * half * 1.01 + _SLACK
        if width is None or not low <= width <= high:
            findings.append(_differs(f"the {name} has another width at round {round_.number}",
                                     piece.piece, round_.count * half, width or 0.0))  # fmt: skip
    return findings[:6]


def _compare_cuff(stitches: StitchMap, box: Box, scale: float, name: str) -> list[Disagreement]:
    table = measures(stitches)
    findings = []
    for what, wanted, found in (
        ("wide", float(table["cuff circumference"]) * scale / 2, box.right - box.left),
        ("deep", float(table["cuff depth"]) * scale, box.bottom - box.top),
    ):
        if abs(wanted - found) > _SLACK + 0.005 * wanted:
            findings.append(_differs(f"the {name} is not as {what} as its counts", "cuff",
                                     wanted, found))  # fmt: skip
    return findings


def _differs(message: str, piece: str, wanted: float, found: float) -> Disagreement:
    return Disagreement(
        "outline", message, piece=piece, expected=f"{wanted:.2f} mm", found=f"{found:.2f} mm"
    )
