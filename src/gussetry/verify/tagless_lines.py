"""Dimension lines of a schematic without tags: which line belongs to which measure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from gussetry.verify.paths import Box, flattened
from gussetry.verify.svg import Shape
from gussetry.verify.tagless_parts import Parts, corners, ends

_ON = 0.02  # mm: an arrowhead's tip is on the end of its line, a line's end on another line
_BREAK = 2.5  # mm: a line is broken over no more
_NEAR = 1.6  # mm from the end of a leader to the name that it leads to


def tag_lines(
    parts: Parts, outlines: Sequence[Shape], named: Mapping[str, Sequence[Shape]]
) -> None:
    """Roles of all lines; those with arrowheads belong to the measure whose words are nearest."""
    names = [label for label in parts.labels if _is_name(parts, label)]
    for line in parts.lines:
        if not parts.role(line) and any(_leads(line, label) for label in names):
            parts.tag(line, role="rule")
    free = [line for line in parts.lines if not parts.role(line)]
    groups = _groups(free, parts.arrows)
    beams = {line.order for group in groups for line in group}
    rest = [line for line in free if line.order not in beams]
    shoulders = [_reached(group, rest) for group in groups]
    near = sorted(
        (_nearness(group, own, labels), name, place)
        for place, (group, own) in enumerate(zip(groups, shoulders, strict=True))
        for name, labels in named.items()
    )
    seen: set[str] = set()
    done: set[int] = set()
    for (away, _), name, place in near:
        if name in seen or place in done or away > 8:
            continue
        seen.add(name)
        done.add(place)
        for line in (*groups[place], *_under(shoulders[place], named[name])):
            parts.tag(line, measure=name)
    for line in free:
        told = "data-measure" in parts.marks.get(line.order, {}) or line.order in beams
        within = any(_inside(line, outline.box) for outline in outlines)
        parts.tag(line, role="dimension" if told else "rib" if within else "projection")


def _is_name(parts: Parts, label: Shape) -> bool:
    return parts.role(label) == "term" and "data-size" in parts.marks[label.order]


def _leads(line: Shape, label: Shape) -> bool:
    """Whether one end of a line stands right beside the label."""
    box = label.box
    return any(
        (abs(end.real - box.left) < _NEAR or abs(end.real - box.right) < _NEAR)
        and box.top <= end.imag <= box.bottom
        for end in ends(line)
    )


def _tips(arrow: Shape) -> list[complex]:
    """The points of an arrowhead's triangles: of three corners the one as far from the others."""
    found = []
    for sub in arrow.subs:
        a, b, c = corners(sub)
        options = (
            (abs(abs(a - b) - abs(a - c)), a),
            (abs(abs(b - a) - abs(b - c)), b),
            (abs(abs(c - a) - abs(c - b)), c),
        )
        found.append(min(options, key=lambda option: option[0])[1])
    return found


def _groups(lines: Sequence[Shape], arrows: Sequence[Shape]) -> list[list[Shape]]:
    """Lines of one dimension: those at the heads of one arrow, or at two heads on one level that
    point at each other from outside."""
    found: list[tuple[list[complex], list[Shape]]] = []
    for arrow in arrows:
        tips = _tips(arrow)
        own = [s for s in lines if any(abs(e - tip) < _ON for e in ends(s) for tip in tips)]
        if not own:
            continue
        beside = next(
            (one for one in found
             if len(one[0]) == len(tips) == 1 and abs((one[0][0] - tips[0]).imag) < _ON),
            None,
        )  # fmt: skip
        if beside is not None:
            beside[1].extend(line for line in own if line not in beside[1])
        else:
            found.append((tips, own))
    return [group for _, group in found]


def _reached(group: Sequence[Shape], rest: Sequence[Shape]) -> list[Shape]:
    """Lines that go on from those of a dimension: an end on one of them, or in line with it over a
    break."""
    found: list[Shape] = []
    for _ in range(3):
        known = {line.order for line in found}
        new = [
            line
            for line in rest
            if line.order not in known
            and (
                any(_on(line, one) or _in_line(line, one) for one in group)
                or any(_on(line, one) for one in found)
            )
        ]
        if not new:
            break
        found += new
    return found


def _in_line(one: Shape, other: Shape) -> bool:
    """Whether two straight lines are pieces of a broken one."""
    a, b = ends(one)[:2]
    c, d = ends(other)[:2]
    if len(one.subs[0].points) > 1 or len(other.subs[0].points) > 1:
        return False
    level = max(abs((p - c).imag) for p in (a, b, d)) < _ON
    upright = max(abs((p - c).real) for p in (a, b, d)) < _ON
    near = min(abs(p - q) for p in (a, b) for q in (c, d)) < _BREAK
    return near and (level or upright)


def _on(one: Shape, other: Shape) -> bool:
    """Whether an end of the one line lies on the other."""
    segments = [pair for sub in other.subs for pair in pairwise(flattened(sub))]
    return any(_off(end, a, b) < _ON for end in ends(one) for a, b in segments)


def _off(point: complex, a: complex, b: complex) -> float:
    """How far a point is from a straight line's nearest point."""
    way = b - a
    if way == 0:
        return abs(point - a)
    part = ((point - a) * way.conjugate()).real / abs(way) ** 2
    return abs(point - (a + min(max(part, 0.0), 1.0) * way))


def _inside(line: Shape, box: Box) -> bool:
    return all(box.holds(end, 0.1) for end in ends(line))


def _nearness(
    group: Sequence[Shape], shoulders: Sequence[Shape], labels: Sequence[Shape]
) -> tuple[float, float]:
    """How far a measure's words are from a dimension: from the line that leads to them first."""
    direct = min(_between(line, label.box) for line in group for label in labels)
    under = [_between(line, labels[0].box) for line in _under(shoulders, labels)]
    return min([direct, *under]), direct


def _under(shoulders: Sequence[Shape], labels: Sequence[Shape]) -> list[Shape]:
    """Lines that run along a measure's words, as far as these reach."""
    return [line for line in shoulders if any(_along(line, label.box) for label in labels)]


def _along(line: Shape, box: Box) -> bool:
    """Whether a level line runs under or over a box, an upright one beside a box that is higher
    than wide, over nearly all of its length."""
    high, wide = box.bottom - box.top, box.right - box.left
    for sub in line.subs:
        for a, b in pairwise(flattened(sub)):
            if abs((b - a).imag) < _ON:
                reach = sorted((a.real, b.real)), (box.left, box.right), wide
                near = abs(a.imag - box.centre.imag) < 1.5 * high
            elif abs((b - a).real) < _ON and high > wide:
                reach = sorted((a.imag, b.imag)), (box.top, box.bottom), high
                near = abs(a.real - box.centre.real) < 1.5 * wide
            else:
                continue
            (low, top), (begin, end), size = reach
            if near and low < begin + 0.2 * size and top > end - 0.2 * size:
                return True
    return False


def _between(line: Shape, box: Box) -> float:
    """How far a line is from a box: from its middle and corners to the line's stretches."""
    points = [
        complex(x, y)
        for x in (box.left, (box.left + box.right) / 2, box.right)
        for y in (box.top, (box.top + box.bottom) / 2, box.bottom)
    ]
    segments = [pair for sub in line.subs for pair in pairwise(flattened(sub))]
    return min(_off(point, a, b) for point in points for a, b in segments)
