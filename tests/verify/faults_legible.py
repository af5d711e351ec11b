"""Ways to make a drawing harder to read. Each spoils the root of a sound drawing in place."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from xml.etree.ElementTree import Element, SubElement

from verify.breaking import SVG, centre, mapped, move, parent, paths, points

Fault = Callable[[Element], None]


def _says(root: Element, role: str) -> list[Element]:
    return [p for p in paths(root, data_role=role) if "data-says" in p.attrib]


def _to(path: Element, place: complex) -> None:
    way = place - centre(path)
    move(path, way.real, way.imag)


def _add(root: Element, data: str, **marks: str) -> Element:
    """A path painted last."""
    named = {name.rstrip("_").replace("_", "-"): value for name, value in marks.items()}
    return SubElement(root, SVG + "path", {"d": data, "fill": "none", **named})


def _under(root: Element, data: str, fill: str) -> None:
    """A patch painted first of all but the paper."""
    paper = paths(root, data_role="paper")[0]
    patch = Element(SVG + "path", {"d": data, "fill": fill, "data-role": "ground"})
    parent(root, paper).insert(1, patch)


def _box(place: complex, half: float, reach: float | None = None) -> str:
    wide = half if reach is None else reach
    x, y = place.real, place.imag
    return f"M{x - wide} {y - half}H{x + wide}V{y + half}H{x - wide}Z"


def _scaled(path: Element, share: float) -> None:
    place = centre(path)
    way = place * (1 - share)
    path.set("d", mapped(path.get("d", ""), way.real, way.imag, share, share))


def _stitches(root: Element) -> list[Element]:
    return paths(root, class_="stitch")


def _strokes(root: Element) -> list[Element]:
    """Everything that may carry a pen: groups and paths."""
    return [e for e in root.iter() if "stroke-width" in e.attrib]


# --- what touches -----------------------------------------------------------------------------


def label_on_stitch(root: Element) -> None:
    _to(_says(root, "round")[2], centre(_stitches(root)[3]))


def label_beside_stitch(root: Element) -> None:
    """A label nearer to a stitch than it may be, without touching it."""
    label, stitch = _says(root, "round")[2], _stitches(root)[-1]
    right, left = max(p.real for p in points(stitch)), min(p.real for p in points(label))
    move(label, right + 0.35 - left, centre(stitch).imag - centre(label).imag)


def label_on_label(root: Element) -> None:
    first, second = _says(root, "note")[:2]
    _to(second, centre(first))


def line_of_text_too_close(root: Element) -> None:
    first, second = _says(root, "note")[:2]
    way = min(p.imag for p in points(second)) - max(p.imag for p in points(first))
    move(second, 0, -0.5 - way)


def stitch_pushed(root: Element) -> None:
    first, second = _stitches(root)[:2]
    way = centre(second) - centre(first)
    move(first, way.real * 0.45, way.imag * 0.45)


def stitches_stacked(root: Element) -> None:
    first, second = _stitches(root)[:2]
    _to(first, centre(second))


def heavy_pen(root: Element) -> None:
    for stitch in _stitches(root)[:3]:
        stitch.set("stroke-width", "2")


def growth_through_stitch(root: Element) -> None:
    place = centre(_stitches(root)[5])
    _add(root, f"M{place.real - 3} {place.imag - 2.5}L{place.real + 2} {place.imag + 3}",
         data_role="growth", stroke="#5c564e", stroke_width="0.18")  # fmt: skip


def marker_too_long(root: Element) -> None:
    marker = paths(root, data_role="marker")[0]
    marker.set("d", mapped(marker.get("d", ""), 0, 1.4))


def head_of_arrow_on_stitch(root: Element) -> None:
    _to(paths(root, data_role="arrow")[0], centre(_stitches(root)[0]))


def dimension_through_measure(root: Element) -> None:
    place = centre(_says(root, "measure")[0])
    _add(root, f"M{place.real - 9} {place.imag}H{place.real + 9}", data_role="dimension",
         stroke="#5c564e", stroke_width="0.18")  # fmt: skip


def measure_sunk_to_its_line(root: Element) -> None:
    """The label set so low that it stands on its dimension line."""
    for label in _says(root, "measure"):
        box = points(label)
        floor = max(p.imag for p in box)
        below = [
            min(p.imag for p in points(line))
            for line in paths(root, data_role="dimension")
            if max(p.imag for p in points(line)) - min(p.imag for p in points(line)) < 0.1
            and min(p.real for p in points(line)) < centre(label).real
            and max(p.real for p in points(line)) > centre(label).real
            and 0 < min(p.imag for p in points(line)) - floor < 4
        ]
        if below:
            move(label, 0, min(below) - floor)
            return
    raise AssertionError("no measure stands over a level line")


def outline_through_letters(root: Element) -> None:
    place = centre(_says(root, "measure")[-1])
    outline = paths(root, data_role="outline")[0]
    outline.set("d", f"M{place.real} {place.imag - 20}V{place.imag + 20}")


def hatch_through_letter(root: Element) -> None:
    hatch = paths(root, data_role="hatch")[0]
    _to(hatch, centre(_says(root, "landmark")[1]))


def letter_across_edge(root: Element) -> None:
    letter = _says(root, "yarn")[1]
    chip = paths(root, data_role="colour")[1]
    move(letter, max(p.real for p in points(chip)) - centre(letter).real, 0)


def letter_off_chip(root: Element) -> None:
    letter = _says(root, "yarn")[0]
    x = max(p.real for p in points(paths(root, data_role="colour")[0]))
    move(letter, x + 0.4 - min(p.real for p in points(letter)), 0)


def measure_under_its_line(root: Element) -> None:
    """The measure where the name of what is measured stands: below the line."""
    label = _says(root, "measure")[0]
    box = points(label)
    tall = max(p.imag for p in box) - min(p.imag for p in box)
    move(label, 0, 2 * tall)


def symbol_run_together(root: Element) -> None:
    decrease = paths(root, class_="stitch", data_do="inc")[0]
    decrease.set("d", mapped(decrease.get("d", ""), 20, 20, 0.3, 0.3))
    _to(decrease, 14 + 170j)


# --- the page ---------------------------------------------------------------------------------


def label_at_the_edge(root: Element) -> None:
    label = _says(root, "title")[0]
    move(label, 0, 0.5 - min(p.imag for p in points(label)))


def label_over_the_edge(root: Element) -> None:
    label = _says(root, "title")[0]
    move(label, 0, -0.5 - min(p.imag for p in points(label)))


def stitch_off_page(root: Element) -> None:
    move(_stitches(root)[4], -500, 0)


def pen_over_the_edge(root: Element) -> None:
    _add(root, "M5 0.05H20", data_role="rule", stroke="#1f1d1a", stroke_width="0.25")


# --- pens and sizes ---------------------------------------------------------------------------


def hair_thin(root: Element) -> None:
    _stitches(root)[2].set("stroke-width", "0.05")


def pen_of_no_series(root: Element) -> None:
    _stitches(root)[2].set("stroke-width", "0.3")


def one_pen_for_all(root: Element) -> None:
    for element in _strokes(root):
        element.set("stroke-width", "0.25")


def one_step_between_pens(root: Element) -> None:
    for element in _strokes(root):
        element.set("stroke-width", "0.35" if element.get("class") else "0.25")


def shrunk_label(root: Element) -> None:
    _scaled(_says(root, "count")[1], 0.6)


def shrunk_drawing(root: Element) -> None:
    for stitch in _stitches(root):
        stitch.set("d", mapped(stitch.get("d", ""), 10, 10, 0.4, 0.4))


# --- inks and grounds -------------------------------------------------------------------------


def grey_text(root: Element) -> None:
    _says(root, "note")[0].set("fill", "#999999")


def grey_on_grey(root: Element) -> None:
    label = _says(root, "note")[0]
    label.set("fill", "#666666")
    _under(root, _box(centre(label), 4, 90), "#b0b0b0")


def dark_letter_on_dark_chip(root: Element) -> None:
    for letter, chip in zip(_says(root, "yarn"), paths(root, data_role="colour"), strict=True):
        chip.set("fill", "#303030")
        letter.set("fill", "#1f1d1a")


def half_a_word_on_its_own_ink(root: Element) -> None:
    """A dark ground under a label's last letters: its middle is still on white."""
    label = _says(root, "note")[0]
    right = max(p.real for p in points(label))
    _under(root, _box(complex(right, centre(label).imag), 4, 8), "#333333")


