"""The errata as a list to print, and as JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from fractions import Fraction
from pathlib import Path

from gussetry.errata.changes import Change, Value
from gussetry.misreadings import safe
from gussetry.units import MM_PER_INCH, text

_HEADS = {
    "pattern": "pattern", "style": "style sheet", "gauge": "gauge", "rib gauge": "rib gauge",
    "above crease": "cuff above the crease",
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
        "old round": change.old_round,
        "new round": change.new_round,
    }
    kept = {key: value for key, value in entry.items() if value is not None}
    return kept | {"old": _plain(change.old), "new": _plain(change.new)}


def _plain(value: Value) -> str | int | float | None:
    return float(text(value)) if isinstance(value, Fraction) else value


_COUNTED = (
    ("size", "size"), ("round", "round"), ("count", "count"), ("colour", "colour"),
    ("measure", "measure"), ("drawing", "drawing"), ("count table", "figure of counts.csv alone"),
)  # fmt: skip


_PLURALS = {"figure of counts.csv alone": "figures of counts.csv alone"}


def _summed(changes: Sequence[Change]) -> str:
    parts = []
    for what, word in _COUNTED:
        number = sum(change.what == what for change in changes)
        if number:
            parts.append(f"{number} {word if number == 1 else _PLURALS.get(word, f'{word}s')}")
    others = len(changes) - sum(change.what in dict(_COUNTED) for change in changes)
    if others:
        parts.append(f"{others} other{'' if others == 1 else 's'}")
    return f"{', '.join(parts)} changed"


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
    rounds = [c for c in changes if c.what in ("round", "count", "colour", "work")]
    for kin in dict.fromkeys(map(_kin, rounds)):
        yield from _of_rounds(*kin, [c for c in rounds if _kin(c) == kin])
    for change in changes:
        if change.what == "measure":
            yield f"{change.name}: {_measures(change.old, change.new)}"
    for change in changes:
        if change.what in ("drawing", "file"):
            yield f"{change.name}: {_fate(change)}"
    for change in changes:
        if change.what == "count table":
            place = f"{change.piece} round {change.old_round or change.new_round}"
            yield f"counts.csv alone, {place}: {_pair(change)}"


def _kin(change: Change) -> tuple[str, str, str]:
    return change.what, change.piece, change.phase


def _of_rounds(what: str, piece: str, phase: str, changes: list[Change]) -> Iterator[str]:
    """Consecutive rounds with the same kind of change, on one line."""
    for run in _runs(changes):
        first = run[0]
        place = f"{piece} {_numbers(run)}{f', {phase}' if phase else ''}"
        if what == "round":
            gone = first.new_round is None
            counts = _listed([change.old if gone else change.new for change in run])
            yield f"{place}: {'gone' if gone else 'new'}, {counts} sts"
        elif what == "work":
            yield f"{place}: the same count, worked otherwise"
        else:
            yarn = "yarn " if what == "colour" else ""
            old, new = (_listed([getattr(c, side) for c in run]) for side in ("old", "new"))
            yield f"{place}: {yarn}{old} → {new}{'' if yarn else ' sts'}"


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


def _numbers(run: list[Change]) -> str:
    """`round 17`, `rounds 17–19 (now 16–18)`, as the old print numbers them, or else the new."""
    old = _span([change.old_round for change in run])
    new = _span([change.new_round for change in run])
    word = "round" if len(run) == 1 else "rounds"
    moved = f" (now {new})" if old and new and old != new else ""
    return f"{word} {old or new}{moved}"


def _span(numbers: list[int | None]) -> str:
    known = [number for number in numbers if number is not None]
    if not known:
        return ""
    return str(known[0]) if len(known) == 1 else f"{known[0]}–{known[-1]}"


def _listed(values: Sequence[Value]) -> str:
    """The values one by one, or one for all where they are the same."""
    shown = [str(value) for value in values]
    return shown[0] if len(set(shown)) == 1 else ", ".join(shown)


def _pair(change: Change) -> str:
    return f"{_said(change.old)} → {_said(change.new)}"


def _said(value: Value) -> str:
    if isinstance(value, Fraction):
        return _measure(value, 1)
    return "none" if value is None or value == "" else str(value)


def _measure(value: Value, places: int) -> str:
    if not isinstance(value, Fraction):
        return "none"
    return f"{text(value / 10, places)} cm ({text(value / MM_PER_INCH, places + 1)} in)"


def _measures(old: Value, new: Value) -> str:
    """Both, with as many decimals as it takes to tell them apart."""
    for places in (1, 2, 3):
        shown = _measure(old, places), _measure(new, places)
        if shown[0].split()[0] != shown[1].split()[0]:
            break
    return " → ".join(shown)


def _fate(change: Change) -> str:
    if change.old is None:
        return "new"
    if change.new is None:
        return "gone"
    if change.old == change.new:
        return "its PNG differs"
    return "drawn otherwise" if change.what == "drawing" else "changed"
