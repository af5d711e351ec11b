"""Finished pages read back: cut into their parts again, each recounted as a drawing by itself, and
what makes them pages held against what was asked: feet, numbers, places, the count table."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import NamedTuple

from gussetry.stitchmap import StitchMap
from gussetry.verify import illegible, recount_pages
from gussetry.verify.findings import Asked, Disagreement, Limits, UnreadableError
from gussetry.verify.labels import found_at, read_labels, stray
from gussetry.verify.parted import Cut, cut
from gussetry.verify.svg import Page, Shape
from gussetry.verify.tables import compare_tables

_NEAR = 0.01  # mm: places are written to 0.001
_ROLES = ("paper", "foot", "rule", "crop")


@dataclass(frozen=True, slots=True)
class AskedPages:
    """What a set of pages shall show: pages of `width` × `height` mm, each with `name` and `lines`
    in its foot; every one of the `drawings` by its name; and the counts of all sizes, the columns
    `own` framed. `limits`: what the style promises of legibility."""

    width: float
    height: float
    name: str
    lines: tuple[str, ...]
    drawings: tuple[tuple[str, Asked], ...]
    maps: tuple[StitchMap, ...]
    own: tuple[str, ...] = ()
    head: tuple[str, ...] = ()
    limits: Limits | None = None


class _Found(NamedTuple):
    """A part of a page, with the number of the page."""

    page: int
    part: Cut


def recount_set(svgs: Sequence[bytes], asked: AskedPages) -> tuple[Disagreement, ...]:
    """Everything in which the pages of a set, in order, differ from what was asked; `sheet` is the
    page, `at` a place on it. None where they agree."""
    findings: list[Disagreement] = []
    found: list[_Found] = []
    for number, svg in enumerate(svgs, 1):
        try:
            whole, rest, parts = cut(svg)
        except UnreadableError as fault:
            findings.append(Disagreement("unreadable", str(fault), sheet=number))
            continue
        wrong = [
            *_root(whole, asked, (number, len(svgs)), len(parts)),
            *_told(whole, asked, (number, len(svgs)), parts),
            *whole.findings,
            *_places(whole, parts),
            *_rest(rest, asked, (number, len(svgs))),
            *_registers(parts),
            *illegible(whole, asked.limits),
        ]
        findings += [replace(one, sheet=number) for one in wrong]
        found += [_Found(number, part) for part in parts]
    return (*findings, *_drawings(found, asked), *_furniture(found, asked))


def _root(
    page: Page, asked: AskedPages, place: tuple[int, int], parts: int
) -> Iterator[Disagreement]:
    """The page's size, its number of how many, and how many parts it says it has."""
    if max(abs(page.width - asked.width), abs(page.height - asked.height)) > _NEAR:
        yield Disagreement(
            "page", "the page has another size", expected=f"{asked.width:g} × {asked.height:g}",
            found=f"{page.width:g} × {page.height:g}",
        )  # fmt: skip
    wanted = {"kind": "page", "page": str(place[0]), "pages": str(place[1]), "parts": str(parts)}
    for name, value in wanted.items():
        if page.tag(name) != value:
            yield Disagreement(
                "page", f"the page's {name} is another", expected=value, found=page.tag(name)
            )


def _told(
    page: Page, asked: AskedPages, place: tuple[int, int], parts: Sequence[Cut]
) -> Iterator[Disagreement]:
    """The page's own title and description, where it still has them: which page it is, and the
    titles of what it shows, each told once."""
    shown = "; ".join(dict.fromkeys(part.page.title for part in parts))
    for found, due in (
        (page.title, f"{asked.name}: page {place[0]} of {place[1]}"),
        (page.description, f"This page shows: {shown}."),
    ):
        if found and found != due:
            yield Disagreement("title", "the page's own words are others", expected=due,
                               found=found)  # fmt: skip


def _places(page: Page, parts: Sequence[Cut]) -> Iterator[Disagreement]:
    """Parts that lie on each other or leave the page, and ink that leaves its part."""
    for number, part in enumerate(parts, 1):
        if part.number != number:
            yield Disagreement("page", "a part is missing", expected=f"part {number}",
                               found=f"part {part.number}", at=part.at)  # fmt: skip
        if (
            min(part.at) < -_NEAR
            or part.right > page.width + _NEAR
            or part.foot > page.height + _NEAR
        ):
            yield Disagreement("page", f"{part.name} leaves the page", at=part.at)
        yield from _inside(part)
    for one, other in combinations(parts, 2):
        if (
            one.at[0] < other.right - _NEAR
            and other.at[0] < one.right - _NEAR
            and one.at[1] < other.foot - _NEAR
            and other.at[1] < one.foot - _NEAR
        ):
            yield Disagreement("page", f"{one.name} and {other.name} lie on each other",
                               at=other.at)  # fmt: skip