def grey_stitch(root: Element) -> None:
    _stitches(root)[3].set("stroke", "#aaaaaa")


def stitch_on_its_own_ink(root: Element) -> None:
    _under(root, _box(centre(_stitches(root)[3]), 2.2), "#444444")


def grey_line(root: Element) -> None:
    paths(root, data_role="marker")[0].set("stroke", "#cccccc")


def patch_over_label(root: Element) -> None:
    label = _says(root, "note")[0]
    right = max(p.real for p in points(label))
    _add(root, _box(complex(right, centre(label).imag), 3, 2), data_role="colour",
         fill="#ffffff")  # fmt: skip


def patch_over_stitch(root: Element) -> None:
    place = centre(_stitches(root)[3])
    _add(root, _box(place + 1, 0.6), data_role="colour", fill="#ffffff")


# --- stripes ----------------------------------------------------------------------------------


def stripes_without_letters(root: Element) -> None:
    """Two neighbouring yarns of one colour, and the letters beside them gone."""
    for stripe in paths(root, data_role="stripe"):
        stripe.set("fill", "#8a7f6a")
    for letter in _says(root, "yarn"):
        parent(root, letter).remove(letter)


def stripes_without_edges(root: Element) -> None:
    for stripe in paths(root, data_role="stripe"):
        stripe.set("fill", "#8a7f6a")
        stripe.set("stroke", "none")


