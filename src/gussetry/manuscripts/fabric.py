"""Whether a manuscript makes the fabric of a stitch map, stitch by stitch."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest

from gussetry.findings import Finding, Sure
from gussetry.manuscripts.edges import Borders, core, is_edge
from gussetry.manuscripts.made import ReadPiece, ReadRound, ReadSize
from gussetry.manuscripts.runs import Run, merged
from gussetry.stitchmap import Op, Piece, Round, StitchMap

_NOT_TOPS = ("row end", "seam", "crook", "held", "chain", "cuff", "underside")


@dataclass(frozen=True, slots=True)
class _Here:
    """What is compared: a size of the text with a piece of a map; in it the round of that number,
    and the round of the text there, None where nothing there is meant."""

    read: ReadSize
    own: Piece
    number: int | None = None
    made: ReadRound | None = None

    def finding(
        self, kind: str, message: str, expected: str = "", found: str = "", sure: Sure = "certain"
    ) -> Finding:
        """A finding here, at the words of the text; at its beginning where none are meant."""
        line, column, length = 1, 1, 1
        if self.made is not None:
            line, column, length = self.made.line, self.made.column, self.made.spot.length
        return Finding(
            kind, message, "", f"{self.read.size} {self.read.side}".strip(), self.own.piece,
            self.number, line=line, column=column, length=length, expected=expected, found=found,
            sure=sure, worked=self.own.worked,
        )  # fmt: skip


def runs_of_map(round_: Round) -> tuple[Run, ...]:
    """The runs of a round of a stitch map, in the order of working."""
    return merged(_run(op) for op in round_.work)


def _run(op: Op) -> Run:
    kinds = [place[0] for place in op.into if isinstance(place, tuple)]
    place = "+".join(dict.fromkeys(kinds))
    makes = 0 if op.held else op.makes - (len(op.onto) if op.uses else 0)
    of = op.of or (op.do.removesuffix("2tog") if op.do.endswith("2tog") else op.do)
    if op.do in ("ch", "slst", "turn", "skip", "hold", "join", "close", "seam"):
        of = ""
    loop = "" if op.loop == "both" else op.loop
    held = op.held or op.do == "hold"
    return Run(op.do, of, 1, len(op.into), makes, loop, place, held, op.counts)


def compare(read: ReadSize, stitches: StitchMap) -> list[Finding]:
    """Where the text makes another fabric than the map, at most one of the stitches a round."""
    pairs, findings = _paired(read, stitches)
    for piece, own in pairs:
        findings += _piece(piece, own, read)
    return findings


def _paired(
    read: ReadSize, stitches: StitchMap
) -> tuple[list[tuple[ReadPiece, Piece]], list[Finding]]:
    """Pieces of the text with those of the map: by name, else in their order."""
    named = {piece.name: piece for piece in read.pieces if piece.name}
    pairs, findings = [], []
    loose = [piece for piece in read.pieces if not piece.name]
    for own in stitches.pieces:
        piece = named.get(own.piece) or (loose.pop(0) if loose else None)
        if piece is None:
            message = f"the charts have a {own.piece}, the text has none that could be told"
            findings.append(_Here(read, own).finding("piece", message, sure="likely"))
        else:
            pairs.append((piece, own))
    return pairs, findings


def _piece(piece: ReadPiece, own: Piece, read: ReadSize) -> Iterator[Finding]:
    rounds = [r for r in own.rounds if r.number > 0 and r.phase not in ("seam", "draw shut")]
    told = {r.number: r for r in reversed(piece.rounds)}
    yarns = any(r.yarn for r in piece.rounds)
    yield from _base(piece, own, read)
    word = "row" if own.worked == "rows" else "rnd"
    borders = Borders(_silent(piece))
    astray: set[tuple[str, int]] = set()
    for wanted in rounds:
        made = told.get(wanted.number)
        if made is None or not made.worked.runs:
            borders.lost()
            continue
        here = _Here(read, own, wanted.number, made)
        found = [*_round(here, made, wanted, yarns), *_markers(here, made, wanted, astray)]
        yield from found
        between = borders.between(made.worked.runs, runs_of_map(wanted), last=wanted is rounds[-1])
        if between and not found:
            message = "the text comes to this round, or closes it, otherwise than the charts"
            yield here.finding("fabric", message, *between)
    if borders.silent and borders.differs and piece.rounds:
        here = _Here(read, own, made=piece.rounds[0])
        message = "the text does not tell how the rounds are joined, lifted or turned"
        yield here.finding("fabric", message, borders.differs, "nothing", "likely")
    yield from _missing(piece, rounds, _Here(read, own), word)


def _missing(
    piece: ReadPiece, rounds: Sequence[Round], here: _Here, word: str
) -> Iterator[Finding]:
    """Rounds that the charts have and the text lacks, and the reverse."""
    told = {made.number for made in piece.rounds}
    missing = [r for r in rounds if r.number not in told]
    beyond = [r for r in piece.rounds if r.number > (rounds[-1].number if rounds else 0)]
    number = f"{len(rounds)} {word}s", f"{len(piece.rounds)} {word}s"
    charts = f"the charts have {_count(len(rounds), word)}"
    if missing:
        last = piece.rounds[-1] if piece.rounds else None
        lacking = f"{_count(len(missing), word)}, first {word} {missing[0].number}"
        here = replace(here, number=missing[0].number, made=last)
        found = here.finding("rounds", f"{charts}, the text lacks {lacking}", *number)
        yield replace(found, length=1)
    if beyond:
        here = replace(here, number=beyond[0].number, made=beyond[0])
        yield here.finding("rounds", f"{charts}, the text goes on", *number)


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def _silent(piece: ReadPiece) -> bool:
    """Whether no round of a piece tells of a turn, a joining or a lifting chain."""
    return not any(is_edge(run) for made in piece.rounds for run in made.worked.runs)


def _base(piece: ReadPiece, own: Piece, read: ReadSize) -> Iterator[Finding]:
    """The foundation: as many chains, joined alike."""
    base = next((r for r in own.rounds if r.number == 0), None)
    first = piece.rounds[0] if piece.rounds else None
    if base is None:
        return
    hook = 0
    if first and first.worked.runs:
        hook = sum(r.times for r in first.worked.runs if r.place == "hook")
    chains = sum(op.makes for op in base.work if op.do == "ch")
    here = _Here(read, own, made=first)
    if piece.base is None or piece.base - hook != chains:
        found = "none" if piece.base is None else f"ch {piece.base - hook}"
        message = "the foundation is not that of the charts"
        yield replace(here.finding("foundation", message, f"ch {chains}", found), length=1)
    elif piece.joined != any(op.do == "slst" for op in base.work):
        ways = ("joined", "not joined") if not piece.joined else ("not joined", "joined")
        message = "the foundation is joined otherwise in the charts"
        yield replace(here.finding("foundation", message, *ways), length=1)


def _round(here: _Here, made: ReadRound, wanted: Round, yarns: bool) -> Iterator[Finding]:
    if not made.worked.exact:
        count = made.worked.count
        if count is not None and count != wanted.count:
            message = f"the charts leave {wanted.count} stitches, the text {count}"
            yield here.finding("fabric", message, f"{wanted.count} sts", f"{count} sts")
        elif count is not None:
            message = "where each stitch goes is left to the maker, so only the count is compared"
            yield here.finding("places", message, sure="unclear")
        return
    difference = _first_difference(core(made.worked.runs), core(runs_of_map(wanted)))
    if difference is not None:
        place, chart, text = difference
        message = f"after {place} worked, the text has another stitch than the charts"
        yield here.finding("fabric", message, chart, text)
        return
    if yarns and made.yarn and made.yarn != wanted.yarn:
        message = f"the charts work this in yarn {wanted.yarn}, the text in {made.yarn}"
        yield here.finding("yarn", message, wanted.yarn, made.yarn)


def _markers(
    here: _Here, made: ReadRound, wanted: Round, astray: set[tuple[str, int]]
) -> Iterator[Finding]:
    """Markers that the text tells stand where the charts have them. One that went astray in an
    earlier round, and is carried up since, is told there; `astray` has them, and by how much."""
    if not made.worked.exact or _differ(made, wanted):
        return
    named = {_known(name): at for name, at in wanted.markers}
    now: set[tuple[str, int]] = set()
    for mark in made.worked.marks:
        at = named.get(_known(mark.name), mark.at) if mark.name else mark.at
        if at == mark.at:
            continue
        now.add((mark.name, mark.at - at))
        if (mark.name, mark.at - at) not in astray:
            message = f"the {mark.name} marker stands elsewhere in the charts"
            yield here.finding("marker", message, f"stitch {at + 1}", f"stitch {mark.at + 1}")
    gusset = [at for name, at in wanted.markers if name in ("first marker", "second marker")]
    own = [mark.at for mark in made.worked.marks if not mark.name]
    if own and gusset and own != gusset:
        apart = {("", mine - yours) for mine, yours in zip(own, gusset, strict=False)}
        if len(own) != len(gusset) or not apart <= astray:
            chart = ", ".join(f"stitch {at + 1}" for at in gusset)
            text = ", ".join(f"stitch {at + 1}" for at in own)
            yield here.finding("marker", "the markers stand elsewhere in the charts", chart, text)
        now |= apart
    astray.clear()
    astray |= now


def _differ(made: ReadRound, wanted: Round) -> bool:
    text, chart = core(made.worked.runs), core(runs_of_map(wanted))
    return _first_difference(text, chart) is not None


def _known(name: str) -> str:
    plain = name.replace("’", "'").replace("thumb's ", "").replace("-", " ")
    return {"thumb outer side": "outer side", "half way": "half way point"}.get(plain, plain)


def _expanded(runs: Sequence[Run]) -> Iterator[Run]:
    for run in runs:
        one = replace(run, times=1)
        for _ in range(run.times):
            yield one


def _first_difference(text: Sequence[Run], chart: Sequence[Run]) -> tuple[int, str, str] | None:
    """The first operation that differs, as the charts and as the text have it."""
    alike = len(text) == len(chart) and all(
        made.times == wanted.times and _same(made, wanted)
        for made, wanted in zip(text, chart, strict=True)
    )
    if alike:
        return None
    worked = 0
    for made, wanted in zip_longest(_expanded(text), _expanded(chart)):
        if made is None or wanted is None or not _same(made, wanted):
            return worked, _told(wanted), _told(made)
        worked += wanted.uses
    return None


def _same(made: Run, wanted: Run) -> bool:
    place = made.place if made.place in _NOT_TOPS or "+" in made.place else ""
    other = wanted.place
    if "+" in place:
        place, other = "+".join(sorted(place.split("+"))), "+".join(sorted(other.split("+")))
    return (
        made.do == wanted.do
        and (made.of == wanted.of or made.do != "inc")
        and made.loop == wanted.loop
        and made.held == wanted.held
        and made.counts == wanted.counts
        and place == other
    )


def _told(run: Run | None) -> str:
    if run is None:
        return "nothing more"
    shown = f"{run.of} {run.do}" if run.do == "inc" and run.of else run.do
    parts = [shown, f"{run.loop} loop" if run.loop else "", f"in {run.place}" if run.place else ""]
    parts.append("set aside" if run.held and run.do != "hold" else "")
    parts.append("that counts as none" if not run.counts and run.do == "ch" else "")
    return " ".join(part for part in parts if part)
