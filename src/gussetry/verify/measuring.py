"""Dimension lines of a schematic: each as long as what it measures, from where it begins."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from gussetry.stitchmap import StitchMap
from gussetry.verify.findings import Disagreement
from gussetry.verify.heights import EXACT, heights
from gussetry.verify.labels import found_at
from gussetry.verify.outlines import box_of, ends_at, outline_of, segments
from gussetry.verify.paths import flattened
from gussetry.verify.svg import Page, Shape

_BESIDE = 4.0
"""From a measure or a letter to its dimension line, mm at most."""
_COLUMN = 3.0
"""Letters of one column of a list begin nearer to one line than this, mm: they are narrower."""
_TOUCH = 0.005  # mm: an arrowhead's tip is on the end of its line


def _lines(page: Page, name: str) -> list[Shape]:
    return [s for s in page.shapes if s.tag("role") == "dimension" and s.tag("measure") == name]


def _tips(page: Page) -> list[complex]:
    """The points of all arrowheads: of their three corners the one that the others are as far
    from."""
    found = []
    for shape in page.shapes:
        if shape.tag("role") != "arrow":
            continue
        for sub in shape.subs:
            corners = flattened(sub)[:3]
            if len(corners) == 3:
                a, b, c = corners
                options = ((abs(abs(a - b) - abs(a - c)), a), (abs(abs(b - a) - abs(b - c)), b),
                           (abs(abs(c - a) - abs(c - b)), c))  # fmt: skip
                found.append(min(options, key=lambda option: option[0])[1])
    return found


def _spanned(page: Page, name: str, tips: Sequence[complex]) -> list[complex]:
    """The arrowheads' points at the ends of a measure's lines, each once."""
    ends = [
        end
        for shape in _lines(page, name)
        for sub in shape.subs
        for end in (flattened(sub)[0], flattened(sub)[-1])
    ]
    found: list[complex] = []
    for tip in tips:
        here = any(abs(tip - end) <= _TOUCH for end in ends)
        if here and all(abs(tip - other) > _TOUCH for other in found):
            found.append(tip)
    return found


def compare_dimensions(
    page: Page, stitches: StitchMap, wanted: Mapping[str, Fraction], scale: float
) -> list[Disagreement]:
    """Every measure's line held against the outlines of the size that it shows, and its text or
    letter found beside it."""
    tips = _tips(page)
    places = _places(page, stitches, scale)
    findings: list[Disagreement] = []
    for name, value in wanted.items():
        found = _spanned(page, name, tips)
        if len(found) != 2:
            findings.append(Disagreement("dimension", f"the {name} has no line with two heads",
                                         found=str(len(found))))  # fmt: skip
            continue
        around = name.endswith("circumference")
        long = float(value) * scale / (2 if around else 1)
        across = [tip.real if around else tip.imag for tip in found]
        crooked = [tip.imag if around else tip.real for tip in found]
        low, high = min(across), max(across)
        if abs(high - low - long) > EXACT or abs(crooked[0] - crooked[1]) > EXACT:
            findings.append(_differs(f"the line of the {name} is not as long as it", found[0],
                                     long, high - low))  # fmt: skip
        elif (due := places.get(name)) is not None and abs(low - due) > EXACT:
            findings.append(_differs(f"the line of the {name} begins elsewhere", found[0],
                                     due, low))  # fmt: skip
        elif name == "thumb circumference" and not _on_thumb(page, stitches, found):
            findings.append(Disagreement("dimension", f"the line of the {name} is not at it"))
        findings += _unlabelled(page, name)
    return findings


def _places(page: Page, stitches: StitchMap, scale: float) -> dict[str, float]:
    """Where each measure's line begins: the least x of a level one, the least y of an upright."""
    hand = outline_of(page, stitches, "hand")
    marks = heights(stitches)
    if not hand or not marks:
        return {}
    box = box_of(hand)
    tip = box.top
    piece = stitches.piece("hand")
    divided = marks.get("division")
    found = {"hand length": tip, "total length": tip, "cuff depth": box.bottom}
    if divided is not None:
        found["crook height"] = box.bottom - divided.above * scale
        thumb = outline_of(page, stitches, "thumb")
        if thumb:
            found["thumb length"] = box_of(thumb).top
    cuff = outline_of(page, stitches, "cuff")
    if cuff:
        found["cuff circumference"] = box_of(cuff).left
    if divided is not None and piece is not None:
        # Just above the ledge the hand is as wide as it is measured.
        cut = ends_at(segments(hand), found["crook height"] - EXACT / 10)
        if cut:
            found["hand circumference"] = cut[0]
    return found