def stripes_alike_in_grey(root: Element) -> None:
    """Two yarns of one luminance: told apart in colour, not in a copy."""
    colours = {"A": "#8a7f6a", "B": "#a07090", "C": "#ffffff"}
    for stripe in paths(root, data_role="stripe"):
        stripe.set("fill", colours[stripe.get("data-yarn", "")])
        stripe.set("stroke", "none")


def chips_with_one_letter(root: Element) -> None:
    letters = _says(root, "yarn")
    for chip in paths(root, data_role="colour"):
        chip.set("fill", "#8a7f6a")
    for letter in letters:
        letter.set("data-says", "A")


def hatches_alike(root: Element) -> None:
    for hatch in paths(root, data_role="hatch"):
        parent(root, hatch).remove(hatch)


def hatch_lost(root: Element) -> None:
    """The strokes of one stripe gone, so that it looks like the one beside it."""
    first, second = next(
        (a, b)
        for a, b in pairwise(paths(root, data_role="stripe"))
        if "A" in (a.get("data-yarn"), b.get("data-yarn"))
        and a.get("data-yarn") != b.get("data-yarn")
    )
    for stripe in (first, second):
        ys = [p.imag for p in points(stripe)]
        for hatch in paths(root, data_role="hatch"):
            if min(ys) - 0.1 <= centre(hatch).imag <= max(ys) + 0.1:
                parent(root, hatch).remove(hatch)


def chips_without_edges(root: Element) -> None:
    """Chips of the paper's colour with no outline."""
    for chip in paths(root, data_role="colour"):
        chip.set("fill", "#f4f4f4")
        chip.set("stroke", "none")
    for letter in _says(root, "yarn"):
        letter.set("fill", "#000000")


def stripes_with_faint_edges(root: Element) -> None:
    for stripe in paths(root, data_role="stripe"):
        stripe.set("fill", "#fbfbfb")
        stripe.set("stroke", "#dddddd")


CHART: dict[Fault, str] = {
    label_on_stitch: "text-on-glyph",
    label_beside_stitch: "text-on-glyph",
    label_on_label: "text-on-text",
    line_of_text_too_close: "text-on-text",
    stitch_pushed: "glyph-on-glyph",
    stitches_stacked: "glyph-on-glyph",
    heavy_pen: "glyph-on-glyph",
    growth_through_stitch: "line-on-glyph",
    marker_too_long: "line-on-glyph",
    head_of_arrow_on_stitch: "line-on-glyph",
    letter_across_edge: "text-on-edge",
    letter_off_chip: "letter-off-chip",
    label_at_the_edge: "text-at-margin",
    label_over_the_edge: "off-page",
    stitch_off_page: "off-page",
    pen_over_the_edge: "off-page",
    hair_thin: "pen-thin",
    pen_of_no_series: "pen-unknown",
    one_pen_for_all: "pens-alike",
    one_step_between_pens: "pens-alike",
    shrunk_label: "text-small",
    shrunk_drawing: "stitch-small",
    grey_text: "text-faint",
    grey_on_grey: "text-faint",
    dark_letter_on_dark_chip: "text-faint",
    half_a_word_on_its_own_ink: "text-faint",
    grey_stitch: "glyph-faint",
    stitch_on_its_own_ink: "glyph-faint",
    grey_line: "line-faint",
    patch_over_label: "covered",
    patch_over_stitch: "covered",
    chips_with_one_letter: "stripes-alike",
    chips_without_edges: "patch-lost",
    symbol_run_together: "glyph-clogged",
}
SCHEMATIC: dict[Fault, str] = {
    dimension_through_measure: "line-on-text",
    measure_sunk_to_its_line: "line-on-text",
    outline_through_letters: "line-on-text",
    measure_under_its_line: "measure-astray",
}
STRIPES: dict[Fault, str] = {
    stripes_without_letters: "stripes-alike",
    stripes_without_edges: "stripes-alike",
    stripes_alike_in_grey: "stripes-alike",
    stripes_with_faint_edges: "patch-lost",
}
HATCHED: dict[Fault, str] = {
    hatch_through_letter: "line-on-text",
    hatches_alike: "hatches-alike",
    hatch_lost: "hatches-alike",
}
