"""Stripes laid into a schematic: each yarn's rounds an area of the outline, in order."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain

from gussetry.stitchmap import Piece, StitchMap
from gussetry.verify.beside import wrong_colour
from gussetry.verify.findings import Disagreement
from gussetry.verify.hatching import compare_hatch, is_hatched, over_it, strays, strokes
from gussetry.verify.heights import EXACT, cuff_depth
from gussetry.verify.labels import found_at
from gussetry.verify.levels import in_lines
from gussetry.verify.outlines import Segment, box_of, ends_at, outline_of, segments
from gussetry.verify.paths import Box
from gussetry.verify.strip import compare_legend
from gussetry.verify.svg import Page, Shape
from gussetry.verify.upright import Run, Upright, block, in_front, must_be_upright, runs


def due_stripes(
    stitches: StitchMap, piece: Piece, scale: float, *, hatched: bool
) -> list[Run] | list[Upright]:
    """The stripes of a piece from its foot up; those of a cuff in turned rows side by side, from
    the left, or where they must not be, one."""
    if piece.worked != "rows":
        return runs(piece)
    rib = stitches.rib or stitches.fabric
    if must_be_upright(stitches, piece, float(rib.height) * scale, hatched=hatched):
        return in_front(stitches, piece)
    return [block(piece)]


def compare_laid(
    page: Page, stitches: StitchMap, texts: dict[int, str], scale: float
) -> list[Disagreement]:
    """Every stripe of every piece: its place and reach within the outline, yarn, colour, hatch;
    the letters within; and the legend."""
    findings, shapes, yarns = [], [], []
    if page.tag("stripes") != "yes":
        findings.append(Disagreement("root", "the drawing does not say that it shows stripes"))
    for piece in stitches.pieces:
        due = due_stripes(stitches, piece, scale, hatched=is_hatched(page))
        stripes = (s for s in page.shapes
                   if s.tag("role") == "stripe" and s.tag("piece") == piece.piece)  # fmt: skip
        own = list(chain.from_iterable(in_lines(stripes, EXACT)[::-1]))
        if len(own) != len(due):
            findings.append(Disagreement("strip", f"the {piece.piece} has another number of"
                                         " stripes", piece=piece.piece, expected=str(len(due)),
                                         found=str(len(own))))  # fmt: skip
            continue
        found = [one.run if isinstance(one, Upright) else one for one in due]
        findings += _tagged(page, stitches, own, found)
        findings += _compare_piece(page, stitches, piece, list(zip(own, due, strict=True)), scale)
        shapes += own
        yarns += [run.yarn for run in found]
    legend, wrong = compare_legend(page, stitches, texts)
    findings += wrong + _letters(page, texts, shapes, yarns)
    if is_hatched(page):
        drawn = strokes(page)
        yarns += [shape.tag("yarn") for shape in legend]
        for shape, yarn in zip((*shapes, *legend), yarns, strict=True):
            findings += compare_hatch(stitches, yarn, shape, drawn, over_it(shape, shapes))
        findings += strays((*shapes, *legend), drawn)
    return findings


def _tagged(
    page: Page, stitches: StitchMap, own: Sequence[Shape], due: Sequence[Run]
) -> list[Disagreement]:
    """Stripes that are tagged as other rounds, or have another yarn's colour."""
    findings: list[Disagreement] = []
    for shape, run in zip(own, due, strict=True):
        if shape.tag("round") != run.rounds:
            findings.append(found_at("tag", "a stripe is tagged as other rounds", shape,
                                     run.rounds, shape.tag("round")))  # fmt: skip
        findings += wrong_colour(page, stitches.colour(run.yarn), run.yarn, shape)
    return findings


def _compare_piece(
    page: Page,
    stitches: StitchMap,
    piece: Piece,
    own: Sequence[tuple[Shape, Run | Upright]],
    scale: float,
) -> list[Disagreement]:
    """Stripes that do not stand where their rounds lie, or do not fill the outline there."""
    outline = outline_of(page, stitches, piece.piece)
    if not outline:
        return []
    box, edge = box_of(outline), segments(outline)
    step = float(stitches.fabric.height) * scale
    if piece.piece == "cuff":
        step = cuff_depth(stitches, piece) / len(piece.counted) * scale
    findings: list[Disagreement] = []
    for shape, due in own:
        if isinstance(due, Upright):
            wide = box.right - box.left
            left, right = box.left + due.begin * wide, box.left + due.end * wide
            findings += _stands(shape, Box(left, box.top, right, box.bottom))
            continue
        low, high = box.bottom - (due.first - 1) * step, box.bottom - due.last * step
        findings += _stands(shape, Box(shape.box.left, high, shape.box.right, low))
        levels = [box.bottom - (n - 0.5) * step for n in range(due.first, due.last + 1)]
        findings += _reach(shape, edge, levels)
    return findings


def _stands(shape: Shape, due: Box) -> list[Disagreement]:
    """A stripe that does not stand where its rounds lie."""
    if max(abs(a - b) for a, b in zip(shape.box, due, strict=True)) <= EXACT:
        return []
    return [
        found_at("strip", "a stripe does not stand where its rounds lie", shape,
                 _told(due), _told(shape.box))
    ]  # fmt: skip


def _told(box: Box) -> str:
    return f"{box.left:.2f} to {box.right:.2f} mm, {box.bottom:.2f} to {box.top:.2f} mm"


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
