"""The gusset chart: the wedge on its centre line, its neighbours, and what is summed beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from gussetry.chart import Chart
from gussetry.layout.columns import bridge
from gussetry.layout.courses import Course, Parting
from gussetry.layout.grid import draw_courses
from gussetry.layout.parts import Sheet, Terms
from gussetry.layout.rows import Row
from gussetry.layout.sentences import Saying, begun_text, joined_text, of_first, together
from gussetry.layout.several import Key, alike, in_order, keyed, laid_together, of_sizes
from gussetry.layout.sheeting import Ways
from gussetry.layout.tags import listed, merged
from gussetry.layout.wedge import Wedge
from gussetry.stitchmap import Round, StitchMap
from gussetry.style import Style


def gusset_courses(maps: Sequence[StitchMap], at_end: bool = False) -> list[Course] | None:
    """The courses of the gusset chart of one size, or of several: their rounds up to the division
    once, those from it on for each size by itself where they differ. None where the sizes' wedges
    are unlike. `at_end`: chains that bridge the gap stand close at its end."""
    wedges = [Wedge(stitches, at_end) for stitches in maps]
    rounds = [keyed(wedge.trunk) for wedge in wedges]
    keys = in_order(rounds)
    last = [list(own)[-1] for own in rounds]
    # One size goes on right over the shared rounds, or all that do so alike.
    tops = [p for p in range(len(maps)) if last[p] == keys[-1]]
    blocks = _blocks(wedges, last)
    direct = next(block for block in blocks if tops[-1] in block[0].places)
    trunk = [_shared(wedges, rounds, key, direct[0].places, last) for key in keys]
    if not all(alike(course.rows) for course in trunk):
        return None
    stopped = [p for p in range(len(maps)) if p not in direct[0].places]
    trunk = [
        _stopping(maps, course, [p for p in stopped if last[p] == key])
        for key, course in zip(keys, trunk, strict=True)
    ]
    courses = [*trunk, *direct]
    for block in blocks:
        if block is not direct:
            courses[-1] = _branching(maps, courses[-1], block[0])
            courses += block
    return courses


def _stopping(maps: Sequence[StitchMap], course: Course, places: Sequence[int]) -> Course:
    """The course under a line that sends the sizes whose last it is further up."""
    if not places:
        return course
    rounds = tuple(course.of(p).round.number for p in places)
    names = listed([maps[p].size for p in places])
    following = merged([str(number + 1) for number in rounds])
    words = f"{names}: round {following} further up"
    return replace(course, parting=Parting("stop", words, tuple(places), rounds))


def _branching(maps: Sequence[StitchMap], course: Course, above: Course) -> Course:
    """The course under a line over which other sizes go on."""
    rounds = tuple(row.round.number for row in above.rows)
    names = listed([maps[p].size for p in above.places])
    words = f"{names}: from round {merged([str(number) for number in rounds])}"
    return replace(course, parting=Parting("branch", words, above.places, rounds))


def _shared(
    wedges: Sequence[Wedge],
    rounds: Sequence[dict[Key, Round]],
    key: Key,
    direct: Sequence[int],
    last: Sequence[Key],
) -> Course:
    """The course of a round below the division: of all sizes that have it, as much as any needs,
    about one axis."""
    places = tuple(p for p, own in enumerate(rounds) if key in own)
    spans = [(wedges[p].span if p in direct else wedges[p].around)(rounds[p][key]) for p in places]
    span = min(low for low, _ in spans), max(high for _, high in spans)
    axis = wedges[direct[-1]].axis
    rows = (replace(wedges[p].row(rounds[p][key], span), centre=axis) for p in places)
    return Course(places, tuple(rows)).headed()


def _blocks(wedges: Sequence[Wedge], last: Sequence[Key]) -> list[list[Course]]:
    """The courses from the division on, of sizes together whose gussets end alike and that go on
    alike."""
    rows = [wedge.over_gap() for wedge in wedges]
    groups: list[list[int]] = []
    for place in range(len(wedges)):
        group = groups[-1] if groups else []
        together = [*group, place]
        if group and last[group[0]] == last[place] and _joined(together, rows):
            group.append(place)
        else:
            groups.append([place])
    return [_joined(group, rows) or [] for group in groups]


def _joined(places: Sequence[int], rows: Sequence[Sequence[Row]]) -> list[Course] | None:
    return laid_together(places, [rows[p] for p in places])


def gusset(
    maps: Sequence[StitchMap], style: Style, terms: Terms, alone: bool = False
) -> tuple[Chart, ...]:
    """The gusset chart of one size or several: from the pick-up round to the division and on to the
    crown, or to the edging of an open hand. ValueError for sizes that no chart can serve."""
    piece = maps[0].piece("hand")
    courses = gusset_courses(maps)
    if piece is None or courses is None:
        raise ValueError("the wedges of these sizes are unlike")
    sheet = Sheet(maps[0], style, terms, tuple(maps[1:]))
    widened = any(row.head for course in courses for row in course.rows)
    how = together([_told(stitches, widened) for stitches in maps]) + of_sizes(maps, courses)
    # A gap can be parted beside its bridge, never within it: what a sheet draws of a round is
    # worked without a break.
    ways = Ways(courses, lambda: gusset_courses(maps, at_end=True) or courses)
    return draw_courses(sheet, piece, ways, ("gusset", "hand and gusset", how), alone=alone)


def _told(stitches: StitchMap, widened: bool) -> tuple[Saying, ...]:
    """How the chart of a size is read; `widened`: increases at the outer edge are drawn."""
    wedge = Wedge(stitches)
    rounds = wedge.rounds
    edge = "Increases at the outer edge stand where rounds begin." if widened else ""
    return (
        Saying(
            f"Hand rounds 1–{rounds[-1].number}. Right side facing: read every round"
            " from right to left, from its number to its count."
        ),
        Saying(
            "A lozenge marks each marked stitch; its line leads to what is worked into it. Counts"
            " run in the order of working, each marked stitch (m, or the line itself) between their"
            " parts.",
            lambda row: bool(row.marked),
        ),
        Saying("Stitches not drawn are summed at the sides.", lambda row: bool(row.summed)),
        Saying(edge, lambda row: row.head > 0),
        Saying(_divided(rounds, wedge.crook), lambda row: row.round.phase == "division"),
        Saying(begun_text(stitches), of_first),
        Saying(joined_text(rounds)),
        edged(rounds),
    )


def _divided(rounds: Sequence[Round], crook: int) -> str:
    """What the division does to the count."""
    division = next(r for r in rounds if r.phase == "division")
    aside = sum(1 for op in division.work if op.held or op.do == "hold")
    chains = len(bridge(division))
    words = f"Round {division.number} sets {aside} stitches aside and leaves {division.count}."
    if chains == 1:
        words += " Its chain is drawn above what it spans."
    elif chains:
        words += f" Its {chains} chains are drawn above what they span."
    words += " Over the gap the hand goes straight on."
    if crook:
        numbers = f"numbers (1–{crook})" if crook > 1 else "number 1"
        words += f" Small {numbers} at the gap: the crook, as the thumb takes it up."
    return words


def edged(rounds: Sequence[Round]) -> Saying:
    """What ends an open piece: `Round 9 is the edging; fasten off.`; nothing for another."""
    edging = [r.number for r in rounds if r.phase == "edging"]
    words = ""
    if len(edging) == 1:
        words = f"Round {edging[0]} is the edging; fasten off after it."
    elif edging:
        words = f"Rounds {edging[0]}–{edging[-1]} are the edging; fasten off after them."
    return Saying(words, lambda row: row.round.phase == "edging")
