"""Which outline of a nested schematic is which size: each name's leader ends on its own hand."""

from __future__ import annotations

from collections.abc import Sequence

from gussetry.stitchmap import StitchMap
from gussetry.verify.findings import Disagreement
from gussetry.verify.heights import EXACT
from gussetry.verify.labels import found_at
from gussetry.verify.outlines import Segment, outline_of, segments
from gussetry.verify.paths import flattened
from gussetry.verify.svg import Page, Shape

_NEAR = 1.6
"""From the end of a leader to its words, mm at most."""


def compare_marks(
    page: Page, maps: Sequence[StitchMap], texts: dict[int, str]
) -> list[Disagreement]:
    """Every size named at its outline, or all in one sentence from the inside out."""
    names = {s.order: texts.get(s.order, "") for s in page.shapes if s.tag("role") == "term"}
    leaders = [s for s in page.shapes if s.tag("role") == "rule"]
    if not leaders:
        sentence = ", ".join(m.size for m in maps)
        said = " ".join(texts.get(s.order, "") for s in page.shapes if s.tag("role") == "note")
        if f"from the inside out: {sentence}" in said:
            return []
        return [Disagreement("outline", "nothing says which outline is which size")]
    findings: list[Disagreement] = []
    labels = [s for s in page.shapes if s.order in names]
    named: list[str] = []
    for leader in leaders:
        text, tip = _led(leader, labels, names)
        own = next((m for m in maps if m.size == text), None)
        if own is None or tip is None:
            findings.append(found_at("outline", "a leader names no size", leader, found=text))
            continue
        named.append(text)
        edge = segments(outline_of(page, own, "hand"))
        if not any(_off(tip, segment) <= EXACT for segment in edge):
            findings.append(found_at("outline", f"the leader of size {text} ends on another"
                                     " outline", leader))  # fmt: skip
    missing = sorted({m.size for m in maps} - set(named))
    return findings + [
        Disagreement("outline", f"no leader names the outline of size {size}") for size in missing
    ]


def _led(
    leader: Shape, labels: Sequence[Shape], names: dict[int, str]
) -> tuple[str, complex | None]:
    """The words at one end of a leader, and its other end."""
    points = [point for sub in leader.subs for point in flattened(sub)]
    for near, far in ((points[0], points[-1]), (points[-1], points[0])):
        for label in labels:
            box = label.box
            beside = box.left - _NEAR <= near.real <= box.right + _NEAR
            if beside and box.top <= near.imag <= box.bottom:
                return names[label.order], far
    return "", None


def _off(point: complex, segment: Segment) -> float:
    """How far a point is from a straight line's nearest point, mm."""
    a, b = segment
    way = b - a
    if way == 0:
        return abs(point - a)
    part = ((point - a) * way.conjugate()).real / abs(way) ** 2
    return abs(point - (a + min(max(part, 0.0), 1.0) * way))
