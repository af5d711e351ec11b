"""Stripes laid into a schematic: each yarn's rounds an area of the outline, in order."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from gussetry.stitchmap import Piece, StitchMap
from gussetry.verify.beside import wrong_colour
from gussetry.verify.findings import Disagreement
from gussetry.verify.hatching import compare_hatch, is_hatched, strays, strokes
from gussetry.verify.heights import EXACT, cuff_depth
from gussetry.verify.labels import found_at
from gussetry.verify.outlines import Segment, box_of, ends_at, outline_of, segments
from gussetry.verify.strip import compare_legend
from gussetry.verify.svg import Page, Shape

Run = tuple[str, int, int]
"""A yarn, and the first and last of its rounds."""


def runs(piece: Piece) -> list[Run]:
    """The stripes of a piece; a cuff worked in rows is one, in its first row's yarn."""
    rounds = piece.counted
    if piece.worked == "rows":
        return [(rounds[0].yarn, rounds[0].number, rounds[-1].number)]
    found = [list(own) for _, own in groupby(rounds, lambda r: r.yarn)]
    return [(own[0].yarn, own[0].number, own[-1].number) for own in found]


def compare_laid(
    page: Page, stitches: StitchMap, texts: dict[int, str], scale: float
) -> list[Disagreement]:
    """Every stripe of every piece: its place and reach within the outline, yarn, colour, hatch;
    the letters within; and the legend."""
    findings, shapes, yarns = [], [], []
    if page.tag("stripes") != "yes":
        findings.append(Disagreement("root", "the drawing does not say that it shows stripes"))
    for piece in stitches.pieces:
        own = sorted(
            (s for s in page.shapes
             if s.tag("role") == "stripe" and s.tag("piece") == piece.piece),
            key=lambda s: -s.box.centre.imag,
        )  # fmt: skip
        due = runs(piece)
        if len(own) != len(due):
            findings.append(Disagreement("strip", f"the {piece.piece} has another number of"
                                         " stripes", piece=piece.piece, expected=str(len(due)),
                                         found=str(len(own))))  # fmt: skip
            continue
        findings += _compare_piece(page, stitches, piece, own, scale)
        shapes += own
        yarns += [yarn for yarn, _, _ in due]
    legend, wrong = compare_legend(page, stitches, texts)
    findings += wrong + _letters(page, texts, shapes, yarns)
    if is_hatched(page):
        drawn = strokes(page)
        yarns += [shape.tag("yarn") for shape in legend]
        for shape, yarn in zip((*shapes, *legend), yarns, strict=True):
            findings += compare_hatch(stitches, yarn, shape, drawn)
        findings += strays((*shapes, *legend), drawn)
    return findings


def _compare_piece(
    page: Page, stitches: StitchMap, piece: Piece, own: Sequence[Shape], scale: float
) -> list[Disagreement]:
    outline = outline_of(page, stitches, piece.piece)
    if not outline:
        return []
    foot, edge = box_of(outline).bottom, segments(outline)
    step = float(stitches.fabric.height) * scale
    if piece.piece == "cuff":
        step = cuff_depth(stitches, piece) / len(piece.counted) * scale
    findings: list[Disagreement] = []
    for shape, (yarn, first, last) in zip(own, runs(piece), strict=True):
        low, high = foot - (first - 1) * step, foot - last * step
        if max(abs(shape.box.bottom - low), abs(shape.box.top - high)) > EXACT:
            findings.append(
                found_at("strip", "a stripe does not stand where its rounds lie", shape,
                         f"{low:.2f} to {high:.2f} mm",
                         f"{shape.box.bottom:.2f} to {shape.box.top:.2f} mm")
            )  # fmt: skip
        span = str(first) if first == last else f"{first}-{last}"
        if shape.tag("round") != span:
            findings.append(found_at("tag", "a stripe is tagged as other rounds", shape, span,
                                     shape.tag("round")))  # fmt: skip
        findings += wrong_colour(page, stitches.colour(yarn), yarn, shape)
        levels = [foot - (n - 0.5) * step for n in range(first, last + 1)]
        findings += _reach(shape, edge, levels)
    return findings


def _reach(shape: Shape, edge: Sequence[Segment], levels: Sequence[float]) -> list[Disagreement]:
    """Where a stripe does not fill the outline, in the middle of a round."""
    lines = segments([shape])
    for level in levels:
        found, due = ends_at(lines, level), ends_at(edge, level)
        if found is None or due is None or max(
            abs(found[0] - due[0]), abs(found[1] - due[1])
        ) > 2 * EXACT:  # fmt: skip
            return [found_at("strip", "a stripe does not fill its outline", shape)]
    return []


def _letters(
    page: Page, texts: dict[int, str], shapes: Sequence[Shape], yarns: Sequence[str]
) -> list[Disagreement]:
    """Letters within stripes that are not those of their yarns."""
    findings = []
    for label in page.shapes:
        if label.tag("role") != "yarn":
            continue
        middle = label.box.centre
        under = {
            yarn
            for shape, yarn in zip(shapes, yarns, strict=True)
            if shape.box.top <= middle.imag <= shape.box.bottom
            and (cut := ends_at(segments([shape]), middle.imag)) is not None
            and cut[0] <= middle.real <= cut[1]
        }
        if under != {texts.get(label.order, "")}:
            findings.append(
                found_at("printed", "a letter stands in another yarn's stripe", label,
                         ", ".join(sorted(under)), texts.get(label.order, ""))
            )  # fmt: skip
    return findings
