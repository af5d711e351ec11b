"""Rounds of several sizes laid one on another: by phase and step, never by their numbers."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from gussetry.layout.courses import Course
from gussetry.layout.rows import Row, runs, summed
from gussetry.layout.sentences import Saying
from gussetry.layout.tags import listed
from gussetry.stitchmap import Place, Round, StitchMap, left_of_made
from gussetry.style.symbols import picked_up

Key = tuple[str, int]
"""A round's phase and its place within that, alike in every size."""


def keyed(rounds: Iterable[Round]) -> dict[Key, Round]:
    """The rounds by phase and step."""
    return {(r.phase, r.step): r for r in rounds}


def in_order(sizes: Sequence[Iterable[Key]]) -> list[Key]:
    """Every round that any of the sizes has, in the order of working, which is that of each."""
    phases: list[str] = []
    for keys in sizes:
        at = 0
        for phase in dict.fromkeys(phase for phase, _ in keys):
            if phase in phases:
                at = phases.index(phase) + 1
            else:
                phases.insert(at, phase)
                at += 1
    every = {key for keys in sizes for key in keys}
    return sorted(every, key=lambda key: (phases.index(key[0]), key[1]))


def _shape(row: Row) -> tuple[object, ...]:
    """What a row draws, its numbers taken from what is drawn: alike in two sizes, one drawing
    serves both."""
    if row.several:
        return row.round.phase, row.round.yarn, row.several[0] == row.several[1]
    work, numbers = row.round.work, left_of_made(row.round)
    into = [p for i in row.drawn for p in work[i].into if isinstance(p, int)]
    lowest = min(into, default=0)

    def relative(place: Place) -> object:
        return place - lowest if isinstance(place, int) else place[0]

    made = [i for i, op in enumerate(work) for _ in range(op.makes)]
    drawn = set(row.drawn)
    left = [n for i, n in zip(made, numbers, strict=True) if i in drawn and n is not None]
    marks = [n - left[0] for name, n in row.round.markers if name.endswith("marker") and n in left]
    entries = [
        (
            op.do, op.loop, op.held, op.counts, op.of, picked_up(op),
            tuple(relative(p) for p in op.into) if i >= row.head else (),
            round(row.middle(i) - row.centre, 6) if i >= row.head else i, i in row.raised,
        )
        for i in row.shown
        if (op := work[i])
    ]  # fmt: skip
    return row.round.phase, entries, marks, row.crook, row.rightwards


def alike(rows: Sequence[Row]) -> bool:
    """Whether one drawing serves all the rows."""
    first = _shape(rows[0])
    return all(_shape(row) == first for row in rows[1:])


def laid_together(places: Sequence[int], sizes: Sequence[Sequence[Row]]) -> list[Course] | None:
    """The rows of several sizes as courses, first with first; None where one is unlike."""
    if len({len(rows) for rows in sizes}) > 1:
        return None
    courses = [Course(tuple(places), tuple(rows)) for rows in zip(*sizes, strict=True)]
    return courses if all(alike(course.rows) for course in courses) else None


def stepped(
    sizes: Sequence[Sequence[Round]], rows: Sequence[Callable[[Round], Row]], keep: int
) -> list[Course] | None:
    """The rounds of several sizes as courses, each as its size's own of the `rows` shows it; of a
    long run that is plain in all of the same sizes the first `keep` and the last, the rest summed.
    None where one is unlike."""
    rounds = [keyed(size) for size in sizes]
    steps = [
        (tuple(p for p, own in enumerate(rounds) if key in own), key) for key in in_order(rounds)
    ]
    courses: list[Course] = []
    for run in _runs(steps, rounds):
        shown = run if len(run) <= keep + 3 else [*run[:keep], run[-1]]
        for places, key in shown:
            if key == run[-1][1] and len(shown) < len(run):
                between = run[keep][1], run[-2][1]
                ends = [(rounds[p][between[0]], rounds[p][between[1]]) for p in places]
                courses.append(Course(places, tuple(summed(*pair) for pair in ends)))
            courses.append(Course(places, tuple(rows[p](rounds[p][key]) for p in places)))
    return courses if all(alike(course.rows) for course in courses) else None


_Step = tuple[tuple[int, ...], Key]


def _runs(steps: Sequence[_Step], rounds: Sequence[dict[Key, Round]]) -> list[list[_Step]]:
    """Rounds grouped where they are plain repeats of the one before, in the same sizes."""
    found: list[list[_Step]] = []
    for places, key in steps:
        before = found[-1][-1] if found else None
        if (
            before
            and before[0] == places
            and all(len(runs([rounds[p][before[1]], rounds[p][key]])) == 1 for p in places)
        ):
            found[-1].append((places, key))
        else:
            found.append([(places, key)])
    return found


def of_sizes(maps: Sequence[StitchMap], courses: Sequence[Course]) -> tuple[Saying, ...]:
    """How the numbers of several sizes are read; nothing for one size."""
    if len(maps) == 1:
        return ()
    order = listed([stitches.size for stitches in maps])
    words = (
        f"Numbers in a list, and yarns side by side, stand in the order of the sizes, {order}; one"
        " alone is for all."
        " What is named with sizes is for these alone, its lists in their order."
    )
    if any(course.parting for course in courses):
        words += (
            " A line across sends the sizes that it names to a line further up, where they go on."
        )
    return (Saying(words),)