def _inside(part: Cut) -> Iterator[Disagreement]:
    """The first mark of a part that lies outside it."""
    for shape in part.page.shapes:
        box, pen = shape.box, shape.pen / 2 if shape.stroke.startswith("#") else 0.0
        room = min(box.left, box.top, part.page.width - box.right, part.page.height - box.bottom)
        if shape.inks and room < pen - _NEAR and shape.tag("role") != "paper":
            found = found_at("page", f"a mark of {part.name} lies outside its part", shape)
            yield _on_page(found, part)
            return


def _on_page(finding: Disagreement, part: Cut) -> Disagreement:
    """The finding with its place on the page."""
    if finding.at is None:
        return replace(finding, at=part.at)
    x, y = finding.at
    return replace(finding, at=(round(x + part.at[0], 2), round(y + part.at[1], 2)))


def _rest(rest: Page, asked: AskedPages, place: tuple[int, int]) -> list[Disagreement]:
    """What stands on a page beside its parts: the foot's words, and nothing that has no place."""
    texts, findings = read_labels(rest)
    findings += stray(rest)
    findings += [
        found_at("stray", "a mark belongs to no part of the page", shape)
        for shape in rest.shapes
        if shape.tag("role") and shape.tag("role") not in _ROLES
    ]
    feet = [shape for shape in rest.shapes if shape.tag("role") == "foot"]
    said = " ".join(texts.get(shape.order, "") for shape in sorted(feet, key=_reading))
    number = f"page {place[0]} of {place[1]}"
    wanted = Counter(f"{asked.name} {number} {' · '.join(asked.lines)}".split())
    # A line that is broken may have lost the dot between two of its parts.
    del wanted["·"]
    shown = Counter(said.split())
    del shown["·"]
    if shown != wanted or number not in [texts.get(shape.order, "") for shape in feet]:
        findings.append(
            Disagreement("foot", "the page's foot says something else",
                         expected=f"{asked.name}, {number}", found=said)
        )  # fmt: skip
    return findings


def _reading(shape: Shape) -> tuple[float, float]:
    return round(shape.box.bottom), shape.box.left


def _registers(parts: Sequence[Cut]) -> Iterator[Disagreement]:
    """A strip beside its schematic whose tip stands at another height."""
    scaled = [part for part in parts if part.page.tag("top")]
    for one, other in combinations(scaled, 2):
        same = one.page.tag("size") == other.page.tag("size")
        kinds = {one.page.tag("kind"), other.page.tag("kind")}
        mitten = one.page.tag("mitten") == other.page.tag("mitten")
        beside = one.at[1] < other.foot and other.at[1] < one.foot
        if not (same and mitten and beside and kinds == {"schematic", "stripes"}):
            continue
        tops = [part.at[1] + _length(part.page.tag("top")) for part in (one, other)]
        if abs(tops[0] - tops[1]) > _NEAR:
            message = "strip and schematic stand at different heights"
            yield Disagreement(
                "register", message, at=other.at, expected=f"{tops[0]:.2f}", found=f"{tops[1]:.2f}"
            )


def _length(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return -1.0


def _drawings(found: Sequence[_Found], asked: AskedPages) -> Iterator[Disagreement]:
    """Every drawing recounted, all its sheets together, wherever they stand."""
    wanted = dict(asked.drawings)
    for one in found:
        if one.part.name not in wanted and one.part.page.tag("kind") not in ("head", "counts"):
            yield Disagreement("page", f"nobody asked for {one.part.name}", at=one.part.at,
                               sheet=one.page)  # fmt: skip
    for name, shown in wanted.items():
        parts = [one for one in found if one.part.name == name]
        if not parts:
            yield Disagreement("page", f"{name} is on no page")
            continue
        sheets = {n: one.part.page for n, one in enumerate(parts, 1)}
        for finding in recount_pages(sheets, replace(shown, limits=None)):
            own = parts[min(max(finding.sheet, 1), len(parts)) - 1]
            yield replace(_on_page(finding, own.part), sheet=own.page)


def _furniture(found: Sequence[_Found], asked: AskedPages) -> Iterator[Disagreement]:
    """The head of the first page, and the count table."""
    heads = [one for one in found if one.part.page.tag("kind") == "head"]
    if [one.page for one in heads] != [1]:
        yield Disagreement("page", "the set has no head, or it is not on its first page")
    for one in heads:
        texts, wrong = read_labels(one.part.page)
        said = " ".join(texts[order] for order in sorted(texts))
        if said.split() != " ".join(asked.head).split():
            wrong.append(Disagreement("page", "the head says something else",
                                      expected=" ".join(asked.head), found=said))  # fmt: skip
        yield from (
            replace(_on_page(w, one.part), sheet=one.page)
            for w in [*one.part.page.findings, *wrong, *stray(one.part.page)]
        )
    tables = [one for one in found if one.part.page.tag("kind") == "counts"]
    pages = [one.part.page for one in tables]
    for finding in compare_tables(pages, asked.maps, asked.own):
        if not tables:
            yield finding
            continue
        own = tables[min(finding.sheet, len(tables)) - 1]
        yield replace(_on_page(finding, own.part), sheet=own.page)
