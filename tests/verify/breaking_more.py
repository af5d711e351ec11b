"""Ways to spoil what is no stitch: labels, patches, guides, keys, outlines, the file itself."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from verify.breaking import SVG, Spoiler, centre, mapped, move, parent, paths, pick, points
from verify.pen import outline, symbol

from gussetry.stitchmap import Op

ROLES = ("round", "count", "sum", "yarn", "landmark", "measure")


def _label(root: Element, n: int, role: str = "") -> Element | None:
    roles = (role,) if role else ROLES
    found = [p for p in paths(root, data_says="") if p.get("data-role") in roles]
    return pick(found, n)


def _other(text: str) -> str:
    """A text in which one figure or letter has become another."""
    for i, letter in enumerate(text):
        if letter.isdigit():
            return text[:i] + ("6" if letter != "6" else "8") + text[i + 1 :]
    return ("B" if text[0] != "B" else "A") + text[1:]


def redraw(label: Element, text: str) -> None:
    at = points(label)
    tall = max(p.imag for p in at) - min(p.imag for p in at)
    wide = max(p.real for p in at) - min(p.real for p in at)
    turned = 90 if tall > wide and len(text) > 3 else 0
    x, y = min(p.real for p in at), max(p.imag for p in at)
    label.set("d", outline(text, x + (2 if turned else 0), y, turned=turned))


def print_another(root: Element, n: int) -> bool:
    """Another text is drawn, the claim stays."""
    label = _label(root, n)
    if label is not None:
        redraw(label, _other(label.get("data-says", "")))
    return label is not None


def claim_another(root: Element, n: int) -> bool:
    """Another text is claimed, the outline stays."""
    label = _label(root, n)
    if label is not None:
        label.set("data-says", _other(label.get("data-says", "")))
    return label is not None


def change_label(root: Element, n: int) -> bool:
    """Another text is drawn and claimed."""
    label = _label(root, n)
    if label is not None:
        text = _other(label.get("data-says", ""))
        redraw(label, text)
        label.set("data-says", text)
    return label is not None


def lose_contour(root: Element, n: int) -> bool:
    """A label loses its first contour; one of a single contour goes altogether."""
    label = _label(root, n, "count")
    if label is None:
        return False
    rest = mapped(label.get("d", ""), 0, 0).split("M")[2:]
    if rest:
        label.set("d", "M" + "M".join(rest))
    else:
        parent(root, label).remove(label)
    return True


def drop_label(root: Element, n: int) -> bool:
    found = [p for role in ("round", "count", "sum", "landmark", "measure", "yarn")
             for p in paths(root, data_role=role)
             if role != "round" or root.get("data-kind") != "stripes"]  # fmt: skip
    label = pick(found, n)
    if label is not None:
        parent(root, label).remove(label)
    return label is not None


def scrawl(root: Element, n: int) -> bool:
    """A label's outline is no letter."""
    label = _label(root, n)
    if label is not None:
        at = centre(label)
        label.set("d", f"M{at.real} {at.imag}l3 1l-1 3l-4 -2z")
    return label is not None


def label_to_other_row(root: Element, n: int) -> bool:
    found = [p for role in ("round", "count", "yarn") for p in paths(root, data_role=role)]
    label = pick(found, n)
    if label is None or root.get("data-kind") in ("crown", "stripes"):
        return False
    move(label, 0, 6)
    return True


def move_sum(root: Element, n: int) -> bool:
    """A sum of rounds moves down among the rows, with its yarn."""
    found = [p for p in paths(root, data_role="sum") if "–" in p.get("data-says", "")]
    label = pick(found, n)
    if label is None:
        return False
    for one in paths(root, data_round=label.get("data-round", "")):
        move(one, 0, 20)
    return True


def white_label(root: Element, n: int) -> bool:
    """White on the paper; a yarn's letter may stand on its colour."""
    found = [p for p in paths(root, data_says="") if p.get("data-role") in ROLES]
    label = pick([p for p in found if p.get("data-role") != "yarn"], n)
    if label is not None:
        label.set("fill", "#ffffff")
    return label is not None


def _patch(root: Element, n: int) -> Element | None:
    return pick(paths(root, data_role="colour") + paths(root, data_role="stripe"), n)


def recolour(root: Element, n: int) -> bool:
    patch = _patch(root, n)
    if patch is not None:
        patch.set("fill", "#123456")
    return patch is not None


def retag_yarn(root: Element, n: int) -> bool:
    patch = _patch(root, n)
    if patch is not None:
        patch.set("data-yarn", "C")
    return patch is not None


def drop_patch(root: Element, n: int) -> bool:
    patch = _patch(root, n)
    if patch is not None:
        parent(root, patch).remove(patch)
    return patch is not None


def shift_patch(root: Element, n: int) -> bool:
    patch = _patch(root, n)
    if patch is None or root.get("data-kind") == "crown":
        return False
    move(patch, 0, 6.5 if patch.get("data-role") == "colour" else 0.3)
    return True


def swap_bands(root: Element, n: int) -> bool:
    bands = paths(root, data_role="stripe", data_piece="hand")
    if not bands:
        return False
    one, other = bands[n % (len(bands) - 1) : n % (len(bands) - 1) + 2]
    way = centre(other) - centre(one)
    move(one, 0, way.imag)
    move(other, 0, -way.imag)
    return True


