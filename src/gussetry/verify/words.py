"""What a label says, taken apart: terms, sums, counts. Written from the drawing contract."""

from __future__ import annotations

import re
from typing import NamedTuple

from gussetry.stitchmap import Op, Round, bridged, sections

_UK = {
    "sc": "dc", "hdc": "htr", "dc": "tr", "slst": "ss",
    "sc2tog": "dc2tog", "hdc2tog": "htr2tog", "dc2tog": "tr2tog", "close": "draw shut",
    "fphdc": "FPhtr", "bphdc": "BPhtr", "fpdc": "FPtr", "bpdc": "BPtr",
}  # fmt: skip
_US = {
    "slst": "sl st", "close": "draw shut",
    "fphdc": "FPhdc", "bphdc": "BPhdc", "fpdc": "FPdc", "bpdc": "BPdc",
}  # fmt: skip
_KINDS = (
    "ch", "slst", "sc", "hdc", "dc", "fphdc", "bphdc", "fpdc", "bpdc",
    "inc", "sc2tog", "hdc2tog", "dc2tog",
    "join", "hold", "skip", "seam", "close",
)  # fmt: skip
_COMMA = re.compile(r", (?![^()]*\))")  # not within brackets
_REPEAT = re.compile(r"\(([^()]+)\) (\d+) times")
_MOST = 10_000
_MANY = re.compile(r"(?:(\d+) )?(\S.*)")
_ROUNDS = re.compile(r"(?:rounds?|rows?) (\d+)(?:–(\d+))?: (.+)")


def kinds_by_term(terms: str) -> dict[str, str]:
    """Which operation each term names, for a reader of US or UK terms."""
    own = _US if terms == "US" else _UK
    return {own.get(kind, kind): kind for kind in _KINDS}


def operations(text: str, terms: str) -> list[str] | None:
    """The operations of a sum such as `inc, 11 sc` or `(FPdc, BPdc) 9 times, sl st`, in order;
    None where it cannot be read."""
    known = kinds_by_term(terms)
    found: list[str] = []
    for part in _COMMA.split(text):
        repeat = _REPEAT.fullmatch(part)
        inner = repeat[1].split(", ") if repeat else [part]
        once: list[str] = []
        for stitch in inner:
            many = _MANY.fullmatch(stitch)
            if not many or many[2] not in known or not _times(many[1]):
                return None
            once += [known[many[2]]] * _times(many[1])
        times = _times(repeat[2]) if repeat else 1
        if not 0 < times * len(once) < _MOST:
            return None
        found += once * times
    return found


def _times(number: str | None) -> int:
    """The number, 1 where there is none, 0 where it is beyond all reason."""
    if number is None:
        return 1
    return int(number) if len(number) < len(str(_MOST)) else 0


class RoundSum(NamedTuple):
    """A sum of whole rounds: from, to, and what each of them makes."""

    first: int
    last: int
    work: tuple[str, ...]


def round_sum(text: str, terms: str) -> RoundSum | None:
    """A sum such as `rounds 14–22: 36 sc`, None where the text is none."""
    found = _ROUNDS.fullmatch(text)
    if not found:
        return None
    work = operations(found[3], terms)
    first, last = int(found[1]), int(found[2] or found[1])
    if work is None or last < first or last - first > _MOST:
        return None
    return RoundSum(first, last, tuple(work))


def count_text(round_: Round) -> str:
    """What a round's count label says: `36`, or `20 · m · 11 · m · 20 = 53` between markers, or
    `19 · join · 19 = 38`, `18 · 2 join · 18 = 36`, `17 · 3 ch · 17 = 37` over a gap."""
    parts, over = sections(round_), bridged(round_)
    if over is not None:
        many = "" if over[1:3] == ("join", 1) else f"{over[2]} "
        return f"{over[0]} · {many}{over[1]} · {over[3]} = {round_.count}"
    if parts is None:
        return str(round_.count)
    before, between, after = parts
    return f"{before} · m · {between} · m · {after} = {round_.count}"


def parts_of_count(round_: Round) -> tuple[str, ...]:
    """The parts of a count that may stand below its row by themselves: `20`, `11`, `20` between
    marked stitches, `17`, nothing, `17` over a gap; none of another."""
    told, equals, _ = count_text(round_).partition(" = ")
    if not equals:
        return ()
    first, *_, last = told.split(" · ")
    return first, "" if bridged(round_) else told.split(" · ")[2], last


def shown_work(round_: Round) -> list[tuple[int, Op]]:
    """The entries of a round's work that a chart shows, with their places in it."""
    return [(i, op) for i, op in enumerate(round_.work) if op.do != "turn"]
