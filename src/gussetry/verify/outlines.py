"""The outlines of a schematic: every round half as wide on paper as it is long, to scale."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from gussetry.stitchmap import Piece, StitchMap
from gussetry.verify.findings import Disagreement
from gussetry.verify.heights import EXACT, compare_ends, cuff_depth
from gussetry.verify.paths import Box, flattened
from gussetry.verify.svg import Page, Shape

Segment = tuple[complex, complex]
_STEEP = 4.0
"""Where an outline slopes, its width differs by some times what its height does."""


def segments(shapes: Sequence[Shape]) -> list[Segment]:
    """The straight pieces of closed and open shapes."""
    found: list[Segment] = []
    for shape in shapes:
        for sub in shape.subs:
            points = flattened(sub)
            if sub.closed:
                points.append(points[0])
            found += pairwise(points)
    return found


def ends_at(lines: Sequence[Segment], level: float) -> tuple[float, float] | None:
    """The leftmost and rightmost x at which a level line cuts; None where it does not."""
    cuts = []
    for a, b in lines:
        low, high = sorted((a.imag, b.imag))
        if low <= level <= high and low < high:
            part = (level - a.imag) / (b.imag - a.imag)
            cuts.append(a.real + part * (b.real - a.real))
    return (min(cuts), max(cuts)) if len(cuts) > 1 else None


def outline_of(page: Page, stitches: StitchMap, piece: str) -> list[Shape]:
    """The outlines of a piece of a size."""
    return [
        s
        for s in page.shapes
        if s.tag("role") == "outline"
        and s.tag("piece") == piece
        and stitches.size in s.tag("size").split(" / ")
    ]


def box_of(shapes: Sequence[Shape]) -> Box:
    """The box round shapes."""
    boxes = [s.box for s in shapes]
    return Box(
        min(b.left for b in boxes), min(b.top for b in boxes),
        max(b.right for b in boxes), max(b.bottom for b in boxes),
    )  # fmt: skip


def compare_outlines(page: Page, maps: Sequence[StitchMap], scale: float) -> list[Disagreement]:
    """Every piece of every size against its counts, how the pieces stand on each other, and both
    ends of the whole."""
    findings: list[Disagreement] = []
    tops, feet = [], []
    for stitches in maps:
        boxes: dict[str, Box] = {}
        for piece in stitches.pieces:
            shapes = outline_of(page, stitches, piece.piece)
            if not shapes:
                findings.append(
                    Disagreement("outline", f"there is no outline of the {piece.piece} of size"
                                 f" {stitches.size}", piece=piece.piece)
                )  # fmt: skip
                continue
            boxes[piece.piece] = box_of(shapes)
            findings += _compare_outline(shapes, stitches, piece, scale)
        findings += _stand_together(stitches, boxes, scale)
        findings += _goes_on(page, stitches)
        tops += [box.top for name, box in boxes.items() if name == "hand"]
        feet += [box.bottom for name, box in boxes.items() if name != "thumb"]
    if len({round(box.bottom, 1) for box in _hands(page)}) > 1:
        findings.append(Disagreement("outline", "the hands do not stand on one line"))
    if tops:
        findings += compare_ends(page, min(tops), max(feet))
    return findings


def _hands(page: Page) -> list[Box]:
    return [s.box for s in page.shapes if s.tag("role") == "outline" and s.tag("piece") == "hand"]


def _stand_together(stitches: StitchMap, boxes: dict[str, Box], scale: float) -> list[Disagreement]:
    """The thumb stands on the division, the cuff hangs from the pick-up round."""
    hand = boxes.get("hand")
    piece = stitches.piece("hand")
    if hand is None or piece is None:
        return []
    findings = []
    divided = next((r.number for r in piece.rounds if r.phase == "division"), None)
    for name, box, found, up in (
        ("thumb", boxes.get("thumb"), "bottom", divided or 0),
        ("cuff", boxes.get("cuff"), "top", 0),
    ):
        if box is None:
            continue
        due = hand.bottom - up * float(stitches.fabric.height) * scale
        level = float(getattr(box, found))
        if abs(level - due) > EXACT:
            findings.append(_differs(f"the {name} of size {stitches.size} stands elsewhere on the"
                                     " hand", name, due, level))  # fmt: skip
    return findings


def _goes_on(page: Page, stitches: StitchMap) -> list[Disagreement]:
    """The thumb's outer edge, which goes on from the gusset's at the division."""
    hand, thumb = (segments(outline_of(page, stitches, name)) for name in ("hand", "thumb"))
    if not hand or not thumb:
        return []
    level = max(end.imag for ends in thumb for end in ends)
    ledge, foot = ends_at(hand, level + EXACT / 10), ends_at(thumb, level)
    if ledge is None or foot is None:
        return []
    # A right mitten has its thumb on the left.
    outer = 0 if foot[0] + foot[1] < ledge[0] + ledge[1] else 1
    if abs(ledge[outer] - foot[outer]) <= 2 * EXACT:
        return []
    return [_differs(f"the thumb of size {stitches.size} does not go on from the gusset's edge",
                     "thumb", ledge[outer], foot[outer])]  # fmt: skip


def _compare_outline(
    shapes: Sequence[Shape], stitches: StitchMap, piece: Piece, scale: float
) -> list[Disagreement]:
    name = f"{piece.piece} of size {stitches.size}"
    box = box_of(shapes)
    if piece.piece == "cuff":
        return _compare_cuff(stitches, piece, box, scale)
    rounds = piece.counted
    step = float(stitches.fabric.height) * scale
    half = float(stitches.fabric.width) * scale / 2
    findings: list[Disagreement] = []
    tall = box.bottom - box.top
    if abs(tall - len(rounds) * step) > EXACT:
        findings.append(_differs(f"the {name} is not as tall as its rounds", piece.piece,
                                 len(rounds) * step, tall))  # fmt: skip
    lines = segments(shapes)
    before = rounds[0].count
    for i, round_ in enumerate(rounds):
        cut = ends_at(lines, box.bottom - (i + 0.5) * step)
        # Midway the outline has gone half of the way from one count to the next; the division is
        # worked over the whole gusset, and sets it aside at its end.
        whole = round_.phase == "division"
        wanted = half * (before if whole else (before + round_.count) / 2)
        slope = half * abs(before - round_.count) / step
        width = cut[1] - cut[0] if cut else 0.0
        if abs(width - wanted) > EXACT * (1 + min(slope, _STEEP)):
            findings.append(_differs(f"the {name} has another width at round {round_.number}",
                                     piece.piece, wanted, width))  # fmt: skip
        before = round_.count
    return findings[:6]


def _compare_cuff(stitches: StitchMap, cuff: Piece, box: Box, scale: float) -> list[Disagreement]:
    own = stitches.rib or stitches.fabric
    rows = cuff.counted
    around = len(rows) * own.height if cuff.worked == "rows" else rows[0].count * own.width
    findings = []
    for what, wanted, found in (
        ("wide", float(around) * scale / 2, box.right - box.left),
        ("deep", cuff_depth(stitches, cuff) * scale, box.bottom - box.top),
    ):
        if abs(wanted - found) > EXACT:
            findings.append(_differs(f"the cuff of size {stitches.size} is not as {what} as its"
                                     " counts", "cuff", wanted, found))  # fmt: skip
    return findings


def _differs(message: str, piece: str, wanted: float, found: float) -> Disagreement:
    return Disagreement(
        "outline", message, piece=piece, expected=f"{wanted:.3f} mm", found=f"{found:.3f} mm"
    )
