"""Noun 4: a drawing, inked: concrete colours and millimetres; it knows no chart and no style."""

from __future__ import annotations

from dataclasses import dataclass

Tags = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Path:
    """One path. `data` is SVG path data in millimetres; `fill` and `stroke` are `#rrggbb` or
    `none`; `pen` is the stroke's width in mm; `dash` lengths in mm."""

    data: str
    fill: str = "none"
    stroke: str = "none"
    pen: float = 0.0
    dash: tuple[float, ...] = ()
    tags: Tags = ()


@dataclass(frozen=True, slots=True)
class Group:
    """Paths that belong together, with the properties they share on the group.

    `fill`, `stroke` and `pen` hold for every path in it whose own are left at their defaults.
    """

    items: tuple[Path, ...]
    fill: str = "none"
    stroke: str = "none"
    pen: float = 0.0
    tags: Tags = ()


@dataclass(frozen=True, slots=True)
class Part:
    """A whole drawing at its place on a page, inked in the page's coordinates, with the words that
    a screen reader gets."""

    title: str
    description: str
    groups: tuple[Group, ...]
    tags: Tags = ()


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing of `width` × `height` mm, or a page of `parts`. `paper` is the ground's colour, ""
    for transparent."""

    width: float
    height: float
    title: str
    description: str
    groups: tuple[Group, ...]
    paper: str = "#ffffff"
    tags: Tags = ()
    parts: tuple[Part, ...] = ()

    @property
    def inked(self) -> tuple[Group, ...]:
        """Every group, those of its parts first, as they are painted."""
        return (*(group for part in self.parts for group in part.groups), *self.groups)
