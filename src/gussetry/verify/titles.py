"""What a drawing says of itself as a whole: its title, its scale, and symbols of one size."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import pairwise
from statistics import median

from gussetry.verify.charts import Sheet
from gussetry.verify.findings import Asked, Disagreement
from gussetry.verify.font import glyphs_of
from gussetry.verify.heights import scale_of
from gussetry.verify.labels import found_at
from gussetry.verify.paths import flattened
from gussetry.verify.svg import Page, Shape

_SCALE = re.compile(r"scale (\d{1,3}(?:\.\d{1,3})?) : (\d{1,3}(?:\.\d{1,3})?)")
_EXACT = 0.005
"""How far a scale in print may be from the drawing's, over it: it is printed in three digits."""
_SMALL, _LARGE = 0.75, 1.33
"""How long a symbol's strokes may be over those of its kind: all of a chart are drawn alike
(measured over all examples: 0.89 to 1.01)."""


def _as_printed(text: str) -> str:
    """The text as letters of the font: what this has not is printed as `?`."""
    return "".join(one if glyphs_of("Regular", one) else "?" for one in text)


def _named(page: Page, asked: Asked) -> str:
    """The pattern of what a title may say after its pattern: `crown, size M`."""
    sizes = list(dict.fromkeys(stitches.size for stitches in asked.maps))
    if asked.kind == "key":
        return r"[^:]+"
    first, *others = (re.escape(_as_printed(size)) for size in sizes)
    listed = rf"sizes {first} \({', '.join(others)}\)|sizes {' / '.join((first, *others))}"
    which = listed if others else rf"size {first}"
    mitten = page.tag("mitten")
    side = rf"(?:, {mitten} mitten)?" if mitten in ("left", "right") else ""
    hand = ", left-handed" if asked.hand == "left" else ""
    sheets = rf" \(sheet {page.tag('sheet')} of {page.tag('of')}\)" if page.tag("of") else ""
    return rf"[^:]+?, (?:{which}){side}{sheets}{hand}"


def compare_title(page: Page, asked: Asked, texts: dict[int, str]) -> list[Disagreement]:
    """The title in print, where there is one: it names the pattern, the sizes, mitten, hand and
    sheet; and the file's own, which says the same."""
    labels = [shape for shape in page.shapes if shape.tag("role") == "title"]
    if not labels:
        return []
    labels.sort(key=lambda shape: shape.box.centre.imag)
    printed = " ".join(texts.get(shape.order, "") for shape in labels)
    pattern = asked.maps[0].pattern
    due = " / ".join(dict.fromkeys(stitches.size for stitches in asked.maps))
    findings = []
    if not re.fullmatch(rf"{re.escape(_as_printed(pattern))}: {_named(page, asked)}", printed):
        findings.append(found_at("title", "the title names another pattern or size", labels[0],
                                 f"{pattern}, {due}", printed))  # fmt: skip
    if page.title and _as_printed(page.title) != printed:
        findings.append(Disagreement("title", "the file's own title is not the one in print",
                                     expected=printed, found=page.title))  # fmt: skip
    return findings


def compare_scale(page: Page, texts: dict[int, str]) -> list[Disagreement]:
    """The scale in print: `scale 3 : 4` where three millimetres of paper are four of the mitten."""
    true = scale_of(page)
    findings = []
    for shape in page.shapes:
        if shape.tag("role") != "scale" or true is None:
            continue
        said = _SCALE.fullmatch(texts.get(shape.order, ""))
        if not said or abs(float(said[2]) * true - float(said[1])) > _EXACT * float(said[1]):
            findings.append(found_at("scale", "the scale in print is not the drawing's", shape,
                                     f"scale 1 : {1 / true:g}",
                                     texts.get(shape.order, "")))  # fmt: skip
    return findings


def compare_drawn_sizes(sheet: Sheet) -> list[Disagreement]:
    """Stitches drawn smaller or larger than the others of their kind, and than the key's symbol."""
    key = (shape for shape in sheet.page.shapes if "symbol" in shape.classes)
    kinds: dict[tuple[str, int], list[tuple[float, Shape]]] = {}
    for shape in (*sheet.stitches, *key):
        kinds.setdefault((shape.tag("do"), len(shape.subs)), []).append((_ink(shape), shape))
    return list(_unlike(kinds.values()))


def _unlike(kinds: Iterable[list[tuple[float, Shape]]]) -> Iterator[Disagreement]:
    for own in kinds:
        usual = median(ink for ink, _ in own)
        for ink, shape in own:
            if "stitch" in shape.classes and not _SMALL * usual <= ink <= _LARGE * usual:
                yield found_at("shape", "a stitch is drawn in another size than its like", shape,
                               "1.00", f"{ink / usual:.2f}" if usual else "")  # fmt: skip


def _ink(shape: Shape) -> float:
    """The length of a shape's strokes, mm: the same however it is turned."""
    ways = [flattened(sub) for sub in shape.subs]
    return sum(abs(b - a) for way in ways for a, b in pairwise(way))