def _on_thumb(page: Page, stitches: StitchMap, found: Sequence[complex]) -> bool:
    cut = ends_at(segments(outline_of(page, stitches, "thumb")), found[0].imag)
    ends = sorted(tip.real for tip in found)
    return cut is not None and all(abs(a - b) <= 2 * EXACT for a, b in zip(ends, cut, strict=True))


def _unlabelled(page: Page, name: str) -> list[Disagreement]:
    """A measure whose line has neither its text nor its letter beside it."""
    said = [
        s.box
        for s in page.shapes
        if s.tag("role") in ("measure", "letter") and s.tag("measure") == name
    ]
    for line in _lines(page, name):
        for a, b in segments([line]):
            left, right = sorted((a.real, b.real))
            high, low = sorted((a.imag, b.imag))
            if any(
                box.left - _BESIDE <= right and left <= box.right + _BESIDE
                and box.top - _BESIDE <= low and high <= box.bottom + _BESIDE
                for box in said
            ):  # fmt: skip
                return []
    return [Disagreement("dimension", f"nothing beside its line says the {name}")]


def _down_columns(entries: Sequence[Shape]) -> list[str]:
    """The measures whose entries these are, down one column of the list after the other."""
    found: list[list[Shape]] = []
    for shape in sorted(entries, key=lambda s: s.box.left):
        if not found or shape.box.left - found[-1][-1].box.left > _COLUMN:
            found.append([])
        found[-1].append(shape)
    return [
        shape.tag("measure")
        for column in found
        for shape in sorted(column, key=lambda s: s.box.centre.imag)
    ]


def compare_letters(page: Page, texts: dict[int, str]) -> list[Disagreement]:
    """Where lines carry letters: each measure's at its line and before it in the list, the letters
    from a on in the list's order."""
    letters = [s for s in page.shapes if s.tag("role") == "letter"]
    if not letters:
        return []
    measures = {s.tag("measure") for s in page.shapes if s.tag("role") == "measure"}
    # The list's letters stand before the measures' names, the others at the lines.
    listed = {
        name: min(
            own, key=lambda s: abs(s.box.centre - complex(term.box.left, term.box.centre.imag))
        )
        for term in page.shapes
        if term.tag("role") == "term" and (name := texts.get(term.order, "")) in measures
        if (own := [s for s in letters if s.tag("measure") == name])
    }
    order = _down_columns(list(listed.values()))
    findings = []
    for i, name in enumerate(order):
        own = sorted((s for s in letters if s.tag("measure") == name),
                     key=lambda s: s.box.centre.imag)  # fmt: skip
        due = chr(ord("a") + i)
        if len(own) != 2:
            findings.append(Disagreement("measure", f"the {name} has not its letter twice",
                                         expected="2", found=str(len(own))))  # fmt: skip
        findings += [
            found_at("measure", f"the letter of the {name} is wrong", s, due, texts[s.order])
            for s in own
            if texts.get(s.order) != due
        ]
    strange = [s for s in letters if s.tag("measure") not in measures]
    return findings + [found_at("measure", "a letter stands for no measure", s) for s in strange]


def _differs(message: str, at: complex, wanted: float, found: float) -> Disagreement:
    return Disagreement(
        "dimension", message, at=(round(at.real, 2), round(at.imag, 2)),
        expected=f"{wanted:.3f} mm", found=f"{found:.3f} mm",
    )  # fmt: skip
