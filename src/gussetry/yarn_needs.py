"""What a maker wants to know of her yarns: how much, which floats, how many ends, where stripes."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from typing import Any

from gussetry.grading import Grading
from gussetry.grading.amounts import WEAK_LEAST, WEAK_MOST, Need, needs
from gussetry.grading.changes import Change, End, all_changes, ends, fabric_of
from gussetry.spec import Spec
from gussetry.stitchmap import Piece, StitchMap
from gussetry.units import text


@dataclass(frozen=True, slots=True)
class Landing:
    """Where a stripe lands: its rounds or rows (`worked`: which), and mm from where the piece is
    measured (`FROM`) to its lower and its upper edge; of rows, mm round the wrist."""

    piece: str
    worked: str
    yarn: str
    first: int
    last: int
    lower: Fraction
    upper: Fraction


@dataclass(frozen=True, slots=True)
class SizeNeeds:
    """One size: yarn for the pair; changes, ends and stripes of each of its two mittens."""

    size: str
    needs: tuple[Need, ...]
    changes: tuple[Change, ...]
    ends: tuple[End, ...]
    landings: tuple[Landing, ...]

    @property
    def floats(self) -> tuple[Change, ...]:
        """The changes whose old yarn is carried up the inside."""
        return tuple(change for change in self.changes if change.carried)


def yarn_needs(spec: Spec, grading: Grading) -> tuple[SizeNeeds, ...]:
    """What every size needs, smallest first. A left and a right have the same stripes, floats and
    ends: those depend on rounds alone."""
    carry = spec.stripes.carry
    return tuple(
        SizeNeeds(
            graded.size.name,
            needs(spec, graded),
            all_changes(graded.maps[0], carry),
            ends(graded.maps[0], carry),
            tuple(_landings(graded.maps[0])),
        )
        for graded in grading.sizes
    )


def _landings(stitches: StitchMap) -> Iterator[Landing]:
    for piece in stitches.pieces:
        height = fabric_of(stitches, piece).height
        base = stitches.above_crease if piece.piece == "hand" else Fraction(0)
        for yarn, run in groupby(piece.counted, key=lambda r: r.yarn):
            numbers = [r.number for r in run]
            lower, upper = base + (numbers[0] - 1) * height, base + numbers[-1] * height
            yield Landing(
                piece.piece, _singular(piece), yarn, numbers[0], numbers[-1], lower, upper
            )


def _singular(piece: Piece) -> str:
    return "row" if piece.worked == "rows" else "round"


# --- to read --------------------------------------------------------------------------------

FROM = {"cuff": "above its edge", "hand": "above the wrist", "thumb": "above the crook"}
"""What the heights in each piece are measured from. The rows of a sideways cuff have none: they
run up it, side by side."""

WIDEST = 84
"""Characters of a line of stripes."""


def needs_text(spec: Spec, sizes: tuple[SizeNeeds, ...]) -> str:
    """The needs of every size, to read: a table of yarns, then ends, floats and stripes."""
    lines = list(_basis(spec))
    for size in sizes:
        lines += ["", f"size {size.size}: yarn for the pair", *_table(size.needs)]
        lines += ["  each mitten", *_ends(size), *_floats(size), *_stripes(size)]
    return "\n".join(lines) + "\n"


def _basis(spec: Spec) -> Iterator[str]:
    swatch, over = spec.swatch, f"{text(spec.reserve * 100, 1)} %"
    if swatch is None:
        least, most = text(WEAK_LEAST * 100, 0), text(WEAK_MOST * 100, 0)
        yield "WEAK ESTIMATE: no swatch tells what a stitch takes. It rests on one published"
        yield f"measurement; the truth may lie from {least} % to {most} % of it (in brackets)."
        yield "Write `swatch: {stitches: 20, rounds: 22, used: 29 m}` from a swatch of your own."
    else:
        used = swatch.metres if swatch.metres is not None else swatch.grams
        unit = "m" if swatch.metres is not None else "g"
        assert used is not None
        yield (
            f"from a swatch of {swatch.stitches} stitches and {swatch.rounds} rounds that used"
            f" {text(used, 1)} {unit}"
        )
    yield f"`to have` is with {over} in reserve; both mittens are counted"


def _amount(value: Fraction, unit: str, weak: bool) -> str:
    places = 0 if value >= 10 else 1
    shown = f"{text(value, places)} {unit}"
    if weak:
        least, most = text(value * WEAK_LEAST, places), text(value * WEAK_MOST, places)
        shown += f" ({least}–{most})"
    return shown


def _balls(need: Need) -> str:
    balls = need.balls()
    if balls is None:
        return "–"
    if not need.weak:
        return str(balls)
    least, most = need.balls(WEAK_LEAST), need.balls(WEAK_MOST)
    return str(balls) if least == most else f"{balls} ({least}–{most})"


def _both(metres: Fraction | None, grams: Fraction | None, weak: bool) -> str:
    known = [
        _amount(value, unit, weak)
        for value, unit in ((metres, "m"), (grams, "g"))
        if value is not None
    ]
    return ", ".join(known)


def _table(found: tuple[Need, ...]) -> Iterator[str]:
    rows = [["", "worked", "to have", "balls"]]
    for need in found:
        rows.append(
            [
                f"{need.yarn.letter} {need.yarn.name}",
                _both(need.metres, need.grams, need.weak),
                _both(need.metres_to_have, need.grams_to_have, need.weak),
                _balls(need),
            ]
        )
    if all(row[-1] in ("balls", "–") for row in rows):
        rows = [row[:-1] for row in rows]
    wide = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    for row in rows:
        cells = (cell.rjust(width) for cell, width in zip(row[1:], wide[1:], strict=True))
        yield f"  {row[0].ljust(wide[0])}  {'  '.join(cells)}".rstrip()


def _ends(size: SizeNeeds) -> Iterator[str]:
    """How many ends there are, and of each yarn what each of its ends is from."""
    of = Counter(end.yarn for end in size.ends)
    each = ", ".join(f"{need.yarn.letter} {of[need.yarn.letter]}" for need in size.needs)
    yield f"    ends to weave in: {len(size.ends)} ({each})"
    if not size.changes:
        return
    for need in size.needs:
        letter = need.yarn.letter
        own = [end for end in size.ends if end.yarn == letter]
        joined, cut = (sum(end.kind == kind for end in own) for kind in ("joined", "cut"))
        last = [end.piece for end in own if end.kind == "fastened off"]
        carried = sum(1 for c in size.changes if c.old == letter and c.carried)
        parts = (
            f"joined in {joined}×" if joined else "",
            f"cut at a change {cut}×" if cut else "",
            f"cut at the end of {' and of '.join(map(_the, last))}" if last else "",
        )
        floats = f"; carried {carried}×, without ends" if carried else ""
        yield f"      {letter}: {', '.join(part for part in parts if part)}{floats}"


def _the(piece: str) -> str:
    return f"the {piece}"


def _span(first: int, last: int) -> str:
    return str(first) if first == last else f"{first}–{last}"


def _mm(length: Fraction) -> str:
    return text(length, 0) + " mm"


def _floats(size: SizeNeeds) -> Iterator[str]:
    if not size.changes:
        return
    longest = max(size.floats, key=lambda change: change.length, default=None)
    if longest is None:
        yield "    floats: none, every yarn is cut where it rests"
        return
    yield f"    longest float: {longest.old}, {_mm(longest.length)}"
    alike: dict[tuple[str, str, Fraction], list[str]] = {}
    for change in size.floats:
        assert change.back is not None
        rests = _span(change.round, change.back - 1)
        alike.setdefault((change.piece, change.old, change.length), []).append(rests)
    worked = {landing.piece: landing.worked for landing in size.landings}
    for (piece, letter, length), spans in alike.items():
        what = worked[piece] + ("s" if len(spans) > 1 or "–" in spans[0] else "")
        each = f"{_mm(length)} each" if len(spans) > 1 else _mm(length)
        yield f"    {piece}: {letter} rests {what} {', '.join(spans)}, carried, {each}"


def _stripes(size: SizeNeeds) -> Iterator[str]:
    for piece, run in groupby(size.landings, key=lambda landing: landing.piece):
        stripes = tuple(run)
        if len(stripes) == 1:
            yield f"    {piece}: {stripes[0].yarn} throughout"
            continue
        rows = stripes[0].worked == "row"
        yield f"    {piece}, " + ("rows:" if rows else f"rounds and cm {FROM[piece]}:")
        shown = (
            f"{s.yarn} {_span(s.first, s.last)}"
            + ("" if rows else f" ({_cm(s.lower)} to {_cm(s.upper)})")
            for s in stripes
        )
        yield from _wrapped(shown)


def _wrapped(words: Iterable[str]) -> Iterator[str]:
    """The words with commas between, a few a line."""
    line = ""
    for word in words:
        if line and len(line) + len(word) > WIDEST:
            yield f"      {line},"
            line = ""
        line += f", {word}" if line else word
    yield f"      {line}"


def _cm(length: Fraction) -> str:
    return text(length / 10, 1).replace("-", "−")


# --- for machines ---------------------------------------------------------------------------


def needs_json(spec: Spec, sizes: tuple[SizeNeeds, ...]) -> str:
    """The needs as JSON: metres, grams, millimetres; null where nothing tells an amount. Amounts
    are for the pair; ends, changes and stripes of each mitten."""
    swatch = spec.swatch
    data = {
        "format": "gussetry-yarn",
        "version": 1,
        "pattern": spec.pattern,
        "swatch": swatch
        and {
            "stitches": swatch.stitches,
            "rounds": swatch.rounds,
            "metres": _number(swatch.metres),
            "grams": _number(swatch.grams),
        },
        "weak": swatch is None,
        "reserve": _number(spec.reserve),
        "carry": spec.stripes.carry,
        "sizes": [_size_json(size) for size in sizes],
    }
    return json.dumps(data, ensure_ascii=False, indent=1) + "\n"


def _number(value: Fraction | None) -> float | None:
    return None if value is None else round(float(value), 3)


def _range(value: Fraction | None, weak: bool) -> list[float | None] | None:
    if value is None:
        return None
    least, most = (WEAK_LEAST, WEAK_MOST) if weak else (Fraction(1), Fraction(1))
    return [_number(value * least), _number(value * most)]


def _size_json(size: SizeNeeds) -> dict[str, Any]:
    return {
        "size": size.size,
        "yarns": [
            {
                "yarn": need.yarn.letter,
                "name": need.yarn.name,
                "stitches": need.stitches,
                "metres": _number(need.metres),
                "metres range": _range(need.metres, need.weak),
                "metres to have": _number(need.metres_to_have),
                "grams": _number(need.grams),
                "grams range": _range(need.grams, need.weak),
                "grams to have": _number(need.grams_to_have),
                "balls": need.balls(),
                "weak": need.weak,
            }
            for need in size.needs
        ],
        "ends": [
            {"piece": end.piece, "round": end.round, "yarn": end.yarn, "kind": end.kind}
            for end in size.ends
        ],
        "changes": [
            {
                "piece": change.piece,
                "after": change.after,
                "round": change.round,
                "old": change.old,
                "new": change.new,
                "back": change.back,
                "carried": change.carried,
                "float mm": _number(change.length),
                "joined": change.joined,
            }
            for change in size.changes
        ],
        "stripes": [
            {
                "piece": landing.piece,
                "yarn": landing.yarn,
                "first": landing.first,
                "last": landing.last,
                "lower mm": _number(landing.lower),
                "upper mm": _number(landing.upper),
            }
            for landing in size.landings
        ],
    }
