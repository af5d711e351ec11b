"""What a screen reader gets of a stitch chart beside its title and how it is read: every round in
the order of working, with its stitches and its count; rounds that are alike told once.

The sentences are regular, so that they can be recounted: `Round by round. Rounds 15 to 18, yarn A,
each: 38 sc; 38 stitches.`
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from gussetry.chart import Chart, Tags
from gussetry.layout.parts import Terms
from gussetry.layout.telling_scaled import told_to_scale
from gussetry.naming import slug
from gussetry.stitchmap import Op, Piece, Round, StitchMap, sections
from gussetry.style import Style
from gussetry.style.symbols import family, picked_up
from gussetry.telling.names import named

LONGEST = 12
"""Entries of a repeat at most: what is longer is no rhythm that an ear could keep."""


def told(chart: Chart, maps: Sequence[StitchMap], terms: Terms, style: Style) -> Chart:
    """The drawing with all that it shows in its description: a stitch chart's rounds, in each size
    that it serves, a strip's stripes, a schematic's measures; a key tells its symbols itself."""
    if chart.kind in ("stripes", "schematic"):
        return told_to_scale(chart, maps, style)
    return _told_chart(chart, maps, terms)


def _told_chart(chart: Chart, maps: Sequence[StitchMap], terms: Terms) -> Chart:
    """The chart, its description going on with every round that it shows, of each size that it
    serves, and with the names of its yarns; as it is where it shows no rounds of one piece."""
    name = _piece(chart)
    if not name:
        return chart
    sentences = ["Row by row." if _turned(maps[0], name) else "Round by round."]
    yarns: dict[str, str] = {}
    for stitches, numbers in zip(maps, _shown(chart, maps), strict=True):
        piece = next(p for p in stitches.pieces if p.piece == name)
        rounds = [r for r in piece.rounds if r.number in numbers]
        if len(maps) > 1:
            sentences.append(f"Size {stitches.size}.")
        sentences += _rounds(stitches, piece, rounds, terms)
        used = {r.yarn for r in rounds}
        yarns |= {letter: words for letter, words, _ in stitches.yarns if letter in used}
    if len(maps[0].yarns) > 1:
        sentences += [f"Yarn {letter} is {words}." for letter, words in sorted(yarns.items())]
    return replace(chart, description=f"{chart.description} {' '.join(sentences)}")


def _turned(stitches: StitchMap, name: str) -> bool:
    return any(p.piece == name and p.worked == "rows" for p in stitches.pieces)


def _marks(chart: Chart) -> Iterator[dict[str, str]]:
    """The tags of what shows rounds: stitches, their numbers and sums."""
    every: list[Tags] = [stitch.tags for stitch in chart.stitches]
    every += [label.tags for label in chart.labels]
    for tags in map(dict, every):
        if "data-piece" in tags and "data-round" in tags:
            yield tags


def _piece(chart: Chart) -> str:
    """The piece whose stitches are drawn, "" where none are."""
    drawn = {dict(s.tags).get("data-piece", "") for s in chart.stitches} - {""}
    return drawn.pop() if len(drawn) == 1 else ""


def _shown(chart: Chart, maps: Sequence[StitchMap]) -> list[set[int]]:
    """The numbers of the rounds that the chart shows, for each size."""
    found: list[set[int]] = [set() for _ in maps]
    places = {slug(stitches.size): place for place, stitches in enumerate(maps)}
    for tags in _marks(chart):
        spans = tags["data-round"].split()
        several = len(maps) > 1
        members = [places[size] for size in tags["data-size"].split()] if several else [0]
        for place, span in zip(members, spans if spans[1:] else spans * len(members), strict=True):
            first, _, last = span.partition("-")
            found[place] |= set(range(int(first), int(last or first) + 1))
    return found


def _rounds(
    stitches: StitchMap, piece: Piece, rounds: Sequence[Round], terms: Terms
) -> Iterator[str]:
    """A sentence for each run of rounds that are alike."""
    unit = "Row" if piece.worked == "rows" else "Round"
    several = len(stitches.yarns) > 1

    def alike(round_: Round) -> tuple[str, str, str]:
        yarn = f", yarn {round_.yarn}" if several else ""
        return yarn, _work(round_, terms), _count(round_)

    for (yarn, work, count), run in groupby(rounds, alike):
        members = list(run)
        if all(op.do == "close" for op in members[0].work):
            # No round of its own: nobody works a round after the last.
            yield "Then draw shut."
            continue
        numbers = [round_.number for round_ in members]
        head = f"{unit} {numbers[0]}{yarn}"
        if numbers[0] == 0:
            head = f"Foundation{yarn}"
        elif numbers[1:]:
            head = f"{unit}s {numbers[0]} to {numbers[-1]}{yarn}, each"
        yield f"{head}: {work}{count}."


def _count(round_: Round) -> str:
    """How many stitches the next round finds, by sections where there are markers."""
    if not round_.count:
        return ""
    counted = f"; {round_.count} stitch{'es' if round_.count > 1 else ''}"
    parts = sections(round_)
    if parts is None:
        return counted
    before, between, after = parts
    return f"{counted} ({before}, marked, {between}, marked, {after})"


def _work(round_: Round, terms: Terms) -> str:
    """The round's stitches in order: runs as `11 sc`, rhythms as `(sc2tog, 7 sc) 4 times`."""
    names = [_name(op, terms) for op in round_.work if op.do != "turn"]
    runs = [(len(list(run)), name) for name, run in groupby(names)]
    items = [name if many == 1 else f"{many} {name}" for many, name in runs]
    shown: list[str] = []
    at = 0
    while at < len(items):
        size, times = _rhythm(items, at)
        if times > 1:
            shown.append(f"({', '.join(items[at : at + size])}) {times} times")
        else:
            shown.append(items[at])
        at += size * times
    return ", ".join(shown)


def _rhythm(items: Sequence[str], at: int) -> tuple[int, int]:
    """The group of two or more that, repeated from that place on, tells most: its length and how
    often; (1, 1) where nothing repeats."""
    best = (1, 1)
    for size in range(2, min(LONGEST, (len(items) - at) // 2) + 1):
        body, times = items[at : at + size], 1
        while items[at + size * times : at + size * (times + 1)] == body:
            times += 1
        if times > 1 and size * times > best[0] * best[1]:
            best = size, times
    return best


def _name(op: Op, terms: Terms) -> str:
    """A stitch as it is named and worked: `sc`, `sc in the back loop`, `sc picked up`."""
    name = named(op.do, terms)
    if not family(op):
        return name
    if picked_up(op):
        name += " picked up"
    if op.loop != "both":
        name += f" in the {op.loop} loop"
    return f"{name} set aside" if op.held else name
