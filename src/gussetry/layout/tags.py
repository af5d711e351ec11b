"""What ties a mark on a chart to the rounds it shows: tags and words, for one size or several."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Literal

from gussetry.chart import Tags
from gussetry.naming import slug
from gussetry.stitchmap import Op, Piece, Round, StitchMap, bridged, sections
from gussetry.telling.names import named

FEWEST_PAIRS = 3
"""Stitches, or runs, by turns are summed as pairs from so many on; fewer are told one by one."""
NOTHING = "–"
"""Stands in a list for a size that has nothing there."""

_NUMBER = re.compile(r"(?<![\w–])\d+(?:–\d+)?(?![\w–])")


def size_tag(maps: Sequence[StitchMap], several: bool) -> str:
    """The sizes that a mark serves: a name, or on a chart of several sizes their folder names with
    blanks between, `S M`."""
    return " ".join(slug(m.size) for m in maps) if several else maps[0].size


def round_tags(stitches: StitchMap, piece: Piece, round_: Round | str) -> Tags:
    """The tags that name a round of a piece and the size."""
    number = round_ if isinstance(round_, str) else str(round_.number)
    return (
        ("data-piece", piece.piece),
        ("data-round", number),
        ("data-size", stitches.size),
    )


def stitch_tags(stitches: StitchMap, piece: Piece, round_: Round, index: int) -> Tags:
    """The tags of one stitch element."""
    return (
        ("class", "stitch"),
        ("data-piece", piece.piece),
        ("data-round", str(round_.number)),
        ("data-index", str(index)),
        ("data-do", round_.work[index].do),
        ("data-size", stitches.size),
    )


def title(stitches: StitchMap, what: str, *others: StitchMap) -> str:
    """A chart's title: pattern, piece, size or sizes, and which mitten where they differ."""
    mitten = "" if stitches.mitten == "both" else f", {stitches.mitten} mitten"
    sizes = listed([stitches.size, *(m.size for m in others)])
    return f"{stitches.pattern}: {what}, size{'s' if others else ''} {sizes}{mitten}"


def count_text(round_: Round) -> str:
    """The count as printed, by sections where the round has markers, or bridges a gap."""
    parts, over = sections(round_), bridged(round_)
    if over is not None:
        before, do, many, after = over
        bridge = do if do == "join" and many == 1 else f"{many} {do}"
        return f"{before} · {bridge} · {after} = {round_.count}"
    if parts is None:
        return str(round_.count)
    before, between, after = parts
    return f"{before} · m · {between} · m · {after} = {round_.count}"


def parts_of_count(round_: Round) -> tuple[str, str, str] | None:
    """The parts of a count by themselves: `20`, `11`, `20`, or over a gap `17`, nothing, `17`; None
    of a count that has none."""
    parts, over = sections(round_), bridged(round_)
    if over is not None:
        return str(over[0]), "", str(over[3])
    if parts is None:
        return None
    before, between, after = parts
    return str(before), str(between), str(after)


def sum_text(work: Iterable[Op], terms: Literal["US", "UK"]) -> str:
    """Stitches in words, in order of working, runs and rhythms counted: `inc, 11 sc`,
    `(FPdc, BPdc) 9 times`, `3 sc, (sc2tog, 6 sc) 4 times`."""
    names = (named(op.do, terms) for op in work if op.do != "turn")
    runs = [(name, len(list(run))) for name, run in groupby(names)]
    shown = []
    at = 0
    while at < len(runs):
        times = _times(runs, at)
        told = [name if many == 1 else f"{many} {name}" for name, many in runs[at : at + 2]]
        if times >= FEWEST_PAIRS:
            shown.append(f"({', '.join(told)}) {times} times")
            at += 2 * times
        else:
            shown.append(told[0])
            at += 1
    return ", ".join(shown)


def _times(runs: Sequence[tuple[str, int]], at: int) -> int:
    """How often two runs are repeated from that place on."""
    pair = runs[at : at + 2]
    times = 0
    while len(pair) == 2 and runs[at : at + 2] == pair:
        times += 1
        at += 2
    return times


def listed(names: Sequence[str]) -> str:
    """The first name, the others in brackets: `S (M, L)`."""
    first, *others = names
    return f"{first} ({', '.join(others)})" if others else first


def merged(texts: Sequence[str]) -> str:
    """One text for several sizes in their order: what is alike once, each number that differs as a
    list, `13 (14, 15) sc`. Texts of unlike words stand side by side: `sc / 2 sc`."""
    if len(set(texts)) == 1:
        return texts[0]
    if len({_NUMBER.sub("#", text) for text in texts}) > 1:
        return " / ".join(text or NOTHING for text in texts)
    columns = iter(zip(*(_NUMBER.findall(text) for text in texts), strict=True))

    def told(_: re.Match[str]) -> str:
        numbers = next(columns)
        return numbers[0] if len(set(numbers)) == 1 else listed(numbers)

    return _NUMBER.sub(told, texts[0])
