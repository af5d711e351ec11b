"""Copies of drawings with the places of findings ringed."""

from __future__ import annotations

from collections.abc import Sequence
from xml.etree import ElementTree

from gussetry.findings import Finding
from gussetry.verify.document import SVG, frame, parse
from gussetry.verify.findings import UnreadableError

RADIUS = 4.0
"""Of a ring, mm: about a stitch and its neighbours."""
PEN = 0.7
"""Of a ring, mm (ISO 128 series)."""
COLOUR = "#d0006f"
"""A ring's colour: none of our inks."""


def ringed(svg: bytes, findings: Sequence[Finding]) -> bytes | None:
    """The drawing with a ring round each finding that has a place, and its number in the order
    given within the ring's title; None where no finding has a place or the drawing is broken."""
    placed = [(n, f) for n, f in enumerate(findings, 1) if f.at is not None]
    if not placed:
        return None
    try:
        root = parse(svg)
        page = frame(root)
    except UnreadableError:
        return None
    ElementTree.register_namespace("", SVG[1:-1])
    across, down = page.to_mm.a, page.to_mm.d
    group = ElementTree.SubElement(root, f"{SVG}g", {
        "data-role": "ring", "fill": "none", "stroke": COLOUR, "stroke-width": f"{PEN / across:g}",
    })  # fmt: skip
    for number, finding in placed:
        assert finding.at is not None
        x, y = finding.at
        ring = ElementTree.SubElement(group, f"{SVG}circle", {
            "cx": f"{(x - page.to_mm.e) / across:.3f}", "cy": f"{(y - page.to_mm.f) / down:.3f}",
            "r": f"{RADIUS / across:.3f}",
        })  # fmt: skip
        title = ElementTree.SubElement(ring, f"{SVG}title")
        title.text = f"{number}. {finding.kind}: {finding.message}"
    marked: bytes = ElementTree.tostring(root, encoding="utf-8", xml_declaration=True)
    return marked
