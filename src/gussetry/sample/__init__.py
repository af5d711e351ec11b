"""A count table of one size, turned into a specification that pins every one of its counts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from gussetry.counts import count_table
from gussetry.diagnostics import Faults, Problem
from gussetry.grading import graded_sizes
from gussetry.read import read_spec
from gussetry.sample.hand import read_crowns, read_cuff, read_gussets, read_lower, read_thumbless
from gussetry.sample.makings import Departs, GapShape, Making, SetAside
from gussetry.sample.remarks import remarks
from gussetry.sample.table import Sample, read_sample
from gussetry.sample.thumb import read_gaps, read_thumbs
from gussetry.sample.wording import specification, untold
from gussetry.source import UnreadableSource, parse

__all__ = ["Sampled", "from_counts"]

MOST_TRIED = 40
"""Ways of making one table that are graded at most, the likeliest first."""

MOST_NAMED = 4
"""Other ways that are named."""


@dataclass(frozen=True, slots=True)
class Sampled:
    """A specification out of a table: its text, what the table could not tell, and counts that
    deserve a second look."""

    text: str
    size: str
    untold: tuple[str, ...]
    remarks: tuple[str, ...]


def from_counts(path: Path, size: str | None) -> Sampled:
    """The fully pinned specification that makes just the counts of one size in the table.

    `size` may be None where the table has one size only. The text has been read, graded and
    compared with the table, round by round. Raises UnreadableSource, with one problem that points
    into the table, where it cannot be read or no construction of ours makes its counts.
    """
    sample = read_sample(path, size)
    try:
        makings = list(islice(_makings(sample), MOST_TRIED))
    except Departs as departs:
        raise _departed(sample, departs) from None
    refused: list[Problem] = []
    counts = [entry.count for entry in sample.hand]
    for place, making in enumerate(makings):
        text = specification(making, sample.size, path.name)
        wrong = _wrong(sample, text)
        if wrong is None:
            others = tuple(_others(sample, path.name, makings[place:]))
            doubts = tuple(remarks(making, counts))
            text = specification(making, sample.size, path.name, others, doubts)
            return Sampled(text, sample.size, untold(text), doubts)
        refused.append(wrong)
    raise UnreadableSource(refused[:1], sample.source)


def _makings(sample: Sample) -> Iterator[Making]:
    """Every way to read the counts, the likeliest first. Departs where there is none."""
    cuff, hand, thumb = (
        [entry.count for entry in sample.piece(name)] for name in ("cuff", "hand", "thumb")
    )
    made_cuff = read_cuff(cuff, hand[0])
    if not thumb:
        lower = read_thumbless(hand)
        count = hand[lower.rounds - 1]
        for crown in read_crowns(hand, lower.rounds, may_open=False):
            yield Making(made_cuff, lower, None, crown, count, lower.rounds)
        return
    lower = read_lower(hand)
    thumbs = read_thumbs(thumb)
    gussets, departs = read_gussets(hand, lower)
    departed = [departs] if departs else []
    found = False
    for gusset in gussets:
        try:
            crowns = read_crowns(hand, gusset.division)
            gaps = read_gaps(hand, gusset, thumbs)
        except Departs as fault:
            departed.append(fault)
            continue
        found = True
        for gap, shape in gaps:
            aside = SetAside(gusset, gap, shape)
            for crown in crowns:
                yield Making(made_cuff, lower, aside, crown, gap.hand, gusset.division)
    if not found:
        raise departed[0]


def _wrong(sample: Sample, text: str) -> Problem | None:
    """What keeps the specification from making the table, None where it makes it exactly."""
    try:
        graded = graded_sizes(read_spec(parse(text, "the specification")))
    except Faults as faults:
        return _unworkable(sample, faults.problems[0])
    table = count_table([size.maps for size in graded])
    made = {(row.piece, row.round): row.counts[0] for row in table.rows}
    for piece in ("cuff", "hand", "thumb"):
        entries = sample.piece(piece)
        for number, entry in enumerate(entries, 1):
            count = made.pop((piece, number), None)
            if count != entry.count:
                wanted = "no such round" if count is None else f"{count} stitches"
                why = "with the counts before it, it would have another"
                return _problem(sample, Departs(piece, number, why, wanted))
    for piece, number in made:
        why = "another round would follow it"
        return _problem(sample, Departs(piece, number - 1, why, f"round {number} too"))
    return None


def _unworkable(sample: Sample, problem: Problem) -> Problem:
    """Why the counts cannot be worked, pointing at the piece that is spoken of."""
    message, remedy = problem.message, problem.help
    if problem.code == "counts-do-not-fit":
        message = "stitches are lacking beside the thumb, or for the crown"
        remedy = "look whether the table holds every round"
    elif problem.path and not message.startswith("size"):
        message = f"{problem.path[0]}: {message}"
    entries = sample.cuff or sample.hand if problem.path[:1] == ("cuff",) else sample.hand
    if problem.path[:1] == ("thumb",):
        entries = sample.thumb or sample.hand
    return Problem(
        "cannot-be-worked",
        f"no specification of ours makes these counts: {message}",
        help=remedy,
        span=entries[0].span,
    )


def _problem(sample: Sample, departs: Departs) -> Problem:
    entry = sample.piece(departs.piece)[departs.number - 1]
    return Problem(
        "departs",
        f"{departs.piece} round {departs.number} cannot have {entry.count} stitches: {departs.why}",
        help=f"expected: {departs.remedy}",
        span=entry.span,
    )


def _departed(sample: Sample, departs: Departs) -> UnreadableSource:
    return UnreadableSource([_problem(sample, departs)], sample.source)


def _others(sample: Sample, table: str, makings: list[Making]) -> Iterator[GapShape]:
    """Other ways to set the thumb aside that make the same table, the first being taken."""
    taken = makings[0].aside
    known = {taken.gap} if taken else set()
    for making in makings[1:]:
        aside = making.aside
        if not taken or not aside or aside.gap in known or aside.gusset != taken.gusset:
            continue
        if len(known) > MOST_NAMED:
            return
        known.add(aside.gap)
        if _wrong(sample, specification(making, sample.size, table)) is None:
            yield aside.gap