def stretch(wide: float, tall: float) -> Spoiler:
    def spoil(root: Element, n: int) -> bool:
        line = pick(paths(root, data_role="outline"), n)
        if line is None:
            return False
        here = centre(line)
        data = mapped(line.get("d", ""), here.real * (1 - wide), here.imag * (1 - tall), wide, tall)
        line.set("d", data)
        return True

    spoil.__name__ = f"stretch {wide} {tall}"
    return spoil


def move_landmark(root: Element, n: int) -> bool:
    found = [p for p in paths(root, data_role="landmark") if p.get("data-landmark") != "cuff"]
    label = pick(found, n)
    if label is not None:
        move(label, 0, 25)
    return label is not None


def drop_symbol(root: Element, n: int) -> bool:
    one = pick(paths(root, class_="symbol"), n)
    if one is not None:
        parent(root, one).remove(one)
    return one is not None


def retag_symbol(root: Element, n: int) -> bool:
    one = pick(paths(root, class_="symbol"), n)
    if one is not None:
        one.set("data-do", "hdc" if one.get("data-do") != "hdc" else "sc")
    return one is not None


def foreign_symbol(root: Element, n: int) -> bool:
    one = pick(paths(root, class_="symbol"), n)
    if one is None:
        return False
    extra = Element(SVG + "path", {"class": "symbol", "data-do": "dc2tog",
                                   "d": symbol(Op("dc2tog", loop="front"), 20 + 20j),
                                   "data-loop": "front"})  # fmt: skip
    parent(root, one).append(extra)
    return True


def _drop_role(role: str) -> Spoiler:
    def spoil(root: Element, n: int) -> bool:
        one = pick(paths(root, data_role=role), n)
        if one is None or (role == "marker" and root.get("data-kind") != "gusset"):
            return False
        parent(root, one).remove(one)
        return True

    spoil.__name__ = f"drop {role}"
    return spoil


def turn_arrow(root: Element, n: int) -> bool:
    """The line of direction runs the other way."""
    heads, lines = paths(root, data_role="arrow"), paths(root, data_role="direction")
    if not heads or not lines or root.get("data-kind") == "cuff":
        return False
    ends = points(lines[0])
    tip = centre(heads[0])
    far = max((ends[0], ends[-1]), key=lambda p: abs(p - tip)) - tip
    move(heads[0], far.real, far.imag)
    return True


def move_marker(root: Element, n: int) -> bool:
    one = pick(paths(root, data_role="marker"), n)
    if one is None or root.get("data-kind") != "gusset":
        return False
    move(one, 5, 0)
    return True


def move_lozenge(root: Element, n: int) -> bool:
    """A lozenge stands over the stitch beside."""
    one = pick(paths(root, data_role="marked"), n)
    if one is None:
        return False
    move(one, 6 if n % 2 else -6, 0)
    return True


def change_words(root: Element, n: int) -> bool:
    """A key's words name another stitch."""
    found = [p for p in paths(root, data_role="term")
             if set(p.get("data-says", "").replace(",", "").split()) & {"sc", "hdc", "dc"}
             and not p.get("data-piece")]  # fmt: skip
    label = pick(found, n)
    if label is None:
        return False
    text = label.get("data-says", "")
    text = text.replace("sc", "hdc") if "sc" in text else text.replace("dc", "sc")
    redraw(label, text)
    label.set("data-says", text)
    return True


def _root(name: str, value: str) -> Spoiler:
    def spoil(root: Element, n: int) -> bool:
        root.set(name, value)
        return True

    spoil.__name__ = f"root {name} {value}"
    return spoil


def _add(tag: str, **marks: str) -> Spoiler:
    def spoil(root: Element, n: int) -> bool:
        root.append(Element(SVG + tag, marks))
        return True

    spoil.__name__ = f"add {tag}"
    return spoil


def hide_by_sheet(root: Element, n: int) -> bool:
    """A style sheet takes one label's or stitch's paint away."""
    one = pick([p for p in root.iter(SVG + "path") if p.get("data-says") or p.get("data-do")], n)
    if one is None:
        return False
    one.set("class", f"{one.get('class', '')} gone")
    sheet = Element(SVG + "style")
    sheet.text = "/* of a program */ path.gone { fill: none; stroke: none !important }"
    root.insert(0, sheet)
    return True


REST: tuple[Spoiler, ...] = (
    print_another, claim_another, change_label, lose_contour, drop_label, scrawl,
    label_to_other_row, move_sum, white_label, recolour, retag_yarn, drop_patch, shift_patch,
    swap_bands,
    stretch(1.1, 1), stretch(0.92, 1), stretch(1, 1.1), stretch(1, 0.93), move_landmark,
    drop_symbol, retag_symbol, foreign_symbol,
    _drop_role("direction"), _drop_role("start"), _drop_role("marker"), turn_arrow, move_marker,
    _drop_role("marked"), _drop_role("joined"), move_lozenge,
    change_words,
    _root("data-kind", "poster"), _root("data-size", "XXL"), _root("data-mitten", "left"),
    _add("script"), _add("text"), _add("use", href="#a"), _add("image", href="a.png"),
    hide_by_sheet, _add("path", d="M0 0L5 5", transform="scale(2)"),
    _add("path", d="M0 0L5 5", onclick="x()"), _add("path", d="M0 0L1e9 5"),
    _add("path", d="M0 0Lnan 5"), _add("rect", width="3", height="3"),
    _add("path", d="M0 0L5 5", fill="url(#a)"),
)  # fmt: skip
