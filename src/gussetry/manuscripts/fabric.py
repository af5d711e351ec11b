"""Whether a manuscript makes the fabric of a stitch map, stitch by stitch."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import zip_longest

from gussetry.manuscripts.edges import Borders, core, is_edge
from gussetry.manuscripts.findings import Finding
from gussetry.manuscripts.made import ReadPiece, ReadRound, ReadSize
from gussetry.manuscripts.runs import Run, merged
from gussetry.stitchmap import Op, Piece, Round, StitchMap

_NOT_TOPS = ("row end", "seam", "crook", "held", "chain", "cuff", "underside")


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
            findings.append(
                Finding("piece", 1, 1, 1, message, own.piece, _size(read), sure="likely")
            )
        else:
            pairs.append((piece, own))
    return pairs, findings


def _size(read: ReadSize) -> str:
    return f"{read.size} {read.side}".strip()


def _piece(piece: ReadPiece, own: Piece, read: ReadSize) -> Iterator[Finding]:
    rounds = [r for r in own.rounds if r.number > 0 and r.phase not in ("seam", "draw shut")]
    told = {r.number: r for r in reversed(piece.rounds)}
    yarns = any(r.yarn for r in piece.rounds)
    yield from _base(piece, own, read)
    word = "row" if own.worked == "rows" else "rnd"
    borders = Borders(_silent(piece))
    for wanted in rounds:
        where = f"{own.piece}, {word} {wanted.number}"
        made = told.get(wanted.number)
        if made is None or not made.worked.runs:
            borders.lost()
            continue
        found = [*_round(made, wanted, where, read, yarns)]
        yield from found
        between = borders.between(made.worked.runs, runs_of_map(wanted), last=wanted is rounds[-1])
        if between and not found:
            at = (made.line, made.column, made.spot.length)
            message = "the text comes to this round, or closes it, otherwise than the charts"
            yield Finding("fabric", *at, message, where, _size(read), *between)
    if borders.silent and borders.differs and piece.rounds:
        first = piece.rounds[0]
        message = "the text does not tell how the rounds are joined, lifted or turned"
        yield Finding(
            "fabric", first.line, first.column, first.spot.length, message, own.piece,
            _size(read), borders.differs, "nothing", "likely",
        )  # fmt: skip
    missing = [r for r in rounds if r.number not in told]
    beyond = [r for r in piece.rounds if r.number > (rounds[-1].number if rounds else 0)]
    last = piece.rounds[-1] if piece.rounds else None
    if missing:
        message = (
            f"the charts have {_count(len(rounds), word)}, the text lacks "
            f"{_count(len(missing), word)}, first {word} {missing[0].number}"
        )
        line, column = (last.line, last.column) if last else (1, 1)
        yield Finding(
            "rounds", line, column, 1, message, f"{own.piece}, {word} {missing[0].number}",
            _size(read), f"{len(rounds)} {word}s", f"{len(piece.rounds)} {word}s",
        )  # fmt: skip
    if beyond:
        first = beyond[0]
        message = f"the charts have {_count(len(rounds), word)}, the text goes on"
        yield Finding(
            "rounds", first.line, first.column, first.spot.length, message,
            f"{own.piece}, {word} {first.number}", _size(read), f"{len(rounds)} {word}s",
            f"{len(piece.rounds)} {word}s",
        )  # fmt: skip


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
    line, column = (first.line, first.column) if first else (1, 1)
    if piece.base is None or piece.base - hook != chains:
        found = "none" if piece.base is None else f"ch {piece.base - hook}"
        message = "the foundation is not that of the charts"
        yield Finding(
            "foundation", line, column, 1, message, own.piece, _size(read), f"ch {chains}", found
        )
    elif piece.joined != any(op.do == "slst" for op in base.work):
        wanted = "not joined" if piece.joined else "joined"
        yield Finding(
            "foundation", line, column, 1, "the foundation is joined otherwise in the charts",
            own.piece, _size(read), wanted, "joined" if piece.joined else "not joined",
        )  # fmt: skip


def _round(
    made: ReadRound, wanted: Round, where: str, read: ReadSize, yarns: bool
) -> Iterator[Finding]:
    at = (made.line, made.column, made.spot.length)
    if not made.worked.exact:
        if made.worked.count is not None and made.worked.count != wanted.count:
            message = f"the charts leave {wanted.count} stitches, the text {made.worked.count}"
            yield Finding(
                "fabric", *at, message, where, _size(read), f"{wanted.count} sts",
                f"{made.worked.count} sts",
            )  # fmt: skip
        elif made.worked.count is not None:
            message = "where each stitch goes is left to the maker, so only the count is compared"
            yield Finding("places", *at, message, where, _size(read), sure="unclear")
        return
    difference = _first_difference(core(made.worked.runs), core(runs_of_map(wanted)))
    if difference is not None:
        place, chart, text = difference
        message = f"after {place} worked, the text has another stitch than the charts"
        yield Finding("fabric", *at, message, where, _size(read), chart, text)
        return
    if yarns and made.yarn and made.yarn != wanted.yarn:
        message = f"the charts work this in yarn {wanted.yarn}, the text in {made.yarn}"
        yield Finding("yarn", *at, message, where, _size(read), wanted.yarn, made.yarn)
    yield from _markers(made, wanted, where, read)


def _markers(made: ReadRound, wanted: Round, where: str, read: ReadSize) -> Iterator[Finding]:
    """Markers that the text tells stand where the charts have them."""
    named = {_known(name): at for name, at in wanted.markers}
    for mark in made.worked.marks:
        if mark.name and named.get(_known(mark.name), mark.at) != mark.at:
            chart, text = f"stitch {named[_known(mark.name)] + 1}", f"stitch {mark.at + 1}"
            message = f"the {mark.name} marker stands elsewhere in the charts"
            yield Finding(
                "marker", made.line, made.column, made.spot.length, message, where, _size(read),
                chart, text,
            )  # fmt: skip
    gusset = [at for name, at in wanted.markers if name in ("first marker", "second marker")]
    own = [mark.at for mark in made.worked.marks if not mark.name]
    if own and gusset and own != gusset:
        message = "the markers stand elsewhere in the charts"
        chart = ", ".join(f"stitch {at + 1}" for at in gusset)
        text = ", ".join(f"stitch {at + 1}" for at in own)
        yield Finding(
            "marker", made.line, made.column, made.spot.length, message, where, _size(read), chart,
            text,
        )  # fmt: skip


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
        and (made.of == wanted.of or made.do not in ("inc",))
        and (made.loop or "") == wanted.loop
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
