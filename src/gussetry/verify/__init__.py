"""The recount: a finished drawing read back from its bytes and held against its stitch map.

Nothing here shares code with what draws: the symbols, the rows and the labels are described a
second time, from the drawing contract alone. Recovery (svg, paths, strokes, glyphs, rows) knows
no map; comparing (charts, sums, beside, guides, keys, strip, schematic) starts from what it found.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from gussetry.verify.beside import compare_colours, compare_labels, compare_order
from gussetry.verify.charts import (
    PIECES,
    Sheet,
    crowded,
    fabric_stitch,
    read_sheet,
)
from gussetry.verify.findings import Asked, Disagreement, Limits, UnreadableError
from gussetry.verify.ground import compare_ground
from gussetry.verify.guides import compare_guides
from gussetry.verify.keys import (
    all_symbols,
    compare_key,
    compare_pitches,
    compare_terms,
    drawn_symbols,
    summed_kinds,
)
from gussetry.verify.labels import read_labels, stray, unseen
from gussetry.verify.outlined import compare_outlined
from gussetry.verify.png import check_png
from gussetry.verify.reading import read
from gussetry.verify.rounds import compare_rows
from gussetry.verify.schematic import compare_schematic
from gussetry.verify.several import (
    compare_chips,
    compare_lists,
    compare_names,
    compare_partings,
    in_size,
)
from gussetry.verify.sheets import compare_sheets
from gussetry.verify.strip import compare_strip
from gussetry.verify.svg import Grounds, Page
from gussetry.verify.tagless import root_tags, with_tags
from gussetry.verify.ticks import compare_ticks
from gussetry.verify.titles import compare_drawn_sizes, compare_scale, compare_title
from gussetry.verify.told import compare_told
from gussetry.verify.told_scaled import (
    compare_measures_told,
    compare_stripes_told,
    compare_words_told,
)

__all__ = [
    "Asked",
    "Disagreement",
    "Limits",
    "check_png",
    "read_sheets",
    "recount",
    "recount_pages",
]

KINDS = (*PIECES, "stripes", "schematic", "key")


def recount(svg: bytes | Sequence[bytes], asked: Asked) -> tuple[Disagreement, ...]:
    """Everything in which the drawing, one file or its sheets in order, differs from what was
    asked, none where it agrees.

    ValueError for a kind of drawing that is not known, no map or no sheet.
    """
    svgs = (svg,) if isinstance(svg, bytes) else tuple(svg)
    if not svgs:
        raise ValueError(f"cannot recount a drawing of kind {asked.kind!r}")
    pages, unread = read_sheets(svgs)
    return (*unread, *recount_pages(pages, asked, whole=not unread))


def read_sheets(svgs: Sequence[bytes]) -> tuple[dict[int, Page], list[Disagreement]]:
    """The sheets of a drawing by their numbers, and those that cannot be read."""
    pages: dict[int, Page] = {}
    unread: list[Disagreement] = []
    for number, one in enumerate(svgs, 1):
        try:
            pages[number] = read(one)
        except UnreadableError as fault:
            unread.append(Disagreement("unreadable", str(fault), sheet=number))
    return pages, unread


def recount_pages(
    pages: Mapping[int, Page], asked: Asked, *, whole: bool = True
) -> tuple[Disagreement, ...]:
    """The same of sheets that are read already, by their numbers; `whole` where none is missing.

    Where a drawing program has thrown their tags away, they are told from the shapes, and one of
    the disagreements, of kind `tags`, says so. ValueError as for `recount`.
    """
    if asked.kind not in KINDS or not asked.maps:
        raise ValueError(f"cannot recount a drawing of kind {asked.kind!r}")
    outlined = compare_outlined(pages.items())
    if outlined:
        return outlined
    try:
        told = with_tags(pages, asked)
    except UnreadableError as fault:
        return (Disagreement("unreadable", str(fault)),)
    findings = list(told.findings)
    for number, page in told.pages.items():
        found = [*_compare(page, asked), *illegible(page, asked.limits)]
        findings += [
            replace(one, sheet=number)
            for one in found
            if not told.findings or page.description or one.kind != "description"
        ]
    if whole and len(told.pages) == len(pages):
        findings += compare_sheets(list(told.pages.values()), asked)
    return tuple(findings)


def illegible(page: Page, limits: Limits | None) -> list[Disagreement]:
    """What cannot be read on a page of ours, where that is asked."""
    if limits is None:
        return []
    # Loads shapely: late, for who only reads drawings back.
    from gussetry.verify.legibility import legibility

    return [*legibility(page, limits)]


def _compare(page: Page, asked: Asked) -> list[Disagreement]:
    findings = [*page.findings, *_root(page, asked)]
    texts, wrong = read_labels(page)
    findings += wrong + stray(page)
    shown = [
        shape
        for shape in page.shapes
        if "stitch" in shape.classes or "symbol" in shape.classes or "data-says" in shape.marks
    ]
    findings += unseen(shown, Grounds(page)) + compare_title(page, asked, texts)
    if asked.kind in PIECES:
        findings += _compare_charts(page, asked, texts)
    elif asked.kind == "stripes":
        findings += compare_scale(page, texts)
        for stitches in asked.maps:
            findings += compare_strip(page, stitches, texts)
            findings += compare_stripes_told(page, stitches)
    elif asked.kind == "schematic":
        findings += compare_schematic(page, asked, texts)
        findings += compare_measures_told(page, texts)
        findings += compare_scale(page, texts)
    else:
        wanted = all_symbols(
            (fabric_stitch(stitches, piece), piece.rounds)
            for stitches in asked.maps
            for piece in stitches.pieces
        )
        least = asked.limits.stitch if asked.limits else None
        findings += compare_pitches(page, wanted, least)
        findings += compare_terms(page, texts, asked.terms)
        findings += compare_words_told(page, texts)
    return findings


def _compare_charts(page: Page, asked: Asked, texts: dict[int, str]) -> list[Disagreement]:
    """A stitch chart held against the map of each size that it serves, as its maker reads it."""
    findings: list[Disagreement] = []
    sheets: list[Sheet] = []
    for stitches in asked.maps:
        own = in_size(page, texts, stitches) if len(asked.maps) > 1 else (page, texts)
        sheet, wrong = read_sheet(own[0], asked, stitches, own[1])
        findings += wrong
        if sheet is not None:
            findings += _compare_chart(sheet)
            sheets.append(sheet)
    if len(asked.maps) > 1:
        findings += compare_lists(page, asked.maps)
        findings += compare_names(page, texts, asked.maps)
        findings += compare_chips(page, asked.maps)
        findings += compare_partings(page, texts, sheets)
    if sheets:
        drawn = {symbol for sheet in sheets for symbol in drawn_symbols(sheet)}
        findings += compare_key(page, drawn, frozenset().union(*map(summed_kinds, sheets)))
        findings += compare_terms(page, texts, asked.terms)
    return findings


def _compare_chart(sheet: Sheet) -> list[Disagreement]:
    return [
        *compare_rows(sheet),
        *crowded(sheet),
        *compare_labels(sheet),
        *compare_colours(sheet),
        *compare_order(sheet),
        *compare_guides(sheet),
        *compare_ground(sheet),
        *compare_ticks(sheet),
        *compare_drawn_sizes(sheet),
        *compare_told(sheet.page, sheet.asked, sheet.map),
    ]


def _root(page: Page, asked: Asked) -> list[Disagreement]:
    """What the root's tags have wrong."""
    return [
        Disagreement("root", f"the drawing's {name} is another", expected=value,
                     found=page.tag(name))
        for name, value in root_tags(asked).items()
        if page.tag(name) != value
    ]  # fmt: skip
