"""What every drawing to scale has: a title, room above its upper end, and both ends on the root."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from gussetry.chart import Chart, Label, Line, Patch, Tags
from gussetry.layout import boxes
from gussetry.layout.parts import MARGIN
from gussetry.style import Style
from gussetry.units import Point, text


@dataclass(slots=True)
class Content:
    """What a drawing shows, while it is laid out, and the y of both ends of the mitten in it:
    `top` the tip or the upper edge, `foot` the cuff's edge or the pick-up round's foot."""

    style: Style
    top: float
    foot: float
    patches: list[Patch] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)

    def box(self) -> boxes.Box:
        """The box round all of it."""
        return boxes.chart_box(self.patches, self.lines, self.labels, self.style)


@dataclass(frozen=True, slots=True)
class Heading:
    """A drawing's kind, its title in words, broken to `width`, and root tags."""

    kind: str
    title: str
    width: float
    tags: Tags


def paged(content: Content, heading: Heading, scale: float, head: float) -> Chart:
    """The content on its page under its title. The mitten's upper end stands `head` mm below the
    page's edge, or lower where the content above it takes more."""
    style, box = content.style, content.box()
    size = style.size("title")
    rows = boxes.wrapped(heading.title, "title", heading.width, style)
    room = MARGIN + len(rows) * 1.25 * size + 0.3 * size
    down = max(head - content.top, room - box.top)
    # On whole microns, so that both ends stand alike on every drawing of the scale.
    down = round(content.top + down, 3) - content.top
    left = MARGIN - box.left
    made = boxes.moved(
        Chart(heading.kind, heading.title, "", 0, 0,
              tuple(content.patches), tuple(content.lines), (), tuple(content.labels)),
        Point(left, down),
    )  # fmt: skip
    titles = tuple(
        Label("title", words, Point(MARGIN, MARGIN + boxes.ASCENT * size + i * 1.25 * size),
              tags=(("data-role", "title"),))
        for i, words in enumerate(rows)
    )  # fmt: skip
    widest = max(boxes.words_width("title", row, style) for row in rows)
    ends = (
        ("data-scale", text(scale, 6)),
        ("data-top", text(content.top + down)), ("data-foot", text(content.foot + down)),
    )  # fmt: skip
    return replace(
        made,
        width=max(box.right - box.left, widest) + 2 * MARGIN,
        height=box.bottom + down + MARGIN,
        labels=(*titles, *made.labels),
        tags=(*heading.tags, *ends),
    )


def top_of(chart: Chart) -> float:
    """How far below the page's edge the mitten's upper end stands, mm."""
    return float(dict(chart.tags)["data-top"])
