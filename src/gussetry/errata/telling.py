"""The errata as a list to print, and as JSON."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from pathlib import Path
from typing import NamedTuple

from gussetry.errata.changes import Change, Value
from gussetry.misreadings import safe
from gussetry.units import MM_PER_INCH, centimetres_text, inches_text, text

_HEADS = {
    "pattern": "pattern", "style": "style sheet", "gauge": "gauge", "rib gauge": "rib gauge",
    "above crease": "cuff above the crease", "mittens": "mittens",
}  # fmt: skip


def as_text(old: Path, new: Path, changes: Sequence[Change]) -> str:
    """The errata to read, by size; many lines without a last line end."""
    head = f"from {old} to {new}"
    if not changes:
        return f"{head}: no difference"
    lines = [f"{head}: {_summed(changes)}"]
    for title, own in _by_size(changes):
        lines += ["", title]
        lines += [f"  {line}" for line in _section(own)]
    return "\n".join(safe(line) for line in lines)


def as_json(old: Path, new: Path, changes: Sequence[Change]) -> str:
    """The errata for machines, one line a change; measures in millimetres."""
    head = json.dumps(
        {
            "format": "gussetry-errata",
            "version": 1,
            "old": str(old),
            "new": str(new),
            "equal": not changes,
        },
        ensure_ascii=False,
    )
    lines = ",\n".join("  " + json.dumps(_entry(one), ensure_ascii=False) for one in changes)
    shown = f"\n{lines}" if lines else ""
    return f'{head[:-1]},\n "changes": [{shown}]}}'


def _entry(change: Change) -> dict[str, object]:
    entry: dict[str, object] = {
        "what": change.what,
        "size": change.size or None,
        "mitten": change.mitten or None,
        "name": change.name or None,
        "piece": change.piece or None,
        "phase": change.phase or None,
        "step": change.step or None,
        "worked": change.worked or None,
        "old round": change.old_round,
        "new round": change.new_round,
    }
    kept = {key: value for key, value in entry.items() if value is not None}
    return kept | {"old": _plain(change.old), "new": _plain(change.new)}


def _plain(value: Value) -> str | int | float | None:
    return float(text(value)) if isinstance(value, Fraction) else value


_CHANGED = (
    ("size", "size"), ("round", "round"), ("count", "count"), ("colour", "colour"),
    ("measure", "measure"), ("drawing", "drawing"), ("count table", "figure{} of counts.csv alone"),
)  # fmt: skip
_ELSE = (
    ("work", "round{} of the same count worked otherwise"),
    ("markers", "round{} with markers elsewhere"),
)


def _summed(changes: Sequence[Change]) -> str:
    """How many changes there are of each kind: `2 counts, 1 measure changed`."""
    changed, otherwise = _tally(changes, _CHANGED), _tally(changes, _ELSE)
    known = {what for what, _ in (*_CHANGED, *_ELSE)}
    others = sum(change.what not in known for change in changes)
    if others:
        changed.append(f"{others} other{'' if others == 1 else 's'}")
    return "; ".join([*([f"{', '.join(changed)} changed"] if changed else []), *otherwise])


def _tally(changes: Sequence[Change], words: Iterable[tuple[str, str]]) -> list[str]:
    found = []
    for what, word in words:
        number = sum(change.what == what for change in changes)
        named = word if "{}" in word else f"{word}{{}}"
        if number:
            found.append(f"{number} {named.format('' if number == 1 else 's')}")
    return found


def _title(change: Change) -> str:
    side = f" {change.mitten}" if change.mitten in ("left", "right") else ""
    return f"size {change.size}{side}" if change.size else "all sizes"


def _by_size(changes: Sequence[Change]) -> Iterator[tuple[str, list[Change]]]:
    titles = dict.fromkeys(_title(change) for change in changes)
    for title in sorted(titles, key=lambda t: t != "all sizes"):
        yield title, [change for change in changes if _title(change) == title]


def _section(changes: Sequence[Change]) -> Iterator[str]:
    for change in changes:
        if change.what in _HEADS:
            yield f"{_HEADS[change.what]}: {_pair(change)}"
        elif change.what == "yarn":
            yield f"yarn {change.name}: {_pair(change)}"
        elif change.what == "size":
            yield "is new" if change.old is None else "is gone"
    rounds = [c for c in changes if c.what in ("round", "count", "colour", "work", "markers")]
    for kin in dict.fromkeys(map(_kin, rounds)):
        yield from _of_rounds(kin, [c for c in rounds if _kin(c) == kin])
    for change in changes:
        if change.what == "measure":
            yield f"{change.name}: {_printed(change.old, change.new)}"
    for change in changes:
        if change.what in ("drawing", "file"):
            yield f"{change.name}: {_fate(change)}"
    for change in changes:
        if change.what == "count table":
            place = f"{change.piece} {_numbers([[change]])}"
            yield f"counts.csv alone, {place}: {_pair(change)}"


UNNUMBERED = ("foundation", "seam")
"""Phases that no maker counts as a round."""


class _Kin(NamedTuple):
    """What rounds must share to be told on one line."""

    what: str
    piece: str
    phase: str
    worked: str
    names: tuple[Value, Value]


def _kin(change: Change) -> _Kin:
    names = (change.old, change.new) if change.what == "markers" else (None, None)
    return _Kin(change.what, change.piece, change.phase, change.worked, names)


def _of_rounds(kin: _Kin, changes: list[Change]) -> Iterator[str]:
    """Consecutive rounds with the same kind of change, on one line; all of the phase where there
    are no counts to tell."""
    what, runs = kin.what, list(_runs(changes))
    if what == "work":
        yield f"{_place(kin, runs)}: the same count, worked otherwise"
    elif what == "markers":
        old, new = kin.names
        told = "elsewhere" if old == new else _pair(changes[0])
        yield f"{_place(kin, runs)}: markers {told}"
    else:
        for run in runs:
            yield f"{_place(kin, [run])}: {_values(what, run)}"


def _place(kin: _Kin, runs: Sequence[list[Change]]) -> str:
    if kin.phase in UNNUMBERED:
        return f"{kin.piece} {kin.phase}"
    return f"{kin.piece} {_numbers(runs)}{f', {kin.phase}' if kin.phase else ''}"


def _values(what: str, run: Sequence[Change]) -> str:
    """The counts or yarns of a run, before and after."""
    if what == "round":
        gone = run[0].new_round is None
        counts = _listed([change.old if gone else change.new for change in run])
        return ("gone" if gone else "new") + (f", {counts} sts" if counts != "0" else "")
    old, new = (_listed([getattr(c, side) for c in run]) for side in ("old", "new"))
    return f"yarn {old} → {new}" if what == "colour" else f"{old} → {new} sts"


def _runs(changes: list[Change]) -> Iterator[list[Change]]:
    run: list[Change] = []
    for change in changes:
        if run and not _follows(run[-1], change):
            yield run
            run = []
        run.append(change)
    if run:
        yield run


def _follows(one: Change, other: Change) -> bool:
    def next_to(a: int | None, b: int | None) -> bool:
        return a is b if a is None or b is None else b == a + 1

    return next_to(one.old_round, other.old_round) and next_to(one.new_round, other.new_round)


def _numbers(runs: Sequence[list[Change]]) -> str:
    """`round 17`, `rows 17–19, 21 (now 16–18, 20)`, as the old print numbers them, or else the
    new."""
    old = _spans([[change.old_round for change in run] for run in runs])
    new = _spans([[change.new_round for change in run] for run in runs])
    word = "row" if runs[0][0].worked == "rows" else "round"
    word += "" if sum(map(len, runs)) == 1 else "s"
    moved = f" (now {new})" if old and new and old != new else ""
    return f"{word} {old or new}{moved}"


def _spans(runs: Sequence[list[int | None]]) -> str:
    found = [(run[0], run[-1]) for run in runs if run[0] is not None]
    return ", ".join(f"{one}" if one == other else f"{one}–{other}" for one, other in found)


def _listed(values: Sequence[Value]) -> str:
    """The values one by one, or one for all where they are the same."""
    shown = [str(value) for value in values]
    return shown[0] if len(set(shown)) == 1 else ", ".join(shown)


def _pair(change: Change) -> str:
    return f"{_said(change.old)} → {_said(change.new)}"


def _said(value: Value) -> str:
    if isinstance(value, Fraction):
        return f"{text(value / 10, 1)} cm ({text(value / MM_PER_INCH, 2)} in)"
    return "none" if value is None or value == "" else str(value)


CM_STEP = Fraction(5)
"""Millimetres to which schematics of the default style sheet round a measure in centimetres."""
INCH_STEP = Fraction(1, 4)
"""Inches to which they round it in inches."""


def _printed(old: Value, new: Value) -> str:
    """A finished measure as the schematics print it, before and after; what it has become more or
    less where both print alike."""
    one, other = (
        f"{centimetres_text(value, CM_STEP)} cm ({inches_text(value, INCH_STEP)} in)"
        if isinstance(value, Fraction)
        else ""
        for value in (old, new)
    )
    if not isinstance(old, Fraction) or not isinstance(new, Fraction):
        return f"new, printed {other}" if other else f"gone, printed {one}"
    if one != other:
        return f"printed {one} → {other}"
    amount = text(abs(new - old))
    amount = f"{amount} mm" if amount != "0" else "a hair"
    return f"{amount} {'more' if new > old else 'less'}, printed {one} as before"


def _fate(change: Change) -> str:
    if change.old is None:
        return "new"
    if change.new is None:
        return "gone"
    if change.old == change.new:
        return "its PNG differs"
    return "drawn otherwise" if change.what == "drawing" else "changed"
