"""The schematic held against its maps; its printed measures, each worked out anew."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from gussetry.stitchmap import StitchMap
from gussetry.verify.findings import Asked, Disagreement
from gussetry.verify.heights import scale_of
from gussetry.verify.labels import found_at
from gussetry.verify.laid import compare_laid
from gussetry.verify.marks import compare_marks
from gussetry.verify.measuring import compare_dimensions, compare_letters
from gussetry.verify.outlines import compare_outlines
from gussetry.verify.svg import Page, Shape

_INCH = Fraction(254, 10)  # mm: 1 in = 25.4 mm exactly
_GLYPHS = {Fraction(1, 4): "¼", Fraction(1, 2): "½", Fraction(3, 4): "¾"}


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
    """The schematic held against its maps: printed measures, the outline of each piece, dimension
    lines, and the stripes laid in."""
    findings = _compare_measures(page, asked, texts)
    scale = scale_of(page)
    if scale is None:
        return [*findings, Disagreement("schematic", "the drawing does not say its scale",
                                        found=page.tag("scale"))]  # fmt: skip
    findings += compare_outlines(page, asked.maps, scale)
    findings += compare_letters(page, texts)
    if len(asked.maps) > 1:
        findings += compare_marks(page, asked.maps, texts)
    largest = asked.maps[-1]
    findings += compare_dimensions(page, largest, measures(largest), scale)
    if page.tag("stripes") or any(s.tag("role") == "stripe" for s in page.shapes):
        findings += compare_laid(page, largest, texts, scale)
    return findings


def _in_rows(shapes: Sequence[Shape], texts: dict[int, str]) -> str:
    """What labels say together, from the top down or, turned, in their order."""
    return " ".join(texts.get(s.order, "") for s in sorted(shapes, key=lambda s: s.box.centre.imag))


def _compare_measures(page: Page, asked: Asked, texts: dict[int, str]) -> list[Disagreement]:
    # Left and right of one size measure the same, and are printed once.
    tables = [measures(m) for m in {m.size: m for m in reversed(asked.maps)}.values()][::-1]
    findings: list[Disagreement] = []
    rows: dict[str, list[Shape]] = {}
    for shape in page.shapes:
        if shape.tag("role") == "measure":
            rows.setdefault(shape.tag("measure"), []).append(shape)
    for name, own in rows.items():
        values = [table[name] for table in tables if name in table]
        if not values:
            findings.append(found_at("measure", f"the mitten has no measure {name!r}", own[0]))
            continue
        wanted, text = measure_text(values, asked), _in_rows(own, texts)
        if len(own) > 1 and wanted not in {texts.get(shape.order) for shape in own}:
            # No row ends with the point between centimetres and inches.
            wanted = wanted.replace(" · ", " ")
        if text == f"{wanted} {wanted}":
            findings.append(found_at("measure", f"the {name} is printed twice", own[0]))
        elif text != wanted:
            findings.append(
                found_at("measure", f"the {name} printed is wrong", own[0], wanted, text)
            )
    needed = {name for table in tables for name in table}
    return findings + [
        Disagreement("measure", f"the {name} is not printed") for name in sorted(needed - set(rows))
    ]
